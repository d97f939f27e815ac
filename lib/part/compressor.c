#include "part/compressor.h"

#include <math.h>

#include "base/units.h"

/* Dabiri & Rice 1981: share of the suction density change that reaches the cylinder. */
#define SUCTION_DENSITY_SHARE 0.75

/* Peak and width of the efficiency parabola, see ct_compressor_eta_shape, and the clearance in the
 * header. Read off the openly published AHRI 540 set of a 3 ton R-410A compressor (20 F superheat;
 * coefficients in tests/test_compressor.c): isentropic work over watts, and flow over suction
 * density, at 30 to 55 F by 90 to 130 F in steps of 5 F (pressure ratio 1.7 to 4.4). Least squares
 * of efficiency as a quadratic in ln(ratio) gives peak 0.719 at ratio 2.559, curvature 0.681; of
 * flow/density in ratio^(1/1.15) - 1, clearance 0.0492. The curves then follow the map to 1.7 % in
 * efficiency (0.5 % rms) and 1.8 % in volumetric efficiency. */
#define ETA_PEAK_RATIO 2.56
#define ETA_CURVATURE 0.68

double ct_compressor_ahri540(const double c[10], double S, double D)
{
    return c[0] + c[1] * S + c[2] * D + c[3] * S * S + c[4] * S * D + c[5] * D * D +
           c[6] * S * S * S + c[7] * D * S * S + c[8] * S * D * D + c[9] * D * D * D;
}

double ct_compressor_eta_v(double pressure_ratio)
{
    return 1.0 -
           CT_COMPRESSOR_CLEARANCE * (pow(pressure_ratio, 1.0 / CT_COMPRESSOR_REEXPANSION) - 1.0);
}

double ct_compressor_eta_shape(double pressure_ratio)
{
    double x = log(pressure_ratio / ETA_PEAK_RATIO);
    double shape = 1.0 - ETA_CURVATURE * x * x;

    return shape > 0.2 ? shape : 0.2;
}

ct_status ct_compressor_suction_liquid(const ct_refrigerant *r, double T_dew, ct_liquid *liquid,
                                       ct_fault *fault)
{
    double p, T_bubble = T_dew;
    ct_status status = CT_OK;

    if (ct_refrigerant_is_blend(r)) {
        status = ct_refrigerant_p_dew(r, T_dew, &p, fault);
        if (status == CT_OK) status = ct_refrigerant_T_bubble(r, p, &T_bubble, fault);
    }
    return status == CT_OK ? ct_refrigerant_liquid(r, T_bubble, 0.0, liquid, fault) : status;
}

/* Wet suction mixes liquid in at the same pressure, so that density and enthalpy run on without a
 * step when a coil floods. */
static ct_status wet_suction(const ct_refrigerant *r, const ct_vapor *g, ct_compressor_suction *s,
                             ct_fault *fault)
{
    ct_liquid liquid;
    double dryness;
    ct_status status = ct_compressor_suction_liquid(r, s->Te, &liquid, fault);

    if (status != CT_OK) return status;
    dryness = 1.0 + s->superheat * g->cp / (g->h - liquid.h);
    if (!(dryness > 0.3))
        return ct_fail(fault, CT_RANGE, dryness, 0.3, 1.0,
                       "suction quality %.2f: too wet for a compressor (0.3 to 1)", dryness);
    s->rho = 1.0 / (dryness / g->rho + (1.0 - dryness) / liquid.rho);
    s->h = g->h - (1.0 - dryness) * (g->h - liquid.h);
    return CT_OK;
}

/* The isentropic rise of a wet suction is that of the dry vapor at its pressure: the liquid boils
 * in the shell, not in the cylinder. */
