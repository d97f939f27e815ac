/* Metering devices against published correlations worked independently, against older published
 * forms, and against what must hold for any piston or valve. */
#include <string.h>

#include "check.h"
#include "part/orifice.h"
#include "part/target_superheat.h"
#include "part/valve.h"

#define IN 0.0254
#define PSI 6894.757293168361

static double K(double F)
{
    return (F + 459.67) / 1.8;
}

static const char *const names[] = {"R-22", "R-410A", "R-407C"};
static ct_refrigerant *fluid[3];

static int make(void **state)
{
    (void)state;
    ct_fault fault;
    for (int i = 0; i < 3; i++)
        if (ct_refrigerant_make(names[i], &fluid[i], &fault)) return 1;
    return 0;
}

static int drop(void **state)
{
    (void)state;
    for (int i = 0; i < 3; i++)
        ct_refrigerant_free(fluid[i]);
    return 0;
}

/* What leaves a condenser at bubble temperature T (F), subcooled sub (F), with no line. */
static ct_inlet inlet(const ct_refrigerant *r, double T, double sub)
{
    double p;
    ct_fault fault;
    ct_inlet in;
    assert_int_equal(ct_refrigerant_p_bubble(r, K(T), &p, &fault), CT_OK);
    assert_int_equal(ct_inlet_after_line(r, p, sub / 1.8, 0, &in, &fault), CT_OK);
    return in;
}

static ct_inlet flash(const ct_refrigerant *r, double T, double x)
{
    double p, T_dew;
    ct_liquid f;
    ct_vapor g;
    ct_inlet in;
    assert_int_equal(ct_refrigerant_p_bubble(r, K(T), &p, NULL), CT_OK);
    assert_int_equal(ct_refrigerant_T_dew(r, p, &T_dew, NULL), CT_OK);
    assert_int_equal(ct_refrigerant_liquid(r, K(T), 0, &f, NULL), CT_OK);
    assert_int_equal(ct_refrigerant_vapor(r, T_dew, 0, &g, NULL), CT_OK);
    assert_int_equal(ct_inlet_at(r, p, f.h + x * (g.h - f.h), &in, NULL), CT_OK);
    return in;
}

static double grams(const ct_inlet *in, double bore, double length)
{
    ct_fault fault;
    ct_orifice o = {bore, length};
    ct_orifice_out out;
    assert_int_equal(ct_orifice_flow(&o, in, 0.4 * in->p_sat, &out, &fault), CT_OK);
    return out.m * 1e3;
}

/* Payne & O'Neal 2004 worked outside this program from the refrigerants' equations of state; bore
 * 0.067 in, length 0.5 in, liquid density at its own temperature. Half the last printed digit, and
 * 0.02 % for the property tables, squared into nothing else. */
static void short_tube(void **state)
{
    static const double T[] = {100, 115, 120}, sub[] = {5, 10, 15};
    static const double want[3][3][3] = {
        {{46.46, 48.76, 51.79}, {49.60, 52.48, 55.87}, {50.67, 53.67, 57.12}},
        {{52.87, 56.45, 60.26}, {56.52, 59.70, 63.19}, {57.79, 60.72, 64.04}},
        {{46.52, 49.86, 53.48}, {49.61, 53.21, 56.93}, {50.66, 54.26, 57.96}},
    };
    (void)state;
    for (int r = 0; r < 3; r++)
        for (int i = 0; i < 3; i++)
            for (int j = 0; j < 3; j++) {
                ct_inlet in = inlet(fluid[r], T[i], sub[j]);
                check_abs(names[r], grams(&in, 0.067 * IN, 0.5 * IN), want[r][i][j],
                          0.00501 + 2e-4 * want[r][i][j]);
            }
}

/* Other bores, and two-phase inlets at 115 F, worked as above. The two-phase rows were worked with
 * the factor as published, which is 0.987 and 1.018 (R-410A) at quality zero; this library
 * divides by that value, so the rows are divided by it too, with half of its last digit as
 * tolerance. */
