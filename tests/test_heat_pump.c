/* Heat pump: the indoor coil as condenser. Against the published average of many units, with
 * nothing fitted to it; the ratings come back; energy closes; what too little air and a larger coil
 * do. */
#include <stdio.h>
#include <string.h>

#include "base/units.h"
#include "check.h"
#include "example_case.h"
#include "judge/heating.h"
#include "nrel_curves.h"
#include "plant.h"
#include "plant/heating.h"

#define ROWS(a) (sizeof(a) / sizeof((a)[0]))

static const char *const refrigerants[] = {"R-410A", "R-22", "R-454B"};

typedef struct {
    plant p;
    ct_heat_pump hp;
} pump;

static void spec_of(ct_outdoor_unit *o, double Q_btuh, double COP)
{
    o->heat_pump = (ct_heat_pump_spec){.has = true,
                                       .Q_net = {Q_btuh > 0, Q_btuh * CT_W_PER_BTUH},
                                       .COP = {COP > 0, COP},
                                       .V_std = o->V_rated_std,
                                       .P_blower = o->P_blower_rated,
                                       .subcooling = 10.0 / CT_F_PER_K};
}

/* 0: not rated so. */
static void pump_make(pump *u, const char *refrigerant, double Q_btuh, double COP)
{
    ct_fault fault = {.what = ""};
    plant_case(&u->p.c, refrigerant, 3);
    spec_of(&u->p.c.outdoor, Q_btuh, COP);
    if (plant_calibrate(&u->p, &fault) != CT_OK) fail_msg("%s", fault.what);
    if (ct_heating_rate(&u->p.c.outdoor, &u->p.outdoor, &u->p.matched, &u->hp, &fault) != CT_OK)
        fail_msg("%s", fault.what);
}

typedef struct {
    double indoor, outdoor, flow; /* F, F, over the rated airflow */
} day;

static const day rating = {70, 47, 1};

static ct_heating_air air_of(const pump *u, day d)
{
    const ct_outdoor_unit *o = &u->p.c.outdoor;
    return (ct_heating_air){K_(d.outdoor), K_(d.indoor), CT_ATM_PA,
                            d.flow * o->V_rated_std * CT_STD_DENSITY, o->P_blower_rated * d.flow};
}

static ct_heating_balance at(const pump *u, day d)
{
    const ct_heating_air air = air_of(u, d);
    ct_heating_balance b;
    ct_fault fault = {.what = ""};
    if (ct_heating_solve(&u->hp, &air, &b, &fault) != CT_OK) fail_msg("%s", fault.what);
    return b;
}

static void ratings_come_back(void **state)
{
    (void)state;
    for (size_t k = 0; k < ROWS(refrigerants); k++) {
        pump u;
        pump_make(&u, refrigerants[k], 34000, 3.2);
        const ct_heating_balance b = at(&u, rating);
        check_rel("capacity", b.Q_net, 34000 * CT_W_PER_BTUH, 1e-6);
        check_rel("COP", b.COP, 3.2, 1e-6);
        plant_free(&u.p);
    }
}

static void rate_cold(ct_outdoor_unit *o, double Q_btuh, double COP)
{
    o->heat_pump.Q_net_cold = (ct_maybe){true, Q_btuh * CT_W_PER_BTUH};
    o->heat_pump.COP_cold = (ct_maybe){COP > 0, COP};
}

static ct_status rerate(pump *u, ct_fault *fault)
{
    return ct_heating_rate(&u->p.c.outdoor, &u->p.outdoor, &u->p.matched, &u->hp, fault);
}

/* Both ratings come back, and the first is not touched by the second. */
static void second_rating_comes_back(void **state)
{
    static const double COPs[] = {0, 2.2};
    (void)state;
    for (size_t k = 0; k < ROWS(refrigerants); k++)
        for (size_t i = 0; i < ROWS(COPs); i++) {
            pump u;
            ct_fault fault = {.what = ""};
            pump_make(&u, refrigerants[k], 34000, 3.2);
            const double P_model = at(&u, (day){70, 17, 1}).P_total;
            rate_cold(&u.p.c.outdoor, 21000, COPs[i]);
            if (rerate(&u, &fault) != CT_OK) fail_msg("%s", fault.what);
            const ct_heating_balance cold = at(&u, (day){70, 17, 1}), b = at(&u, rating);
            check_rel("17 F", cold.Q_net, 21000 * CT_W_PER_BTUH, 1e-6);
            if (COPs[i] > 0) check_rel("17 F", cold.COP, COPs[i], 1e-6);
            check_is("less flow, less watts", cold.P_total, <, P_model);
            check_rel("47 F", b.Q_net, 34000 * CT_W_PER_BTUH, 1e-6);
            check_rel("47 F", b.COP, 3.2, 1e-6);
            check_abs("closes", cold.residual, 0, 1e-7);
            plant_free(&u.p);
        }
}

