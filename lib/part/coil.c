#include "part/coil.h"

#include <math.h>

#include "base/units.h"
#include "part/coil_wet.h"

/* Steps over the wet stretch: one per WET_NTU transfer units. Their number depends on the airflow
 * only, so a balance never sees it change. */
#define WET_NTU 2.0
#define WET_STEPS_LEAST 2
#define WET_STEPS_MAX 64

double ct_coil_UAi(const ct_coil *coil, double m_r)
{
    return coil->UAi_ref * pow(m_r / coil->m_r_ref, coil->n_r);
}

static ct_status air_coefficient(const ct_coil *coil, const ct_air *in, double m_da, double *film,
                                 bool *in_range, ct_fault *fault)
{
    double V = m_da * ct_air_v(in->T, in->W, in->p) / coil->geometry.face;
    ct_fin_air air = ct_finside_air(in->T, in->W, in->p, V);
    ct_finside_out fin;
    ct_status status;

    *in_range = true;
    if (!coil->has_geometry) {
        *film = coil->film_ref * pow(m_da / coil->m_air_ref, coil->n_air);
        return CT_OK;
    }
    status = ct_finside(&coil->geometry, &coil->areas, &air, &fin, fault);
    if (status != CT_OK) return status;
    *film = coil->film_scale * fin.film;
    *in_range = fin.in_range;
    return CT_OK;
}

static int wet_steps(double ntu)
{
    double wanted = ceil(ntu / WET_NTU);

    return wanted < WET_STEPS_LEAST ? WET_STEPS_LEAST
           : wanted > WET_STEPS_MAX ? WET_STEPS_MAX
                                    : (int)wanted;
}

static void make_fins(const ct_coil *coil, ct_coil_air *a)
{
    const ct_coil_geometry *g = &coil->geometry;
    ct_fin_shape shape = ct_finside_fin(g);

    a->fin_share = coil->areas.Af / coil->areas.Ao;
    a->metal = ct_fin_make(&shape, a->film, g->fin_k * g->fin_thick);
    a->UAo_dry = a->hA * (1.0 - a->fin_share * (1.0 - ct_fin_dry_efficiency(&a->metal)));
}

/* Air about whose dew point there is no question, and near which it is found. */
static bool is_ordinary(const ct_air *in)
{
    return in->W > 2e-3 && in->W < 0.03 && in->p > 6e4 && in->p < 1.1e5;
}

/* The surface condenses over liquid also below freezing: the ice branch has a kink that would stall
 * the outer solvers, and frost is flagged by the limits anyway. The dew point must be of the same
 * kind, and to the last digits, as the fins begin to be wet there. */
static ct_status dew_point(const ct_air *in, double *T_dp, ct_fault *fault)
{
    *T_dp = in->T;
    if (!is_ordinary(in)) {
        ct_status status = ct_air_dew_point(in, T_dp, fault);
        if (status != CT_OK) return status;
    }
    *T_dp = ct_fin_dew_point(in->W, in->p, *T_dp);
    if (!(*T_dp > CT_COIL_DEW_MAX)) return CT_OK;
    return ct_fail(fault, CT_RANGE, *T_dp, NAN, CT_COIL_DEW_MAX,
                   "air of %.0f F dew point enters the coil: the model holds to %.0f F",
                   ct_F_from_K(*T_dp), ct_F_from_K(CT_COIL_DEW_MAX));
}

ct_status ct_coil_at_air(const ct_coil *coil, const ct_air *in, double m_da, ct_coil_air *out,
                         ct_fault *fault)
{
    ct_coil_air a = {.in = *in, .m_da = m_da};
    ct_status status;

    if (!(in->T >= 255.0 && in->T <= 330.0))
        return ct_fail(fault, CT_RANGE, in->T, 255.0, 330.0,
                       "air entering the coil at %.1f F: the coil model holds from 0 to 134 F",
                       ct_F_from_K(in->T));
    if (!(m_da >= 0.01 && m_da <= 10.0))
        return ct_fail(
            fault, CT_RANGE, m_da, 0.01, 10.0,
            "air flow of %.0f standard cfm through the coil: the coil model holds from 18 to 17600",
            m_da / CT_STD_DENSITY / CT_M3S_PER_CFM);
    status = dew_point(in, &a.T_dp, fault);
    if (status == CT_OK) status = air_coefficient(coil, in, m_da, &a.film, &a.in_range, fault);
    if (status != CT_OK) return status;
    a.cp = ct_moist_cp(in->W);
    a.h_in = ct_air_h(in->T, in->W);
    a.hA = a.film * coil->Ao;
    make_fins(coil, &a);
    a.steps = wet_steps(a.hA / (m_da * a.cp));
    *out = a;
    return CT_OK;
}

/* Over tubes at T_r of conductance UAi, as the search for its tip begins. */
static ct_coil_surface surface_of(const ct_coil_air *a, double T_r, double UAi)
{
    double dW;

    return (ct_coil_surface){.metal = &a->metal,
                             .p = a->in.p,
                             .cp = a->cp,
                             .fin_share = a->fin_share,
                             .worth = a->UAo_dry / a->hA,
                             .T_r = T_r,
                             .ratio = UAi / a->hA,
                             .W_r = ct_moist_W_sat(T_r, a->in.p, &dW),
                             .tip = NAN,
                             .T_dp = a->T_dp};
}

