/* Condenser in three zones. */
#include <math.h>

#include "check.h"
#include "part/condenser.h"

#define T_AIR 308.15

/* A worked example of the closed form (cross-flow, every tube sees entering air): 0.055 kg/s, cp
 * 1300 and 1800 J/kg K, 165 kJ/kg, discharge 75 C, air 35 C at 1650 W/K, conductances 1200, 2000
 * and 1100 W/K for the whole face. Worked out by a separate program to six digits. */
static const struct {
    double SC, Tc, w_v, w_tp, w_l, Q;
} table[] = {{0, 43.9537, 0.12551, 0.87449, 0, 11294.81},
             {2, 44.2433, 0.12284, 0.84709, 0.03007, 11472.10},
             {5, 44.8480, 0.11753, 0.79508, 0.08739, 11725.87},
             {8, 45.8116, 0.10970, 0.72422, 0.16608, 11953.97},
             {10, 46.7818, 0.10250, 0.66458, 0.23292, 12082.60}};

static ct_condenser_zones zones_of(double SC, double Tc_C, ct_condenser_state *s,
                                   ct_condenser_flow *f, double scale_v, double scale_l)
{
    const double T = Tc_C + 273.15, cp_v = 1300, cp_l = 1800;
    const double eps_C = 1650 * -expm1(-2000.0 / 1650);
    *s = (ct_condenser_state){.T_mid = T,
                              .T_dew = T,
                              .T_bubble = T,
                              .h_dew = 165e3,
                              .h_bubble = 0,
                              .cp_dew = cp_v,
                              .subcooling = SC,
                              .h_liquid = -cp_l * SC};
    *f = (ct_condenser_flow){0.055, 165e3 + cp_v * (75 - Tc_C), cp_v};
    ct_condenser_zones w = ct_condenser_shares(s, f, eps_C, T_AIR);
    /* Brought from the usual conductances to those of the example. */
    w.vapor *= scale_v;
    w.liquid *= scale_l;
    return w;
}

static void shares(void **state)
{
    double e_v, e_l, v, l;
    (void)state;
    ct_condenser_relative(CT_CONDENSER_NTU, CT_CONDENSER_VAPOR, CT_CONDENSER_LIQUID, &e_v, &e_l);
    ct_condenser_relative(2000.0 / 1650, 1200.0 / 2000, 1100.0 / 2000, &v, &l);
    for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
        ct_condenser_state s;
        ct_condenser_flow f;
        const ct_condenser_zones w = zones_of(table[i].SC, table[i].Tc, &s, &f, e_v / v, e_l / l);
        check_abs("vapor", w.vapor, table[i].w_v, 2e-5);
        check_abs("condensing", w.two_phase, table[i].w_tp, 2e-5);
        check_abs("liquid", w.liquid, table[i].w_l, 2e-5);
        check_abs("balance", ct_condenser_residual(&s, &w, T_AIR), 0, 2e-5);
        check_rel("heat", f.m * (f.h2 - s.h_liquid), table[i].Q, 1e-6);
    }
}

/* No liquid colder than the air, and a residual that keeps its sign and runs on without a step. */
static void no_colder_than_air(void **state)
{
    double before = 0;
    (void)state;
    for (double SC = 0; SC < 12; SC += 0.01) {
        ct_condenser_state s;
        ct_condenser_flow f;
        const ct_condenser_zones w = zones_of(SC, 45, &s, &f, 1, 1);
        const double r = ct_condenser_residual(&s, &w, T_AIR);
        check_that("more subcooling, less condenser", SC == 0 || r < before);
        check_that("none colder than the air", SC < 10 || r <= -0.3);
        before = r;
    }
    check_is("past the air's temperature", before, <, -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(shares),
                                       cmocka_unit_test(no_colder_than_air)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