static void bores_and_flash(void **state)
{
    static const struct {
        int r;
        double bore, x, want, at_zero;
    } row[] = {
        {0, 0.059, 0, 39.85, 1},        {1, 0.059, 0, 45.70, 1},
        {0, 0.075, 0, 66.99, 1},        {1, 0.075, 0, 75.67, 1},
        {0, 0.067, 0.02, 40.97, 0.987}, {0, 0.067, 0.05, 36.84, 0.987},
        {0, 0.067, 0.10, 31.88, 0.987}, {1, 0.067, 0.02, 52.58, 1.018},
        {1, 0.067, 0.05, 50.68, 1.018}, {1, 0.067, 0.10, 48.00, 1.018},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const ct_refrigerant *r = fluid[row[i].r];
        ct_inlet in = row[i].x > 0 ? flash(r, 115, row[i].x) : inlet(r, 115, 10);
        double digit = row[i].x > 0 ? 0.0005 : 0;
        check_abs(names[row[i].r], grams(&in, row[i].bore * IN, 0.5 * IN),
                  row[i].want / row[i].at_zero, 0.00501 + (2e-4 + digit) * row[i].want);
    }
}

/* Older published orifice forms, sharp edge: m = A sqrt(2 rho (Pup - Pf)). */
typedef struct {
    double D_ref, b[11];
} form;

static double old_form(const form *c, const ct_inlet *in, double D, double L, double p_down)
{
    const double *b = c->b;
    double up = in->p / in->p_crit, SUB = in->subcooling / in->T_crit;
    double Pf =
        in->p_sat * (b[0] + b[1] * pow(up, b[2]) * pow(L / D, b[3]) * pow(SUB, b[4]) +
                     b[5] * pow(up, b[6]) + b[7] * exp(b[8] * D / c->D_ref * pow(L / D, b[9])) +
                     b[10] * (in->p_crit - p_down) / in->p_crit);
    return 1e3 * M_PI / 4 * D * D * sqrt(2 * in->rho * (in->p - Pf));
}

static double aaron_domanski(const ct_inlet *in, double D, double L, double p_down)
{
    double subc = in->subcooling / (in->T + in->subcooling);
    double evap = (in->p_sat - p_down) / in->p_sat;
    double Pf = in->p_sat * (1 + 12.599 * pow(subc, 1.293) - 0.1229 * exp(-0.0169 * L * L / D / D) -
                             0.04753 * pow(evap, 0.6192));
    return 1e3 * M_PI / 4 * D * D * sqrt(2 * in->rho * (in->p - Pf));
}

/* The forms were fitted to overlapping data: agreement shows the numbers are set down right, not
 * that they are true. Spread found when they were first compared, relative to 2004: 0.6, 4.4, 1.6 %
 * and 4 % for 1990; half of the last digit is allowed on the first three. */
static void older_forms(void **state)
{
    static const form forms[] = {
        /* Kim & O'Neal 1994, R-22 */
        {1.35e-3,
         {1.005, 5.7367, -0.485, -0.179, 0.9948, 0.268, 2.716, -0.226, -0.021, 2.0, -0.092}},
        /* Payne & O'Neal 1999, R-410A */
        {1.524e-3,
         {0.874805831, 3.131470913, -0.214726407, 0.083394737, 0.901559277, -0.020574536,
          0.944446846, -0.418400083, -0.025322802, 2.33507746, 0.068890172}},
        /* Payne & O'Neal 1998, R-407C */
        {1.524e-3,
         {0.963034325, 4.286408416, -0.278235435, -0.043090943, 0.916226528, 0.071794702,
          0.499098698, -0.208417565, -0.034680678, 1.844061084, -0.091235910}},
    };
    static const double tol[] = {0.0065, 0.0445, 0.0165};
    const double D = 0.067 * IN, L = 0.5 * IN;
    (void)state;
    for (int r = 0; r < 3; r++)
        for (double T = 100; T < 125; T += 5)
            for (double sub = 5; sub < 16; sub += 5) {
                double p_down;
                ct_inlet in = inlet(fluid[r], T, sub);
                assert_int_equal(ct_refrigerant_p_dew(fluid[r], K(45), &p_down, NULL), CT_OK);
                double ours = grams(&in, D, L);
                check_rel(names[r], old_form(&forms[r], &in, D, L, p_down), ours, tol[r]);
                if (r == 0) check_rel("1990", aaron_domanski(&in, D, L, p_down), ours, 0.04);
            }
}

/* More subcooling, more head pressure, a wider or shorter piston: more flow. Flash gas: less. Over
 * the range a sweep may visit, not only the data. */
