/* What tune finds on visits to systems of the second model: the second model itself against
 * measured facts, intervals that hold, causes that are named, few false alarms. Few seeds; the long
 * tables are tests/tune_table.c. Equipment and readings are invented. */
#include "check.h"

#include <stdlib.h>

#include "base/units.h"
#include "gsl_watch.h"
#include "nrel_curves.h"
#include "study/tune_problem.h"
#include "visits.h"

#define CASE SOURCE_DIR "/examples/r22-larger-coil.yaml"

/* Capacity against charge, measured on a split system with a valve, over that of the right charge:
 * Y = 1 + (a1 + a2 T_in + a3 T_out + a4 F) F, C (Domanski, Henderson & Payne 2014, NIST TN 1848;
 * coefficients as carried in an open performance-map library). 0.06: another unit. */
static double measured_capacity(double F, double T_in, double T_out)
{
    return F < 0.0 ? 1.0 + (-0.946 + 0.0493 * T_in - 0.00118 * T_out - 1.15 * F) * F
                   : 1.0 + (-0.163 + 0.0114 * T_in - 0.00021 * T_out - 0.14 * F) * F;
}

static void test_second_model_charge(void **state)
{
    (void)state;
    static const double charges[] = {-0.3, -0.2, -0.1, 0.1, 0.2};
    visit_house h;
    second_inside in;
    ct_readings s;
    check_that("house", visit_house_make(CASE, VISIT_VALVE, &h));
    second_truth t = second_plant_sound(&h.plant);
    check_that("settles", second_plant_show(&h.plant, &t, &s, &in));
    const double right = in.Q;
    for (size_t i = 0; i < sizeof charges / sizeof charges[0]; i++) {
        t.charge = charges[i];
        check_that("settles", second_plant_show(&h.plant, &t, &s, &in));
        check_abs("capacity", in.Q / right,
                  measured_capacity(t.charge, t.T_in - CT_ZERO_C, t.T_out - CT_ZERO_C), 0.06);
    }
    visit_house_free(&h);
}

/* The second model gives its nameplate in the A test: capacity, power, ratio (10 CFR 430 subpart B
 * appendix M), with the coil it was rated with. */
static void test_second_model_plate(void **state)
{
    (void)state;
    visit_house h;
    second_inside in;
    ct_readings s;
    check_that("house", visit_house_make(CASE, VISIT_VALVE, &h));
    second_plant plant = h.plant;
    plant.size = 1.0;
    second_truth t = second_plant_sound(&plant);
    t.T_in = CT_RATING_T_IN;
    t.T_wb = CT_RATING_T_WB;
    t.T_out = CT_RATING_T_OUT;
    t.tap = 3; /* within 3 % of the rated airflow */
    check_that("settles", second_plant_show(&plant, &t, &s, &in));
    const ct_outdoor_unit *u = &h.c.outdoor;
    check_rel("capacity", in.Q, u->Q_net + u->P_blower_rated, 0.03);
    check_rel("watts", in.W, u->Q_net / u->EER - u->P_blower_rated - u->P_fan, 0.02);
    check_abs("sensible ratio", in.SHR, u->SHR_rated, 0.02);
    visit_house_free(&h);
}

/* Single-speed air conditioners, an average of many: Cutler, Winkler, Kruis, Christensen &
 * Brandemuehl 2013, NREL/TP-5500-56354, gross capacity and energy input ratio of compressor and
 * outdoor fan (coefficients as carried in public building models). */
static const double published_capacity[] = {3.670270705, -0.098652414, 0.000955906,
                                            0.006552414, -0.0000156,   -0.000131877};
static const double published_EIR[] = {-3.302695861, 0.137871531, -0.001056996,
                                       -0.012573945, 0.000214638, -0.000145054};

/* Weather changes the second model as it changes real units. Up to 3.5 % of capacity and power:
 * units differ from their average, and this one never loses subcooling. */
