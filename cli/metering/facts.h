/* Metering study: everything `coiltrim metering` shows, calculated in one go: the device at the
 * pick, the bore for the superheat wanted, the charge, and the outdoors with both kinds. */
#ifndef CLI_METERING_FACTS_H
#define CLI_METERING_FACTS_H

#include "base/job.h"
#include "show/outlook.h"
#include "study/compare.h"
#include "study/meterstudy.h"

enum {
    CHARGES = 10,  /* subcoolings, 2 to 20 F */
    OFF = 7,       /* charges 30 % less to 30 % more */
    OUTDOORS = 17, /* outdoor temperatures, 75 to 115 F */
    OUTDOORS_SHOWN_EACH = 2,
    BORES = 6 /* pistons tried */
};

/* How far a real piston is off the flow equation. */
#define FLOW_ERROR 0.10

/* Both kinds of device are kept by kind, whichever the unit has. */
enum { VALVE = CT_METER_VALVE, PISTON = CT_METER_ORIFICE, KINDS = 2 };

/* A rated valve at one balance. */
typedef struct {
    bool has;  /* it has a rating and pressure is left for it */
    double dp; /* Pa across it */
    ct_valve_out out;
} valve_showing;

typedef struct {
    bool has;
    double bore; /* m */
    ct_status status;
    ct_balance balance;
    char why[200];
} bore_showing;

/* One piston: charged to the target superheat, and what a flow that is off does at that charge. */
typedef struct {
    double bore; /* m */
    ct_study_point charged, less, more;
} bore_step;

typedef struct {
    const job *j;
    int unit;
    ct_meter_kind kind; /* the unit's own */
    ct_sweep_job sweep;
    ct_sweep run;      /* the unit's sweep, for the pick */
    ct_comparison row; /* its pick */
    outlook outlook;
    ct_conditions at; /* the pick on the design day */
    valve_showing valve;
    bool has_target;
    double target; /* K, target superheat by the rule of thumb */
    char why_no_target[200];
    ct_meter_wanted wanted; /* what the piston is sized to and the valve set to */
    bool has_bore;
    ct_bore_choice bore;
    char why_no_bore[200];
    bore_showing below, above; /* with the nearest pistons */
    bore_step step[BORES];
    int n_steps;
    ct_study_point charge[CHARGES];
    bool has_off; /* with a valve: the effect of a wrong charge was measured on such a unit */
    ct_charge_point off[OFF];
    bool has_other;
    char why_no_other[200];
    ct_system system[KINDS]; /* the other only with has_other */
    ct_study_point outdoors[KINDS][OUTDOORS];
    bool metric;
} metering_study;

/* `wanted` 0: the valve's own setting, or for a piston the superheat of the outdoor unit's rating.
 * On failure the message is out. */
exit_code metering_study_run(const job *j, int unit, double wanted, metering_study *s);

/* "valve" or "piston". */
const char *metering_kind_name(ct_meter_kind kind);

/* Whether points of this kind of device are there. */
bool metering_has_kind(const metering_study *s, int kind);

/* The valve of this system at this balance. */
valve_showing valve_at(const ct_system *system, const ct_balance *b);

#endif
