/* Readings file: values and margins into SI, every message, all faults in one run. Invented data.
 */
#include "check.h"

#include "case/readings.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "locale_comma.h"

#define COUNT(a) (sizeof(a) / sizeof(a)[0])

static ct_readings readings;
static ct_case_report report;
static ct_fault fault;

static ct_status parse(const char *text)
{
    fault = (ct_fault){.what = ""};
    return ct_readings_parse(text, strlen(text), &readings, &report, &fault);
}

static const char whole[] =
    "return_air:\n"
    "  dry_bulb: 75.5 F\n"
    "  wet_bulb: 63 F +/- 2 F\n"
    "supply_air: {dry_bulb: 13 C +/- 0.5 K, relative_humidity: 90 % +/- 2 %}\n"
    "outdoor_air: {dry_bulb: 92 F, leaving: 112 F}\n"
    "suction:\n"
    "  pressure: 70 psig\n"
    "  temperature: 55 F \xC2\xB1 0.9 F\n"
    "liquid:\n"
    "  pressure: 250 psig +/- 2 psig\n"
    "  temperature: 105 F +- 1.8 F\n"
    "blower:\n"
    "  tap: medium low\n"
    "  static: 0.5 inwc\n"
    "  airflow: 1000 cfm +/- 5 %\n"
    "  power: 400 W +/- 10 W\n"
    "outdoor_unit: {stage: low, total_power: 3 kW}\n"
    "condensate: {water: 2 lb, time: 20 min +/- 30 s}\n"
    "notes: invented\n";

/* u by hand from the text or from the list of usual margins in readings.h; exact conversions. */
static const struct {
    ct_reading_kind kind;
    double v, u;
} wanted[] = {
    {CT_RETURN_DRY_BULB, (75.5 + 459.67) / 1.8, 0.5 / 1.8},
    {CT_RETURN_WET_BULB, (63 + 459.67) / 1.8, 2 / 1.8},
    {CT_SUPPLY_DRY_BULB, 286.15, 0.5},
    {CT_SUPPLY_RH, 0.9, 0.02},
    {CT_OUTDOOR_DRY_BULB, (92 + 459.67) / 1.8, 1 / 1.8},
    {CT_SUCTION_PRESSURE, 70 * 6894.757293168361, 6894.757293168361 * 1.220655561573370},
    {CT_SUCTION_TEMPERATURE, (55 + 459.67) / 1.8, 0.5},
    {CT_LIQUID_PRESSURE, 250 * 6894.757293168361, 2 * 6894.757293168361},
    {CT_LIQUID_TEMPERATURE, (105 + 459.67) / 1.8, 1.0},
    {CT_STATIC, 0.5 * 249.08891, 0.02 * 249.08891},
    {CT_AIRFLOW, 0.4719474432, 0.4719474432 * 0.05},
    {CT_BLOWER_POWER, 400, 10},
    {CT_OUTDOOR_POWER, 3000, 90},
    {CT_CONDENSER_LEAVING, (112 + 459.67) / 1.8, 2 / 1.8},
    {CT_CONDENSATE_WATER, 2 * 0.45359237, 2 * 0.45359237 * 0.04},
    {CT_CONDENSATE_TIME, 1200, 30},
};

static void check_whole(void)
{
    int n = 0;
    assert_int_equal(parse(whole), CT_OK);
    for (size_t i = 0; i < COUNT(wanted); i++) {
        const ct_reading *r = &readings.r[wanted[i].kind];
        check_that(ct_reading_name(wanted[i].kind), r->has);
        check_rel(ct_reading_name(wanted[i].kind), r->v, wanted[i].v, 1e-12);
        check_rel(ct_reading_name(wanted[i].kind), r->u, wanted[i].u, 1e-12);
    }
    for (int i = 0; i < CT_READING_COUNT; i++)
        n += readings.r[i].has;
    assert_int_equal(n, (int)COUNT(wanted));
    assert_string_equal(readings.tap, "medium low");
    assert_string_equal(readings.notes, "invented");
    assert_int_equal(readings.stage, CT_RAN_LOW);
}

