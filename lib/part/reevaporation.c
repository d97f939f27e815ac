#include "part/reevaporation.h"

#include <math.h>

#define RATED_DEPRESSION 7.3 /* K, 26.7 C dry bulb less 19.4 C wet bulb */

/* t_o = A + tau (1 - exp(-t_o/tau)): Newton from the upper end of [A, A + tau]; the function is
 * convex, so it comes down without overshooting. A step leaves half its square times the bend over
 * the slope, exp(-x)/(1 - exp(-x)). */
static double restart_time(double A, double tau)
{
    const double a = A / tau;
    if (a < 1e-10) return tau * sqrt(2.0 * a); /* first term of the series; Newton would stall */
    double x = a + 1.0;
    for (int i = 0; i < 60; i++) {
        const double rise = -expm1(-x), step = (x - a - rise) / rise;
        x -= step;
        if (step * step * (1.0 - rise) <= 2e-15 * x * rise) break;
    }
    return tau * x;
}

double ct_reevaporation_kept(const ct_reevaporation *coil, double run, double load,
                             double depression, double t_fan)
{
    double gamma = coil->gamma * depression / RATED_DEPRESSION;
    if (run >= 1.0 || t_fan <= 0.0 || gamma <= 0.0) return 1.0;
    gamma /= load;
    double t_wet = coil->t_wet / load, cycle = 3600.0 / (4.0 * coil->N_max);
    double t_on = cycle / (1.0 - run), t_off = run > 0.0 ? cycle / run : HUGE_VAL;
    double t = fmin(fmin(t_off, t_fan), 2.0 * t_wet / gamma);
    double A = gamma * t * (1.0 - gamma * t / (4.0 * t_wet));
    double t_o = restart_time(A, coil->tau);
    double kept = (t_on - t_o) / (t_on + coil->tau * expm1(-t_on / coil->tau));
    return fmin(1.0, fmax(0.0, kept));
}
