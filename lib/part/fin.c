#include "part/fin.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "fluid/moist.h"

/* d ln(d ln psat/dT)/dT times T, of water between 0 and 30 C: -2 from Clausius and Clapeyron, the
 * rest from the falling heat of vaporization. */
#define LN_SLOPE_FALL 2.27

#define DRY_LEAST 1e-17 /* of a dry fin's terms; the first is 1 */
#define DRY_STEP 1e-7   /* of its length */
#define SEARCH_ROUNDS 40
#define SEARCH_TOL 1e-11 /* K */
#define DEW_STEP 3e-4    /* K: what is left is its cube, or less */

/* ---- shape and metal ---- */

ct_fin_shape ct_fin_straight(double L)
{
    return (ct_fin_shape){.reach2 = L * L, .w = {1.0}};
}

/* Polynomial through exp(-2 a s) at the Chebyshev points of 0..1, by Newton's divided differences,
 * multiplied out. */
static void falling_weight(double a, double w[CT_FIN_WEIGHTS])
{
    enum { N = 5 };
    _Static_assert(N == CT_FIN_WEIGHTS, "the points below are for that many terms");
    /* 1/2 - 1/2 cos(pi (i + 1/2)/N) */
    static const double x[N] = {0.024471741852423234, 0.20610737385376343, 0.49999999999999994,
                                0.79389262614623646, 0.97552825814757682};
    double d[N], area = 0.0;

    for (int i = 0; i < N; i++)
        d[i] = exp(-2.0 * a * x[i]);
    for (int k = 1; k < N; k++)
        for (int i = N - 1; i >= k; i--)
            d[i] = (d[i] - d[i - 1]) / (x[i] - x[i - k]);
    memset(w, 0, N * sizeof *w);
    for (int k = N - 1; k >= 0; k--) {
        for (int i = N - 1; i > 0; i--)
            w[i] = w[i - 1] - x[k] * w[i];
        w[0] = d[k] - x[k] * w[0];
    }
    for (int i = 0; i < N; i++)
        area += w[i] / (i + 1);
    for (int i = 0; i < N; i++)
        w[i] /= area;
}

/* With s = ln(R r/r')/ln R from tip to base, (1/r')(r' T')' = -m^2 phi becomes
 * T'' = -(m r R ln R)^2 exp(-2 s ln R) phi; the exponential integrates to (1 - R^-2)/(2 ln R). */
ct_fin_shape ct_fin_circular(double r, double R)
{
    ct_fin_shape shape = {.reach2 = r * r * log(R) * 0.5 * (R * R - 1.0)};

    falling_weight(log(R), shape.w);
    return shape;
}

/* 1/n; a division each would be a third of the work. */
static const double per_n[CT_FIN_DRY_TERMS] = {
    0.0,      1.0,      1.0 / 2,  1.0 / 3,  1.0 / 4,  1.0 / 5,  1.0 / 6,  1.0 / 7,  1.0 / 8,
    1.0 / 9,  1.0 / 10, 1.0 / 11, 1.0 / 12, 1.0 / 13, 1.0 / 14, 1.0 / 15, 1.0 / 16, 1.0 / 17,
    1.0 / 18, 1.0 / 19, 1.0 / 20, 1.0 / 21, 1.0 / 22, 1.0 / 23, 1.0 / 24, 1.0 / 25};

/* w(s0 + l t) as a polynomial in t. */
static void shift_weight(const double *w, double s0, double l, double out[CT_FIN_WEIGHTS])
{
    double scale = 1.0;

    memcpy(out, w, CT_FIN_WEIGHTS * sizeof *out);
    for (int k = 0; k < CT_FIN_WEIGHTS - 1; k++)
        for (int j = CT_FIN_WEIGHTS - 2; j >= k; j--)
            out[j] += s0 * out[j + 1];
    for (int j = 0; j < CT_FIN_WEIGHTS; j++, scale *= l)
        out[j] *= scale;
}

/* Integrals of w t^n. */
static void moments(const double *w, double moment[CT_FIN_MOMENTS])
{
    for (int n = 0; n < CT_FIN_MOMENTS; n++) {
        moment[n] = 0.0;
        for (int j = 0; j < CT_FIN_WEIGHTS; j++)
            moment[n] += w[j] * per_n[n + j + 1];
    }
}

/* Per term of phi, what it takes, its lever and the temperature it bends: of each order n its share
 * of u'' = -mu l^2 w phi. */
