/* Searches for a root: smooth, at the ends, and before a jump. */
#include "base/search.h"

#include "check.h"
#include "gsl_watch.h"

typedef struct {
    double jump; /* above it the function is -2 */
    int calls;
} step;

/* Falls from 3 at 0; its root would be at 3/5 were there no jump. Nowhere steeper than 8. */
static double falls(double x, void *context)
{
    step *s = context;
    s->calls++;
    return x > s->jump ? -2.0 : 3.0 - 4.0 * x - x * x * 5.0 / 3.0;
}

static const ct_root_job falling = {
    .start = 0.1, .step = 0.3, .slope = -4.0, .low = 0.0, .high = 1.0, .tol = 1e-12};

static ct_root_end run(double jump, double start, double steepest, step *s, ct_root_result *result)
{
    ct_root_job job = falling;
    job.start = start;
    job.steepest = steepest;
    *s = (step){.jump = jump};
    return ct_search_root(falls, s, &job, result);
}

/* 3 - 4 x - 5/3 x^2 = 0. */
static double root(void)
{
    return (-4.0 + sqrt(16.0 + 20.0)) / (10.0 / 3.0);
}

static void roots(void **state)
{
    static const double starts[] = {0.0, 0.1, 0.55, 1.0};
    step s;
    ct_root_result r;
    (void)state;
    for (size_t i = 0; i < sizeof starts / sizeof *starts; i++)
        for (int k = 0; k < 3; k++) {
            /* A jump beyond the root, near it or far, must not hide it; nor that its steepness is
             * known. */
            const double jump = k == 0 ? 2.0 : k == 1 ? 0.9 : root() + 1e-5;
            assert_int_equal(run(jump, starts[i], k == 0 ? 0.0 : 10.0, &s, &r), CT_ROOT_FOUND);
            check_abs("root", r.x, root(), 1e-11);
            check_is("evaluations as counted", r.evaluations, ==, s.calls);
        }
}

/* Before it the function is still 0.2 or more: known to be no steeper than 10, a bracket of a
 * fiftieth holds no root. Not known, the last digit is looked at. */
static void jumps(void **state)
{
    step s;
    ct_root_result r;
    (void)state;
    assert_int_equal(run(0.55, 0.1, 10.0, &s, &r), CT_ROOT_JUMP);
    check_is("the end nearer to zero", r.x, <=, 0.55);
    check_is("that end is close by", r.x, >, 0.55 - 0.03);
    const int told = s.calls;
    assert_int_equal(run(0.55, 0.1, 0.0, &s, &r), CT_ROOT_JUMP);
    check_abs("the jump", r.x, 0.55, 1e-12);
    print_message("a jump is told from a root in %d evaluations, by the last digit in %d\n", told,
                  s.calls);
    check_is("told early", told, <, 12);
    check_is("a third or less", 3 * told, <, s.calls);
}

static double above(double x, void *context)
{
    (void)context;
    return 1.0 + x;
}

static double unknown(double x, void *context)
{
    (void)x;
    (void)context;
    return NAN;
}

static void none(void **state)
{
    ct_root_result r;
    (void)state;
    assert_int_equal(ct_search_root(above, NULL, &falling, &r), CT_ROOT_NO_BRACKET);
    assert_int_equal(ct_search_root(unknown, NULL, &falling, &r), CT_ROOT_NO_BRACKET);
    check_is("asked once", r.evaluations, ==, 1);
}

static int watch(void **state)
{
    (void)state;
    gsl_watch();
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(roots), cmocka_unit_test(jumps),
                                       cmocka_unit_test(none)};
    return cmocka_run_group_tests(tests, watch, NULL);
}
