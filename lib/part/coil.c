#include "part/coil.h"

#include <math.h>

#include "base/units.h"

/* Steps over the wet stretch: one per WET_NTU transfer units. Their number depends
 * on the airflow only, so a balance never sees it change. */
#define WET_NTU 1.5
#define WET_STEPS_MAX 64
#define VAPOR_STEPS 2 /* where superheated tubes condense */

/* Where a search begins without a neighbor it may take SETTLE_ROUNDS secants and leaves at
 * SETTLE_TOL (K). Along the path STAGE_ROUNDS from the neighbor do: what is left, 1e-5 K, is the
 * same smooth function of everything every time, so no solver sees it. */
#define SETTLE_ROUNDS 60
#define SETTLE_TOL 1e-7
#define STAGE_ROUNDS 2
#define SECANT_LEAST 1e-9 /* K, a shorter step tells nothing about the slope */

double ct_coil_UAi(const ct_coil *coil, double m_r)
{
    return coil->UAi_ref * pow(m_r / coil->m_r_ref, coil->n_r);
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

    return wanted < 1.0 ? 1 : wanted > WET_STEPS_MAX ? WET_STEPS_MAX : (int)wanted;
}

static void make_fins(const ct_coil *coil, ct_coil_air *a)
{
    const ct_coil_geometry *g = &coil->geometry;
    ct_fin_shape shape = ct_finside_fin(g);

    a->fin_share = coil->areas.Af / coil->areas.Ao;
    a->metal = ct_fin_make(&shape, a->h, g->fin_k * g->fin_thick);
    a->UAo_dry = a->hA * (1.0 - a->fin_share * (1.0 - ct_fin_dry_efficiency(&a->metal)));
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
    /* The surface condenses over liquid also below freezing: the ice branch has a kink that would
     * stall the outer solvers, and frost is flagged by the limits anyway. The dew point must be of
     * the same kind. */
    if (a.T_dp < CT_AIR_T_TRIPLE) a.T_dp = ct_fin_dew_point(in->W, in->p, a.T_dp);
    a.cp = ct_air_cp(in->W);
    a.h_in = ct_air_h(in->T, in->W);
    a.hA = a.h * coil->Ao;
    make_fins(coil, &a);
    a.steps = wet_steps(a.hA / (m_da * a.cp));
    *out = a;
    return CT_OK;
}

typedef struct {
    double T, W, h_w; /* K, kg/kg, J of drained water per kg dry air */
} air_along;

/* ---- The local surface ----------------------------------------------------------- */

/* Base temperature and what the surface takes, as drives in K, at one trial of the fin's tip; `f`
 * is what the tubes would take over hA less the drive, and rises with the tip. */
typedef struct {
    double f, T_base, total, sensible, T_wet;
} contact;

/* The search for the tip, carried along the air path. `drive` is the air's enthalpy over cp; where
 * it falls to drive_end the air is in balance with the tubes and the tip as cold as they. */
typedef struct {
    const ct_coil_air *a;
    double T_r, ratio; /* K; UAi over hA */
    double tip, drive, drive_end;
    contact slope; /* per K of tip */
} surface;

static contact touch(const surface *s, const ct_fin_around *air, double tip)
{
    double fins = s->a->fin_share;
    ct_fin_taken taken;
    contact c;

    ct_fin_from_tip(&s->a->metal, air, tip, &taken);
    c.T_base = taken.T_base;
    c.T_wet = taken.T_wet;
    c.total = (1.0 - fins) * taken.total_base + fins * taken.total;
    c.sensible = (1.0 - fins) * (air->T - taken.T_base) + fins * taken.sensible;
    c.f = s->ratio * (c.T_base - s->T_r) - c.total;
    return c;
}

static contact onward(const contact *c, double step, const contact *slope)
{
    return (contact){c->f + step * slope->f, c->T_base + step * slope->T_base,
                     c->total + step * slope->total, c->sensible + step * slope->sensible,
                     c->T_wet + step * slope->T_wet};
}

