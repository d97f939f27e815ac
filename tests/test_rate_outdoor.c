/* From the nameplate to the outdoor unit: what was put in must come out of a balance at the A test,
 * what contradicts itself must fail with the range that is possible. */
#include <stdio.h>

#include "base/units.h"
#include "check.h"
#include "geometry.h"
#include "one_solver.h"
#include "open_map.h"
#include "plant.h"
#include "plant/balance.h"

/* The nameplate must come back through the whole balance, which shares the components but not the
 * search with the calibration: 1e-6. */
static void nameplate(void **state)
{
    static const struct {
        const char *refrigerant;
        double tons, SHR;
        int map, geometry;
    } row[] = {{"R-410A", 3, 0.75, 0, 0}, {"R-22", 3, 0.75, 0, 0},   {"R-410A", 2, 0.72, 0, 0},
               {"R-22", 5, 0.76, 0, 0},   {"R-407C", 3, 0.74, 0, 0}, {"R-32", 3, 0.75, 0, 0},
               {"R-410A", 5, 0.70, 0, 0}, {"R-22", 2, 0.70, 0, 0},   {"R-410A", 3, 0.75, 1, 0},
               {"R-410A", 3, 0.75, 0, 1}, {"R-22", 3, 0.73, 0, 1},   {"R-410A", 3, 0.73, 1, 1},
               {"R-407C", 2, 0.72, 0, 1}};
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        plant p;
        ct_balance b;
        ct_fault fault = {0};
        plant_case(&p.c, row[i].refrigerant, row[i].tons);
        const ct_outdoor_unit *u = &p.c.outdoor;
        p.c.outdoor.SHR_rated = row[i].SHR;
        if (row[i].map) open_map_use(&p.c);
        p.c.has_matched_geometry = row[i].geometry;
        p.c.matched = geometry(0.125 * row[i].tons, 3, 2 * (int)row[i].tons);
        if (plant_calibrate(&p, &fault) != CT_OK ||
            ct_balance_solve(solver, &p.sys, &p.rating, NULL, &b, &fault) != CT_OK) {
            print_error("row %zu: %s\n", i, fault.what);
            fail();
        }
        check_rel(row[i].refrigerant, b.Q_net, u->Q_net, 1e-6);
        check_rel(row[i].refrigerant, b.EER, u->EER, 1e-6);
        check_abs(row[i].refrigerant, b.SHR, row[i].SHR, 1e-6);
        check_abs(row[i].refrigerant, b.Te, u->T_suction_rated, 1e-5);
        check_abs(row[i].refrigerant, b.Tc, u->T_discharge_rated, 1e-5);
        check_abs(row[i].refrigerant, b.superheat, u->superheat_rated, 1e-9);
        check_rel("calibrated flow", b.m_r, p.cal.m_rated, 1e-6);
        check_is("possible range holds it", p.cal.SHR_min, <, row[i].SHR);
        check_is("possible range holds it", row[i].SHR, <, p.cal.SHR_max);
        print_message("%s %g ton%s%s: efficiency %.3f, UAo %.0f UAi %.0f W/K, SHR %.3f to %.3f, "
                      "h scale %.2f, map flow %.3f power %.3f\n",
                      row[i].refrigerant, row[i].tons, row[i].map ? " map" : "",
                      row[i].geometry ? " geometry" : "", p.cal.eta_rated, p.cal.UAo, p.cal.UAi,
                      p.cal.SHR_min, p.cal.SHR_max, p.cal.film_scale, p.cal.map_flow,
                      p.cal.map_power);
        plant_free(&p);
    }
}

typedef void (*spoil)(ct_case *);
static void eer_high(ct_case *c)
{
    c->outdoor.EER = 60 * CT_W_PER_BTUH;
}
static void eer_too_good(ct_case *c)
{
    c->outdoor.EER = 17 * CT_W_PER_BTUH;
}
static void eer_low(ct_case *c)
{
    c->outdoor.EER = 1.5 * CT_W_PER_BTUH;
}
static void eer_nan(ct_case *c)
{
    c->outdoor.EER = NAN;
}
static void blower_eats_all(ct_case *c)
{
    c->outdoor.P_blower_rated = 3500;
}
static void no_capacity(ct_case *c)
{
    c->outdoor.Q_net = NAN;
}
static void suction_nan(ct_case *c)
{
    c->outdoor.T_suction_rated = NAN;
}
static void discharge_cold(ct_case *c)
{
    c->outdoor.T_discharge_rated = K_(96);
}
static void discharge_hot(ct_case *c)
{
    c->outdoor.T_discharge_rated = K_(190);
}
static void subcooling_huge(ct_case *c)
{
    c->outdoor.subcooling = 60;
}