/* ---- Boiling --------------------------------------------------------------------- */

/* Base temperature of a dry surface. */
static double dry_base(const ct_coil_air *a, double T, double T_r, double UAi)
{
    return (a->UAo_dry * T + UAi * T_r) / (a->UAo_dry + UAi);
}

/* Area over which fin bases stay above the dew point, up to `area`, and the air after it. */
static double dry_stretch(const ct_coil_air *a, const ct_coil_tubes *t, double area, double T_dp,
                          ct_coil_along *at)
{
    double ntu = 1.0 / (1.0 / t->UAi + 1.0 / a->UAo_dry) / (a->m_da * ct_moist_cp(at->W));
    double T_x = T_dp + t->UAi / a->UAo_dry * (T_dp - t->T_boil), dry = area;

    if (T_x >= at->T)
        dry = 0.0;
    else if (T_x > t->T_boil)
        dry = fmin(area, log((at->T - t->T_boil) / (T_x - t->T_boil)) / ntu);
    at->T = t->T_boil + (at->T - t->T_boil) * exp(-ntu * dry);
    return dry;
}

static void wet_stretch(const ct_coil_air *a, const ct_coil_tubes *t, double area, double T_dp,
                        ct_coil_along *at, ct_coil_through *out)
{
    const ct_coil_wet_way way = {
        .area = area, .steps = a->steps, .hA = a->hA, .m_da = a->m_da, .T_dp = T_dp};
    ct_coil_surface s = surface_of(a, t->T_boil, t->UAi);
    const ct_coil_wet_base base = ct_coil_wet_cross(&s, &way, at);

    out->Ts_in = fmin(out->Ts_in, base.first);
    out->Ts_out = base.last;
}

static void boil(const ct_coil_air *a, const ct_coil_tubes *t, double area, ct_coil_along *at,
                 ct_coil_through *out)
{
    double dry, T_dp = at->W < a->in.W ? ct_fin_dew_point(at->W, a->in.p, a->T_dp) : a->T_dp;

    out->Ts_in = out->Ts_out = at->T;
    if (!(t->T_boil < at->T)) {
        out->dry_share += area;
        return;
    }
    out->Ts_in = dry_base(a, at->T, t->T_boil, t->UAi);
    dry = dry_stretch(a, t, area, T_dp, at);
    out->dry_share += dry;
    out->Ts_out = dry_base(a, at->T, t->T_boil, t->UAi);
    if (dry < area) wet_stretch(a, t, area - dry, T_dp, at, out);
}

/* ---- Superheating ---------------------------------------------------------------- */

/* log(1 + x)/x */
static double log_over(double x)
{
    return fabs(x) < 1e-5 ? 1.0 - 0.5 * x : log1p(x) / x;
}

/* Area that warms the vapor by dT_r to T_hot, against air that enters at at->T, dry: Q over U and
 * the log-mean difference. INFINITY where the vapor meets the air. */
static double dry_vapor(const ct_coil_air *a, const ct_coil_tubes *t, double U, double T_hot,
                        double dT_r, ct_coil_along *at)
{
    double Q = t->C_r * dT_r, T_out = at->T - Q / (a->m_da * a->cp);
    double hot = at->T - T_hot, cold = T_out - (T_hot - dT_r);

    if (!(hot > 0.0 && cold > 0.0)) return INFINITY;
    at->T = T_out;
    return Q / (U * hot) * log_over(cold / hot - 1.0);
}

/* Total drive with vapor at T_r; what the air loses per J/kg of it comes through *d. */
static double vapor_contact(const ct_coil_air *a, double T_r, double UAi, const ct_coil_along *at,
                            ct_coil_along *d)
{
    ct_coil_surface s = surface_of(a, T_r, UAi);
    double per;
    ct_coil_contact c;

    ct_coil_settle(&s, at, at->W < a->in.W ? ct_fin_dew_point(at->W, a->in.p, a->T_dp) : a->T_dp,
                   &c);
    per = 1.0 / (ct_moist_cp(at->W) * c.total);
    d->T = -c.sensible * per;
    const double h_water = ct_coil_drained(&c);
    d->W = -ct_coil_vapor_taken(at, c.total - c.sensible, h_water) * per;
    d->h_w = -d->W * h_water;
    return c.total;
}

static ct_coil_along on(const ct_coil_along *a, const ct_coil_along *d, double x)
{
    return (ct_coil_along){a->T + x * d->T, a->W + x * d->W, a->h_w + x * d->h_w};
}

/* Where it condenses, from T_hot down by dT_r. The drive falls nearly straight with the heat, so
 * its log mean serves as it does for the dry part; what the air loses per heat by the trapezoid. */
