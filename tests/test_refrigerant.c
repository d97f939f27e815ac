/* Refrigerants: the equations against published values, the tables against the equations, the laws
 * of thermodynamics, faults, threads, speed. */
#include "check.h"

#include <malloc.h>
#include <pthread.h>
#include <string.h>
#include <time.h>

#include "base/units.h"
#include "fluid/helmholtz.h"
#include "fluid/refrigerant.h"
#include "fluid/refrigerant_tables.h"

#define COUNT(a) ((int)(sizeof(a) / sizeof *(a)))
static const double PSI = CT_PA_PER_PSI, LBM_H = CT_KG_PER_LBM / 3600;
static const double ATM_PSI = 14.696; /* the chart's zero of gauge pressure */
#define COMMA ,
#define EQUATION(model, ...) &ct_model_##model
static const char *const NAMES[] = {CT_CATALOG_MODELS(CT_CATALOG_NAME, COMMA)};
static const ct_helmholtz_model *const EQUATIONS[] = {CT_CATALOG_MODELS(EQUATION, COMMA)};
enum { FLUIDS = COUNT(NAMES) };
static ct_refrigerant *fluid[FLUIDS];

static double K_from_F(double F)
{
    return (F + 459.67) / 1.8;
}

static ct_refrigerant *by_name(const char *name)
{
    for (int i = 0; i < FLUIDS; i++)
        if (!strcmp(name, NAMES[i])) return fluid[i];
    fail_msg("no fluid %s", name);
    return NULL;
}

/* Random numbers 0..1, the same on every machine. */
static double any(void)
{
    static unsigned long long seed = 20240501;
    seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(seed >> 11) / 9007199254740992.0;
}

static double between(double low, double high)
{
    return low + (high - low) * any();
}

static int make_all(void **state)
{
    (void)state;
    for (int i = 0; i < FLUIDS; i++)
        if (ct_refrigerant_make(NAMES[i], &fluid[i], NULL)) return -1;
    return 0;
}

static int free_all(void **state)
{
    (void)state;
    for (int i = 0; i < FLUIDS; i++)
        ct_refrigerant_free(fluid[i]);
    return 0;
}

static ct_vapor vapor_of(const ct_refrigerant *r, double T, double superheat)
{
    ct_vapor v = {NAN, NAN, NAN, NAN};
    check_is("vapor found", ct_refrigerant_vapor(r, T, superheat, &v, NULL), ==, CT_OK);
    return v;
}

static ct_liquid liquid_of(const ct_refrigerant *r, double T, double subcooling)
{
    ct_liquid l = {NAN, NAN, NAN};
    check_is("liquid found", ct_refrigerant_liquid(r, T, subcooling, &l, NULL), ==, CT_OK);
    return l;
}

static double dew_of(const ct_refrigerant *r, double T)
{
    double p = NAN;
    check_is("dew pressure found", ct_refrigerant_p_dew(r, T, &p, NULL), ==, CT_OK);
    return p;
}

static double bubble_of(const ct_refrigerant *r, double T)
{
    double p = NAN;
    check_is("bubble pressure found", ct_refrigerant_p_bubble(r, T, &p, NULL), ==, CT_OK);
    return p;
}

/* ---- against published values ---- */

static const char NIST[] =
    "NIST reference database values, public pressure-temperature chart, 0.1 psi digits";

typedef struct {
    const char *name;
    double F, psig;
} chart_row;

/* Tolerance 0.05 psi: half the last printed digit. */
static const chart_row CHART[] = {
    {"R-22", 20, 43.1},   {"R-22", 40, 68.6},    {"R-22", 100, 195.9},   {"R-22", 120, 260.0},
    {"R-410A", 20, 78.7}, {"R-410A", 40, 118.8}, {"R-410A", 100, 318.5}, {"R-410A", 120, 419.5},
};

static void bubble_pressures_match_the_chart(void **state)
{
    (void)state;
    for (int i = 0; i < COUNT(CHART); i++) {
        double p = bubble_of(by_name(CHART[i].name), K_from_F(CHART[i].F));
        check_abs(NIST, p / PSI - ATM_PSI, CHART[i].psig, 0.05);
    }
}

typedef struct {
    const char *name;
    double F, bubble_psig, dew_psig, rho_liquid, rho_vapor;
} worked_row;

/* Worked from the same papers' equations in a separate program; the digits shown are its output's,
 * so the tolerance is half the last one. NAN: not worked. */
