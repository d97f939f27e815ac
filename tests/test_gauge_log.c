/* Gauge log: averages, doubts, what is refused and where. Invented data. */
#include "check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/units.h"
#include "case/gauge_log.h"
#include "locale_comma.h"

#define COUNT(a) (sizeof(a) / sizeof(a)[0])

static ct_readings readings;
static ct_gauge_log found;
static ct_case_report report;
static ct_fault fault;
static char text[1 << 17];

static ct_status parse(const char *t)
{
    fault = (ct_fault){.what = ""};
    return ct_gauge_log_parse(t, strlen(t), &readings, &found, &report, &fault);
}

static size_t put(size_t n, const char *format, double v, double t)
{
    char number[32], time[32];
    snprintf(number, sizeof number, "%.3f", v);
    snprintf(time, sizeof time, "%.0f", t);
    for (char *c = number; *c; c++)
        if (*c == ',') *c = '.';
    return n + (size_t)snprintf(text + n, sizeof text - n, format, number, time);
}

/* A quarter of an hour, every 10 s: suction settles from 90 to 70 psig with 60 s, the line
 * alternates by +/- 0.5 F. */
static void write_log(const char *head)
{
    size_t n = (size_t)snprintf(text, sizeof text, "%s\n", head);
    for (int i = 0; i <= 90; i++) {
        n = put(n, "suction.pressure,%s,psig,%s\n", 70.0 + 20.0 * exp(-i / 6.0), 10.0 * i);
        n = put(n, "suction.temperature,%s,F,%s\n", 55.0 + (i % 2 ? 0.5 : -0.5), 10.0 * i);
    }
    snprintf(text + n, sizeof text - n,
             "outdoor_unit.stage,low,,\nnotes,it's damp,,\n"
             "blower.tap,o'clock,,\nblower.static,0.5,inwc,\nreturn_air.dry_bulb,75,F,600\n"
             "return_air.dry_bulb,77,F,610\n");
}

static void check_log(void)
{
    assert_int_equal(parse(text), CT_OK);
    const ct_reading *p = &readings.r[CT_SUCTION_PRESSURE],
                     *T = &readings.r[CT_SUCTION_TEMPERATURE];
    check_is("rows", found.rows, ==, 185);
    check_is("settled first", found.from, >, 60.0);
    check_is("then steady", found.to - found.from, >, 300.0);
    check_abs("pressure", p->v, 70.0 * CT_PA_PER_PSI, 0.5 * CT_PA_PER_PSI);
    check_abs("temperature", T->v, ct_K_from_F(55.0), 0.02);
    /* The usual 1 F and 0.5 F of scatter over the root of the minutes. */
    const double minutes = (found.to - found.from) / 60.0;
    check_rel("doubt", T->u, hypot(1.0, 0.5 / sqrt(minutes)) / 1.8, 1e-2);
    check_rel("by hand", readings.r[CT_STATIC].v, 0.5 * CT_PA_PER_INWC, 1e-12);
    check_rel("its doubt", readings.r[CT_STATIC].u, 0.02 * CT_PA_PER_INWC, 1e-12);
    /* Two values: mean 76, standard deviation sqrt 2, over sqrt 2. */
    check_rel("two", readings.r[CT_RETURN_DRY_BULB].v, ct_K_from_F(76.0), 1e-12);
    check_rel("of two", readings.r[CT_RETURN_DRY_BULB].u, hypot(0.5, 1.0) / 1.8, 1e-9);
    assert_string_equal(readings.tap, "o'clock");
    assert_string_equal(readings.notes, "it's damp");
    assert_int_equal(readings.stage, CT_RAN_LOW);
}

static void test_averages(void **state)
{
    (void)state;
    char dir[64];
    write_log("name,value,unit,time");
    check_that("a log", ct_gauge_log_is(text, strlen(text)));
    check_log();
    write_log("Name, Value, Unit, Time");
    check_log();
    comma_locale_enter(dir);
    check_log();
    comma_locale_leave(dir);
}

/* Columns in another order, semicolons with a decimal comma, a clock past midnight. */
static void test_forms(void **state)
{
    (void)state;
    size_t n = (size_t)snprintf(text, sizeof text, "time;name;unit;value\n");
    for (int i = 0; i < 40; i++) {
        const int second = 23 * 3600 + 55 * 60 + 15 * i;
        n +=
            (size_t)snprintf(text + n, sizeof text - n, "%d:%02d:%02d;liquid.pressure;psig;250,5\n",
                             second / 3600 % 24, second / 60 % 60, second % 60);
    }
    assert_int_equal(parse(text), CT_OK);
    check_rel("value", readings.r[CT_LIQUID_PRESSURE].v, 250.5 * CT_PA_PER_PSI, 1e-12);
    check_abs("length", found.to - found.from, 15.0 * 39, 1e-6);
    assert_int_equal(parse("name,value,unit,time\nliquid.pressure,250,psig,14:05\n"), CT_OK);
    check_abs("no stretch", found.to - found.from, 0.0, 0.0);
    check_that("yaml", !ct_gauge_log_is("supply_air: {dry_bulb: 55 F}\n", 29));
    check_that("comment", !ct_gauge_log_is("# a, b\n", 7));
    check_that("empty", !ct_gauge_log_is("", 0));
}