static void piston_trends(void **state)
{
    (void)state;
    for (int r = 0; r < 3; r++)
        for (double T = 80; T < 131; T += 5) {
            double last = 0, first = 0;
            for (double sub = 0; sub < 25.5; sub += 0.5) {
                ct_inlet in = inlet(fluid[r], T, sub), up = inlet(fluid[r], T + 1, sub);
                double m = grams(&in, 0.067 * IN, 0.5 * IN);
                if (sub > 4.2)
                    check_is("subcooling helps", m, >, last);
                else if (sub > 0)
                    check_is("the fit's own dip", m, >, 0.98 * first);
                else
                    first = m;
                check_is("head helps", grams(&up, 0.067 * IN, 0.5 * IN), >, m);
                check_is("bore helps", grams(&in, 0.070 * IN, 0.5 * IN), >, m);
                check_is("length hinders", grams(&in, 0.067 * IN, 0.55 * IN), <, m);
                last = m;
            }
            last = INFINITY;
            for (double x = 0.001; x < 0.45; x += 0.004) {
                ct_inlet in = flash(fluid[r], T, x);
                double m = grams(&in, 0.067 * IN, 0.5 * IN);
                check_is("flash gas hinders", m, <, last);
                check_is("flash gas hinders", m, >, 0);
                last = m;
            }
        }
}

/* No step where the first bubble appears, in the flow or the inlet state. */
static void continuity(void **state)
{
    (void)state;
    for (int r = 0; r < 3; r++)
        for (double T = 85; T < 130; T += 11) {
            double p;
            ct_liquid f;
            ct_inlet a, b;
            ct_refrigerant_p_bubble(fluid[r], K(T), &p, NULL);
            double T_b;
            ct_refrigerant_T_bubble(fluid[r], p, &T_b, NULL);
            ct_refrigerant_liquid(fluid[r], T_b, 0, &f, NULL);
            assert_int_equal(ct_inlet_at(fluid[r], p, f.h - 0.05, &a, NULL), CT_OK);
            assert_int_equal(ct_inlet_at(fluid[r], p, f.h + 0.05, &b, NULL), CT_OK);
            check_is("liquid one side", a.subcooling, >, 0);
            check_is("liquid one side", a.quality, <=, 0);
            check_is("vapor the other", b.quality, >, 0);
            check_is("vapor the other", b.subcooling, <=, 0);
            check_rel("density", a.rho, b.rho, 2e-5);
            /* 0.1 J/kg apart: 6e-7 of quality, which costs R-22 about 10 times that in flow */
            check_rel("flow", grams(&a, 0.067 * IN, 0.5 * IN), grams(&b, 0.067 * IN, 0.5 * IN),
                      2e-5);
        }
}

/* A line drop keeps the enthalpy: 10 F of subcooling at 110 F is worth the pressure between 110 and
 * 100 F saturation; published R-22 pressures 226.37 and 195.91 psig give 30.46 psi. */
static void line_makes_flash(void **state)
{
    (void)state;
    double p;
    ct_inlet in;
    ct_fault fault;
    ct_refrigerant_p_bubble(fluid[0], K(110), &p, NULL);
    assert_int_equal(ct_inlet_after_line(fluid[0], p, 10 / 1.8, 29 * PSI, &in, &fault), CT_OK);
    check_is("still liquid", in.subcooling, >, 0);
    check_is("still liquid", in.quality, <=, 0);
    check_abs("temperature hardly moves", in.T, K(100), 0.1);
    assert_int_equal(ct_inlet_after_line(fluid[0], p, 10 / 1.8, 32 * PSI, &in, &fault), CT_OK);
    check_is("flash gas", in.quality, >, 0);
    check_is("flash gas", in.quality, <, 0.01);
    check_abs("cooled to saturation", in.p_sat, in.p, 0);
    assert_int_equal(ct_inlet_after_line(fluid[0], p, 10 / 1.8, -29 * PSI, &in, &fault), CT_OK);
    check_is("a fall gains", in.p, >, p);
    check_is("a fall gains", in.subcooling, >, 15 / 1.8);
    assert_int_equal(ct_inlet_after_line(fluid[0], p, 10 / 1.8, NAN, &in, &fault), CT_INPUT);
    assert_int_equal(ct_inlet_after_line(fluid[0], p, 10 / 1.8, 2 * p, &in, &fault), CT_INPUT);
}

