/* One fin in moist air against the fin equation integrated by other means: the published form of
 * the equation, solved to six digits in another program, and a Runge-Kutta integration of it here
 * over all airs, bases and lengths a coil meets. */
#include <stdio.h>

#include "check.h"
#include "fluid/air.h"
#include "part/fin.h"

#define K_(F) (((F) + 459.67) / 1.8)
#define P 101325.0

static double W_sat(double T)
{
    double slope;
    return ct_air_W_sat_liquid(T, P, &slope);
}

/* The enthalpy potential: vapor as it is at the surface, the water's own enthalpy left in
 * (Threlkeld 1970; Braun, Klein & Mitchell 1989). Le23 is the Lewis number to the power 2/3. */
static ct_fin_around air_of(double T, double W, double Le23)
{
    ct_fin_around a = {.T = T, .W = W, .p = P, .cp = 1006 + 1860 * W};
    a.lift = 2501000 / Le23;
    a.lift_slope = 1860 / Le23;
    return a;
}

static double dew(const ct_fin_around *a)
{
    return a->W > 0 ? ct_fin_dew_point(a->W, P, 285) : 0;
}

static double phi(const ct_fin_around *a, double T)
{
    double wet = a->W > 0 ? a->W - W_sat(T) : 0;
    return a->T - T + (wet > 0 ? wet * (a->lift + a->lift_slope * (T - 273.15)) / a->cp : 0);
}

/* ---- reference: from the tip by fourth-order Runge-Kutta, tip by secants ---- */

typedef struct {
    const ct_fin_around *air;
    double mu, R; /* R = 1 for a straight fin; else mu is (m r)^2 */
    double total, sensible, T_tip;
} reference;

typedef struct {
    double T, F, total, sensible, area; /* F: face width times slope */
} along;

static along slopes(const reference *r, double s, const along *y)
{
    double reach = r->R > 1 ? r->R - 1 : 1, width = r->R > 1 ? r->R - s * reach : 1;
    double drive = phi(r->air, y->T);
    return (along){y->F / width, -r->mu * reach * reach * width * drive, width * drive,
                   width * (r->air->T - y->T), width};
}

static along moved(const along *y, double h, const along *d)
{
    return (along){y->T + h * d->T, y->F + h * d->F, y->total + h * d->total,
                   y->sensible + h * d->sensible, y->area + h * d->area};
}

static double shoot(reference *r, double T_tip)
{
    enum { N = 200 };
    along y = {.T = T_tip};
    for (int i = 0; i < N; i++) {
        double h = 1.0 / N, s = i * h;
        along k1 = slopes(r, s, &y), a = moved(&y, h / 2, &k1), k2 = slopes(r, s + h / 2, &a);
        along b = moved(&y, h / 2, &k2), k3 = slopes(r, s + h / 2, &b), c = moved(&y, h, &k3);
        along k4 = slopes(r, s + h, &c);
        y = moved(&y, h / 6, &k1);
        y = moved(&y, h / 3, &k2);
        y = moved(&y, h / 3, &k3);
        y = moved(&y, h / 6, &k4);
    }
    r->total = y.total / y.area;
    r->sensible = y.sensible / y.area;
    r->T_tip = T_tip;
    return y.T;
}

static void integrate(reference *r, double T_base)
{
    double x0 = T_base, f0 = shoot(r, x0) - T_base, x = T_base + 0.3 * (r->air->T - T_base);
    for (int i = 0; i < 60; i++) {
        double f = shoot(r, x) - T_base, next = x - f * (x - x0) / (f - f0);
        if (fabs(f) < 1e-9) return;
        x0 = x;
        f0 = f;
        x = fmin(next, r->air->T);
    }
    check_that("reference converged", 0);
}

typedef struct {
    double total, sensible;
} gap;

static void widen(gap *worst, double total, double sensible)
{
    worst->total = fmax(worst->total, fabs(total));
    worst->sensible = fmax(worst->sensible, fabs(sensible));
}

static ct_fin_metal straight(double mL)
{
    ct_fin_shape shape = ct_fin_straight(1);
    return ct_fin_make(&shape, 0.5 * mL * mL, 1);
}

/* ---- integrated cases ---- */

/* The equation in the header, Hyland & Wexler saturation over liquid, 101.325 kPa, by an
 * eighth-order Runge-Kutta method from the tip to a relative 1e-11: six digits. The last two have
 * Le^(2/3) = 0.9077. Within 0.1 %, far inside the 1 % and 0.5 % a strip of the coil may be off. */