static void secant(const contact *c0, const contact *c1, double step, contact *slope)
{
    double per = 1.0 / step;

    if (!(fabs(step) > SECANT_LEAST)) return;
    *slope = (contact){(c1->f - c0->f) * per, (c1->T_base - c0->T_base) * per,
                       (c1->total - c0->total) * per, (c1->sensible - c0->sensible) * per,
                       (c1->T_wet - c0->T_wet) * per};
}

/* Vapor comes as it is in the air and leaves as water at the metal's temperature. */
static ct_fin_around around(const ct_coil_air *a, double T, double W)
{
    return (ct_fin_around){.T = T,
                           .W = W,
                           .p = a->in.p,
                           .cp = ct_air_cp(W),
                           .lift = CT_AIR_HG0 + CT_AIR_CPV * (T - 273.15),
                           .lift_slope = -CT_AIR_CPW};
}

static double enthalpy_drive(double T, double W)
{
    return T + W * (CT_AIR_HG0 / CT_AIR_CPA);
}

static surface surface_of(const ct_coil_air *a, double T_r, double UAi)
{
    double dW;

    return (surface){.a = a,
                     .T_r = T_r,
                     .ratio = UAi / a->hA,
                     .tip = NAN,
                     .drive_end = enthalpy_drive(T_r, ct_air_W_sat_liquid(T_r, a->in.p, &dW))};
}

/* Without a neighbor: secants from `tip`, kept between tubes and air. */
static void settle(surface *s, const air_along *at, double tip, contact *out)
{
    ct_fin_around air = around(s->a, at->T, at->W);
    double low = s->T_r, high = at->T, last = tip - 0.02 * (tip - s->T_r) - 1e-3;
    double step = 0.0;
    contact before = touch(s, &air, last), c = before;

    for (int i = 0; i < SETTLE_ROUNDS; i++) {
        c = touch(s, &air, tip);
        secant(&before, &c, tip - last, &s->slope);
        if (c.f > 0.0)
            high = tip;
        else
            low = tip;
        last = tip;
        before = c;
        step = -c.f / s->slope.f;
        if (fabs(step) < SETTLE_TOL || !(high - low > SETTLE_TOL)) break;
        tip += step;
        if (!(tip >= low && tip <= high)) tip = 0.5 * (low + high);
    }
    *out = onward(&c, step, &s->slope);
    /* The slope the path goes on with must not depend on how the search came here. */
    s->tip = last + step;
    step = -0.02 * (s->tip - s->T_r) - 1e-3;
    c = touch(s, &air, s->tip + step);
    secant(out, &c, step, &s->slope);
    s->drive = enthalpy_drive(at->T, at->W);
}

/* From the neighbor: the tip's way to the tubes shrinks as the air's does. */
static void settle_on(surface *s, const air_along *at, contact *out)
{
    ct_fin_around air = around(s->a, at->T, at->W);
    double drive = enthalpy_drive(at->T, at->W), step;
    contact c;

    s->tip = s->T_r + (s->tip - s->T_r) * (drive - s->drive_end) / (s->drive - s->drive_end);
    s->drive = drive;
    c = touch(s, &air, s->tip);
    for (int i = 1; i < STAGE_ROUNDS; i++) {
        contact next;
        step = -c.f / s->slope.f;
        next = touch(s, &air, s->tip + step);
        secant(&c, &next, step, &s->slope);
        s->tip += step;
        c = next;
    }
    step = -c.f / s->slope.f;
    s->tip += step;
    *out = onward(&c, step, &s->slope);
}

/* ---- The wet stretch ------------------------------------------------------------- */

static air_along rate(const surface *s, const air_along *at, const contact *c)
{
    double T_w = 0.5 * (c->T_base + c->T_wet), cp = ct_air_cp(at->W);
    double ntu = s->a->hA / (s->a->m_da * cp), water = ct_air_h_water(T_w);
    double lift = CT_AIR_HG0 + CT_AIR_CPV * (at->T - 273.15) - water;
    air_along d = {-ntu * c->sensible, -ntu * cp * (c->total - c->sensible) / lift, 0.0};

    d.h_w = -d.W * water;
    return d;
}

