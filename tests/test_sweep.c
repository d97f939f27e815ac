/* Sweep and pick: every judgment worked by hand from the point's own fields, the pick on points
 * made up for it, a tap where blower, ducts and balance agree, and the hottest day against the
 * balance itself. */
#include "check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/units.h"
#include "case/casefile.h"
#include "gsl_watch.h"
#include "judge/heating.h"
#include "judge/hottest.h"
#include "judge/pick.h"
#include "judge/remedy.h"
#include "judge/sweep.h"

#define FIXTURE SOURCE_DIR "/tests/cases/sweep.yaml"

/* An invented plant, opened once; each test changes its own copy of the case. */
typedef struct {
    ct_case c;
    ct_refrigerant *refrigerant;
    ct_outdoor outdoor;
    ct_coil matched;
    ct_solver *solver;
    ct_sweep_job job;
} plant;

static ct_setup setup_of(const plant *p)
{
    return (ct_setup){p->solver, &p->c, &p->outdoor, &p->matched, 0};
}

static void open_plant(plant *p)
{
    static ct_case_report report;
    ct_calibration calibration;
    ct_fault fault = {.what = ""};
    memset(p, 0, sizeof *p);
    const ct_status status = ct_casefile_load(FIXTURE, &p->c, &report, &fault);
    check_is(fault.what, status, ==, CT_OK);
    check_is("refrigerant", ct_refrigerant_make(p->c.outdoor.refrigerant, &p->refrigerant, &fault),
             ==, CT_OK);
    check_is("solver", ct_solver_make(&p->solver, &fault), ==, CT_OK);
    check_is(fault.what,
             ct_setup_rate(&p->c, p->refrigerant, &p->outdoor, &p->matched, &calibration, &fault),
             ==, CT_OK);
    const ct_setup setup = setup_of(p);
    check_is(fault.what, ct_sweep_prepare(&setup, &p->job, &fault), ==, CT_OK);
}

static void close_plant(plant *p)
{
    ct_solver_free(p->solver);
    ct_refrigerant_free(p->refrigerant);
}

/* 1050 standard cfm, 380 W. */
static void settle(plant *p, ct_point *point)
{
    ct_sweep_point(p->solver, &p->job, 1050 * CT_M3S_PER_CFM * CT_STD_DENSITY, 380, NULL, point);
    check_is(point->why, point->status, ==, CT_OK);
}

static void check_judgment(const char *name, const ct_judgment *j, double value, double bound,
                           double slack, double tol)
{
    check_abs(name, j->value, value, tol);
    check_abs(name, j->bound, bound, tol);
    check_abs(name, j->slack, slack, tol);
    check_is(name, j->verdict, ==, (slack >= 0 ? CT_PASSES : CT_FAILS));
}

/* The fixture's bounds in inch-pound, as its text has them. Tolerances: conversions only. */
static void test_judgments(void **state)
{
    (void)state;
    static plant p;
    ct_point point;
    open_plant(&p);
    settle(&p, &point);
    const ct_balance *b = &point.balance;
    const double btuh = CT_W_PER_BTUH, sensible = 22000 * 1.05 * btuh;
    check_judgment("sensible", &point.limit[CT_LIMIT_SENSIBLE], b->Q_sens_net, sensible,
                   b->Q_sens_net - sensible, 1e-6);
    check_judgment("latent", &point.limit[CT_LIMIT_LATENT], b->Q_lat, 5000 * btuh,
                   b->Q_lat - 5000 * btuh, 1e-6);
    check_judgment("total", &point.limit[CT_LIMIT_TOTAL], b->Q_net, sensible + 5000 * btuh,
                   b->Q_net - sensible - 5000 * btuh, 1e-6);
    check_judgment("frost: 32 F and 3 F", &point.limit[CT_LIMIT_FROST], b->T_surface,
                   ct_K_from_F(35), b->T_surface - ct_K_from_F(35), 1e-9);
    check_judgment("head: 140 F", &point.limit[CT_LIMIT_HEAD], b->Tc, ct_K_from_F(140),
                   ct_K_from_F(140) - b->Tc, 1e-9);
    /* 1050 standard cfm is 1050 x 0.075 lb/min of dry air; over 4.6 ft2 at the return's volume. */
    const double face = 1050 * 0.075 * CT_KG_PER_LBM / 60 * ct_air_v(b->in.T, b->in.W, b->in.p) /
                        (4.6 * CT_M_PER_FT * CT_M_PER_FT);
    check_rel("face velocity", point.V_face, face, 1e-12);
    check_judgment("carry-over: 480 ft/min", &point.limit[CT_LIMIT_CARRYOVER], point.V_face,
                   480 * CT_M_PER_FT / 60, 480 * CT_M_PER_FT / 60 - point.V_face, 1e-9);
    check_judgment("electric heat: 700 cfm", &point.limit[CT_LIMIT_HEAT], 1000 * CT_M3S_PER_CFM,
                   700 * CT_M3S_PER_CFM, 300 * CT_M3S_PER_CFM, 1e-9);
    check_rel("load carried with 5 % margin", point.Q_load_max, b->Q_sens_net / 1.05, 1e-14);
    check_is("no ceiling asked, none judged", point.limit[CT_LIMIT_FURNACE].verdict, ==,
             CT_NOT_JUDGED);
    close_plant(&p);
}