ct_status ct_compressor_suction_at(const ct_compressor *c, const ct_refrigerant *r, double Te,
                                   double superheat, ct_compressor_suction *out, ct_fault *fault)
{
    ct_compressor_suction s = {.Te = Te, .superheat = superheat};
    ct_vapor now, ref;
    ct_status status = ct_refrigerant_p_dew(r, Te, &s.p, fault);

    if (status == CT_OK && !isfinite(superheat))
        status = ct_fail(fault, CT_RANGE, superheat, NAN, NAN,
                         "suction superheat %g K is not a number", superheat);
    if (status == CT_OK) status = ct_refrigerant_vapor(r, Te, c->superheat_ref, &ref, fault);
    if (status != CT_OK) return status;
    now = ref;
    if (superheat != c->superheat_ref)
        status = ct_refrigerant_vapor(r, Te, superheat > 0.0 ? superheat : 0.0, &now, fault);
    if (status != CT_OK) return status;
    s.rho_ref = ref.rho;
    s.h_ref = ref.h;
    s.s_ref = ref.s;
    s.rho = now.rho;
    s.h = s.h_v = now.h;
    s.s_v = now.s;
    if (superheat < 0.0) status = wet_suction(r, &now, &s, fault);
    if (status == CT_OK) *out = s;
    return status;
}

typedef struct {
    double m, P; /* kg/s and W at the reference superheat */
    double eta_v;
} reference_point;

static ct_status from_map(const ct_compressor *c, double Te, double Tc, reference_point *ref,
                          ct_fault *fault)
{
    double S = ct_F_from_K(Te), D = ct_F_from_K(Tc);

    ref->m = c->flow * ct_compressor_ahri540(c->map_m, S, D) * CT_KG_PER_LBM / 3600.0;
    ref->P = c->power * ct_compressor_ahri540(c->map_P, S, D);
    ref->eta_v = NAN;
    if (!(ref->m > 0.0) || !(ref->P > 0.0))
        return ct_fail(
            fault, CT_RANGE, Te, NAN, NAN,
            "the compressor map gives no flow or power at %.0f/%.0f F: outside its envelope", S, D);
    return CT_OK;
}

static ct_status from_displacement(const ct_compressor *c, double pressure_ratio, double rho_ref,
                                   double rise_ref, reference_point *ref, ct_fault *fault)
{
    ref->eta_v = ct_compressor_eta_v(pressure_ratio);
    if (!(ref->eta_v > 0.0))
        return ct_fail(fault, CT_RANGE, pressure_ratio, 1.0, NAN,
                       "pressure ratio %.1f: the clearance gas fills the cylinder, no flow",
                       pressure_ratio);
    ref->m = c->flow * ref->eta_v * rho_ref;
    ref->P = ref->m * rise_ref / (c->power * ct_compressor_eta_shape(pressure_ratio));
    return CT_OK;
}

ct_status ct_compressor_discharge(const ct_compressor *c, const ct_refrigerant *r,
                                  const ct_compressor_suction *s, double Tc, ct_compressor_out *out,
                                  ct_fault *fault)
{
    reference_point ref = {0};
    double p2, h2s, h2s_ref, superheat2, rise, rise_ref, flow_ratio;
    ct_status status = ct_refrigerant_p_dew(r, Tc, &p2, fault);

    if (status == CT_OK)
        status = ct_refrigerant_isentropic(r, Tc, s->s_ref, &h2s_ref, &superheat2, fault);
    if (status != CT_OK) return status;
    h2s = h2s_ref;
    if (s->s_v != s->s_ref)
        status = ct_refrigerant_isentropic(r, Tc, s->s_v, &h2s, &superheat2, fault);
    if (status != CT_OK) return status;
    rise = h2s - s->h_v;
    rise_ref = h2s_ref - s->h_ref;
    status = c->kind == CT_COMPRESSOR_MAP
                 ? from_map(c, s->Te, Tc, &ref, fault)
                 : from_displacement(c, p2 / s->p, s->rho_ref, rise_ref, &ref, fault);
    if (status != CT_OK) return status;

    flow_ratio = 1.0 + SUCTION_DENSITY_SHARE * (s->rho / s->rho_ref - 1.0);
    out->m = ref.m * flow_ratio;
    out->P = ref.P * flow_ratio * rise / rise_ref;
    out->h1 = s->h;
    out->rho1 = s->rho;
    out->h2 = s->h + out->P / out->m;
    out->h2s = h2s;
    out->dT_discharge = superheat2;
    out->eta = out->m * rise / out->P;
    out->eta_v = ref.eta_v;
    return CT_OK;
}

