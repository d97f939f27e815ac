/* Air side of the coil against the published correlations, worked independently, and against what
 * must hold for any coil. */
#include <gsl/gsl_sf_bessel.h>
#include <string.h>

#include "base/units.h"
#include "case/case.h" /* the geometry must be usable from a case */
#include "check.h"
#include "part/finside.h"

/* The coil of all worked rows: 14 fins/in of 0.115 mm, 3/8 in tubes at 25.4 x 22 mm. */
static ct_coil_geometry coil(int rows, ct_fin fin)
{
    return (ct_coil_geometry){.face = 0.3,
                              .rows = rows,
                              .fin_pitch = 0.0254 / 14,
                              .fin_thick = 0.115e-3,
                              .fin_k = 220,
                              .tube_od = 9.525e-3,
                              .tube_wall = 0.33e-3,
                              .pitch_t = 25.4e-3,
                              .pitch_l = 22e-3,
                              .circuits = 5,
                              .fin = fin};
}

static ct_fin_air air_at(double V)
{
    return (ct_fin_air){.V = V, .rho = 1.177, .mu = 1.846e-5, .k = 0.02624, .cp = 1006};
}

static ct_finside_out run(const ct_coil_geometry *g, double V)
{
    ct_fault fault;
    ct_fin_areas a;
    ct_finside_out o;
    ct_fin_air air = air_at(V);
    assert_int_equal(ct_finside_areas(g, &a, &fault), CT_OK);
    assert_int_equal(ct_finside(g, &a, &air, &o, &fault), CT_OK);
    return o;
}

/* Wang, Chi & Chang 2000 worked outside this program for the coil above. The tolerances are half
 * the last printed digit: a check of the transcription, not evidence about coils. */
static void plain_fins(void **state)
{
    static const struct {
        const char *name;
        double V;
        int N;
        double Re, j, f, h, dp;
    } row[] = {
        {"1.0 m/s, 1 row", 1.0, 1, 1078.1, 0.020240, 0.058869, 52.31, 3.99},
        {"1.0 m/s, 3 rows", 1.0, 3, 1078.1, 0.017203, 0.060984, 44.46, 12.41},
        {"1.5 m/s, 3 rows", 1.5, 3, 1617.2, 0.013853, 0.048391, 53.70, 22.16},
        {"2.0 m/s, 3 rows", 2.0, 3, 2156.3, 0.011866, 0.041810, 61.34, 34.04},
        {"2.0 m/s, 4 rows", 2.0, 4, 2156.3, 0.011321, 0.042014, 58.52, 45.61},
        {"2.5 m/s, 3 rows", 2.5, 3, 2695.3, 0.010517, 0.037668, 67.95, 47.92},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        ct_coil_geometry g = coil(row[i].N, CT_FIN_PLAIN);
        ct_finside_out o = run(&g, row[i].V);
        check_abs(row[i].name, o.Re, row[i].Re, 0.0501);
        check_abs(row[i].name, o.j, row[i].j, 0.501e-6);
        check_abs(row[i].name, o.f, row[i].f, 0.501e-6);
        check_abs(row[i].name, o.film, row[i].h, 0.00501);
        check_abs(row[i].name, o.dp, row[i].dp, 0.00501);
        check_that(row[i].name, o.in_range);
    }
}

/* Wang, Fu & Chang 1997 (wavy) rounded to the last digit; Wang, Tsai & Lu 1998 (convex-louver) cut
 * off after it, hence the middle of the interval. */
static void enhanced_fins(void **state)
{
    static const struct {
        const char *name;
        ct_fin fin;
        double V, h, tol;
    } row[] = {
        {"wavy 1.0", CT_FIN_WAVY, 1.0, 53.00, 0.00501},
        {"wavy 1.5", CT_FIN_WAVY, 1.5, 67.42, 0.00501},
        {"wavy 2.0", CT_FIN_WAVY, 2.0, 80.40, 0.00501},
        {"wavy 2.5", CT_FIN_WAVY, 2.5, 92.43, 0.00501},
        {"convex-louver 1.0", CT_FIN_LOUVER_WAVY, 1.0, 70.65, 0.0501},
        {"convex-louver 1.5", CT_FIN_LOUVER_WAVY, 1.5, 88.25, 0.0501},
        {"convex-louver 2.0", CT_FIN_LOUVER_WAVY, 2.0, 103.35, 0.0501},
        {"convex-louver 2.5", CT_FIN_LOUVER_WAVY, 2.5, 116.85, 0.0501},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        ct_coil_geometry g = coil(3, row[i].fin);
        check_abs(row[i].name, run(&g, row[i].V).film, row[i].h, row[i].tol);
    }
}

