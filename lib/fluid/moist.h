/* The simplest sums of moist air, for the inner loops: no call for a line. fluid/air.c is made of
 * them, too; sources there. Internal. */
#ifndef CT_FLUID_MOIST_H
#define CT_FLUID_MOIST_H

#include "base/units.h"
#include "fluid/air_state.h"
#include "fluid/saturation.h"
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

/* Humidity ratio of saturated air, and its slope, 1/K, from the saturation pressure and its slope,
 * Pa and Pa/K (ch. 1 eq. 20). */
static inline double ct_moist_W_of(double psat, double slope, double p, double *dW_dT)
{
    const double per_rest = 1.0 / (p - psat);

    *dW_dT = CT_AIR_EPS * p * slope * per_rest * per_rest;
    return CT_AIR_EPS * psat * per_rest;
}

/* The same over liquid at any T. */
static inline double ct_moist_W_sat(double T, double p, double *dW_dT)
{
    double psat, slope;

    if (!ct_water_psat(T, &psat, &slope)) psat = ct_saturation_liquid(T, &slope);
    return ct_moist_W_of(psat, slope, p, dW_dT);
}

#endif
