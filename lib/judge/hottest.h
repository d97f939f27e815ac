/* Hottest day: up to which outdoor temperature a blower speed carries the house's load. Public. */
#ifndef CT_JUDGE_HOTTEST_H
#define CT_JUDGE_HOTTEST_H

#include "base/status.h"
#include "judge/sweep.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Hottest outdoor temperature, K, at which this point's airflow still carries the sensible load,
 * the load taken as a straight line from zero at the house's balance temperature to the design load
 * at the case's outdoor temperature. Between the design temperature - 30 K and 330 K. CT_NO_ROOT
 * when the load is never or always carried in that range; CT_INPUT without a balance temperature.
 */
CT_API ct_status ct_hottest_day(ct_solver *, const ct_sweep_job *, const ct_point *, double *T_out,
                                ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