static const worked_row WORKED[] = {
    {"R-22", 32, 57.53, 57.53, 1281.52, 21.229},
    {"R-22", 45, 76.07, 76.07, 1256.54, 26.522},
    {"R-22", 130, 296.89, 296.89, 1060.07, 96.492},
    {"R-410A", 32, 101.44, 101.06, 1169.95, 30.575},
    {"R-410A", 45, 130.59, 130.12, 1140.31, 38.448},
    {"R-410A", 100, 318.53, 317.56, 989.24, 96.530},
    {"R-410A", 130, 478.03, 476.84, 870.39, 163.843},
    {"R-407C", 32, 67.67, 52.13, NAN, NAN},
    {"R-407C", 45, 88.79, 70.72, NAN, NAN},
    {"R-407C", 120, 298.57, 265.75, NAN, NAN},
    {"R-32", 32, 103.23, 103.23, NAN, NAN},
    {"R-32", 50, 145.85, 145.85, NAN, NAN},
    {"R-32", 120, 429.34, 429.34, NAN, NAN},
};

static void saturation_matches_worked_values(void **state)
{
    (void)state;
    for (int i = 0; i < COUNT(WORKED); i++) {
        const worked_row *w = &WORKED[i];
        const ct_refrigerant *r = by_name(w->name);
        double T = K_from_F(w->F);
        check_abs(w->name, bubble_of(r, T) / PSI - ATM_PSI, w->bubble_psig, 0.0051);
        check_abs(w->name, dew_of(r, T) / PSI - ATM_PSI, w->dew_psig, 0.0051);
        if (isnan(w->rho_liquid)) continue;
        check_abs(w->name, liquid_of(r, T, 0).rho, w->rho_liquid, 0.0051);
        check_abs(w->name, vapor_of(r, T, 0).rho, w->rho_vapor, 0.00051);
    }
}

/* R-454B by the mixture model of Bell 2023 (J. Phys. Chem. Ref. Data 52:013101), R-1234yf of Lemmon
 * & Akasaka 2022, R-32 of Tillner-Roth & Yokozeki 1997: equal chemical potentials solved in a
 * separate program with derivatives by complex steps; kPa, kg/m3, as it printed them. Two such
 * programs agree to every digit. Trade charts, of an earlier model, read 0.7 to 1.1 % below in
 * bubble pressure. */
static const struct {
    double F, p_bubble, p_dew, rho_liquid, rho_vapor, dh; /* dh: dew over bubble, kJ/kg */
} MIXTURE[] = {
    {32, 767.413, 732.422, 1082.02, 23.745, 261.28},
    {40, 881.733, 842.409, 1066.26, 27.325, 255.42},
    {45, 959.402, 917.222, 1056.18, 29.785, 251.63},
    {50, 1042.096, 996.950, 1045.89, 32.430, 247.73},
    {60, 1223.376, 1172.000, 1024.66, 38.336, 239.60},
    {80, 1655.475, 1590.727, 979.08, 53.099, 221.77},
    {100, 2192.321, 2113.933, 927.92, 73.123, 201.20},
    {110, 2504.875, 2420.160, 899.43, 85.868, 189.55},
    {120, 2849.676, 2759.488, 868.27, 101.096, 176.69},
    {130, 3229.055, 3134.868, 833.57, 119.625, 162.26},
};

/* Its curves are fits to such solutions, within 3.1e-5 and 2.7e-6, and the tables are read between
 * their points: 1e-4, a tenth of what they must meet. Heat of evaporation, 161 to 261 kJ/kg, to the
 * 0.02 % of the tables' enthalpies, which are up to 500 kJ/kg. */
static void mixture_matches_worked_values(void **state)
{
    (void)state;
    const ct_refrigerant *r = by_name("R-454B");
    for (int i = 0; i < COUNT(MIXTURE); i++) {
        const double T = K_from_F(MIXTURE[i].F);
        check_rel("bubble", bubble_of(r, T), MIXTURE[i].p_bubble * 1e3, 1e-4);
        check_rel("dew", dew_of(r, T), MIXTURE[i].p_dew * 1e3, 1e-4);
        check_rel("liquid", liquid_of(r, T, 0).rho, MIXTURE[i].rho_liquid, 1e-4);
        check_rel("vapor", vapor_of(r, T, 0).rho, MIXTURE[i].rho_vapor, 1e-4);
        check_abs("heat", vapor_of(r, T, 0).h - liquid_of(r, T, 0).h, MIXTURE[i].dh * 1e3, 100);
    }
}

/* The equation itself at three points, one inside the dome, and enthalpies above the liquid at
 * 0 C. */
