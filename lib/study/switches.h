/* Switches: what each setting of the blower's controls makes of the humidity of the house.
 *
 * The blower may stop with the compressor, run on for a while, or be left on; it may start slowly;
 * and where the thermostat sees humidity it may be slowed while it is damp, and the house cooled a
 * little below the set temperature. Each is settled by itself at the damp hour of the case, at one
 * blower speed.
 *
 * Slowed airflow: the equipment is balanced at the cut airflow too, and the share of the run at it
 * is that of judge/fan_control.h.
 * Over-cooling: the room is held that much cooler, the load greater as the load line has it.
 * Not modeled: what a control does to the compressor's cycles. SI. Public. */
#ifndef CT_STUDY_SWITCHES_H
#define CT_STUDY_SWITCHES_H

#include "base/status.h"
#include "judge/sweep.h"
#include "part/room.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_SWITCH_RUN_ON                                                                           \
    90.0 /* s, where the case has no run-on: as controls come (common practice) */

typedef enum {
    CT_SWITCH_STOPS,    /* with the compressor */
    CT_SWITCH_RUNS_ON,  /* house.fan_off_delay, or CT_SWITCH_RUN_ON */
    CT_SWITCH_FAN_ON,   /* all the time */
    CT_SWITCH_STARTS,   /* slowly; stops with the compressor, as the next two */
    CT_SWITCH_HUMIDITY, /* slowed while it is damp */
    CT_SWITCH_OVERCOOL, /* slowed, and cooled below the set temperature all the time */
    CT_SWITCH_COUNT
} ct_switch;

typedef struct {
    ct_status status; /* CT_OK when the rest holds */
    ct_room_out room;
    double T;      /* K, of the room */
    double slowed; /* 0..1, share of the run at the cut airflow */
} ct_switched;

typedef struct {
    double T_out, load, run_on; /* K, W sensible, s */
    ct_switched at[CT_SWITCH_COUNT];
    ct_point slow;  /* the cut airflow, judged */
    int slow_fails; /* the deciding limit that forbids it, a ct_limit; -1: none */
} ct_switches;

/* At a point of a sweep. CT_INPUT with two stages, whose share at each airflow nobody states. Fails
 * as ct_season_tabulate at the point's own airflow; a setting that does not settle is no
 * failure. */
CT_API ct_status ct_switches_run(ct_solver *, const ct_sweep_job *, const ct_point *, ct_switches *,
                                 ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
