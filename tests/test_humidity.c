/* The humidity the house settles at, with the equipment of an example case: limits worked by hand,
 * and facts of sign. */
#include "example_case.h"

#include <string.h>

#include "base/units.h"
#include "gsl_watch.h"
#include "judge/humidity.h"

#define COUNT(a) (sizeof(a) / sizeof(a)[0])
#define RATED_AIR (1200 * CT_M3S_PER_CFM * CT_STD_DENSITY) /* kg/s */
#define BLOWER 400.0

static ct_humidity_job job_of(const example *e, const ct_sweep_job *j, double m_da)
{
    return (ct_humidity_job){
        .c = &e->c, .system = &j->system, .indoor = j->indoor, .m_da = m_da, .P_blower = BLOWER};
}

static ct_room_out settle(example *e, double share, ct_room_out *fan_on)
{
    const ct_sweep_job j = example_job(e, 0);
    ct_humidity_job h = job_of(e, &j, RATED_AIR);
    ct_humidity_answer out;
    ct_fault fault = {.what = ""};
    h.also_fan_on = fan_on != NULL;
    const ct_status status = ct_humidity_settle(e->solver, &h, share, &out, &fault);
    check_is(fault.what, status, ==, CT_OK);
    if (!fan_on) return out.room;
    check_is("settles with the fan on", out.fan_on, ==, CT_OK);
    *fan_on = out.room_fan_on;
    return out.room;
}

/* Straight line by hand: from the balance temperature at no load to the design day at full load. */
static void test_outdoor(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double T_balance, share, F; /* F; 0: not stated, then 75 - 5 F */
    } rows[] = {
        {"60 % of the way from 70 to 95 F", 0, 0.6, 85},
        {"design day", 0, 1, 95},
        {"no load", 0, 0, 70},
        {"stated balance: 60 % from 65 to 95 F", 65, 0.6, 83},
        {"hotter than the design day", 65, 1.5, 110},
    };
    example *e = example_open("r22-larger-coil");
    for (size_t i = 0; i < COUNT(rows); i++) {
        e->c.house.T_balance = (ct_maybe){rows[i].T_balance > 0, ct_K_from_F(rows[i].T_balance)};
        check_abs(rows[i].name, ct_F_from_K(ct_humidity_outdoor(&e->c, rows[i].share)), rows[i].F,
                  1e-9);
    }
    example_close(e);
}

/* 4800 Btu/h of latent load is 4800 x 0.29307107 W over h_g(75 F) = 2501 + 1.86 x 23.8889 kJ/kg:
 * 47.75 kg of water a day, by hand, printed to four digits. Without infiltration that is what comes
 * in at any humidity, so that is what settled equipment takes out. */
static void test_water_is_the_latent_load(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    const ct_room_out auto_fan = settle(e, 0.6, NULL);
    check_abs("settled", auto_fan.outcome, CT_ROOM_SETTLED, 0);
    check_abs("kg a day", auto_fan.water_per_day, 47.75, 0.005);
    check_is("it cycles", auto_fan.run, >, 0.2);
    check_is("it cycles", auto_fan.run, <, 0.9);
    example_close(e);
}

static void test_no_moisture(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    e->c.house.Q_latent = 0;
    const ct_room_out o = settle(e, 0.6, NULL);
    check_abs("dries", o.outcome, CT_ROOM_DRIES, 0);
    check_abs("and then takes out nothing, kg a day", o.water_per_day, 0, 1e-4);
    check_is("below any house", o.rh, <, 0.40);
    example_close(e);
}

/* A load nothing carries: it runs the whole hour, the cycle plays no part, and at the humidity it
 * settles at one plain balance must take out the latent load. The curve is drawn through eight
 * humidities, so 0.3 % of the water. */
static void test_always_running(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    e->c.house.Q_sensible *= 3;
    ct_room_out on;
    const ct_room_out o = settle(e, 1, &on);
    check_that("always on", o.always_on);
    check_abs("whole hour", o.run, 1, 0);
    check_is("and short", o.Q_short, >, 0);
    check_abs("no cycle, no difference with the fan on", on.rh, o.rh, 1e-12);
    const ct_sweep_job j = example_job(e, 0);
    ct_conditions at = {j.indoor, j.T_out, RATED_AIR, BLOWER};
    ct_balance b;
    at.in.W = o.W;
    check_is("balance", ct_balance_solve(e->solver, &j.system, &at, NULL, &b, NULL), ==, CT_OK);
    const double h_g = 2501000 + 1860 * (at.in.T - 273.15);
    check_rel("latent load met", b.water * h_g, e->c.house.Q_latent, 3e-3);
    example_close(e);
}

/* Held at a humidity that is one of those tried, the hour follows from one balance by hand: run =
 * load over net sensible capacity, water = run times the full rate. */