static void mixture_equation(void **state)
{
    static const struct {
        double T, mol, p; /* K, mol/m3, Pa */
    } point[] = {{300, 1000, 1777186.2293}, {280, 500, 952075.6689}};
    static const struct {
        double F, superheat, dh; /* F, F, kJ/kg */
    } vapor[] = {{45, 0, 263.469},
                 {45, 10, 270.044},
                 {45, 20, 276.339},
                 {40, 0, 262.674},
                 {50, 10, 270.918}};
    static const struct {
        double F, subcooling, dh; /* F, F, kJ/kg */
    } liquid[] = {{115, 10, 70.847}, {120, 10, 76.230}, {105, 10, 60.352}};
    const ct_refrigerant *r = by_name("R-454B");
    (void)state;
    for (int i = 0; i < COUNT(point); i++) {
        const ct_isotherm iso = ct_helmholtz_isotherm(&ct_model_r454b, point[i].T);
        check_rel("pressure", ct_helmholtz_state(&iso, point[i].mol * ct_model_r454b.M).p,
                  point[i].p, 1e-9);
    }
    const double h0 = liquid_of(r, 273.15, 0).h;
    for (int i = 0; i < COUNT(vapor); i++)
        check_abs("vapor", vapor_of(r, K_from_F(vapor[i].F), vapor[i].superheat / 1.8).h - h0,
                  vapor[i].dh * 1e3, 60);
    for (int i = 0; i < COUNT(liquid); i++)
        check_abs("liquid", liquid_of(r, K_from_F(liquid[i].F), liquid[i].subcooling / 1.8).h - h0,
                  liquid[i].dh * 1e3, 60);
    check_abs("liquid at 0 C", h0, 200e3, 60);
}

typedef struct {
    const char *name;
    double T, p; /* K, MPa */
} critical_row;

/* The papers named in models/: exact by definition there. */
static const critical_row CRITICAL[] = {
    {"R-22", 369.295, 4.990},    /* Kamei et al. 1995 */
    {"R-410A", 344.494, 4.9012}, /* Lemmon 2003 */
    {"R-407C", 359.345, 4.6317}, /* Lemmon 2003 */
    {"R-32", 351.255, 5.782},    /* Tillner-Roth & Yokozeki 1997 */
};

/* That the equation itself, not only the constant, has its critical point there tests every
 * coefficient at once: pressure at (Tc, rhoc), and for a pure fluid a level isotherm. Tolerance: 4
 * printed digits; R-32's listed 5.782 MPa is 0.6 kPa short of what its equation gives. A zeotropic
 * blend's isotherm is not level at its critical point (R-407C: slope 0.013 RT), for bubble and dew
 * lines meet there away from the top of the two-phase envelope. */
static void critical_points_are_the_papers(void **state)
{
    (void)state;
    for (int i = 0; i < COUNT(CRITICAL); i++) {
        const critical_row *c = &CRITICAL[i];
        check_abs(c->name, ct_refrigerant_T_crit(fluid[i]), c->T, 1e-9);
        check_rel(c->name, ct_refrigerant_p_crit(fluid[i]), c->p * 1e6, 1e-9);
        ct_isotherm iso = ct_helmholtz_isotherm(EQUATIONS[i], c->T);
        ct_state s = ct_helmholtz_state(&iso, EQUATIONS[i]->rho_red * EQUATIONS[i]->M);
        check_rel(c->name, s.p, c->p * 1e6, 1.2e-4);
        print_message("  %-7s critical pressure off by %.1e, slope %.1e RT\n", c->name,
                      s.p / (c->p * 1e6) - 1,
                      s.dp_drho / (EQUATIONS[i]->R / EQUATIONS[i]->M * c->T));
        if (EQUATIONS[i]->pseudo_pure) continue;
        check_abs(c->name, s.dp_drho / (EQUATIONS[i]->R / EQUATIONS[i]->M * c->T), 0, 2e-3);
    }
}

typedef struct {
    const char *name;
    bool dew;
    double C; /* at 101.325 kPa */
} boiling_row;

/* ASHRAE Standard 34 / Fundamentals ch. 29 normal boiling points: from memory, unconfirmed, hence
 * 0.3 K: two editions differ by 0.2 K for the blends. */
static const boiling_row BOILING[] = {
    {"R-22", false, -40.8},  {"R-32", false, -51.7},   {"R-410A", false, -51.6},
    {"R-410A", true, -51.5}, {"R-407C", false, -43.8}, {"R-407C", true, -36.7},
};

static void normal_boiling_points_are_plausible(void **state)
{
    (void)state;
    for (int i = 0; i < COUNT(BOILING); i++) {
        const ct_helmholtz_model *m = by_name(BOILING[i].name)->model;
        double T = BOILING[i].C + 273.15, p[2];
        for (int k = 0; k < 2; k++) {
            ct_isotherm iso = ct_helmholtz_isotherm(m, T + (k ? 0.3 : -0.3));
            ct_saturation q = ct_helmholtz_saturation(&iso);
            p[k] = BOILING[i].dew ? q.p_dew : q.p_bubble;
        }
        check_is(BOILING[i].name, p[0], <, 101325);
        check_is(BOILING[i].name, p[1], >, 101325);
    }
}

/* ASHRAE Fundamentals ch. 30, R-22 at 40 F: h_g - h_f about 86.7 Btu/lb (an older edition's
 * equation; from memory, unconfirmed), hence 1 %. */
static void latent_heat_is_plausible(void **state)
{
    (void)state;
    double T = K_from_F(40), latent = vapor_of(fluid[0], T, 0).h - liquid_of(fluid[0], T, 0).h;
    check_rel("R-22 latent heat at 40 F", latent / 2326.0, 86.7, 0.01);
}

