/* The catalog of refrigerants: spellings, and the facts beside the equations of state. */
#include <string.h>

#include "base/units.h"
#include "check.h"
#include "fluid/catalog.h"
#include "fluid/refrigerant.h"

#define COUNT(a) (sizeof(a) / sizeof(a)[0])

static void test_spelling(void **state)
{
    (void)state;
    static const struct {
        const char *a, *b;
        bool same;
    } rows[] = {
        {"R-410A", "r410a", true},
        {"R 410 A", "R-410A", true},
        {"R-22", "R22", true},
        {"R-22", "R-220", false},
        {"R-22", "", false},
        {"R-407C", "R-407A", false},
        {"", "", true},
        {"R-32", "R-3 2", true},
        {"HCFC-22", "R-22", true},
        {"HFC-32", "r32", true},
        {"hfc 410a", "R-410A", true},
        {"HFC", "R", false},
        {"HFC-32", "HFC-22", false},
        {"CFC-12", "R-12", true},
        {"CFC-12", "R-22", false},
        {"410A", "R-410A", true},
        {"3 2", "HFC-32", true},
        {"22", "R-22", true},
        {"410A", "R-410", false},
        {"1", "R", false},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        check_is(rows[i].a, ct_catalog_same(rows[i].a, rows[i].b), ==, rows[i].same);
        check_is(rows[i].b, ct_catalog_same(rows[i].b, rows[i].a), ==, rows[i].same);
    }
}

/* Longer than any name, with a blank at every place: never read past its end. */
static void test_long_names(void **state)
{
    (void)state;
    char name[400];
    memset(name, 'A', sizeof name - 1);
    name[sizeof name - 1] = '\0';
    memcpy(name, "HCFC-22", 7);
    check_that("long name", !ct_catalog_find(name));
    check_that("no name", !ct_catalog_find(NULL));
    check_that("no name", !ct_catalog_find(""));
}

/* A name with no number behind the prefix has none; the rows are each found by their own name. */
static void test_rows(void **state)
{
    (void)state;
    char words[200] = "";
    int n = 0;
    for (const ct_catalog_row *row; (row = ct_catalog_at(n)); n++) {
        check_that(row->name, ct_catalog_find(row->name) == row);
        if (!row->model) continue;
        if (*words) strcat(words, "|");
        strcat(words, row->name);
    }
    check_is("rows", n, >=, 8);
    check_that("rows", !ct_catalog_at(-1));
    check_same_text("words to choose from", words, CT_CATALOG_MODELED);
}

/* Classes of ISO 817 / ASHRAE 34; mineral oil with the chlorinated ones: common practice, no
 * source; the orifice's fluids: Payne & O'Neal 2004, HVAC&R Research 10(1):73-87. */
static void test_facts(void **state)
{
    (void)state;
    static const struct {
        const char *name, *safety;
        ct_oil oil;
        bool phased_out, orifice;
    } rows[] = {
        {"R-22", "A1", CT_OIL_MINERAL, true, true},
        {"R-410A", "A1", CT_OIL_ESTER, false, true},
        {"R-407C", "A1", CT_OIL_ESTER, false, true},
        {"R-32", "A2L", CT_OIL_ESTER, false, false},
        {"R-454B", "A2L", CT_OIL_ESTER, false, false},
        {"R-12", "A1", CT_OIL_MINERAL, true, true},
        {"R-427A", "A1", CT_OIL_ESTER, false, false},
        {"R-422D", "A1", CT_OIL_MINERAL, false, false},
        {"R-438A", "A1", CT_OIL_MINERAL, false, false},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        const ct_catalog_row *row = ct_catalog_find(rows[i].name);
        check_that(rows[i].name, row);
        check_same_text(rows[i].name, row->safety, rows[i].safety);
        check_is(rows[i].name, row->oil, ==, rows[i].oil);
        check_is(rows[i].name, row->phased_out, ==, rows[i].phased_out);
        check_is(rows[i].name, row->orifice, ==, rows[i].orifice);
    }
}

/* What a row says beside the equation is what the equation says: pressure of the liquid at 80 F
 * within 1.5 psi, the doubt of a chart's last digits, and the glide to the 0.1 K it is written
 * with. */
static void test_rows_and_equations(void **state)
{
    const ct_catalog_row *row;
    (void)state;
    for (int i = 0; (row = ct_catalog_at(i)); i++) {
        ct_refrigerant *r;
        double p, T;
        if (!row->model) continue;
        check_is(row->name, ct_refrigerant_make(row->name, &r, NULL), ==, CT_OK);
        check_is(row->name, ct_refrigerant_p_bubble(r, ct_K_from_F(80), &p, NULL), ==, CT_OK);
        check_abs(row->name, row->psig_80F, (p - CT_ATM_PA) / CT_PA_PER_PSI, 1.5);
        check_is(row->name, ct_refrigerant_p_dew(r, ct_K_from_F(45), &p, NULL), ==, CT_OK);
        check_is(row->name, ct_refrigerant_T_bubble(r, p, &T, NULL), ==, CT_OK);
        check_abs(row->name, row->glide, ct_K_from_F(45) - T, 0.051);
        ct_refrigerant_free(r);
    }
}

/* Glide of the service blends at a dew temperature of 45 F, by the mixture models of Lemmon &
 * Jacobsen 2004 (J. Phys. Chem. Ref. Data 33:593) and Bell & Lemmon 2016, solved elsewhere:
 * 10.4 and 6.5 F. */
static void test_service_blends(void **state)
{
    (void)state;
    check_abs("R-427A", ct_catalog_find("R427A")->glide * 1.8, 10.4, 0.1);
    check_abs("R-422D", ct_catalog_find("r-422d")->glide * 1.8, 6.5, 0.1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_spelling),
        cmocka_unit_test(test_long_names),
        cmocka_unit_test(test_rows),
        cmocka_unit_test(test_facts),
        cmocka_unit_test(test_rows_and_equations),
        cmocka_unit_test(test_service_blends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