static void test_hour(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    const ct_sweep_job j = example_job(e, 0);
    ct_humidity_job h = job_of(e, &j, RATED_AIR);
    h.indoor.W = 0.52 * ct_air_W_sat(h.indoor.T, h.indoor.p);
    ct_conditions at = {h.indoor, ct_humidity_outdoor(&e->c, 0.6), RATED_AIR, BLOWER};
    ct_room_out hour;
    ct_balance b;
    check_is("hour", ct_humidity_hour(e->solver, &h, 0.6, &hour, NULL), ==, CT_OK);
    check_is("balance", ct_balance_solve(e->solver, &j.system, &at, NULL, &b, NULL), ==, CT_OK);
    const double run = 0.6 * e->c.house.Q_sensible / b.Q_sens_net;
    check_rel("run", hour.run, run, 1e-7);
    check_rel("water", hour.water_per_day, run * b.water * 86400, 1e-6);
    const double in = e->c.house.Q_latent / (2501000 + 1860 * (at.in.T - 273.15));
    check_rel("drift is in less out", hour.residual, in - run * b.water, 1e-5);
    /* The house gets damper from here exactly when it settles above here. */
    const ct_room_out o = settle(e, 0.6, NULL);
    check_is("drift and settled humidity agree", (hour.residual > 0), ==, (o.rh > hour.rh));
    example_close(e);
}

/* Return leaks as large as ducts come, in an attic as damp as they come: more water drawn in than
 * the coil takes at first. The house settles where all water is accounted for, by the states of the
 * air on its way: room and attic mixed, dried by the coil, the supply leaks' share lost. */
static void test_leaks_close(void **state)
{
    (void)state;
    static const double leaks[][2] = {{0, 0.1}, {0.1, 0.3}, {0.5, 0.5}};
    example *e = example_open("r22-larger-coil");
    e->c.has_losses = true;
    e->c.site.around_duct.T = ct_K_from_F(115);
    e->c.site.around_duct.T_dp.v = ct_K_from_F(88);
    for (size_t i = 0; i < COUNT(leaks); i++) {
        e->c.losses = (ct_duct_losses){5, 5, leaks[i][0], leaks[i][1], 0};
        const ct_sweep_job j = example_job(e, 0);
        ct_humidity_job h = job_of(e, &j, RATED_AIR);
        ct_humidity_answer out;
        ct_balance b;
        h.outside = &j.outside;
        assert_int_equal(ct_humidity_settle(e->solver, &h, 1.0, &out, NULL), CT_OK);
        if (out.room.outcome == CT_ROOM_SATURATED) {
            check_is("damper by all of it", out.room.residual, >, 0);
            continue;
        }
        ct_conditions at = {j.indoor, j.T_out, RATED_AIR, BLOWER};
        at.in.W = out.room.W;
        assert_int_equal(ct_balance_solve(e->solver, &j.system, &at, NULL, &b, NULL), CT_OK);
        const double mixed = out.room.W + leaks[i][1] * (j.outside.around.W - out.room.W);
        const double supply = mixed - b.water / RATED_AIR;
        const double taken = out.room.run * (1 - leaks[i][0]) * RATED_AIR * (out.room.W - supply);
        const double hg = CT_AIR_HG0 + CT_AIR_CPV * (j.indoor.T - 273.15);
        check_rel("water out", taken, e->c.house.Q_latent / hg, 1e-6);
        check_rel("as told", out.room.water, taken, 1e-6);
    }
    example_close(e);
}

/* Wherever the search begins and whatever bend it is given, it ends at the same humidity: far off,
 * and just beside the answer, where one balance might seem near enough. A search ends within
 * 1e-9 kg/kg of a balance, 5e-8 of RH, or between two with most of 2e-7 taken off by the slope. */
static void test_any_start(void **state)
{
    (void)state;
    static const double off[] = {-3e-3, -1e-4, -2e-6, -9e-7, -1.5e-7, -9e-8, -1e-9,
                                 9e-8,  5e-7,  9e-7,  2e-6,  1e-4,    2e-3};
    static const ct_bend bend[] = {
        {0, 0, 0, 0}, {0.5, 1e6, 0, 0}, {1.2, 1.5e6, 900, -300}, {3, 2.4e6, -5e3, 2e4}};
    example *e = example_open("r22-larger-coil");
    const ct_sweep_job j = example_job(e, 0);
    const double W = settle(e, 0.6, NULL).W, rh = settle(e, 0.6, NULL).rh;
    double worst = 0;
    for (size_t i = 0; i < COUNT(off) * COUNT(bend); i++) {
        ct_humidity_job h = job_of(e, &j, RATED_AIR);
        ct_humidity_answer out;
        h.near.W = W + off[i / COUNT(bend)];
        h.bend = bend[i % COUNT(bend)];
        check_is("settles", ct_humidity_settle(e->solver, &h, 0.6, &out, NULL), ==, CT_OK);
        worst = fmax(worst, fabs(out.room.rh - rh));
        check_abs("RH from any start", out.room.rh, rh, 1e-7);
    }
    print_message("furthest apart: %.2g of RH\n", worst);
    example_close(e);
}

