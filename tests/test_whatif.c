/* What would change the answer: by construction, and by walking there from outside. */
#include <stdlib.h>

#include "gsl_watch.h"
#include "invented_case.h"
#include "judge/pick.h"
#include "study/whatif.h"

static ct_whatif w;

static void run(void)
{
    const ct_setup setup = invented_setup();
    ct_fault f = {.what = ""};

    if (ct_whatif_run(&setup, &inv.sweep, &w, &f) != CT_OK) fail_msg("%s", f.what);
}

static const ct_tipping *tipping(ct_vary_input input)
{
    for (int i = 0; i < w.n; i++)
        if (w.tipping[i].input == input) return &w.tipping[i];
    fail_msg("no row for %s", ct_vary_name(input));
    return NULL;
}

/* The pick of a case, by the long way: full calibration, whole sweep. */
static int pick_of(const ct_case *c)
{
    static ct_sweep sweep;
    ct_outdoor o;
    ct_coil matched;
    ct_calibration k;
    ct_sweep_job job;
    ct_pick pick;

    assert_int_equal(ct_setup_rate(c, inv.refrigerant, &o, &matched, &k, NULL), CT_OK);
    assert_int_equal(ct_sweep_prepare(&(ct_setup){NULL, c, &o, &matched, 0}, &job, NULL), CT_OK);
    assert_int_equal(ct_sweep_run(inv.solver, &job, &sweep, NULL), CT_OK);
    ct_pick_lowest(&job, &sweep, &pick);
    return pick.found ? pick.index : -1;
}

/* With only the load in the way, the pick moves when the load passes its own capacity or drops to
 * that of the speed below: by hand from the nominal sweep. */
static void test_load(void **state)
{
    const double load = 22500.0 * 1055.05585262 / 3600.0 * 1.02;
    (void)state;
    invented_read(INVENTED_CASE);
    run();
    assert_true(w.pick > 0 && w.from_taps);
    double up = inv.sweep.tap[w.pick].balance.Q_sens_net / load - 1.0;
    double down = 1.0 - inv.sweep.tap[w.pick - 1].balance.Q_sens_net / load;
    const ct_tipping *t = tipping(CT_VARY_LOAD);
    assert_true(t->changes && up > 0.0 && down > 0.0);
    /* Closed in on to a thousandth of sigma = 0.1. */
    check_abs("change", t->change, up < down ? up : -down, 1.01e-4);
    assert_int_equal(t->to, up < down ? w.pick + 1 : w.pick - 1);
    check_abs("up", t->up * 0.1, up, 1.01e-4);
    check_abs("down", t->down * 0.1, down, 1.01e-4);
    check_abs("sigmas", t->sigmas, fabs(t->change) / 0.1, 1e-12);
}

typedef struct {
    const char *name;
    ct_vary_input input;
    void (*move)(ct_case *, double);
} way;

static void move_capacity(ct_case *c, double step)
{
    c->outdoor.Q_net *= 1.0 + step;
}

static void move_ratio(ct_case *c, double step)
{
    c->outdoor.SHR_rated += step;
}

static void move_outdoor(ct_case *c, double step)
{
    c->site.T_outdoor += step;
}

static void move_static(ct_case *c, double step)
{
    c->duct.dp *= 1.0 + step;
}

static void test_walked_from_outside(void **state)
{
    static const way ways[] = {{"capacity", CT_VARY_CAPACITY, move_capacity},
                               {"ratio", CT_VARY_SHR, move_ratio},
                               {"outdoor", CT_VARY_T_OUTDOOR, move_outdoor},
                               {"static", CT_VARY_DUCT_STATIC, move_static}};
    static ct_case c;
    int changed = 0;
    (void)state;
    invented_read(INVENTED_CASE);
    run();
    assert_int_equal(w.pick, pick_of(&inv.c));
    for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
        const ct_tipping *t = tipping(ways[i].input);
        if (!t->changes) continue;
        changed++;
        c = inv.c;
        ways[i].move(&c, t->change);
        check_is(ways[i].name, pick_of(&c), ==, t->to);
        check_is(ways[i].name, t->to, !=, w.pick);
        c = inv.c;
        ways[i].move(&c, t->change * (1.0 - 0.002 / t->sigmas));
        check_is("just short of it the pick stays", pick_of(&c), ==, w.pick);
        c = inv.c;
        ways[i].move(&c, -t->change * 0.95);
        check_is("as far the other way it stays", pick_of(&c), ==, w.pick);
    }
    assert_true(changed >= 3);
}

