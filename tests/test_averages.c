/* Published averages of many units: what capacity, power and sensible ratio do on the average
 * residential unit when airflow, indoor and outdoor air change. Nothing is fitted to them; the
 * worst difference over each range is printed with where it lies. */
#include <stdio.h>

#include "base/units.h"
#include "check.h"
#include "nrel_curves.h"
#include "one_solver.h"
#include "plant.h"
#include "plant/balance.h"

#define ROWS(a) (sizeof(a) / sizeof((a)[0]))

static const char *const refrigerants[] = {"R-410A", "R-22"};

static ct_balance solve(const ct_system *sys, const ct_conditions *at)
{
    ct_balance b;
    ct_fault fault = {.what = ""};
    if (ct_balance_solve(solver, sys, at, NULL, &b, &fault) != CT_OK) fail_msg("%s", fault.what);
    return b;
}

/* What the averages speak of: F, and airflow in cfm per ton. */
typedef struct {
    double dry_bulb, wet_bulb, outdoors, cfm_per_ton;
} weather;

static const weather rating = {80, 67, 95, 400};

/* Ratios to the rating point, and the sensible heat ratio itself. */
typedef struct {
    double capacity, power, SHR;
} answer;

/* Gross capacity and sensible ratio; power of compressor and outdoor fan. */
static answer unit_at(const plant *p, weather w)
{
    ct_conditions at = p->rating;
    at.in = air_at(w.dry_bulb, w.wet_bulb);
    at.T_out = K_(w.outdoors);
    at.m_da *= w.cfm_per_ton / 400;
    const ct_balance b = solve(&p->sys, &at);
    return (answer){b.Q, b.P_compressor + p->outdoor.P_fan, b.SHR};
}

static answer model(const plant *p, weather w)
{
    const answer now = unit_at(p, w), rated = unit_at(p, rating);
    return (answer){now.capacity / rated.capacity, now.power / rated.power, now.SHR};
}

/* ---- Cutler, Winkler, Kruis, Christensen & Brandemuehl 2013, NREL/TP-5500-56354, single-speed
 * sets. F, wet bulb w, outdoors d, flow f. The temperature curves are not 1 at their own rating
 * point, so ratios. They give capacity and energy input ratio; power is the product. ---- */

static const double HP_CAP_F[3] = {0.718664047, 0.41797409, -0.136638137},
                    AC_CAP_F[3] = {0.718605468, 0.410099989, -0.128705457},
                    HP_EIR_F[3] = {1.143487507, -0.13943972, -0.004047787};
static const double HP_CAP[6] = {3.68637657,  -0.098352478, 0.000956357,
                                 0.005838141, -0.0000127,   -0.000131702},
                    HP_EIR[6] = {-3.437356399, 0.136656369, -0.001049231,
                                 -0.0079378,   0.000185435, -0.0001441};

static answer nrel(weather w)
{
    const double cap = nrel_temperature(HP_CAP, w.wet_bulb, w.outdoors) /
                       nrel_temperature(HP_CAP, rating.wet_bulb, rating.outdoors);
    const double eir = nrel_temperature(HP_EIR, w.wet_bulb, w.outdoors) /
                       nrel_temperature(HP_EIR, rating.wet_bulb, rating.outdoors);
    return (answer){cap, cap * eir, NAN};
}

/* ---- Regressions over field and catalog data of a state energy code (California residential
 * ACM reference manual; the sensible ratio by A. Conant): F and cfm per ton; wet where the
 * sensible ratio is below 1. What is called an efficiency factor there is a ratio of powers: it
 * rises by 12 % from 95 to 110 F outdoors, as power does. ---- */

static double regression(const double c[12], weather w)
{
    const double e = w.dry_bulb, b = w.wet_bulb, d = w.outdoors, v = w.cfm_per_ton;
    return c[0] * e + c[1] * b + c[2] * d + c[3] * v + c[4] * e * d + c[5] * e * v + c[6] * b * d +
           c[7] * b * v + c[8] * d * v + c[9] * b * b + c[10] / v + c[11];
}

static const double SC_SHR[12] = {0.0242020, -0.0592153, 0.0012651, 0.0016375, 0, 0,
                                  0,         -0.0000165, 0,         0.0002021, 0, 1.5085285},
                    SC_CAP_WET[12] = {0,           0.0096459, 0.0025369,  0.0001715,
                                      0,           0,         -0.0000959, 0.00000818,
                                      -0.00000755, 0.0001057, -53.5423,   0.38156715},
                    SC_CAP_DRY[12] = {0.0094831, 0, -0.0006006,  -0.0001489, -0.0000326, 0.0000119,
                                      0,         0, -0.00000505, 0,          -52.56174,  0.4307516},
                    SC_POWER_WET[12] = {0,           -0.0202256, 0.0236703,  -0.0006638,
                                        0,           0,          -0.0001841, 0.0000214,
                                        -0.00000812, 0.0002971,  -27.95672,  0.0150031},
                    SC_POWER_DRY[12] = {0.0046103, 0, 0.0125598, -0.000512, -0.0000357, 0.0000105,
                                        0,         0, 0,         0,         0,          -0.4753065};