static void test_values(void **state)
{
    (void)state;
    check_whole();
}

static void test_comma_locale(void **state)
{
    (void)state;
    char dir[64];
    comma_locale_enter(dir);
    check_whole();
    comma_locale_leave(dir);
}

/* One fault in each file: its kind, line, key and a piece of its text. */
static const struct {
    const char *text;
    ct_case_fault_kind kind;
    int line;
    const char *key, *says;
} faults[] = {
    {"", CT_CASE_MISSING_KEY, 0, "", "no reading"},
    {"notes: nothing\n", CT_CASE_MISSING_KEY, 0, "", "no reading"},
    {"house: {}\noutdoor: {tons: 3 ton}\nindoor: {}\n", CT_CASE_UNKNOWN_KEY, 0, "",
     "this is a case, and readings belong here"},
    {"supply_air:\n  dry_bulb: 55\n", CT_CASE_UNIT, 2, "supply_air.dry_bulb", "F, C, K"},
    {"supply_air:\n  dry_bulb: cold\n", CT_CASE_NUMBER, 2, "supply_air.dry_bulb", "F, C, K"},
    {"supply_air:\n  dry_bulb: nan F\n", CT_CASE_NUMBER, 2, "supply_air.dry_bulb", ""},
    {"supply_air:\n  dry_bulb: 55 psig\n", CT_CASE_UNIT, 2, "supply_air.dry_bulb", "F, C, K"},
    {"supply_air:\n  dry_bulb: 255 F\n", CT_CASE_RANGE, 2, "supply_air.dry_bulb", "20 F to 120 F"},
    {"supply_air:\n  dry_bulb: 55 C\n", CT_CASE_RANGE, 2, "supply_air.dry_bulb", "C"},
    {"supply_air:\n  dry_bulb: 55 F +/- 1\n", CT_CASE_UNIT, 2, "supply_air.dry_bulb", "after +/-"},
    {"supply_air:\n  dry_bulb: 55 F +/- \n", CT_CASE_UNIT, 2, "supply_air.dry_bulb", "after +/-"},
    {"supply_air:\n  dry_bulb: 55 F +/- 1 psi\n", CT_CASE_UNIT, 2, "supply_air.dry_bulb",
     "after +/-"},
    {"supply_air:\n  dry_bulb: 55 F +/- nan F\n", CT_CASE_UNIT, 2, "supply_air.dry_bulb",
     "after +/-"},
    {"supply_air:\n  dry_bulb: 55 F +/- 1 F +/- 1 F\n", CT_CASE_UNIT, 2, "supply_air.dry_bulb",
     "after +/-"},
    {"supply_air:\n  dry_bulb: 55 F +/- 0 F\n", CT_CASE_RANGE, 2, "supply_air.dry_bulb", "above 0"},
    {"supply_air:\n  dry_bulb: 55 F +/- -1 F\n", CT_CASE_RANGE, 2, "supply_air.dry_bulb",
     "above 0"},
    {"supply_air:\n  dry_bulb: +/- 1 F\n", CT_CASE_NUMBER, 2, "supply_air.dry_bulb", ""},
    {"suction: {pressure: 70 W}\n", CT_CASE_UNIT, 1, "suction.pressure", "psig"},
    {"supply_air:\n  drybulb: 55 F\n", CT_CASE_UNKNOWN_KEY, 2, "supply_air.drybulb",
     "did you mean 'dry_bulb'"},
    {"dry_bulb: 55 F\noutdoor_air: {dry_bulb: 90 F}\n", CT_CASE_UNKNOWN_KEY, 1, "dry_bulb",
     "belongs at"},
    {"outdoor:\n  tons: 3 ton\noutdoor_air: {dry_bulb: 90 F}\n", CT_CASE_UNKNOWN_KEY, 1, "outdoor",
     "no such key"},
    {"supply_air:\n  dry_bulb: 55 F\n  dry_bulb: 56 F\n", CT_CASE_DOUBLED_KEY, 3,
     "supply_air.dry_bulb", "line 2"},
    {"supply_air:\n  dry_bulb:\n", CT_CASE_EMPTY, 2, "supply_air.dry_bulb", "no value here"},
    {"supply_air: 55 F\n", CT_CASE_SHAPE, 1, "supply_air", "a section"},
    {"supply_air:\n  dry_bulb: [55 F]\n", CT_CASE_SHAPE, 2, "supply_air.dry_bulb",
     "a single value"},
    {"return_air:\n  wet_bulb: 63 F\n  relative_humidity: 50 %\n", CT_CASE_CONFLICT, 3,
     "return_air.relative_humidity", "'return_air.wet_bulb' in line 2"},
    {"supply_air:\n  relative_humidity: 50 %\n  wet_bulb: 63 F\n", CT_CASE_CONFLICT, 2,
     "supply_air.relative_humidity", "line 3"},
    {"suction:\n  pressure: 70 psig\n  saturation: 40 F\n", CT_CASE_CONFLICT, 3,
     "suction.saturation", "'suction.pressure' in line 2"},
    {"suction:\n  superheat: 12 F\n", CT_CASE_CONFLICT, 2, "suction.superheat",
     "says nothing without 'suction.pressure' or 'suction.saturation'"},
    {"liquid:\n  subcooling: 12 F\n", CT_CASE_CONFLICT, 2, "liquid.subcooling",
     "says nothing without 'liquid.pressure'"},
    {"outdoor_unit:\n  stage: second\n  total_power: 3 kW\n", CT_CASE_CHOICE, 2,
     "outdoor_unit.stage", "high|low"},
    {"outdoor_unit:\n  amps: 14 A\n", CT_CASE_CONFLICT, 2, "outdoor_unit.amps",
     "says nothing without 'outdoor_unit.volts'"},
    {"outdoor_unit:\n  amps: 14 A\n  volts: 236 V\n  total_power: 3 kW\n", CT_CASE_CONFLICT, 2,
     "outdoor_unit.amps", "'outdoor_unit.total_power' in line 4"},
    {"return_air: {dry_bulb: 75 F}\nblower:\n  heat_rise: 30 F\n", CT_CASE_CONFLICT, 3,
     "blower.heat_rise", "says nothing without 'blower.heat_power'"},
    {"condensate:\n  water: 2 lb\n", CT_CASE_CONFLICT, 2, "condensate.water",
     "says nothing without 'condensate.time'"},
    {"condensate: {water: 2 cfm, time: 20 min}\n", CT_CASE_UNIT, 1, "condensate.water", "pint"},
    {"supply_air:\n  split: 20 F\n", CT_CASE_CONFLICT, 2, "supply_air.split",
     "says nothing without 'return_air.dry_bulb'"},
    {"outdoor_unit:\n  compressor_power: 2 kW\n  total_power: 2 kW\n", CT_CASE_CONFLICT, 3,
     "outdoor_unit.total_power", "keep the one"},
    {"blower:\n  static: 0.5 inwc\n  tap: 1234567890123456789012345678901234567890123456789\n",
     CT_CASE_TEXT, 3, "blower.tap", "47 fit"},
    {"supply_air: &a {dry_bulb: 55 F}\n", CT_CASE_EXTRAS, 1, "supply_air", "anchors"},
    {"supply_air:\n\tdry_bulb: 55 F\n", CT_CASE_SYNTAX, 2, "", "blanks, not tabs"},
    {"supply_air: {dry_bulb: 55 \xFF}\n", CT_CASE_NOT_TEXT, 1, "", "UTF-8"},
};

