/* Liquid line: friction, lift, gas before the metering device, and what it does to the flow. */
#include "part/liquid_line.h"

#include "plant.h"
#include "plant/feed.h"

#define FT 0.3048
#define BORE (0.311 * 0.0254) /* 3/8 in copper */

static ct_solver *solver;
static ct_refrigerant *r22;

static int open_all(void **state)
{
    (void)state;
    return ct_solver_make(&solver, NULL) != CT_OK ||
           ct_refrigerant_make("R-22", &r22, NULL) != CT_OK;
}

static int close_all(void **state)
{
    (void)state;
    ct_solver_free(solver);
    ct_refrigerant_free(r22);
    return 0;
}

static double p_at(double F)
{
    double p;
    assert_int_equal(ct_refrigerant_p_bubble(r22, K_(F), &p, NULL), CT_OK);
    return p;
}

/* Laminar 64/Re; turbulent against Colebrook & White 1939, 1/sqrt f = -2 log10(e/3.7 + 2.51/(Re
 * sqrt f)), solved here by itself. Churchill gives 2 to 3 % for his formula. */
static void friction(void **state)
{
    (void)state;
    check_rel("laminar", ct_liquid_line_friction(800, 0), 64.0 / 800, 1e-3);
    double most = 0, last = 0;
    for (double Re = 1e4; Re < 1e6; Re *= 1.3)
        for (int rough = 0; rough < 3; rough++) {
            const double e = 2e-4 * rough;
            double x = 7;
            for (int i = 0; i < 60; i++)
                x = -2 * log10(e / 3.7 + 2.51 / Re * x);
            const double f = ct_liquid_line_friction(Re, e), off = f * x * x - 1;
            most = fmax(most, fabs(off));
            check_abs("Colebrook", off, 0, 0.03);
        }
    print_message("friction: at most %.1f %% from Colebrook\n", 100 * most);
    for (double Re = 500; Re < 1e6; Re *= 1.01) {
        const double head = Re * Re * ct_liquid_line_friction(Re, 2e-4);
        check_is("more flow, more drop", head, >, last);
        last = head;
    }
}

/* 0.06 kg/s of R-22 leaving at 100 F (71.2 lb/ft3 and 0.142 mPa s from memory, unconfirmed) through
 * 50 ft of 3/8 in: Re 68 100, Colebrook's f 0.0203, 1.073 m/s, so 3.73 psi of friction, and
 * 9.89 psi for 20 ft of lift. */
static void by_hand(void **state)
{
    (void)state;
    const ct_liquid_line_feed feed = {p_at(110), 10 / 1.8, 0.06};
    ct_liquid_line line = {50 * FT, BORE, 0};
    double dp, rise;
    assert_int_equal(ct_liquid_line_drop(&line, r22, &feed, &dp, NULL), CT_OK);
    check_rel("friction", dp / CT_PA_PER_PSI, 3.7336, 0.03);
    line.lift = 20 * FT;
    assert_int_equal(ct_liquid_line_drop(&line, r22, &feed, &rise, NULL), CT_OK);
    check_rel("lift", (rise - dp) / CT_PA_PER_PSI, 9.8889, 1e-3);
    line.lift = -20 * FT;
    assert_int_equal(ct_liquid_line_drop(&line, r22, &feed, &dp, NULL), CT_OK);
    check_rel("fall gains", (dp - rise) / CT_PA_PER_PSI, -2 * 9.8889, 1e-3);
}

/* A published table of risers, R-22 liquid at 110 F: psi lost in so many feet (service manual of
 * 2022; to a tenth of a psi). */
static void risers(void **state)
{
    static const double row[][2] = {{10, 4.8},  {15, 7.3},  {20, 9.7},  {25, 12.1}, {30, 14.5},
                                    {40, 19.4}, {50, 24.2}, {75, 36.3}, {100, 48.4}};
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const ct_liquid_line line = {row[i][0] * FT, BORE, row[i][0] * FT};
        double dp;
        assert_int_equal(
            ct_liquid_line_drop(&line, r22, &(ct_liquid_line_feed){p_at(110), 0, 0}, &dp, NULL),
            CT_OK);
        check_abs("psi", dp / CT_PA_PER_PSI, row[i][1], 0.06 + 0.003 * row[i][1]);
    }
}

