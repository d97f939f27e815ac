/* Tune: synthetic truth found again within its stated uncertainty, impossible sets, contradictions,
 * few readings, the optimum itself, faults. Equipment and readings are invented. */
#include "check.h"

#include "tune.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

#include "sweep.h"
#include "units.h"

#define COUNT(a) (sizeof(a) / sizeof(a)[0])

static struct {
    ct_case c;
    ct_refrigerant *refrigerant;
    ct_outdoor outdoor;
    ct_coil matched;
    ct_solver *solver;
    int tap;
} the;

static void no_handler(const char *reason, const char *file, int line, int code)
{
    print_error("GSL's error handler was called: %s (%s:%d, %d)\n", reason, file, line, code);
    fail();
}

static int set_up(void **state)
{
    (void)state;
    static ct_case_report report;
    ct_fault fault = {.what = ""};
    ct_calibration cal;
    gsl_set_error_handler(no_handler);
    if (ct_casefile_load(SOURCE_DIR "/examples/r22-larger-coil.yaml", &the.c, &report, &fault) !=
            CT_OK ||
        ct_refrigerant_make(the.c.outdoor.refrigerant, &the.refrigerant, &fault) != CT_OK ||
        ct_system_calibrate(&the.c, the.refrigerant, &the.outdoor, &the.matched, &cal, &fault) !=
            CT_OK ||
        ct_solver_make(&the.solver, &fault) != CT_OK) {
        print_error("%s\n", fault.what);
        return 1;
    }
    the.tap = 1; /* medium low */
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    ct_solver_free(the.solver);
    ct_refrigerant_free(the.refrigerant);
    return 0;
}

/* ---- A true system, seen through instruments ------------------------------------------------- */

typedef struct {
    double x[CT_TUNE_COUNT]; /* multipliers as they are, conditions in SI */
} truth;

static truth nominal_truth(void)
{
    truth t = {{1, 1, 1, 1, 1}};
    t.x[CT_TUNE_RETURN_T] = ct_K_from_F(76);
    t.x[CT_TUNE_RETURN_MOISTURE] = ct_K_from_F(64);
    t.x[CT_TUNE_OUTDOOR_T] = ct_K_from_F(93);
    t.x[CT_TUNE_SUBCOOLING] = the.outdoor.condenser.subcooling;
    t.x[CT_TUNE_SUPERHEAT] = the.c.indoor[0].meter.superheat;
    return t;
}

/* What a perfect instrument would show, by way of the sweep (not of tune's own prediction). False:
 * this system does not settle. */
static bool show_truth(const truth *t, ct_readings *s)
{
    static ct_case c;
    ct_sweep_job job;
    ct_outdoor outdoor = the.outdoor;
    ct_point p;
    c = the.c;
    c.tuning = (ct_tuning){.coil_conductance = {true, t->x[CT_TUNE_COIL]},
                           .compressor_flow = {true, t->x[CT_TUNE_FLOW]},
                           .compressor_power = {true, t->x[CT_TUNE_POWER]},
                           .condenser_conductance = {true, t->x[CT_TUNE_CONDENSER]},
                           .airflow = {true, t->x[CT_TUNE_AIRFLOW]}};
    c.indoor[0].meter.superheat = t->x[CT_TUNE_SUPERHEAT];
    outdoor.condenser.subcooling = t->x[CT_TUNE_SUBCOOLING];
    if (ct_sweep_prepare(&c, &outdoor, &the.matched, 0, &job, NULL) != CT_OK) return false;
    job.T_out = t->x[CT_TUNE_OUTDOOR_T];
    if (ct_air_from_wet_bulb(t->x[CT_TUNE_RETURN_T], t->x[CT_TUNE_RETURN_MOISTURE], job.indoor.p,
                             &job.indoor, NULL) != CT_OK ||
        ct_sweep_tap(the.solver, &job, the.tap, &p, NULL) != CT_OK || p.status != CT_OK)
        return false;
    *s = (ct_readings){0};
    double *v[CT_READING_COUNT];
    for (int i = 0; i < CT_READING_COUNT; i++)
        v[i] = &s->r[i].v;
    const ct_balance *b = &p.balance;
    *v[CT_RETURN_DRY_BULB] = job.indoor.T;
    *v[CT_RETURN_WET_BULB] = t->x[CT_TUNE_RETURN_MOISTURE];
    *v[CT_OUTDOOR_DRY_BULB] = job.T_out;
    *v[CT_SUPPLY_DRY_BULB] = b->supply.T;
    if (ct_air_wet_bulb(&b->supply, v[CT_SUPPLY_WET_BULB], NULL) != CT_OK) return false;
    *v[CT_SUCTION_PRESSURE] = b->p_suction - job.indoor.p;
    *v[CT_SUCTION_TEMPERATURE] = b->T_suction;
    *v[CT_LIQUID_PRESSURE] = b->p_discharge - job.indoor.p;
    *v[CT_LIQUID_TEMPERATURE] = b->T_bubble - b->subcooling;
    *v[CT_AIRFLOW] = p.V;
    *v[CT_COMPRESSOR_POWER] = b->W;
    strcpy(s->tap, the.c.indoor[0].blower.tap[the.tap].name);
    for (int i = 0; i < CT_READING_COUNT; i++) {
        if (s->r[i].v == 0.0) continue;
        s->r[i].has = true;
        s->r[i].u = ct_reading_margin((ct_reading_kind)i, s->r[i].v);
    }
    return true;
}