/* The unit cell by hand: one tube, one fin gap, per row. */
static void areas(void **state)
{
    (void)state;
    ct_coil_geometry g = coil(3, CT_FIN_PLAIN);
    ct_fin_areas a;
    assert_int_equal(ct_finside_areas(&g, &a, NULL), CT_OK);
    check_abs("free-flow ratio", a.sigma, 0.5769, 0.501e-4);   /* printed digits */
    check_abs("hydraulic diameter", a.Dh, 2.293e-3, 0.501e-6); /* printed digits */
    check_abs("area per face and row", a.Ao / 0.3 / 3, 22.138, 0.501e-3);
    /* cell 25.4 mm x 1.814286 mm of face: fin 2 (558.8 - pi 9.755^2/4) = 968.12 mm2,
     * collar pi 9.755 x 1.699286 = 52.077 mm2 */
    check_rel("fin area by hand", a.Af / a.Ao, 968.12 / (968.12 + 52.077), 2e-5);
    /* tubes: 0.3 m2 of face is 11.811 m of tube per row; inside 8.865 mm */
    check_rel("tube length", a.tube_length, 3 * 0.3 / 0.0254, 1e-12);
    check_rel("inside area", a.Ai, 35.43307 * M_PI * 8.865e-3, 1e-6);
    check_rel("bare tube area", a.At, 35.43307 * M_PI * 9.525e-3, 1e-6);
    check_rel("path length", a.circuit_length, 35.43307 / 5, 1e-6);
    check_rel("path area", a.circuit_area, 61.723e-6, 1e-5);
    /* public coil notes put inside over outside area near 0.07 (building-energy coil models) */
    check_abs("inside to outside", a.Ai / a.Ao, 0.07, 0.03);
}

static double efficiency(const ct_coil_geometry *g, double h)
{
    ct_fin_shape shape = ct_finside_fin(g);
    ct_fin_metal m = ct_fin_make(&shape, h, g->fin_k * g->fin_thick);
    return ct_fin_dry_efficiency(&m);
}

/* Schmidt's closed form, tanh(m r phi)/(m r phi), worked outside this program for the same coil. It
 * lies up to 1.6 % under the circular fin it is replaced by. */
static void schmidt(void **state)
{
    static const double row[][2] = {{40, 0.87719}, {60, 0.82837}, {120, 0.71495}, {180, 0.63413}};
    (void)state;
    ct_coil_geometry g = coil(3, CT_FIN_PLAIN);
    for (size_t i = 0; i < 4; i++) {
        check_rel("Schmidt", efficiency(&g, row[i][0]), row[i][1] * 1.008, 0.0085);
        check_is("not below it", efficiency(&g, row[i][0]), >, row[i][1]);
    }
    check_abs("no film, no loss", efficiency(&g, 0), 1, 0);
}

/* Exact circular fin with insulated rim (Gardner 1945) of the same radii. */
static double gardner(double m, double r1, double r2)
{
    double a = m * r1, b = m * r2;
    double top =
        gsl_sf_bessel_K1(a) * gsl_sf_bessel_I1(b) - gsl_sf_bessel_I1(a) * gsl_sf_bessel_K1(b);
    double low =
        gsl_sf_bessel_I0(a) * gsl_sf_bessel_K1(b) + gsl_sf_bessel_K0(a) * gsl_sf_bessel_I1(b);
    return 2 * r1 / (m * (r2 * r2 - r1 * r1)) * top / low;
}

/* The circle equivalent to the hexagon (0.8 to 2 % above the circle of equal area at these
 * pitches), and the fin of that circle, with Bessel functions. */