static void bore_for_flow(void **state)
{
    (void)state;
    double below, above, bore;
    ct_fault fault = {0};
    for (int r = 0; r < 3; r++) {
        ct_inlet in = inlet(fluid[r], 115, 10), wet = flash(fluid[r], 115, 0.05);
        for (double d = 0.04; d < 0.12; d += 0.013) {
            assert_int_equal(ct_orifice_bore(grams(&in, d * IN, 0.5 * IN) / 1e3, 0.5 * IN, &in, 1e5,
                                             &bore, &fault),
                             CT_OK);
            check_rel("there and back", bore, d * IN, 1e-9);
            assert_int_equal(ct_orifice_bore(grams(&wet, d * IN, 0.5 * IN) / 1e3, 0.5 * IN, &wet,
                                             1e5, &bore, &fault),
                             CT_OK);
            check_rel("there and back, flash", bore, d * IN, 1e-9);
        }
    }
    ct_inlet in = inlet(fluid[0], 115, 10);
    bore = -1;
    assert_int_equal(ct_orifice_bore(5, 0.5 * IN, &in, 1e5, &bore, &fault), CT_NO_ROOT);
    check_has("says so", fault.what, "thousandths");
    check_is("says so", bore, <, 0);
    assert_int_equal(ct_orifice_bore(NAN, 0.5 * IN, &in, 1e5, &bore, &fault), CT_NO_ROOT);
    ct_orifice_nearest(0.0715 * IN, &below, &above);
    check_abs("shelf below", below, 0.070 * IN, 1e-12);
    check_abs("shelf above", above, 0.073 * IN, 1e-12);
    ct_orifice_nearest(0.067 * IN, &below, &above);
    check_abs("on the shelf", below, 0.067 * IN, 1e-12);
    check_abs("on the shelf", above, 0.067 * IN, 1e-12);
    ct_orifice_nearest(0.040 * IN, &below, &above);
    check_that("nothing smaller", isnan(below));
    check_is("nothing smaller", above, >, 0);
    ct_orifice_nearest(0.120 * IN, &below, &above);
    check_that("nothing bigger", isnan(above));
    check_is("nothing bigger", below, >, 0);
}

static void piston_refuses(void **state)
{
    (void)state;
    ct_fault fault = {0};
    ct_orifice_out out = {.m = -1};
    ct_inlet in = inlet(fluid[0], 115, 10), deep = inlet(fluid[0], 115, 40);
    ct_orifice good = {0.067 * IN, 0.5 * IN}, thin = {1e-4, 0.5 * IN}, nan = {NAN, 0.5 * IN},
               lng = {0.067 * IN, 0.05};
    assert_int_equal(ct_orifice_flow(&good, &in, in.p_sat, &out, &fault), CT_RANGE);
    check_has("not choked", fault.what, "choked");
    assert_int_equal(ct_orifice_flow(&good, &in, NAN, &out, &fault), CT_RANGE);
    assert_int_equal(ct_orifice_flow(&thin, &in, 1e5, &out, &fault), CT_RANGE);
    assert_int_equal(ct_orifice_flow(&nan, &in, 1e5, &out, &fault), CT_RANGE);
    assert_int_equal(ct_orifice_flow(&lng, &in, 1e5, &out, &fault), CT_RANGE);
    check_has("length", fault.what, "length");
    assert_int_equal(ct_orifice_flow(&good, &deep, 1e5, &out, &fault), CT_RANGE);
    check_has("subcooling", fault.what, "subcooled");
    check_abs("untouched", out.m, -1, 0);
    ct_inlet none = {.p = -1};
    assert_int_equal(ct_inlet_at(fluid[0], in.p, NAN, &none, &fault), CT_INPUT);
    assert_int_equal(ct_inlet_at(fluid[0], in.p, 1e6, &none, &fault), CT_RANGE);
    assert_int_equal(ct_inlet_at(fluid[0], in.p, -1e6, &none, &fault), CT_RANGE);
    assert_int_equal(ct_inlet_at(fluid[0], 1e9, in.h, &none, &fault), CT_RANGE);
    check_abs("untouched", none.p, -1, 0);
    /* which of the data it leaves is said, not hidden */
    ct_orifice wide = {0.084 * IN, 0.3 * IN};
    ct_inlet cool = inlet(fluid[0], 115, 30);
    assert_int_equal(ct_orifice_flow(&wide, &cool, 1e5, &out, &fault), CT_OK);
    assert_int_equal(out.outside, CT_ORIFICE_BORE | CT_ORIFICE_LENGTH | CT_ORIFICE_SUBCOOLING);
    ct_orifice small = {0.060 * IN, 0.5 * IN};
    assert_int_equal(ct_orifice_flow(&small, &in, 1e5, &out, &fault), CT_OK);
    assert_int_equal(out.outside, 0);
    /* 1.7 mm, where the data end, is the piston stamped 67 */
    assert_int_equal(ct_orifice_flow(&good, &in, 1e5, &out, &fault), CT_OK);
    assert_int_equal(out.outside, 0);
}