static void second_rating_contradicts(void **state)
{
    static const struct {
        double Q, COP;
        const char *says;
    } rows[] = {{8000, 0, "gives"},
                {45000, 0, "gives"},
                {21000, 4.9, "isentropic"},
                {21000, 15, "leaves no power"}};
    (void)state;
    pump u;
    pump_make(&u, "R-410A", 35000, 3.2);
    for (size_t i = 0; i < ROWS(rows); i++) {
        ct_fault fault = {.what = ""};
        ct_heat_pump out, before; /* every byte is set: padding is compared too */
        memset(&out, 0x5A, sizeof out);
        memcpy(&before, &out, sizeof before);
        rate_cold(&u.p.c.outdoor, rows[i].Q, rows[i].COP);
        assert_int_equal(ct_heating_rate(&u.p.c.outdoor, &u.p.outdoor, &u.p.matched, &out, &fault),
                         CT_INPUT);
        check_has("says", fault.what, rows[i].says);
        check_that("untouched", memcmp(&before, &out, sizeof before) == 0);
    }
    plant_free(&u.p);
}

static void energy_closes(void **state)
{
    static const day days[] = {{70, 47, 1}, {75, 65, 0.7}, {65, 17, 1.2}, {70, 35, 0.85}};
    (void)state;
    for (size_t k = 0; k < ROWS(refrigerants); k++) {
        pump u;
        pump_make(&u, refrigerants[k], 35000, 0);
        for (size_t i = 0; i < ROWS(days); i++) {
            const ct_heating_air air = air_of(&u, days[i]);
            const ct_heating_balance b = at(&u, days[i]);
            ct_air in;
            check_abs("outdoor coil", b.residual, 0, 1e-7);
            check_rel("heat given", b.Q, b.Q_outdoor + b.P_compressor, 1e-12);
            check_rel("watts", b.P_total, b.P_compressor + u.hp.P_fan + air.P_blower, 1e-12);
            assert_int_equal(ct_air_from_rh(air.T_in, 0.3, air.p, &in, NULL), CT_OK);
            check_rel("what the air took up", air.m_da * ct_air_cp(in.W) * (b.T_supply - air.T_in),
                      b.Q_net, 1e-9);
        }
        plant_free(&u.p);
    }
}

/* ---- Cutler, Winkler, Kruis, Christensen & Brandemuehl 2013, NREL/TP-5500-56354, single-speed
 * heat pump in heating: e indoor, d outdoor dry bulb, F; flow f over rated. Capacity and energy
 * input ratio; the temperature curves are not 1 at their own rating, so ratios. ---- */

static const double CAP[6] = {0.566333415, -0.000744164, -0.0000103,
                              0.009414634, 0.0000506,    -0.00000675},
                    EIR[6] = {0.718398423,  0.003498178, 0.000142202,
                              -0.005724331, 0.00014085,  -0.000215321},
                    CAP_F[3] = {0.694045465, 0.474207981, -0.168253446},
                    EIR_F[3] = {2.185418751, -1.942827919, 0.757409168};

typedef struct {
    double capacity, power;
} answer;

static answer published(day d)
{
    const double cap = nrel_temperature(CAP, d.indoor, d.outdoor) / nrel_temperature(CAP, 70, 47) *
                       nrel_flow(CAP_F, d.flow);
    const double eir = nrel_temperature(EIR, d.indoor, d.outdoor) / nrel_temperature(EIR, 70, 47) *
                       nrel_flow(EIR_F, d.flow);
    return (answer){cap, cap * eir};
}

