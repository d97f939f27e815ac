#include "base/monotone.h"

#include <math.h>

static double x_of(const ct_monotone *m, int i)
{
    return m->x[i * m->stride];
}

static double y_of(const ct_monotone *m, int i)
{
    return m->y[i * m->stride];
}

double ct_monotone_chord(const ct_monotone *m, int i)
{
    return (y_of(m, i + 1) - y_of(m, i)) / (x_of(m, i + 1) - x_of(m, i));
}

double ct_monotone_slope(const ct_monotone *m, int i)
{
    if (i == 0) return ct_monotone_chord(m, 0);
    if (i == m->n - 1) return ct_monotone_chord(m, m->n - 2);
    const double s0 = ct_monotone_chord(m, i - 1), s1 = ct_monotone_chord(m, i);
    if (s0 * s1 <= 0) return 0;
    const double h0 = x_of(m, i) - x_of(m, i - 1), h1 = x_of(m, i + 1) - x_of(m, i);
    const double p = fabs(s0 * h1 + s1 * h0) / (h0 + h1);
    return copysign(2 * fmin(fmin(fabs(s0), fabs(s1)), 0.5 * p), s0);
}

double ct_monotone_at(const ct_monotone *m, double x)
{
    int i = 0;
    while (i < m->n - 2 && x > x_of(m, i + 1))
        i++;
    const double h = x_of(m, i + 1) - x_of(m, i), t = x - x_of(m, i);
    const double s = ct_monotone_chord(m, i);
    const double m0 = ct_monotone_slope(m, i), m1 = ct_monotone_slope(m, i + 1);
    const double a = (m0 + m1 - 2 * s) / (h * h), b = (3 * s - 2 * m0 - m1) / h;
    return y_of(m, i) + t * (m0 + t * (b + t * a));
}
