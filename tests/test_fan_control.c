/* Controls of a blower: plain equipment against sums by hand, and the settled humidity of a sweep
 * and of a season with each control on. */
#include <string.h>

#include "base/units.h"
#include "example_case.h"
#include "gsl_watch.h"
#include "judge/fan_control.h"
#include "judge/humidity_control.h"
#include "study/season.h"
#include "study/switches.h"

#define N_MAX 3.0 /* as CT_REEVAPORATION_USUAL */

/* ---- Plain equipment: sensible the same at all humidities, water a straight line ---- */

#define Q_FULL 8000.0
#define Q_CUT 7200.0
#define K_FULL 0.20 /* kg/s per kg/kg */
#define K_CUT 0.24
#define W_DRY 0.004

static ct_room_equipment plain(double Q, double k)
{
    ct_room_equipment e = {.n = CT_ROOM_POINTS, .P_blower = 300};
    for (int i = 0; i < e.n; i++) {
        const double W = 0.004 + 0.0012 * i;
        e.point[i] = (ct_room_point){W, Q, k * (W - W_DRY)};
    }
    return e;
}

static ct_room_house house_of(double Q_sensible)
{
    return (ct_room_house){.T = ct_K_from_F(75),
                           .p = CT_ATM_PA,
                           .Q_sensible = Q_sensible,
                           .Q_latent = 1200,
                           .m_outdoor = 0.03,
                           .W_outdoor = 0.014,
                           .coil = CT_REEVAPORATION_USUAL};
}

static double rh_of(double W)
{
    const ct_air air = {ct_K_from_F(75), W, CT_ATM_PA};
    return ct_air_rh(&air);
}

/* X k (W - W_dry) = Q_l/h_g + m (W_out - W), X = Q_s/Q; h_g = 2501 + 1.86 t kJ/kg, ASHRAE
 * Fundamentals ch. 1. */
static double W_by_hand(const ct_room_house *h, double Q, double k)
{
    const double hg = 2501000.0 + 1860.0 * (h->T - 273.15), X = h->Q_sensible / Q;
    return (X * k * W_DRY + h->Q_latent / hg + h->m_outdoor * h->W_outdoor) /
           (X * k + h->m_outdoor);
}

static ct_fan_settled settled(const ct_fan_control *k, const ct_room_house *h)
{
    const ct_room_equipment full = plain(Q_FULL, K_FULL), cut = plain(Q_CUT, K_CUT);
    const ct_fan_run run = {k, h, &full, &cut};
    ct_fan_settled at;
    ct_fault fault = {.what = ""};
    check_is(fault.what, ct_fan_control_settle(&run, &at, &fault), ==, CT_OK);
    return at;
}

static void none_and_all(void **state)
{
    (void)state;
    const ct_room_house h = house_of(4000);
    ct_fan_control k = {.cut = 0.15, .rh_off = 0.20, .rh_on = 0.21};
    const double W_full = W_by_hand(&h, Q_FULL, K_FULL), W_cut = W_by_hand(&h, Q_CUT, K_CUT);
    check_is("drier", W_cut, <, W_full);
    check_rel("off", settled(&k, &h).room.W, W_full, 1e-9);
    k.cut_when_damp = true;
    check_rel("always", settled(&k, &h).room.W, W_cut, 1e-9);
    check_abs("all", settled(&k, &h).slowed, 1, 0);
    k.rh_off = 0.90;
    k.rh_on = 0.95;
    check_rel("never", settled(&k, &h).room.W, W_full, 1e-9);
    check_abs("none", settled(&k, &h).slowed, 0, 0);
}

/* In between, the share is the control's at the humidity that this share makes. */
static void in_between(void **state)
{
    (void)state;
    const ct_room_house h = house_of(4000);
    const double dry = rh_of(W_by_hand(&h, Q_CUT, K_CUT)),
                 damp = rh_of(W_by_hand(&h, Q_FULL, K_FULL));
    const ct_fan_control k = {.cut_when_damp = true,
                              .rh_off = dry + 0.2 * (damp - dry),
                              .rh_on = dry + 0.9 * (damp - dry)};
    const ct_fan_settled at = settled(&k, &h);
    const double s = at.slowed;
    check_is("some", s, >, 0.05);
    check_is("not all", s, <, 0.95);
    check_rel("share", s, (at.room.rh - k.rh_off) / (k.rh_on - k.rh_off), 1e-9);
    check_rel("humidity", at.room.W,
              W_by_hand(&h, Q_FULL + s * (Q_CUT - Q_FULL), K_FULL + s * (K_CUT - K_FULL)), 1e-8);
}