/* Worked out apart from this program from the printed coefficients. */
static void curves_as_printed(void **state)
{
    (void)state;
    check_abs("70/62", nrel_temperature(CAP, 70, 62), 1.2127, 1e-4);
    check_abs("70/62", nrel_temperature(EIR, 70, 62), 0.9121, 1e-4);
    check_abs("70/17", nrel_temperature(CAP, 70, 17), 0.6304, 1e-4);
    check_abs("75/47", nrel_temperature(EIR, 75, 47), 1.0637, 1e-4);
    check_abs("flow 0.75", nrel_flow(CAP_F, 0.75), 0.9551, 1e-4);
    check_abs("flow 1.15", nrel_flow(EIR_F, 1.15), 0.9528, 1e-4);
}

/* Capacity without the blower's heat; power of compressor and outdoor fan. */
static answer model(const pump *u, day d)
{
    const ct_heating_balance b = at(u, d), r = at(u, rating);
    return (answer){b.Q / r.Q, (b.P_compressor + u->hp.P_fan) / (r.P_compressor + u->hp.P_fan)};
}

typedef struct {
    const char *what;
    day day[8];
    int n;
    double capacity, power; /* reached, of the published value */
} range;

/* What is reached, not what would be good. By airflow the power follows; the capacity does not fall
 * as the average does, because nearly all the compressor draws more comes out as heat. By cold the
 * model holds more of both: its compressor is one curve for all kinds, and nothing frosts. */
static const range ranges[] = {
    {"airflow 0.75 to 1.25",
     {{70, 47, 0.75},
      {70, 47, 0.85},
      {70, 47, 0.95},
      {70, 47, 1.05},
      {70, 47, 1.15},
      {70, 47, 1.25}},
     6,
     0.06,
     0.03},
    {"indoors 65 to 75 F", {{65, 47, 1}, {67, 47, 1}, {73, 47, 1}, {75, 47, 1}}, 4, 0.025, 0.025},
    {"outdoors 35 to 62 F", {{70, 35, 1}, {70, 40, 1}, {70, 55, 1}, {70, 62, 1}}, 4, 0.041, 0.055},
    {"outdoors 17 F", {{70, 17, 1}}, 1, 0.17, 0.23}};

static void against_published(void **state)
{
    (void)state;
    for (size_t k = 0; k < ROWS(refrigerants); k++) {
        pump u;
        pump_make(&u, refrigerants[k], 35000, 0);
        for (size_t i = 0; i < ROWS(ranges); i++) {
            answer worst = {0, 0};
            for (int j = 0; j < ranges[i].n; j++) {
                const answer m = model(&u, ranges[i].day[j]), p = published(ranges[i].day[j]);
                const double c = m.capacity / p.capacity - 1, w = m.power / p.power - 1;
                if (fabs(c) > fabs(worst.capacity)) worst.capacity = c;
                if (fabs(w) > fabs(worst.power)) worst.power = w;
            }
            print_message("%s, %s: capacity %+.1f %%, power %+.1f %% at most\n", refrigerants[k],
                          ranges[i].what, 100 * worst.capacity, 100 * worst.power);
            check_is("capacity", fabs(worst.capacity), <, ranges[i].capacity);
            check_is("power", fabs(worst.power), <, ranges[i].power);
        }
        plant_free(&u.p);
    }
}

/* With the published average's own capacity and power at 17 F as the second rating, what lies
 * between follows it. What is reached: 1.5 % in capacity and 2.5 % in power, where without it the
 * model is up to 17 and 23 % off. */
static void between_two_ratings(void **state)
{
    (void)state;
    for (size_t k = 0; k < ROWS(refrigerants); k++) {
        pump u;
        ct_fault fault = {.what = ""};
        pump_make(&u, refrigerants[k], 35000, 0);
        const double fan = u.hp.P_fan, blower = u.p.c.outdoor.P_blower_rated;
        const ct_heating_balance r = at(&u, rating);
        const answer p17 = published((day){70, 17, 1});
        const double Q = r.Q * p17.capacity + blower;
        const double P = (r.P_compressor + fan) * p17.power + blower;
        rate_cold(&u.p.c.outdoor, Q / CT_W_PER_BTUH, Q / P);
        if (rerate(&u, &fault) != CT_OK) fail_msg("%s", fault.what);
        for (double T = 17; T < 48; T += 5) {
            const answer m = model(&u, (day){70, T, 1}), p = published((day){70, T, 1});
            print_message("%s, %.0f F: capacity %+.1f %%, power %+.1f %%\n", refrigerants[k], T,
                          100 * (m.capacity / p.capacity - 1), 100 * (m.power / p.power - 1));
            check_rel("capacity", m.capacity, p.capacity, 0.015);
            check_rel("power", m.power, p.power, 0.025);
        }
        plant_free(&u.p);
    }
}

