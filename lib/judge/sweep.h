/* Sweep: the same house and equipment at every airflow, and at each real blower speed, each judged
 * against every limit. SI. Public. */
#ifndef CT_JUDGE_SWEEP_H
#define CT_JUDGE_SWEEP_H

#include "base/status.h"
#include "judge/point.h"
#include "judge/sweep_job.h"
#include "plant/balance.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_MAX_SWEEP_POINTS 501

typedef struct {
    int n; /* airflow sweep */
    ct_point point[CT_MAX_SWEEP_POINTS];
    int n_taps;                /* 0 when the blower or the ducts are not known */
    ct_point tap[CT_MAX_TAPS]; /* in order of rising airflow */
} ct_sweep;

/* The speeds a pick is made among, *n of them unless NULL: the taps, without taps the airflows. */
CT_API const ct_point *ct_sweep_speeds(const ct_sweep *, int *n);

/* Of those the slowest that passes or, when none passes, the one that comes nearest: the limit it
 * misses by most (ct_limit_worst) is missed by less than at any other; of those that miss it alike,
 * as on a heating tap, the one that misses least in all. That is the speed shown when there is no
 * pick. NULL when none balances. */
CT_API const ct_point *ct_sweep_nearest(const ct_sweep *);

/* The job of a setup. A unit with two stages is judged on its high one, which carries the design
 * load; the low one runs first, at the speed ct_pick_driest chooses for it, and the settled
 * humidity is that of both. Without a solver the low stage is left out. Fails as ct_setup_join;
 * CT_INPUT when load or airflow is still to be found; CT_RANGE: return air past the coil model. */
CT_API ct_status ct_sweep_prepare(const ct_setup *, ct_sweep_job *, ct_fault *);

/* The same unit on its low stage. It has no load to carry: its speeds are judged by frost, airflow,
 * static and the like, at the house's damp hour instead of the design hour; per ton is per ton of
 * the low stage. False when there is one stage. */
CT_API bool ct_sweep_low_job(const ct_sweep_job *high, ct_sweep_job *low);

/* Looks for the low stage's speed in a job that was prepared without a solver, or whose system was
 * changed since. Nothing with one stage. */
CT_API void ct_sweep_pair_low(ct_solver *, ct_sweep_job *);

/* One airflow of m_da kg/s with blower input P_blower W, judged. A point that does not balance is
 * not an error: see point->status and why. start may be NULL. */
CT_API void ct_sweep_point(ct_solver *, const ct_sweep_job *, double m_da, double P_blower,
                           const ct_start *start, ct_point *point);

/* One airflow as the sweep takes it: V_per_ton standard m3/s per nominal ton, blower input after
 * ct_sweep_watts at the volume the balance decides. An unbalanced point is not an error. CT_RANGE
 * when V_per_ton is not positive. */
CT_API ct_status ct_sweep_airflow(ct_solver *, const ct_sweep_job *, double V_per_ton,
                                  ct_point *point, ct_fault *);

/* One tap: airflow where tap i meets the ducts, times the case's tuned airflow, at the density of
 * the air at the blower, which the balance decides. Fails as ct_blower_meet; an unbalanced point is
 * not an error. */
CT_API ct_status ct_sweep_tap(ct_solver *, const ct_sweep_job *, int i, ct_point *point,
                              ct_fault *);

/* Fills the settled humidity of a point that balances and judges it against the ceiling, if any. A
 * house that settles nowhere leaves has_room false. ct_sweep_run does this for every point. */
CT_API void ct_sweep_humidity(ct_solver *, const ct_sweep_job *, ct_point *point);

/* All airflows of the case's range and all taps. */
CT_API ct_status ct_sweep_run(ct_solver *, const ct_sweep_job *, ct_sweep *, ct_fault *);

/* Only the speeds a pick is made among, and their settled humidity only when the house has a
 * ceiling: the pick is that of ct_sweep_run, but for its remedies, which look at airflows between
 * the taps too. Fails as that does, where there are no taps. */
CT_API ct_status ct_sweep_speeds_only(ct_solver *, const ct_sweep_job *, ct_sweep *, ct_fault *);

/* The airflows and taps of `near`, in its order, for a job that differs little from the one it was
 * swept with: every balance begins at its neighbor, which saves time and cannot change an answer.
 * The settled humidity is worked out only when the house has a ceiling, and only where the pick is
 * made: at the taps, without taps at the airflows; the fan-on case never. Taps keep the order of
 * `near` even when their airflows change places. */
CT_API void ct_sweep_near(ct_solver *, const ct_sweep_job *, const ct_sweep *near, ct_sweep *);

/* Where two sweeps of the same airflows and taps lead: what ct_sweep_near may begin at `share` of
 * the way from `from` to `to`, beyond 1 as well. Nothing of it is an answer. */
CT_API void ct_sweep_onward(const ct_sweep *from, const ct_sweep *to, double share, ct_sweep *near);

#ifdef __cplusplus
}
#endif
#endif
