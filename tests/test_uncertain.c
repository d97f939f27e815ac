/* Spread of the answer: against closed forms, a plain Monte Carlo of its own, and itself. */
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "gsl_watch.h"
#include "invented_case.h"
#include "judge/pick.h"
#include "study/uncertain.h"
#include "study/ways.h"

static ct_uncertain u, other;

static void run(int samples, int threads, ct_sequence sequence, ct_uncertain *out)
{
    const ct_setup setup = invented_setup();
    ct_uncertain_plan plan = {samples, threads, sequence};
    ct_fault f = {.what = ""};

    if (ct_uncertain_run(&setup, &inv.sweep, &plan, out, &f) != CT_OK) fail_msg("%s", f.what);
}

static void only(double *sigma, double value)
{
    inv.c.uncertainty = (ct_uncertainty){0};
    if (sigma) *sigma = value;
}

/* ---- Keys ------------------------------------------------------------------------ */

static void test_keys(void **state)
{
    const ct_uncertainty *s = &inv.c.uncertainty;
    (void)state;
    invented_read(INVENTED_CASE);
    /* Defaults of the table; common practice, no source. */
    check_abs("load", s->load, 0.10, 1e-15);
    check_abs("capacity", s->capacity, 0.03, 1e-15);
    check_abs("EER", s->EER, 0.03, 1e-15);
    check_abs("SHR", s->SHR, 0.02, 1e-15);
    check_abs("static", s->duct_static, 0.10, 1e-15);
    check_abs("humidity", s->rh_indoor, 0.03, 1e-15);
    check_abs("outdoor", s->T_outdoor, 2.0 / 1.8, 1e-12);
    check_abs("coil", s->coil, 0.10, 1e-15);
    invented_read(INVENTED_CASE "uncertainty: {load: 5 %, outdoor_dry_bulb: 1 C}\n");
    check_abs("load given", s->load, 0.05, 1e-15);
    check_abs("outdoor given", s->T_outdoor, 1.0, 1e-12);
    check_abs("others stay", s->EER, 0.03, 1e-15);
}

/* ---- Calibration begun at a like coil -------------------------------------------- */

typedef struct {
    const char *name;
    double Q, EER, SHR; /* of 1, of 1, added */
} nameplate;

static void same_calibration(const nameplate *n, const ct_coil *near)
{
    const ct_setup like = {NULL, &inv.c, &inv.outdoor, near, 0};
    ct_case c = inv.c;
    ct_outdoor o1, o2;
    ct_coil cold, warm;
    ct_calibration k1, k2;

    c.outdoor.Q_net *= n->Q;
    c.outdoor.EER *= n->EER;
    c.outdoor.SHR_rated += n->SHR;
    ct_status a = ct_setup_rate(&c, inv.refrigerant, &o1, &cold, &k1, NULL);
    ct_status b = ct_setup_rate_near(&like, &c, &o2, &warm, &k2, NULL);
    check_is(n->name, a, ==, b);
    if (a != CT_OK) return;
    /* The two stop at residuals of 1e-11 in the ratio, whose slope with the air side is 0.02 and up
     * on these rows: 1e-8 has a margin of ten. */
    check_rel(n->name, warm.Ao, cold.Ao, 1e-8);
    check_rel(n->name, warm.UAi_ref, cold.UAi_ref, 1e-8);
    check_rel(n->name, k2.superheat_area, k1.superheat_area, 1e-8);
    check_that("range left out", isnan(k2.SHR_max) || k2.SHR_max == k1.SHR_max);
    check_rel(n->name, o2.condenser.eps_C, o1.condenser.eps_C, 1e-15);
}

static void test_calibration_near(void **state)
{
    static const nameplate rows[] = {
        {"itself", 1.0, 1.0, 0.0},          {"more capacity", 1.08, 1.0, 0.0},
        {"less capacity", 0.9, 1.0, 0.0},   {"better EER", 1.0, 1.1, 0.0},
        {"less sensible", 1.0, 1.0, -0.06}, {"more sensible", 1.0, 1.0, 0.03},
        {"near the peak", 1.0, 1.0, 0.044}, {"beyond it", 1.0, 1.0, 0.06},
        {"far below", 1.0, 1.0, -0.12},     {"all at once", 1.06, 0.93, -0.04},
    };
    (void)state;
    invented_read(INVENTED_CASE);
    const ct_coil near = inv.matched;
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        same_calibration(&rows[i], &near);
}