/* Series resistances by hand, in h ft2 F/Btu: R-6 insulation and a film of 0.65; the air around at
 * 110 F. The jacket is colder than that by the film's share of the whole difference. */
static void test_jacket(void **state)
{
    (void)state;
    static plant p;
    ct_point point;
    open_plant(&p);
    settle(&p, &point);
    const double supply = ct_F_from_K(point.balance.supply.T);
    const double jacket = 110 - (110 - supply) * 0.65 / (6 + 0.65);
    check_abs("jacket, F", ct_F_from_K(point.T_jacket), jacket, 1e-6);
    check_abs("dew point 71 F and guard 1 F", ct_F_from_K(point.limit[CT_LIMIT_SWEAT].bound), 72,
              1e-6);
    check_is("dry attic passes", point.limit[CT_LIMIT_SWEAT].verdict, ==, CT_PASSES);
    p.c.site.around_duct.T_dp.v = point.T_jacket - 0.5;
    settle(&p, &point);
    check_is("half a kelvin under the jacket, guard 1 F: sweats",
             point.limit[CT_LIMIT_SWEAT].verdict, ==, CT_FAILS);
    check_that("half a kelvin under the jacket, guard 1 F: sweats", !point.passes);
    p.c.site.has_around_duct = false;
    settle(&p, &point);
    check_is("unknown surroundings are not judged", point.limit[CT_LIMIT_SWEAT].verdict, ==,
             CT_NOT_JUDGED);
    check_that("unknown surroundings are not judged", isnan(point.T_jacket));
    close_plant(&p);
}

/* Each bound moved a hair to either side of the value: passes, then fails, and nothing else does.
 */
static void test_either_side(void **state)
{
    (void)state;
    static plant p;
    ct_point at, moved;
    open_plant(&p);
    settle(&p, &at);
    const ct_balance *b = &at.balance;
    ct_house *h = &p.c.house;
    ct_limits *l = &p.c.limits;
    const struct {
        const char *name;
        double *bound, value;
        int sign; /* +1: larger bound fails */
        ct_limit limit;
    } rows[] = {
        {"sensible", &h->Q_sensible, b->Q_sens_net / 1.05, 1, CT_LIMIT_SENSIBLE},
        {"frost", &l->frost_guard, b->T_surface - 273.15, 1, CT_LIMIT_FROST},
        {"head", &l->T_discharge_max, b->Tc, -1, CT_LIMIT_HEAD},
        {"carry-over", &l->V_face_max, at.V_face, -1, CT_LIMIT_CARRYOVER},
        {"heat", &l->V_heat_min.v, 1000 * CT_M3S_PER_CFM, 1, CT_LIMIT_HEAT},
        {"latent", &h->Q_latent, b->Q_lat, 1, CT_LIMIT_LATENT},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double was = *rows[i].bound, hair = 1e-7 * rows[i].value;
        const bool decides = rows[i].limit < CT_LIMIT_FIRST_ADVICE;
        *rows[i].bound = rows[i].value - rows[i].sign * hair;
        settle(&p, &moved);
        check_is(rows[i].name, moved.limit[rows[i].limit].verdict, ==, CT_PASSES);
        *rows[i].bound = rows[i].value + rows[i].sign * hair;
        settle(&p, &moved);
        check_is(rows[i].name, moved.limit[rows[i].limit].verdict, ==, CT_FAILS);
        check_is(rows[i].name, moved.passes, ==, !decides);
        *rows[i].bound = was;
    }
    close_plant(&p);
}

