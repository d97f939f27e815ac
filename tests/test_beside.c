/* Beside the pick, and close calls. */
#include <math.h>
#include <stdlib.h>

#include "base/units.h"
#include "check.h"
#include "example_case.h"
#include "judge/beside.h"
#include "study/close_call.h"
#include "study/uncertain.h"

/* Three speeds by hand, the first fails: which is best at what. */
static void test_best_at(void **state)
{
    (void)state;
    static ct_sweep s;
    static ct_case c;
    const ct_sweep_job job = {.c = &c};
    ct_beside b;
    const struct {
        double rh, P, Q, load;
    } rows[] = {{0.50, 3000, 9e3, 9e3}, {0.52, 3100, 10e3, 10e3}, {0.54, 3600, 10.5e3, 11e3}};
    const ct_pick pick = {.from_taps = true, .found = true, .index = 0, .n_points = 3};
    c.house = (ct_house){.Q_sensible = 9e3, .rh_floor = 0.51};
    s.n_taps = 3;
    for (int i = 0; i < 3; i++) {
        ct_point *p = &s.tap[i];
        *p = (ct_point){.passes = true, .has_room = true, .Q_house = rows[i].Q};
        p->Q_load_max = rows[i].load;
        p->room.rh = rows[i].rh;
        p->balance.P_total = rows[i].P;
    }
    ct_beside_pick(&job, &s, &pick, &b);
    check_is("driest: the pick", b.driest, ==, 0);
    /* By hand: 3000 W for the whole hour; 3100 for 0.9 of it, 2790; 3600 for 0.857, 3086. */
    check_rel("energy of an hour", ct_beside_power(&job, &s.tap[1]), 2790, 1e-12);
    check_is("cheapest", b.cheapest, ==, 1);
    check_is("most reserve", b.reserve, ==, 2);
    check_is("humidity right at a faster one", b.faster, ==, 1);
    check_that("under the floor of 51 %", b.too_dry);
    check_is("not too dry at", b.less_dry, ==, 1);
    s.tap[1].passes = false;
    ct_beside_pick(&job, &s, &pick, &b);
    check_is("a speed that fails is none", b.faster, ==, 2);
    check_is("nor the cheapest", b.cheapest, ==, 0);
}

/* A passing speed carries the load within the hour, so it takes the share of its watts for which it
 * runs on the design day, in the air of that day. By hand: half the capacity, half the hour. */
static void test_energy_in_the_air_judged(void **state)
{
    (void)state;
    static ct_case c;
    const ct_sweep_job by_hand = {.c = &c};
    ct_point p = {.passes = true, .Q_house = 9e3, .has_design = true, .design = {.Q_house = 12e3}};
    c.house = (ct_house){.Q_sensible = 6e3, .judge_load_at = CT_LOAD_SETTLED};
    p.balance.P_total = 3000;
    check_rel("settled", ct_beside_power(&by_hand, &p), 1500, 1e-12);
    c.house.judge_load_at = CT_LOAD_ENTERED;
    check_rel("entered", ct_beside_power(&by_hand, &p), 2000, 1e-12);

    example *e = example_open("r22-larger-coil");
    const ct_sweep_job at = example_job(e, 0);
    static ct_sweep sweep;
    check_is("run", ct_sweep_run(e->solver, &at, &sweep, NULL), ==, CT_OK);
    check_is("taps", sweep.n_taps, ==, 4);
    for (int i = 0; i < sweep.n_taps; i++) {
        const ct_point *tap = &sweep.tap[i];
        check_that("passes", tap->passes);
        check_rel("watts by share of the hour", ct_beside_power(&at, tap),
                  tap->balance.P_total * tap->design.room.run, 1e-3);
    }
    example_close(e);
}

/* A first-order doubt against draws: of a normal slack the share that passes is Phi(slack/doubt).
 * 3 points: 1000 quasi-random draws, and the capacity bends with the inputs. */
static void test_against_draws(void **state)
{
    (void)state;
    static const char *const names[] = {"r22-larger-coil", "r410a-humid"};
    for (size_t k = 0; k < 2; k++) {
        example *e = example_open(names[k]);
        const ct_setup setup = example_setup(e, 0);
        const ct_sweep_job at = example_job(e, 0);
        const ct_uncertain_plan plan = {.samples = 1000, .threads = 2};
        static ct_sweep sweep;
        ct_uncertain *u = calloc(1, sizeof *u);
        ct_close_call c;
        ct_pick pick;
        check_that(names[k], u);
        check_is(names[k], ct_sweep_run(e->solver, &at, &sweep, NULL), ==, CT_OK);
        ct_pick_lowest(&at, &sweep, &pick);
        check_that(names[k], pick.found);
        check_that(names[k], pick.from_taps);
        check_is("run", ct_close_call_run(&setup, &sweep, &pick, &c, NULL), ==, CT_OK);
        check_is("drawn", ct_uncertain_run(&setup, &sweep, &plan, u, NULL), ==, CT_OK);
        check_that("a limit is nearest", c.pick.has);
        check_is("a limit is nearest", c.pick.doubt, >, 0);
        const double phi = 0.5 * erfc(-c.pick.slack / c.pick.doubt / sqrt(2));
        check_abs(names[k], u->tap[pick.index].limit[c.pick.limit], phi, 0.03);
        check_is("close below one doubt", c.close, ==, (c.pick.slack < c.pick.doubt));
        free(u);
        example_close(e);
    }
}

/* Pistons one of which leaves a speed that passes next to one that floods: liquid at the compressor
 * is never nearly as good, and no doubt is more than all of the refrigerant. */
static void test_flooding_ties_with_nothing(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    static ct_sweep sweep;
    int beside_a_flood = 0;
    for (double bore = 0.073; bore < 0.0825; bore += 0.0005) {
        const ct_setup setup = example_setup(e, 0);
        ct_close_call c;
        ct_pick pick;
        e->c.indoor[0].meter = (ct_meter_spec){.kind = CT_METER_ORIFICE,
                                               .bore = {true, bore * CT_M_PER_IN},
                                               .length = 0.5 * CT_M_PER_IN};
        const ct_sweep_job at = example_job(e, 0);
        check_is("run", ct_sweep_speeds_only(e->solver, &at, &sweep, NULL), ==, CT_OK);
        ct_pick_lowest(&at, &sweep, &pick);
        if (!pick.found || !pick.has_lower) continue;
        check_is("run", ct_close_call_run(&setup, &sweep, &pick, &c, NULL), ==, CT_OK);
        if (ct_pick_candidate(&pick, &sweep, pick.lower)->meter != CT_METER_FLOODS) continue;
        beside_a_flood++;
        check_that("no tie", !c.tie);
        if (c.lower.has && c.lower.limit == CT_LIMIT_METER)
            check_is("a share of the refrigerant", c.lower.doubt, <=, 1.0);
    }
    check_is("looked at", beside_a_flood, >, 0);
    example_close(e);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_best_at), cmocka_unit_test(test_energy_in_the_air_judged),
        cmocka_unit_test(test_against_draws), cmocka_unit_test(test_flooding_ties_with_nothing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