/* The highest ratio told is the true peak: just below it a coil exists, just above none. */
static void test_ratio_range_is_sharp(void **state)
{
    ct_case c;
    ct_outdoor o;
    ct_coil coil;
    ct_calibration k;
    (void)state;
    invented_read(INVENTED_CASE);
    c = inv.c;
    c.outdoor.SHR_rated = inv.calibration.SHR_max - 1e-6;
    assert_int_equal(ct_setup_rate(&c, inv.refrigerant, &o, &coil, &k, NULL), CT_OK);
    c.outdoor.SHR_rated = inv.calibration.SHR_max + 1e-6;
    assert_int_equal(ct_setup_rate(&c, inv.refrigerant, &o, &coil, &k, NULL), CT_INPUT);
}

/* ---- Against closed forms -------------------------------------------------------- */

static void same_as_nominal(const char *name, const ct_uncertain_point *p, const ct_point *n)
{
    const double want[CT_BAND_COUNT] = {
        n->V_std,         n->balance.Q_net,     n->balance.Q_sens_net,
        n->balance.Q_lat, n->balance.T_surface, n->balance.Te};
    for (int k = 0; k < CT_BAND_COUNT; k++) {
        const ct_band *b = &p->band[k];
        /* Balances agree to their residual, 1e-10 of the heat. */
        check_rel(name, b->mean, want[k], 1e-8);
        check_rel(name, b->q05, want[k], 1e-8);
        check_rel(name, b->median, want[k], 1e-8);
        check_rel(name, b->q95, want[k], 1e-8);
    }
    for (int k = 0; k < CT_LIMIT_COUNT; k++)
        if (n->limit[k].verdict == CT_NOT_JUDGED)
            check_that(ct_limit_of((ct_limit)k)->name, isnan(p->limit[k]));
        else
            check_abs(ct_limit_of((ct_limit)k)->name, p->limit[k],
                      n->limit[k].verdict == CT_PASSES ? 1.0 : 0.0, 0.0);
    check_abs(name, p->all, n->passes ? 1.0 : 0.0, 0.0);
}

static void test_no_uncertainty_is_nominal(void **state)
{
    (void)state;
    invented_read(INVENTED_CASE);
    only(NULL, 0.0);
    run(9, 2, CT_SEQUENCE_SOBOL, &u);
    assert_int_equal(u.n, 6);
    assert_int_equal(u.n_taps, 3);
    assert_int_equal(u.impossible + u.unsettled, 0);
    for (int i = 0; i < u.n; i++)
        same_as_nominal("airflow", &u.point[i], &inv.sweep.point[i]);
    for (int i = 0; i < u.n_taps; i++)
        same_as_nominal("tap", &u.tap[i], &inv.sweep.tap[i]);
    ct_pick pick;
    ct_pick_lowest(&inv.job, &inv.sweep, &pick);
    check_that("some speed passes, not the lowest", pick.found);
    check_is("some speed passes, not the lowest", pick.index, >, 0);
    for (int i = 0; i < u.n_taps; i++)
        check_abs("the pick", u.tap[i].picked, i == pick.index ? 1.0 : 0.0, 0.0);
}

/* The ceiling is set between what two taps come to: humidity is judged at the taps, where the pick
 * is made, and not at airflows. */
static void test_humidity_ceiling(void **state)
{
    int passing = 0;
    (void)state;
    invented_read(INVENTED_CASE);
    only(NULL, 0.0);
    inv.c.house.rh_ceiling = (ct_maybe){true, 0.6};
    invented_sweep();
    inv.c.house.rh_ceiling.v = 0.5 * (inv.sweep.tap[1].room.rh + inv.sweep.tap[2].room.rh);
    invented_sweep();
    run(3, 1, CT_SEQUENCE_SOBOL, &u);
    for (int i = 0; i < u.n_taps; i++) {
        const ct_judgment *j = &inv.sweep.tap[i].limit[CT_LIMIT_HUMIDITY];
        passing += j->verdict == CT_PASSES;
        check_abs("tap", u.tap[i].limit[CT_LIMIT_HUMIDITY], j->verdict == CT_PASSES ? 1.0 : 0.0,
                  0.0);
    }
    assert_int_equal(passing, 2);
    check_that("not at airflows", isnan(u.point[0].limit[CT_LIMIT_HUMIDITY]));
}