/* Facts of sign; common practice, no source. */
static void test_signs(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    ct_room_out on;
    const ct_room_out plain = settle(e, 0.6, &on);
    check_is("fan left on is damper by several points", on.rh, >, plain.rh + 0.05);
    e->c.house.fan_on = true;
    /* Two searches from different sides, as in test_any_start. */
    check_abs("the case's own fan on is the same", settle(e, 0.6, NULL).rh, on.rh, 1e-7);
    e->c.house.fan_on = false;
    e->c.house.fan_off_delay = (ct_maybe){true, 60};
    const ct_room_out delay = settle(e, 0.6, NULL);
    check_is("run-on lies between", delay.rh, >, plain.rh);
    check_is("run-on lies between", delay.rh, <, on.rh);
    e->c.house.fan_off_delay.has = false;
    check_is("milder is damper", settle(e, 0.4, NULL).rh, >, plain.rh);
    check_is("hotter is drier", settle(e, 1.0, NULL).rh, <, plain.rh);
    e->c.house.Q_latent *= 1.2;
    check_is("more people, damper", settle(e, 0.6, NULL).rh, >, plain.rh);
    e->c.house.Q_latent /= 1.2;
    e->c.house.infiltration = (ct_maybe){true, 60 * CT_M3S_PER_CFM};
    check_is("leaking in humid air, damper", settle(e, 0.6, NULL).rh, >, plain.rh);
    e->c.site.rh_outdoor.v = 0.05;
    check_is("leaking in dry air, drier", settle(e, 0.6, NULL).rh, <, plain.rh);
    example_close(e);
}

/* Settled humidity rises evenly with airflow, also where the coil at the driest humidities turns
 * wholly dry: no gap and no step. Its rise over 5 cfm/ton is about 0.3 % RH and bends slowly; from
 * one step to the next it may change by a twelfth of that. */
static void test_smooth(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    const ct_sweep_job j = example_job(e, 0);
    double before = 0, slope_before = 0;
    for (int i = 0; i <= 50; i++) {
        const double m = (250 + 5 * i) * 3 * CT_M3S_PER_CFM * CT_STD_DENSITY;
        const ct_humidity_job h = job_of(e, &j, m);
        ct_humidity_answer a;
        ct_fault fault = {.what = ""};
        const ct_status status = ct_humidity_settle(e->solver, &h, 0.6, &a, &fault);
        check_is(fault.what, status, ==, CT_OK);
        const ct_room_out o = a.room;
        if (i > 0) check_is("rises", o.rh, >, before);
        if (i > 1) check_abs("no step", o.rh - before, slope_before, 0.00025);
        slope_before = o.rh - before;
        before = o.rh;
    }
    example_close(e);
}

static void test_faults(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    const ct_sweep_job j = example_job(e, 0);
    const ct_humidity_job h = job_of(e, &j, RATED_AIR);
    ct_fault fault = {.what = ""};
    ct_humidity_answer o = {.room = {.rh = -1}, .room_fan_on = {.rh = -1}};
    e->c.house.infiltration = (ct_maybe){true, 0.02};
    e->c.site.rh_outdoor.has = false;
    check_abs("infiltration without outdoor humidity",
              ct_humidity_settle(e->solver, &h, 0.6, &o, &fault), CT_INPUT, 0);
    check_has("says so", fault.what, "outdoor humidity");
    check_abs("both are reported", o.fan_on, CT_INPUT, 0);
    check_is("untouched", o.room.rh, <, 0);
    check_is("untouched", o.room_fan_on.rh, <, 0);
    e->c.house.infiltration.has = false;
    ct_humidity_job thin = h;
    thin.m_da = 1e-3;
    check_is("no airflow to speak of", ct_humidity_settle(e->solver, &thin, 0.6, &o, &fault), !=,
             CT_OK);
    example_close(e);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_outdoor),     cmocka_unit_test(test_water_is_the_latent_load),
        cmocka_unit_test(test_no_moisture), cmocka_unit_test(test_always_running),
        cmocka_unit_test(test_hour),        cmocka_unit_test(test_leaks_close),
        cmocka_unit_test(test_any_start),   cmocka_unit_test(test_signs),
        cmocka_unit_test(test_smooth),      cmocka_unit_test(test_faults),
    };
    gsl_watch();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