static answer state_code(weather w)
{
    const double SHR = regression(SC_SHR, w);
    const int wet = SHR < 1.0;
    return (answer){regression(wet ? SC_CAP_WET : SC_CAP_DRY, w),
                    regression(wet ? SC_POWER_WET : SC_POWER_DRY, w), wet ? SHR : 1.0};
}

/* Worked out apart from this program from the printed coefficients. */
static void regressions_as_printed(void **state)
{
    static const struct {
        weather w;
        answer want;
    } rows[] = {{{80, 67, 95, 250}, {0.9193, 0.9583, 0.638}},
                {{80, 67, 95, 400}, {1.0, 1.0, 0.7175}},
                {{80, 67, 95, 500}, {1.0270, 1.0138, 0.771}},
                {{75, 62.6, 95, 300}, {0.8817, 0.9451, 0.710}},
                {{80, 67, 82, 400}, {1.0898, 0.8949, 0.701}},
                {{80, 67, 110, 400}, {0.8964, 1.1213, 0.7365}},
                {{80, 57, 95, 400}, {0.8825, NAN, 1.0}}};
    (void)state;
    for (size_t i = 0; i < ROWS(rows); i++) {
        const answer got = state_code(rows[i].w);
        check_abs("capacity", got.capacity, rows[i].want.capacity, 1.5e-4);
        if (rows[i].want.power > 0) check_abs("power", got.power, rows[i].want.power, 1.5e-4);
        check_abs("sensible ratio", got.SHR, rows[i].want.SHR, 6e-4);
    }
}

/* ---- the worst over a range ---- */

typedef struct {
    double by;
    weather at;
} worst;

/* How far a value lies outside what the two averages span, as a share; 0 inside. */
static double outside(double got, double a, double b)
{
    const double low = fmin(a, b), high = fmax(a, b);
    return got < low ? got / low - 1 : got > high ? got / high - 1 : 0;
}

typedef struct {
    int points;
    worst capacity, power, ratio, SHR; /* relative; SHR absolute */
} gaps;

static void keep(worst *w, double by, weather at)
{
    if (fabs(by) > fabs(w->by)) *w = (worst){by, at};
}

static void add(gaps *g, answer got, answer want, weather at)
{
    g->points++;
    keep(&g->capacity, got.capacity / want.capacity - 1, at);
    keep(&g->power, got.power / want.power - 1, at);
    keep(&g->ratio, got.power / got.capacity / (want.power / want.capacity) - 1, at);
    if (want.SHR > 0) keep(&g->SHR, got.SHR - want.SHR, at);
}

static void show(const char *what, const char *unit, worst w)
{
    print_message("    %-18s %+5.1f%s at %.0f/%.0f F indoors, %.0f F outdoors, %.0f cfm/ton\n",
                  what, 100 * w.by, unit, w.at.dry_bulb, w.at.wet_bulb, w.at.outdoors,
                  w.at.cfm_per_ton);
}

static void show_all(const char *source, const char *range, const char *refrigerant, const gaps *g)
{
    print_message("%s, %s, %s, %d points: at most\n", source, range, refrigerant, g->points);
    show("capacity", " %", g->capacity);
    show("power", " %", g->power);
    show("energy input ratio", " %", g->ratio);
    if (g->SHR.by != 0) show("sensible ratio", " points", g->SHR);
}

/* The regression's own sensible ratio is the nameplate's, so that only its course is compared. */
static void average_unit(plant *p, const char *refrigerant)
{
    ct_fault fault = {.what = ""};
    plant_case(&p->c, refrigerant, 3);
    p->c.outdoor.SHR_rated = 0.7175;
    if (plant_calibrate(p, &fault) != CT_OK) fail_msg("%s", fault.what);
}

static gaps over_airflow(const plant *p)
{
    gaps g = {0};
    for (double v = 250; v <= 500; v += 25) {
        weather w = rating;
        w.cfm_per_ton = v;
        add(&g, model(p, w), state_code(w), w);
    }
    return g;
}

/* The dry bulb lies `above` the wet bulb: 10 F keep the coil wet, on which the first curves
 * rest. */