/* Without taps the pick is made among the airflows, with the ceiling. */
static void test_without_taps(void **state)
{
    ct_pick pick;
    double sum = 0.0;
    (void)state;
    invented_read(INVENTED_CASE);
    inv.c.indoor[0].blower.n_taps = 0;
    inv.c.house.rh_ceiling = (ct_maybe){true, 0.6};
    invented_sweep();
    ct_pick_lowest(&inv.job, &inv.sweep, &pick);
    assert_true(pick.found && !pick.from_taps);
    run(127, 0, CT_SEQUENCE_SOBOL, &u);
    for (int i = 0; i < u.n; i++) {
        sum += u.point[i].picked;
        check_is("judged", u.point[i].limit[CT_LIMIT_HUMIDITY], >=, 0.0);
    }
    check_abs("shares", sum + u.none, 1.0, 1e-12);
    only(NULL, 0.0);
    run(1, 0, CT_SEQUENCE_SOBOL, &u);
    check_abs("the pick", u.point[pick.index].picked, 1.0, 0.0);
}

/* With the load alone uncertain, a speed carries it when 1 + s z is below capacity over load: the
 * normal distribution itself. Tolerance: the first coordinate of the sequence fills every interval
 * to within log2(N)/N (van der Corput). */
static void draw_load_alone(double sigma)
{
    enum { N = 4096 };
    only(&inv.c.uncertainty.load, sigma);
    run(N, 0, CT_SEQUENCE_SOBOL, &u);
    for (int i = 0; i < u.n_taps; i++) {
        double ratio =
            inv.sweep.tap[i].balance.Q_sens_net / (22500.0 * 1055.05585262 / 3600 * 1.02);
        double want = gsl_cdf_ugaussian_P((ratio - 1.0) / sigma);
        check_abs("carries", u.tap[i].limit[CT_LIMIT_SENSIBLE], want, 12.0 / N);
        check_is("a real share", want, >, 0.05);
        check_is("a real share", want, <, 0.95);
        check_abs("capacity does not spread", u.tap[i].band[CT_BAND_TOTAL].q95,
                  inv.sweep.tap[i].balance.Q_net, 1e-4);
    }
}

/* As wide as a found load may be in doubt, and as usual. */
static void test_load_alone(void **state)
{
    (void)state;
    invented_read(INVENTED_CASE);
    draw_load_alone(CT_LOAD_DOUBT_MOST);
    draw_load_alone(0.1);
    check_abs("the shares of the pick and of none are all there is",
              u.tap[0].picked + u.tap[1].picked + u.tap[2].picked + u.none, 1.0, 1e-12);
    check_abs("lowest is the pick whenever it carries", u.tap[0].picked,
              u.tap[0].limit[CT_LIMIT_SENSIBLE], 1e-12);
}

/* Total capacity falls steadily with the outdoor temperature, so its 5 % quantile is the capacity
 * on the day that is too hot by 1.6449 standard deviations. */
static void test_quantiles(void **state)
{
    static const struct {
        const char *name;
        double p;
    } rows[] = {{"5 %", 0.05}, {"16 %", 0.16}, {"median", 0.5}, {"84 %", 0.84}, {"95 %", 0.95}};
    const double sigma = 2.0;
    (void)state;
    invented_read(INVENTED_CASE);
    only(&inv.c.uncertainty.T_outdoor, sigma);
    run(2047, 0, CT_SEQUENCE_SOBOL, &u);
    const ct_band *b = &u.point[3].band[CT_BAND_TOTAL];
    const double got[] = {b->q05, b->q16, b->median, b->q84, b->q95};
    const ct_point *n = &inv.sweep.point[3];
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        ct_conditions at = {inv.job.indoor, inv.job.T_out, n->m_da, n->P_blower};
        ct_balance want, per_sigma;
        at.T_out -= sigma * gsl_cdf_ugaussian_Pinv(rows[i].p);
        assert_int_equal(ct_balance_solve(inv.solver, &inv.job.system, &at, NULL, &want, NULL), 0);
        at.T_out += sigma;
        assert_int_equal(ct_balance_solve(inv.solver, &inv.job.system, &at, NULL, &per_sigma, NULL),
                         0);
        /* One draw in 2048 at the 5 % point is 1/2048/0.103 = 0.005 standard deviations apart from
         * the next; two of these. */
        check_abs(rows[i].name, got[i], want.Q_net, 0.01 * fabs(want.Q_net - per_sigma.Q_net));
    }
    check_is("in order", b->q05, <, b->q16);
    check_is("in order", b->q16, <, b->median);
    check_is("in order", b->median, <, b->q84);
}

