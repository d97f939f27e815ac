/* Sweep job: everything a sweep needs, made once per case and indoor unit: the site's air, the
 * equipment, the ducts with this unit's coil in them, the blower in the air at this altitude. SI.
 * Public. */
#ifndef CT_JUDGE_SWEEP_JOB_H
#define CT_JUDGE_SWEEP_JOB_H

#include "base/status.h"
#include "case/case.h"
#include "judge/point.h"
#include "plant/heating.h"
#include "plant/plant.h"
#include "plant/setup.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Film of still air on a duct jacket, m2 K/W: 0.65 h ft2 F/Btu, ASHRAE Handbook
 * Fundamentals, surface film resistances (from memory, unconfirmed: 0.6 to 0.7). */
#define CT_DUCT_FILM (0.65 * 0.1761101838)

/* Everything a sweep needs, made once per case and indoor unit. */
typedef struct {
    const ct_case *c;
    const ct_indoor_unit *unit;
    ct_system system;
    ct_air indoor; /* return air */
    double T_out;  /* K */
    bool has_duct;
    ct_duct duct; /* with the coil terms of this unit filled in */
    bool has_outside;
    ct_duct_outside outside; /* ducts outside the cooled space, around them the design day's air */
    ct_blower blower;        /* the unit's, its tables for the air at this altitude */
    int heat_tap;            /* the tap that heats, -1: nobody said, or V_heat was read in place */
    ct_maybe V_heat;     /* m3/s actual at the blower while it heats; 0: that tap moves no air */
    double matched_area; /* m2, air side of the coil the outdoor unit was rated with */
    bool has_heat_pump;
    ct_heat_pump heat_pump; /* with this unit's coil */
    bool only_entered;      /* for tables over the return air: the hours the house settles in, or is
                          mildest, are not looked at, and loads and frost are judged as entered */
    bool no_reach;   /* for verdicts alone: Q_load_max of the points is not worked out, 0, nor is
                       the design hour where no limit reads it */
    bool is_low;     /* this job is that of the low stage (judge/sweep.h) */
    bool has_low;    /* two stages: how the low one runs while this job's high one rests ... */
    bool low_fails;  /* ... or no speed passes on it ... */
    bool low_floods; /* ... and at one of them a piston floods: a larger one would flood more */
    ct_system low_system; /* with this unit's coil */
    ct_point low;         /* at its own pick, as ct_pick_driest chooses it */
    ct_maybe Tc_heat; /* K, saturated discharge on the warmest day it heats, with V_heat; the end of
                         the refrigerant's table where it would be beyond */
} ct_sweep_job;

/* The state of air as it was read, at p Pa. CT_INPUT when its moisture is not given. */
CT_API ct_status ct_sweep_air(const ct_air_reading *, double p, ct_air *, ct_fault *);
/* Only what does not depend on the indoor unit: the air, the outdoors, the ducts without a coil. */
CT_API ct_status ct_sweep_site(const ct_case *, ct_sweep_job *, ct_fault *);

/* The job of a setup on its high, or only, stage; what the low one does is not looked for
 * (ct_sweep_prepare does). Fails as ct_setup_join. */
ct_status ct_sweep_job_make(const ct_setup *, ct_sweep_job *, ct_fault *);

/* Blower input, W, at V m3/s actual: along the taps when known, else from the rated figure by the
 * family's power law (blower.h), V counted as standard air by the pressure alone. */
CT_API ct_status ct_sweep_watts(const ct_sweep_job *, double V, double *P, ct_fault *);

/* m3/s actual that tap i moves against the ducts; 0: none. */
CT_API double ct_sweep_job_tap_airflow(const ct_sweep_job *, int i);

/* The heat pump at V m3/s actual, T_out outdoors and T_in return air, K. Fails as
 * ct_heating_solve. */
CT_API ct_status ct_sweep_job_heats(const ct_sweep_job *, double V, double T_out, double T_in,
                                    ct_heating_balance *, ct_fault *);

/* The low stage as the humidity of the house needs it; none unless has_low. */
ct_stage_run ct_sweep_job_low(const ct_sweep_job *);

/* Pressure of the air here over that of standard air. */
CT_API double ct_sweep_job_thinness(const ct_sweep_job *);

/* The unit's taps and the ducts are both known. */
CT_API bool ct_sweep_job_has_taps(const ct_sweep_job *);

/* What a tap really delivers over what its table says, learnt on the unit in question. */
CT_API double ct_sweep_job_delivered(const ct_sweep_job *);

/* Blower input, W, without taps, at V_std m3/s standard. */
CT_API double ct_sweep_job_rated_watts(const ct_sweep_job *, double V_std);

#ifdef __cplusplus
}
#endif
#endif
