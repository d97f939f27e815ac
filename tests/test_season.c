/* A season against the rating procedure, against answers known beforehand, and against the humidity
 * the house settles at. */
#include <stdlib.h>

#include "base/units.h"
#include "invented_case.h"
#include "plant.h"
#include "plant/seasonal.h"
#include "study/season.h"

/* ---- The rating procedure -------------------------------------------------------- */

/* The matched pair of an invented unit, in the rating procedure's own house: 80/67 F indoors
 * always, load from none at 65 F to its capacity over 1.1 at 95 F. Our house takes the sensible
 * share. */
static void rating_job(plant *p, ct_sweep_job *job)
{
    p->c.site.T_outdoor = CT_RATING_T_OUT;
    *job = (ct_sweep_job){.c = &p->c,
                          .unit = &p->c.indoor[0],
                          .system = p->sys,
                          .indoor = p->rating.in,
                          .T_out = CT_RATING_T_OUT};
}

static ct_season_house rating_house(const ct_balance *A, double CD)
{
    return (ct_season_house){.room = {.T = A->in.T, .p = A->in.p, .coil = CT_REEVAPORATION_USUAL},
                             .T_no_load = CT_SEASONAL_T_NO_LOAD,
                             .T_design = CT_RATING_T_OUT,
                             .Q_design = A->Q_sens_net / CT_SEASONAL_OVERSIZE,
                             .W_start = A->in.W,
                             .storage = 1.0,
                             .CD = CD,
                             .held = true};
}

static ct_balance at_rating(ct_solver *solver, const plant *p, double T_F)
{
    ct_conditions at = p->rating;
    ct_balance b;
    at.T_out = K_(T_F);
    assert_int_equal(ct_balance_solve(solver, &p->sys, &at, NULL, &b, NULL), CT_OK);
    return b;
}

/* Each bin balanced and added up here; bins and their hours: 10 CFR 430 subpart B appendix M,
 * 4.1. */
static double by_hand(ct_solver *solver, const plant *p, const ct_season_house *h)
{
    static const double F[] = {67, 72, 77, 82, 87, 92, 97, 102};
    static const double share[] = {0.214, 0.231, 0.216, 0.161, 0.104, 0.052, 0.018, 0.004};
    double cooled = 0, used = 0;
    for (int i = 0; i < 8; i++) {
        const ct_balance b = at_rating(solver, p, F[i]);
        const double run = fmin(1.0, h->Q_design * (F[i] - 65.0) / 30.0 / b.Q_sens_net);
        cooled += share[i] * run * b.Q_net;
        used += share[i] * run * b.P_total / (1.0 - h->CD * (1.0 - run));
    }
    return cooled / used;
}

static void check_rating(const char *refrigerant, double CD)
{
    plant p;
    ct_sweep_job job;
    ct_solver *solver;
    ct_weather w;
    ct_season_total t;
    ct_point point;
    static ct_season_stage stage;
    ct_fault f = {.what = ""};
    double SEER;

    plant_make(&p, refrigerant, 3.0);
    assert_int_equal(ct_solver_make(&solver, NULL), CT_OK);
    rating_job(&p, &job);
    p.c.season.load_hours = 1000.0;
    const ct_balance A = at_rating(solver, &p, 95), B = at_rating(solver, &p, 82);
    const ct_season_house house = rating_house(&A, CD);
    assert_int_equal(ct_season_rating_weather(&job, &w, &f), CT_OK);
    ct_sweep_point(solver, &job, p.rating.m_da, p.rating.P_blower, NULL, &point);
    const ct_season_range range = ct_season_range_of(&house, &w);
    if (ct_season_tabulate(solver, &job, &point, &range, &stage, &f) != CT_OK ||
        ct_season_run(&house, &stage, &w, NULL, &t, &f) != CT_OK)
        fail_msg("%s", f.what);
    const ct_rating_test test_B = {B.Q_net, B.P_total};
    assert_int_equal(ct_seasonal_seer(&test_B, CD, &SEER, NULL), CT_OK);
    /* The table is read between its humidities: 1e-4. */
    check_rel(refrigerant, t.Q / t.energy, by_hand(solver, &p, &house), 1e-4);
    /* The one-line formula takes a load factor of one half: 1 %, as published figures differ
     * (0.6 to 0.7 %; 10 CFR 430 subpart B appendix M, section 4.1, both forms). */
    check_rel(refrigerant, t.Q / t.energy, SEER, 0.01);
    /* 1000 h at the design load are 1000 / 0.393 h in the bins, the sum of share x (T - 65)/30. */
    check_rel("hours", t.hours, 1000.0 / 0.3930, 1e-4);
    check_rel("all need cooling", t.cooling, t.hours, 1e-12);
    ct_weather_free(&w);
    ct_solver_free(solver);
    plant_free(&p);
}

