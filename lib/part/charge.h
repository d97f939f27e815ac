/* Charge: how much refrigerant is where, and what a wrong charge was measured to cost.
 *
 * Two things. The mean density of a boiling or condensing stretch of tube, for an inventory of the
 * whole system (plant/charge.h). And the measured change of capacity and power of a split system
 * with a valve, for charges the model cannot follow: with too little, gas enters the valve, with
 * far too much, liquid backs up into more of the condenser than a share of area can tell. SI. Pure.
 * Public. */
#ifndef CT_PART_CHARGE_H
#define CT_PART_CHARGE_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Mean density, kg/m3, of a stretch in which quality goes evenly from x1 to x2 (0 to 1, x1 < x2),
 * void fraction by Zivi 1964 (J. Heat Transfer 86:247-252): alpha = 1/(1 + (1 - x)/x k), k =
 * (rho_g/rho_l)^(2/3), integrated. */
CT_API double ct_charge_two_phase(double rho_l, double rho_g, double x1, double x2);

/* Factors on total capacity and on power at a charge that is off by F (a fraction, -0.3 to 0.3),
 * indoor and outdoor dry bulb in K: 1 + (a1 + a2 T_in + a3 T_out + a4 F) F in C, Domanski,
 * Henderson & Payne 2014, NIST TN 1848 (split heat pump with a valve, cooling). CT_RANGE. */
CT_API ct_status ct_charge_measured(double F, double T_in, double T_out, double *capacity,
                                    double *power, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
