#include "part/inlet.h"

#include <math.h>

#include "base/search.h"
#include "base/units.h"

#define SUBCOOLING_MAX 30.0 /* K, what ct_refrigerant_liquid offers */

static double psi(double p)
{
    return p / CT_PA_PER_PSI;
}

typedef struct {
    const ct_refrigerant *r;
    double T_bubble, h;
    ct_status *status;
    ct_fault *fault;
} heat_search;

/* Enthalpy above the one looked for; falls with subcooling. A failure is kept and ends the search.
 */
static double above_h(double subcooling, const void *context, double *slope)
{
    const heat_search *k = context;
    ct_liquid l = {.cp = 1.0};
    if (*k->status == CT_OK)
        *k->status = ct_refrigerant_liquid(k->r, k->T_bubble, subcooling, &l, k->fault);
    *slope = -l.cp;
    return *k->status == CT_OK ? l.h - k->h : 0.0;
}

/* Subcooling at which the liquid at this bubble temperature has enthalpy h. */
static ct_status subcooling_of(const ct_refrigerant *r, double T_bubble, double h, double *sub,
                               ct_fault *fault)
{
    ct_status status = CT_OK;
    const heat_search k = {r, T_bubble, h, &status, fault};
    double slope;
    const double least = above_h(SUBCOOLING_MAX, &k, &slope);
    if (status != CT_OK) return status;
    if (least > 0)
        return ct_fail(fault, CT_RANGE, SUBCOOLING_MAX, 0, SUBCOOLING_MAX,
                       "liquid at the metering device is more than %.0f F subcooled; check the "
                       "subcooling given",
                       SUBCOOLING_MAX * CT_F_PER_K);
    const double x = ct_search_newton(above_h, &k, 0, SUBCOOLING_MAX, 0, 1e-11 * SUBCOOLING_MAX);
    if (status == CT_OK) *sub = x;
    return status;
}

/* Saturated properties at the liquid's own temperature, as the orifice correlation takes them. */
static ct_status saturation_at(const ct_refrigerant *r, ct_inlet *in, ct_fault *fault)
{
    ct_liquid f;
    ct_vapor g;
    ct_status status = ct_refrigerant_liquid(r, in->T, 0, &f, fault);
    if (status == CT_OK) status = ct_refrigerant_vapor(r, in->T, 0, &g, fault);
    if (status != CT_OK) return status;
    in->rho_f = f.rho;
    in->rho_g = g.rho;
    in->p_crit = ct_refrigerant_p_crit(r);
    in->T_crit = ct_refrigerant_T_crit(r);
    return CT_OK;
}

/* The rest of a liquid of known subcooling, whose density there is rho. */
static ct_status subcooled(const ct_refrigerant *r, double T_bubble, double rho, ct_inlet *in,
                           ct_fault *fault)
{
    in->rho = rho;
    in->T = T_bubble - in->subcooling;
    ct_status status = ct_refrigerant_p_bubble(r, in->T, &in->p_sat, fault);
    return status != CT_OK ? status : saturation_at(r, in, fault);
}

static ct_status inlet_liquid(const ct_refrigerant *r, double T_bubble, ct_inlet *in,
                              ct_fault *fault)
{
    ct_liquid l;
    ct_status status = subcooling_of(r, T_bubble, in->h, &in->subcooling, fault);
    if (status == CT_OK) status = ct_refrigerant_liquid(r, T_bubble, in->subcooling, &l, fault);
    return status != CT_OK ? status : subcooled(r, T_bubble, l.rho, in, fault);
}

static ct_status inlet_flash(const ct_refrigerant *r, double T_bubble, double h_f, ct_inlet *in,
                             ct_fault *fault)
{
    ct_vapor g;
    double T_dew;
    ct_status status = ct_refrigerant_T_dew(r, in->p, &T_dew, fault);
    if (status == CT_OK) status = ct_refrigerant_vapor(r, T_dew, 0, &g, fault);
    if (status != CT_OK) return status;
    in->T = T_bubble;
    in->p_sat = in->p;
    in->quality = (in->h - h_f) / (g.h - h_f);
    if (!(in->quality <= CT_INLET_QUALITY_MAX))
        return ct_fail(fault, CT_RANGE, in->quality, 0, CT_INLET_QUALITY_MAX,
                       "what reaches the metering device is %.0f%% vapor; the model ends at "
                       "%.0f%%; check subcooling and liquid line",
                       in->quality * 100, CT_INLET_QUALITY_MAX * 100);
    status = saturation_at(r, in, fault);
    if (status != CT_OK) return status;
    in->rho = 1 / ((1 - in->quality) / in->rho_f + in->quality / in->rho_g);
    return CT_OK;
}

ct_status ct_inlet_at(const ct_refrigerant *r, double p, double h, ct_inlet *inlet, ct_fault *fault)
{
    ct_liquid f;
    ct_inlet in = {.p = p, .h = h};
    if (!isfinite(h)) return ct_fail(fault, CT_INPUT, h, NAN, NAN, "enthalpy is not a number");
    double T_bubble;
    ct_status status = ct_refrigerant_T_bubble(r, p, &T_bubble, fault);
    if (status == CT_OK) status = ct_refrigerant_liquid(r, T_bubble, 0, &f, fault);
    if (status != CT_OK) return status;
    status =
        h > f.h ? inlet_flash(r, T_bubble, f.h, &in, fault) : inlet_liquid(r, T_bubble, &in, fault);
    if (status == CT_OK) *inlet = in;
    return status;
}

ct_status ct_inlet_after_line(const ct_refrigerant *r, double p_condenser, double subcooling,
                              double dp_line, ct_inlet *inlet, ct_fault *fault)
{
    ct_liquid l;
    if (!(dp_line > -p_condenser && dp_line < p_condenser))
        return ct_fail(fault, CT_INPUT, dp_line, -p_condenser, p_condenser,
                       "liquid line drop of %.3g psi is not below the condenser's %.4g psia; make "
                       "the line shorter or wider",
                       psi(dp_line), psi(p_condenser));
    double T_bubble;
    ct_status status = ct_refrigerant_T_bubble(r, p_condenser, &T_bubble, fault);
    if (status == CT_OK) status = ct_refrigerant_liquid(r, T_bubble, subcooling, &l, fault);
    if (status != CT_OK) return status;
    if (dp_line != 0) return ct_inlet_at(r, p_condenser - dp_line, l.h, inlet, fault);
    /* Nothing lost on the way: no search for the subcooling, which is known. */
    ct_inlet in = {.p = p_condenser, .h = l.h, .subcooling = subcooling};
    status = subcooled(r, T_bubble, l.rho, &in, fault);
    if (status == CT_OK) *inlet = in;
    return status;
}

ct_status ct_inlet_dp(const ct_inlet *in, double dp_distributor, double p_evaporator, double *dp,
                      ct_fault *fault)
{
    double left = in->p - dp_distributor - p_evaporator;
    if (!(left > 0 && isfinite(left)))
        return ct_fail(fault, CT_RANGE, left, 0, NAN,
                       "no pressure is left across the metering device: %.4g psia arrives, "
                       "distributor takes %.3g psi, evaporator is at %.4g psia",
                       psi(in->p), psi(dp_distributor), psi(p_evaporator));
    *dp = left;
    return CT_OK;
}
