/* Plant: the equipment as the balance sees it.
 *
 * Outdoor unit, indoor coil and metering device. From the outdoor unit's nameplate, and the coil it
 * was rated with, follow the compressor's size and efficiency, the condenser's conductance and the
 * matched coil's two conductances, such that the A test (95 F outdoors, 80/67 F indoors: AHRI
 * 210/240) is reproduced (plant/setup.h). Another coil then follows from its geometry or its
 * relative size (plant/grow_coil.h). Everything after that is prediction. SI; the refrigerant is
 * borrowed and must outlive the system. Public. */
#ifndef CT_PLANT_PLANT_H
#define CT_PLANT_PLANT_H

#include "base/status.h"
#include "case/case.h"
#include "fluid/refrigerant.h"
#include "part/coil.h"
#include "part/compressor.h"
#include "part/condenser.h"
#include "part/liquid_line.h"
#include "part/orifice.h"
#include "part/valve.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The A test of AHRI 210/240 (10 CFR 430 subpart B appendix M). */
#define CT_RATING_T_OUT 308.15               /* K, 95 F */
#define CT_RATING_T_IN 299.81666666666666    /* K, 80 F */
#define CT_RATING_B_T_OUT 300.92777777777775 /* K, 82 F: the B test */
#define CT_RATING_T_WB 292.59444444444443    /* K, 67 F */

/* What a low stage makes of the equipment; coil, condenser and line are the same
 * (plant/rate_low.h). */
typedef struct {
    bool has;
    double tons;                       /* nominal, in proportion to the rated capacity */
    double flow, power;                /* times those of the compressor */
    double suction_drop, suction_gain; /* in place of those of the outdoor unit */
    double P_fan;                      /* W */
} ct_low_stage;

/* The outdoor unit on its high, or only, stage. */
typedef struct {
    const ct_refrigerant *refrigerant;
    double tons;
    ct_compressor compressor;
    ct_condenser condenser;
    double suction_drop; /* K of saturation temperature, coil to compressor */
    double suction_gain; /* K of superheat picked up in the suction line, per K that the outdoor air
                            is warmer than the saturated suction */
    double P_fan;        /* W, outdoor fan */
    ct_liquid_line line; /* condenser to metering device; all 0: nothing lost */
    ct_low_stage low;
} ct_outdoor;

/* The metering device as the balance sees it. A valve holds its superheat; whether it can is judged
 * afterwards from its rating, when that is known. */
typedef struct {
    ct_meter_kind kind;
    double superheat; /* K at the coil outlet, valve */
    ct_orifice orifice;
    bool has_valve; /* the valve's rating is known */
    ct_valve valve;
    double dp_distributor; /* Pa */
} ct_meter;

/* How the charge goes with the airflow, for a piston is charged once its speed is set: points of a
 * monotone curve (base/monotone.h), level beyond its ends. n 0: the same at any airflow. */
#define CT_CHARGE_AIRS 8
typedef struct {
    int n;
    double m_da[CT_CHARGE_AIRS];   /* kg/s, rising */
    double charge[CT_CHARGE_AIRS]; /* kg per m3 of condenser */
} ct_charge_air;

typedef struct {
    ct_outdoor outdoor;
    ct_coil coil;
    ct_meter meter;
    double charge; /* kg per m3 of condenser, plant/charge.h; 0: the subcooling is held */
    ct_charge_air by_air;
    bool before_coil; /* the blower heats the air before the coil */
} ct_system;

/* A stage at its own airflow. */
typedef struct {
    const ct_system *system; /* NULL: there is no such stage */
    double m_da;             /* kg/s */
    double P_blower;         /* W */
} ct_stage_run;

/* Multipliers found by the calibration, for the record and for sanity. */
typedef struct {
    double m_rated;             /* kg/s */
    double P_rated;             /* W, compressor */
    double Q_gross;             /* W */
    double eta_rated;           /* isentropic over electrical */
    double displacement;        /* m3/s, physical; NaN with a map */
    double map_flow, map_power; /* multipliers that fit a map to the nameplate; 1 = agrees */
    double UAo, UAi;            /* W/K of the matched coil at the rating */
    double film_scale;          /* geometry: nameplate-fitted over correlated air side */
    double superheat_area;      /* share of the coil's area that superheats */
    double SHR_min, SHR_max;    /* the range of rated SHR this nameplate allows */
    double eta_low;             /* eta_rated of the low stage; NaN without one */
} ct_calibration;

/* Mean temperature the air sees on the boiling share, K: the dew temperature for a pure
 * refrigerant; for a blend the mean of dew and of the temperature at the quality the valve feeds
 * (glide taken as linear in quality). CT_RANGE. */
CT_API ct_status ct_plant_boil_temperature(const ct_refrigerant *, double T_dew, double h_in,
                                           double *T_boil, ct_fault *);

/* The same where both phases at T_dew are at hand. */
double ct_plant_boil_between(const ct_phases *, double T_dew, double h_in);

/* What the condenser gets from the compressor: the mean heat capacity of the hot vapor is that of
 * the isentropic path. */
CT_API ct_condenser_flow ct_plant_to_condenser(const ct_compressor_out *,
                                               const ct_condenser_state *);

/* Superheat from the coil outlet to the compressor, K: the pressure lost in the line, and heat from
 * the air around it, UA (T_out - T_line)/(m cp). The rating gives the gain there; elsewhere it
 * follows the temperature difference, with UA over m cp held. */
CT_API double ct_plant_line_superheat(const ct_outdoor *, double T_out, double Te);

/* The system on its low stage; as it is when it has none. `low` may be `high`. */
CT_API void ct_plant_low_stage(const ct_system *high, ct_system *low);

/* Applies the multipliers; absent ones are 1. Airflow is not the system's (judge/sweep.h). */
CT_API void ct_plant_tune(const ct_tuning *, ct_system *);

#ifdef __cplusplus
}
#endif
#endif
