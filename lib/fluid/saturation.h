/* Saturation of water, by formula: over ice below the triple point, over liquid above it. Pa, K;
 * from CT_AIR_T_MIN to CT_AIR_T_MAX. The pieces of water_tables.h are made of it. Internal. */
#ifndef CT_FLUID_SATURATION_H
#define CT_FLUID_SATURATION_H

/* ln of the pressure, and the slope of that, 1/K. */
double ct_saturation_ln_p(double T);
double ct_saturation_ln_slope(double T);

/* Over liquid at any T; the pressure's slope, Pa/K, through *slope. */
double ct_saturation_liquid(double T, double *slope);

#endif
