/* Valve and piston over the outdoors and the charge: what each must do, and that a piston's flow is
 * its equation's and the compressor's at once. */
#include "example_case.h"

#include "base/units.h"
#include "gsl_watch.h"
#include "study/meterstudy.h"

#define COUNT(a) (sizeof(a) / sizeof(a)[0])
#define HALF_INCH 0.0127
#define N 17 /* 75 to 115 F by 2.5 F */

static const char *const examples[] = {"r22-larger-coil", "r410a-humid"};

static ct_conditions design_day(const ct_sweep_job *j)
{
    return (ct_conditions){j->indoor, j->T_out, 1050 * CT_M3S_PER_CFM * CT_STD_DENSITY, 380};
}

static ct_system piston_for(const example *e, const ct_sweep_job *j, const ct_conditions *at)
{
    ct_system piston;
    ct_fault fault = {.what = ""};
    const ct_status status = ct_meterstudy_other(
        e->solver, &j->system, at, &(ct_meter_wanted){j->system.meter.superheat, HALF_INCH},
        &piston, &fault);
    check_is(fault.what, status, ==, CT_OK);
    check_abs("the other kind", piston.meter.kind, CT_METER_ORIFICE, 0);
    return piston;
}

/* The valve holds; the piston, sized to the same superheat on the design day, is above it on milder
 * days, below it on hotter ones, and floods before 115 F. Common practice, no source. */
static void test_outdoors(void **state)
{
    (void)state;
    static ct_study_point own[N], other[N];
    for (size_t i = 0; i < COUNT(examples); i++) {
        example *e = example_open(examples[i]);
        const ct_sweep_job j = example_job(e, 0);
        const ct_conditions at = design_day(&j);
        const ct_system piston = piston_for(e, &j, &at);
        const double low = ct_K_from_F(75), high = ct_K_from_F(115);
        ct_meterstudy_outdoors(e->solver, &j.system, &at, &(ct_steps){low, high, N}, own);
        ct_meterstudy_outdoors(e->solver, &piston, &at, &(ct_steps){low, high, N}, other);
        for (int k = 0; k < N; k++) {
            check_is(own[k].why, own[k].status, ==, CT_OK);
            check_is(other[k].why, other[k].status, ==, CT_OK);
            check_rel("temperature", ct_F_from_K(other[k].x), 75 + 2.5 * k, 1e-12);
            check_abs("valve holds", own[k].balance.superheat, j.system.meter.superheat, 1e-9);
            check_abs("valve gives vapor only", own[k].balance.quality_out, 1, 0);
            const ct_balance *b = &other[k].balance;
            const double off = b->superheat - j.system.meter.superheat;
            if (other[k].x < at.T_out - 1) check_is("more on a milder day", off, >, 0);
            if (other[k].x > at.T_out + 1) check_is("less on a hotter day", off, <, 0);
            check_that("no superheat is wet vapor", (b->superheat > 0) || b->quality_out < 1);
            if (k == 0) continue;
            const ct_balance *a = &other[k - 1].balance;
            check_that("falls until it floods", b->superheat < a->superheat || a->superheat <= 0);
            check_that("then more and more liquid",
                       b->superheat > 0 || b->quality_out < a->quality_out);
        }
        check_that("floods at 115 F in one example at least",
                   i > 0 || other[N - 1].balance.superheat <= 0);
        example_close(e);
    }
}

/* At each outdoor temperature the piston's equation (Payne & O'Neal 2004), worked out by hand with
 * the state the balance reports, gives the flow the compressor takes. Flow enters the balance's
 * residual at 1e-9; the root in superheat is found to about 1e-8 K. */
static void test_flows_agree(void **state)
{
    (void)state;
    static ct_study_point point[N];
    for (size_t i = 0; i < COUNT(examples); i++) {
        example *e = example_open(examples[i]);
        const ct_sweep_job j = example_job(e, 0);
        const ct_conditions at = design_day(&j);
        const ct_system piston = piston_for(e, &j, &at);
        ct_meterstudy_outdoors(e->solver, &piston, &at,
                               &(ct_steps){ct_K_from_F(75), ct_K_from_F(115), N}, point);
        for (int k = 0; k < N; k++) {
            const ct_balance *b = &point[k].balance;
            ct_inlet inlet;
            ct_orifice_out flow;
            double p;
            check_is("state", ct_refrigerant_p_dew(e->refrigerant, b->T_coil, &p, NULL), ==, CT_OK);
            check_is(
                "inlet",
                ct_inlet_after_line(e->refrigerant, b->p_discharge, b->subcooling, 0, &inlet, NULL),
                ==, CT_OK);
            check_is("flow", ct_orifice_flow(&piston.meter.orifice, &inlet, p, &flow, NULL), ==,
                     CT_OK);
            check_rel("piston and compressor", flow.m, b->m_r, 1e-6);
        }
        example_close(e);
    }
}

/* More charge: a valve holds, a piston passes more and its superheat falls. Both gain capacity
 * until the piston floods: each kg comes colder. */