/* What a coil holds while it condenses, by hand: the phases' densities from the equation of state
 * in shares of the face; the condensing share by Zivi's mean, which lies between all vapor and all
 * liquid. A larger coil holds more, and more subcooling does. */
static void held(void **state)
{
    (void)state;
    pump u;
    double density, more;
    pump_make(&u, "R-410A", 35000, 0);
    const ct_heating_balance b = at(&u, rating);
    assert_int_equal(ct_heating_held(&u.hp, &b, &density, NULL), CT_OK);
    ct_phases p;
    assert_int_equal(ct_refrigerant_phases(u.hp.refrigerant, b.Tc, &p, NULL), CT_OK);
    ct_liquid l;
    assert_int_equal(
        ct_refrigerant_liquid(u.hp.refrigerant, p.T_bubble, b.cond.subcooling, &l, NULL), CT_OK);
    /* Zivi 1964: void fraction 1/(1 + k (1 - x)/x), k = (rho_v/rho_l)^(2/3); its mean over x from 0
     * to 1, by hand, is 1/a + k ln k/a^2 with a = 1 - k. */
    const double k = pow(p.rho_v / p.rho_l, 2.0 / 3), a = 1 - k;
    const double alpha = 1 / a + k * log(k) / (a * a);
    const double two = alpha * p.rho_v + (1 - alpha) * p.rho_l;
    check_rel("held", density,
              b.vapor_share * p.rho_v + (1 - b.vapor_share - b.liquid_share) * two +
                  b.liquid_share * l.rho,
              1e-9);
    u.hp.subcooling += 5;
    const ct_heating_balance sub = at(&u, rating);
    assert_int_equal(ct_heating_held(&u.hp, &sub, &more, NULL), CT_OK);
    check_is("more subcooling", more, >, density);
    plant_free(&u.p);
}

/* Condensing 100 to 125 F at 70 F return (common practice, no source; from memory): at the rating
 * it is; at 250 cfm per ton it is above the rating's by 10 F and more, and on the warmest day far
 * above. Supply air not below 90 F at 47 F outdoors (common practice, no source). */
static void head(void **state)
{
    (void)state;
    for (size_t k = 0; k < ROWS(refrigerants); k++) {
        pump u;
        pump_make(&u, refrigerants[k], 35000, 0);
        const double little = 250.0 / 400;
        const ct_heating_balance full = at(&u, rating), low = at(&u, (day){70, 47, little}),
                                 warm = at(&u, (day){75, 65, 1}),
                                 worst = at(&u, (day){75, 65, little});
        print_message("%s: condenses at %.1f F with 400 cfm/ton, %.1f with 250; on the warmest day "
                      "%.1f and %.1f F (%.0f psig)\n",
                      refrigerants[k], ct_F_from_K(full.Tc), ct_F_from_K(low.Tc),
                      ct_F_from_K(warm.Tc), ct_F_from_K(worst.Tc),
                      (worst.p_discharge - CT_ATM_PA) / CT_PA_PER_PSI);
        check_is("condensing, F", ct_F_from_K(full.Tc), >, 100);
        check_is("condensing, F", ct_F_from_K(full.Tc), <, 125);
        check_is("supply, F", ct_F_from_K(full.T_supply), >, 90);
        check_is("little air, F", ct_F_from_K(low.Tc), >, ct_F_from_K(full.Tc) + 10);
        check_is("warmest day, F", ct_F_from_K(worst.Tc), >, ct_F_from_K(warm.Tc) + 10);
        plant_free(&u.p);
    }
}

/* More surface condenses lower and draws less. */
static void larger_coil(void **state)
{
    (void)state;
    pump u;
    pump_make(&u, "R-410A", 35000, 0);
    const ct_heating_balance small = at(&u, rating);
    u.hp.coil.Ao *= 1.5;
    u.hp.coil.UAi_ref *= 1.5;
    const ct_heating_balance large = at(&u, rating);
    check_is("head", large.Tc, <, small.Tc - 2);
    check_is("watts", large.P_compressor, <, small.P_compressor);
    check_is("COP", large.COP, >, small.COP);
    plant_free(&u.p);
}