/* IIR reference state, h = 200 kJ/kg and s = 1 kJ/kg K for saturated liquid at 0 C: a convention of
 * the papers' ideal parts. The constants are printed to 6 digits or so, hence 10 J/kg. */
static void reference_state_is_iir(void **state)
{
    (void)state;
    for (int i = 0; i < FLUIDS; i++) {
        ct_isotherm iso = ct_helmholtz_isotherm(EQUATIONS[i], 273.15);
        ct_state l = ct_helmholtz_state(&iso, ct_helmholtz_saturation(&iso).rho_liquid);
        check_abs(NAMES[i], l.h, 200e3, 10);
        check_abs(NAMES[i], l.s, 1000, 0.05);
        check_abs(NAMES[i], liquid_of(fluid[i], 273.15, 0).h, 200e3, 10);
    }
}

/* AHRI 540 form with an openly published R-410A coefficient set (maker not given), 45 F / 130 F
 * dew, 20 F superheat: 459.4479 lbm/h. Volume flow and density ratio worked from Lemmon's equation
 * in a separate program; tolerance half the last digit shown. */
static void suction_density_turns_map_flow_into_volume(void **state)
{
    (void)state;
    double T = K_from_F(45);
    ct_vapor rated = vapor_of(fluid[1], T, 20 / 1.8), cooler = vapor_of(fluid[1], T, 10 / 1.8);
    check_abs("suction volume, m3/h", 459.4479 * LBM_H / rated.rho * 3600, 5.864, 0.0005);
    check_abs("density ratio 10 F / 20 F", cooler.rho / rated.rho, 1.03797, 0.000005);
}

static void blends_glide_and_pure_fluids_do_not(void **state)
{
    (void)state;
    for (int i = 0; i < FLUIDS; i++)
        for (double T = 233.15; T <= 343.15; T += 5) {
            double dew = dew_of(fluid[i], T), bubble = bubble_of(fluid[i], T);
            if (ct_refrigerant_is_blend(fluid[i]))
                check_is(NAMES[i], bubble, >, dew);
            else
                check_rel(NAMES[i], bubble, dew, 1e-12);
        }
    check_is("R-407C glides more", bubble_of(fluid[2], 280) / dew_of(fluid[2], 280), >, 1.15);
}

/* A pseudo-pure equation and its pressure curves are two fits of one fluid: Gibbs energies of the
 * phases on the curves may differ by no more than the width between the curves. */
static void blend_curves_straddle_the_equation(void **state)
{
    (void)state;
    for (int i = 1; i <= 2; i++)
        for (double T = 240; T <= 335; T += 5) {
            ct_isotherm iso = ct_helmholtz_isotherm(EQUATIONS[i], T);
            ct_saturation q = ct_helmholtz_saturation(&iso);
            ct_state l = ct_helmholtz_state(&iso, q.rho_liquid),
                     v = ct_helmholtz_state(&iso, q.rho_vapor);
            double gap =
                fabs(l.h - v.h - T * (l.s - v.s)) * EQUATIONS[i]->M / (EQUATIONS[i]->R * T);
            check_is(NAMES[i], gap, <, 1.2 * log(q.p_bubble / q.p_dew) + 2e-3);
        }
}

static void names_classes_and_spellings(void **state)
{
    (void)state;
    static const char *const spelt[] = {"r22", "R410a", "r-407c", "R32", "r 454b"};
    static const char *const safety[] = {"A1", "A1", "A1", "A2L", "A2L"}; /* ASHRAE 34 */
    check_is("a row for each", COUNT(spelt), ==, FLUIDS);
    for (int i = 0; i < COUNT(spelt); i++) {
        ct_refrigerant *r = NULL;
        check_is(spelt[i], ct_refrigerant_make(spelt[i], &r, NULL), ==, CT_OK);
        assert_string_equal(ct_refrigerant_name(r), NAMES[i]);
        assert_string_equal(ct_refrigerant_safety(r), safety[i]);
        ct_refrigerant_free(r);
    }
    ct_refrigerant_free(NULL);
}

/* ---- laws ---- */

