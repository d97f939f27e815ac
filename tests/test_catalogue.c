/* The catalogue of refrigerants: spellings, and the facts beside the equations of state. */
#include <string.h>

#include "check.h"
#include "fluid/catalogue.h"

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
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        check_is(rows[i].a, ct_catalogue_same(rows[i].a, rows[i].b), ==, rows[i].same);
        check_is(rows[i].b, ct_catalogue_same(rows[i].b, rows[i].a), ==, rows[i].same);
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
    check_that("long name", !ct_catalogue_find(name));
    check_that("no name", !ct_catalogue_find(NULL) && !ct_catalogue_find(""));
}

/* A name with no number behind the prefix has none; the rows are each found by their own name. */
static void test_rows(void **state)
{
    (void)state;
    char words[200] = "";
    int n = 0;
    for (const ct_catalogue_row *row; (row = ct_catalogue_at(n)); n++) {
        check_that(row->name, ct_catalogue_find(row->name) == row);
        if (!row->model) continue;
        if (*words) strcat(words, "|");
        strcat(words, row->name);
    }
    check_is("rows", n, >=, 8);
    check_that("rows", !ct_catalogue_at(-1));
    check_that("words to choose from", strcmp(words, CT_CATALOGUE_MODELED) == 0);
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
        {"R-22", "A1", CT_OIL_MINERAL, true, true},    {"R-410A", "A1", CT_OIL_ESTER, false, true},
        {"R-407C", "A1", CT_OIL_ESTER, false, true},   {"R-32", "A2L", CT_OIL_ESTER, false, false},
        {"R-454B", "A2L", CT_OIL_ESTER, false, false}, {"R-12", "A1", CT_OIL_MINERAL, true, true},
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        const ct_catalogue_row *row = ct_catalogue_find(rows[i].name);
        check_that(rows[i].name, row);
        check_that(rows[i].name, strcmp(row->safety, rows[i].safety) == 0);
        check_is(rows[i].name, row->oil, ==, rows[i].oil);
        check_is(rows[i].name, row->phased_out, ==, rows[i].phased_out);
        check_is(rows[i].name, row->orifice, ==, rows[i].orifice);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_spelling),
        cmocka_unit_test(test_long_names),
        cmocka_unit_test(test_rows),
        cmocka_unit_test(test_facts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