/* (3 IWB - 80 - ODB)/2 F: trade rule, common practice, no source; worked by hand. */
static void target(void **state)
{
    static const double row[][3] = {{67, 95, 13}, {67, 82, 19.5}, {63, 95, 7}, {72, 105, 15.5}};
    (void)state;
    double sh = -1;
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(ct_target_superheat(K(row[i][0]), K(row[i][1]), &sh, NULL), CT_OK);
        check_abs("target", sh * 1.8, row[i][2], 1e-9);
    }
    ct_fault fault;
    assert_int_equal(ct_target_superheat(K(57), K(95), &sh, &fault), CT_RANGE);
    assert_int_equal(ct_target_superheat(NAN, K(95), &sh, &fault), CT_RANGE);
}

/* A 3 ton R-410A valve, rated 40 F / 100 F / 160 psi (AHRI 750 state, from memory, unconfirmed). */
static ct_valve_spec spec(void)
{
    return (ct_valve_spec){.Q_rated = 3 * 3516.8528420667,
                           .dp_rated = 160 * PSI,
                           .superheat = 10 / 1.8,
                           .refrigerant = "r410a"};
}

static ct_valve made(void)
{
    ct_valve v;
    ct_valve_spec s = spec();
    ct_fault fault;
    assert_int_equal(ct_valve_make(&s, fluid[1], &v, &fault), CT_OK);
    return v;
}

/* At its own rating a valve must pass its rated flow at its setting: share 1. */
static void valve_rating(void **state)
{
    (void)state;
    ct_valve v = made();
    ct_inlet in = inlet(fluid[1], 100, 0);
    ct_vapor g;
    ct_valve_out o;
    double m;
    ct_refrigerant_vapor(fluid[1], K(40), 0, &g, NULL);
    double want = 3 * 3516.8528420667 / (g.h - in.h);
    assert_int_equal(ct_valve_flow(&v, &in, 160 * PSI, 10 / 1.8, &m, NULL), CT_OK);
    check_rel("rated flow", m, want, 1e-9);
    assert_int_equal(ct_valve_meet(&v, &in, 160 * PSI, want, &o, NULL), CT_OK);
    check_abs("share", o.share, 1, 1e-9);
    check_abs("setting", o.superheat, 10 / 1.8, 1e-9);
    check_is("holds", o.state, ==, CT_VALVE_HOLDS);
    check_rel("15 % in reserve", o.m_max, 1.15 * want, 1e-9);
    /* square root of the pressure drop */
    assert_int_equal(ct_valve_flow(&v, &in, 640 * PSI, 10 / 1.8, &m, NULL), CT_OK);
    check_rel("four times the drop, twice the flow", m, 2 * want, 1e-9);
    /* square root of the density: 120 F against 100 F bubble liquid of R-410A, 915.40 and 989.24
     * kg/m3, from its published equation of state (Lemmon 2003) */
    ct_inlet hot = inlet(fluid[1], 120, 0);
    assert_int_equal(ct_valve_flow(&v, &hot, 160 * PSI, 10 / 1.8, &m, NULL), CT_OK);
    check_rel("hot liquid", m, want * sqrt(915.40 / 989.24), 1e-4);
}