static void rating_formula(void **state)
{
    (void)state;
    check_rating("R-22", 0.25);
    check_rating("R-22", 0.20);
    check_rating("R-410A", 0.20);
    check_rating("R-410A", 0.0);
}

/* ---- Answers known beforehand ---------------------------------------------------- */

#define Q_FULL 6000.0
#define P_FULL 2500.0
#define WATER_SLOPE 0.15 /* kg/s per kg/kg */
#define W_DRY 0.003

static ct_season_house plain_house(void)
{
    return (ct_season_house){
        .room = {.T = K_(75), .p = CT_ATM_PA, .Q_latent = 500, .coil = CT_REEVAPORATION_USUAL},
        .V_outdoor = 0.03,
        .T_no_load = K_(70),
        .T_design = K_(95),
        .Q_design = 6000,
        .W_start = 0.012,
        .storage = 5000,
        .CD = 0.2};
}

/* Equipment that gives the same whatever the weather, its water a straight line. */
static void plain_stage(ct_season_stage *s)
{
    *s = (ct_season_stage){.n_T = 2, .T = {K_(72), K_(102)}, .P_blower = 300};
    for (int w = 0; w < CT_SEASON_HUMIDITIES; w++) {
        s->W[w] = 0.004 + 0.0012 * w;
        for (int t = 0; t < 2; t++) {
            s->Q_house[w][t] = Q_FULL;
            s->Q_net[w][t] = 1.3 * Q_FULL;
            s->P[w][t] = P_FULL;
            s->water[w][t] = WATER_SLOPE * (s->W[w] - W_DRY);
        }
    }
}

static ct_weather same_hours(ct_weather_hour *hour, int n, double T, double W)
{
    for (int i = 0; i < n; i++)
        hour[i] = (ct_weather_hour){1.0, T, W};
    return (ct_weather){.hourly = true, .n = n, .hour = hour};
}

typedef struct {
    double W_end, rate; /* W goes to W_end as exp(-rate t) */
} decay;

static double steam_heat(double T)
{
    return 2501000.0 + 1860.0 * (T - 273.15); /* J/kg, ASHRAE Fundamentals ch. 1 eq. 30 */
}

/* M dW/dt = G + m (W_out - W) - k (W - W_dry): a straight line, so an exponential. */
static decay known(const ct_season_house *h, double T, double W_out, double k)
{
    const double m = h->V_outdoor / ct_air_v(T, W_out, h->room.p);
    const double G = h->room.Q_latent / steam_heat(h->room.T);
    return (decay){(G + m * W_out + k * W_DRY) / (m + k), (m + k) / h->storage};
}

/* Mean over the hour that begins at t seconds. */
static double mean_hour(const decay *d, double W0, double t)
{
    const double z = d->rate * 3600.0;
    return d->W_end + (W0 - d->W_end) * exp(-d->rate * t) * (1.0 - exp(-z)) / z;
}

static double rh_of(const ct_season_house *h, double W)
{
    const ct_air a = {h->room.T, W, h->room.p};
    return ct_air_rh(&a);
}

static void idle_house(void **state)
{
    enum { N = 72 };
    ct_weather_hour hour[N];
    double rh[N];
    bool counted[N];
    static ct_season_stage s;
    ct_season_total t;
    const ct_season_house h = plain_house();
    const ct_weather w = same_hours(hour, N, K_(60), 0.008);
    const ct_season_trace trace = {.rh = rh, .counted = counted};
    const decay d = known(&h, K_(60), 0.008, 0.0);
    (void)state;

    plain_stage(&s);
    assert_int_equal(ct_season_run(&h, &s, &w, &trace, &t, NULL), CT_OK);
    for (int i = 0; i < N; i++)
        check_rel("hour", rh[i], rh_of(&h, mean_hour(&d, h.W_start, 3600.0 * i)), 1e-12);
    check_abs("runs", t.run, 0, 0);
    check_abs("energy", t.energy, 0, 0);
    check_abs("open windows", t.counted, 0, 0);
    check_that("no mean", isnan(t.rh_mean));
}

