/* Moist air: from any two readings to everything else about the air.
 *
 * A state is dry bulb, humidity ratio and pressure. Give dry bulb with relative humidity, wet bulb
 * or dew point, and the altitude; ask for the others, enthalpy, volume.
 * SI throughout: K, Pa, kg of water per kg of dry air, J per kg of dry air. Pure functions.
 *
 * Source: ASHRAE Handbook Fundamentals ch. 1: saturation pressure after Hyland & Wexler 1983,
 * ideal-gas mixture relations for h, v, W, standard atmosphere for pressure. Below the triple
 * point, 273.16 K, saturation is over ice: there the two formulas meet to 6e-9, so psat has no step
 * (at 273.15 K they differ by 1e-4, and a step is poison to root finding). Enthalpy is zero for dry
 * air at 0 C and liquid water at 0 C: h = cpa t + W (hg0 + cpv t), t in C, cpa 1006, cpv 1860, hg0
 * 2 501 000 (the 1.006/2501/1.86 form).
 * Public. */
#ifndef CT_FLUID_AIR_H
#define CT_FLUID_AIR_H

#include "base/status.h"
#include "fluid/air_state.h"

#ifdef __cplusplus
extern "C" {
#endif

/* kg/m3: 0.075 lb/ft3 by the exact definitions, the 'standard' in standard cfm. */
#define CT_STD_DENSITY 1.20138475304701

/* Barometric pressure, Pa, at altitude in m (-500 to 5000), standard atmosphere, eq. 3. CT_RANGE
 * outside. */
CT_API ct_status ct_air_pressure(double altitude, double *p, ct_fault *fault);

/* Hot-path functions: no range check, finite for CT_AIR_T_MIN..CT_AIR_T_MAX and p > 2 * p_sat. */
CT_API double ct_air_psat(double T);              /* Pa, over ice below 273.16 K, eqs. 5, 6 */
CT_API double ct_air_psat_slope(double T);        /* dp_sat/dT, Pa/K, analytic */
CT_API double ct_air_psat_liquid(double T);       /* Pa, liquid branch at any T (supercooled) */
CT_API double ct_air_psat_liquid_slope(double T); /* Pa/K */
/* W over liquid at any T, and its slope in *dW_dT (1/K): one evaluation for both, for coil
 * surfaces. For host programs; here fluid/moist.h has it without a call. */
CT_API double ct_air_W_sat_liquid(double T, double p, double *dW_dT);
CT_API double ct_air_W_sat(double T, double p);       /* kg/kg */
CT_API double ct_air_h(double T, double W);           /* J/kg dry air */
CT_API double ct_air_cp(double W);                    /* J/K per kg dry air: cpa + W cpv */
CT_API double ct_air_v(double T, double W, double p); /* m3/kg dry air */
CT_API double ct_air_h_water(double T);               /* J/kg liquid water, cpw (T - 273.15) */
CT_API double ct_air_h_vapor(double T);               /* J/kg vapor, hg0 + cpv (T - 273.15) */

/* States from readings. Fail with CT_RANGE (dry bulb, pressure, p not above 2 p_sat) or CT_INPUT
 * (RH outside 0..1, wet bulb or dew point above dry bulb, wet bulb so low that W would be negative,
 * W outside 0..0.62). from_W takes W above saturation: a model may pass through fog. Wet bulb after
 * ASHRAE Fundamentals ch. 1 eq. 33 (water on the wick, 273.15 K and up) and eq. 35 (ice, below). */
CT_API ct_status ct_air_from_rh(double T, double rh, double p, ct_air *air, ct_fault *fault);
CT_API ct_status ct_air_from_wet_bulb(double T, double T_wb, double p, ct_air *air,
                                      ct_fault *fault);
CT_API ct_status ct_air_from_dew_point(double T, double T_dp, double p, ct_air *air,
                                       ct_fault *fault);
/* For host programs; here a model makes its own states. */
CT_API ct_status ct_air_from_W(double T, double W, double p, ct_air *air, ct_fault *fault);

/* Readings from a state. CT_INPUT when the air is above saturation and has no wet bulb (to 1e-6
 * relative it counts as saturated); CT_RANGE when the answer would lie below CT_AIR_T_MIN. Where
 * both a watered and an iced wick would balance (wet bulbs just below freezing), it is the watered
 * one. */
CT_API double ct_air_rh(const ct_air *air); /* 0..1 (above 1: supersaturated, reported as is) */
CT_API ct_status ct_air_dew_point(const ct_air *air, double *T_dp, ct_fault *fault);
CT_API ct_status ct_air_wet_bulb(const ct_air *air, double *T_wb, ct_fault *fault);

/* Apparatus dew point: where the line from `in` through `out`, straight in h and W as air mixes,
 * first meets saturation, and the bypass factor (h_out - h_adp)/(h_in - h_adp), 0 for saturated
 * leaving air. CT_NO_ROOT when the coil is dry (W_out not below W_in), and when the line never
 * meets saturation (so much moisture per degree that no single surface temperature explains it);
 * CT_INPUT when `out` is not cooler than `in` or either is above saturation. Saturation at the
 * pressure of `out`. Bracketed, after ASHRAE coil practice. */
CT_API ct_status ct_air_adp(const ct_air *in, const ct_air *out, double *T_adp, double *bypass,
                            ct_fault *fault);

#ifdef __cplusplus
}
#endif
#endif
