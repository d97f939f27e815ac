#include "part/coil.h"

#include <math.h>

#include "base/units.h"

/* Runge-Kutta steps over the wet stretch: at least WET_STEPS, and one per WET_NTU transfer units so
 * that a deep, slow coil stays well inside the method's stability. Their number depends on the
 * airflow only, so a balance never sees it change. */
#define WET_STEPS 4
#define WET_NTU 1.0
#define WET_STEPS_MAX 64

/* Third-order steps on a smooth monotone function from a neighbouring point: two do; the cap only
 * guards the loop. After a step of SURFACE_TOL (K) what is left is below 1e-10 K. */
#define SURFACE_ROUNDS 12
#define SURFACE_TOL 3e-4

/* d ln(d ln psat/dT)/dT times T, of water between 0 and 30 C: -2 from Clausius and Clapeyron, the
 * rest from the falling heat of vaporisation. It only speeds up the surface search. */
#define LN_SLOPE_FALL 2.27

double ct_coil_UAi(const ct_coil *coil, double m_r)
{
    return coil->UAi_ref * pow(m_r / coil->m_r_ref, coil->n_r);
}

static double surface_efficiency(const ct_coil *coil, double h, double cs_over_cp)
{
    return ct_surface_efficiency(&coil->areas, ct_fin_efficiency(&coil->geometry, h, cs_over_cp));
}

static ct_status air_coefficient(const ct_coil *coil, const ct_air *in, double m_da, double *h,
                                 bool *in_range, ct_fault *fault)
{
    double V = m_da * ct_air_v(in->T, in->W, in->p) / coil->geometry.face;
    ct_fin_air air = ct_finside_air(in->T, in->W, in->p, V);
    ct_finside_out fin;
    ct_status status;

    *in_range = true;
    if (!coil->has_geometry) {
        *h = coil->h_ref * pow(m_da / coil->m_air_ref, coil->n_air);
        return CT_OK;
    }
    status = ct_finside(&coil->geometry, &coil->areas, &air, &fin, fault);
    if (status != CT_OK) return status;
    *h = coil->h_scale * fin.h;
    *in_range = fin.in_range;
    return CT_OK;
}

static int wet_steps(double ntu)
{
    double wanted = ceil(ntu / WET_NTU);

    return wanted < WET_STEPS ? WET_STEPS : wanted > WET_STEPS_MAX ? WET_STEPS_MAX : (int)wanted;
}

/* The surface condenses over liquid also below freezing (see `surface`); the dew point that marks
 * its boundary must be of the same kind, or a dry piece would be taken for a wet one. */
static double dew_point_over_liquid(const ct_air *air, double T)
{
    double pv = air->W * air->p / (CT_AIR_EPS + air->W);

    for (int i = 0; i < 20; i++) {
        double p = ct_air_psat_liquid(T);
        double step = log(p / pv) * p / ct_air_psat_liquid_slope(T);
        T -= step;
        if (fabs(step) < 1e-10) break;
    }
    return T;
}

ct_status ct_coil_at_air(const ct_coil *coil, const ct_air *in, double m_da, ct_coil_air *out,
                         ct_fault *fault)
{
    ct_coil_air a = {.in = *in, .m_da = m_da};
    ct_status status;

    if (!(in->T >= 255.0 && in->T <= 330.0))
        return ct_fail(fault, CT_RANGE, in->T, 255.0, 330.0,
                       "air entering the coil at %.1f C: the coil model holds from -18 to 57 C",
                       in->T - 273.15);
    if (!(m_da >= 0.01 && m_da <= 10.0))
        return ct_fail(
            fault, CT_RANGE, m_da, 0.01, 10.0,
            "air flow of %.0f standard cfm through the coil: the coil model holds from 18 to 17600",
            m_da / CT_STD_DENSITY / CT_M3S_PER_CFM);
    status = ct_air_dew_point(in, &a.T_dp, fault);
    if (status == CT_OK) status = air_coefficient(coil, in, m_da, &a.h, &a.in_range, fault);
    if (status != CT_OK) return status;
    if (a.T_dp < CT_AIR_T_TRIPLE) a.T_dp = dew_point_over_liquid(in, a.T_dp);
    a.cp = ct_air_cp(in->W);
    a.h_in = ct_air_h(in->T, in->W);
    a.hA = a.h * coil->Ao;
    a.UAo_dry = a.hA * surface_efficiency(coil, a.h, 1.0);
    a.steps = wet_steps(a.UAo_dry / (m_da * a.cp));
    *out = a;
    return CT_OK;
}

/* What the local balance needs and does not change along the air path. The wet conductance falls as
 * the surface gets warmer (a steeper saturation line makes the fins less effective): a straight
 * line in the local surface temperature. */
typedef struct {
    double T_r, UAi, p, per_m;
    double UAo_mid, UAo_slope, T_mid;
} stretch;

static double outside(const stretch *s, double Ts)
{
    return s->UAo_mid + s->UAo_slope * (Ts - s->T_mid);
}