static truth draw(gsl_rng *rng)
{
    static const double sigma[CT_TUNE_MULTIPLIERS] = {
        CT_TUNE_SIGMA_COIL, CT_TUNE_SIGMA_FLOW, CT_TUNE_SIGMA_POWER, CT_TUNE_SIGMA_CONDENSER,
        CT_TUNE_SIGMA_AIRFLOW};
    truth t = nominal_truth();
    for (int i = 0; i < CT_TUNE_MULTIPLIERS; i++)
        t.x[i] = exp(gsl_ran_gaussian(rng, sigma[i]));
    t.x[CT_TUNE_RETURN_T] += gsl_ran_gaussian(rng, 1.5);
    t.x[CT_TUNE_RETURN_MOISTURE] += gsl_ran_gaussian(rng, 1.0);
    t.x[CT_TUNE_OUTDOOR_T] += gsl_ran_gaussian(rng, 3.0);
    t.x[CT_TUNE_SUBCOOLING] += gsl_ran_gaussian(rng, 1.0);
    t.x[CT_TUNE_SUPERHEAT] += gsl_ran_gaussian(rng, 1.0);
    return t;
}

static void add_noise(gsl_rng *rng, ct_readings *s)
{
    for (int i = 0; i < CT_READING_COUNT; i++)
        if (s->r[i].has) s->r[i].v += gsl_ran_gaussian(rng, s->r[i].u);
}

static ct_status tune(const ct_readings *s, ct_tune *t, ct_fault *fault)
{
    return ct_tune_run(the.solver, &the.c, &the.outdoor, &the.matched, s, t, fault);
}

/* ---- Coverage --------------------------------------------------------------------------------- */

enum { SEEDS = 500 };

typedef struct {
    int tried, inside68[CT_TUNE_COUNT], inside95[CT_TUNE_COUNT], impossible, misfit, failed;
    double z_sum[CT_TUNE_COUNT], seconds, gradient, narrowed[CT_TUNE_COUNT], p_sum;
} tally;

static void count(tally *n, const truth *t, const ct_tune *fit)
{
    for (int i = 0; i < CT_TUNE_COUNT; i++) {
        const ct_tune_value *v = &fit->value[i];
        double off = i < CT_TUNE_MULTIPLIERS ? log(t->x[i] / v->value) : t->x[i] - v->value;
        n->inside68[i] += fabs(off) <= v->u;
        n->inside95[i] += t->x[i] >= v->low && t->x[i] <= v->high;
        n->narrowed[i] += v->narrowed;
    }
    n->misfit += !fit->fits;
    n->p_sum += fit->p;
    n->gradient = fmax(n->gradient, fit->gradient);
}

static void run_seeds(tally *n)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    *n = (tally){0};
    for (int seed = 1; n->tried < SEEDS; seed++) {
        ct_readings s;
        ct_tune fit;
        ct_fault fault;
        gsl_rng_set(rng, (unsigned long)seed);
        truth t = draw(rng);
        if (!show_truth(&t, &s)) continue;
        add_noise(rng, &s);
        n->tried++;
        clock_t begin = clock();
        ct_status status = tune(&s, &fit, &fault);
        n->seconds += (double)(clock() - begin) / CLOCKS_PER_SEC;
        if (status != CT_OK) {
            print_error("seed %d: %s\n", seed, fault.what);
            n->failed++;
        } else if (!fit.fitted) {
            n->impossible++;
        } else {
            count(n, &t, &fit);
        }
    }
    gsl_rng_free(rng);
}

/* Truth drawn from the priors, readings with instrument noise: stated intervals must hold the truth
 * as often as they say. The count is binomial; three of its standard deviations are allowed. */
static void test_coverage(void **state)
{
    (void)state;
    tally n;
    run_seeds(&n);
    int fitted = n.tried - n.impossible - n.failed;
    print_message("%d seeds, %d called impossible, %d failed, %d misfit, mean p %.3f, largest slope %.2g, "
                  "%.1f ms each\n",
                  n.tried, n.impossible, n.failed, n.misfit, n.p_sum / fitted, n.gradient, 1e3 * n.seconds / n.tried);
    for (int i = 0; i < CT_TUNE_COUNT; i++)
        print_message("%-24s 68 %%: %.1f   95 %%: %.1f   narrowed by %.0f %%\n",
                      ct_tune_name((ct_tune_unknown)i), 100.0 * n.inside68[i] / fitted,
                      100.0 * n.inside95[i] / fitted, 100.0 * n.narrowed[i] / fitted);
    assert_int_equal(n.failed, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_coverage)};
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