static void test_faults(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(faults); i++) {
        const char *name = faults[i].text;
        readings.r[CT_STATIC].v = 12.5;
        assert_int_equal(parse(name), CT_INPUT);
        check_is("untouched", readings.r[CT_STATIC].v, ==, 12.5);
        const ct_case_fault *f = &report.fault[0];
        if (report.n_faults != 1 || f->kind != faults[i].kind || f->line != faults[i].line ||
            strcmp(f->key, faults[i].key) != 0 || !strstr(f->what, faults[i].says))
            print_error("%s -> %d faults, kind %d, line %d, %s: %s\n", name, report.n_faults,
                        (int)f->kind, f->line, f->key, f->what);
        assert_int_equal(report.n_faults, 1);
        check_is(name, f->kind, ==, faults[i].kind);
        check_is(name, f->line, ==, faults[i].line);
        check_same_text(name, f->key, faults[i].key);
        check_has(name, f->what, faults[i].says);
        check_that(name, strstr(fault.what, f->what) != NULL || strlen(fault.what) > 150);
    }
}

/* All faults of a file in one run, in the order of their lines. */
static void test_all_at_once(void **state)
{
    (void)state;
    assert_int_equal(parse("supply_air:\n  dry_bulb: 55\n  wet: 3 F\noutdoor_air:\n"
                           "  dry_bulb: 900 F\nsuction:\n  pressure: 70 psig +/- 0 psi\n"),
                     CT_INPUT);
    static const int lines[] = {2, 3, 5, 7};
    assert_int_equal(report.n_faults, (int)COUNT(lines));
    for (size_t i = 0; i < COUNT(lines); i++)
        assert_int_equal(report.fault[i].line, lines[i]);
}