static gaps over_weather(const plant *p, answer (*average)(weather), double low_wb, double high_wb)
{
    gaps g = {0};
    for (double wb = low_wb; wb <= high_wb; wb += 1)
        for (double out = 75; out <= 115; out += 5) {
            const weather w = {low_wb < high_wb ? wb + 10 : 80, wb, out, 400};
            add(&g, model(p, w), average(w), w);
        }
    return g;
}

typedef struct {
    worst capacity, power;                 /* of the model, outside both */
    worst capacity_between, power_between; /* one average against the other */
} spread;

/* The averages differ from each other by up to 10 % of capacity and 19 % of power: the model must
 * lie between them, or near. */
static spread against_both(const plant *p, double low_wb, double high_wb)
{
    spread s = {0};
    for (double wb = low_wb; wb <= high_wb; wb += 1)
        for (double out = 75; out <= 115; out += 5) {
            const weather w = {low_wb < high_wb ? wb + 10 : 80, wb, out, 400};
            const answer m = model(p, w), a = nrel(w), b = state_code(w);
            keep(&s.capacity, outside(m.capacity, a.capacity, b.capacity), w);
            keep(&s.power, outside(m.power, a.power, b.power), w);
            keep(&s.capacity_between, a.capacity / b.capacity - 1, w);
            keep(&s.power_between, a.power / b.power - 1, w);
        }
    return s;
}

static void show_spread(const char *range, const char *refrigerant, const spread *s)
{
    print_message("both, %s, %s: at most\n", range, refrigerant);
    show("capacity outside", " %", s->capacity);
    show("power outside", " %", s->power);
    show("capacity, NREL/code", " %", s->capacity_between);
    show("power, NREL/code", " %", s->power_between);
}

/* What is reached, not what would be good: a rise is a fault, a fall lowers the row. The R-22 unit
 * loses less capacity by heat than the averages; R-22 is further from its critical point. */
static const struct {
    double capacity_67, power_67, capacity_all, power_all;
} reached[ROWS(refrigerants)] = {{0.01, 0.01, 0.045, 0.02}, {0.035, 0.02, 0.06, 0.03}};

static void between_averages(void **state)
{
    (void)state;
    for (size_t k = 0; k < ROWS(refrigerants); k++) {
        plant p;
        average_unit(&p, refrigerants[k]);
        const spread at_67 = against_both(&p, 67, 67), all = against_both(&p, 60, 73);
        show_spread("80/67 F, outdoors 75 to 115 F", refrigerants[k], &at_67);
        show_spread("wet bulb 60 to 73 F, outdoors 75 to 115 F", refrigerants[k], &all);
        check_is("capacity at 67 F", fabs(at_67.capacity.by), <, reached[k].capacity_67);
        check_is("power at 67 F", fabs(at_67.power.by), <, reached[k].power_67);
        check_is("capacity", fabs(all.capacity.by), <, reached[k].capacity_all);
        check_is("power", fabs(all.power.by), <, reached[k].power_all);
        plant_free(&p);
    }
}

/* Printed, and the sensible ratio and the airflow held to the state code: 1 and 4 points, 1 %. */
static void averages(void **state)
{
    (void)state;
    for (size_t k = 0; k < ROWS(refrigerants); k++) {
        plant p;
        average_unit(&p, refrigerants[k]);
        gaps g = over_weather(&p, nrel, 67, 67);
        show_all("NREL", "80/67 F, outdoors 75 to 115 F", refrigerants[k], &g);
        g = over_weather(&p, nrel, 60, 73);
        show_all("NREL", "wet bulb 60 to 73 F", refrigerants[k], &g);
        g = over_airflow(&p);
        show_all("state code", "250 to 500 cfm/ton", refrigerants[k], &g);
        check_is("capacity over airflow", fabs(g.capacity.by), <, 0.01);
        check_is("sensible ratio over airflow", fabs(g.SHR.by), <, 0.01);
        g = over_weather(&p, state_code, 67, 67);
        show_all("state code", "80/67 F, outdoors 75 to 115 F", refrigerants[k], &g);
        g = over_weather(&p, state_code, 60, 73);
        show_all("state code", "wet bulb 60 to 73 F", refrigerants[k], &g);
        check_is("sensible ratio", fabs(g.SHR.by), <, 0.04);
        plant_free(&p);
    }
}

/* Gross capacity; energy input ratio of compressor and outdoor fan. */
static double eir(const plant *p, const ct_balance *b)
{
    return (b->P_compressor + p->outdoor.P_fan) / b->Q;
}