/* On the equation: cp, drho/dT and dp/drho are what differences say. */
static void equation_derivatives_agree_with_differences(void **state)
{
    (void)state;
    for (int k = 0; k < 400; k++) {
        const ct_helmholtz_model *m = EQUATIONS[k % FLUIDS];
        double T = between(250, 330), d = 1e-3;
        ct_isotherm sat = ct_helmholtz_isotherm(m, T), a, b, mid = ct_helmholtz_isotherm(m, T + 5);
        double p = ct_helmholtz_saturation(&sat).p_dew;
        a = ct_helmholtz_isotherm(m, T + 5 - d);
        b = ct_helmholtz_isotherm(m, T + 5 + d);
        ct_state s = ct_helmholtz_state(&mid, ct_helmholtz_density_vapor(&mid, p));
        ct_state lo = ct_helmholtz_state(&a, ct_helmholtz_density_vapor(&a, p));
        ct_state hi = ct_helmholtz_state(&b, ct_helmholtz_density_vapor(&b, p));
        check_rel("p", s.p, p, 1e-10);
        check_rel("cp", (hi.h - lo.h) / (2 * d), s.cp, 1e-6);
        check_rel("T ds/dT", (T + 5) * (hi.s - lo.s) / (2 * d), s.cp, 1e-6);
        check_rel("drho/dT", (hi.rho - lo.rho) / (2 * d), s.drho_dT, 1e-6);
        double up = ct_helmholtz_state(&mid, s.rho * (1 + 1e-5)).p,
               down = ct_helmholtz_state(&mid, s.rho * (1 - 1e-5)).p;
        check_rel("dp/drho", (up - down) / (2e-5 * s.rho), s.dp_drho, 1e-6);
    }
}

/* On the tables: dh = T ds + v dp along saturation and along superheat; cp = dh/dT. The tolerance
 * is the 0.02 % promised; the top 5 K of R-410A, where cp grows tenfold, are left to the next
 * group. */
static void tables_obey_the_laws(void **state)
{
    (void)state;
    const double d = 0.01;
    for (int k = 0; k < 2000; k++) {
        const ct_refrigerant *r = fluid[k % FLUIDS];
        double T = between(243.15, 338.15), sh = between(d, 40);
        ct_vapor v = vapor_of(r, T, sh), a = vapor_of(r, T, sh - d), b = vapor_of(r, T, sh + d);
        check_rel("cp = dh/dT", (b.h - a.h) / (2 * d), v.cp, 2e-4);
        check_rel("dh = T ds", b.h - a.h, (T + sh) * (b.s - a.s), 2e-4);
        a = vapor_of(r, T - d, sh);
        b = vapor_of(r, T + d, sh);
        double dp = dew_of(r, T + d) - dew_of(r, T - d);
        check_abs("dh = T ds + v dp", b.h - a.h - (T + sh) * (b.s - a.s), dp / v.rho,
                  2e-4 * dp / v.rho);
    }
}

static void pure_fluids_obey_clausius_clapeyron(void **state)
{
    (void)state;
    const double d = 0.01;
    for (int k = 0; k < 200; k++) {
        const ct_refrigerant *r = fluid[k % 2 ? 3 : 0];
        double T = between(243.15, 343.1);
        ct_vapor v = vapor_of(r, T, 0);
        ct_liquid l = liquid_of(r, T, 0);
        double slope = (dew_of(r, T + d) - dew_of(r, T - d)) / (2 * d);
        check_rel("dp/dT", slope, (v.h - l.h) / (T * (1 / v.rho - 1 / l.rho)), 5e-5);
    }
}

/* ---- tables against the equation ---- */

enum { P_DEW, P_BUBBLE, RHO, H, S, CP, RHO_L, H_L, CP_L, WORK, SUPERHEAT_K, KINDS };
static const char *const KIND[KINDS] = {
    "dew pressure",  "bubble pressure", "vapor density",        "vapor enthalpy / latent heat",
    "vapor entropy", "vapor cp",        "liquid density",       "liquid enthalpy / latent heat",
    "liquid cp",     "isentropic work", "superheat after it, K"};

/* Keeps the largest; a NaN stays. */
static void keep(double *worst, double error)
{
    if (!(fabs(error) <= *worst)) *worst = fabs(error);
}

/* Off-grid: random, a quarter of the points on saturation or within 2 K of it. */
static void compare_point(const ct_refrigerant *r, double T, double sh, double sc, double *worst)
{
    ct_isotherm sat = ct_helmholtz_isotherm(r->model, T),
                up = ct_helmholtz_isotherm(r->model, T + sh);
    ct_isotherm down = ct_helmholtz_isotherm(r->model, T - sc);
    ct_saturation q = ct_helmholtz_saturation(&sat);
    double latent =
        ct_helmholtz_state(&sat, q.rho_vapor).h - ct_helmholtz_state(&sat, q.rho_liquid).h;
    ct_state ev = ct_helmholtz_state(&up, ct_helmholtz_density_vapor(&up, q.p_dew));
    ct_state el = ct_helmholtz_state(&down, ct_helmholtz_density_liquid(&down, q.p_bubble));
    ct_vapor v = vapor_of(r, T, sh);
    ct_liquid l = liquid_of(r, T, sc);
    const double error[] = {dew_of(r, T) / q.p_dew - 1,
                            bubble_of(r, T) / q.p_bubble - 1,
                            v.rho / ev.rho - 1,
                            (v.h - ev.h) / latent,
                            v.s / ev.s - 1,
                            v.cp / ev.cp - 1,
                            l.rho / el.rho - 1,
                            (l.h - el.h) / latent,
                            l.cp / el.cp - 1};
    for (int k = 0; k < COUNT(error); k++)
        keep(&worst[k], error[k]);
}

