/* The hot paths allocate nothing: every malloc of this process is counted while balances, sweep
 * points and taps are solved. GSL's error handler must stay quiet throughout. */
#include "check.h"

#include <gsl/gsl_errno.h>
#include <stdlib.h>

#include "case/casefile.h"
#include "judge/sweep.h"
#include "plant.h"

/* Counted in front of glibc's own. The sanitizers bring their own malloc: there nothing is counted.
 */
#if defined __GLIBC__ && !defined __SANITIZE_ADDRESS__
#define COUNTED 1
static size_t allocations;
void *__libc_malloc(size_t);
void *__libc_calloc(size_t, size_t);
void *__libc_realloc(void *, size_t);

void *malloc(size_t size)
{
    allocations++;
    return __libc_malloc(size);
}

void *calloc(size_t n, size_t size)
{
    allocations++;
    return __libc_calloc(n, size);
}

void *realloc(void *old, size_t size)
{
    allocations++;
    return __libc_realloc(old, size);
}
#else
#define COUNTED 0
static size_t allocations;
#endif

static int handler_calls;
static void handler(const char *reason, const char *file, int line, int code)
{
    (void)reason, (void)file, (void)line, (void)code;
    handler_calls++;
}

static void the_counter_counts(void **state)
{
    (void)state;
    size_t before = allocations;
    void *volatile block = malloc(10);
    free(block);
    assert_int_equal(allocations - before, COUNTED);
}

static void balances(void **state)
{
    static const char *const names[] = {"R-22", "R-410A", "R-407C", "R-32", "R-454B"};
    (void)state;
    for (int k = 0; k < 5; k++) {
        plant p;
        ct_solver *solver;
        ct_balance b;
        ct_start start = {0};
        assert_int_equal(ct_solver_make(&solver, NULL), CT_OK);
        plant_make(&p, names[k], 3);
        ct_system piston = p.sys;
        piston.meter = (ct_meter){.kind = CT_METER_ORIFICE, .orifice = {1.85e-3, 12.7e-3}};
        size_t before = allocations;
        for (double T = 75; T < 126; T += 5) {
            ct_conditions at = p.rating;
            at.T_out = K_(T);
            assert_int_equal(
                ct_balance_solve(solver, &p.sys, &at, T > 75 ? &start : NULL, &b, NULL), CT_OK);
            start = ct_balance_start(&b);
            /* Whether a piston balances or not: the way to the answer allocates nothing either. */
            (void)ct_balance_solve(solver, &piston, &at, NULL, &b, NULL);
        }
        assert_int_equal(allocations - before, 0);
        plant_free(&p);
        ct_solver_free(solver);
    }
    assert_int_equal(handler_calls, 0);
}

static void sweep_points_and_taps(void **state)
{
    static ct_case c;
    static ct_case_report report;
    static ct_sweep_job job;
    ct_refrigerant *r;
    ct_outdoor outdoor;
    ct_coil matched;
    ct_calibration cal;
    ct_solver *solver;
    ct_point point;
    (void)state;
    assert_int_equal(
        ct_casefile_load(SOURCE_DIR "/examples/r22-larger-coil.yaml", &c, &report, NULL), CT_OK);
    assert_int_equal(ct_refrigerant_make(c.outdoor.refrigerant, &r, NULL), CT_OK);
    assert_int_equal(ct_solver_make(&solver, NULL), CT_OK);
    assert_int_equal(ct_setup_rate(&c, r, &outdoor, &matched, &cal, NULL), CT_OK);
    assert_int_equal(ct_sweep_prepare(&(ct_setup){NULL, &c, &outdoor, &matched, 0}, &job, NULL),
                     CT_OK);
    size_t before = allocations;
    for (int i = 0; i < c.indoor[0].blower.n_taps; i++) {
        assert_int_equal(ct_sweep_tap(solver, &job, i, &point, NULL), CT_OK);
        ct_sweep_humidity(solver, &job, &point);
        check_that("humidity", point.has_room);
    }
    for (int i = 0; i <= 10; i++)
        assert_int_equal(
            ct_sweep_airflow(solver, &job, (250 + 25 * i) * CT_M3S_PER_CFM, &point, NULL), CT_OK);
    assert_int_equal(allocations - before, 0);
    assert_int_equal(handler_calls, 0);
    ct_solver_free(solver);
    ct_refrigerant_free(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_counter_counts),
                                       cmocka_unit_test(balances),
                                       cmocka_unit_test(sweep_points_and_taps)};
    gsl_set_error_handler(handler);
    return cmocka_run_group_tests(tests, NULL, NULL);
}
