/* The two curves that cross at the balance: they cross where the balance lies, whichever way it is
 * looked for; they run the way they must; at the nameplate's own rating point they meet the
 * nameplate. */
#include "example_case.h"

#include <string.h>

#include "base/units.h"
#include "fluid/air.h"
#include "plant/curves.h"

#define ROWS(a) (sizeof(a) / sizeof((a)[0]))

typedef struct {
    example *e;
    ct_sweep_job job;
} plant;

static plant *open_plant(const char *name, int unit)
{
    plant *p = calloc(1, sizeof *p);
    assert_non_null(p);
    p->e = example_open(name);
    p->job = example_job(p->e, unit);
    p->job.system.charge = 0.0; /* the curves are of a subcooling that is held */
    return p;
}

static void close_plant(plant *p)
{
    example_close(p->e);
    free(p);
}

/* A valve, another refrigerant, an orifice, an orifice in a deeper coil. */
static const struct {
    const char *name;
    int unit;
} plants[] = {
    {"r22-larger-coil", 0}, {"r410a-humid", 0}, {"r410a-humid", 1}, {"nothing-passes", 0}};

static const double airflows[] = {250, 300, 350, 400, 450};

static ct_conditions conditions(const plant *p, const ct_point *point)
{
    return (ct_conditions){p->job.indoor, p->job.T_out, point->m_da, point->P_blower};
}

/* By halving, with nothing of the balance's own search. */
static double crossing_by_halving(plant *p, const ct_conditions *at, double low, double high)
{
    for (int i = 0; i < 60; i++) {
        const double Te = 0.5 * (low + high);
        ct_balance_trial t;
        assert_int_equal(ct_balance_try(p->e->solver, &p->job.system, at, Te, &t, NULL), CT_OK);
        if (t.coil_can && t.Q_coil > t.Q_unit)
            low = Te;
        else
            high = Te;
    }
    return 0.5 * (low + high);
}

static void check_crossing(plant *p, const char *label, double cfm_per_ton)
{
    ct_point point;
    ct_fault fault;
    ct_balance_trial t;
    assert_int_equal(
        ct_sweep_airflow(p->e->solver, &p->job, cfm_per_ton * CT_M3S_PER_CFM, &point, &fault),
        CT_OK);
    assert_int_equal(point.status, CT_OK);
    const ct_balance *b = &point.balance;
    const ct_conditions at = conditions(p, &point);
    assert_int_equal(ct_balance_try(p->e->solver, &p->job.system, &at, b->Te, &t, &fault), CT_OK);
    /* The balance closes to 1e-9 of the heat; 1e-8 leaves room for rounding. */
    check_rel(label, t.Q_coil, b->Q, 1e-8);
    check_rel(label, t.Q_unit, b->Q, 1e-8);
    check_rel(label, t.Q_coil_sens, b->Q_sens, 1e-8);
    check_abs(label, t.Tc, b->Tc, 1e-7);
    check_abs(label, t.T_surface, b->T_surface, 1e-7);
    check_abs(label, crossing_by_halving(p, &at, b->Te - 3.0, b->Te + 3.0), b->Te, 1e-6);
}

static void test_crossing_is_the_balance(void **state)
{
    (void)state;
    for (size_t i = 0; i < ROWS(plants); i++) {
        plant *p = open_plant(plants[i].name, plants[i].unit);
        for (size_t k = 0; k < ROWS(airflows); k++)
            check_crossing(p, plants[i].name, airflows[k]);
        close_plant(p);
    }
}

/* Denser vapor with a warmer suction, less heat out of the air with warmer tubes: both steadily.
 * (An orifice's flow follows the head rather than the suction, so only its heat must rise.)
 * Where a coil can no longer make its superheat it gives nothing more: no point after that may. */