/* A nameplate past the highest sensible ratio cannot be; their share is the normal tail. */
static void test_impossible_nameplates(void **state)
{
    enum { N = 1023 };
    (void)state;
    invented_read(INVENTED_CASE);
    only(&inv.c.uncertainty.SHR, 0.05);
    run(N, 0, CT_SEQUENCE_SOBOL, &u);
    double high = (inv.calibration.SHR_max - inv.c.outdoor.SHR_rated) / 0.05;
    double low = (inv.calibration.SHR_min - inv.c.outdoor.SHR_rated) / 0.05;
    double want = gsl_cdf_ugaussian_Q(high) + gsl_cdf_ugaussian_P(low);
    check_is("both tails matter", want, >, 0.1);
    check_is("both tails matter", want, <, 0.9);
    /* Fourth coordinate: a (0, 1)-sequence like the first, so log2(N)/N at each end. */
    check_abs("share", (double)u.impossible / N, want, 20.0 / N);
    check_has("told", u.why, "sensible heat ratio");
    assert_int_equal(u.point[0].band[CT_BAND_TOTAL].n, N - u.impossible);
}

/* ---- Against a plain Monte Carlo, written on its own ----------------------------- */

enum { PLAIN = 700, TAPS = 3 };

typedef struct {
    int possible, carries[TAPS], passes[TAPS];
    double sensible[TAPS][PLAIN], suction[TAPS][PLAIN];
} plain_count;

static plain_count plain;

static bool plain_draw(gsl_rng *rng, ct_case *c, double *coil)
{
    double rh, p = 101325.0;
    ct_air air;

    ct_air_pressure(c->site.altitude, &p, NULL);
    ct_air_from_wet_bulb(c->site.indoor.T, c->site.indoor.T_wb.v, p, &air, NULL);
    double load = 1.0 + gsl_ran_gaussian(rng, 0.10);
    c->house.Q_sensible *= load;
    c->house.Q_latent *= load;
    c->outdoor.Q_net *= 1.0 + gsl_ran_gaussian(rng, 0.03);
    c->outdoor.EER *= 1.0 + gsl_ran_gaussian(rng, 0.03);
    c->outdoor.SHR_rated += gsl_ran_gaussian(rng, 0.02);
    c->duct.dp *= 1.0 + gsl_ran_gaussian(rng, 0.10);
    c->site.T_outdoor += gsl_ran_gaussian(rng, 2.0 / 1.8);
    rh = ct_air_rh(&air) + gsl_ran_gaussian(rng, 0.03);
    c->site.indoor.T_wb.has = false;
    c->site.indoor.rh = (ct_maybe){true, rh};
    *coil = 1.0 + gsl_ran_gaussian(rng, 0.10);
    return rh > 0.0 && rh < 1.0;
}

static void plain_sample(gsl_rng *rng)
{
    static ct_case c;
    ct_outdoor o;
    ct_coil matched;
    ct_calibration k;
    ct_sweep_job job;
    double coil;

    c = inv.c;
    if (!plain_draw(rng, &c, &coil)) return;
    if (ct_setup_rate(&c, inv.refrigerant, &o, &matched, &k, NULL) != CT_OK) return;
    assert_int_equal(ct_sweep_prepare(&(ct_setup){NULL, &c, &o, &matched, 0}, &job, NULL), CT_OK);
    job.system.coil.Ao *= coil;
    job.system.coil.UAi_ref *= coil;
    for (int i = 0; i < TAPS; i++) {
        ct_point p;
        assert_int_equal(ct_sweep_tap(inv.solver, &job, i, &p, NULL), CT_OK);
        assert_int_equal(p.status, CT_OK);
        plain.carries[i] += p.balance.Q_sens_net >= c.house.Q_sensible * (1.0 + c.house.margin);
        plain.passes[i] += p.passes;
        plain.sensible[i][plain.possible] = p.balance.Q_sens_net;
        plain.suction[i][plain.possible] = p.balance.Te;
    }
    plain.possible++;
}

