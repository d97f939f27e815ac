/* Seasonal arithmetic. AHRI 210/240 single speed, from memory, unconfirmed; rows worked by hand. */
#include <string.h>

#include "base/units.h"
#include "check.h"
#include "study/seasonal.h"

static void seer(void **state)
{
    static const struct {
        const char *name;
        double btuh, watts, CD, EER, SEER; /* Btu/h, W, -, Btu/Wh, Btu/Wh */
    } row[] = {
        {"38 kBtu/h, 3.04 kW, old default", 38000, 3040, 0.25, 12.5, 10.9375},
        {"38 kBtu/h, 3.04 kW, new default", 38000, 3040, 0.20, 12.5, 11.25},
        {"tested CD", 36000, 2400, 0.10, 15, 14.25},
        {"no cycling loss", 24000, 2000, 0, 12, 12},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        ct_rating_test t = {row[i].btuh * CT_W_PER_BTUH, row[i].watts};
        double e, s, back;
        assert_int_equal(ct_seasonal_eer(&t, &e, NULL), CT_OK);
        assert_int_equal(ct_seasonal_seer(&t, row[i].CD, &s, NULL), CT_OK);
        assert_int_equal(ct_seasonal_eer_b(s, row[i].CD, &back, NULL), CT_OK);
        check_rel(row[i].name, e / CT_W_PER_BTUH, row[i].EER, 1e-12);
        check_rel(row[i].name, s / CT_W_PER_BTUH, row[i].SEER, 1e-12);
        check_rel(row[i].name, back, e, 1e-14);
    }
}

/* A single-speed unit through the bins. Source: 10 CFR 430 subpart B appendix M, section 4.1, worked
 * outside this program: A 36 000 Btu/h 3000 W, B 39 000 Btu/h 2700 W. */
static void bins(void **state)
{
    static const struct {
        double CD, SEER; /* -, Btu/Wh */
    } row[] = {{0.25, 12.5498}, {0.20, 12.9203}, {0.10, 13.6451}};
    const ct_rating_test A = {36000 * CT_W_PER_BTUH, 3000}, B = {39000 * CT_W_PER_BTUH, 2700};
    double share = 0;
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        double sum, line;
        assert_int_equal(ct_seasonal_seer_bins(&A, &B, row[i].CD, &sum, NULL), CT_OK);
        assert_int_equal(ct_seasonal_seer(&B, row[i].CD, &line, NULL), CT_OK);
        check_abs("published bins", sum / CT_W_PER_BTUH, row[i].SEER, 0.00006); /* digits printed */
        check_rel("one line", line, sum, 0.01);
    }
    for (int i = 0; i < CT_SEASONAL_BINS; i++)
        share += ct_seasonal_bins()[i].share;
    check_abs("all hours", share, 1, 1e-12);
    const ct_rating_test none = {0, 3000};
    assert_int_equal(ct_seasonal_seer_bins(&none, &B, 0.2, &share, NULL), CT_INPUT);
    assert_int_equal(ct_seasonal_seer_bins(&A, &B, 0.7, &share, NULL), CT_INPUT);
}

/* A cycle that runs 20 % of its load at 15 % less efficiency: CD = 0.15/0.8. And the part-load
 * factor it replaces must give the SEER formula back at half load. */
static void degradation(void **state)
{
    (void)state;
    double cd, s;
    assert_int_equal(ct_seasonal_cd(4.0, 3.4, 0.2, &cd, NULL), CT_OK);
    check_rel("by hand", cd, 0.1875, 1e-12);
    ct_rating_test B = {4.0 * 2500, 2500};
    assert_int_equal(ct_seasonal_seer(&B, cd, &s, NULL), CT_OK);
    check_rel("half load", s, 4.0 * (1 - 0.1875 * (1 - 0.5)), 1e-14);
}

static void refuses(void **state)
{
    static const struct {
        const char *name;
        double Q, P, CD;
        const char *word;
    } row[] = {
        {"no capacity", 0, 3000, 0.25, "capacity"},
        {"NaN", NAN, 3000, 0.25, "capacity"},
        {"no input", 1e4, 0, 0.25, "input"},
        {"endless", 1e4, INFINITY, 0.25, "input"},
        {"Btu/h taken for W", 36e3 * 3.4, 3000, 0.25, "units"},
        {"CD in percent", 1e4, 3000, 25, "degradation"},
        {"negative CD", 1e4, 3000, -0.1, "degradation"},
        {"CD NaN", 1e4, 3000, NAN, "degradation"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        ct_rating_test t = {row[i].Q, row[i].P};
        ct_fault fault = {0};
        double s = -1;
        check_is(row[i].name, ct_seasonal_seer(&t, row[i].CD, &s, &fault), ==, CT_INPUT);
        check_has(row[i].name, fault.what, row[i].word);
        check_abs(row[i].name, s, -1, 0);
    }
    double v = -1;
    assert_int_equal(ct_seasonal_eer_b(-3, 0.25, &v, NULL), CT_INPUT);
    assert_int_equal(ct_seasonal_eer_b(NAN, 0.25, &v, NULL), CT_INPUT);
    assert_int_equal(ct_seasonal_cd(4, 4.2, 0.2, &v, NULL), CT_INPUT); /* better when cycling */
    assert_int_equal(ct_seasonal_cd(4, 3.8, 1, &v, NULL), CT_INPUT);
    check_abs("untouched", v, -1, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(seer), cmocka_unit_test(degradation),
                                       cmocka_unit_test(refuses), cmocka_unit_test(bins)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
