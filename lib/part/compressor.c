#include "part/compressor.h"

#include <math.h>

#include "base/units.h"

/* Dabiri & Rice 1981: share of the suction density change that reaches the cylinder. */
#define SUCTION_DENSITY_SHARE 0.75

/* Of the search for a superheat, K: a step whose square does not matter, and points far enough
 * apart for a slope. */
#define SUPERHEAT_STEP 1e-11
#define SUPERHEAT_APART 1e-7

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
static ct_status wet_suction(const ct_vapor *g, const ct_liquid *f, ct_compressor_suction *s,
                             ct_fault *fault)
{
    const double dryness = 1.0 + s->superheat * g->cp / (g->h - f->h);

    if (!(dryness > 0.3))
        return ct_fail(fault, CT_RANGE, dryness, 0.3, 1.0,
                       "suction quality %.2f: too wet for a compressor (0.3 to 1)", dryness);
    s->rho = 1.0 / (dryness / g->rho + (1.0 - dryness) / f->rho);
    s->h = g->h - (1.0 - dryness) * (g->h - f->h);
    return CT_OK;
}

/* The suction port at the superheat of *s: `v` goes into the cylinder; below 0, with liquid `f`. */
static ct_status at_port(const ct_vapor *v, const ct_liquid *f, ct_compressor_suction *s,
                         ct_fault *fault)
{
    s->rho = v->rho;
    s->h = s->h_v = v->h;
    s->s_v = v->s;
    return s->superheat < 0.0 ? wet_suction(v, f, s, fault) : CT_OK;
}

/* The isentropic rise of a wet suction is that of the dry vapor at its pressure: the liquid boils
 * in the shell, not in the cylinder. */
ct_status ct_compressor_suction_at(const ct_compressor *c, const ct_refrigerant *r, double Te,
                                   double superheat, ct_compressor_suction *out, ct_fault *fault)
{
    ct_compressor_suction s = {.Te = Te, .superheat = superheat};
    ct_vapor now, ref;
    ct_liquid liquid = {0};
    ct_status status = ct_refrigerant_p_dew(r, Te, &s.p, fault);

    if (status == CT_OK && !isfinite(superheat))
        status = ct_fail(fault, CT_RANGE, superheat, NAN, NAN,
                         "suction superheat %g K is not a number", superheat);
    if (status == CT_OK) status = ct_refrigerant_vapor(r, Te, c->superheat_ref, &ref, fault);
    if (status != CT_OK) return status;
    now = ref;
    if (superheat != c->superheat_ref)
        status = ct_refrigerant_vapor(r, Te, superheat > 0.0 ? superheat : 0.0, &now, fault);
    if (status == CT_OK && superheat < 0.0)
        status = ct_compressor_suction_liquid(r, Te, &liquid, fault);
    if (status != CT_OK) return status;
    s.rho_ref = ref.rho;
    s.h_ref = ref.h;
    s.s_ref = ref.s;
    status = at_port(&now, &liquid, &s, fault);
    if (status == CT_OK) *out = s;
    return status;
}

static ct_status from_map(const ct_compressor *c, double Te, double Tc,
                          ct_compressor_reference *ref, ct_fault *fault)
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
                                   double rise_ref, ct_compressor_reference *ref, ct_fault *fault)
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

ct_status ct_compressor_reference_at(const ct_compressor *c, const ct_refrigerant *r,
                                     const ct_compressor_suction *s, ct_compressor_reference *ref,
                                     ct_fault *fault)
{
    ct_status status = ct_refrigerant_isentropic(r, ref->Tc, s->s_ref, &ref->h2s, &ref->dT, fault);

    if (status != CT_OK) return status;
    return c->kind == CT_COMPRESSOR_MAP
               ? from_map(c, s->Te, ref->Tc, ref, fault)
               : from_displacement(c, ref->p / s->p, s->rho_ref, ref->h2s - s->h_ref, ref, fault);
}

ct_status ct_compressor_actual(const ct_refrigerant *r, const ct_compressor_suction *s,
                               const ct_compressor_reference *ref, ct_compressor_out *out,
                               ct_fault *fault)
{
    double h2s = ref->h2s, superheat2 = ref->dT, rise, flow_ratio;

    if (s->s_v != s->s_ref) {
        ct_status status = ct_refrigerant_isentropic(r, ref->Tc, s->s_v, &h2s, &superheat2, fault);
        if (status != CT_OK) return status;
    }
    rise = h2s - s->h_v;
    flow_ratio = 1.0 + SUCTION_DENSITY_SHARE * (s->rho / s->rho_ref - 1.0);
    out->m = ref->m * flow_ratio;
    out->P = ref->P * flow_ratio * rise / (ref->h2s - s->h_ref);
    out->h1 = s->h;
    out->rho1 = s->rho;
    out->h2 = s->h + out->P / out->m;
    out->h2s = h2s;
    out->dT_discharge = superheat2;
    out->eta = out->m * rise / out->P;
    out->eta_v = ref->eta_v;
    return CT_OK;
}

