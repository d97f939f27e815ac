/* From the rated sensible heat ratio to the matched coil: a ratio no coil can have fails with the
 * range that is possible, and that range is true. */
#include <stdio.h>

#include "base/units.h"
#include "check.h"
#include "plant.h"

typedef void (*spoil)(ct_case *);
static void shr_low(ct_case *c)
{
    c->outdoor.SHR_rated = 0.45;
}
static void shr_high(ct_case *c)
{
    c->outdoor.SHR_rated = 0.97;
}
static void shr_nan(ct_case *c)
{
    c->outdoor.SHR_rated = NAN;
}
static void suction_warm(ct_case *c)
{
    c->outdoor.T_suction_rated = K_(66);
}
static void no_air(ct_case *c)
{
    c->outdoor.V_rated_std = 0;
}
static void little_air(ct_case *c)
{
    c->outdoor.V_rated_std = 200 * CT_M3S_PER_CFM;
}
static void superheat_huge(ct_case *c)
{
    c->outdoor.superheat_rated = 25;
}

static void contradictions(void **state)
{
    static const struct {
        const char *name;
        spoil spoil;
        ct_status want;
        const char *word;
    } row[] = {
        {"SHR too low", shr_low, CT_INPUT, "45 F saturated suction: possible"},
        {"SHR too high", shr_high, CT_INPUT, "possible"},
        {"SHR NaN", shr_nan, CT_INPUT, "sensible heat ratio"},
        {"suction above what the coil can do", suction_warm, CT_INPUT, "no coil"},
        {"no air", no_air, CT_INPUT, ""},
        {"far too little air", little_air, CT_INPUT, "no coil"},
        {"superheat warmer than the air", superheat_huge, CT_INPUT, "no coil"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        plant p = {.r = NULL};
        ct_fault fault = {0};
        plant_case(&p.c, "R-410A", 3);
        row[i].spoil(&p.c);
        p.outdoor.tons = -7;
        p.matched.Ao = -7;
        ct_status s = plant_calibrate(&p, &fault);
        if (s == CT_OK || !strstr(fault.what, row[i].word))
            print_error("%s: %d '%s'\n", row[i].name, (int)s, fault.what);
        check_that(row[i].name, s == CT_INPUT || s == CT_RANGE);
        if (row[i].spoil != no_air) check_is(row[i].name, s, ==, row[i].want);
        check_has(row[i].name, fault.what, row[i].word);
        check_abs("outdoor unit untouched", p.outdoor.tons, -7, 0);
        check_abs("coil untouched", p.matched.Ao, -7, 0);
        if (row[i].spoil == shr_low || row[i].spoil == shr_high) {
            check_is("the possible range", fault.low, >, 0.4);
            check_is("the possible range", fault.high, <, 1);
            check_is("the possible range", fault.low, <, fault.high);
            check_that("and it leaves the value out",
                       row[i].spoil == shr_low ? fault.low > 0.45 : fault.high < 0.97);
        }
        plant_free(&p);
    }
}

/* A ratio just inside the possible range is taken. */
static void possible_range_is_true(void **state)
{
    plant p;
    ct_fault fault;
    (void)state;
    plant_make(&p, "R-410A", 3);
    double low = p.cal.SHR_min, high = p.cal.SHR_max;
    plant_free(&p);
    for (int k = 0; k < 2; k++) {
        plant_case(&p.c, "R-410A", 3);
        p.c.outdoor.SHR_rated = k ? high - 0.001 : low + 0.001;
        assert_int_equal(plant_calibrate(&p, &fault), CT_OK);
        plant_free(&p);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(contradictions),
                                       cmocka_unit_test(possible_range_is_true)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
