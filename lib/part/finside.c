#include "part/finside.h"

#include <math.h>

#include "base/units.h"
#include "fluid/air.h"

/* ---- geometry ---- */

/* One measure against its range. The allowance keeps 0.5 in, typed or converted, from falling out
 * of 12.7 mm by the last bit. */
static ct_status in_mm(double v, double low, double high, const char *name, ct_fault *fault)
{
    const double slack = 1e-9;
    if (v >= low - slack && v <= high + slack) return CT_OK;
    return ct_fail(fault, CT_RANGE, v, low, high,
                   "coil %s %.4g mm (%.4g in) is outside %.4g to %.4g mm, the coils the air-side "
                   "data were measured on; check it, or give the coil by size",
                   name, v * 1e3, v / CT_M_PER_IN, low * 1e3, high * 1e3);
}

static ct_status in_plain(double v, double low, double high, const char *name, ct_fault *fault)
{
    if (v >= low && v <= high) return CT_OK;
    return ct_fail(fault, CT_RANGE, v, low, high,
                   "coil %s %.4g is outside %.4g to %.4g; check it, or give the coil by size", name,
                   v, low, high);
}

ct_status ct_finside_check(const ct_coil_geometry *g, ct_fault *fault)
{
    const struct {
        double v, low, high;
        const char *name;
    } mm[] = {
        {g->fin_pitch, 1.0e-3, 8.7e-3, "fin pitch"},
        {g->fin_thick, 0.05e-3, 0.5e-3, "fin thickness"},
        {g->tube_od + 2 * g->fin_thick, 6.9e-3, 13.6e-3, "tube diameter over the fin collar"},
        {g->tube_wall, 0.1e-3, 2e-3, "tube wall"},
        {g->pitch_t, 20.4e-3, 31.8e-3, "tube pitch across the air"},
        {g->pitch_l, 12.7e-3, 32e-3, "tube pitch along the air"},
    };
    ct_status status = CT_OK;
    for (size_t i = 0; status == CT_OK && i < sizeof mm / sizeof *mm; i++)
        status = in_mm(mm[i].v, mm[i].low, mm[i].high, mm[i].name, fault);
    if (status == CT_OK) status = in_plain(g->face, 0.02, 5, "face area in m2", fault);
    if (status == CT_OK) status = in_plain(g->rows, 1, 6, "number of rows", fault);
    if (status == CT_OK) status = in_plain(g->circuits, 1, 60, "number of circuits", fault);
    if (status == CT_OK) status = in_plain(g->fin_k, 10, 450, "fin conductivity in W/m K", fault);
    if (status == CT_OK && (int)g->fin > (int)CT_FIN_LOUVER_WAVY)
        status = ct_fault_say(fault, CT_INPUT, "unknown kind of fin");
    return status;
}

/* Per unit of face area. One cell is pitch_t high, fin_pitch wide and the whole depth long. */
ct_status ct_finside_areas(const ct_coil_geometry *g, ct_fin_areas *a, ct_fault *fault)
{
    ct_status status = ct_finside_check(g, fault);
    if (status != CT_OK) return status;
    double Di = g->tube_od - 2 * g->tube_wall;
    double gap = g->fin_pitch - g->fin_thick;
    double cell = g->pitch_t * g->fin_pitch;
    a->Dc = g->tube_od + 2 * g->fin_thick;
    a->depth = g->rows * g->pitch_l;
    a->sigma = (g->pitch_t - a->Dc) * gap / cell;
    a->Ac = a->sigma * g->face;
    a->tube_length = g->face * g->rows / g->pitch_t;
    a->Af = g->face * 2 * (g->pitch_t * a->depth - g->rows * M_PI * a->Dc * a->Dc / 4) / cell;
    a->Ao = a->Af + g->face * g->rows * M_PI * a->Dc * gap / cell;
    a->At = M_PI * g->tube_od * a->tube_length;
    a->Ai = M_PI * Di * a->tube_length;
    a->Dh = 4 * a->Ac * a->depth / a->Ao;
    a->circuit_length = a->tube_length / g->circuits;
    a->circuit_area = M_PI * Di * Di / 4;
    return CT_OK;
}

/* ---- air ---- */

/* Sutherland's law for dry air, constants as in White, Viscous Fluid Flow (from memory,
 * unconfirmed): mu0 1.716e-5 Pa s, S 110.4 K; k0 0.0241 W/m K, S 194 K; both at 273.15 K. The water
 * vapor of room air (1 % by mass) changes them by less than 1 %. */
