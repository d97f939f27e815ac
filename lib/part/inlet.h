/* Inlet: the liquid as it arrives at the metering device.
 *
 * It may be subcooled or, with a long line or a low charge, carry flash gas. Orifice and valve are
 * both fed from it. SI throughout; pressures absolute. Pure: allocates nothing, keeps nothing.
 * Public. */
#ifndef CT_PART_INLET_H
#define CT_PART_INLET_H

#include "base/status.h"
#include "fluid/refrigerant.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_INLET_QUALITY_MAX 0.5 /* kg of vapor per kg; with more the models end */

typedef struct {
    double p;          /* Pa, at the device inlet */
    double T;          /* K, of the liquid there */
    double subcooling; /* K below the bubble temperature of p; 0 with flash gas */
    double quality;    /* kg of vapor per kg; 0 for liquid */
    double p_sat;      /* Pa, bubble pressure of T; equals p with flash gas */
    double rho_f;      /* kg/m3, saturated liquid at T */
    double rho_g;      /* kg/m3, saturated vapor at T (dew) */
    double rho;        /* kg/m3, of what arrives: liquid, or the homogeneous mixture */
    double h;          /* J/kg */
    double p_crit;     /* Pa, of the refrigerant */
    double T_crit;     /* K */
} ct_inlet;

/* From pressure (Pa) and enthalpy (J/kg) at the device. Liquid up to 30 K subcooled, or up to
 * quality 0.5; continuous where the first bubble appears. CT_RANGE outside that or the
 * refrigerant's tables. */
CT_API ct_status ct_inlet_at(const ct_refrigerant *, double p, double h, ct_inlet *, ct_fault *);

/* From what leaves the condenser (pressure, Pa; subcooling, K, 0 to 30) and the pressure lost in
 * the liquid line and drier (dp_line, Pa; below 0 is gained by a fall). The enthalpy is kept: too
 * much drop makes flash gas. */
CT_API ct_status ct_inlet_after_line(const ct_refrigerant *, double p_condenser, double subcooling,
                                     double dp_line, ct_inlet *, ct_fault *);

/* Pressure left across a device: inlet less distributor and nozzle less evaporator, Pa. CT_RANGE
 * when nothing is left. */
CT_API ct_status ct_inlet_dp(const ct_inlet *, double dp_distributor, double p_evaporator,
                             double *dp, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
