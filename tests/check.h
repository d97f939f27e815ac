/* Test helpers. cmocka 1.1.5 compares doubles as float, so a near-miss of 1e-8 passes there; these
 * compare as double, and a NaN always fails. */
#ifndef CHECK_H
#define CHECK_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

/* |got - want| <= tol, absolute. `label` names the row so that a failure tells which. */
static inline void check_abs_at(const char *label, double got, double want, double tol,
                                const char *file, int line)
{
    if (!(fabs(got - want) <= tol)) {
        print_error("%s:%d: %s: got %.12g, want %.12g within %.3g (off by %.3g)\n", file, line,
                    label, got, want, tol, got - want);
        _fail(file, line);
    }
}

/* Values not read by every test that includes this header. */
static inline void check_rel_at(const char *label, double got, double want, double tol,
                                const char *file, int line)
{
    if (!(fabs(got - want) <= tol * fabs(want))) {
        print_error("%s:%d: %s: got %.12g, want %.12g within %.3g relative (off by %.3g)\n", file,
                    line, label, got, want, tol, (got - want) / want);
        _fail(file, line);
    }
}

static inline void check_true_at(const char *label, int condition, const char *file, int line)
{
    if (!condition) {
        print_error("%s:%d: %s: not so\n", file, line, label);
        _fail(file, line);
    }
}

#define check_abs(label, got, want, tol) check_abs_at(label, got, want, tol, __FILE__, __LINE__)
#define check_rel(label, got, want, tol) check_rel_at(label, got, want, tol, __FILE__, __LINE__)
#define check_that(label, condition) check_true_at(label, (condition) ? 1 : 0, __FILE__, __LINE__)

#endif