/* Rise = Q/(V rho cp): 60 000 Btu/h into 1000 cfm of standard air is 60000/1.08/1000 = 55.4 F by
 * the trade's factor 1.08; the factor itself is rounded, hence 1 %. Common practice, no source. */
static void test_furnace(void **state)
{
    (void)state;
    static plant p;
    ct_point point;
    open_plant(&p);
    ct_limits *l = &p.c.limits;
    l->Q_furnace = (ct_maybe){true, 60000 * CT_W_PER_BTUH};
    l->dT_furnace_min = (ct_maybe){true, 30 / CT_F_PER_K};
    l->dT_furnace_max = (ct_maybe){true, 60 / CT_F_PER_K};
    settle(&p, &point);
    const double cfm = 1000; /* what the heating speed moves, not the cooling speed */
    check_rel("rise, F", point.limit[CT_LIMIT_FURNACE].value * CT_F_PER_K, 60000 / (1.08 * cfm),
              0.01);
    check_is("inside its range", point.limit[CT_LIMIT_FURNACE].verdict, ==, CT_PASSES);
    l->dT_furnace_max.v = 40 / CT_F_PER_K;
    settle(&p, &point);
    check_is("too hot", point.limit[CT_LIMIT_FURNACE].verdict, ==, CT_FAILS);
    l->dT_furnace_min.v = 70 / CT_F_PER_K;
    l->dT_furnace_max.v = 90 / CT_F_PER_K;
    settle(&p, &point);
    check_is("too cool", point.limit[CT_LIMIT_FURNACE].verdict, ==, CT_FAILS);
    /* At 5000 ft a cubic foot weighs 24.90/29.92 of what it does at the sea (standard atmosphere,
     * ASHRAE Handbook Fundamentals ch. 1, table 1): the trade's 1.08 falls with it. */
    p.job.indoor.p = 24.90 / 29.921 * CT_ATM_PA;
    settle(&p, &point);
    check_rel("rise at 5000 ft, F", point.limit[CT_LIMIT_FURNACE].value * CT_F_PER_K,
              60000 / (1.08 * 24.90 / 29.921 * cfm), 0.01);
    close_plant(&p);
}

/* The job of a case that was changed. */
static void again(plant *p)
{
    const ct_setup setup = setup_of(p);
    ct_fault fault = {.what = ""};
    check_is(fault.what, ct_sweep_prepare(&setup, &p->job, &fault), ==, CT_OK);
}

/* The heating speed is judged by its own airflow, not by that of the cooling speed. By hand at sea
 * level with the trade's 1.08 (common practice, no source): 10 kW x 3412 Btu/kWh through at most
 * 50 F needs 34120/(1.08 x 50) = 632 cfm; 64,000 Btu/h through 35 to 64 F 926 to 1,693 cfm. */
static void test_heat_tap(void **state)
{
    (void)state;
    static plant p;
    ct_point point;
    ct_heating h;
    open_plant(&p);
    ct_limits *l = &p.c.limits;
    ct_indoor_unit *u = &p.c.indoor[0];
    l->V_heat_min.has = u->V_heat.has = false;
    l->P_strip = (ct_maybe){true, 10e3};
    l->dT_strip_max = 50 / CT_F_PER_K;
    l->Q_furnace = (ct_maybe){true, 64000 * CT_W_PER_BTUH};
    l->dT_furnace_min = (ct_maybe){true, 35 / CT_F_PER_K};
    l->dT_furnace_max = (ct_maybe){true, 64 / CT_F_PER_K};
    again(&p);
    settle(&p, &point);
    check_is("nobody said which tap heats: no speed is judged by it",
             point.limit[CT_LIMIT_HEAT].verdict, ==, CT_NOT_JUDGED);
    check_is("nobody said which tap heats: no speed is judged by it",
             point.limit[CT_LIMIT_FURNACE].verdict, ==, CT_NOT_JUDGED);
    ct_heating_of(&p.job, &h);
    check_rel("strips, cfm", h.V_electric_min / CT_M3S_PER_CFM, 632, 0.01);
    check_rel("furnace, cfm", h.V_furnace_min / CT_M3S_PER_CFM, 926, 0.01);
    check_rel("furnace, cfm at most", h.V_furnace_max / CT_M3S_PER_CFM, 1693, 0.01);
    check_is("middle and high do, low does not", h.suits, ==, 6);
    snprintf(u->heat_tap, sizeof u->heat_tap, "low");
    again(&p);
    settle(&p, &point);
    check_is("low is too slow for the furnace, not for the strips",
             point.limit[CT_LIMIT_HEAT].verdict, ==, CT_PASSES);
    check_is("low is too slow for the furnace, not for the strips",
             point.limit[CT_LIMIT_FURNACE].verdict, ==, CT_FAILS);
    check_that("low is too slow for the furnace, not for the strips", !point.passes);
    snprintf(u->heat_tap, sizeof u->heat_tap, "high");
    again(&p);
    settle(&p, &point);
    check_is("high does, at the same cooling speed", point.limit[CT_LIMIT_FURNACE].verdict, ==,
             CT_PASSES);
    close_plant(&p);
}

