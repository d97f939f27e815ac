/* The steady stretch of a log: what settles, drifts, hunts or stops. Invented series. */
#include "check.h"

#include <stdlib.h>

#include "base/steady.h"

enum { MOST = 2000 };
static ct_steady_sample s[MOST];
static int n;
static ct_steady found;
static const double margins[] = {1.0, 0.5};

static void put(int series, double t, double v)
{
    s[n++] = (ct_steady_sample){series, t, v};
}

static void find(double least)
{
    check_that("memory",
               ct_steady_find(&(ct_steady_log){s, n, margins, 2}, least, &found, NULL) == CT_OK);
}

static ct_steady_mean average(int series, double from, double to)
{
    return ct_steady_average(&(ct_steady_log){s, n, margins, 2}, series, from, to);
}

/* It settles with a time constant of 100 s, then stays; nearly all drift is over after five of
 * them, and the stretch may begin where what is left drifts by one margin. */
static void test_settling(void **state)
{
    (void)state;
    n = 0;
    for (double t = 0; t <= 1800; t += 10) {
        put(0, t, 70.0 + 20.0 * exp(-t / 100.0));
        put(1, t, 105.0);
    }
    find(300.0);
    check_that("found", found.found);
    check_is("not at once", found.from, >, 100.0);
    check_is("soon", found.from, <, 600.0);
    check_abs("to the end", found.to, 1800.0, 1e-9);
    const ct_steady_mean m = average(0, found.from, found.to);
    check_abs("mean", m.mean, 70.0, 0.5);
}

/* Stopped at 1200 s: the end is left out. */
static void test_stopped(void **state)
{
    (void)state;
    n = 0;
    for (double t = 0; t <= 1800; t += 10)
        put(0, t, t < 1200 ? 70.0 : 70.0 + 0.2 * (t - 1200));
    find(300.0);
    check_that("found", found.found);
    check_is("before it stopped", found.to, <, 1300.0);
    check_is("from the start", found.from, <, 100.0);
}

/* Always drifting: 0.5 in 100 s is one margin, so 3 in the 300 s asked for, and it says whose. */
static void test_drifting(void **state)
{
    (void)state;
    n = 0;
    for (double t = 0; t <= 1800; t += 10) {
        put(0, t, 70.0);
        put(1, t, 100.0 - 0.005 * t);
    }
    find(300.0);
    check_that("not found", !found.found);
    check_is("whose", found.worst, ==, 1);
    check_abs("how far", found.drift, -1.5, 0.1);
}

/* Hunting about a middle is steady; its scatter is seen. A sine has a standard deviation of its
 * amplitude over the root of 2. */
static void test_hunting(void **state)
{
    (void)state;
    n = 0;
    for (double t = 0; t <= 1200; t += 5)
        put(0, t, 12.0 + 3.0 * sin(t / 15.0));
    find(300.0);
    check_that("found", found.found);
    const ct_steady_mean m = average(0, found.from, found.to);
    check_abs("mean", m.mean, 12.0, 0.3);
    check_abs("scatter", m.sd, 3.0 / sqrt(2.0), 0.1);
}

static void test_short(void **state)
{
    (void)state;
    n = 0;
    for (double t = 0; t <= 200; t += 10)
        put(0, t, 70.0);
    find(300.0);
    check_that("too short", !found.found && found.worst == -1);
    n = 0;
    put(0, 5.0, 70.0);
    find(300.0);
    check_that("one sample", !found.found);
}

/* Few values of one series do not keep the others from being steady; a gap in a long one does. */
static void test_gaps(void **state)
{
    (void)state;
    n = 0;
    for (double t = 0; t <= 1800; t += 10) {
        put(0, t, 70.0);
        if (t < 900) put(1, t, 100.0);
    }
    find(300.0);
    check_that("found", found.found);
    check_is("where both are", found.to, <, 1250.0);
    n = 0;
    for (double t = 0; t <= 1800; t += 10)
        put(0, t, 70.0);
    put(1, 20.0, 100.0);
    find(300.0);
    check_abs("all of it", found.to - found.from, 1800.0, 1e-9);
}

/* 1, 2, 3, 4: mean 2.5, standard deviation sqrt(5/3). */
static void test_average(void **state)
{
    (void)state;
    n = 0;
    for (int i = 1; i <= 4; i++)
        put(0, i, i);
    put(1, 2, 77);
    put(0, 9, 100);
    const ct_steady_mean m = average(0, 1, 4);
    check_is("n", m.n, ==, 4);
    check_rel("mean", m.mean, 2.5, 1e-15);
    check_rel("sd", m.sd, sqrt(5.0 / 3.0), 1e-15);
    check_is("none", average(0, 20, 30).n, ==, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_settling), cmocka_unit_test(test_stopped),
        cmocka_unit_test(test_drifting), cmocka_unit_test(test_hunting),
        cmocka_unit_test(test_short),    cmocka_unit_test(test_gaps),
        cmocka_unit_test(test_average),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