static void contradictions(void **state)
{
    static const struct {
        const char *name;
        spoil spoil;
        ct_status want;
        const char *word;
    } row[] = {
        {"EER 60", eer_high, CT_INPUT, "EER"},
        {"EER beyond isentropic", eer_too_good, CT_INPUT, "isentropic"},
        {"EER 1.5", eer_low, CT_INPUT, "isentropic"},
        {"EER NaN", eer_nan, CT_INPUT, "EER"},
        {"blower takes it all", blower_eats_all, CT_INPUT, "EER"},
        {"capacity NaN", no_capacity, CT_INPUT, "EER"},
        {"suction NaN", suction_nan, CT_RANGE, "saturated temperature"},
        {"discharge at the outdoors", discharge_cold, CT_INPUT, "discharge"},
        {"discharge past critical", discharge_hot, CT_RANGE, "saturated temperature"},
        {"subcooling", subcooling_huge, CT_RANGE, "subcooling"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        plant p = {.r = NULL};
        ct_fault fault = {0};
        plant_case(&p.c, "R-410A", 3);
        row[i].spoil(&p.c);
        p.outdoor.tons = -7;
        p.matched.Ao = -7;
        ct_status s = plant_calibrate(&p, &fault);
        if (s == CT_OK || !strstr(fault.what, row[i].word))
            print_error("%s: %d '%s'\n", row[i].name, (int)s, fault.what);
        check_that(row[i].name, s == CT_INPUT || s == CT_RANGE);
        check_is(row[i].name, s, ==, row[i].want);
        check_has(row[i].name, fault.what, row[i].word);
        check_abs("outdoor unit untouched", p.outdoor.tons, -7, 0);
        check_abs("coil untouched", p.matched.Ao, -7, 0);
        plant_free(&p);
    }
}

/* A blend condenses over a glide: the air sees the mean of dew and bubble at one pressure, the
 * liquid is subcooled from bubble. R-407C at 120 F dew: 265.75 psig, where bubble is 298.57 at 120
 * F and 225.47 at 100 F (ancillary equations of Lemmon 2003), hence about 8.5 F of glide. */
static void condenser_glide(void **state)
{
    ct_refrigerant *r;
    ct_condenser c = {.eps_C = 1000, .subcooling = 5};
    ct_condenser_state s;
    double p_dew, p_bubble;
    ct_liquid l;
    (void)state;
    assert_int_equal(ct_refrigerant_make("R-407C", &r, NULL), CT_OK);
    assert_int_equal(ct_condenser_state_at(&c, r, K_(120), &s, NULL), CT_OK);
    assert_int_equal(ct_refrigerant_p_dew(r, K_(120), &p_dew, NULL), CT_OK);
    assert_int_equal(ct_refrigerant_p_bubble(r, s.T_bubble, &p_bubble, NULL), CT_OK);
    assert_int_equal(ct_refrigerant_liquid(r, s.T_bubble, 5, &l, NULL), CT_OK);
    check_abs("psig", p_dew / CT_PA_PER_PSI - 14.696, 265.75, 0.1);
    /* The bubble temperature at a dew temperature is a column of its own, interpolated: to
     * 3e-8 K. */
    check_rel("one pressure", p_bubble, p_dew, 2e-9);
    check_abs("glide, F", 1.8 * (K_(120) - s.T_bubble), 8.5, 0.5);
    check_rel("mean", s.T_mid, 0.5 * (K_(120) + s.T_bubble), 1e-15);
    check_rel("liquid", s.h_liquid, l.h, 1e-15);
    ct_refrigerant_free(r);
    assert_int_equal(ct_refrigerant_make("R-22", &r, NULL), CT_OK);
    assert_int_equal(ct_condenser_state_at(&c, r, K_(120), &s, NULL), CT_OK);
    check_abs("no glide", s.T_mid, K_(120), 0);
    check_is("past critical", ct_condenser_state_at(&c, r, K_(250), &s, NULL), ==, CT_RANGE);
    ct_refrigerant_free(r);
}

/* Against eps-NTU worked out (Kays & London) for a condenser of 100 W/K air and UA ~ flow^0.5, at
 * the pressure of 5000 ft (24.90 of 29.92 inHg, ASHRAE Handbook Fundamentals ch. 1, table 1): one
 * exponent must serve the NTU residential condensers have. 0.9 %: what 0.75 misses at NTU 1
 * and 1.6.
 */
static void condenser_in_thin_air(void **state)
{
    static const double ntu[] = {1.0, 1.3, 1.6};
    (void)state;
    for (int i = 0; i < 3; i++) {
        const double thin = 24.90 / 29.921, C = 100, UA = ntu[i] * C;
        const ct_condenser c = {.eps_C = C * (1 - exp(-ntu[i]))};
        const double C_thin = C * thin, UA_thin = UA * sqrt(thin);
        check_rel("eps C", ct_condenser_eps_C(&c, thin * CT_ATM_PA),
                  C_thin * (1 - exp(-UA_thin / C_thin)), 0.011);
        check_abs("as rated at the sea", ct_condenser_eps_C(&c, CT_ATM_PA), c.eps_C, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nameplate), cmocka_unit_test(contradictions),
        cmocka_unit_test(condenser_glide), cmocka_unit_test(condenser_in_thin_air)};
    return cmocka_run_group_tests(tests, solver_make, solver_drop);
}