static air_along along(const air_along *a, const air_along *d, double x)
{
    return (air_along){a->T + x * d->T, a->W + x * d->W, a->h_w + x * d->h_w};
}

/* Weights of one step of Cox & Matthews 2002, eqs. 26 to 29, u' = c u + F(u), z = c dx: from
 * phi_1 = (e^z - 1)/z, phi_2 = (phi_1 - 1)/z, phi_3 = (phi_2 - 1/2)/z. */
typedef struct {
    double n, dx; /* n = -c */
    double half, phi_half, whole, f1, f2, f3;
} exponential;

/* phi_3, by its series where the quotients would cancel. */
static double third_phi(double z)
{
    double sum = 0.0, term = 1.0 / 6.0;

    if (z < -1.0) return (((exp(z) - 1.0) / z - 1.0) / z - 0.5) / z;
    for (int k = 4; k < 20; k++) {
        sum += term;
        term *= z / k;
    }
    return sum;
}

static exponential weights(double n, double dx)
{
    double z = -n * dx, p3 = third_phi(z), p2 = 0.5 + z * p3, p1 = 1.0 + z * p2;
    exponential e = {.n = n, .dx = dx, .half = exp(0.5 * z), .whole = 1.0 + z * p1};

    e.phi_half = z < -1e-3 ? 0.5 * dx * (e.half - 1.0) / (0.5 * z)
                           : 0.5 * dx * (1.0 + 0.25 * z + z * z / 24.0);
    e.f1 = dx * (p1 - 3.0 * p2 + 4.0 * p3);
    e.f2 = dx * (p2 - 2.0 * p3);
    e.f3 = dx * (4.0 * p3 - p2);
    return e;
}

/* Any value serves; the nearer to the rates of decay the smaller what is left. The air nears a fixed
 * surface at N, surface and air near the tubes together at N times the share of the way to the
 * tubes that lies on the air's side: half way between. */
static double linear_part(const surface *s, const air_along *at, const contact *c)
{
    double N = s->a->hA / (s->a->m_da * ct_air_cp(at->W));

    return N * (0.5 + 0.5 * fmin(1.0, c->total / (s->drive - s->drive_end)));
}

/* F: what the rate has beside its linear part. The water's enthalpy has none. */
static air_along rest(const surface *s, const exponential *e, const air_along *at, const contact *c)
{
    air_along d = rate(s, at, c);

    d.T += e->n * at->T;
    d.W += e->n * at->W;
    return d;
}

static air_along half_way(const exponential *e, const air_along *u, const air_along *F)
{
    return (air_along){e->half * u->T + e->phi_half * F->T, e->half * u->W + e->phi_half * F->W,
                       0.0};
}

/* *c is the contact at *at, before and after. */
static void wet_step(surface *s, const exponential *e, air_along *at, contact *c)
{
    air_along F0 = rest(s, e, at, c), a = half_way(e, at, &F0), twice, Fa, Fb, Fc, b, end;

    settle_on(s, &a, c);
    Fa = rest(s, e, &a, c);
    b = half_way(e, at, &Fa);
    settle_on(s, &b, c);
    Fb = rest(s, e, &b, c);
    twice = (air_along){2.0 * Fb.T - F0.T, 2.0 * Fb.W - F0.W, 0.0};
    end = half_way(e, &a, &twice);
    settle_on(s, &end, c);
    Fc = rest(s, e, &end, c);
    at->T = e->whole * at->T + e->f1 * F0.T + 2.0 * e->f2 * (Fa.T + Fb.T) + e->f3 * Fc.T;
    at->W = e->whole * at->W + e->f1 * F0.W + 2.0 * e->f2 * (Fa.W + Fb.W) + e->f3 * Fc.W;
    at->h_w += e->dx / 6.0 * (F0.h_w + 2.0 * (Fa.h_w + Fb.h_w) + Fc.h_w);
    settle_on(s, at, c);
}