static void straight_cases(void **state)
{
    static const struct {
        double T, W, T_base, mL, Le23, eta_total, eta_sensible, tip_C;
    } row[] = {{80, 0.0111659, 45, 0.3, 1, 0.941524, 0.955039, 8.5294},
               {80, 0.0111659, 45, 0.5, 1, 0.852462, 0.889474, 10.4168},
               {80, 0.0111659, 45, 0.8, 1, 0.695497, 0.781713, 13.4375},
               {80, 0.0111659, 50, 0.5, 1, 0.841572, 0.897369, 12.5407},
               {80, 0.0111659, 50, 0.8, 1, 0.679994, 0.799901, 14.8761},
               {80, 0.0111659, 55, 0.5, 1, 0.829575, 0.910552, 14.6216},
               {80, 0.0111659, 55, 0.8, 1, 0.673148, 0.823495, 16.3794},
               {75, 0.0092, 50, 0.5, 1, 0.842504, 0.913584, 11.7830},
               {75, 0.0080, 45, 0.8, 1, 0.708828, 0.825361, 11.5108},
               {75, 0.0065, 45, 0.8, 1, 0.807762, 0.830040, 11.4273},
               {80, 0, 45, 0.8, 1, 0.830046, 0.830046, 12.1281},
               {85, 0.0160, 50, 0.8, 1, 0.673755, 0.734309, 17.5413},
               {80, 0.0111659, 45, 0.5, 0.9077, 0.845755, 0.886334, NAN},
               {80, 0.0111659, 45, 0.8, 0.9077, 0.684493, 0.777997, NAN}};
    gap worst = {0, 0};
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        ct_fin_around a = air_of(K_(row[i].T), row[i].W, row[i].Le23);
        ct_fin_metal m = straight(row[i].mL);
        ct_fin_taken t;
        double tip = ct_fin_from_base(&m, &a, K_(row[i].T_base), &t);
        double total = t.total / phi(&a, K_(row[i].T_base));
        double sensible = t.sensible / (a.T - K_(row[i].T_base));
        check_rel("total", total, row[i].eta_total, 1e-3);
        check_rel("sensible", sensible, row[i].eta_sensible, 1e-3);
        if (isfinite(row[i].tip_C)) check_abs("tip", tip - 273.15, row[i].tip_C, 0.02);
        check_rel("at the base", t.total_base, phi(&a, K_(row[i].T_base)), 0.01);
        widen(&worst, total / row[i].eta_total - 1, sensible / row[i].eta_sensible - 1);
    }
    print_message("straight: total %.3f %%, sensible %.3f %%\n", 100 * worst.total,
                  100 * worst.sensible);
}

/* The same for the circular fin of a hexagonal cell: base radius 4.8775 mm, outer 2.76688 times
 * that, conductivity 220, thickness 0.115 mm. */
static void circular_cases(void **state)
{
    static const struct {
        double h, T, W, T_base, eta_total, eta_sensible, tip_C;
    } row[] = {{60, 80, 0, 45, 0.839048, 0.839048, 11.2318},
               {40, 80, 0.0111659, 45, 0.783317, 0.840108, 11.1975},
               {60, 80, 0.0111659, 45, 0.705817, 0.787256, 12.4948},
               {60, 80, 0.0111659, 50, 0.689602, 0.804568, 14.1489},
               {60, 80, 0.0111659, 55, 0.672549, 0.831517, 15.7567},
               {100, 80, 0.0111659, 45, 0.590615, 0.712452, 14.3030},
               {60, 75, 0.0065, 45, 0.816191, 0.839045, 10.6591}};
    ct_fin_shape shape = ct_fin_circular(4.8775e-3, 2.76688);
    gap worst = {0, 0};
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        ct_fin_around a = air_of(K_(row[i].T), row[i].W, 1);
        ct_fin_metal m = ct_fin_make(&shape, row[i].h, 220 * 0.115e-3);
        ct_fin_taken t;
        double tip = ct_fin_from_base(&m, &a, K_(row[i].T_base), &t);
        double total = t.total / phi(&a, K_(row[i].T_base));
        double sensible = t.sensible / (a.T - K_(row[i].T_base));
        check_rel("total", total, row[i].eta_total, 1e-3);
        check_rel("sensible", sensible, row[i].eta_sensible, 1e-3);
        check_abs("tip", tip - 273.15, row[i].tip_C, 0.05);
        if (row[i].W <= 0) check_rel("dry", ct_fin_dry_efficiency(&m), row[i].eta_total, 2e-4);
        widen(&worst, total / row[i].eta_total - 1, sensible / row[i].eta_sensible - 1);
    }
    print_message("circular: total %.3f %%, sensible %.3f %%\n", 100 * worst.total,
                  100 * worst.sensible);
}

/* ---- over the field ---- */

/* Air 70 to 85 F and 30 to 80 % RH, base 35 to 60 F: dry, part wet and wet. A strip may be off by
 * 1 % in total and 0.5 % in sensible up to m L = 1, by twice that up to 1.5. */
