/* Airflow and balance settling together, with a balance made up here in place of the model's: one
 * that goes with the airflow, and one that steps to and fro. */
#include <string.h>

static double volume_at(double m_da);

#define ct_balance_solve made_up_balance
#include "judge/airflow.c"
#undef ct_balance_solve

#include "check.h"
#include "fluid/air.h"

enum { SMOOTH, STEPS };
static int kind;

/* m3/kg of air that leaves the coil. Smooth: a tenth more air is 0.2% larger, as 0.6 K are. */
static double volume_at(double m_da)
{
    if (kind == SMOOTH) return 0.80 * pow(m_da, 0.02);
    return m_da > 1.0 ? 0.805 : 0.795;
}

ct_status made_up_balance(ct_solver *solver, const ct_system *s, const ct_conditions *at,
                          const ct_start *start, ct_balance *b, ct_fault *fault)
{
    (void)solver;
    (void)s;
    (void)start;
    (void)fault;
    *b = (ct_balance){.outcome = CT_BALANCED, .out = at->in};
    b->out.T *= volume_at(at->m_da) / ct_air_v(b->out.T, b->out.W, b->out.p);
    return CT_OK;
}

static ct_airflow begin(const ct_system *s)
{
    ct_airflow a = {.system = s, .at = {.in = {.T = 297.0, .W = 0.009, .p = 101325.0}}};
    a.v = ct_airflow_volume(s, &a.at.in, NULL);
    return a;
}

/* By hand: V = m v and v = 0.8 m^0.02 with V = 0.8 is m = 1. */
static void test_settles(void **state)
{
    static ct_system s;
    (void)state;
    ct_balance b;
    ct_airflow a = begin(&s);
    kind = SMOOTH;
    check_is("settles", ct_airflow_settle(&a, 0.8, &b, NULL), ==, CT_OK);
    check_rel("mass", a.at.m_da, 1.0, 1e-10);
    check_is("a few rounds", a.balances, <=, 6);
}

/* 0.8 m3/s of 0.795 m3/kg are above 1 kg/s, where it is 0.805; of 0.805, below, where it is
 * 0.795. */
static void test_steps_to_and_fro(void **state)
{
    static ct_system s;
    (void)state;
    ct_balance b;
    ct_fault fault;
    ct_airflow a = begin(&s);
    kind = STEPS;
    check_is("does not settle", ct_airflow_settle(&a, 0.8, &b, &fault), ==, CT_NO_CONV);
    check_is("rounds", a.balances, ==, CT_AIRFLOW_ROUNDS);
    check_is("no balance is left", b.outcome, ==, CT_UNCONVERGED);
    check_has("says so", fault.what, "the airflow does not settle");
    check_has("what to do", fault.what, "try an airflow a little off");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_settles),
        cmocka_unit_test(test_steps_to_and_fro),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