/* Where the search for the tip begins, T_base being the base of a dry surface. Wet: base from the
 * straight line through saturation at the tubes, tip from the base as on a dry fin with the slope
 * of the line for one. A few tenths of a kelvin off. */
static double first_tip(const ct_coil_air *a, const air_along *at, const surface *s, double T_dp,
                        double T_base)
{
    double lift = CT_AIR_HG0 / a->cp, dW, W = ct_air_W_sat_liquid(s->T_r, a->in.p, &dW);
    double phi = at->T - s->T_r + (at->W - W) * lift, worth = a->UAo_dry / a->hA;
    double slope, wet;

    if (T_base >= T_dp) return at->T - (at->T - T_base) / a->metal.dry_base;
    slope = 1.0 + 1.2 * dW * lift;
    worth = 1.0 / (1.0 + (1.0 / worth - 1.0) * slope);
    wet = 1.0 / (1.0 + (a->metal.dry_base - 1.0) * slope);
    T_base = s->T_r + phi * worth / (s->ratio + slope * worth);
    return T_base + (phi / slope - (T_base - s->T_r)) * (1.0 - wet);
}

/* ---- Boiling --------------------------------------------------------------------- */

static double dry_surface(const ct_coil_air *a, double T, double T_r, double UAi)
{
    return (a->UAo_dry * T + UAi * T_r) / (a->UAo_dry + UAi);
}

/* Area over which fin bases stay above the dew point, up to `area`, and the air after it. */
static double dry_stretch(const ct_coil_air *a, const ct_coil_tubes *t, double area, double T_dp,
                          air_along *at)
{
    double ntu = 1.0 / (1.0 / t->UAi + 1.0 / a->UAo_dry) / (a->m_da * ct_air_cp(at->W));
    double T_x = T_dp + t->UAi / a->UAo_dry * (T_dp - t->T_boil), dry = area;

    if (T_x >= at->T)
        dry = 0.0;
    else if (T_x > t->T_boil)
        dry = fmin(area, log((at->T - t->T_boil) / (T_x - t->T_boil)) / ntu);
    at->T = t->T_boil + (at->T - t->T_boil) * exp(-ntu * dry);
    return dry;
}

static void wet_stretch(const ct_coil_air *a, const ct_coil_tubes *t, double area, double T_dp,
                        air_along *at, ct_coil_through *out)
{
    surface s = surface_of(a, t->T_boil, t->UAi);
    double base = dry_surface(a, at->T, t->T_boil, t->UAi);
    exponential e;
    contact c;

    settle(&s, at, first_tip(a, at, &s, T_dp, base), &c);
    e = weights(linear_part(&s, at, &c), area / a->steps);
    out->Ts_in = fmin(out->Ts_in, c.T_base);
    for (int i = 0; i < a->steps; i++)
        wet_step(&s, &e, at, &c);
    out->Ts_out = c.T_base;
}

static void boil(const ct_coil_air *a, const ct_coil_tubes *t, double area, air_along *at,
                 ct_coil_through *out)
{
    double dry, T_dp = at->W < a->in.W ? ct_fin_dew_point(at->W, a->in.p, a->T_dp) : a->T_dp;

    out->Ts_in = out->Ts_out = at->T;
    if (!(t->T_boil < at->T)) {
        out->dry_share += area;
        return;
    }
    out->Ts_in = dry_surface(a, at->T, t->T_boil, t->UAi);
    dry = dry_stretch(a, t, area, T_dp, at);
    out->dry_share += dry;
    out->Ts_out = dry_surface(a, at->T, t->T_boil, t->UAi);
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
                        double dT_r, air_along *at)
{
    double Q = t->C_r * dT_r, T_out = at->T - Q / (a->m_da * a->cp);
    double hot = at->T - T_hot, cold = T_out - (T_hot - dT_r);

    if (!(hot > 0.0 && cold > 0.0)) return INFINITY;
    at->T = T_out;
    return Q / (U * hot) * log_over(cold / hot - 1.0);
}