/* Temperature of entropy s at pressure p by Newton on the equation (ds/dT = cp/T). */
static ct_state at_entropy(const ct_helmholtz_model *m, double p, double s, double T, double *found)
{
    ct_state x = {0};
    for (int k = 0; k < 30; k++) {
        ct_isotherm iso = ct_helmholtz_isotherm(m, T);
        x = ct_helmholtz_state(&iso, ct_helmholtz_density_vapor(&iso, p));
        *found = T;
        if (fabs(x.s - s) < 1e-9 * s) break;
        T += (s - x.s) * T / x.cp;
    }
    return x;
}

/* Compression from suction to condensing dew temperature at constant entropy. */
static void compare_work(const ct_refrigerant *r, double Te, double sh, double Tc, double *worst)
{
    ct_isotherm evap = ct_helmholtz_isotherm(r->model, Te),
                cond = ct_helmholtz_isotherm(r->model, Tc);
    ct_isotherm suction = ct_helmholtz_isotherm(r->model, Te + sh);
    double pe = ct_helmholtz_saturation(&evap).p_dew, pc = ct_helmholtz_saturation(&cond).p_dew, T2,
           h2, sh2;
    ct_state e1 = ct_helmholtz_state(&suction, ct_helmholtz_density_vapor(&suction, pe));
    ct_vapor v1 = vapor_of(r, Te, sh);
    if (ct_refrigerant_isentropic(r, Tc, v1.s, &h2, &sh2, NULL)) return;
    ct_state e2 = at_entropy(r->model, pc, e1.s, Tc + sh2, &T2);
    keep(&worst[WORK], (h2 - v1.h) / (e2.h - e1.h) - 1);
    keep(&worst[SUPERHEAT_K], T2 - Tc - sh2);
}

/* To rounding: the compiler may keep other digits than the one that made them. */
static void tables_compiled_in_are_those_worked_out_here(void **state)
{
    static ct_refrigerant_tables t;
    (void)state;
    for (int i = 0; i < FLUIDS; i++) {
        const double *here = (const double *)&t, *there = (const double *)fluid[i]->tables;
        assert_int_equal(ct_refrigerant_tables_build(fluid[i]->row, &t, NULL), CT_OK);
        for (size_t k = 0; k < sizeof t / sizeof *here; k++)
            if (!(fabs(here[k] - there[k]) <= 1e-9 * fabs(here[k]) + 1e-9))
                fail_msg("%s, number %zu: %.17g made, %.17g here", NAMES[i], k, there[k], here[k]);
    }
}

static void tables_agree_with_the_equation(void **state)
{
    (void)state;
    for (int i = 0; i < FLUIDS; i++) {
        double worst[KINDS] = {0};
        for (int k = 0; k < 1500; k++) {
            double T = k % 3 ? between(243.15, 343.15) : between(333.15, 343.15);
            double near = k % 4 == 0 ? 0 : k % 4 == 1 ? 0.05 : 1;
            compare_point(fluid[i], T, 40 * near * any(), 30 * near * any(), worst);
            compare_work(fluid[i], between(243.15, 288.15), between(0, 20), between(303.15, 343.15),
                         worst);
        }
        compare_point(fluid[i], 343.15, 0, 0, worst);
        compare_point(fluid[i], 243.15, 40, 30, worst);
        for (int k = 0; k < KINDS; k++) {
            print_message("  %-7s %-30s %.1e\n", NAMES[i], KIND[k], worst[k]);
            check_abs(KIND[k], worst[k], 0, k == SUPERHEAT_K ? 2e-3 : 2e-4);
        }
    }
}

/* The whole table, superheat to its limit: 0.02 % holds there too. */
static void far_corners_agree_with_the_equation(void **state)
{
    (void)state;
    for (int i = 0; i < FLUIDS; i++) {
        double worst[KINDS] = {0};
        for (int k = 0; k < 500; k++)
            compare_point(fluid[i], between(233.15, 343.15),
                          between(0, ct_refrigerant_superheat_max(fluid[i])), between(0, 30),
                          worst);
        compare_point(fluid[i], ct_refrigerant_T_min(fluid[i]), 0, 30, worst);
        compare_point(fluid[i], ct_refrigerant_T_max(fluid[i]),
                      ct_refrigerant_superheat_max(fluid[i]), 30, worst);
        for (int k = 0; k < WORK; k++)
            check_abs(KIND[k], worst[k], 0, 2e-4);
    }
}

/* ---- inverses ---- */

static void pressure_and_temperature_are_inverse(void **state)
{
    (void)state;
    for (int k = 0; k <= 400; k++) {
        const ct_refrigerant *r = fluid[k % FLUIDS];
        double T = k < 4 ? 233.15 : k >= 397 ? 343.15 : between(233.15, 343.15), back = NAN;
        check_is("T dew", ct_refrigerant_T_dew(r, dew_of(r, T), &back, NULL), ==, CT_OK);
        check_abs("T dew", back, T, 1e-8);
        check_is("T bubble", ct_refrigerant_T_bubble(r, bubble_of(r, T), &back, NULL), ==, CT_OK);
        check_abs("T bubble", back, T, 1e-8);
    }
}