/* At 5000 ft: the blower's tables and the coil's sheet hold in standard air, the ducts were
 * measured in place. A coil's drop at the same airflow goes with density^(n - 1). */
static void test_altitude(void **state)
{
    (void)state;
    static plant p;
    static ct_sweep_job high;
    ct_fault fault;
    ct_point tap, sea;
    open_plant(&p);
    const ct_setup setup = setup_of(&p);
    ct_coil_spec *coil = &p.c.indoor[0].coil;
    p.c.indoor[0].blower.table_coil = CT_TABLE_NO_COIL;
    coil->dp_wet = (ct_maybe){true, 50.0};
    coil->V_dp = (ct_maybe){true, p.c.duct.V};
    check_is("sea", ct_sweep_prepare(&setup, &p.job, &fault), ==, CT_OK);
    check_abs("sheet's drop", p.job.duct.dp_coil_in, 50.0, 1e-9);
    p.c.site.altitude = 5000 * CT_M_PER_FT;
    check_is("high", ct_sweep_prepare(&setup, &high, &fault), ==, CT_OK);
    const double thinness = 24.90 / 29.921; /* the table's four digits */
    check_rel("coil's drop", high.duct.dp_coil_in, 50.0 * pow(thinness, 0.7), 2e-4);
    check_abs("ducts as measured", high.duct.dp, p.job.duct.dp, 0);
    check_rel("table's static", high.blower.tap[0].point[1].dp, 0.50 * CT_PA_PER_INWC * thinness,
              2e-4);
    check_is("tap", ct_sweep_tap(p.solver, &high, 1, &tap, &fault), ==, CT_OK);
    check_is("tap", ct_sweep_tap(p.solver, &p.job, 1, &sea, &fault), ==, CT_OK);
    check_is("same static of thinner air is harder to make: less air, fewer watts", tap.V, <,
             0.99 * sea.V);
    check_is("same static of thinner air is harder to make: less air, fewer watts", tap.P_blower, <,
             0.9 * sea.P_blower);
    check_is("the condenser gets less air by mass: hotter", tap.balance.Tc, >, sea.balance.Tc);
    close_plant(&p);
}

/* A tap's airflow is the blower's at the static of the ducts, and the same air by mass at the
 * density the balance gives it: three statements that must hold at once. */
static void test_tap(void **state)
{
    (void)state;
    static plant p;
    open_plant(&p);
    double before = 0;
    for (int through = 0; through < 2; through++) {
        p.job.system.before_coil = through;
        for (int i = 0; i < p.job.unit->blower.n_taps; i++) {
            ct_point tap;
            ct_fault fault;
            ct_blower_point meet;
            check_is("tap", ct_sweep_tap(p.solver, &p.job, i, &tap, &fault), ==, CT_OK);
            check_is("meets", ct_blower_meet(&p.job.blower, i, &p.job.duct, &meet, &fault), ==,
                     CT_OK);
            const ct_air *air = through ? &p.job.indoor : &tap.balance.out;
            check_rel("blower's airflow", tap.V, meet.V, 1e-9);
            check_rel("its mass", tap.m_da * ct_air_v(air->T, air->W, air->p), meet.V, 1e-9);
            check_rel("static of the ducts", tap.dp, ct_duct_dp(&p.job.duct, tap.V), 1e-9);
            check_abs("watts", tap.P_blower, meet.P, 0);
            if (i == 0) before = tap.m_da;
            if (i == 0 && !through)
                check_is("colder air is heavier than the return's", tap.m_da, >,
                         meet.V / ct_air_v(p.job.indoor.T, p.job.indoor.W, p.job.indoor.p));
        }
    }
    check_is("taps were there", before, >, 0);
    close_plant(&p);
}