static gap over_airs(const ct_fin_metal *m, double mu, double R, int seen[3])
{
    gap worst = {0, 0};
    for (int i = 0; i < 4 * 6 * 6; i++) {
        double T = K_(70 + 5 * (i % 4)), rh = 0.3 + 0.1 * (i / 4 % 6),
               T_base = K_(35 + 5 * (i / 24));
        double pv = rh * ct_air_psat_liquid(T);
        ct_fin_around a = air_of(T, CT_AIR_EPS * pv / (P - pv), 1);
        reference r = {.air = &a, .mu = mu, .R = R};
        ct_fin_taken t;
        double tip = ct_fin_from_base(m, &a, T_base, &t);
        check_abs("finds its base", t.T_base, T_base, 1e-9);
        integrate(&r, T_base);
        widen(&worst, t.total / r.total - 1, t.sensible / r.sensible - 1);
        seen[T_base >= dew(&a) ? 0 : tip >= dew(&a) ? 1 : 2]++;
    }
    return worst;
}

static void over_the_field(void **state)
{
    (void)state;
    for (double mL = 0.3; mL < 1.55; mL += 0.2) {
        ct_fin_metal m = straight(mL);
        int seen[3] = {0};
        gap w = over_airs(&m, mL * mL, 1, seen);
        print_message("m L %.1f: total %.3f %%, sensible %.3f %%; %d dry, %d part wet, %d wet\n",
                      mL, 100 * w.total, 100 * w.sensible, seen[0], seen[1], seen[2]);
        check_is("total", w.total, <, (mL < 1.05 ? 0.01 : 0.02));
        check_is("sensible", w.sensible, <, (mL < 1.05 ? 0.005 : 0.01));
        check_that("all kinds met", seen[0]);
        check_that("all kinds met", seen[1]);
        check_that("all kinds met", seen[2]);
    }
}

/* Circular fins of the radius ratios coils have; the dry straight fin of equal efficiency at
 * m r = 0.4 has m L near 0.6, 0.9 and 1.2. */
static void circular_over_the_field(void **state)
{
    static const double R[] = {2.2, 2.77, 3.3};
    (void)state;
    for (size_t i = 0; i < sizeof R / sizeof *R; i++)
        for (double mr = 0.2; mr < 0.45; mr += 0.1) {
            ct_fin_shape shape = ct_fin_circular(1, R[i]);
            ct_fin_metal m = ct_fin_make(&shape, 0.5 * mr * mr, 1);
            int seen[3] = {0};
            gap w = over_airs(&m, mr * mr, R[i], seen);
            print_message("R %.2f, m r %.1f: total %.3f %%, sensible %.3f %%\n", R[i], mr,
                          100 * w.total, 100 * w.sensible);
            check_is("total", w.total, <, 0.01);
            check_is("sensible", w.sensible, <, 0.005);
        }
}

/* Dry and straight: tanh(mL)/mL. */
static void dry_closed_form(void **state)
{
    (void)state;
    for (double mL = 0.1; mL < 2.6; mL += 0.3) {
        ct_fin_metal m = straight(mL);
        check_rel("tanh", ct_fin_dry_efficiency(&m), tanh(mL) / mL, 1e-8);
    }
}

/* ---- continuity ---- */

/* Base and humidity in fine steps through where the base, then the tip, turns wet: what the fin
 * takes moves by no more than the steepest wet fin would with that step. */
static void no_step(void **state)
{
    ct_fin_metal m = straight(1);
    double last[2] = {NAN, NAN}, moved_most = 0;
    int kinds = 0;
    (void)state;
    for (int vary = 0; vary < 2; vary++, last[0] = NAN)
        for (int i = 0; i < 60000; i++) {
            double T_base = vary ? K_(45) : 291 - 2e-4 * i, W = vary ? 0.006 + 1e-7 * i : 0.011;
            double step = vary ? 1e-7 * 2.6e6 / 1006 : 2e-4 * 3.5;
            ct_fin_around a = air_of(K_(80), W, 1);
            ct_fin_taken t;
            double tip = ct_fin_from_base(&m, &a, T_base, &t);
            kinds |= T_base >= dew(&a) ? 1 : tip >= dew(&a) ? 2 : 4;
            if (isfinite(last[0])) {
                check_abs("total", t.total, last[0], step);
                check_abs("sensible", t.sensible, last[1], step);
                moved_most = fmax(moved_most, fabs(t.total - last[0]) / step);
            }
            check_is("latent not negative", t.total, >=, t.sensible - 1e-10);
            last[0] = t.total;
            last[1] = t.sensible;
        }
    print_message("largest move %.2f of what a step may carry\n", moved_most);
    check_is("dry, part wet and wet", kinds, ==, 7);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(straight_cases),  cmocka_unit_test(circular_cases),
        cmocka_unit_test(over_the_field),  cmocka_unit_test(circular_over_the_field),
        cmocka_unit_test(dry_closed_form), cmocka_unit_test(no_step)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