/* Within four standard errors of the plain count; ours is far better than that. */
static void same_share(const char *name, double got, int count, int n)
{
    double p = (double)count / n;

    check_is(name, n, >, 100);
    check_abs(name, got, p, 4.0 * sqrt(fmax(p * (1.0 - p), 1.0 / n) / n));
}

static void same_band(const char *name, const ct_band *got, double *v, int n)
{
    double spread = gsl_stats_sd(v, 1, (size_t)n);

    check_abs(name, got->mean, gsl_stats_mean(v, 1, (size_t)n), 4.0 * spread / sqrt(n));
    gsl_sort(v, 1, (size_t)n);
    /* Standard error of a normal's quantile: sd sqrt(p (1 - p)/n)/density; 2.1 sd/sqrt(n) at 5 %.
     */
    check_abs(name, got->q05, gsl_stats_quantile_from_sorted_data(v, 1, (size_t)n, 0.05),
              4.0 * 2.2 * spread / sqrt(n));
    check_abs(name, got->q95, gsl_stats_quantile_from_sorted_data(v, 1, (size_t)n, 0.95),
              4.0 * 2.2 * spread / sqrt(n));
    check_is("it spreads", got->q95 - got->q05, >, 2.0 * spread);
}

static void test_plain_monte_carlo(void **state)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    (void)state;
    invented_read(INVENTED_CASE);
    gsl_rng_set(rng, 20240607);
    memset(&plain, 0, sizeof plain);
    for (int i = 0; i < PLAIN; i++)
        plain_sample(rng);
    gsl_rng_free(rng);
    run(2047, 0, CT_SEQUENCE_SOBOL, &u);
    same_share("impossible", (double)u.impossible / u.samples, PLAIN - plain.possible, PLAIN);
    for (int i = 0; i < TAPS; i++) {
        const ct_uncertain_point *p = &u.tap[i];
        assert_int_equal(p->tap, i);
        same_share("carries", p->limit[CT_LIMIT_SENSIBLE], plain.carries[i], plain.possible);
        same_share("passes all", p->all, plain.passes[i], plain.possible);
        same_band("sensible", &p->band[CT_BAND_SENSIBLE], plain.sensible[i], plain.possible);
        same_band("suction", &p->band[CT_BAND_SUCTION], plain.suction[i], plain.possible);
    }
}

/* ---- Itself --------------------------------------------------------------------- */

static void same_bits(const char *name, double a, double b)
{
    check_that(name, memcmp(&a, &b, sizeof a) == 0);
}

static void same_points(const ct_uncertain_point *a, const ct_uncertain_point *b)
{
    for (int k = 0; k < CT_BAND_COUNT; k++) {
        same_bits("mean", a->band[k].mean, b->band[k].mean);
        same_bits("q05", a->band[k].q05, b->band[k].q05);
        same_bits("median", a->band[k].median, b->band[k].median);
        same_bits("q95", a->band[k].q95, b->band[k].q95);
    }
    for (int k = 0; k < CT_LIMIT_COUNT; k++)
        same_bits("limit", a->limit[k], b->limit[k]);
    same_bits("all", a->all, b->all);
    same_bits("picked", a->picked, b->picked);
}

static void test_threads_do_not_matter(void **state)
{
    static const int threads[] = {2, 3, 8};
    (void)state;
    invented_read(INVENTED_CASE);
    run(200, 1, CT_SEQUENCE_SOBOL, &u);
    for (size_t t = 0; t < sizeof threads / sizeof *threads; t++) {
        run(200, threads[t], CT_SEQUENCE_SOBOL, &other);
        assert_int_equal(other.impossible, u.impossible);
        assert_string_equal(other.why, u.why);
        for (int i = 0; i < u.n; i++)
            same_points(&u.point[i], &other.point[i]);
        for (int i = 0; i < u.n_taps; i++)
            same_points(&u.tap[i], &other.tap[i]);
    }
}

/* Two unrelated sequences come to the same: 0.02 is some four times what either is off by at 1000
 * draws in eight dimensions (errors near 1/sqrt(N) times a third). */
