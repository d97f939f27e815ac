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
#include <string.h>

/* |got - want| <= tol, absolute. `label` names the row so that a failure says which. */
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

/* What should hold, and does not, in the test's own words. */
static inline void check_true_at(const char *label, int condition, const char *text,
                                 const char *file, int line)
{
    if (!condition) {
        print_error("%s:%d: %s: not so: %s\n", file, line, label, text);
        _fail(file, line);
    }
}

/* The two sides of a comparison. */
typedef struct {
    double left;
    const char *text; /* as the test has it */
    double right;
} check_sides;

static inline void check_sides_at(const char *label, int holds, check_sides s, const char *file,
                                  int line)
{
    if (!holds) {
        print_error("%s:%d: %s: not so: %s (%.12g and %.12g)\n", file, line, label, s.text, s.left,
                    s.right);
        _fail(file, line);
    }
}

static inline void check_same_text_at(const char *label, const char *got, const char *want,
                                      const char *file, int line)
{
    if (!got || !want || strcmp(got, want) != 0) {
        print_error("%s:%d: %s: got '%s', want '%s'\n", file, line, label, got ? got : "(nothing)",
                    want ? want : "(nothing)");
        _fail(file, line);
    }
}

/* Whether `text` has `part` in it, or has not. */
static inline void check_part_at(const char *label, const char *text, const char *part, int there,
                                 const char *file, int line)
{
    if (!text || !part || (strstr(text, part) != NULL) != there) {
        print_error("%s:%d: %s: '%s' is %s in: %.2000s\n", file, line, label,
                    part ? part : "(nothing)", there ? "not" : "wrongly",
                    text ? text : "(nothing)");
        _fail(file, line);
    }
}

#define check_abs(label, got, want, tol) check_abs_at(label, got, want, tol, __FILE__, __LINE__)
#define check_rel(label, got, want, tol) check_rel_at(label, got, want, tol, __FILE__, __LINE__)
#define check_that(label, condition)                                                               \
    check_true_at(label, (condition) ? 1 : 0, #condition, __FILE__, __LINE__)
/* Texts; they print both. */
#define check_same_text(label, got, want) check_same_text_at(label, got, want, __FILE__, __LINE__)
#define check_has(label, text, part) check_part_at(label, text, part, 1, __FILE__, __LINE__)
#define check_lacks(label, text, part) check_part_at(label, text, part, 0, __FILE__, __LINE__)
/* Two numbers and what must hold between them, `check_is("cools", out.T, <, in.T)`: prints both. */
#define check_is(label, left, relation, right)                                                     \
    do {                                                                                           \
        const double check_left_ = (double)(left), check_right_ = (double)(right);                 \
        check_sides_at(label, check_left_ relation check_right_,                                   \
                       (check_sides){check_left_, #left " " #relation " " #right, check_right_},   \
                       __FILE__, __LINE__);                                                        \
    } while (0)

#endif