static void fin_against_exact(void **state)
{
    (void)state;
    for (double Pl = 0.0191; Pl < 0.0261; Pl += 0.0035)
        for (double h = 20; h < 220; h += 50) {
            ct_coil_geometry g = coil(3, CT_FIN_PLAIN);
            g.pitch_l = Pl;
            double r1 = g.tube_od / 2 + g.fin_thick;
            double XT = g.pitch_t / 2, XD = hypot(Pl, XT) / 2;
            double r2 = 1.27 * XT * sqrt(XD / XT - 0.3);
            double exact = gardner(sqrt(2 * h / (g.fin_k * g.fin_thick)), r1, r2);
            check_rel("radius for the hexagon", r2, sqrt(g.pitch_t * Pl / M_PI), 0.02);
            check_rel("circular fin", efficiency(&g, h), exact, 1e-3);
        }
}

/* Exponents the correlation implies over 1 to 3 m/s, two printed digits; worked outside. */
static void exponent(void **state)
{
    static const double row[] = {0.34, 0.38, 0.46, 0.52};
    (void)state;
    for (int N = 1; N <= 4; N++) {
        ct_coil_geometry g = coil(N, CT_FIN_PLAIN);
        double mean = log(run(&g, 3).film / run(&g, 1).film) / log(3);
        check_abs("mean exponent", mean, row[N - 1], 0.00501);
        ct_fin_areas a;
        double sum = 0, n;
        ct_finside_areas(&g, &a, NULL);
        for (int i = 0; i < 40; i++) { /* the local exponent must integrate to the same ratio */
            ct_fin_air air = air_at(exp((i + 0.5) / 40 * log(3)));
            assert_int_equal(ct_finside_exponent(&g, &a, &air, &n, NULL), CT_OK);
            sum += n / 40;
        }
        check_abs("local exponent", sum, mean, 2e-4);
    }
}

/* No kink anywhere a sweep may go: h and dp rise with velocity, second differences of ln h stay
 * small (a jump of 0.5 % would fail). */
static void smooth(void **state)
{
    (void)state;
    for (int fin = 0; fin < 3; fin++)
        for (int N = 1; N <= 6; N++) {
            ct_coil_geometry g = coil(N, (ct_fin)fin);
            ct_finside_out p = run(&g, 0.40), q = run(&g, 0.41);
            for (double V = 0.42; V < 4; V += 0.01) {
                ct_finside_out o = run(&g, V);
                check_that("finite", isfinite(o.film));
                check_that("finite", isfinite(o.dp));
                check_is("h rises", o.film, >, q.film);
                check_is("h rises", q.film, >, p.film);
                check_is("dp rises", o.dp, >, q.dp);
                check_abs("no kink in h", log(o.film * p.film / (q.film * q.film)), 0, 2.5e-3);
                check_abs("no kink in dp", log(o.dp * p.dp / (q.dp * q.dp)), 0, 2.5e-3);
                p = q;
                q = o;
            }
        }
}

static void trends(void **state)
{
    (void)state;
    ct_coil_geometry g3 = coil(3, CT_FIN_PLAIN), g4 = coil(4, CT_FIN_PLAIN);
    ct_coil_geometry wavy = coil(3, CT_FIN_WAVY), louver = coil(3, CT_FIN_LOUVER_WAVY);
    ct_fin_areas a3, a4;
    ct_finside_areas(&g3, &a3, NULL);
    ct_finside_areas(&g4, &a4, NULL);
    check_is("more rows, more conductance", run(&g4, 1.5).film * a4.Ao, >,
             run(&g3, 1.5).film * a3.Ao);
    check_is("plain < wavy < louver", run(&g3, 1.5).film, <, run(&wavy, 1.5).film);
    check_is("plain < wavy < louver", run(&wavy, 1.5).film, <, run(&louver, 1.5).film);
    check_is("a wave costs pressure", run(&wavy, 1.5).dp, >, run(&g3, 1.5).dp);
    check_is("so does a louver", run(&louver, 1.5).dp, >, run(&wavy, 1.5).dp);
    ct_coil_geometry thick = g3;
    thick.fin_thick = 0.15e-3;
    check_is("thicker fins carry better", efficiency(&thick, 60), >, efficiency(&g3, 60));
}

/* Air at 300 K and 1 atm from the table in Incropera & DeWitt, appendix A (from memory): mu
 * 184.6e-7, k 26.3e-3, rho 1.1614; 250 K: 159.6e-7, 22.3e-3; 350 K: 208.2e-7, 30.0e-3. 0.7 %: k's
 * last digit and Sutherland's own fit. */