static void sums_of(const double *bends, const double *moment,
                    double sum[CT_FIN_TERMS][CT_FIN_SUMS])
{
    double twice[CT_FIN_MOMENTS];

    for (int n = 2; n < CT_FIN_MOMENTS; n++)
        twice[n] = per_n[n] * per_n[n - 1] * moment[n];
#pragma GCC unroll 8
    for (int k = 0; k < CT_FIN_TERMS; k++) {
        double cooled = 0.0;
#pragma GCC unroll 8
        for (int n = k + 2; n < CT_FIN_MOMENTS; n++)
            cooled += bends[n - 2 - k] * twice[n];
        sum[k][CT_FIN_TAKEN] = moment[k];
        sum[k][CT_FIN_LEVER] = moment[k] - moment[k + 1];
        sum[k][CT_FIN_COOLED] = cooled;
        sum[k][CT_FIN_COOLED + 1] = 0.0;
    }
}

/* The length from s0 on in equal pieces. */
static void cut(double mu, const double *w, double s0, ct_fin_piece piece[CT_FIN_PIECES])
{
    const double l = (1.0 - s0) / CT_FIN_PIECES, z = -mu * l * l;

    for (int k = 0; k < CT_FIN_PIECES; k++) {
        ct_fin_piece *p = &piece[k];
        double here[CT_FIN_WEIGHTS], moment[CT_FIN_MOMENTS];
        shift_weight(w, s0 + k * l, l, here);
        moments(here, moment);
        for (int j = 0; j < CT_FIN_WEIGHTS; j++)
            p->bends[j] = z * here[j];
        p->area = l * moment[0];
        p->ramp = moment[1];
        sums_of(p->bends, moment, p->sum);
    }
}

/* Series of the dry fin, as far as its terms count: they go down for good once they do over as many
 * of them as w has. Nothing comes before its first term. */
static void dry_series(ct_fin_metal *m)
{
    enum { N = 5 };
    _Static_assert(N == CT_FIN_WEIGHTS, "the sum below is written out");
    double before[N - 1 + CT_FIN_DRY_TERMS] = {0.0}, *dry = &before[N - 1];
    int small = 0, n = 2;

    dry[0] = m->dry_base = 1.0;
    for (; n < CT_FIN_DRY_TERMS && small < N; n++) {
        const double *d = &dry[n - 2], *w = m->w;
        const double sum = w[0] * d[0] + w[1] * d[-1] + w[2] * d[-2] + w[3] * d[-3] + w[4] * d[-4];
        dry[n] = m->mu * per_n[n] * per_n[n - 1] * sum;
        m->dry_base += dry[n];
        m->dry_slope += n * dry[n];
        small = fabs(dry[n]) < DRY_LEAST ? small + 1 : 0;
    }
    m->dry_terms = n;
    memcpy(m->dry, dry, sizeof m->dry);
}

ct_fin_metal ct_fin_make(const ct_fin_shape *shape, double h, double k_t)
{
    ct_fin_metal m = {.mu = 2.0 * h / k_t * shape->reach2};

    memcpy(m.w, shape->w, sizeof m.w);
    cut(m.mu, m.w, 0.0, m.piece);
    dry_series(&m);
    return m;
}

double ct_fin_dry_efficiency(const ct_fin_metal *m)
{
    return m->mu > 0.0 ? m->dry_slope / (m->mu * m->dry_base) : 1.0;
}

double ct_fin_dew_point(double W, double p, double near)
{
    double T = near;

    for (int i = 0; i < 20; i++) {
        double dW, W_sat = ct_moist_W_sat(T, p, &dW);
        double y =
            (W_sat - W) / (W_sat + W); /* ln(W_sat/W) is 2 (y + y^3/3 + ...), nearly straight */
        double step = 2.0 * W_sat * y * (1.0 + y * y * (1.0 / 3.0)) / dW;
        step *= 1.0 - 0.5 * step * (LN_SLOPE_FALL / T - dW / (CT_AIR_EPS + W_sat));
        T -= step;
        if (fabs(step) < DEW_STEP) break;
    }
    return T;
}

/* ---- wet piece ---- */

/* phi from T0 on: at0 - u - bend (exp(c u) - 1), u = T - T0. */
typedef struct {
    double at0, bend, c;
} drive;

typedef struct {
    double W, slope; /* kg/kg, 1/K */
} saturation;

static saturation saturation_at(double T, double p)
{
    saturation s;

    s.W = ct_moist_W_sat(T, p, &s.slope);
    return s;
}

/* Slope and bend of saturation: d ln W_sat = b dT, b = a r with a = d ln psat/dT and
 * r = p/(p - psat). */
