/* Monotone: a smooth curve through points that never overshoots them.
 *
 * Source: Steffen 1990, A simple method for monotonic interpolation in one dimension, Astron.
 * Astrophys. 239:443, eqs. 8 and 11. At an end the slope is that of the last interval, so that a
 * straight extension joins without a kink. Internal. */
#ifndef CT_BASE_MONOTONE_H
#define CT_BASE_MONOTONE_H

/* The points are borrowed: x[0], x[stride], x[2 stride], ... rise, and y likewise. */
typedef struct {
    const double *x, *y;
    int n;      /* 2 or more */
    int stride; /* from one point to the next, in numbers: 1 for plain arrays */
} ct_monotone;

/* Straight slope from point i to the next. */
double ct_monotone_chord(const ct_monotone *, int i);

/* The curve's slope at point i. */
double ct_monotone_slope(const ct_monotone *, int i);

/* The curve at x, between the first point and the last. */
double ct_monotone_at(const ct_monotone *, double x);

#endif