static double sutherland(double T, double at_0C, double S)
{
    const double T0 = CT_ZERO_C;
    return at_0C * pow(T / T0, 1.5) * (T0 + S) / (T + S);
}

ct_fin_air ct_finside_air(double T, double W, double p, double V)
{
    double v = CT_AIR_RA * T * (1 + W / CT_AIR_EPS) / p;
    return (ct_fin_air){.V = V,
                        .rho = (1 + W) / v,
                        .mu = sutherland(T, 1.716e-5, 110.4),
                        .k = sutherland(T, 0.0241, 194),
                        .cp = (CT_AIR_CPA + W * CT_AIR_CPV) / (1 + W)};
}

/* ---- correlations ---- */

/* Wang, Chi & Chang 2000. The one-row form has no row terms of its own. */
static double j_plain_one_row(const ct_coil_geometry *g, const ct_fin_areas *a, double Re)
{
    double lnRe = log(Re);
    double P1 = 1.9 - 0.23 * lnRe;
    double P2 = -0.236 + 0.126 * lnRe;
    return 0.108 * pow(Re, -0.29) * pow(g->pitch_t / g->pitch_l, P1) *
           pow(g->fin_pitch / a->Dc, -1.084) * pow(g->fin_pitch / a->Dh, -0.786) *
           pow(g->fin_pitch / g->pitch_t, P2);
}

static double j_plain(const ct_coil_geometry *g, const ct_fin_areas *a, double Re)
{
    if (g->rows == 1) return j_plain_one_row(g, a, Re);
    double N = g->rows;
    double lnRe = log(Re);
    double P3 = -0.361 - 0.042 * N / lnRe + 0.158 * log(N * pow(g->fin_pitch / a->Dc, 0.41));
    double P4 = -1.224 - 0.076 * pow(g->pitch_l / a->Dh, 1.42) / lnRe;
    double P5 = -0.083 + 0.058 * N / lnRe;
    double P6 = -5.735 + 1.21 * log(Re / N);
    return 0.086 * pow(Re, P3) * pow(N, P4) * pow(g->fin_pitch / a->Dc, P5) *
           pow(g->fin_pitch / a->Dh, P6) * pow(g->fin_pitch / g->pitch_t, -0.93);
}

static double f_plain(const ct_coil_geometry *g, const ct_fin_areas *a, double Re)
{
    double lnRe = log(Re);
    double F1 =
        -0.764 + 0.739 * g->pitch_t / g->pitch_l + 0.177 * g->fin_pitch / a->Dc - 0.00758 / g->rows;
    double F2 = -15.689 + 64.021 / lnRe;
    double F3 = 1.696 - 15.695 / lnRe;
    return 0.0267 * pow(Re, F1) * pow(g->pitch_t / g->pitch_l, F2) * pow(g->fin_pitch / a->Dc, F3);
}

/* Wang, Fu & Chang 1997; no row effect. */
static double j_wavy(const ct_fin_areas *a, double Re)
{
    return 1.201 / pow(a->sigma * log(Re), 2.921);
}

/* Friction of the same paper, from memory, unconfirmed; about a third above the plain fin's, which
 * is what a wave costs. */
static double f_wavy(const ct_coil_geometry *g, const ct_fin_areas *a, double Re)
{
    return 16.67 / pow(log(Re), 2.64) * pow(a->Ao / a->At, -0.096) * pow(g->rows, 0.098);
}

/* Wang, Tsai & Lu 1998; D is the bare tube. */
static double j_louver_wavy(const ct_coil_geometry *g, const ct_fin_areas *a, double Re)
{
    double pitch = g->fin_pitch / g->tube_od;
    return 16.06 * pow(Re, -1.02 * pitch - 0.256) * pow(a->Ao / a->At, -0.601) *
           pow(g->rows, -0.069) * pow(pitch, 0.84);
}

/* The paper's form for Re >= 1000, carried below. Its form for lower Re, as it goes round in public
 * transcriptions, has a factor Re^-0.637 that makes it 80 times smaller at Re = 1000 than this one:
 * friction cannot do that, so the transcription is not to be trusted and is left out. */
static double f_louver_wavy(const ct_coil_geometry *g, const ct_fin_areas *a, double Re)
{
    return 0.768 * (0.0494 + 0.142 * exp(-Re / 1180)) * pow(a->Ao / a->At, 0.0195) *
           pow(g->fin_pitch / g->tube_od, -0.121);
}

