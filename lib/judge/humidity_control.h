/* Humidity under control: the settled humidity with the airflow that the blower's controls cut.
 *
 * The house is settled at both airflows first (judge/humidity.h); where the control cuts in part,
 * the equipment is balanced at a few humidities between, and the share of the cut that agrees with
 * the house is searched for (judge/fan_control.h). SI. Allocates nothing. Public. */
#ifndef CT_JUDGE_HUMIDITY_CONTROL_H
#define CT_JUDGE_HUMIDITY_CONTROL_H

#include "judge/humidity.h"

#ifdef __cplusplus
extern "C" {
#endif

/* As ct_humidity_settle, with the controls of the case when the job has a cut airflow; out->slowed
 * says how much. Fails also where the equipment does not balance at the cut airflow. */
CT_API ct_status ct_humidity_controlled(ct_solver *, const ct_humidity_job *, double load_share,
                                        ct_humidity_answer *, ct_fault *);

/* The settled humidity at several shares, rh[i] at share[i]; NaN where it settles nowhere. */
CT_API void ct_humidity_band(ct_solver *, const ct_humidity_job *, const double *share, int n,
                             double *rh);

#ifdef __cplusplus
}
#endif
#endif