static drive wet_drive(const ct_fin_around *air, double T0, saturation sat)
{
    double dW = sat.slope, W_sat = sat.W;
    double per_cp = 1.0 / air->cp, r = 1.0 + W_sat / CT_AIR_EPS, b = dW / W_sat;
    double ddW = dW * (b * (2.0 - 1.0 / r) - LN_SLOPE_FALL / T0);
    double lift = air->lift + air->lift_slope * (T0 - CT_ZERO_C);
    double slope = (dW * lift + (W_sat - air->W) * air->lift_slope) * per_cp;
    double bend = (ddW * lift + 2.0 * dW * air->lift_slope) * per_cp;

    return (drive){air->T - T0 + (air->W - W_sat) * lift * per_cp, slope * slope / bend,
                   bend / slope};
}

/* exp(x) - 1: along a piece x is small, and the series to x^11 has all digits below a quarter. */
static inline double grown_by(double x)
{
    if (!(fabs(x) < 0.25)) return expm1(x);
    return x *
           (1.0 +
            x * (1.0 / 2 +
                 x * (1.0 / 6 +
                      x * (1.0 / 24 +
                           x * (1.0 / 120 +
                                x * (1.0 / 720 + x * (1.0 / 5040 +
                                                      x * (1.0 / 40320 +
                                                           x * (1.0 / 362880 +
                                                                x * (1.0 / 3628800 +
                                                                     x * (1.0 / 39916800)))))))))));
}

/* The same function of temperature, told from `drop` on. */
static drive drive_from(const drive *d, double drop)
{
    double grown = grown_by(d->c * drop);

    return (drive){d->at0 - drop - d->bend * grown, d->bend * (1.0 + grown), d->c};
}

/* phi as a series in t, from 0 where the piece begins to 1 at the base: u'' = -mu l^2 w(t) phi(u),
 * u(0) = 0, u'(0) given. exp(c u) has the series E with n E_n = c sum of i u_i E_(n-i); g_i is c i
 * u_i and bent_n is n (n - 1) u_n. */
static void wet_series(const drive *d, const double *w, double slope, double phi[CT_FIN_TERMS])
{
    const double g1 = d->c * slope, E1 = g1;
    phi[0] = d->at0;
    phi[1] = -slope - d->bend * E1;
    const double bent2 = w[0] * phi[0], g2 = d->c * bent2, E2 = (1.0 / 2) * (g1 * E1 + g2);
    phi[2] = (-1.0 / 2) * bent2 - d->bend * E2;
    const double bent3 = w[0] * phi[1] + w[1] * phi[0], g3 = (1.0 / 2) * d->c * bent3;
    const double E3 = (1.0 / 3) * (g1 * E2 + g2 * E1 + g3);
    phi[3] = (-1.0 / 6) * bent3 - d->bend * E3;
    const double bent4 = w[0] * phi[2] + w[1] * phi[1] + w[2] * phi[0];
    const double g4 = (1.0 / 3) * d->c * bent4;
    phi[4] = (-1.0 / 12) * bent4 - d->bend * (1.0 / 4) * (g1 * E3 + g2 * E2 + g3 * E1 + g4);
}

_Static_assert(CT_FIN_TERMS == 5, "the series above is written out");

/* Integrals over the piece. The series of a circular fin alternates and falls slowly; its integrals
 * do not mind. */
static void integrate(const ct_fin_piece *p, const double *phi, double sum[CT_FIN_SUMS])
{
    for (int j = 0; j < CT_FIN_SUMS; j++)
        sum[j] = phi[0] * p->sum[0][j];
#pragma GCC unroll 8
    for (int n = 1; n < CT_FIN_TERMS; n++)
        for (int j = 0; j < CT_FIN_SUMS; j++)
            sum[j] += phi[n] * p->sum[n][j];
}

typedef struct {
    double T, slope; /* K, K per piece */
    saturation sat;
} from;

/* From there to the base; adds what is taken. */
static void wet_pieces(const ct_fin_around *air, const ct_fin_piece *piece, double mu, double l,
                       from start, ct_fin_taken *out)
{
    const double z = mu * l * l;
    double T = start.T, slope = start.slope, total = 0.0;
    drive d = wet_drive(air, T, start.sat);

    out->T_wet = T;
    for (int k = 0; k < CT_FIN_PIECES; k++) {
        const ct_fin_piece *p = &piece[k];
        double phi[CT_FIN_TERMS], sum[CT_FIN_SUMS], drop;
        wet_series(&d, p->bends, slope, phi);
        integrate(p, phi, sum);
        total += sum[CT_FIN_TAKEN];
        out->wet += p->area;
        out->sensible += (air->T - T) * p->area - l * (slope * p->ramp + sum[CT_FIN_COOLED]);
        drop = slope - z * sum[CT_FIN_LEVER];
        slope -= z * sum[CT_FIN_TAKEN];
        T += drop;
        d = drive_from(&d, drop);
    }
    out->total += l * total;
    out->total_base = d.at0;
    out->T_base = T;
}