static void factors(const ct_coil_geometry *g, const ct_fin_areas *a, ct_finside_out *o)
{
    switch (g->fin) {
    case CT_FIN_PLAIN:
        o->j = j_plain(g, a, o->Re);
        o->f = f_plain(g, a, o->Re);
        break;
    case CT_FIN_WAVY:
        o->j = j_wavy(a, o->Re);
        o->f = f_wavy(g, a, o->Re);
        break;
    case CT_FIN_LOUVER_WAVY:
        o->j = j_louver_wavy(g, a, o->Re);
        o->f = f_louver_wavy(g, a, o->Re);
        break;
    }
}

/* Plain: Shah & Sekulic 2003. Wavy: Re range stated with the transcription read. Convex-louver:
 * none was printed where it was read; the wavy range is taken. */
static bool within_data(const ct_coil_geometry *g, const ct_fin_areas *a, double Re)
{
    if (g->fin != CT_FIN_PLAIN) return Re >= 300 && Re <= 8000;
    return Re >= 300 && Re <= 20000 && a->Dh >= 1.30e-3 && a->Dh <= 9.37e-3;
}

static ct_status air_ok(const ct_fin_air *air, ct_fault *fault)
{
    const double v[] = {air->V, air->rho, air->mu, air->k, air->cp};
    for (size_t i = 0; i < sizeof v / sizeof *v; i++)
        if (!(v[i] > 0 && isfinite(v[i])))
            return ct_fail(fault, CT_INPUT, v[i], 0, NAN,
                           "air through the coil must have a positive velocity and properties");
    return CT_OK;
}

ct_status ct_finside(const ct_coil_geometry *g, const ct_fin_areas *a, const ct_fin_air *air,
                     ct_finside_out *out, ct_fault *fault)
{
    ct_status status = air_ok(air, fault);
    if (status != CT_OK) return status;
    double G = air->rho * air->V / a->sigma;
    ct_finside_out o = {.Re = G * a->Dc / air->mu};
    if (!(o.Re >= CT_FINSIDE_RE_MIN && o.Re <= CT_FINSIDE_RE_MAX))
        return ct_fail(fault, CT_RANGE, o.Re, CT_FINSIDE_RE_MIN, CT_FINSIDE_RE_MAX,
                       "face velocity %.3g m/s (%.0f fpm) is Reynolds number %.0f in this coil; "
                       "the air-side data reach %.0f to %.0f; check airflow and face area",
                       air->V, air->V / CT_M_PER_FT * 60, o.Re, CT_FINSIDE_RE_MIN,
                       CT_FINSIDE_RE_MAX);
    factors(g, a, &o);
    o.film = o.j * G * air->cp * pow(air->mu * air->cp / air->k, -2.0 / 3.0);
    o.dp = a->Ao / a->Ac * o.f * G * G / (2 * air->rho);
    o.in_range = within_data(g, a, o.Re);
    *out = o;
    return CT_OK;
}

/* Central difference over 1 % either way: the correlations are smooth, so its own error is 1e-4. */
ct_status ct_finside_exponent(const ct_coil_geometry *g, const ct_fin_areas *a,
                              const ct_fin_air *air, double *exponent, ct_fault *fault)
{
    const double step = 1.01;
    ct_fin_air slow = *air, fast = *air;
    ct_finside_out h_slow = {0}, h_fast = {0};
    slow.V /= step;
    fast.V *= step;
    ct_status status = ct_finside(g, a, &slow, &h_slow, fault);
    if (status == CT_OK) status = ct_finside(g, a, &fast, &h_fast, fault);
    if (status != CT_OK) return status;
    *exponent = log(h_fast.film / h_slow.film) / (2 * log(step));
    return CT_OK;
}

/* ---- fins ---- */

/* Radius of the circular fin equivalent to the hexagon, over the collar radius. The root is real
 * for every staggered bank: XD/XT is at least 1/2. */
static double equivalent_radius(const ct_coil_geometry *g)
{
    double r = g->tube_od / 2 + g->fin_thick;
    double XT = g->pitch_t / 2;
    double XD = hypot(g->pitch_l, XT) / 2;
    return 1.27 * XT / r * sqrt(XD / XT - 0.3);
}

ct_fin_shape ct_finside_fin(const ct_coil_geometry *g)
{
    return ct_fin_circular(g->tube_od / 2 + g->fin_thick, equivalent_radius(g));
}
