/* Eight threads balance at the same time, each in a solver of its own, on shared equipment and
 * refrigerant: all come to what one thread comes to, to the last bit. Under the thread sanitizer
 * (.ci/deep threads) it also shows that nothing shared is written. */
#include "check.h"

#include <pthread.h>
#include <string.h>

#include "case/casefile.h"
#include "example_case.h"
#include "judge/pick.h"
#include "study/uncertain.h"

enum { THREADS = 8, ROUNDS = 3 };

typedef struct {
    const ct_sweep_job *job;
    ct_sweep *sweep;
    ct_status status;
    bool same;
} worker;

static ct_status sweep_once(const ct_sweep_job *job, ct_sweep *sweep)
{
    ct_solver *solver;
    ct_fault fault;
    ct_status status = ct_solver_make(&solver, &fault);
    if (status != CT_OK) return status;
    status = ct_sweep_run(solver, job, sweep, &fault);
    ct_solver_free(solver);
    return status;
}

static bool same_point(const ct_point *a, const ct_point *b)
{
    const double *x[] = {&a->V_std, &a->balance.Te, &a->balance.Q_net, &a->balance.T_surface};
    const double *y[] = {&b->V_std, &b->balance.Te, &b->balance.Q_net, &b->balance.T_surface};
    if (a->status != b->status || a->passes != b->passes) return false;
    for (size_t i = 0; i < sizeof x / sizeof x[0]; i++)
        if (memcmp(x[i], y[i], sizeof(double)) != 0) return false;
    return true;
}

static bool same_sweep(const ct_sweep *a, const ct_sweep *b)
{
    bool same = a->n == b->n && a->n_taps == b->n_taps;
    for (int i = 0; same && i < a->n; i++)
        same = same_point(&a->point[i], &b->point[i]);
    for (int i = 0; same && i < a->n_taps; i++)
        same = same_point(&a->tap[i], &b->tap[i]);
    return same;
}

static void *work(void *context)
{
    worker *w = context;
    ct_sweep *again = calloc(1, sizeof *again);
    w->same = true;
    w->status = again ? CT_OK : CT_SYSTEM;
    for (int i = 0; i < ROUNDS && w->status == CT_OK; i++) {
        w->status = sweep_once(w->job, again);
        w->same = w->same && same_sweep(w->sweep, again);
    }
    free(again);
    return NULL;
}

static void balance_together(const char *name)
{
    example *e = example_open(name);
    const ct_sweep_job job = example_job(e, 0);
    ct_sweep *alone = calloc(1, sizeof *alone);
    pthread_t thread[THREADS];
    worker w[THREADS];
    check_that("memory", alone != NULL);
    check_is(name, sweep_once(&job, alone), ==, CT_OK);
    check_is("airflows", alone->n, >, 2);
    for (int i = 0; i < THREADS; i++) {
        w[i] = (worker){.job = &job, .sweep = alone};
        check_is("a thread", pthread_create(&thread[i], NULL, work, &w[i]), ==, 0);
    }
    for (int i = 0; i < THREADS; i++) {
        check_is("joined", pthread_join(thread[i], NULL), ==, 0);
        check_is(name, w[i].status, ==, CT_OK);
        check_that("the same to the last bit", w[i].same);
    }
    free(alone);
    example_close(e);
}

static void test_balances(void **state)
{
    (void)state;
    balance_together("r22-larger-coil");
    balance_together("r410a-humid");
}

static ct_uncertain *draw_cases(const example *e, const ct_sweep *nominal, int threads)
{
    const ct_setup setup = example_setup(e, 0);
    const ct_uncertain_plan plan = {.samples = 48, .threads = threads};
    ct_fault fault = {.what = ""};
    ct_uncertain *u = calloc(1, sizeof *u);
    check_that("memory", u != NULL);
    const ct_status status = ct_uncertain_run(&setup, nominal, &plan, u, &fault);
    check_is(fault.what, status, ==, CT_OK);
    return u;
}

/* The library's own threads. */
static void test_draws(void **state)
{
    (void)state;
    example *e = example_open("r22-larger-coil");
    const ct_sweep_job job = example_job(e, 0);
    ct_sweep *nominal = calloc(1, sizeof *nominal);
    check_that("memory", nominal != NULL);
    check_is("the sweep", sweep_once(&job, nominal), ==, CT_OK);
    ct_uncertain *one = draw_cases(e, nominal, 1), *eight = draw_cases(e, nominal, THREADS);
    check_is("impossible", one->impossible, ==, eight->impossible);
    check_is("taps", one->n_taps, ==, eight->n_taps);
    check_is("taps", one->n_taps, >, 0);
    for (int i = 0; i < one->n_taps; i++)
        check_abs("picked", eight->tap[i].picked, one->tap[i].picked, 0.0);
    free(nominal);
    free(one);
    free(eight);
    example_close(e);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_balances),
                                       cmocka_unit_test(test_draws)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
