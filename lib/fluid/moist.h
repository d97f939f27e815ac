/* The simplest sums of air.h, for the inner loops: no call for a line. They are the same to the last
 * digit, which tests/test_air.c checks. Internal. */
#ifndef CT_FLUID_MOIST_H
#define CT_FLUID_MOIST_H

#include "base/units.h"
#include "fluid/air.h"
#include "fluid/water_tables.h"

/* J/kg K of dry air. */
static inline double ct_moist_cp(double W)
{
    return CT_AIR_CPA + W * CT_AIR_CPV;
}

/* J/kg of vapor, of water. */
static inline double ct_moist_h_vapor(double T)
{
    return CT_AIR_HG0 + CT_AIR_CPV * (T - CT_ZERO_C);
}

static inline double ct_moist_h_water(double T)
{
    return CT_AIR_CPW * (T - CT_ZERO_C);
}

/* ct_air_W_sat_liquid. */
static inline double ct_moist_W_sat(double T, double p, double *dW_dT)
{
    double pv, slope, per_rest;

    if (!ct_water_psat(T, &pv, &slope)) return ct_air_W_sat_liquid(T, p, dW_dT);
    per_rest = 1.0 / (p - pv);
    *dW_dT = CT_AIR_EPS * p * slope * per_rest * per_rest;
    return CT_AIR_EPS * pv * per_rest;
}

#endif
