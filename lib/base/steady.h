/* Steady: the longest stretch of time in which several series stay where they are.
 *
 * A log of a running system begins while it settles and may end after it was stopped. A series is
 * steady where the straight line through it (least squares) drifts by no more than its margin from
 * one end of the stretch to the other. Public. */
#ifndef CT_BASE_STEADY_H
#define CT_BASE_STEADY_H

#include <stdbool.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    int series; /* 0 .. n_series - 1 */
    double t, v;
} ct_steady_sample;

typedef struct {
    const ct_steady_sample *sample;
    int n;
    const double *margin; /* by series, above 0 */
    int n_series;         /* at most CT_STEADY_SERIES */
} ct_steady_log;

typedef struct {
    bool found;
    double from, to; /* of the stretch; not found: of the last one of that length */
    int worst;       /* not found: the series that drifts most there, -1 none */
    double drift;    /* of it, with its sign */
} ct_steady;

#define CT_STEADY_SERIES 64

/* Stretches of at least `least`. A series with fewer than
 * CT_STEADY_FEW samples in the whole log is not looked at. CT_SYSTEM: memory. */
#define CT_STEADY_FEW 5
CT_API ct_status ct_steady_find(const ct_steady_log *, double least, ct_steady *, ct_fault *);

typedef struct {
    int n;
    double mean, sd; /* sd: standard deviation of one sample, 0 for a single one */
} ct_steady_mean;

/* Of one series from `from` to `to`, ends included. */
CT_API ct_steady_mean ct_steady_average(const ct_steady_log *, int series, double from, double to);

#ifdef __cplusplus
}
#endif
#endif