/* A head the table does not hold is said to be one; nothing is written then. */
static void no_air(void **state)
{
    (void)state;
    pump u;
    ct_fault fault = {.what = ""};
    pump_make(&u, "R-410A", 35000, 0);
    const ct_heating_air air = air_of(&u, (day){80, 70, 0.2});
    ct_heating_balance b = {.Tc = -1};
    assert_int_equal(ct_heating_solve(&u.hp, &air, &b, &fault), CT_NO_ROOT);
    check_abs("untouched", b.Tc, -1, 0);
    check_has(fault.what, fault.what, "too little air");
    plant_free(&u.p);
}

static void contradictions(void **state)
{
    static const struct {
        double Q, COP;
        const char *says;
    } rows[] = {{60000, 0, "rated heating capacity 60000"},
                {35000, 5.9, "isentropic efficiency"},
                {35000, 20, "leaves no power"}};
    (void)state;
    pump u;
    pump_make(&u, "R-410A", 35000, 0);
    for (size_t i = 0; i < ROWS(rows); i++) {
        ct_fault fault = {.what = ""};
        ct_heat_pump hp;
        spec_of(&u.p.c.outdoor, rows[i].Q, rows[i].COP);
        assert_int_equal(ct_heating_rate(&u.p.c.outdoor, &u.p.outdoor, &u.p.matched, &hp, &fault),
                         CT_INPUT);
        check_has(fault.what, fault.what, rows[i].says);
    }
    plant_free(&u.p);
}

/* ---- Judged on an example's taps ---- */

static void more_air_lower_head(void **state)
{
    (void)state;
    example *e = example_open("heat-pump");
    const ct_sweep_job job = example_job(e, 0);
    double last = INFINITY;
    for (int i = 0; i < job.blower.n_taps; i++) {
        ct_heating_pump_point p;
        const double V = ct_sweep_job_tap_airflow(&job, i);
        assert_int_equal(ct_heating_pump(&job, V, &p, NULL), CT_OK);
        assert_int_equal(p.warm_status, CT_OK);
        check_is("warmest day", p.warm.Tc, >, p.rated.Tc);
        check_is("faster tap", p.warm.Tc, <, last);
        last = p.warm.Tc;
    }
    example_close(e);
}

/* The least airflow is where the head meets the ceiling; the pick is the slowest tap with the usual
 * 350 cfm per ton (common practice, no source) among those that do. */
static void heating_tap(void **state)
{
    (void)state;
    example *e = example_open("heat-pump");
    ct_heating h;
    ct_heating_balance b;
    ct_sweep_job job = example_job(e, 0);
    ct_heating_of(&job, &h);
    check_that("asked", h.asked);
    check_that("asked", h.known);
    check_is("tap as set", h.tap, ==, 0);
    check_is("head", h.head.verdict, ==, CT_PASSES);
    assert_int_equal(ct_sweep_job_heats(&job, h.V_pump_min, e->c.outdoor.heat_pump.T_out_max,
                                        e->c.outdoor.heat_pump.T_in_max, &b, NULL),
                     CT_OK);
    check_abs("at the ceiling", b.Tc, e->c.limits.T_discharge_max, 0.01);
    check_is("350 cfm per ton and more", h.best, ==, 2);
    e->c.limits.T_discharge_max = K_(125);
    job = example_job(e, 0);
    ct_point p;
    ct_heating_of(&job, &h);
    check_is("low", h.head.verdict, ==, CT_FAILS);
    check_is("low does not", (int)(h.suits & 1u), ==, 0);
    assert_int_equal(ct_sweep_tap(e->solver, &job, 2, &p, NULL), CT_OK);
    check_is("every cooling speed", p.limit[CT_LIMIT_HEAT_HEAD].verdict, ==, CT_FAILS);
    snprintf(e->c.indoor[0].heat_tap, sizeof e->c.indoor[0].heat_tap, "high");
    job = example_job(e, 0);
    assert_int_equal(ct_sweep_tap(e->solver, &job, 0, &p, NULL), CT_OK);
    check_is("another heating tap", p.limit[CT_LIMIT_HEAT_HEAD].verdict, ==, CT_PASSES);
    example_close(e);
}