static void check_steady(const char *label, const ct_curve *c, bool valve)
{
    for (int k = 1; k < c->n; k++) {
        const ct_balance_trial *a = &c->point[k - 1], *b = &c->point[k];
        check_is(label, b->Te, >, a->Te);
        check_is(label, b->Q_unit, >, a->Q_unit);
        if (valve) check_that(label, b->m_r > a->m_r && b->Tc > a->Tc);
        check_that(label, a->coil_can || !b->coil_can);
        if (a->coil_can && b->coil_can) check_is(label, b->Q_coil, <, a->Q_coil);
    }
}

static void test_curves_are_steady(void **state)
{
    static ct_curve curve, slower;
    (void)state;
    for (size_t i = 0; i < ROWS(plants); i++) {
        plant *p = open_plant(plants[i].name, plants[i].unit);
        ct_fault fault = {.what = ""};
        const double tons = p->job.system.outdoor.tons;
        ct_conditions at = {p->job.indoor, p->job.T_out,
                            400 * CT_M3S_PER_CFM * tons * CT_STD_DENSITY, 0.0};
        assert_int_equal(ct_curves_run(p->e->solver, &p->job.system, &at,
                                       &(ct_steps){262.0, 288.0, 105}, &curve, &fault),
                         CT_OK);
        check_is(plants[i].name, curve.n, >, 40);
        check_is(plants[i].name, curve.n + curve.n_left_out, ==, 105);
        check_steady(plants[i].name, &curve, p->job.system.meter.kind == CT_METER_VALVE);
        at.m_da *= 0.75;
        assert_int_equal(ct_curves_run(p->e->solver, &p->job.system, &at,
                                       &(ct_steps){262.0, 288.0, 105}, &slower, &fault),
                         CT_OK);
        assert_int_equal(curve.n, slower.n);
        for (int k = 0; k < curve.n; k++) {
            /* The outdoor unit knows nothing of the airflow; the coil gives less with less air. */
            check_rel(plants[i].name, slower.point[k].Q_unit, curve.point[k].Q_unit, 1e-9);
            if (slower.point[k].coil_can)
                check_is(plants[i].name, slower.point[k].Q_coil, <, curve.point[k].Q_coil);
        }
        close_plant(p);
    }
}

/* Where the lines of a computed curve cross: straight between the two points around it. False: they
 * do not cross here. */
static bool cross(const ct_curve *curve, double *Te, double *Q)
{
    for (int i = 1; i < curve->n; i++) {
        const ct_balance_trial *a = &curve->point[i - 1], *b = &curve->point[i];
        double fa = a->Q_coil - a->Q_unit, fb = b->Q_coil - b->Q_unit;
        if (!(fa >= 0.0 && fb <= 0.0)) continue;
        double share = fa > fb ? fa / (fa - fb) : 0.0;
        *Te = a->Te + share * (b->Te - a->Te);
        *Q = a->Q_unit + share * (b->Q_unit - a->Q_unit);
        return true;
    }
    return false;
}

/* Straight lines between 401 points over 12 K: the sagitta of these curves is below 1e-4 K. */
static void test_cross_of_a_drawn_curve(void **state)
{
    static ct_curve curve;
    (void)state;
    plant *p = open_plant("r22-larger-coil", 0);
    ct_point point;
    ct_fault fault;
    double Te = NAN, Q = NAN;
    assert_int_equal(ct_sweep_airflow(p->e->solver, &p->job, 350 * CT_M3S_PER_CFM, &point, &fault),
                     CT_OK);
    const ct_conditions at = conditions(p, &point);
    const double here = point.balance.Te;
    assert_int_equal(ct_curves_run(p->e->solver, &p->job.system, &at,
                                   &(ct_steps){here - 5, here + 7, 401}, &curve, &fault),
                     CT_OK);
    check_that("they cross", cross(&curve, &Te, &Q));
    check_abs("where", Te, here, 1e-4);
    check_rel("at what heat", Q, point.balance.Q, 1e-5);
    assert_int_equal(ct_curves_run(p->e->solver, &p->job.system, &at,
                                   &(ct_steps){here + 1, here + 7, 50}, &curve, &fault),
                     CT_OK);
    check_that("not here", !cross(&curve, &Te, &Q));
    close_plant(p);
}

