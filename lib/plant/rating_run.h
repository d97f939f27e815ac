/* Rating run: a system in the steady tests of the seasonal rating, and the figure that follows.
 *
 * Indoors 80/67 F, outdoors as the test says (AHRI 210/240). One stage: SEER from the B test
 * (plant/seasonal.h); two: A2, B2, B1 and F1 and the bins. SI. Public. */
#ifndef CT_PLANT_RATING_RUN_H
#define CT_PLANT_RATING_RUN_H

#include "base/status.h"
#include "plant/balance.h"
#include "plant/plant.h"
#include "plant/seasonal.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    ct_stage_run high; /* the high, or only, stage and its airflow */
    ct_stage_run low;  /* system NULL: one stage */
    double CD;         /* cyclic degradation, 0 to 0.5 */
} ct_rating_run;

/* One of the two at T_out, K, outdoors. Fails as ct_balance_solve. */
CT_API ct_status ct_rating_run_test(ct_solver *, const ct_stage_run *, double T_out, ct_balance *,
                                    ct_fault *);

/* W/W. Fails as ct_rating_run_test and ct_seasonal_seer. */
CT_API ct_status ct_rating_run_seer(ct_solver *, const ct_rating_run *, double *SEER, ct_fault *);

/* And the two tests of the high stage beside it, each balanced once. Fails as
 * ct_rating_run_seer. */
typedef struct {
    ct_rating_test A, B;
    double SEER; /* W/W */
} ct_rated;
CT_API ct_status ct_rating_run_whole(ct_solver *, const ct_rating_run *, ct_rated *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
