/* Sweep, ahead: where the next point of a row begins, from those before it and, where the same row
 * was swept for a job that differs little, from there. It saves rounds; it cannot change an answer.
 * SI. Internal. */
#ifndef CT_JUDGE_SWEEP_AHEAD_H
#define CT_JUDGE_SWEEP_AHEAD_H

#include "judge/point.h"

/* What a point may begin at: each search's own (CT_SEEN_...), and the balance in the return air,
 * whose W is the air's volume at the blower, m3/kg. start.Te 0: not known. */
typedef struct {
    ct_near balance;
    ct_near seen[CT_SEEN_COUNT];
} ct_sweep_start;

/* Point i of a row, from the last ones of it. */
ct_sweep_start ct_sweep_ahead(const ct_point *row, int i);

/* Point i of a row begun at `near`, point by point: as far from there as the last ones of the row
 * are seen to go; where `near` knows nothing, as above. */
ct_sweep_start ct_sweep_ahead_near(const ct_point *near, const ct_point *row, int i);

/* The rows of a sweep as far as they are known: n airflows, and the taps. */
typedef struct {
    const ct_point *point;
    int n;
    const ct_point *tap;
} ct_sweep_rows;

/* The same for tap i, from the airflows around it; without airflows from the tap before. */
ct_sweep_start ct_sweep_ahead_tap(const ct_sweep_rows *near, const ct_sweep_rows *now, int i);

/* A place at m_da kg/s, in a straight line between two of the airflows; nothing known beyond their
 * ends. */
ct_sweep_start ct_sweep_between(const ct_sweep_rows *, double m_da);

/* Where two points of the same airflow or tap lead, at `share` of the way from the one to the
 * other. */
void ct_sweep_point_onward(const ct_point *from, const ct_point *to, double share, ct_point *near);

#endif