static void test_halton_agrees(void **state)
{
    (void)state;
    invented_read(INVENTED_CASE);
    run(1000, 0, CT_SEQUENCE_SOBOL, &u);
    run(1000, 0, CT_SEQUENCE_HALTON, &other);
    for (int i = 0; i < u.n_taps; i++) {
        check_abs("all", other.tap[i].all, u.tap[i].all, 0.02);
        check_rel("median", other.tap[i].band[CT_BAND_SENSIBLE].median,
                  u.tap[i].band[CT_BAND_SENSIBLE].median, 0.002);
    }
}

/* A duct so tight that the fan cannot move air in some draws: those count against the tap. */
static void test_unsettled_counts_as_failing(void **state)
{
    (void)state;
    invented_read(INVENTED_CASE);
    only(&inv.c.uncertainty.duct_static, 0.2);
    inv.c.duct.dp *= 4.2;
    inv.c.house.Q_sensible = 1000.0;
    invented_sweep();
    run(255, 0, CT_SEQUENCE_SOBOL, &u);
    check_is("some do not settle", u.unsettled, >, 0);
    check_is("some do not settle", u.unsettled, <, 255);
    for (int i = 0; i < u.n_taps; i++) {
        const ct_uncertain_point *p = &u.tap[i];
        check_abs("balance", p->limit[CT_LIMIT_BALANCE],
                  (double)p->band[CT_BAND_TOTAL].n / (u.samples - u.impossible), 1e-12);
        check_is("no other limit is passed more often", p->limit[CT_LIMIT_SENSIBLE], <=,
                 p->limit[CT_LIMIT_BALANCE]);
    }
}

/* ---- Faults
 * -------------------------------------------------------------------------------------- */

static void refuses(const char *name, int samples, ct_status want)
{
    const ct_setup setup = invented_setup();
    ct_uncertain_plan plan = {samples, 1, CT_SEQUENCE_SOBOL};
    ct_fault f = {.what = ""};

    check_is(name, ct_uncertain_run(&setup, &inv.sweep, &plan, &u, &f), ==, want);
    check_that(name, f.what[0] != '\0');
}

static void test_faults(void **state)
{
    (void)state;
    invented_read(INVENTED_CASE);
    refuses("none", 0, CT_RANGE);
    refuses("too many", CT_UNCERTAIN_SAMPLES_MAX + 1, CT_RANGE);
    inv.sweep.n = CT_MAX_SWEEP_POINTS;
    refuses("too many cells", 90000, CT_RANGE);
    inv.sweep.n = 6;
    inv.c.uncertainty.load = -0.1;
    refuses("negative", 10, CT_RANGE);
    inv.c.uncertainty.load = NAN;
    refuses("not a number", 10, CT_RANGE);
    inv.c.uncertainty.load = 0.1;
    inv.c.outdoor.EER = 90.0;
    refuses("impossible throughout", 10, CT_NO_ROOT);
}

/* Not asserted: the machine may be busy. */
static void test_pace(void **state)
{
    struct timespec a, b;
    (void)state;
    invented_read(INVENTED_CASE);
    clock_gettime(CLOCK_MONOTONIC, &a);
    run(1000, 0, CT_SEQUENCE_SOBOL, &u);
    clock_gettime(CLOCK_MONOTONIC, &b);
    printf("1000 draws of 6 airflows and 3 taps: %.3f s\n",
           (double)(b.tv_sec - a.tv_sec) + 1e-9 * (double)(b.tv_nsec - a.tv_nsec));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_keys),
        cmocka_unit_test(test_calibration_near),
        cmocka_unit_test(test_ratio_range_is_sharp),
        cmocka_unit_test(test_no_uncertainty_is_nominal),
        cmocka_unit_test(test_humidity_ceiling),
        cmocka_unit_test(test_without_taps),
        cmocka_unit_test(test_load_alone),
        cmocka_unit_test(test_quantiles),
        cmocka_unit_test(test_impossible_nameplates),
        cmocka_unit_test(test_plain_monte_carlo),
        cmocka_unit_test(test_threads_do_not_matter),
        cmocka_unit_test(test_halton_agrees),
        cmocka_unit_test(test_unsettled_counts_as_failing),
        cmocka_unit_test(test_faults),
        cmocka_unit_test(test_pace),
    };
    gsl_watch();
    return cmocka_run_group_tests(tests, NULL, invented_free);
}