static void test_order_and_sigmas(void **state)
{
    (void)state;
    invented_read(INVENTED_CASE "uncertainty: {load: 0 %, rated_eer: 0 %}\n");
    run();
    assert_int_equal(w.n, CT_VARY_COUNT - 2);
    for (int i = 0; i < w.n; i++) {
        assert_true(w.tipping[i].input != CT_VARY_LOAD && w.tipping[i].input != CT_VARY_EER);
        if (i > 0) assert_true(w.tipping[i].sigmas >= w.tipping[i - 1].sigmas);
    }
    assert_true(w.tipping[0].changes);
    /* Half the standard deviation makes the same change twice as far away. */
    const ct_tipping before = *tipping(CT_VARY_CAPACITY);
    inv.c.uncertainty.capacity *= 0.5;
    run();
    check_abs("twice as many", tipping(CT_VARY_CAPACITY)->sigmas, 2.0 * before.sigmas, 3e-3);
}

/* Raising the rated sensible ratio ends where no coil has it. */
static void test_ends_at_the_impossible(void **state)
{
    (void)state;
    invented_read(INVENTED_CASE);
    inv.c.house.Q_sensible = 3000.0; /* the lowest speed carries it, whatever the ratio */
    inv.c.uncertainty.SHR = 0.04;
    invented_sweep();
    run();
    const ct_tipping *t = tipping(CT_VARY_SHR);
    assert_true(!t->changes && t->ends_up);
    check_abs("at the highest ratio", t->up * 0.04,
              inv.calibration.SHR_max - inv.c.outdoor.SHR_rated, 1e-4);
    assert_int_equal(w.pick, 0);
    assert_true(isinf(t->sigmas) && isnan(t->change));
}

/* On the hottest day capacity and that day's load are one; the design load grows to the largest. */
static void test_reach(void **state)
{
    (void)state;
    invented_read(INVENTED_CASE);
    for (int i = 0; i < inv.sweep.n_taps; i++) {
        const ct_point *p = &inv.sweep.tap[i];
        const double T0 = (68.0 + 459.67) / 1.8, T1 = (95.0 + 459.67) / 1.8;
        ct_reach r;
        ct_balance b;
        ct_whatif_reach(inv.solver, &inv.job, p, &r);
        assert_int_equal(r.hot_status, CT_OK);
        ct_conditions at = {inv.job.indoor, r.T_hottest, p->m_da, p->P_blower};
        assert_int_equal(ct_balance_solve(inv.solver, &inv.job.system, &at, NULL, &b, NULL), CT_OK);
        double load = 22500.0 * 1055.05585262 / 3600.0 * 1.02 * (r.T_hottest - T0) / (T1 - T0);
        check_rel("capacity is load", b.Q_sens_net, load, 1e-6); /* searched to 1e-7 */
        check_rel("largest load", r.Q_load_max * 1.02, p->balance.Q_sens_net, 1e-12);
        check_is("hotter than design where it carries the load", (r.T_hottest > T1), ==,
                 (p->limit[CT_LIMIT_SENSIBLE].verdict == CT_PASSES));
    }
}

static void test_no_hottest_day_says_why(void **state)
{
    ct_reach r;
    (void)state;
    invented_read(INVENTED_CASE);
    inv.c.house.T_balance.has = false;
    ct_whatif_reach(inv.solver, &inv.job, &inv.sweep.tap[0], &r);
    assert_int_equal(r.hot_status, CT_INPUT);
    assert_true(isnan(r.T_hottest) && strstr(r.why, "house.balance_temperature"));
    check_is("the load is given all the same", r.Q_load_max, >, 0.0);
}

static void test_faults(void **state)
{
    ct_fault f = {.what = ""};
    (void)state;
    invented_read(INVENTED_CASE);
    inv.c.uncertainty.coil = 0.9;
    const ct_setup setup = invented_setup();
    assert_int_equal(ct_whatif_run(&setup, &inv.sweep, &w, &f), CT_RANGE);
    assert_non_null(strstr(f.what, "coil conductance"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_load),
        cmocka_unit_test(test_walked_from_outside),
        cmocka_unit_test(test_order_and_sigmas),
        cmocka_unit_test(test_ends_at_the_impossible),
        cmocka_unit_test(test_reach),
        cmocka_unit_test(test_no_hottest_day_says_why),
        cmocka_unit_test(test_faults),
    };
    gsl_watch();
    return cmocka_run_group_tests(tests, NULL, invented_free);
}