static void test_second_model_weather(void **state)
{
    (void)state;
    static const double wet_bulb[] = {67, 67, 67, 67, 63, 71},
                        outdoor[] = {95, 82, 105, 115, 95, 95};
    visit_house h;
    second_inside in;
    ct_readings s;
    double Q_rated = 0.0, W_rated = 0.0;
    /* worked out apart from this program from the printed coefficients */
    check_abs("67/82", nrel_temperature(published_capacity, 67, 82), 1.0595, 6e-5);
    check_abs("67/115", nrel_temperature(published_EIR, 67, 115), 1.4648, 6e-5);
    check_that("house", visit_house_make(CASE, VISIT_VALVE, &h));
    second_truth t = second_plant_sound(&h.plant);
    t.T_in = CT_RATING_T_IN;
    t.tap = 3; /* within 3 % of the rated airflow */
    for (size_t i = 0; i < sizeof outdoor / sizeof outdoor[0]; i++) {
        const double w = wet_bulb[i], d = outdoor[i];
        t.T_wb = ct_K_from_F(w);
        t.T_out = ct_K_from_F(d);
        check_that("settles", second_plant_show(&h.plant, &t, &s, &in));
        if (i == 0) {
            Q_rated = in.Q;
            W_rated = s.r[CT_OUTDOOR_POWER].v;
        }
        const double Q = nrel_temperature(published_capacity, w, d) /
                         nrel_temperature(published_capacity, 67, 95);
        const double EIR =
            nrel_temperature(published_EIR, w, d) / nrel_temperature(published_EIR, 67, 95);
        check_rel("capacity", in.Q / Q_rated, Q, 0.035);
        check_rel("watts", s.r[CT_OUTDOOR_POWER].v / W_rated, Q * EIR, 0.035);
    }
    visit_house_free(&h);
}

/* ---- Intervals ---------------------------------------------------------------------- */

/* As often as said, within three standard deviations of the count, or more often. */
static void check_at_least(const char *label, int hits, int n, double said)
{
    check_is(label, (double)hits / n, >, said - 3.0 * sqrt(said * (1.0 - said) / n));
}

/* Seeds the widths in lib/study were not chosen on. Among the first eight, three systems are so far
 * from their plate that even the best possible takes them for faulty (tune_table row=nothing
 * seeds=8). */
#define FRESH 7000

static void check_coverage(bool piston, int n)
{
    visit_house h;
    const visit_kind sound = {FAULT_NONE, 0, 0, 1.0};
    check_that("house", visit_house_make(CASE, piston ? VISIT_PISTON : VISIT_VALVE, &h));
    h.from = FRESH;
    visit *v = visits_make(&h, &sound, n);
    for (int u = 0; u < CT_TUNE_MULTIPLIERS; u++) {
        int tried = 0, in68 = 0, in95 = 0;
        for (int i = 0; i < n; i++) {
            const ct_tune_value *x = &v[i].told.value[u];
            if (!v[i].settles || v[i].status != CT_OK || !ct_tune_value_told(&v[i].told, u))
                continue;
            const double truth = visit_truth(&v[i], (ct_tune_unknown)u);
            tried++;
            in68 += fabs(log(x->value / truth)) <= x->u;
            in95 += truth >= x->low && truth <= x->high;
        }
        if (tried == 0) continue;
        check_is("most settle", tried, >, n / 2);
        check_at_least(ct_tune_name((ct_tune_unknown)u), in68, tried, 0.682689);
        check_at_least(ct_tune_name((ct_tune_unknown)u), in95, tried, 0.95);
    }
    free(v);
    visit_house_free(&h);
}

static void test_coverage(void **state)
{
    (void)state;
    check_coverage(false, 24);
    check_coverage(true, 16);
}

/* ---- Causes ------------------------------------------------------------------------- */

static const struct {
    const char *name;
    visit_kind kind;
} rows[] = {
    {"filter", {FAULT_FILTER, 0.7, 0, 0.5}},
    {"blower", {FAULT_BLOWER, 0.65, 0, 0.5}},
    {"tap", {FAULT_TAP, 2, 0, 0.5}},
    {"coil", {FAULT_COIL, 0.55, 0, 0.5}},
    {"compressor", {FAULT_COMPRESSOR, 0.75, 0, 0.5}},
    {"condenser", {FAULT_CONDENSER, 0.6, 0, 0.5}},
    {"low charge", {FAULT_CHARGE, -0.2, 0, 0.5}},
    {"overcharge", {FAULT_CHARGE, 0.2, 0, 0.5}},
    {"supply dry bulb", {FAULT_READING, 6 / CT_F_PER_K, CT_SUPPLY_DRY_BULB, 0.5}},
    {"return wet bulb", {FAULT_READING, 5 / CT_F_PER_K, CT_RETURN_WET_BULB, 0.5}},
};