typedef struct {
    double area;
    air_along air;
} vapor_along;

/* Per K the vapor cools on its way against the air. */
static vapor_along vapor_rate(const ct_coil_air *a, const ct_coil_tubes *t, double UAi, double T_r,
                              const vapor_along *at)
{
    surface s = surface_of(a, T_r, UAi);
    air_along d;
    vapor_along r;
    contact c;

    settle(&s, &at->air, first_tip(a, &at->air, &s, a->T_dp, dry_surface(a, at->air.T, T_r, UAi)),
           &c);
    d = rate(&s, &at->air, &c);
    r.area = t->C_r / (a->hA * c.total);
    r.air = (air_along){r.area * d.T, r.area * d.W, r.area * d.h_w};
    return r;
}

static vapor_along vapor_on(const vapor_along *v, double x, const vapor_along *d)
{
    return (vapor_along){v->area + x * d->area, along(&v->air, &d->air, x)};
}

/* Where it condenses: fourth-order Runge-Kutta along the vapor's temperature, from T_hot down by
 * dT_r. */
static double wet_vapor(const ct_coil_air *a, const ct_coil_tubes *t, double UAi, double T_hot,
                        double dT_r, air_along *air)
{
    vapor_along v = {0.0, *air};
    double dx = dT_r / VAPOR_STEPS;

    for (int i = 0; i < VAPOR_STEPS; i++, T_hot -= dx) {
        vapor_along k1 = vapor_rate(a, t, UAi, T_hot, &v), at = vapor_on(&v, 0.5 * dx, &k1);
        vapor_along k2 = vapor_rate(a, t, UAi, T_hot - 0.5 * dx, &at);
        at = vapor_on(&v, 0.5 * dx, &k2);
        vapor_along k3 = vapor_rate(a, t, UAi, T_hot - 0.5 * dx, &at);
        at = vapor_on(&v, dx, &k3);
        vapor_along k4 = vapor_rate(a, t, UAi, T_hot - dx, &at);
        v = vapor_on(&v, dx / 6.0, &k1);
        v = vapor_on(&v, dx / 3.0, &k2);
        v = vapor_on(&v, dx / 3.0, &k3);
        v = vapor_on(&v, dx / 6.0, &k4);
        if (!(v.area > 0.0 && v.area < 1.0 && v.air.T > T_hot - dx)) return INFINITY;
    }
    *air = v.air;
    return v.area;
}

/* Share of the superheat, from the hot end, made before fin bases meet the dew point. They cool
 * along a straight line in the vapor's temperature, as the air does. */
static double dry_part(const ct_coil_air *a, const ct_coil_tubes *t, double UAi)
{
    double T_out = a->in.T - t->C_r * t->superheat / (a->m_da * a->cp);
    double hot = dry_surface(a, a->in.T, t->T_dew + t->superheat, UAi);
    double cold = dry_surface(a, T_out, t->T_dew, UAi);

    return cold >= a->T_dp ? 1.0 : hot <= a->T_dp ? 0.0 : (hot - a->T_dp) / (hot - cold);
}

static double superheat(const ct_coil *coil, const ct_coil_air *a, const ct_coil_tubes *t,
                        air_along *at, double *dry)
{
    double UAi = coil->vapour_ratio * t->UAi, U = 1.0 / (1.0 / a->UAo_dry + 1.0 / UAi);
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
    air_along at = {a->in.T, a->in.W, 0.0};

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
            ct_air_cp(Ws) + dWs * (CT_AIR_HG0 - ct_air_h_water(T)) + (W0 - Ws) * CT_AIR_CPW;
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
    out->Q_sens = a->m_da * ct_air_cp(out->out.W) * (a->in.T - out->out.T);
    out->Q_lat = out->Q - out->Q_sens;
}