static void valve_states(void **state)
{
    (void)state;
    ct_valve v = made();
    ct_inlet in = inlet(fluid[1], 110, 10);
    double full, m, back, last = -1;
    ct_valve_out o;
    ct_valve_flow(&v, &in, 180 * PSI, 10 / 1.8, &full, NULL);
    for (double share = 0.02; share < 1.145; share += 0.02) {
        assert_int_equal(ct_valve_meet(&v, &in, 180 * PSI, share * full, &o, NULL), CT_OK);
        check_abs("share", o.share, share, 1e-9);
        check_is("superheat rises with load", o.superheat, >, last);
        check_is("state", o.state, ==, (share < 0.4 ? CT_VALVE_HUNTS : CT_VALVE_HOLDS));
        assert_int_equal(ct_valve_flow(&v, &in, 180 * PSI, o.superheat, &back, NULL), CT_OK);
        check_rel("there and back", back, share * full, 1e-9);
        last = o.superheat;
    }
    assert_int_equal(ct_valve_meet(&v, &in, 180 * PSI, 1.2 * full, &o, NULL), CT_OK);
    check_is("starves", o.state, ==, CT_VALVE_STARVES);
    check_is("starves", o.opening, >=, 1);
    check_rel("no more than wide open", o.m_max, 1.15 * full, 1e-9);
    ct_valve_flow(&v, &in, 180 * PSI, 40, &m, NULL);
    check_rel("wide open stays wide open", m, 1.15 * full, 1e-9);
    ct_valve_flow(&v, &in, 180 * PSI, 1, &m, NULL);
    check_abs("shut below static superheat", m, 0, 0);
    ct_inlet gas = flash(fluid[1], 110, 0.05);
    ct_valve_flow(&v, &gas, 180 * PSI, 10 / 1.8, &m, NULL);
    check_is("flash gas takes capacity", m, <, 0.85 * full);
    /* a stiffer setting moves the whole curve */
    ct_valve_spec s = spec();
    ct_valve w;
    s.superheat = 14 / 1.8;
    assert_int_equal(ct_valve_make(&s, fluid[1], &w, NULL), CT_OK);
    check_rel("setting", w.SH_static - v.SH_static, 4 / 1.8, 1e-9);
}

static void valve_refuses(void **state)
{
    (void)state;
    ct_fault fault = {0};
    ct_valve v = {.C = -1};
    ct_valve_spec s = spec();
    assert_int_equal(ct_valve_make(&s, fluid[0], &v, &fault), CT_INPUT);
    check_has("names both", fault.what, "r410a");
    check_has("names both", fault.what, "R-22");
    static const char *const other[] = {"R-410", "R-410AA", "R-22", "411A"};
    for (size_t i = 0; i < 4; i++) {
        s.refrigerant = other[i];
        assert_int_equal(ct_valve_make(&s, fluid[1], &v, &fault), CT_INPUT);
    }
    check_abs("untouched", v.C, -1, 0);
    s.refrigerant = "410A"; /* as the trade says it */
    assert_int_equal(ct_valve_make(&s, fluid[1], &v, &fault), CT_OK);
    s.refrigerant = "";
    assert_int_equal(ct_valve_make(&s, fluid[1], &v, &fault), CT_OK);
    double *field[] = {&s.Q_rated, &s.dp_rated, &s.superheat,
                       &s.span,    &s.reserve,  &s.T_liquid_rated};
    static const double bad[] = {0, -1, NAN, 5, 0.9, 270};
    for (size_t i = 0; i < 6; i++) {
        double keep = *field[i];
        *field[i] = bad[i] + 0.0;
        if (i == 3) *field[i] = 8; /* wider than the setting */
        check_is("refused", ct_valve_make(&s, fluid[1], &v, &fault), !=, CT_OK);
        *field[i] = keep;
    }
    v = made();
    ct_inlet in = inlet(fluid[1], 110, 10);
    double m, dp = -1;
    ct_valve_out o;
    assert_int_equal(ct_valve_flow(&v, &in, 0, 5, &m, &fault), CT_RANGE);
    assert_int_equal(ct_valve_flow(&v, &in, 1e6, NAN, &m, &fault), CT_INPUT);
    assert_int_equal(ct_valve_meet(&v, &in, 1e6, 0, &o, &fault), CT_INPUT);
    assert_int_equal(ct_valve_meet(&v, &in, NAN, 0.05, &o, &fault), CT_RANGE);
    assert_int_equal(ct_inlet_dp(&in, 30 * PSI, in.p, &dp, &fault), CT_RANGE);
    check_abs("untouched", dp, -1, 0);
    assert_int_equal(ct_inlet_dp(&in, 30 * PSI, 145 * PSI, &dp, &fault), CT_OK);
    check_rel("what is left", dp, in.p - 175 * PSI, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(short_tube),    cmocka_unit_test(bores_and_flash),
        cmocka_unit_test(older_forms),   cmocka_unit_test(piston_trends),
        cmocka_unit_test(continuity),    cmocka_unit_test(line_makes_flash),
        cmocka_unit_test(bore_for_flow), cmocka_unit_test(piston_refuses),
        cmocka_unit_test(target),        cmocka_unit_test(valve_rating),
        cmocka_unit_test(valve_states),  cmocka_unit_test(valve_refuses),
    };
    return cmocka_run_group_tests(tests, make, drop);
}