/* ---- dry outer piece ---- */

static void all_dry(const ct_fin_metal *m, const ct_fin_around *air, double T_tip,
                    ct_fin_taken *out)
{
    double theta = air->T - T_tip;

    out->T_base = air->T - theta * m->dry_base;
    out->total_base = theta * m->dry_base;
    out->total = out->sensible = theta * m->dry_slope / m->mu;
    out->T_wet = out->T_base;
}

/* Where the dry series has grown to `ratio`, 0 to 1, and its slope there: Newton's method from the
 * first two terms on. The last step is too short for its square to matter. */
static double dry_end(const ct_fin_metal *m, double ratio, double *slope)
{
    const double s0 = sqrt((ratio - 1.0) / m->dry[2]);
    double s = fmin(1.0, s0 * (1.0 - 0.5 * s0 * m->dry[3] / m->dry[2]));

    for (int i = 0; i < 20; i++) {
        double f = m->dry[m->dry_terms - 1], bend = 0.0, step;
        *slope = 0.0;
        for (int n = m->dry_terms - 2; n >= 0; n--) {
            bend = bend * s + *slope;
            *slope = *slope * s + f;
            f = f * s + m->dry[n];
        }
        if (!(*slope > 0.0)) break;
        step = fmin(1.0, s - (f - ratio) / *slope) - s;
        s += step;
        *slope += 2.0 * bend * step;
        if (fabs(step) < DRY_STEP) break;
    }
    return s;
}

static void part_wet(const ct_fin_metal *m, const ct_fin_around *air, double T_tip,
                     ct_fin_taken *out)
{
    double theta = air->T - T_tip, slope = 0.0;
    double near = air->T_near > 0.0 ? air->T_near : T_tip;
    double T_dp = air->T_dp > 0.0 ? air->T_dp : ct_fin_dew_point(air->W, air->p, near);
    double s0 = dry_end(m, (air->T - T_dp) / theta, &slope);
    double l = (1.0 - s0) / CT_FIN_PIECES;
    ct_fin_piece piece[CT_FIN_PIECES];

    cut(m->mu, m->w, s0, piece);
    out->total = out->sensible = theta * slope / m->mu;
    wet_pieces(air, piece, m->mu, l, (from){T_dp, -theta * slope * l, saturation_at(T_dp, air->p)},
               out);
}

/* ---- whole fin ---- */

void ct_fin_from_tip(const ct_fin_metal *m, const ct_fin_around *air, double T_tip,
                     ct_fin_taken *out)
{
    double T_base = air->T - (air->T - T_tip) * m->dry_base;
    saturation sat = saturation_at(T_tip, air->p);

    out->total = out->sensible = out->wet = 0.0;
    if (air->W > sat.W)
        wet_pieces(air, m->piece, m->mu, 1.0 / CT_FIN_PIECES, (from){T_tip, 0.0, sat}, out);
    else if (air->W <= saturation_at(T_base, air->p).W)
        all_dry(m, air, T_tip, out);
    else
        part_wet(m, air, T_tip, out);
}

/* Secant, kept inside the bracket base to air. */
double ct_fin_from_base(const ct_fin_metal *m, const ct_fin_around *air, double T_base,
                        ct_fin_taken *out)
{
    double low = T_base, high = air->T;
    double T = air->T - (air->T - T_base) / m->dry_base, last = T_base, f_last, f;

    ct_fin_from_tip(m, air, last, out);
    f_last = out->T_base - T_base;
    for (int i = 0; i < SEARCH_ROUNDS; i++) {
        double next;
        ct_fin_from_tip(m, air, T, out);
        f = out->T_base - T_base;
        if (fabs(f) < SEARCH_TOL || f == f_last) break;
        if (f > 0.0)
            high = T;
        else
            low = T;
        next = T - f * (T - last) / (f - f_last);
        if (!(next > low && next < high)) next = 0.5 * (low + high);
        last = T;
        f_last = f;
        T = next;
    }
    return T;
}
