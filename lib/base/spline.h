/* Uniform cubic B-splines of one and two coordinates: the tables behind the refrigerant look-ups.
 * Values and both derivatives are continuous, so solvers see no kinks. Internal.
 *
 * Source: de Boor, C., "A Practical Guide to Splines", Springer 2001; on a uniform grid of n
 * intervals the value in interval i is the sum of n + 3 coefficients c[i..i+3] with the weights of
 * ct_place_at(). End condition: slope from a six-point one-sided difference, which keeps the order.
 */
#ifndef CT_BASE_SPLINE_H
#define CT_BASE_SPLINE_H

/* Place on an axis: interval and the weights of its four coefficients. */
typedef struct {
    int i;
    double w[4];
} ct_place;

/* `u` in grid units, 0..n. The caller has checked the range. */
static inline ct_place ct_place_at(double u, int n)
{
    int i = (int)u;
    if (i > n - 1) i = n - 1;
    double t = u - i, r = 1 - t, t2 = t * t, r2 = r * r;
    ct_place p = {.i = i};
    p.w[0] = r2 * r * (1.0 / 6.0);
    p.w[1] = 2.0 / 3.0 - t2 * (1 - 0.5 * t);
    p.w[2] = 2.0 / 3.0 - r2 * (1 - 0.5 * r);
    p.w[3] = t2 * t * (1.0 / 6.0);
    return p;
}

/* Fits one line in place. On entry c[stride], ..., c[(n + 1) * stride] hold the n + 1 values; on
 * return c[0] to c[(n + 2) * stride] hold the coefficients. n >= 5. work: n + 3 numbers. */
void ct_spline_fit(double *c, int n, int stride, double *work);

/* Fits a sheet c[nx + 3][ny + 3][width] in place, values inside a margin of one; `work` must hold
 * max(nx, ny) + 3 numbers. */
void ct_spline_fit2(double *c, int nx, int ny, int width, double *work);

#endif