/* Severe faults: five visits of each, the cause first in four and more. */
static void test_named(void **state)
{
    (void)state;
    enum { SEEDS = 5 };
    visit_house h;
    check_that("house", visit_house_make(CASE, VISIT_VALVE, &h));
    for (size_t k = 0; k < sizeof rows / sizeof rows[0]; k++) {
        visit *v = visits_make(&h, &rows[k].kind, SEEDS);
        int named = 0;
        for (int i = 0; i < SEEDS; i++)
            named += v[i].settles && v[i].status == CT_OK && v[i].told.wrong &&
                     visit_named(&v[i], &rows[k].kind, 1, false) == 0;
        check_is(rows[k].name, named, >=, SEEDS - 1);
        free(v);
    }
    visit_house_free(&h);
}

/* The liquid of an efficient unit has few degrees to the outdoor air, so an overcharge shows in few
 * degrees of subcooling: named in two visits of five and more (at best 7 of 10, tune_table). */
static void test_overcharge_near_the_air(void **state)
{
    (void)state;
    enum { SEEDS = 40 };
    const visit_kind over = {FAULT_CHARGE, 0.2, 0, 0.5};
    visit_house h;
    check_that("house", visit_house_make(SOURCE_DIR "/examples/r410a-humid.yaml", VISIT_VALVE, &h));
    h.from = FRESH;
    visit *v = visits_make(&h, &over, SEEDS);
    int named = 0;
    for (int i = 0; i < SEEDS; i++)
        named += v[i].settles && v[i].status == CT_OK && v[i].told.wrong &&
                 visit_named(&v[i], &over, 1, false) == 0;
    check_is("named", named, >=, 2 * SEEDS / 5);
    free(v);
    visit_house_free(&h);
}

/* A piston that is charged to the target superheat, from one system to the next at another
 * subcooling: too much shows in both, and is named in half the visits and more, where nine of ten
 * could be (tune_table meter=filled). */
static void test_overcharge_by_superheat(void **state)
{
    (void)state;
    enum { SEEDS = 30 };
    const visit_kind over = {FAULT_CHARGE, 0.15, 0, 0.5};
    visit_house h;
    int named = 0;
    check_that("house", visit_house_make(CASE, VISIT_PISTON_FILLED, &h));
    h.from = FRESH;
    visit *v = visits_make(&h, &over, SEEDS);
    for (int i = 0; i < SEEDS; i++)
        named += v[i].settles && v[i].status == CT_OK && v[i].told.wrong &&
                 visit_named(&v[i], &over, 1, false) == 0;
    check_is("named", named, >=, SEEDS / 2);
    free(v);
    visit_house_free(&h);
}

/* Sound systems, half as far from the plate as the priors allow: under 5 alarms in 100. */
static void check_alarms(visit_meter meter, int n)
{
    visit_house h;
    const visit_kind sound = {FAULT_NONE, 0, 0, 0.5};
    int alarms = 0;
    check_that("house", visit_house_make(CASE, meter, &h));
    h.from = FRESH;
    visit *v = visits_make(&h, &sound, n);
    for (int i = 0; i < n; i++) {
        alarms += v[i].told.wrong;
        check_is("agree", v[i].status, ==, CT_OK);
        check_that("agree", v[i].told.agree);
    }
    check_is("alarms", alarms, <, 0.05 * n);
    free(v);
    visit_house_free(&h);
}

static void test_false_alarms(void **state)
{
    (void)state;
    check_alarms(VISIT_VALVE, 300);
    check_alarms(VISIT_PISTON_FILLED, 60);
}

/* Every reading there is: sound systems stay sound, and what the second model shows of the added
 * readings is what ours expects, within their doubts. */