static void cooled_house(void **state)
{
    enum { N = 96 };
    ct_weather_hour hour[N];
    double rh[N], run[N];
    static ct_season_stage s;
    ct_season_total t;
    const ct_season_house h = plain_house();
    /* 80 F: 40 % of the design load, a run share of 0.4. */
    const ct_weather w = same_hours(hour, N, K_(80), 0.014);
    const ct_season_trace trace = {.rh = rh, .run = run};
    const decay d = known(&h, K_(80), 0.014, 0.4 * WATER_SLOPE);
    double above = 0;
    (void)state;

    plain_stage(&s);
    assert_int_equal(ct_season_run(&h, &s, &w, &trace, &t, NULL), CT_OK);
    for (int i = 0; i < N; i++) {
        const double want = rh_of(&h, mean_hour(&d, h.W_start, 3600.0 * i));
        check_rel("hour", rh[i], want, 1e-9);
        check_rel("run share", run[i], 0.4, 1e-12);
        above += want > 0.60;
    }
    check_is("some hours of each", above * (N - above), >, 0);
    check_abs("hours above 60 %", t.above[2], above, 0);
    check_rel("run hours", t.run, 0.4 * N, 1e-12);
    check_rel("energy", t.energy, 3600.0 * N * 0.4 * P_FULL / (1 - 0.2 * 0.6), 1e-12);
    check_rel("cooling", t.Q, 3600.0 * N * 0.4 * 1.3 * Q_FULL, 1e-12);
    check_abs("never short", t.hours_short, 0, 0);
    check_abs("water closes", t.unclosed, 0, 1e-9 * t.water);
}

/* A hotter day than the equipment carries: 110 F needs 9600 W of 6000 W. */
static void short_house(void **state)
{
    enum { N = 24 };
    ct_weather_hour hour[N];
    static ct_season_stage s;
    ct_season_total t;
    const ct_season_house h = plain_house();
    const ct_weather w = same_hours(hour, N, K_(110), 0.014);
    (void)state;

    plain_stage(&s);
    assert_int_equal(ct_season_run(&h, &s, &w, NULL, &t, NULL), CT_OK);
    check_abs("hours short", t.hours_short, N, 0);
    check_rel("heat short", t.heat_short, 3600.0 * N * 3600.0, 1e-9);
    check_rel("runs all the time", t.run, N, 1e-12);
    check_rel("no cycling loss", t.energy, 3600.0 * N * P_FULL, 1e-12);
    check_abs("held at the table's edge", t.held, N, 0);
}

/* ---- The humidity it settles at -------------------------------------------------- */

static void read_house(const char *fan)
{
    static char text[4096];
    const char *house = strstr(INVENTED_CASE, "house: {");
    snprintf(text, sizeof text, "%.*soutdoor_humidity: 45 %%\nhouse: {infiltration: 60 cfm, %s%s",
             (int)(house - INVENTED_CASE), INVENTED_CASE, fan, house + strlen("house: {"));
    /* The site's keys are indented. */
    char *at = strstr(text, "outdoor_humidity: 45 %\nhouse");
    char rest[4096];
    snprintf(rest, sizeof rest, "%s", at);
    snprintf(at, sizeof text - (size_t)(at - text), "  %s", rest);
    invented_read(text);
}

/* The usual low stage, at its own pick. */
static void add_low_stage(void)
{
    ct_outdoor_unit *u = &inv.c.outdoor;

    u->low = (ct_low_stage_spec){.has = true,
                                 .Q_net = CT_LOW_STAGE_CAPACITY * u->Q_net,
                                 .EER = CT_LOW_STAGE_EER * u->EER,
                                 .V_std = CT_LOW_STAGE_AIRFLOW * u->V_rated_std,
                                 .P_blower = CT_LOW_STAGE_AIRFLOW * u->P_blower_rated,
                                 .P_fan = u->P_fan};
    invented_sweep();
    check_that("a speed passes on it", inv.job.has_low);
}

static const ct_season_stage *low_table(const ct_season_range *range)
{
    static ct_season_stage stage;
    ct_sweep_job low;
    ct_fault f = {.what = ""};

    check_that("two stages", ct_sweep_low_job(&inv.job, &low));
    if (ct_season_tabulate(inv.solver, &low, &inv.job.low, range, &stage, &f) != CT_OK)
        fail_msg("%s", f.what);
    return &stage;
}

/* A constant hour, again and again: the house is where it settles. The table is read between its
 * humidities and temperatures (neither 85 F nor 75.3 F is one of the table): 0.05 % RH. */