static void air_properties(void **state)
{
    static const double row[][3] = {
        {250, 159.6e-7, 22.3e-3}, {300, 184.6e-7, 26.3e-3}, {350, 208.2e-7, 30.0e-3}};
    (void)state;
    for (size_t i = 0; i < 3; i++) {
        ct_fin_air a = ct_finside_air(row[i][0], 0, CT_ATM_PA, 1);
        check_rel("viscosity", a.mu, row[i][1], 0.007);
        check_rel("conductivity", a.k, row[i][2], 0.007);
    }
    check_rel("density", ct_finside_air(300, 0, CT_ATM_PA, 1).rho, 1.1614, 0.015);
    /* ASHRAE psychrometrics at 80 F, W 0.0111659: v 0.86459 m3 per kg of dry air */
    check_rel("moist density", ct_finside_air(299.8167, 0.0111659, CT_ATM_PA, 1).rho,
              1.0111659 / 0.86459, 2e-5);
}

static void refuses(void **state)
{
    (void)state;
    struct {
        const char *name;
        ct_coil_geometry g;
        ct_status want;
        const char *word;
    } row[10];
    for (size_t i = 0; i < 10; i++)
        row[i].g = coil(3, CT_FIN_PLAIN);
#define ROW(i, n, set, s, w) row[i].name = n, row[i].g.set, row[i].want = s, row[i].word = w
    ROW(0, "rows", rows = 7, CT_RANGE, "rows");
    ROW(1, "pitch", fin_pitch = 0.5e-3, CT_RANGE, "fin pitch");
    ROW(2, "tube", tube_od = 16e-3, CT_RANGE, "tube diameter");
    ROW(3, "face", face = 0, CT_RANGE, "face");
    ROW(4, "NaN", pitch_l = NAN, CT_RANGE, "along");
    ROW(5, "wall", tube_wall = -1, CT_RANGE, "wall");
    ROW(6, "circuits", circuits = 0, CT_RANGE, "circuits");
    ROW(7, "kind", fin = (ct_fin)9, CT_INPUT, "kind of fin");
    ROW(8, "steel?", fin_k = 5, CT_RANGE, "conductivity");
    ROW(9, "thick", fin_thick = 0.6e-3, CT_RANGE, "thickness");
#undef ROW
    for (size_t i = 0; i < 10; i++) {
        ct_fault fault = {0};
        ct_fin_areas a = {.Ao = -1};
        check_is(row[i].name, ct_finside_areas(&row[i].g, &a, &fault), ==, row[i].want);
        check_has(row[i].name, fault.what, row[i].word);
        check_abs(row[i].name, a.Ao, -1, 0);
    }
    /* The ends of the ranges, typed in inches, belong to them. */
    ct_coil_geometry g = coil(3, CT_FIN_PLAIN);
    g.pitch_l = 0.5 * 0.0254;
    assert_int_equal(ct_finside_check(&g, NULL), CT_OK);
}

/* Slightly outside the data: flagged. Far outside or senseless: refused, output untouched. */
static void extrapolation(void **state)
{
    (void)state;
    ct_coil_geometry g = coil(3, CT_FIN_PLAIN);
    ct_fin_areas a;
    ct_finside_areas(&g, &a, NULL);
    ct_finside_out o = run(&g, 0.25);
    check_that("flagged", !o.in_range);
    check_is("flagged", o.film, >, 0);
    const double bad[] = {0, -1, NAN, INFINITY, 0.05, 40};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        ct_fin_air air = air_at(bad[i]);
        ct_fault fault = {0};
        ct_finside_out untouched = {.film = -7};
        double n = -7;
        ct_status s = ct_finside(&g, &a, &air, &untouched, &fault);
        check_is("refused", s, ==, (i < 4 ? CT_INPUT : CT_RANGE));
        check_that("says why", fault.what[0]);
        check_is("says why", fault.status, ==, s);
        check_abs("untouched", untouched.film, -7, 0);
        check_is("exponent too", ct_finside_exponent(&g, &a, &air, &n, NULL), ==, s);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(plain_fins),
        cmocka_unit_test(enhanced_fins),
        cmocka_unit_test(areas),
        cmocka_unit_test(schmidt),
        cmocka_unit_test(fin_against_exact),
        cmocka_unit_test(exponent),
        cmocka_unit_test(smooth),
        cmocka_unit_test(trends),
        cmocka_unit_test(air_properties),
        cmocka_unit_test(refuses),
        cmocka_unit_test(extrapolation),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
