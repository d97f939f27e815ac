#include "part/valve.h"

#include <math.h>

#include "base/units.h"
#include "fluid/catalog.h"

static double psi(double p)
{
    return p / CT_PA_PER_PSI;
}

static ct_status within(double v, double low, double high, const char *what, ct_fault *fault)
{
    if (v >= low && v <= high) return CT_OK;
    return ct_fail(fault, CT_INPUT, v, low, high, "valve %s %.4g is outside %.4g to %.4g", what, v,
                   low, high);
}

static ct_status valve_spec_ok(const ct_valve_spec *v, const ct_refrigerant *r, ct_fault *fault)
{
    const char *name = ct_refrigerant_name(r);
    if (v->refrigerant && *v->refrigerant && !ct_catalog_lists(v->refrigerant, name))
        return ct_fault_say(fault, CT_INPUT,
                            "the valve is made for %.40s, the system holds %s; fit a valve for %s",
                            v->refrigerant, name, name);
    ct_status status = within(v->Q_rated, 100, 100e3, "rated capacity in W", fault);
    if (status == CT_OK)
        status = within(psi(v->dp_rated), 10, 500, "rated pressure drop in psi", fault);
    if (status == CT_OK)
        status = within(v->superheat * CT_F_PER_K, 1.8, 27, "superheat setting in F", fault);
    if (status == CT_OK) status = within(v->span * CT_F_PER_K, 1, 18, "superheat span in F", fault);
    if (status == CT_OK) status = within(v->reserve, 1.01, 2, "reserve", fault);
    if (status == CT_OK && v->span > v->superheat)
        status =
            ct_fail(fault, CT_INPUT, v->span, 0, v->superheat,
                    "a valve set to %.1f F superheat cannot open over %.1f F; give a smaller span",
                    v->superheat * CT_F_PER_K, v->span * CT_F_PER_K);
    return status;
}

static double or_default(double v, double fallback)
{
    return v == 0 ? fallback : v;
}

/* The quadratic gain 2A - A^2 is 1 wide open; the rated opening is where it is 1/reserve. */
static double opening_for(double gain)
{
    return 1 - sqrt(1 - gain);
}

ct_status ct_valve_make(const ct_valve_spec *spec, const ct_refrigerant *r, ct_valve *valve,
                        ct_fault *fault)
{
    ct_valve_spec v = *spec;
    v.T_evap_rated = or_default(v.T_evap_rated, ct_K_from_F(40));
    v.T_liquid_rated = or_default(v.T_liquid_rated, ct_K_from_F(100));
    v.span = or_default(v.span, 3);
    v.reserve = or_default(v.reserve, 1.15);
    ct_vapor g;
    ct_liquid l;
    ct_status status = valve_spec_ok(&v, r, fault);
    if (status == CT_OK) status = ct_refrigerant_vapor(r, v.T_evap_rated, 0, &g, fault);
    if (status == CT_OK) status = ct_refrigerant_liquid(r, v.T_liquid_rated, 0, &l, fault);
    if (status != CT_OK) return status;
    status = within(v.T_liquid_rated - v.T_evap_rated, 1, 100,
                    "rating: liquid above evaporator in K", fault);
    if (status != CT_OK) return status;
    double A_rated = opening_for(1 / v.reserve);
    *valve = (ct_valve){.C = v.Q_rated / (g.h - l.h) / sqrt(l.rho * v.dp_rated),
                        .SH_static = v.superheat - v.span,
                        .SH_open = v.span / A_rated,
                        .reserve = v.reserve};
    return CT_OK;
}

static ct_status drop_ok(double dp, ct_fault *fault)
{
    if (dp > 0 && isfinite(dp)) return CT_OK;
    return ct_fail(fault, CT_RANGE, dp, 0, NAN,
                   "pressure drop across the valve is %.3g psi; it must be positive", psi(dp));
}

/* Flow at the rated opening, here and now. */
static double valve_rated_flow(const ct_valve *v, const ct_inlet *in, double dp)
{
    return v->C * sqrt(in->rho * dp);
}

ct_status ct_valve_flow(const ct_valve *v, const ct_inlet *in, double dp, double superheat,
                        double *m, ct_fault *fault)
{
    ct_status status = drop_ok(dp, fault);
    if (status != CT_OK) return status;
    if (!isfinite(superheat))
        return ct_fail(fault, CT_INPUT, superheat, NAN, NAN, "superheat is not a number");
    double A = (superheat - v->SH_static) / v->SH_open;
    A = A < 0 ? 0 : A > 1 ? 1 : A; /* the pin's stops */
    *m = v->reserve * (2 * A - A * A) * valve_rated_flow(v, in, dp);
    return CT_OK;
}

ct_status ct_valve_meet(const ct_valve *v, const ct_inlet *in, double dp, double m,
                        ct_valve_out *out, ct_fault *fault)
{
    ct_status status = drop_ok(dp, fault);
    if (status != CT_OK) return status;
    if (!(m > 0 && isfinite(m)))
        return ct_fail(fault, CT_INPUT, m, 0, NAN, "the compressor's flow must be positive");
    double rated = valve_rated_flow(v, in, dp);
    ct_valve_out o = {.share = m / rated, .m_max = v->reserve * rated};
    bool starves = m > o.m_max;
    o.opening = starves ? 1 : opening_for(m / o.m_max);
    o.superheat = v->SH_static + o.opening * v->SH_open;
    o.state = starves                          ? CT_VALVE_STARVES
              : o.share < CT_VALVE_HUNTS_BELOW ? CT_VALVE_HUNTS
                                               : CT_VALVE_HOLDS;
    *out = o;
    return CT_OK;
}