static void test_sweep_shape(void **state)
{
    (void)state;
    static plant p;
    open_plant(&p);
    ct_sweep *s = calloc(1, sizeof *s);
    ct_fault fault;
    p.c.sweep.points = 9;
    check_is("sweep", ct_sweep_run(p.solver, &p.job, s, &fault), ==, CT_OK);
    check_abs("points", s->n, 9, 0);
    check_rel("first, cfm/ton", s->point[0].V_std_per_ton, 250 * CT_M3S_PER_CFM, 1e-12);
    check_rel("last, cfm/ton", s->point[8].V_std_per_ton, 450 * CT_M3S_PER_CFM, 1e-12);
    for (int i = 1; i < s->n; i++) {
        const ct_balance *a = &s->point[i - 1].balance, *b = &s->point[i].balance;
        check_is("more air: warmer coil, more sensible, drier share", b->Te, >, a->Te);
        check_is("more air: warmer coil, more sensible, drier share", b->Q_sens, >, a->Q_sens);
        check_is("more air: warmer coil, more sensible, drier share", b->SHR, >, a->SHR);
    }
    for (int i = 1; i < s->n_taps; i++)
        check_is("taps rise in airflow", s->tap[i].m_da, >, s->tap[i - 1].m_da);
    check_abs("taps", s->n_taps, 3, 0);
    p.c.sweep.points = 1;
    check_is("one point is no sweep", ct_sweep_run(p.solver, &p.job, s, &fault), ==, CT_RANGE);
    p.c.sweep.points = CT_MAX_SWEEP_POINTS + 1;
    check_is("too many", ct_sweep_run(p.solver, &p.job, s, &fault), ==, CT_RANGE);
    p.c.sweep.points = 5;
    p.c.sweep.V_per_ton_max = p.c.sweep.V_per_ton_min;
    check_is("no width", ct_sweep_run(p.solver, &p.job, s, &fault), ==, CT_INPUT);
    free(s);
    close_plant(&p);
}

/* The speeds of the pick alone are those of the whole sweep, in its order, whatever order the
 * blower's table has them in. */
static void test_speeds_only(void **state)
{
    (void)state;
    static plant p;
    open_plant(&p);
    ct_sweep *all = calloc(1, sizeof *all), *only = calloc(1, sizeof *only);
    ct_pick a, b;
    const ct_tap first = p.job.blower.tap[0];
    p.job.blower.tap[0] = p.job.blower.tap[2];
    p.job.blower.tap[2] = first;
    for (int ceiling = 0; ceiling < 2; ceiling++) {
        p.c.house.rh_ceiling = (ct_maybe){ceiling, 0.55};
        check_is("sweep", ct_sweep_run(p.solver, &p.job, all, NULL), ==, CT_OK);
        memset(only, 0xA5, sizeof *only);
        check_is("only", ct_sweep_speeds_only(p.solver, &p.job, only, NULL), ==, CT_OK);
        check_is("no airflows", only->n, ==, 0);
        check_is("taps", only->n_taps, ==, all->n_taps);
        for (int i = 0; i < all->n_taps; i++) {
            check_is("order", only->tap[i].tap, ==, all->tap[i].tap);
            check_rel("air", only->tap[i].m_da, all->tap[i].m_da, 1e-9);
            check_is("passes", only->tap[i].passes, ==, all->tap[i].passes);
            check_is("humidity", only->tap[i].has_room, ==, ceiling);
        }
        ct_pick_lowest(&p.job, all, &a);
        ct_pick_lowest(&p.job, only, &b);
        check_is("pick", a.found, ==, b.found);
        check_is("pick", a.index, ==, b.index);
    }
    free(all);
    free(only);
    close_plant(&p);
}

/* A tap too weak for these ducts stays in the list, refused, with a reason. */
static void test_weak_tap(void **state)
{
    (void)state;
    static plant p;
    open_plant(&p);
    ct_sweep *s = calloc(1, sizeof *s);
    ct_fault fault;
    ct_tap *weak = &p.job.blower.tap[1];
    for (int k = 0; k < weak->n; k++)
        weak->point[k].dp /= 50;
    check_is("sweep", ct_sweep_run(p.solver, &p.job, s, &fault), ==, CT_OK);
    check_abs("still three", s->n_taps, 3, 0);
    check_abs("it comes first", s->tap[0].tap, 1, 0);
    check_that("refused with a reason", !s->tap[0].passes);
    check_that("refused with a reason", s->tap[0].why[0]);
    check_is("refused with a reason", s->tap[0].limit[CT_LIMIT_BALANCE].verdict, ==, CT_FAILS);
    free(s);
    close_plant(&p);
}

