#include "fluid/saturation.h"

#include <math.h>

#include "fluid/air_state.h"

/* ln p = c0/T + c1 + c2 T + c3 T^2 + c4 T^3 + c5 T^4 + c6 ln T */

/* Hyland & Wexler 1983, Formulations for the thermodynamic properties of the saturated phases of
 * H2O from 173.15 K to 473.15 K, ASHRAE Trans. 89(2A); the coefficients as in ASHRAE Fundamentals
 * ch. 1: eq. 5 over ice, eq. 6 over liquid. */
static double ln_psat_ice(double T)
{
    return -5.6745359e3 / T + 6.3925247 +
           T * (-9.6778430e-3 + T * (6.2215701e-7 + T * (2.0747825e-9 - 9.4840240e-13 * T))) +
           4.1635019 * log(T);
}

static double ln_psat_liquid(double T)
{
    return -5.8002206e3 / T + 1.3914993 +
           T * (-4.8640239e-2 + T * (4.1764768e-5 - 1.4452093e-8 * T)) + 6.5459673 * log(T);
}

static double ln_slope_ice(double T)
{
    return 5.6745359e3 / (T * T) - 9.6778430e-3 +
           T * (2 * 6.2215701e-7 + T * (3 * 2.0747825e-9 - 4 * 9.4840240e-13 * T)) + 4.1635019 / T;
}

static double ln_slope_liquid(double T)
{
    return 5.8002206e3 / (T * T) - 4.8640239e-2 + T * (2 * 4.1764768e-5 - 3 * 1.4452093e-8 * T) +
           6.5459673 / T;
}

double ct_saturation_ln_p(double T)
{
    return T < CT_AIR_T_TRIPLE ? ln_psat_ice(T) : ln_psat_liquid(T);
}

double ct_saturation_ln_slope(double T)
{
    return T < CT_AIR_T_TRIPLE ? ln_slope_ice(T) : ln_slope_liquid(T);
}

double ct_saturation_liquid(double T, double *slope)
{
    const double psat = exp(ln_psat_liquid(T));

    *slope = psat * ln_slope_liquid(T);
    return psat;
}