/* Local surface temperature, saturation there, by Halley's method from *Ts. The residual rises
 * steadily with Ts (air gives less, refrigerant takes more), so the steps cannot run away.
 * Saturation over liquid also below freezing: the ice branch has a kink there that would stall the
 * outer solvers, and frost is flagged by the limits anyway. */
static void surface(const stretch *s, double T, double W, double *Ts, double *Ws)
{
    double per_cp = 1.0 / ct_air_cp(W);

    for (int i = 0; i < SURFACE_ROUNDS; i++) {
        double dW_sat, W_sat = ct_air_W_sat_liquid(*Ts, s->p, &dW_sat);
        double UAo = outside(s, *Ts), excess = W - W_sat;
        double part = 1.0 + W_sat / CT_AIR_EPS, b = dW_sat / (W_sat * part);
        double bend_W = dW_sat * (b * (2.0 * part - 1.0) - LN_SLOPE_FALL / *Ts);
        double drive = T - *Ts, fall = 1.0, bend = 0.0; /* of the air side, and its slopes in Ts */
        double f, slope, step;
        if (excess > 0.0) {
            double lift = (CT_AIR_HG0 + CT_AIR_CPV * (T - 273.15) - ct_air_h_water(*Ts)) * per_cp;
            drive += excess * lift;
            fall += dW_sat * lift + excess * CT_AIR_CPW * per_cp;
            bend = bend_W * lift - 2.0 * dW_sat * CT_AIR_CPW * per_cp;
        }
        f = s->UAi * (*Ts - s->T_r) - UAo * drive;
        slope = s->UAi + UAo * fall - s->UAo_slope * drive;
        step = f / slope;
        step /= fmax(0.5, 1.0 - 0.5 * step * (UAo * bend + 2.0 * s->UAo_slope * fall) / slope);
        *Ts -= step;
        *Ws = W_sat - step * (dW_sat - 0.5 * step * bend_W);
        if (fabs(step) < SURFACE_TOL) return;
    }
}

typedef struct {
    double T, W, h_w; /* K, kg/kg, J of drained water per kg dry air */
} air_along;

static air_along rate(const stretch *s, const air_along *a, double *Ts)
{
    double Ws, ntu;
    air_along d;

    surface(s, a->T, a->W, Ts, &Ws);
    ntu = outside(s, *Ts) * s->per_m / ct_air_cp(a->W);
    d.T = -ntu * (a->T - *Ts);
    d.W = a->W > Ws ? -ntu * (a->W - Ws) : 0.0;
    d.h_w = -d.W * ct_air_h_water(*Ts);
    return d;
}

static air_along along(const air_along *a, const air_along *d, double x)
{
    return (air_along){a->T + x * d->T, a->W + x * d->W, a->h_w + x * d->h_w};
}

static void wet_step(const stretch *s, double dx, air_along *a, double *Ts)
{
    air_along k1 = rate(s, a, Ts);
    air_along mid = along(a, &k1, 0.5 * dx);
    air_along k2 = rate(s, &mid, Ts);
    mid = along(a, &k2, 0.5 * dx);
    air_along k3 = rate(s, &mid, Ts);
    air_along end = along(a, &k3, dx);
    air_along k4 = rate(s, &end, Ts);

    a->T += dx / 6.0 * (k1.T + 2.0 * k2.T + 2.0 * k3.T + k4.T);
    a->W += dx / 6.0 * (k1.W + 2.0 * k2.W + 2.0 * k3.W + k4.W);
    a->h_w += dx / 6.0 * (k1.h_w + 2.0 * k2.h_w + 2.0 * k3.h_w + k4.h_w);
}

/* Wet conductance with the slope of saturated-air enthalpy over cp at surface temperature T. */
static double wet_conductance(const ct_coil *coil, const ct_coil_air *a, double T)
{
    double dW;

    ct_air_W_sat_liquid(T, a->in.p, &dW);
    return a->hA * surface_efficiency(
                       coil, a->h,
                       1.0 + dW * (CT_AIR_HG0 + (CT_AIR_CPV - CT_AIR_CPW) * (T - 273.15)) / a->cp);
}

/* The line through two points inside the range a wet surface spans, tube to dew point. */
static stretch wet_surface(const ct_coil *coil, const ct_coil_air *a, double T_r, double UAi)
{
    double span = a->T_dp - T_r;
    double cold = wet_conductance(coil, a, T_r + 0.2 * span);
    double warm = wet_conductance(coil, a, T_r + 0.8 * span);

    return (stretch){.T_r = T_r,
                     .UAi = UAi,
                     .p = a->in.p,
                     .per_m = 1.0 / a->m_da,
                     .UAo_mid = 0.5 * (cold + warm),
                     .UAo_slope = (warm - cold) / (0.6 * span),
                     .T_mid = T_r + 0.5 * span};
}