static void check_constant(double T_F, const char *fan, bool two)
{
    enum { N = 2400 };
    static ct_weather_hour hour[N];
    static double rh[N];
    static ct_season_stage stage;
    ct_season_house house;
    ct_season_total t;
    ct_house_hour settled;
    ct_fault f = {.what = ""};

    read_house(fan);
    if (two) add_low_stage();
    const ct_point *p = &inv.sweep.tap[1];
    const ct_humidity_job humidity = {
        .c = &inv.c,
        .system = &inv.job.system,
        .indoor = inv.job.indoor,
        .m_da = p->m_da,
        .P_blower = p->P_blower,
        .low = {two ? &inv.job.low_system : NULL, inv.job.low.m_da, inv.job.low.P_blower}};
    ct_air out;
    assert_int_equal(ct_humidity_outdoor_air(&inv.c, inv.job.indoor.p, K_(T_F), &out, NULL), CT_OK);
    assert_int_equal(ct_season_house_of(&inv.job, true, &house, &f), CT_OK);
    ct_weather w = same_hours(hour, N, K_(T_F), out.W);
    const ct_season_range range = ct_season_range_of(&house, &w);
    const ct_season_trace trace = {.rh = rh};
    const ct_house_day day = {K_(T_F), ct_season_load(&house, K_(T_F))};
    if (ct_season_tabulate(inv.solver, &inv.job, p, &range, &stage, &f) != CT_OK)
        fail_msg("%s", f.what);
    if (two) stage.low = low_table(&range);
    if (ct_season_run(&house, &stage, &w, &trace, &t, &f) != CT_OK ||
        ct_humidity_day(inv.solver, &humidity, &day, &settled, NULL, &f) != CT_OK)
        fail_msg("%s", f.what);
    check_abs("hour after hour", rh[N - 1], settled.room.rh, 5e-4);
    check_abs("stays there", rh[N - 1], rh[N - 100], 1e-9);
    check_is("water closes", fabs(t.unclosed), <, 1e-3 * t.water);
    const double at_last = rh[N - 1];
    w.hourly = false;
    w.n = 1;
    assert_int_equal(ct_season_run(&house, &stage, &w, &trace, &t, NULL), CT_OK);
    check_abs("as a bin", rh[0], settled.room.rh, 5e-4);
    check_abs("bin and hours", rh[0], at_last, 1e-8);
    check_abs("run share", t.run, settled.room.run, 1e-4);
    check_abs("high share", t.run_high, settled.room.high, 1e-3);
    if (two)
        print_message("%.1f F: low stage %.0f %%, high %.0f %% of the hour, %.1f %% RH\n", T_F,
                      100 * (t.run - t.run_high), 100 * t.run_high, 100 * rh[0]);
}

static void constant_hour(void **state)
{
    (void)state;
    check_constant(85, "", false);
    check_constant(75.3, "", false);
    check_constant(95, "", false);
    check_constant(85, "fan_on: yes, ", false);
    check_constant(85, "fan_off_delay: 90 s, ", false);
    check_constant(75.3, "", true); /* the low stage alone */
    check_constant(95, "", true);   /* both in turn */
    check_constant(85, "fan_off_delay: 90 s, ", true);
    check_constant(112, "", true); /* the high stage alone, and short */
}

static void refuses(void **state)
{
    ct_season_house house;
    ct_fault f = {.what = ""};
    (void)state;
    invented_read(INVENTED_CASE);
    assert_int_equal(ct_season_house_of(&inv.job, true, &house, &f), CT_INPUT);
    check_has(f.what, f.what, "house.infiltration");
    assert_int_equal(ct_season_house_of(&inv.job, false, &house, &f), CT_OK);
    check_that("bins without infiltration: held", house.held);
    inv.job.T_out = house.T_no_load;
    assert_int_equal(ct_season_house_of(&inv.job, false, &house, &f), CT_INPUT);
}

/* Bins of 1, 2 and 7 h: the dampest hour is a tenth of all. */
static void duration(void **state)
{
    ct_weather_hour hour[] = {{7, 0, 0}, {1, 0, 0}, {2, 0, 0}, {90, 0, 0}};
    double rh[] = {0.50, 0.70, 0.60, 0.99}, curve[11];
    bool counted[] = {true, true, true, false};
    const ct_weather w = {.n = 4, .hour = hour};
    const ct_season_trace t = {.rh = rh, .counted = counted};
    (void)state;
    assert_int_equal(ct_season_duration(&w, &t, 11, curve, NULL), CT_OK);
    const double want[] = {.7, .7, .6, .6, .5, .5, .5, .5, .5, .5, .5};
    for (int i = 0; i < 11; i++)
        check_abs("exceeded", curve[i], want[i], 0);
    memset(counted, 0, sizeof counted);
    assert_int_equal(ct_season_duration(&w, &t, 11, curve, NULL), CT_INPUT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rating_formula), cmocka_unit_test(idle_house),
        cmocka_unit_test(cooled_house),   cmocka_unit_test(short_house),
        cmocka_unit_test(constant_hour),  cmocka_unit_test(refuses),
        cmocka_unit_test(duration),
    };
    return cmocka_run_group_tests(tests, NULL, invented_free);
}