#define HEAD "name,value,unit,time\n"
static const struct {
    const char *text;
    ct_case_fault_kind kind;
    int line;
    const char *key, *says;
} faults[] = {
    {"time,pressure,temperature\n", CT_CASE_SHAPE, 1, "", "name,value,unit,time"},
    {"name,value,unit,time,probe\n", CT_CASE_SHAPE, 1, "", "name,value,unit,time"},
    {HEAD "low side,70,psig,0\n", CT_CASE_UNKNOWN_KEY, 2, "low side", "keys --readings"},
    {HEAD "suction,70,psig,0\n", CT_CASE_UNKNOWN_KEY, 2, "suction", "suction.pressure"},
    {HEAD "suction.presure,70,psig,0\nsuction.presure,71,psig,20\n", CT_CASE_UNKNOWN_KEY, 2,
     "suction.presure", "did you mean 'pressure'"},
    {HEAD "suction.pressure,seventy,psig,0\n", CT_CASE_NUMBER, 2, "suction.pressure",
     "not a number"},
    {HEAD "suction.pressure,nan,psig,0\n", CT_CASE_NUMBER, 2, "suction.pressure", "not a number"},
    {HEAD "suction.pressure,,psig,0\n", CT_CASE_NUMBER, 2, "suction.pressure", "no value"},
    {HEAD "suction.pressure,70,F,0\n", CT_CASE_UNIT, 2, "suction.pressure", "psig"},
    {HEAD "suction.pressure,70,F,0\nsuction.pressure,71,F,20\n", CT_CASE_UNIT, 2,
     "suction.pressure", "psig"},
    {HEAD "suction.pressure,70,,0\n", CT_CASE_UNIT, 2, "suction.pressure", "psig"},
    {HEAD "suction.pressure,70,psig,noon\n", CT_CASE_NUMBER, 2, "suction.pressure", "not a time"},
    {HEAD "suction.pressure,70,psig,12:99\n", CT_CASE_NUMBER, 2, "suction.pressure", "not a time"},
    {HEAD "blower.static,0.5,inwc,\n\nsuction.pressure,900,psig,0\n", CT_CASE_RANGE, 4,
     "suction.pressure", "5 psig to 250 psig"},
    {HEAD "suction.superheat,12,F,\n", CT_CASE_CONFLICT, 2, "suction.superheat",
     "says nothing without"},
    {HEAD "suction.pressure,70,psig,0,0\n", CT_CASE_SHAPE, 2, "suction.pressure", "more cells"},
    {HEAD "blower.tap,low,,\nblower.tap,high,,\n", CT_CASE_DOUBLED_KEY, 3, "blower.tap",
     "given twice"},
    {HEAD "blower.static,0.5,inwc,\noutdoor_unit.stage,third,,\n", CT_CASE_CHOICE, 3,
     "outdoor_unit.stage", "high|low"},
    {HEAD "suction.pressure,70,psig,1e300\nsuction.pressure,70,psig,14:05\n", CT_CASE_NUMBER, 2,
     "suction.pressure", "not a time"},
    {HEAD "suction.pressure,70,psig,-1.1e12\n", CT_CASE_NUMBER, 2, "suction.pressure",
     "not a time"},
    {HEAD "suction.pressure,70,psig                                              #: x,0\n",
     CT_CASE_UNIT, 2, "suction.pressure", "psig"},
    {HEAD "suction.pressure,70,psig                                              "
          "                                                        #: x,0\n",
     CT_CASE_UNIT, 2, "suction.pressure", "not a unit of this reading; allowed: psig"},
    {HEAD "suction.pressure,70,1/2 psig,0\n", CT_CASE_UNIT, 2, "suction.pressure",
     "not a unit of this reading; allowed: psig"},
    {HEAD "suction.pressure,70,\"psig\nliquid: {pressure: 250 psig}\",0\n", CT_CASE_UNIT, 2,
     "suction.pressure", "psig"},
    {HEAD "blower.tap,\"low\nhigh\",,\n", CT_CASE_TEXT, 2, "blower.tap", "one line of text"},
    {HEAD "blower.static,0.5,inwc,\nnotes,\"a\tb\",,\n", CT_CASE_TEXT, 3, "notes", "without tabs"},
    {HEAD, CT_CASE_MISSING_KEY, 0, "", "no reading"},
    {HEAD "suction.pressure,\"70,psig,0\n", CT_CASE_SYNTAX, 0, "", ""},
};

