/* What comes from outside may be missing: NULL where a text or a name is read is wrong input. */
#include "base/table.h"
#include "base/units.h"
#include "case/casefile.h"
#include "case/readings.h"
#include "check.h"
#include "fluid/refrigerant.h"
#include "study/answer_json.h"

static void test_no_text(void **state)
{
    (void)state;
    static ct_case c;
    static ct_case_report report;
    static ct_readings readings;
    ct_refrigerant *refrigerant = NULL;
    ct_table *table = NULL;
    char *json = NULL;
    double si = 1.0;
    check_is("quantity", ct_units_read(NULL, CT_UNIT_LENGTH, &si, NULL), ==, CT_INPUT);
    check_is("untouched", si, ==, 1.0);
    check_is("refrigerant", ct_refrigerant_make(NULL, &refrigerant, NULL), ==, CT_INPUT);
    check_is("case file", ct_casefile_load(NULL, &c, &report, NULL), ==, CT_INPUT);
    check_is("case", ct_casefile_parse(NULL, 0, &c, &report, NULL), ==, CT_INPUT);
    check_is("case of a size", ct_casefile_parse(NULL, 9, &c, &report, NULL), ==, CT_INPUT);
    check_is("readings file", ct_readings_load(NULL, &readings, &report, NULL), ==, CT_INPUT);
    check_is("readings", ct_readings_parse(NULL, 9, &readings, &report, NULL), ==, CT_INPUT);
    check_is("table", ct_table_parse(NULL, 9, &table, NULL), ==, CT_INPUT);
    check_is("answer", ct_answer_json(NULL, 9, &json, NULL), ==, CT_INPUT);
    ct_answer_free(json); /* the faults, as JSON */
    ct_refrigerant_free(NULL);
    ct_table_free(NULL);
    ct_answer_free(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_no_text)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
