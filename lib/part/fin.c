#include "part/fin.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "fluid/air.h"

/* d ln(d ln psat/dT)/dT times T, of water between 0 and 30 C: -2 from Clausius and Clapeyron, the
 * rest from the falling heat of vaporization. */
#define LN_SLOPE_FALL 2.27

#define SEARCH_ROUNDS 40
#define SEARCH_TOL 1e-11 /* K */

/* ---- shape and metal ---- */

ct_fin_shape ct_fin_straight(double L)
{
    return (ct_fin_shape){.reach2 = L * L, .w = {1.0}};
}

/* Polynomial through exp(-2 a s) at the Chebyshev points of 0..1, by Newton's divided differences,
 * multiplied out. */
static void falling_weight(double a, double w[CT_FIN_WEIGHTS])
{
    enum { N = CT_FIN_WEIGHTS };
    double x[N], d[N], area = 0.0;

    for (int i = 0; i < N; i++) {
        x[i] = 0.5 - 0.5 * cos(M_PI * (i + 0.5) / N);
        d[i] = exp(-2.0 * a * x[i]);
    }
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

/* The term of order n of w times a series. */
static double weighted(const double *w, const double *series, int n)
{
    double sum = w[0] * series[n];

    for (int j = 1; j < CT_FIN_WEIGHTS && j <= n; j++)
        sum += w[j] * series[n - j];
    return sum;
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

/* The length from s0 on in equal pieces. */
static void cut(const double *w, double s0, ct_fin_piece piece[CT_FIN_PIECES])
{
    double l = (1.0 - s0) / CT_FIN_PIECES;

    for (int k = 0; k < CT_FIN_PIECES; k++) {
        ct_fin_piece *p = &piece[k];
        shift_weight(w, s0 + k * l, l, p->w);
        for (int n = 0; n < CT_FIN_MOMENTS; n++) {
            p->moment[n] = 0.0;
            for (int j = 0; j < CT_FIN_WEIGHTS; j++)
                p->moment[n] += p->w[j] * per_n[n + j + 1];
        }
    }
}

ct_fin_metal ct_fin_make(const ct_fin_shape *shape, double h, double k_t)
{
    ct_fin_metal m = {.mu = 2.0 * h / k_t * shape->reach2};

    memcpy(m.w, shape->w, sizeof m.w);
    cut(m.w, 0.0, m.piece);
    m.dry[0] = 1.0;
    for (int n = 2; n < CT_FIN_DRY_TERMS; n++)
        m.dry[n] = m.mu * per_n[n] * per_n[n - 1] * weighted(m.w, m.dry, n - 2);
    for (int n = 0; n < CT_FIN_DRY_TERMS; n++) {
        m.dry_base += m.dry[n];
        m.dry_slope += n * m.dry[n];
    }
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
        double dW, W_sat = ct_air_W_sat_liquid(T, p, &dW);
        double y =
            (W_sat - W) / (W_sat + W); /* ln(W_sat/W) is 2 (y + y^3/3 + ...), nearly straight */
        double step = 2.0 * W_sat * y * (1.0 + y * y * (1.0 / 3.0)) / dW;
        T -= step;
        if (fabs(step) < 1e-9) break;
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

    s.W = ct_air_W_sat_liquid(T, p, &s.slope);
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

/* Series in t, from 0 where the piece begins to 1 at the base: u'' = -z w(t) phi(u), u(0) = 0,
 * u'(0) = u[1], given. exp(c u) has the series E with n E_n = c sum of i u_i E_(n-i). */
static void wet_series(const drive *d, const double *w, double z, double *u, double *phi)
{
    double E[CT_FIN_TERMS], slope[CT_FIN_TERMS];

    E[0] = 1.0;
    phi[0] = d->at0;
#pragma GCC unroll 8
    for (int n = 1; n < CT_FIN_TERMS; n++) {
        double sum = 0.0;
        if (n > 1) u[n] = -z * per_n[n] * per_n[n - 1] * weighted(w, phi, n - 2);
        slope[n] = n * u[n];
        for (int i = 1; i <= n; i++)
            sum += slope[i] * E[n - i];
        E[n] = d->c * per_n[n] * sum;
        phi[n] = -u[n] - d->bend * E[n];
    }
#pragma GCC unroll 8
    for (int n = CT_FIN_TERMS; n < CT_FIN_MOMENTS; n++)
        u[n] = -z * per_n[n] * per_n[n - 1] * weighted(w, phi, n - 2);
}

/* Integrals over the piece, weighed by area: of phi, of phi times the way to the base (which is what
 * bends the profile), of u. The series of a circular fin alternates and falls slowly; its integrals
 * do not mind. */
typedef struct {
    double phi, lever, u;
} integrals;

static integrals integrate(const double *moment, const double *u, const double *phi)
{
    integrals s = {0.0, 0.0,
                   u[CT_FIN_TERMS] * moment[CT_FIN_TERMS] +
                       u[CT_FIN_TERMS + 1] * moment[CT_FIN_TERMS + 1]};

#pragma GCC unroll 8
    for (int n = 0; n < CT_FIN_TERMS; n++) {
        s.phi += phi[n] * moment[n];
        s.lever += phi[n] * (moment[n] - moment[n + 1]);
        s.u += u[n] * moment[n];
    }
    return s;
}

typedef struct {
    double T, slope; /* K, K per piece */
    saturation sat;
} from;

/* From there to the base; adds what is taken. */
static void wet_pieces(const ct_fin_around *air, const ct_fin_piece *piece, double mu, double l,
                       from start, ct_fin_taken *out)
{
    double z = mu * l * l, T = start.T, slope = start.slope;
    drive d = wet_drive(air, T, start.sat);

    out->T_wet = T;
    for (int k = 0; k < CT_FIN_PIECES; k++) {
        double u[CT_FIN_MOMENTS] = {0.0, slope}, phi[CT_FIN_TERMS], drop;
        wet_series(&d, piece[k].w, z, u, phi);
        integrals s = integrate(piece[k].moment, u, phi);
        out->total += l * s.phi;
        out->wet += l * piece[k].moment[0];
        out->sensible += l * ((air->T - T) * piece[k].moment[0] - s.u);
        drop = slope - z * s.lever;
        slope -= z * s.phi;
        T += drop;
        d = drive_from(&d, drop);
    }
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

/* Where the dry series has grown to `ratio`, 0 to 1, and its slope there. Convex and rising, so
 * Newton's method comes down from above after its first step. */
static double dry_end(const ct_fin_metal *m, double ratio, double *slope)
{
    double s = fmin(1.0, sqrt(2.0 * (ratio - 1.0) / (m->mu * m->w[0])));

    for (int i = 0; i < 20; i++) {
        double f = m->dry[CT_FIN_DRY_TERMS - 1], step;
        *slope = 0.0;
        for (int n = CT_FIN_DRY_TERMS - 2; n >= 0; n--) {
            *slope = *slope * s + f;
            f = f * s + m->dry[n];
        }
        if (!(*slope > 0.0)) break;
        step = (f - ratio) / *slope;
        s = fmin(1.0, s - step);
        if (fabs(step) < 1e-12) break;
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

    cut(m->w, s0, piece);
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