/* A run lasts 3600/(4 N_max (1 - X)) s (Henderson & Rengarajan 1996). */
static void slow_start(void **state)
{
    (void)state;
    const ct_room_house h = house_of(4000);
    ct_fan_control k = {.slow_start = true, .start_time = 120};
    ct_fan_settled at = settled(&k, &h);
    const double Q = Q_FULL + at.slowed * (Q_CUT - Q_FULL);
    check_rel("run", at.room.run, 4000 / Q, 1e-9);
    check_rel("share", at.slowed, 120 * 4 * N_MAX * (1 - 4000 / Q) / 3600, 1e-9);
    k.start_time = 600;
    const ct_room_house little = house_of(400);
    check_abs("a start longer than the run", settled(&k, &little).slowed, 1, 0);
    const ct_room_house much = house_of(20000);
    check_abs("a run without end", settled(&k, &much).slowed, 0, 1e-12);
    /* With both, the start is cut anyway and the rest as the humidity wants. */
    const ct_fan_control both = {
        .cut_when_damp = true, .slow_start = true, .start_time = 120, .rh_off = 0.3, .rh_on = 0.9};
    at = settled(&both, &h);
    const double start = 120 * 4 * N_MAX * (1 - at.room.run) / 3600;
    check_rel("both", at.slowed, start + (1 - start) * (at.room.rh - 0.3) / 0.6, 1e-9);
}

/* ---- A sweep ---- */

static ct_point sweep_tap(example *e, int tap)
{
    const ct_sweep_job job = example_job(e, 0);
    ct_point p;
    check_is("tap", ct_sweep_tap(e->solver, &job, tap, &p, NULL), ==, CT_OK);
    ct_sweep_humidity(e->solver, &job, &p);
    check_that("settles", p.has_room);
    return p;
}

/* Left on it is damper, cut when damp drier, and both as the switches say; the two read balances at
 * other humidities: 0.05 % RH. */
static void of_a_sweep(void **state)
{
    static const char *const names[] = {"r410a-humid", "r22-larger-coil"};
    (void)state;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        example *e = example_open(names[i]);
        ct_switches w;
        e->c.house.fan_on = false;
        e->c.house.fan_off_delay.has = false;
        const ct_point plainly = sweep_tap(e, 2);
        e->c.control.rh_off = plainly.room.rh - 0.02;
        e->c.control.rh_on = plainly.room.rh + 0.01;
        const ct_sweep_job job = example_job(e, 0);
        assert_int_equal(ct_switches_run(e->solver, &job, &plainly, &w, NULL), CT_OK);
        check_abs("nothing on", plainly.slowed, 0, 0);
        e->c.house.fan_on = true;
        const double fan_on = sweep_tap(e, 2).room.rh;
        check_is("fan on", fan_on, >, plainly.room.rh + 0.02);
        check_abs("fan on", fan_on, w.at[CT_SWITCH_FAN_ON].room.rh, 5e-4);
        e->c.house.fan_on = false;
        e->c.control.cut_when_damp = true;
        const ct_point cut = sweep_tap(e, 2);
        check_is("some", cut.slowed, >, 0.02);
        check_is("cut when damp", cut.room.rh, <, plainly.room.rh - 0.001);
        check_abs("cut when damp", cut.room.rh, w.at[CT_SWITCH_HUMIDITY].room.rh, 5e-4);
        check_abs("at the cut", cut.slowed, w.at[CT_SWITCH_HUMIDITY].slowed, 0.02);
        /* Left on as well, which way the cut moves it is open: it also heats the house less. */
        check_that("fan on and cut settles", cut.has_room_fan_on);
        e->c.control.cut_when_damp = false;
        e->c.control.slow_start = true;
        const ct_point start = sweep_tap(e, 2);
        check_is("slow start", start.room.rh, <, plainly.room.rh);
        check_abs("slow start", start.room.rh, w.at[CT_SWITCH_STARTS].room.rh, 5e-4);
        example_close(e);
    }
}

/* The ceiling of the case is held against the humidity with the cut. */
static void judged_with_it(void **state)
{
    (void)state;
    example *e = example_open("r410a-humid");
    const double without = sweep_tap(e, 4).room.rh;
    e->c.control.cut_when_damp = true;
    e->c.control.rh_off = 0.30;
    e->c.control.rh_on = 0.31;
    const ct_point with = sweep_tap(e, 4);
    e->c.house.rh_ceiling = (ct_maybe){true, 0.5 * (without + with.room.rh)};
    check_is("with", sweep_tap(e, 4).limit[CT_LIMIT_HUMIDITY].verdict, ==, CT_PASSES);
    e->c.control.cut_when_damp = false;
    check_is("without", sweep_tap(e, 4).limit[CT_LIMIT_HUMIDITY].verdict, ==, CT_FAILS);
    example_close(e);
}