/* A table that ends below the blower's limit: judged by its end, so that the number told agrees
 * with the verdict. */
static void test_short_table(void **state)
{
    (void)state;
    static plant p;
    ct_point tap;
    ct_fault fault;
    open_plant(&p);
    ct_tap *t = &p.job.blower.tap[2];
    t->n = 2; /* ends at 0.50 inwc, the limit is 0.80 */
    check_is("tap", ct_sweep_tap(p.solver, &p.job, 2, &tap, &fault), ==, CT_OK);
    const ct_judgment *j = &tap.limit[CT_LIMIT_STATIC];
    check_is("between the two", tap.dp, >, 0.5 * CT_PA_PER_INWC);
    check_is("between the two", tap.dp, <, 0.8 * CT_PA_PER_INWC);
    check_judgment("table's end", j, tap.dp, 0.5 * CT_PA_PER_INWC, 0.5 * CT_PA_PER_INWC - tap.dp,
                   1e-9);
    check_is("refused", j->verdict, ==, CT_FAILS);
    check_that("refused", !tap.passes);
    close_plant(&p);
}

/* ---- Pick ------------------------------------------------------------------------ */

static void refuse(ct_point *p, ct_limit limit, double bound, double slack)
{
    p->limit[limit] = (ct_judgment){CT_FAILS, bound + slack, bound, slack};
    if (limit < CT_LIMIT_FIRST_ADVICE) p->passes = false;
}

/* n points, '.' passes and 'x' fails on the sensible load. */
static void lay_out(ct_point *points, const char *pattern)
{
    for (int i = 0; pattern[i]; i++) {
        points[i] = (ct_point){.tap = -1, .passes = true};
        if (pattern[i] == 'x') refuse(&points[i], CT_LIMIT_SENSIBLE, 100, -1);
    }
}

static void test_pick_rows(void **state)
{
    (void)state;
    static const struct {
        const char *name, *points, *taps;
        int index, lower; /* -1: none */
        int refused;
    } rows[] = {
        {"none passes", "xxxx", "", -1, -1, 4},
        {"all pass: the lowest, and nothing below", "....", "", 0, -1, 0},
        {"the first that passes", "xx..", "", 2, 1, 2},
        {"a gap above does not matter", "x.x.", "", 1, 0, 2},
        {"only the highest", "xxx.", "", 3, 2, 3},
        {"taps go before the sweep", "....", "x.", 1, 0, 1},
        {"taps that all fail are not saved by the sweep", "....", "xx", -1, -1, 2},
    };
    static ct_sweep s;
    static ct_case c;
    static plant p; /* for its refrigerant: the pick looks at the coil's design pressure */
    open_plant(&p);
    const ct_sweep_job job = {
        .c = &c, .unit = &c.indoor[0], .system.outdoor.refrigerant = p.refrigerant};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ct_pick pick;
        memset(&s, 0, sizeof s);
        s.n = (int)strlen(rows[i].points);
        s.n_taps = (int)strlen(rows[i].taps);
        lay_out(s.point, rows[i].points);
        lay_out(s.tap, rows[i].taps);
        ct_pick_lowest(&job, &s, &pick);
        const ct_point *set = s.n_taps ? s.tap : s.point;
        check_is(rows[i].name, pick.from_taps, ==, (s.n_taps > 0));
        check_is(rows[i].name, pick.found, ==, (rows[i].index >= 0));
        check_that(rows[i].name,
                   ct_pick_point(&pick, &s) == (pick.found ? &set[rows[i].index] : NULL));
        check_is(rows[i].name, pick.has_lower, ==, (rows[i].lower >= 0));
        if (pick.has_lower) check_abs(rows[i].name, pick.lower, rows[i].lower, 0);
        if (pick.has_lower) check_abs(rows[i].name, pick.binding, CT_LIMIT_SENSIBLE, 0);
        check_abs(rows[i].name, pick.failing[CT_LIMIT_SENSIBLE], rows[i].refused, 0);
    }
    close_plant(&p);
}