ct_status ct_compressor_run(const ct_compressor *c, const ct_refrigerant *r,
                            const ct_compressor_in *in, ct_compressor_out *out, ct_fault *fault)
{
    ct_compressor_suction s;
    ct_status status = ct_compressor_suction_at(c, r, in->Te, in->superheat, &s, fault);

    return status == CT_OK ? ct_compressor_discharge(c, r, &s, in->Tc, out, fault) : status;
}

/* Wet suction: quality from density (volumes add), then the superheat of the same enthalpy.
 */
static ct_status wetness_of(const ct_refrigerant *r, double Te, double rho, const ct_vapor *g,
                            ct_suction_found *found, ct_fault *fault)
{
    ct_liquid f;
    ct_status status = ct_compressor_suction_liquid(r, Te, &f, fault);
    if (status != CT_OK) return status;
    double dryness = (1.0 / rho - 1.0 / f.rho) / (1.0 / g->rho - 1.0 / f.rho);
    if (!(dryness > CT_SUCTION_DRYNESS_MIN)) {
        dryness = CT_SUCTION_DRYNESS_MIN;
        found->held = -1;
    }
    found->superheat = (dryness - 1.0) * (g->h - f.h) / g->cp;
    return CT_OK;
}

/* Vapor density falls smoothly with superheat, nearly as 1/T: Newton on 1/rho does in a few
 * rounds, with the slope of an ideal gas, and stays inside because it is held there. */
static ct_status warmth_of(const ct_refrigerant *r, double Te, double rho, ct_suction_found *found,
                           ct_fault *fault)
{
    double x = fmin(fmax(found->superheat, 0.0), CT_SUCTION_SUPERHEAT_MAX), x_last = x;
    double v_last = 0.0;
    for (int i = 0; i < 40; i++) {
        ct_vapor v;
        ct_status status = ct_refrigerant_vapor(r, Te, x, &v, fault);
        if (status != CT_OK) return status;
        double slope = x != x_last ? (1.0 / v.rho - v_last) / (x - x_last) : 1.0 / (v.rho * Te);
        double step = (1.0 / rho - 1.0 / v.rho) / slope;
        x_last = x;
        v_last = 1.0 / v.rho;
        x = fmin(fmax(x + step, 0.0), CT_SUCTION_SUPERHEAT_MAX);
        if (fabs(x - x_last) < 1e-11) break;
    }
    if (x >= CT_SUCTION_SUPERHEAT_MAX) found->held = 1;
    found->superheat = x;
    return CT_OK;
}

ct_status ct_compressor_superheat(const ct_compressor *c, const ct_refrigerant *r,
                                  const ct_compressor_suction *ref, const ct_suction_wanted *wanted,
                                  ct_suction_found *found, ct_fault *fault)
{
    ct_compressor_out at_ref;
    ct_vapor g;
    ct_status status = ct_compressor_discharge(c, r, ref, wanted->Tc, &at_ref, fault);
    if (status == CT_OK) status = ct_refrigerant_vapor(r, ref->Te, 0.0, &g, fault);
    if (status != CT_OK) return status;
    found->held = 0;
    double rho = at_ref.rho1 * (1.0 + (wanted->m / at_ref.m - 1.0) / SUCTION_DENSITY_SHARE);
    if (!(rho > 0.0)) {
        found->superheat = CT_SUCTION_SUPERHEAT_MAX;
        found->held = 1;
        return CT_OK;
    }
    return rho > g.rho ? wetness_of(r, ref->Te, rho, &g, found, fault)
                       : warmth_of(r, ref->Te, rho, found, fault);
}
