/* Terms that several sections of explain use: constants of moist air in the sheet's units, and the
 * sum of an enthalpy. */
#ifndef CLI_EXPLAIN_TERMS_H
#define CLI_EXPLAIN_TERMS_H

#include "fluid/air.h"
#include "show/sheet.h"

#define TERMS(...) ((const term[]){__VA_ARGS__})

term terms_c_pa(const sheet *);          /* heat capacity of dry air */
term terms_c_pv(const sheet *);          /* and of water vapor */
term terms_h_v0(const sheet *);          /* enthalpy of vapor at the zero of the scale, F or C */
term terms_grains(const sheet *);        /* grains per lb, g per kg */
term terms_per_watt(const sheet *);      /* heat of one watt: Btu/h or kW */
term terms_absolute_zero(const sheet *); /* F or C below zero */
term terms_gas_constant(const sheet *);  /* v = R T (1 + W/eps)/p: ft3 psi/lb R or m3 kPa/kg K */

void terms_enthalpy(sheet *, const char *name, const char *label, const ct_air *);

#endif