/* The table: rows complete, limits readable, no path twice, every kind reached. */
static void test_table(void **state)
{
    (void)state;
    ct_key_row row, other;
    int n = 0;
    for (; ct_readings_key(n, &row); n++) {
        check_that(row.key, row.unit);
        check_that(row.key, row.allowed);
        check_that(row.key, row.when);
        check_that(row.key, row.help);
        check_that(row.key, *row.help);
        for (int j = 0; j < n && ct_readings_key(j, &other); j++)
            check_that(row.key, strcmp(row.key, other.key) != 0);
    }
    check_is("rows", n, >, CT_READING_COUNT);
    check_that("rows", !ct_readings_key(-1, &row));
    for (int i = 0; i < CT_READING_COUNT; i++) {
        check_that("named", strcmp(ct_reading_name((ct_reading_kind)i), "unknown reading") != 0);
        check_is("margin", ct_reading_margin((ct_reading_kind)i, 300.0), >, 0.0);
    }
}

static void test_example_and_no_file(void **state)
{
    (void)state;
    assert_int_equal(
        ct_readings_load(SOURCE_DIR "/examples/readings-r22.yaml", &readings, &report, &fault),
        CT_OK);
    check_that("tap", readings.tap[0]);
    assert_int_equal(ct_readings_load("/no/such/file", &readings, &report, &fault), CT_SYSTEM);
    check_has("named", fault.what, "/no/such/file");
}

/* Cut anywhere, and with any byte spoilt: a verdict, never a crash. */
static void test_damaged(void **state)
{
    (void)state;
    char text[sizeof whole];
    for (size_t n = 0; n < sizeof whole; n++) {
        const ct_status cut = ct_readings_parse(whole, n, &readings, &report, &fault);
        check_that("cut", cut == CT_OK || cut == CT_INPUT);
        memcpy(text, whole, sizeof whole);
        text[n] = (char)(n * 37);
        const ct_status spoilt =
            ct_readings_parse(text, sizeof whole - 1, &readings, &report, &fault);
        check_that("spoilt", spoilt == CT_OK || spoilt == CT_INPUT);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_values),  cmocka_unit_test(test_comma_locale),
        cmocka_unit_test(test_faults),  cmocka_unit_test(test_all_at_once),
        cmocka_unit_test(test_table),   cmocka_unit_test(test_example_and_no_file),
        cmocka_unit_test(test_damaged),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
