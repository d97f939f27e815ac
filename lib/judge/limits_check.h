/* Limits, checked: what each limit measures at one point, against its bound.
 *
 * The rows are in limits.h, the heat's limits in heating.h; judge.h settles the hours looked at
 * first. Internal. */
#ifndef CT_JUDGE_LIMITS_CHECK_H
#define CT_JUDGE_LIMITS_CHECK_H

#include "judge/point.h"
#include "judge/sweep_job.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Whether the load is judged in the air the house settles at, not in the air entered. */
bool ct_limits_check_settled(const ct_sweep_job *, const ct_point *);

/* Least airflow and static: those that need no balance. */
void ct_limits_check_air(const ct_sweep_job *, ct_point *);

/* Loads, frost, head, sweating, carry-over, metering device. Needs a balance, and has_design and
 * has_mild settled. */
void ct_limits_check_balance(const ct_sweep_job *, ct_point *);

/* The humidity the house settles at, where there is a ceiling. */
void ct_limits_check_humidity(const ct_sweep_job *, ct_point *);

#ifdef __cplusplus
}
#endif
#endif
