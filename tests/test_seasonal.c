/* Seasonal arithmetic. AHRI 210/240 single speed, from memory, unconfirmed; rows worked by hand. */
#include <string.h>

#include "base/units.h"
#include "check.h"
#include "plant/seasonal.h"

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

/* A single-speed unit through the bins. Source: 10 CFR 430 subpart B appendix M, section 4.1,
 * worked outside this program: A 36 000 Btu/h 3000 W, B 39 000 Btu/h 2700 W. */
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

/* Two capacities. The first four rows are the rating calculator of a trade association, as its
 * inputs and answers are published in a public test fixture (its degradation of 0.24 is capped at
 * 0.20; uncapped and locked out worked outside this program); the others are the same formula on a
 * realistic 3 ton unit, worked outside this program. 10 CFR 430 subpart B appendix M, two-capacity
 * units. */
static void two_capacities(void **state)
{
    static const struct {
        const char *name;
        double A2[2], B2[2], B1[2], F1[2]; /* Btu/h, W */
        double CD_low, CD_high, lockout_F, SEER;
    } row[] = {{"published",
                {48000, 4300},
                {52000, 3900},
                {30000, 2200},
                {34000, 2500},
                0.20,
                0.18,
                999,
                12.454035205677503},
               {"uncapped",
                {48000, 4300},
                {52000, 3900},
                {30000, 2200},
                {34000, 2500},
                0.24,
                0.18,
                999,
                12.297679},
               {"locked out from 87 F",
                {48000, 4300},
                {52000, 3900},
                {30000, 2200},
                {34000, 2500},
                0.20,
                0.18,
                87,
                12.000520},
               {"3 ton",
                {36000, 2900},
                {38400, 2480},
                {27800, 1560},
                {30100, 1330},
                0.20,
                0.20,
                999,
                16.162648},
               {"3 ton, no loss",
                {36000, 2900},
                {38400, 2480},
                {27800, 1560},
                {30100, 1330},
                0,
                0,
                999,
                17.309853},
               {"3 ton, old default",
                {36000, 2900},
                {38400, 2480},
                {27800, 1560},
                {30100, 1330},
                0.25,
                0.25,
                999,
                15.856363}};
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        const ct_two_capacity u = {{row[i].A2[0] * CT_W_PER_BTUH, row[i].A2[1]},
                                   {row[i].B2[0] * CT_W_PER_BTUH, row[i].B2[1]},
                                   {row[i].B1[0] * CT_W_PER_BTUH, row[i].B1[1]},
                                   {row[i].F1[0] * CT_W_PER_BTUH, row[i].F1[1]},
                                   row[i].CD_low,
                                   row[i].CD_high,
                                   (row[i].lockout_F + CT_ZERO_F) / CT_F_PER_K};
        double SEER;
        assert_int_equal(ct_seasonal_seer_two(&u, &SEER, NULL), CT_OK);
        /* The digits printed: all of a double in the first, six after the point in the others. */
        check_abs(row[i].name, SEER / CT_W_PER_BTUH, row[i].SEER, i == 0 ? 1e-11 : 6e-7);
    }
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
                                       cmocka_unit_test(refuses), cmocka_unit_test(bins),
                                       cmocka_unit_test(two_capacities)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