static double wet_vapor(const ct_coil_air *a, const ct_coil_tubes *t, double UAi, double T_hot,
                        double dT_r, ct_coil_along *air)
{
    double q = t->C_r * dT_r / a->m_da, hot, cold;
    ct_coil_along d0, d1, end;

    hot = vapor_contact(a, T_hot, UAi, air, &d0);
    end = on(air, &d0, q);
    if (!(hot > 0.0 && end.T > T_hot - dT_r)) return INFINITY;
    cold = vapor_contact(a, T_hot - dT_r, UAi, &end, &d1);
    if (!(cold > 0.0)) return INFINITY;
    *air = on(air, &d0, 0.5 * q);
    *air = on(air, &d1, 0.5 * q);
    return q * a->m_da / (a->hA * hot) * log_over(cold / hot - 1.0);
}

/* Share of the superheat, from the hot end, made before fin bases meet the dew point. They cool
 * along a straight line in the vapor's temperature, as the air does. */
static double dry_part(const ct_coil_air *a, const ct_coil_tubes *t, double UAi)
{
    double T_out = a->in.T - t->C_r * t->superheat / (a->m_da * a->cp);
    double hot = dry_base(a, a->in.T, t->T_dew + t->superheat, UAi);
    double cold = dry_base(a, T_out, t->T_dew, UAi);

    return cold >= a->T_dp ? 1.0 : hot <= a->T_dp ? 0.0 : (hot - a->T_dp) / (hot - cold);
}

static double superheat(const ct_coil *coil, const ct_coil_air *a, const ct_coil_tubes *t,
                        ct_coil_along *at, double *dry)
{
    double UAi = coil->vapor_ratio * t->UAi, U = 1.0 / (1.0 / a->UAo_dry + 1.0 / UAi);
    double T_hot = t->T_dew + t->superheat, part, wet = 0.0;

    *dry = 0.0;
    if (!(t->superheat > 0.0)) return 0.0;
    if (!(T_hot < a->in.T)) return INFINITY;
    part = dry_part(a, t, UAi);
    *dry = dry_vapor(a, t, U, T_hot, part * t->superheat, at);
    if (part < 1.0 && *dry < 1.0)
        wet = wet_vapor(a, t, UAi, T_hot - part * t->superheat, (1.0 - part) * t->superheat, at);
    return *dry + wet;
}

/* ---- The whole coil -------------------------------------------------------------- */

void ct_coil_run(const ct_coil *coil, const ct_coil_air *a, const ct_coil_tubes *t,
                 ct_coil_through *out)
{
    ct_coil_along at = {a->in.T, a->in.W, 0.0};

    *out = (ct_coil_through){.out = a->in};
    out->superheat_area = superheat(coil, a, t, &at, &out->dry_share);
    if (!(out->superheat_area < 1.0)) return;
    out->T_at_boil = at.T;
    out->vapor_wet = at.W < a->in.W;
    boil(a, t, 1.0 - out->superheat_area, &at, out);
    out->out.T = at.T;
    out->out.W = at.W;
    out->water = a->in.W - at.W;
    out->h_water = at.h_w;
    out->Q = a->m_da * (a->h_in - ct_air_h(at.T, at.W) - at.h_w);
    out->Q_boil = out->Q - t->C_r * fmax(0.0, t->superheat);
}

/* Air past saturation drops its excess as water at its own temperature. Newton on T with the
 * enthalpy of air and water kept. */
static void settle_fog(double h_total, ct_air *air, double *W_excess)
{
    double W0 = air->W;
    double T = air->T;

    for (int i = 0; i < 20; i++) {
        double Ws = ct_air_W_sat(T, air->p);
        double p_w = ct_air_psat(T);
        double rest = air->p - p_w;
        double dWs = CT_AIR_EPS * air->p / (rest * rest) * ct_air_psat_slope(T);
        double f = ct_air_h(T, Ws) + (W0 - Ws) * ct_air_h_water(T) - h_total;
        double slope =
            ct_moist_cp(Ws) + dWs * (CT_AIR_HG0 - ct_air_h_water(T)) + (W0 - Ws) * CT_AIR_CPW;
        double step = f / slope;
        T -= step;
        if (fabs(step) < 1e-10) break;
    }
    air->T = T;
    air->W = ct_air_W_sat(T, air->p);
    *W_excess = W0 - air->W;
}

void ct_coil_leave(const ct_coil_air *a, const ct_coil_through *b, ct_coil_total *out)
{
    double fog = 0.0;

    *out = (ct_coil_total){.out = b->out};
    if (b->out.W > ct_air_W_sat(b->out.T, a->in.p)) {
        settle_fog(ct_air_h(b->out.T, b->out.W), &out->out, &fog);
        out->fogged = true;
    }
    out->water = a->m_da * (a->in.W - out->out.W);
    out->h_water = a->m_da * (b->h_water + fog * ct_air_h_water(out->out.T));
    out->Q = a->m_da * (a->h_in - ct_air_h(out->out.T, out->out.W)) - out->h_water;
    out->Q_sens = a->m_da * ct_moist_cp(out->out.W) * (a->in.T - out->out.T);
    out->Q_lat = out->Q - out->Q_sens;
}
