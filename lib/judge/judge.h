/* Judge: the value of each limit against its bound, at one point. Internal. */
#ifndef CT_JUDGE_JUDGE_H
#define CT_JUDGE_JUDGE_H

#include "judge/point.h"
#include "judge/sweep_job.h"
#include "plant/balance.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Every limit but the humidity the house settles at; `passes` follows from them. */
void ct_judge_point(const ct_sweep_job *, ct_point *);

/* Fills the settled humidity of a point that balances and judges it against the ceiling, if any. A
 * house that settles nowhere leaves has_room false. */
void ct_judge_humidity(ct_solver *, const ct_sweep_job *, bool also_fan_on, ct_point *);

#ifdef __cplusplus
}
#endif
#endif