/* Two limits fail at the lower speed: the one short by most, each on its own scale, binds. */
static void test_binding(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        ct_limit a;
        double bound_a, slack_a;
        ct_limit b;
        double bound_b, slack_b;
        ct_limit binds;
    } rows[] = {
        {"2 % of the load against 1 K of 10", CT_LIMIT_SENSIBLE, 7000, -140, CT_LIMIT_FROST, 274,
         -1, CT_LIMIT_FROST},
        {"20 % of the load against 1 K of 10", CT_LIMIT_SENSIBLE, 7000, -1400, CT_LIMIT_FROST, 274,
         -1, CT_LIMIT_SENSIBLE},
        {"no balance beats all", CT_LIMIT_BALANCE, 0, 0, CT_LIMIT_FROST, 274, -9, CT_LIMIT_BALANCE},
        {"static over by half, head by 3 K", CT_LIMIT_STATIC, 200, -100, CT_LIMIT_HEAD, 336, -3,
         CT_LIMIT_STATIC},
        {"a hair is still a reason", CT_LIMIT_SWEAT, 295, -1e-9, CT_LIMIT_SWEAT, 295, -1e-9,
         CT_LIMIT_SWEAT},
    };
    static ct_sweep s;
    static ct_case c;
    static plant p; /* for its refrigerant: the pick looks at the coil's design pressure */
    open_plant(&p);
    const ct_sweep_job job = {
        .c = &c, .unit = &c.indoor[0], .system.outdoor.refrigerant = p.refrigerant};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        ct_pick pick;
        s.n = 2;
        lay_out(s.point, "..");
        refuse(&s.point[0], rows[i].a, rows[i].bound_a, rows[i].slack_a);
        refuse(&s.point[0], rows[i].b, rows[i].bound_b, rows[i].slack_b);
        ct_pick_lowest(&job, &s, &pick);
        check_that(rows[i].name, pick.found);
        check_that(rows[i].name, pick.has_lower);
        check_abs(rows[i].name, pick.binding, rows[i].binds, 0);
        check_abs(rows[i].name, pick.binding_at.slack, s.point[0].limit[rows[i].binds].slack, 0);
    }
    close_plant(&p);
}

static void test_remedies(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        ct_limit limit;
        double coil_size;
        unsigned remedies;
    } rows[] = {
        {"frost", CT_LIMIT_FROST, 1, CT_REMEDY_MORE_AIR},
        {"electric heat", CT_LIMIT_HEAT, 1, CT_REMEDY_HEAT_TAP},
        {"sweating", CT_LIMIT_SWEAT, 1, CT_REMEDY_INSULATION},
        {"carry-over", CT_LIMIT_CARRYOVER, 1, CT_REMEDY_LARGER_FACE},
        {"static", CT_LIMIT_STATIC, 1, CT_REMEDY_DUCTS},
        {"head", CT_LIMIT_HEAD, 1, CT_REMEDY_LESS_HEAD},
        {"metering", CT_LIMIT_METER, 1, CT_REMEDY_METERING},
        {"furnace", CT_LIMIT_FURNACE, 1, CT_REMEDY_HEAT_TAP},
        {"damp, coil as matched", CT_LIMIT_HUMIDITY, 1, CT_REMEDY_DEHUMIDIFIER},
        {"damp, coil larger", CT_LIMIT_HUMIDITY, 1.3,
         CT_REMEDY_DEHUMIDIFIER | CT_REMEDY_SMALLER_COIL},
        {"never balances", CT_LIMIT_BALANCE, 1, CT_REMEDY_DO_NOT},
        {"never carries the load", CT_LIMIT_SENSIBLE, 1,
         CT_REMEDY_LARGER_OUTDOOR | CT_REMEDY_LESS_LOAD | CT_REMEDY_DO_NOT},
    };
    static ct_sweep s;
    static ct_case c;
    static plant p; /* for its refrigerant: the pick looks at the coil's design pressure */
    open_plant(&p);
    const ct_sweep_job job = {
        .c = &c, .unit = &c.indoor[0], .system.outdoor.refrigerant = p.refrigerant};
    ct_pick pick;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        s.n = 3;
        lay_out(s.point, "...");
        for (int k = 0; k < 3; k++)
            refuse(&s.point[k], rows[i].limit, 100, -1);
        c.indoor[0].coil.size = rows[i].coil_size;
        ct_pick_lowest(&job, &s, &pick);
        check_that(rows[i].name, !pick.found);
        check_is(rows[i].name, pick.remedies, ==, rows[i].remedies);
        check_abs(rows[i].name, pick.failing[rows[i].limit], 3, 0);
    }
    /* The taps cannot, but some airflow of the sweep can: it is the ducts. */
    s.n_taps = 2;
    lay_out(s.tap, "xx");
    lay_out(s.point, "xx.");
    s.point[2].limit[CT_LIMIT_SENSIBLE].verdict = CT_PASSES;
    ct_pick_lowest(&job, &s, &pick);
    check_is("the speeds are wrong, not the unit", pick.remedies, ==, CT_REMEDY_DUCTS);
    s.n_taps = 0;
    close_plant(&p);
}