static void test_all_readings(void **state)
{
    (void)state;
    enum { SEEDS = 8 };
    static const ct_reading_kind added[] = {CT_AIRFLOW, CT_CONDENSER_LEAVING, CT_CONDENSATE};
    visit_house h;
    const visit_kind sound = {FAULT_NONE, 0, 0, 0.5};
    int alarms = 0, seen = 0;
    check_that("house", visit_house_make(CASE, VISIT_VALVE, &h));
    h.from = FRESH;
    h.kit = VISIT_AIRFLOW | VISIT_LEAVING | VISIT_CONDENSATE;
    visit *v = visits_make(&h, &sound, SEEDS);
    for (int i = 0; i < SEEDS; i++) {
        check_that("agree", v[i].status == CT_OK && v[i].told.agree);
        alarms += v[i].told.wrong;
        for (int k = 0; k < v[i].told.n; k++)
            for (int a = 0; a < 3; a++) {
                if (v[i].told.reading[k].kind != added[a]) continue;
                check_abs(ct_reading_name(added[a]), v[i].told.reading[k].z, 0.0, 3.5);
                seen++;
            }
    }
    check_is("used", seen, ==, 3 * SEEDS);
    check_is("alarms", alarms, <=, 1);
    free(v);
    visit_house_free(&h);
}

/* Watts are looked up at the static that was read: at a point of the tap's table, 905 cfm and 341 W
 * in thin air (the case's own line, density by the fan laws), whatever the ducts ask for. */
static void test_watts_at_static(void **state)
{
    (void)state;
    visit_house h;
    ct_tune_problem p;
    check_that("house", visit_house_make(CASE, VISIT_VALVE, &h));
    const ct_setup setup = {NULL, &h.c, &h.outdoor, &h.matched, 0};
    const ct_tap_point *at = &h.plant.job.blower.tap[1].point[3];
    ct_readings s = {.tap = "medium low"};
    s.r[CT_STATIC] = (ct_reading){true, at->dp, 0.02 * CT_PA_PER_INWC};
    check_is("prepared", ct_tune_problem_prepare(&p, &setup, &s, NULL), ==, CT_OK);
    check_rel("airflow", p.told.V_static, 905 * CT_M3S_PER_CFM, 1e-6);
    check_rel("watts", p.told.P_static, at->P, 1e-6);
    check_rel("watts", p.told.P_static, 341, 0.03);
    visit_house_free(&h);
}

/* A static far past the blower's table is still a blocked airflow, not a weak blower. */
static void test_static_past_table(void **state)
{
    (void)state;
    enum { SEEDS = 3 };
    visit_house h;
    const visit_kind blocked = {FAULT_FILTER, 0.6, 0, 0.5};
    check_that("house", visit_house_make(SOURCE_DIR "/examples/r410a-humid.yaml", VISIT_VALVE, &h));
    visit *v = visits_make(&h, &blocked, SEEDS);
    for (int i = 0; i < SEEDS; i++) {
        const ct_tap *tap = &h.c.indoor[0].blower.tap[1];
        check_that("settles", v[i].settles && v[i].status == CT_OK);
        check_is("past it", v[i].shown.r[CT_STATIC].v, >, tap->point[tap->n - 1].dp);
        check_is("blocked", visit_named(&v[i], &blocked, 1, false), ==, 0);
    }
    free(v);
    visit_house_free(&h);
}

/* So little charge that nothing near the plate balances: it is named, not refused. */
static void test_nearly_empty(void **state)
{
    (void)state;
    visit_house h;
    const visit_kind kind = {FAULT_CHARGE, -0.4, 0, 0.5};
    check_that("house", visit_house_make(CASE, VISIT_VALVE, &h));
    visit *v = visits_make(&h, &kind, 6);
    for (int i = 0; i < 6; i++) {
        check_that("settles", v[i].settles);
        check_is("settles", v[i].status, ==, CT_OK);
        check_is("low charge", v[i].told.explanation[0].cause, ==, CT_CAUSE_LOW_CHARGE);
        check_that("no coil", !v[i].told.tuning.coil_conductance.has);
    }
    free(v);
    visit_house_free(&h);
}

static int watch(void **state)
{
    (void)state;
    gsl_watch();
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_second_model_charge),
        cmocka_unit_test(test_second_model_plate),
        cmocka_unit_test(test_second_model_weather),
        cmocka_unit_test(test_coverage),
        cmocka_unit_test(test_named),
        cmocka_unit_test(test_overcharge_near_the_air),
        cmocka_unit_test(test_overcharge_by_superheat),
        cmocka_unit_test(test_false_alarms),
        cmocka_unit_test(test_all_readings),
        cmocka_unit_test(test_watts_at_static),
        cmocka_unit_test(test_static_past_table),
        cmocka_unit_test(test_nearly_empty),
    };
    return cmocka_run_group_tests(tests, watch, NULL);
}