/* A failed search leaves the answer as it was. */
static void fails_whole(void **state)
{
    (void)state;
    example *e = example_open("r410a-humid");
    const ct_sweep_job j = example_job(e, 0);
    const ct_point p = sweep_tap(e, 2);
    ct_humidity_job h = {.c = &e->c,
                         .system = &j.system,
                         .indoor = j.indoor,
                         .m_da = p.m_da,
                         .P_blower = p.P_blower,
                         .m_cut = 1e-3,
                         .P_cut = 1};
    ct_humidity_answer a = {.room = {.rh = -1}};
    ct_fault fault = {.what = ""};
    e->c.control.cut_when_damp = true;
    e->c.control.rh_off = 0.30;
    e->c.control.rh_on = 0.31;
    check_is("hardly any air", ct_humidity_controlled(e->solver, &h, 0.6, &a, &fault), !=, CT_OK);
    check_that("says why", fault.what[0]);
    check_abs("untouched", a.room.rh, -1, 0);
    example_close(e);
}

/* ---- A season ---- */

/* The damp hour again and again: the house is where the sweep says it settles. Tables and balances
 * at other humidities and outdoor temperatures: 0.1 % RH. */
static void of_a_season(void **state)
{
    enum { N = 2400 };
    static ct_weather_hour hour[N];
    static double rh[N];
    static ct_season_stage full, cut;
    static const struct {
        const char *name;
        bool fan_on;
        ct_fan_control k;
    } rows[] = {
        {"auto", false, {.cut = 0.15}},
        {"fan on", true, {.cut = 0.15}},
        {"cut in part", false, {.cut_when_damp = true, .cut = 0.15, .rh_off = 0.50, .rh_on = 0.60}},
        {"cut", false, {.cut_when_damp = true, .cut = 0.15, .rh_off = 0.30, .rh_on = 0.31}},
        {"slow start", false, {.slow_start = true, .cut = 0.15, .start_time = 120}},
        {"all", true, {true, true, 0.15, 0.60, 0.50, 0, 120}},
    };
    double settles[sizeof rows / sizeof *rows];
    (void)state;
    example *e = example_open("r410a-humid");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ct_season_house house;
        ct_season_total t;
        ct_fault f = {.what = ""};
        ct_air out;
        e->c.house.fan_on = rows[i].fan_on;
        e->c.house.fan_off_delay.has = false;
        e->c.control = rows[i].k;
        const ct_sweep_job job = example_job(e, 0);
        const ct_point p = sweep_tap(e, 2);
        const double T = ct_humidity_outdoor(&e->c, e->c.house.humidity_load);
        assert_int_equal(ct_humidity_outdoor_air(&e->c, job.indoor.p, T, &out, NULL), CT_OK);
        assert_int_equal(ct_season_house_of(&job, true, &house, &f), CT_OK);
        for (int k = 0; k < N; k++)
            hour[k] = (ct_weather_hour){1.0, T, out.W};
        ct_weather w = {.hourly = true, .n = N, .hour = hour};
        const ct_season_range range = ct_season_range_of(&house, &w);
        const ct_season_trace trace = {.rh = rh};
        /* The hour of the sweep has its share of the load, whatever the weather. */
        house.T_design = T;
        house.Q_design *= e->c.house.humidity_load;
        if (ct_season_tabulate(e->solver, &job, &p, &range, &full, &f) != CT_OK ||
            ct_season_tabulate_cut(e->solver, &job, &p, &range, &cut, &f) != CT_OK)
            fail_msg("%s", f.what);
        full.cut = &cut;
        if (ct_season_run(&house, &full, &w, &trace, &t, &f) != CT_OK) fail_msg("%s", f.what);
        settles[i] = p.room.rh;
        check_abs(rows[i].name, rh[N - 1], p.room.rh, 1e-3);
        check_rel(rows[i].name, t.run / N, p.room.run, 5e-3);
        check_is("water closes", fabs(t.unclosed), <, 1e-3 * t.water);
        w.hourly = false;
        w.n = 1;
        assert_int_equal(ct_season_run(&house, &full, &w, &trace, &t, NULL), CT_OK);
        check_abs("as a bin", rh[0], p.room.rh, 1e-3);
    }
    check_is("fan on is damper", settles[1], >, settles[0] + 0.02);
    check_is("cut is drier", settles[3], <, settles[2]);
    check_is("than without", settles[2], <, settles[0]);
    example_close(e);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(none_and_all),   cmocka_unit_test(in_between),
        cmocka_unit_test(slow_start),     cmocka_unit_test(of_a_sweep),
        cmocka_unit_test(judged_with_it), cmocka_unit_test(fails_whole),
        cmocka_unit_test(of_a_season),
    };
    gsl_watch();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