/* Entropy of a tabulated state leads back to it, saturation and the far limit included. */
static void isentropic_leads_back(void **state)
{
    (void)state;
    for (int k = 0; k < 400; k++) {
        const ct_refrigerant *r = fluid[k % FLUIDS];
        double most = ct_refrigerant_superheat_max(r), T = between(233.15, 343.15), h, sh;
        double given = k < 40 ? 0 : k < 80 ? most : between(0, most);
        ct_vapor v = vapor_of(r, T, given);
        if (k >= 40 && k < 80)
            v.s -= 1e-6 * v.s; /* two tables of one limit differ by their error */
        check_is("isentropic", ct_refrigerant_isentropic(r, T, v.s, &h, &sh, NULL), ==, CT_OK);
        check_abs("isentropic h", h, v.h, 2e-5 * v.h);
        check_abs("isentropic superheat", sh, given, 0.01);
    }
}

/* ---- faults ---- */

static void unknown_names_are_reported(void **state)
{
    (void)state;
    static const char *const bad[] = {"", "R-", "R-22B", "2", "R-427A", "R-12", NULL};
    for (int i = 0; i < COUNT(bad); i++) {
        ct_fault fault = {0};
        ct_refrigerant *r = NULL;
        check_is("unknown name", ct_refrigerant_make(bad[i], &r, &fault), ==, CT_INPUT);
        check_that("no refrigerant", r == NULL);
        check_has("lists the known", fault.what, "R-22, R-410A, R-407C, R-32, R-454B");
        check_is("fault NULL", ct_refrigerant_make(bad[i], &r, NULL), ==, CT_INPUT);
    }
}

/* Every look-up with one argument wrong: CT_RANGE, outputs untouched. */
static void ranges_are_told(void **state)
{
    (void)state;
    static const double bad_T[] = {NAN, INFINITY, -INFINITY, 0, 233.149, 343.151, 400};
    const ct_refrigerant *r = fluid[1];
    for (int i = 0; i < COUNT(bad_T); i++) {
        ct_fault f = {0};
        double out = 7, out2 = 7;
        ct_vapor v = {.h = 7};
        ct_liquid l = {.h = 7};
        check_is("p_dew", ct_refrigerant_p_dew(r, bad_T[i], &out, &f), ==, CT_RANGE);
        check_has("story", f.what, "-40.0 to 158.0 F");
        check_is("story", f.status, ==, CT_RANGE);
        check_is("p_bubble", ct_refrigerant_p_bubble(r, bad_T[i], &out, &f), ==, CT_RANGE);
        check_is("vapor", ct_refrigerant_vapor(r, bad_T[i], 5, &v, &f), ==, CT_RANGE);
        check_is("liquid", ct_refrigerant_liquid(r, bad_T[i], 5, &l, NULL), ==, CT_RANGE);
        check_is("isentropic", ct_refrigerant_isentropic(r, bad_T[i], 1800, &out, &out2, &f), ==,
                 CT_RANGE);
        check_is("untouched", out, ==, 7);
        check_is("untouched", out2, ==, 7);
        check_is("untouched", v.h, ==, 7);
        check_is("untouched", l.h, ==, 7);
    }
}

static void widths_and_pressures_are_told(void **state)
{
    (void)state;
    static const double bad_width[] = {NAN, -1e-6, 111, INFINITY, -INFINITY};
    static const double bad_p[] = {NAN, 0, -1e5, 1e4, 1e7, INFINITY, -INFINITY};
    static const double bad_s[] = {NAN, 0, 1500, 3000, INFINITY, -INFINITY};
    const ct_refrigerant *r = fluid[1];
    double out = 7, out2 = 7;
    for (int i = 0; i < COUNT(bad_width); i++) {
        ct_vapor v = {.h = 7};
        ct_liquid l = {.h = 7};
        check_is("superheat", ct_refrigerant_vapor(r, 280, bad_width[i], &v, NULL), ==, CT_RANGE);
        check_is("subcooling", ct_refrigerant_liquid(r, 310, bad_width[i], &l, NULL), ==, CT_RANGE);
        check_is("untouched", v.h, ==, 7);
        check_is("untouched", l.h, ==, 7);
    }
    for (int i = 0; i < COUNT(bad_p); i++) {
        check_is("T_dew", ct_refrigerant_T_dew(r, bad_p[i], &out, NULL), ==, CT_RANGE);
        check_is("T_bubble", ct_refrigerant_T_bubble(r, bad_p[i], &out, NULL), ==, CT_RANGE);
    }
    for (int i = 0; i < COUNT(bad_s); i++)
        check_is("entropy", ct_refrigerant_isentropic(r, 310, bad_s[i], &out, &out2, NULL), ==,
                 CT_RANGE);
    check_is("untouched", out, ==, 7);
    check_is("untouched", out2, ==, 7);
}