ct_status ct_compressor_discharge(const ct_compressor *c, const ct_refrigerant *r,
                                  const ct_compressor_suction *s, double Tc, ct_compressor_out *out,
                                  ct_fault *fault)
{
    ct_compressor_reference ref = {.Tc = Tc};
    ct_status status = ct_refrigerant_p_dew(r, Tc, &ref.p, fault);

    if (status == CT_OK) status = ct_compressor_reference_at(c, r, s, &ref, fault);
    return status == CT_OK ? ct_compressor_actual(r, s, &ref, out, fault) : status;
}

ct_status ct_compressor_run(const ct_compressor *c, const ct_refrigerant *r,
                            const ct_compressor_in *in, ct_compressor_out *out, ct_fault *fault)
{
    ct_compressor_suction s;
    ct_status status = ct_compressor_suction_at(c, r, in->Te, in->superheat, &s, fault);

    return status == CT_OK ? ct_compressor_discharge(c, r, &s, in->Tc, out, fault) : status;
}

/* Wet suction: quality from density (volumes add), then the superheat of the same enthalpy. */
static void wetness_of(double rho, const ct_vapor *g, const ct_liquid *f, ct_suction_found *found)
{
    double dryness = (1.0 / rho - 1.0 / f->rho) / (1.0 / g->rho - 1.0 / f->rho);

    if (!(dryness > CT_SUCTION_DRYNESS_MIN)) {
        dryness = CT_SUCTION_DRYNESS_MIN;
        found->held = -1;
    }
    found->superheat = (dryness - 1.0) * (g->h - f->h) / g->cp;
}

/* Vapor density falls smoothly with superheat, nearly as 1/T: secants on 1/rho do in a few rounds,
 * from the slope found last or that of an ideal gas, and stay inside because they are held there.
 * The last step is so short that the state there needs no look-up. */
static ct_status warmth_of(const ct_refrigerant *r, ct_suction_line *line, double rho,
                           ct_suction_found *found, ct_vapor *v, ct_fault *fault)
{
    double x = fmin(fmax(found->superheat, 0.0), CT_SUCTION_SUPERHEAT_MAX), x_last = x, step = 0.0;
    double volume_last = 0.0;

    for (int i = 0; i < 40; i++) {
        ct_status status = ct_refrigerant_vapor(r, line->ref.Te, x, v, fault);
        if (status != CT_OK) return status;
        const double volume = 1.0 / v->rho;
        if (fabs(x - x_last) > SUPERHEAT_APART)
            line->grows = (volume - volume_last) / ((x - x_last) * volume);
        if (!(line->grows > 0.0)) line->grows = 1.0 / line->ref.Te;
        volume_last = volume;
        x_last = x;
        x = fmin(fmax(x + (1.0 / rho - volume) / (line->grows * volume), 0.0),
                 CT_SUCTION_SUPERHEAT_MAX);
        step = x - x_last;
        if (fabs(step) < SUPERHEAT_STEP) break;
    }
    if (x >= CT_SUCTION_SUPERHEAT_MAX) found->held = 1;
    found->superheat = x;
    v->rho *= 1.0 - line->grows * step;
    v->h += v->cp * step;
    v->s += v->cp / (line->ref.Te + x) * step;
    return CT_OK;
}

ct_status ct_suction_line_at(const ct_compressor *c, const ct_refrigerant *r, double Te,
                             ct_suction_line *line, ct_fault *fault)
{
    ct_status status = ct_compressor_suction_at(c, r, Te, c->superheat_ref, &line->ref, fault);

    return status == CT_OK ? ct_refrigerant_vapor(r, Te, 0.0, &line->dry, fault) : status;
}

ct_status ct_suction_of_flow(const ct_refrigerant *r, ct_suction_line *line, double flow,
                             ct_suction_found *found, ct_compressor_suction *out, ct_fault *fault)
{
    const double rho = line->ref.rho * (1.0 + (flow - 1.0) / SUCTION_DENSITY_SHARE);
    ct_vapor v = line->dry;
    ct_liquid liquid = {0};
    ct_status status;

    found->held = 0;
    *out = line->ref;
    if (!(rho > 0.0)) {
        found->superheat = CT_SUCTION_SUPERHEAT_MAX;
        found->held = 1;
        status = ct_refrigerant_vapor(r, out->Te, found->superheat, &v, fault);
    } else if (rho > v.rho) {
        status = ct_compressor_suction_liquid(r, out->Te, &liquid, fault);
        if (status == CT_OK) wetness_of(rho, &v, &liquid, found);
    } else {
        status = warmth_of(r, line, rho, found, &v, fault);
    }
    out->superheat = found->superheat;
    return status == CT_OK ? at_port(&v, &liquid, out, fault) : status;
}

ct_status ct_compressor_superheat(const ct_compressor *c, const ct_refrigerant *r,
                                  const ct_compressor_suction *ref, const ct_suction_wanted *wanted,
                                  ct_suction_found *found, ct_fault *fault)
{
    ct_suction_line line = {.ref = *ref};
    ct_compressor_out at_ref;
    ct_compressor_suction s;
    ct_status status = ct_compressor_discharge(c, r, ref, wanted->Tc, &at_ref, fault);

    if (status == CT_OK) status = ct_refrigerant_vapor(r, ref->Te, 0.0, &line.dry, fault);
    return status == CT_OK ? ct_suction_of_flow(r, &line, wanted->m / at_ref.m, found, &s, fault)
                           : status;
}
