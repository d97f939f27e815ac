/* The form of the published averages of NREL/TP-5500-56354 (Cutler, Winkler, Kruis, Christensen &
 * Brandemuehl 2013); each test has the coefficients of its own sets. The temperature curves are not
 * 1 at their own rating, so they are used as ratios. */
#ifndef TESTS_NREL_CURVES_H
#define TESTS_NREL_CURVES_H

/* Of the indoor temperature t (wet bulb in cooling, dry bulb in heating) and the outdoor dry bulb
 * d, F. */
static inline double nrel_temperature(const double c[6], double t, double d)
{
    return c[0] + c[1] * t + c[2] * t * t + c[3] * d + c[4] * d * d + c[5] * t * d;
}

/* Of the airflow over the rated one. */
static inline double nrel_flow(const double a[3], double f)
{
    return a[0] + a[1] * f + a[2] * f * f;
}

#endif
