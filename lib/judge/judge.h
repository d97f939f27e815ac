/* Judge: one point against all limits, at the hours they look at (limits_check.h). Internal. */
#ifndef CT_JUDGE_JUDGE_H
#define CT_JUDGE_JUDGE_H

#include "judge/point.h"
#include "judge/sweep_job.h"
#include "plant/balance.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Every limit but the humidity the house settles at; `passes` follows from them. Fills the house's
 * design hour, in whose air the load is judged unless the case wants the humidity entered, and the
 * mildest hour for frost. near: CT_SEEN_COUNT, where searches begin; NULL when there is no
 * neighbor.
 */
void ct_judge_point(ct_solver *, const ct_sweep_job *, const ct_near *near, ct_point *);

/* Net sensible, W, that this point's speed gives the house on another day, in the air in which the
 * case wants it judged. Fails as ct_humidity_day and ct_balance_solve. */
ct_status ct_judge_carried(ct_solver *, const ct_sweep_job *, const ct_point *,
                           const ct_house_day *, double *Q);

enum {
    CT_ALSO_FAN_ON = 1, /* as if the blower were left on */
    CT_ALSO_BAND = 2    /* at several shares of the load */
};

/* Fills the settled humidity of a point that balances and judges it against the ceiling, if any.
 * `also`: CT_ALSO_ bits. A house that settles nowhere leaves has_room false. */
void ct_judge_humidity(ct_solver *, const ct_sweep_job *, unsigned also, const ct_near *near,
                       ct_point *);

#ifdef __cplusplus
}
#endif
#endif