/* ---- read-only, threads, speed ---- */

/* A sum over many look-ups: equal sums mean equal answers to the last bit. */
static double many_lookups(const ct_refrigerant *r)
{
    double sum = 0, h = 0, sh = 0, p = 0, T = 0;
    for (int k = 0; k < 20000; k++) {
        double Tk = 243.15 + 0.004999 * k, shk = (k % 97) * 0.4;
        ct_vapor v;
        ct_liquid l;
        if (ct_refrigerant_vapor(r, Tk, shk, &v, NULL) ||
            ct_refrigerant_liquid(r, Tk, shk * 0.7, &l, NULL) ||
            ct_refrigerant_isentropic(r, Tk, v.s, &h, &sh, NULL) ||
            ct_refrigerant_p_dew(r, Tk, &p, NULL) || ct_refrigerant_T_bubble(r, p, &T, NULL))
            continue;
        sum += v.rho + v.h + v.s + v.cp + l.h + l.rho + l.cp + h + sh + p + T;
    }
    return sum;
}

typedef struct {
    const ct_refrigerant *r;
    double sum;
} job;

static void *run_job(void *arg)
{
    job *j = arg;
    j->sum = many_lookups(j->r);
    return NULL;
}

static void threads_share_a_refrigerant(void **state)
{
    (void)state;
    pthread_t thread[4];
    job jobs[4];
    double alone = many_lookups(fluid[1]);
    for (int i = 0; i < 4; i++) {
        jobs[i] = (job){fluid[1], 0};
        assert_int_equal(pthread_create(&thread[i], NULL, run_job, &jobs[i]), 0);
    }
    for (int i = 0; i < 4; i++) {
        assert_int_equal(pthread_join(thread[i], NULL), 0);
        check_is("same answers", jobs[i].sum, ==, alone);
    }
}

static void lookups_write_and_allocate_nothing(void **state)
{
    (void)state;
    ct_refrigerant *copy = malloc(sizeof *copy);
    assert_non_null(copy);
    memcpy(copy, fluid[0], sizeof *copy);
    size_t before = mallinfo2().uordblks;
    check_that("finite", isfinite(many_lookups(fluid[0])));
    check_is("nothing allocated", mallinfo2().uordblks, ==, before);
    check_that("nothing written", memcmp(copy, fluid[0], sizeof *copy) == 0);
    free(copy);
}

static double now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* The limit is loose, for slow and shared machines and for builds with checkers; the figures print.
 */
static void making_is_fast(void **state)
{
    (void)state;
    for (int i = 0; i < FLUIDS; i++) {
        double best = INFINITY;
        for (int k = 0; k < 5; k++) {
            ct_refrigerant *r = NULL;
            double start = now();
            check_is("made", ct_refrigerant_make(NAMES[i], &r, NULL), ==, CT_OK);
            best = fmin(best, now() - start);
            ct_refrigerant_free(r);
        }
        print_message("  %-7s made in %.2f ms\n", NAMES[i], best * 1e3);
        check_is("made within 0.5 s", best, <, 0.5);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bubble_pressures_match_the_chart),
        cmocka_unit_test(saturation_matches_worked_values),
        cmocka_unit_test(mixture_matches_worked_values),
        cmocka_unit_test(mixture_equation),
        cmocka_unit_test(critical_points_are_the_papers),
        cmocka_unit_test(normal_boiling_points_are_plausible),
        cmocka_unit_test(latent_heat_is_plausible),
        cmocka_unit_test(reference_state_is_iir),
        cmocka_unit_test(suction_density_turns_map_flow_into_volume),
        cmocka_unit_test(blends_glide_and_pure_fluids_do_not),
        cmocka_unit_test(blend_curves_straddle_the_equation),
        cmocka_unit_test(names_classes_and_spellings),
        cmocka_unit_test(equation_derivatives_agree_with_differences),
        cmocka_unit_test(tables_obey_the_laws),
        cmocka_unit_test(pure_fluids_obey_clausius_clapeyron),
        cmocka_unit_test(tables_compiled_in_are_those_worked_out_here),
        cmocka_unit_test(tables_agree_with_the_equation),
        cmocka_unit_test(far_corners_agree_with_the_equation),
        cmocka_unit_test(pressure_and_temperature_are_inverse),
        cmocka_unit_test(isentropic_leads_back),
        cmocka_unit_test(unknown_names_are_reported),
        cmocka_unit_test(ranges_are_told),
        cmocka_unit_test(widths_and_pressures_are_told),
        cmocka_unit_test(threads_share_a_refrigerant),
        cmocka_unit_test(lookups_write_and_allocate_nothing),
        cmocka_unit_test(making_is_fast),
    };
    return cmocka_run_group_tests(tests, make_all, free_all);
}
