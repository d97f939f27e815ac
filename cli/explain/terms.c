#include "explain/terms.h"
#include "base/units.h"
#include "fluid/air.h"

#define BTU_LB CT_JKG_PER_BTULB

term terms_c_pa(const sheet *s)
{
    return sheet_constant(s, CT_AIR_CPA / BTU_LB / CT_F_PER_K, CT_AIR_CPA / 1e3, 4);
}

term terms_c_pv(const sheet *s)
{
    return sheet_constant(s, CT_AIR_CPV / BTU_LB / CT_F_PER_K, CT_AIR_CPV / 1e3, 4);
}

/* Enthalpy of vapor at the zero of the scale, F or C. */
term terms_h_v0(const sheet *s)
{
    return sheet_constant(s, CT_AIR_HG0 / BTU_LB - 32.0 * CT_AIR_CPV / BTU_LB / CT_F_PER_K,
                          CT_AIR_HG0 / 1e3, 1);
}

term terms_grains(const sheet *s)
{
    return sheet_constant(s, 7000, 1000, 0);
}

/* Heat of one watt: Btu/h or kW. */
term terms_per_watt(const sheet *s)
{
    return sheet_constant(s, 1.0 / CT_W_PER_BTUH, 1e-3, 3);
}

term terms_absolute_zero(const sheet *s)
{
    return sheet_constant(s, 459.67, 273.15, 2);
}

/* v = RA T (1 + W/eps)/p in ft3 psi/lb R, or in m3 kPa/kg K. */
term terms_gas_constant(const sheet *s)
{
    const double ft3 = CT_M_PER_FT * CT_M_PER_FT * CT_M_PER_FT;
    return sheet_constant(s, CT_AIR_RA * CT_KG_PER_LBM / ft3 / CT_F_PER_K / CT_PA_PER_PSI,
                          CT_AIR_RA / 1e3, 4);
}

void terms_enthalpy(sheet *s, const char *name, const char *label, const ct_air *a)
{
    sheet_sum(
        s, &(sum_of){name, label, "c_a t + W (h_v + c_v t)", M_AIR_ENTHALPY, ct_air_h(a->T, a->W)},
        "# x # + # / # x (# + # x #)",
        TERMS(terms_c_pa(s), sheet_term(s, M_TEMPERATURE, a->T), sheet_term(s, M_MOISTURE, a->W),
              terms_grains(s), terms_h_v0(s), terms_c_pv(s), sheet_term(s, M_TEMPERATURE, a->T)));
}