static void test_subcooling(void **state)
{
    (void)state;
    enum { CHARGES = 10 };
    static ct_study_point own[CHARGES], other[CHARGES];
    for (size_t i = 0; i < COUNT(examples); i++) {
        example *e = example_open(examples[i]);
        const ct_sweep_job j = example_job(e, 0);
        const ct_conditions at = design_day(&j);
        const ct_system piston = piston_for(e, &j, &at);
        ct_meterstudy_subcooling(e->solver, &j.system, &at, &(ct_steps){2 / 1.8, 20 / 1.8, CHARGES},
                                 own);
        ct_meterstudy_subcooling(e->solver, &piston, &at, &(ct_steps){2 / 1.8, 20 / 1.8, CHARGES},
                                 other);
        for (int k = 0; k < CHARGES; k++) {
            check_is(own[k].why, own[k].status, ==, CT_OK);
            check_is(other[k].why, other[k].status, ==, CT_OK);
            check_abs("subcooling, F", own[k].balance.subcooling * 1.8, 2 + 2 * k, 1e-9);
            check_abs("valve holds", own[k].balance.superheat, j.system.meter.superheat, 1e-9);
            if (k == 0) continue;
            check_is("valve gains", own[k].balance.Q, >, own[k - 1].balance.Q);
            const ct_balance *a = &other[k - 1].balance, *b = &other[k].balance;
            check_that("piston's superheat falls",
                       b->superheat < a->superheat || a->superheat <= 0);
            check_that("piston passes more", b->m_r > a->m_r || a->superheat <= 0);
            if (b->superheat > 0) check_is("piston gains", b->Q, >, a->Q);
        }
        example_close(e);
    }
}

/* The bore for a superheat, put in, gives that superheat; the pistons beside it lie on either side
 * and on either side of the superheat. Named in thousandths of an inch; common practice, no source.
 */
static void test_bore(void **state)
{
    (void)state;
    static const double wanted[] = {5, 10, 15, 20}; /* F */
    example *e = example_open("r22-larger-coil");
    const ct_sweep_job j = example_job(e, 0);
    const ct_conditions at = design_day(&j);
    double before = HUGE_VAL;
    for (size_t i = 0; i < COUNT(wanted); i++) {
        ct_bore_choice choice;
        ct_fault fault = {.what = ""};
        const ct_status status =
            ct_meterstudy_bore(e->solver, &j.system, &at,
                               &(ct_meter_wanted){wanted[i] / 1.8, HALF_INCH}, &choice, &fault);
        check_is(fault.what, status, ==, CT_OK);
        check_is("more superheat, smaller bore", choice.bore, <, before);
        before = choice.bore;
        const double bores[] = {choice.below, choice.bore, choice.above};
        double superheat[3];
        for (int k = 0; k < 3; k++) {
            ct_system s = j.system;
            ct_balance b;
            s.meter = (ct_meter){.kind = CT_METER_ORIFICE, .orifice = {bores[k], HALF_INCH}};
            check_is("balance", ct_balance_solve(e->solver, &s, &at, NULL, &b, NULL), ==, CT_OK);
            superheat[k] = b.superheat;
        }
        check_abs("round trip, F", superheat[1] * 1.8, wanted[i], 1e-5);
        check_is("smaller starves", bores[0], <, bores[1]);
        check_is("smaller starves", superheat[0], >, superheat[1]);
        check_is("larger floods", bores[2], >, bores[1]);
        check_is("larger floods", superheat[2], <, superheat[1]);
        for (int k = 0; k < 3; k += 2) {
            const double thousandths = bores[k] / 0.0254e-3;
            check_abs("on the shelf", thousandths, round(thousandths), 1e-9);
        }
    }
    example_close(e);
}

/* A piston's other kind is a valve holding what is set. */
static void test_other_of_piston(void **state)
{
    (void)state;
    example *e = example_open("r410a-humid");
    const ct_sweep_job j = example_job(e, 1);
    const ct_conditions at = design_day(&j);
    ct_system valve;
    ct_balance b;
    check_abs("a piston", j.system.meter.kind, CT_METER_ORIFICE, 0);
    check_is("made",
             ct_meterstudy_other(e->solver, &j.system, &at, &(ct_meter_wanted){7, HALF_INCH},
                                 &valve, NULL),
             ==, CT_OK);
    check_abs("a valve", valve.meter.kind, CT_METER_VALVE, 0);
    check_is("balances", ct_balance_solve(e->solver, &valve, &at, NULL, &b, NULL), ==, CT_OK);
    check_abs("held", b.superheat, 7, 1e-9);
    example_close(e);
}

static void test_faults(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    const ct_sweep_job j = example_job(e, 0);
    ct_conditions at = design_day(&j);
    ct_bore_choice choice = {.m = -1};
    ct_fault fault = {.what = ""};
    check_is("more superheat than the air is warm",
             ct_meterstudy_bore(e->solver, &j.system, &at, &(ct_meter_wanted){80, HALF_INCH},
                                &choice, &fault),
             !=, CT_OK);
    check_that("told", fault.what[0] != '\0');
    check_is(
        "a tube of no length",
        ct_meterstudy_bore(e->solver, &j.system, &at, &(ct_meter_wanted){5, 1e-4}, &choice, &fault),
        ==, CT_RANGE);
    check_abs("untouched", choice.m, -1, 0);
    /* A series goes on past a point that does not balance, and says why. */
    ct_study_point point[3];
    ct_meterstudy_outdoors(e->solver, &j.system, &at, &(ct_steps){300, 420, 3}, point);
    check_is("the first balances", point[0].status, ==, CT_OK);
    check_that("the first balances", !point[0].why[0]);
    check_is("the last says why not", point[2].status, !=, CT_OK);
    check_that("the last says why not", point[2].why[0]);
    ct_meterstudy_outdoors(e->solver, &j.system, &at, &(ct_steps){308, 400, 1}, point);
    check_abs("one point is at the low end", point[0].x, 308, 0);
    example_close(e);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_outdoors),        cmocka_unit_test(test_flows_agree),
        cmocka_unit_test(test_subcooling),      cmocka_unit_test(test_bore),
        cmocka_unit_test(test_other_of_piston), cmocka_unit_test(test_faults),
    };
    gsl_watch();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