/* A cooling-only unit has none of it. */
static void cooling_only(void **state)
{
    (void)state;
    example *e = example_open("heat-pump");
    e->c.outdoor.heat_pump.has = false;
    ct_sweep_job job = example_job(e, 0);
    ct_heating h;
    ct_heating_of(&job, &h);
    check_is("head", h.head.verdict, ==, CT_NOT_JUDGED);
    check_is("pick", h.best, ==, -1);
    check_abs("airflow", h.V_pump_min, 0, 0);
    example_close(e);
}

/* ---- Keys ---- */

/* The example with its two ratings exchanged for other keys. */
static ct_status read_with(const char *keys, ct_case *c, ct_case_report *report)
{
    static char text[16384], made[16384];
    static const char ratings[] = "    rated_capacity: 34200 Btu/h # at 47 F outdoors, from its "
                                  "rating\n    rated_cop: 3.3\n";
    ct_fault fault;
    FILE *f = fopen(SOURCE_DIR "/examples/heat-pump.yaml", "rb");
    check_that("example", f != NULL);
    text[fread(text, 1, sizeof text - 1, f)] = '\0';
    fclose(f);
    const char *at = strstr(text, ratings);
    check_that("ratings", at != NULL);
    const int n =
        snprintf(made, sizeof made, "%.*s%s%s", (int)(at - text), text, keys, at + strlen(ratings));
    return ct_casefile_parse(made, (size_t)n, c, report, &fault);
}

/* What is not given is as in cooling; the warmest day is 65 F outdoors with 75 F return. */
static void keys(void **state)
{
    static ct_case c;
    static ct_case_report report;
    (void)state;
    const ct_heat_pump_spec *h = &c.outdoor.heat_pump;
    assert_int_equal(read_with("    subcooling: 8 F\n", &c, &report), CT_OK);
    check_that("there", h->has);
    check_that("there", h->Q_net.has);
    check_that("there", !h->COP.has);
    check_rel("capacity", h->Q_net.v, 35000 * CT_W_PER_BTUH, 1e-12);
    check_rel("airflow", h->V_std, 1200 * CT_M3S_PER_CFM, 1e-12);
    check_rel("blower", h->P_blower, 420, 1e-12);
    check_rel("subcooling", h->subcooling, 8 / CT_F_PER_K, 1e-12);
    check_rel("outdoors", h->T_out_max, K_(65), 1e-12);
    check_rel("return", h->T_in_max, K_(75), 1e-12);
    check_is("efficiency too high", read_with("    rated_cop: 9\n", &c, &report), !=, CT_OK);
    check_is("unused", read_with("    in_use: no\n", &c, &report), ==, CT_OK);
    check_that("left aside", !c.outdoor.heat_pump.has);
    check_is("yes alone", read_with("    in_use: yes\n", &c, &report), ==, CT_OK);
    check_that("there", c.outdoor.heat_pump.has && c.outdoor.heat_pump.Q_net.has);
    check_is("efficiency alone", read_with("    rated_cop_17: 2\n", &c, &report), !=, CT_OK);
    check_is("more in the cold",
             read_with("    rated_capacity: 30000 Btu/h\n    rated_capacity_17: 31000 Btu/h\n", &c,
                       &report),
             !=, CT_OK);
    check_is("key with a slip", read_with("    rated_copp: 3\n", &c, &report), !=, CT_OK);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(ratings_come_back),
                                       cmocka_unit_test(energy_closes),
                                       cmocka_unit_test(curves_as_printed),
                                       cmocka_unit_test(against_published),
                                       cmocka_unit_test(second_rating_comes_back),
                                       cmocka_unit_test(second_rating_contradicts),
                                       cmocka_unit_test(between_two_ratings),
                                       cmocka_unit_test(held),
                                       cmocka_unit_test(head),
                                       cmocka_unit_test(larger_coil),
                                       cmocka_unit_test(no_air),
                                       cmocka_unit_test(contradictions),
                                       cmocka_unit_test(more_air_lower_head),
                                       cmocka_unit_test(heating_tap),
                                       cmocka_unit_test(cooling_only),
                                       cmocka_unit_test(keys)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