/* Advice does not refuse a speed; it is shown with the pick. */
static void test_advice(void **state)
{
    (void)state;
    static ct_sweep s;
    static ct_case c;
    static plant p; /* for its refrigerant: the pick looks at the coil's design pressure */
    open_plant(&p);
    const ct_sweep_job job = {
        .c = &c, .unit = &c.indoor[0], .system.outdoor.refrigerant = p.refrigerant};
    ct_pick pick;
    s.n = 2;
    lay_out(s.point, "..");
    refuse(&s.point[0], CT_LIMIT_LATENT, 1500, -100);
    ct_pick_lowest(&job, &s, &pick);
    check_that("picked all the same", pick.found);
    check_is("picked all the same", pick.index, ==, 0);
    check_is("and told", pick.advice, ==, 1u << CT_LIMIT_LATENT);
    for (int i = 0; i < CT_LIMIT_COUNT; i++) {
        const ct_limit_row *row = ct_limit_of((ct_limit)i);
        check_that("every limit has its words", row->name[0]);
        check_that("every limit has its words", row->token[0]);
        check_that("every limit has its words", row->title[0]);
        check_that("a table has room for it", row->brief[0]);
        check_is("a table has room for it", strlen(row->brief), <=, 9);
        check_that("and says what it measures", i == CT_LIMIT_BALANCE || row->measured[0]);
    }
    close_plant(&p);
}

/* ---- Hottest day ----------------------------------------------------------------- */

/* At the day found, a balance of its own must carry just the load of that day; the line of the load
 * is worked by hand from 68 F, no load, to 95 F, 22 000 Btu/h and 5 %. */
static void test_hottest(void **state)
{
    (void)state;
    static plant p;
    ct_point point;
    ct_fault fault;
    double T;
    open_plant(&p);
    settle(&p, &point);
    check_is("found", ct_hottest_day(p.solver, &p.job, &point, &T, &fault), ==, CT_OK);
    const ct_conditions at = {p.job.indoor, T, point.m_da, point.P_blower};
    ct_balance b;
    check_is("balance", ct_balance_solve(p.solver, &p.job.system, &at, NULL, &b, &fault), ==,
             CT_OK);
    const double load = 23100 * CT_W_PER_BTUH * (ct_F_from_K(T) - 68) / (95 - 68);
    check_rel("carried is the load", b.Q_sens_net, load, 1e-6);
    check_is("hotter than the design day, for the point has slack there", T, >, p.job.T_out);
    check_is("hotter than the design day, for the point has slack there",
             point.limit[CT_LIMIT_SENSIBLE].slack, >, 0);

    p.c.house.Q_sensible *= 40;
    check_is("far too much load", ct_hottest_day(p.solver, &p.job, &point, &T, &fault), ==,
             CT_NO_ROOT);
    check_has("told as never", fault.what, "never");
    p.c.house.Q_sensible /= 4000;
    check_is("hardly any load", ct_hottest_day(p.solver, &p.job, &point, &T, &fault), !=, CT_INPUT);
    p.c.house.T_balance.has = false;
    check_is("no balance temperature", ct_hottest_day(p.solver, &p.job, &point, &T, &fault), ==,
             CT_INPUT);
    p.c.house.T_balance = (ct_maybe){true, p.job.T_out};
    check_is("balance temperature not below the day",
             ct_hottest_day(p.solver, &p.job, &point, &T, &fault), ==, CT_INPUT);
    close_plant(&p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_judgments),   cmocka_unit_test(test_jacket),
        cmocka_unit_test(test_either_side), cmocka_unit_test(test_furnace),
        cmocka_unit_test(test_heat_tap),    cmocka_unit_test(test_altitude),
        cmocka_unit_test(test_short_table), cmocka_unit_test(test_tap),
        cmocka_unit_test(test_sweep_shape), cmocka_unit_test(test_speeds_only),
        cmocka_unit_test(test_weak_tap),    cmocka_unit_test(test_pick_rows),
        cmocka_unit_test(test_binding),     cmocka_unit_test(test_remedies),
        cmocka_unit_test(test_advice),      cmocka_unit_test(test_hottest),
    };
    gsl_watch();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