/* The A test of AHRI 210/240 (95 F outdoors, 80 F dry and 67 F wet bulb indoors, sea level) at the
 * nameplate's airflow: outdoor unit and matched coil both give the rated net capacity plus the
 * blower's heat, at the rated saturated suction and discharge. The nameplate is the source. The
 * calibration solves to 1e-9. */
static void test_rating_point(void **state)
{
    static const char *const names[] = {"r22-larger-coil", "r410a-humid", "nothing-passes"};
    (void)state;
    for (size_t i = 0; i < ROWS(names); i++) {
        plant *p = open_plant(names[i], 0);
        const ct_outdoor_unit *u = &p->e->c.outdoor;
        ct_fault fault;
        ct_system matched;
        ct_balance_trial t;
        ct_conditions at = {.T_out = CT_RATING_T_OUT,
                            .m_da = u->V_rated_std * CT_STD_DENSITY,
                            .P_blower = u->P_blower_rated};
        assert_int_equal(
            ct_air_from_wet_bulb(CT_RATING_T_IN, CT_RATING_T_WB, CT_ATM_PA, &at.in, &fault), CT_OK);
        const ct_setup setup = example_setup(p->e, 0);
        ct_setup_matched(&setup, &matched);
        assert_int_equal(
            ct_balance_try(p->e->solver, &matched, &at, u->T_suction_rated, &t, &fault), CT_OK);
        check_rel(names[i], t.Q_unit, u->Q_net + u->P_blower_rated, 1e-8);
        check_rel(names[i], t.Q_coil, u->Q_net + u->P_blower_rated, 1e-8);
        check_rel(names[i], t.Q_coil_sens / t.Q_coil, u->SHR_rated, 1e-8);
        check_abs(names[i], t.Tc, u->T_discharge_rated, 1e-6);
        check_rel(names[i], t.P_compressor, u->Q_net / u->EER - u->P_blower_rated - u->P_fan, 1e-8);
        close_plant(p);
    }
}

static void test_faults(void **state)
{
    static ct_curve curve;
    (void)state;
    plant *p = open_plant("r22-larger-coil", 0);
    ct_conditions at = {p->job.indoor, p->job.T_out, 0.6, 300.0};
    ct_balance_trial t = {.Te = 1.0};
    ct_fault fault;
    static const struct {
        const char *name;
        double low, high;
        int n;
        ct_status wanted;
        const char *says;
    } rows[] = {
        {"one point", 270, 280, 1, CT_INPUT, "allowed 2 to 401"},
        {"too many", 270, 280, 402, CT_INPUT, "allowed 2 to 401"},
        {"backwards", 280, 270, 5, CT_INPUT, "lower to a higher"},
        {"no range", 280, 280, 5, CT_INPUT, "lower to a higher"},
        {"not a number", NAN, 280, 5, CT_INPUT, "lower to a higher"},
        {"warmer than the air", 300, 310, 5, CT_RANGE, "entering air"},
        {"colder than the tables", 200, 210, 5, CT_RANGE, "entering air"},
    };
    for (size_t i = 0; i < ROWS(rows); i++) {
        fault.what[0] = '\0';
        const ct_status got =
            ct_curves_run(p->e->solver, &p->job.system, &at,
                          &(ct_steps){rows[i].low, rows[i].high, rows[i].n}, &curve, &fault);
        check_is(rows[i].name, got, ==, rows[i].wanted);
        check_has(rows[i].name, fault.what, rows[i].says);
    }
    at.T_out = 400.0;
    check_is("outdoors beyond the model",
             ct_balance_try(p->e->solver, &p->job.system, &at, 278.0, &t, &fault), ==, CT_RANGE);
    check_is("output untouched", t.Te, ==, 1.0);
    close_plant(p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_crossing_is_the_balance),
        cmocka_unit_test(test_curves_are_steady),
        cmocka_unit_test(test_cross_of_a_drawn_curve),
        cmocka_unit_test(test_rating_point),
        cmocka_unit_test(test_faults),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