static void test_faults(void **state)
{
    (void)state;
    for (size_t i = 0; i < COUNT(faults); i++) {
        const char *name = faults[i].text;
        readings.r[CT_STATIC].v = 12.5;
        const ct_status status = parse(name);
        const ct_case_fault *f = &report.fault[0];
        if (status != CT_INPUT || report.n_faults != 1 || f->kind != faults[i].kind ||
            f->line != faults[i].line || strcmp(f->key, faults[i].key) != 0 ||
            !strstr(f->what, faults[i].says))
            print_error("%s -> %d, %d faults, kind %d, line %d, %s: %s\n", name, (int)status,
                        report.n_faults, (int)f->kind, f->line, f->key, f->what);
        assert_int_equal(status, CT_INPUT);
        check_is("untouched", readings.r[CT_STATIC].v, ==, 12.5);
        assert_int_equal(report.n_faults, 1);
        check_is(name, f->kind, ==, faults[i].kind);
        check_is(name, f->line, ==, faults[i].line);
        assert_string_equal(f->key, faults[i].key);
        check_that(name, strstr(f->what, faults[i].says) != NULL);
    }
}

/* A clock after a count of seconds as large as any, and one days behind it, is brought after it at
 * once. */
static void test_far_times(void **state)
{
    (void)state;
    static const char *const first[] = {"1e12", "-1e12", "864000"};
    for (size_t i = 0; i < COUNT(first); i++) {
        snprintf(text, sizeof text,
                 HEAD "suction.pressure,70,psig,%s\nsuction.pressure,72,psig,14:05\n", first[i]);
        assert_int_equal(parse(text), CT_OK);
        check_rel(first[i], readings.r[CT_SUCTION_PRESSURE].v, 71.0 * CT_PA_PER_PSI, 1e-12);
    }
}

/* Watts are 0 until the start, 4 minutes in: the margin is that of the mean, not of the first, and
 * what runs steadily is found. */
static void test_starts_at_zero(void **state)
{
    (void)state;
    size_t n = (size_t)snprintf(text, sizeof text, HEAD);
    for (int i = 0; i <= 90; i++)
        n = put(n, "outdoor_unit.total_power,%s,W,%s\n",
                i < 24 ? 0.0 : 3000.0 + (i % 2 ? 10.0 : -10.0), 10.0 * i);
    assert_int_equal(parse(text), CT_OK);
    check_is("after the start", found.from, >=, 200.0);
    check_abs("watts", readings.r[CT_OUTDOOR_POWER].v, 3000.0, 30.0);
}

/* One value by hand beside a log adds one to the minutes, no more: mean 55 F, scatter 0.5 F. */
static void test_one_by_hand(void **state)
{
    (void)state;
    write_log("name,value,unit,time");
    const size_t n = strlen(text);
    snprintf(text + n, sizeof text - n, "suction.temperature,55,F,\n");
    assert_int_equal(parse(text), CT_OK);
    const double minutes = (found.to - found.from) / 60.0;
    check_rel("doubt", readings.r[CT_SUCTION_TEMPERATURE].u,
              hypot(1.0, 0.5 / sqrt(minutes + 1.0)) / 1.8, 2e-3);
}

/* A log in which nothing holds still, and one that is too short, say so. */
static void test_unsteady(void **state)
{
    (void)state;
    size_t n = (size_t)snprintf(text, sizeof text, HEAD);
    for (int i = 0; i <= 90; i++)
        n = put(n, "suction.pressure,%s,psig,%s\n", 90.0 - 0.3 * i, 10.0 * i);
    assert_int_equal(parse(text), CT_INPUT);
    check_that("says", strstr(report.fault[0].what, "no steady stretch of 5 min") != NULL);
    check_is("line", report.fault[0].line, ==, 2);
    n = (size_t)snprintf(text, sizeof text, HEAD);
    for (int i = 0; i < 12; i++)
        n = put(n, "suction.pressure,%s,psig,%s\n", 70.0, 10.0 * i);
    assert_int_equal(parse(text), CT_INPUT);
    check_that("says", strstr(report.fault[0].what, "too short") != NULL);
}

/* Cut anywhere, and with any byte spoilt: a verdict, never a crash. */
static void test_damaged(void **state)
{
    (void)state;
    static char copy[sizeof text];
    write_log("name,value,unit,time");
    text[1500] = '\0';
    const size_t size = strlen(text);
    for (size_t i = 0; i < size; i++) {
        ct_status status = ct_gauge_log_parse(text, i, &readings, &found, &report, &fault);
        check_that("cut", status == CT_OK || status == CT_INPUT);
        memcpy(copy, text, size);
        copy[i] = (char)(i * 37);
        status = ct_gauge_log_parse(copy, size, &readings, &found, &report, &fault);
        check_that("spoilt", status == CT_OK || status == CT_INPUT);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_averages),       cmocka_unit_test(test_forms),
        cmocka_unit_test(test_faults),         cmocka_unit_test(test_unsteady),
        cmocka_unit_test(test_damaged),        cmocka_unit_test(test_far_times),
        cmocka_unit_test(test_starts_at_zero), cmocka_unit_test(test_one_by_hand),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