/* Share of the air path over which the surface stays above the dew point, and the air there. */
static double dry_stretch(const ct_coil_air *a, double T_r, double UAi, double *T_end)
{
    double ntu = 1.0 / (1.0 / UAi + 1.0 / a->UAo_dry) / (a->m_da * a->cp);
    double T_x = a->T_dp + UAi / a->UAo_dry * (a->T_dp - T_r);
    double share = 1.0;

    if (T_x >= a->in.T)
        share = 0.0;
    else if (T_x > T_r)
        share = fmin(1.0, log((a->in.T - T_r) / (T_x - T_r)) / ntu);
    *T_end = T_r + (a->in.T - T_r) * exp(-ntu * share);
    return share;
}

static double dry_surface(const ct_coil_air *a, double T, double T_r, double UAi)
{
    return (a->UAo_dry * T + UAi * T_r) / (a->UAo_dry + UAi);
}

static void wet_stretch(const ct_coil *coil, const ct_coil_air *a, double T_r, double UAi,
                        double length, air_along *air, ct_coil_boiling *out)
{
    stretch s = wet_surface(coil, a, T_r, UAi);
    double Ws;

    if (length >= 1.0) {
        out->Ts_in = fmin(out->Ts_in, a->T_dp);
        surface(&s, air->T, air->W, &out->Ts_in, &Ws);
        out->Ts_out = out->Ts_in;
    }
    for (int i = 0; i < a->steps; i++)
        wet_step(&s, length / a->steps, air, &out->Ts_out);
    surface(&s, air->T, air->W, &out->Ts_out, &Ws);
}

void ct_coil_boil(const ct_coil *coil, const ct_coil_air *a, double T_r, double UAi,
                  ct_coil_boiling *out)
{
    air_along air = {a->in.T, a->in.W, 0.0};
    double T_end;

    *out = (ct_coil_boiling){.out = a->in, .dry_share = 1.0, .Ts_out = a->in.T, .Ts_in = a->in.T};
    if (!(T_r < a->in.T)) return;

    out->dry_share = dry_stretch(a, T_r, UAi, &T_end);
    air.T = T_end;
    out->Ts_in = dry_surface(a, a->in.T, T_r, UAi);
    out->Ts_out = dry_surface(a, T_end, T_r, UAi);
    if (out->dry_share < 1.0) wet_stretch(coil, a, T_r, UAi, 1.0 - out->dry_share, &air, out);
    out->out.T = air.T;
    out->out.W = air.W;
    out->water = a->in.W - air.W;
    out->h_water = air.h_w;
    out->Q_full = a->m_da * (a->h_in - ct_air_h(air.T, air.W) - air.h_w);
}

/* A vapour stream of capacity rate C_r runs along tubes that take a share dw of the face each; the
 * air over dw enters at Ta and leaves having given C_air dw (1 - exp(-NTU)) (Ta - T), NTU = U/C_air
 * the same for every part of the face. So C_r dT = C_air (1 - exp(-NTU)) (Ta - T) dw, which
 * integrates to the logarithm in the header. */
double ct_coil_superheat_share(const ct_coil *coil, const ct_coil_air *a, double T_r, double UAi,
                               double C_r, double superheat)
{
    double C_air = a->m_da * a->cp;
    double U = 1.0 / (1.0 / a->UAo_dry + 1.0 / (coil->vapour_ratio * UAi));

    if (superheat <= 0.0) return 0.0;
    if (!(T_r + superheat < a->in.T)) return INFINITY;
    return C_r * log((a->in.T - T_r) / (a->in.T - T_r - superheat)) / (C_air * -expm1(-U / C_air));
}

/* Mixed air past saturation drops its excess as water at its own temperature. Newton on T with the
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
            ct_air_cp(Ws) + dWs * (CT_AIR_HG0 - ct_air_h_water(T)) + (W0 - Ws) * CT_AIR_CPW;
        double step = f / slope;
        T -= step;
        if (fabs(step) < 1e-10) break;
    }
    air->T = T;
    air->W = ct_air_W_sat(T, air->p);
    *W_excess = W0 - air->W;
}

void ct_coil_mix(const ct_coil_air *a, const ct_coil_boiling *b, double w, double Q_superheat,
                 ct_coil_total *out)
{
    double h_boil = ct_air_h(b->out.T, b->out.W);
    double W = w * a->in.W + (1.0 - w) * b->out.W;
    double h = w * a->h_in - Q_superheat / a->m_da + (1.0 - w) * h_boil;
    double fog = 0.0;

    *out = (ct_coil_total){.out = {.W = W, .p = a->in.p}};
    out->out.T = 273.15 + (h - W * CT_AIR_HG0) / ct_air_cp(W);
    if (W > ct_air_W_sat(out->out.T, a->in.p)) {
        settle_fog(h, &out->out, &fog);
        out->fogged = true;
    }
    out->water = a->m_da * (a->in.W - out->out.W);
    out->h_water = a->m_da * ((1.0 - w) * b->h_water + fog * ct_air_h_water(out->out.T));
    out->Q = a->m_da * (a->h_in - ct_air_h(out->out.T, out->out.W)) - out->h_water;
    out->Q_sens = a->m_da * ct_air_cp(out->out.W) * (a->in.T - out->out.T);
    out->Q_lat = out->Q - out->Q_sens;
}