/* The same published table: 50 ft take 8.0 F of subcooling. Gas comes when the lift is past it. */
static void gas(void **state)
{
    (void)state;
    ct_inlet in;
    for (int lift = 40; lift <= 60; lift += 20) {
        const ct_liquid_line line = {lift * FT, BORE, lift * FT};
        const ct_liquid_line_feed feed = {p_at(118), 8 / 1.8, 0};
        assert_int_equal(ct_liquid_line_inlet(&line, r22, &feed, &in, NULL), CT_OK);
        check_is("gas", (in.quality > 0), ==, (lift > 50));
    }
    const ct_liquid_line none = {0}, thin = {250 * FT, 3e-3, 0};
    const ct_liquid_line_feed feed = {p_at(110), 5, 0.08};
    ct_inlet plain;
    ct_fault fault;
    assert_int_equal(ct_liquid_line_inlet(&none, r22, &feed, &in, NULL), CT_OK);
    assert_int_equal(ct_inlet_after_line(r22, feed.p, 5, 0, &plain, NULL), CT_OK);
    check_is("no line, nothing changes", in.p, ==, plain.p);
    check_is("no line, nothing changes", in.rho, ==, plain.rho);
    check_is("no line carries that", ct_liquid_line_inlet(&thin, r22, &feed, &in, &fault), ==,
             CT_INPUT);
    check_has("no line carries that", fault.what, "shorter or wider");
}

/* The orifice's own flow makes the friction before it. */
static void own_flow(void **state)
{
    (void)state;
    const ct_orifice piston = {0.067 * 0.0254, 0.5 * 0.0254};
    double last = 1;
    for (int lift = -40; lift <= 100; lift += 5) {
        const ct_liquid_line line = {150 * FT, 0.25 * 0.0254, lift * FT};
        const ct_liquid_line_end end = {.line = &line,
                                        .refrigerant = r22,
                                        .orifice = &piston,
                                        .p_up = p_at(115),
                                        .subcooling = 10 / 1.8,
                                        .p_down = p_at(45)};
        ct_orifice_out out, again;
        ct_inlet in;
        assert_int_equal(ct_liquid_line_flow(&end, &out, NULL), CT_OK);
        const ct_liquid_line_feed feed = {end.p_up, end.subcooling, out.m};
        assert_int_equal(ct_liquid_line_inlet(&line, r22, &feed, &in, NULL), CT_OK);
        assert_int_equal(ct_orifice_flow(&piston, &in, end.p_down, &again, NULL), CT_OK);
        check_rel("one flow", again.m, out.m, 1e-11);
        check_is("more lift, less flow", out.m, <, last);
        if (lift % 20 == 0)
            print_message("lift %4d ft: %.4f kg/s, %s%.1f\n", lift, out.m,
                          in.quality > 0 ? "percent gas " : "F subcooled ",
                          in.quality > 0 ? 100 * in.quality : in.subcooling * 1.8);
        last = out.m;
    }
}

/* In a whole system: less flow is more superheat with a piston; the balance is that of the flow
 * through line and piston, wherever it was begun. */
static void in_a_system(void **state)
{
    (void)state;
    plant p;
    ct_balance level, high, again;
    ct_inlet in;
    ct_orifice_out out;
    double p_down;
    plant_make(&p, "R-22", 3);
    p.sys.meter = (ct_meter){.kind = CT_METER_ORIFICE, .orifice = {0.073 * 0.0254, 12.7e-3}};
    assert_int_equal(ct_balance_solve(solver, &p.sys, &p.rating, NULL, &level, NULL), CT_OK);
    p.sys.outdoor.line = (ct_liquid_line){80 * FT, BORE, 70 * FT};
    assert_int_equal(ct_balance_solve(solver, &p.sys, &p.rating, NULL, &high, NULL), CT_OK);
    assert_int_equal(ct_feed_inlet(&p.sys, &high, &in, NULL), CT_OK);
    assert_int_equal(ct_refrigerant_p_dew(p.r, high.T_coil, &p_down, NULL), CT_OK);
    assert_int_equal(ct_orifice_flow(&p.sys.meter.orifice, &in, p_down, &out, NULL), CT_OK);
    print_message("70 ft of lift: superheat %.1f F instead of %.1f, total %.1f %%, %.2f %% gas\n",
                  high.superheat * 1.8, level.superheat * 1.8, 100 * high.Q / level.Q,
                  100 * in.quality);
    check_rel("flow", high.m_r, out.m, 1e-7);
    check_is("gas", in.quality, >, 0);
    check_is("superheat", high.superheat, >, level.superheat + 1);
    check_is("capacity", high.Q, <, level.Q);
    const ct_start far = {.Te = high.Te - 15, .Tc = high.Tc + 12};
    assert_int_equal(ct_balance_solve(solver, &p.sys, &p.rating, &far, &again, NULL), CT_OK);
    check_rel("from far", again.Q, high.Q, 1e-8);
    plant_free(&p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(friction), cmocka_unit_test(by_hand),
                                       cmocka_unit_test(risers),   cmocka_unit_test(gas),
                                       cmocka_unit_test(own_flow), cmocka_unit_test(in_a_system)};
    return cmocka_run_group_tests(tests, open_all, close_all);
}