static void airflow_curve(void **state)
{
    (void)state;
    for (int k = 0; k < 2; k++) {
        plant p;
        double cap = 0, ratio = 0;
        plant_make(&p, refrigerants[k], 3);
        ct_balance b0 = solve(&p.sys, &p.rating);
        for (double f = 0.75; f < 1.2501; f += 0.0625) {
            ct_conditions at = p.rating;
            at.m_da *= f;
            ct_balance b = solve(&p.sys, &at);
            cap = fmax(cap, fabs(b.Q / b0.Q / nrel_flow(HP_CAP_F, f) - 1));
            cap = fmax(cap, fabs(b.Q / b0.Q / nrel_flow(AC_CAP_F, f) - 1));
            ratio = fmax(ratio, fabs(eir(&p, &b) / eir(&p, &b0) / nrel_flow(HP_EIR_F, f) - 1));
        }
        print_message("%s against airflow 0.75 to 1.25: capacity within %.2f %%, energy input "
                      "ratio %.2f %%\n",
                      refrigerants[k], 100 * cap, 100 * ratio);
        check_is("capacity, both sets", cap, <, 0.01);
        check_is("energy input ratio, heat-pump set", ratio, <, 0.025);
        plant_free(&p);
    }
}

/* The dry bulbs keep the coil wet: on a dry coil a wet bulb means nothing. The curve is not 1 at
 * its own rating point, so ratios. Energy input ratio is only reported: it carries the whole
 * compressor family behind the averages. */
static void temperature_curves(void **state)
{
    static const double at_F[][3] = {{80, 67, 75},  {80, 67, 82},  {80, 67, 105}, {80, 67, 115},
                                     {72, 63, 82},  {72, 63, 95},  {72, 63, 115}, {76, 65, 95},
                                     {76, 65, 105}, {80, 71, 82},  {80, 71, 95},  {80, 71, 115},
                                     {85, 72, 95},  {85, 72, 115}, {82, 73, 95},  {82, 73, 105}};
    (void)state;
    for (int k = 0; k < 2; k++) {
        plant p;
        double cap = 0, ratio = 0, dry = 0;
        plant_make(&p, refrigerants[k], 3);
        ct_balance b0 = solve(&p.sys, &p.rating);
        for (size_t i = 0; i < sizeof at_F / sizeof *at_F; i++) {
            double w = at_F[i][1], d = at_F[i][2];
            ct_conditions at = p.rating;
            at.in = air_at(at_F[i][0], w);
            at.T_out = K_(d);
            ct_balance b = solve(&p.sys, &at);
            double want = nrel_temperature(HP_CAP, w, d) / nrel_temperature(HP_CAP, 67, 95);
            double e = nrel_temperature(HP_EIR, w, d) / nrel_temperature(HP_EIR, 67, 95);
            cap = fmax(cap, fabs(b.Q / b0.Q / want - 1));
            ratio = fmax(ratio, fabs(eir(&p, &b) / eir(&p, &b0) / e - 1));
            dry = fmax(dry, b.dry_share);
            check_rel("capacity", b.Q / b0.Q, want, 0.05);
        }
        print_message("%s against wet bulb and outdoors: capacity within %.2f %%, energy input "
                      "ratio %.2f %% (reported only); dry share up to %.2f\n",
                      refrigerants[k], 100 * cap, 100 * ratio, dry);
        check_is("coil wet", dry, <, 0.25);
        plant_free(&p);
    }
}

/* Sensible heat ratio against airflow: a public regression over field and catalog data gives
 * 0.0053 per 10 cfm/ton at 80/67/95, its data unpublished, so a band: 0.0045 to 0.0065. */
static void shr_slope(void **state)
{
    (void)state;
    for (int k = 0; k < 2; k++) {
        plant p;
        plant_make(&p, refrigerants[k], 3);
        ct_conditions low = p.rating, high = p.rating;
        low.m_da *= 350.0 / 400;
        high.m_da *= 450.0 / 400;
        double slope = (solve(&p.sys, &high).SHR - solve(&p.sys, &low).SHR) / 10;
        print_message("%s: SHR %+.4f per 10 cfm/ton\n", refrigerants[k], slope);
        check_is("slope", slope, >, 0.0045);
        check_is("slope", slope, <, 0.0065);
        check_abs("A test", solve(&p.sys, &p.rating).SHR, 0.75, 1e-6);
        plant_free(&p);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(airflow_curve), cmocka_unit_test(temperature_curves),
        cmocka_unit_test(shr_slope),     cmocka_unit_test(regressions_as_printed),
        cmocka_unit_test(averages),      cmocka_unit_test(between_averages)};
    return cmocka_run_group_tests(tests, solver_make, solver_drop);
}
