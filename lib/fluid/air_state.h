/* The state of moist air, the constants of its model and the range that holds in; the source is in
 * fluid/air.h. Public. */
#ifndef CT_FLUID_AIR_STATE_H
#define CT_FLUID_AIR_STATE_H

#define CT_AIR_T_MIN 173.15    /* K, -100 C, lower end of Hyland & Wexler over ice */
#define CT_AIR_T_MAX 373.15    /* K, this model is used for comfort air only */
#define CT_AIR_T_TRIPLE 273.16 /* K, saturation is over ice below */
#define CT_AIR_P_MIN 50e3      /* Pa, just past the pressure at 5000 m */
#define CT_AIR_P_MAX 120e3     /* Pa, just past the pressure at -500 m */
#define CT_AIR_Z_MIN -500.0    /* m, altitude */
#define CT_AIR_Z_MAX 5000.0    /* m */

#define CT_AIR_CPA 1006.0    /* J/kg K, dry air */
#define CT_AIR_CPV 1860.0    /* J/kg K, water vapor */
#define CT_AIR_HG0 2501000.0 /* J/kg, vapor enthalpy at 0 C */
#define CT_AIR_CPW 4186.0    /* J/kg K, liquid water */
#define CT_AIR_RA 287.042    /* J/kg K, gas constant of dry air */
#define CT_AIR_EPS 0.621945  /* molar mass ratio water/dry air */

typedef struct {
    double T; /* K, dry bulb */
    double W; /* kg/kg dry air, humidity ratio */
    double p; /* Pa, barometric pressure */
} ct_air;

#endif
