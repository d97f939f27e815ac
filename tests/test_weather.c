/* Weather files: the open hourly format, CSV by hour, CSV by bins, and every way to get one wrong.
 * All weather here is invented. EPW after its field list in the EnergyPlus documentation (Auxiliary
 * Programs, EPW CSV format): the eight header lines, then year, month, day, hour, minute, flags,
 * dry bulb, dew point, relative humidity, pressure, ... */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/units.h"
#include "case/weather.h"
#include "check.h"
#include "fluid/air.h"

#define HEADER                                                                                     \
    "LOCATION,Invented Town,-,-,invented,000000,30.0,-90.0,-6.0,2.0\r\n"                           \
    "DESIGN CONDITIONS,0\r\n"                                                                      \
    "TYPICAL/EXTREME PERIODS,0\r\n"                                                                \
    "GROUND TEMPERATURES,0\r\n"                                                                    \
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\r\n"                                                       \
    "COMMENTS 1,invented\r\n"                                                                      \
    "COMMENTS 2,\"invented, too\"\r\n"                                                             \
    "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31\r\n"

enum { TEXT = 1 << 20 };
static char text[TEXT];
static size_t used;
static ct_weather w;
static ct_case_report report;
static ct_fault fault;

static void begin(const char *header)
{
    used = (size_t)snprintf(text, TEXT, "%s", header);
}

static void line(const char *values)
{
    used += (size_t)snprintf(text + used, TEXT - used, "%s\n", values);
}

static void epw_line(int day, int hour, const char *air)
{
    char one[200];
    snprintf(one, sizeof one, "1999,7,%d,%d,0,?9?9?9,%s,101300,0,0,0,0,0,0,0,0,0,0,90,1.5,5,5\r",
             day, hour, air);
    line(one);
}

static ct_status read_it(void)
{
    ct_weather_free(&w);
    return ct_weather_read(text, used, CT_ATM_PA, &w, &report, &fault);
}

static double W_of_dew_point(double C)
{
    return ct_air_W_sat(C + CT_ZERO_C, CT_ATM_PA);
}

static void epw(void **state)
{
    (void)state;
    begin(HEADER);
    for (int d = 1; d <= 2; d++)
        for (int h = 1; h <= 24; h++)
            epw_line(d, h, h == 5 ? "30.0,99.9,50" : h == 6 ? "20.0,20.3,100" : "31.5,25.0,68");
    check_is(fault.what, read_it(), ==, CT_OK);
    assert_int_equal(w.n, 48);
    check_that("hourly", w.hourly);
    assert_string_equal(w.place, "Invented Town");
    check_abs("dry bulb", w.hour[0].T, 304.65, 1e-9);
    check_abs("an hour", w.hour[0].hours, 1, 0);
    /* Dew point 25 C: 3169.8 Pa (steam tables, IAPWS; from memory, unconfirmed), at 101 325 Pa
     * 0.621945 x 3169.8/(101325 - 3169.8). The two saturation formulas differ by 1e-4. */
    check_abs("moisture", w.hour[0].W, 0.020085, 5e-6);
    /* No dew point there: 50 % at 30 C, 0.01333 kg/kg (from memory, unconfirmed). */
    check_abs("by relative humidity", w.hour[4].W, 0.01333, 3e-5);
    check_rel("rounded above its dry bulb", w.hour[5].W, W_of_dew_point(20), 1e-9);
}

static void csv(void **state)
{
    (void)state;
    begin("\xef\xbb\xbf");
    line("690150,\"INVENTED STATION\",CA,-8.0,34.3,-116.167,626");
    line("Date (MM/DD/YYYY),Time (HH:MM),Dry-bulb (C),Dry-bulb source,Dew-point (C),RHum (%)");
    for (int h = 1; h <= 24; h++)
        line("07/01/1999,01:00,25.0,A,15.0,53");
    check_is(fault.what, read_it(), ==, CT_OK);
    assert_int_equal(w.n, 24);
    check_that("hourly", w.hourly);
    check_abs("dry bulb", w.hour[23].T, 298.15, 1e-9);
    check_rel("dew point before relative humidity", w.hour[23].W, W_of_dew_point(15), 1e-9);
}

static void bins(void **state)
{
    ct_air air;
    (void)state;
    begin("outdoor_dry_bulb_f,outdoor_wet_bulb_f,hours\n");
    line("77,70,500.5");
    line("72,70,0");
    line("\"82\",\"72\",\"300\"");
    check_is(fault.what, read_it(), ==, CT_OK);
    assert_int_equal(w.n, 2);
    check_that("bins", !w.hourly);
    check_abs("hours", w.hour[0].hours, 500.5, 0);
    assert_int_equal(ct_air_from_wet_bulb(ct_K_from_F(82), ct_K_from_F(72), CT_ATM_PA, &air, NULL),
                     CT_OK);
    check_rel("wet bulb", w.hour[1].W, air.W, 1e-12);
}

/* Each wrong line is reported with its number, and nothing is kept. */
static void check_fault(const char *name, int at_line, const char *word)
{
    check_is(name, read_it(), ==, CT_INPUT);
    check_that(name, w.hour == NULL);
    check_is(name, w.n, ==, 0);
    bool told = false;
    for (int i = 0; i < report.n_faults && i < CT_MAX_CASE_FAULTS; i++)
        told = told || (report.fault[i].line == at_line && strstr(report.fault[i].what, word));
    if (!told) print_error("%s: %s\n", name, report.n_faults ? report.fault[0].what : fault.what);
    check_that(name, told);
}

static void wrong_epw(void **state)
{
    static const struct {
        const char *name, *air, *word;
    } row[] = {
        {"missing dry bulb", "99.9,20,50", "missing value"},
        {"no number", "abc,20,50", "not a number"},
        {"nan", "nan,20,50", "not a number"},
        {"hexadecimal", "0x20,20,50", "not a number"},
        {"empty", ",20,50", "no value"},
        {"dew point above", "20.0,23.0,50", "above the dry bulb"},
        {"no moisture", "20.0,99.9,999", "no value"},
        {"humidity", "20.0,99.9,-3", "0 to 100"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof row / sizeof *row; i++) {
        begin(HEADER);
        for (int h = 1; h <= 24; h++)
            epw_line(1, h, h == 3 ? row[i].air : "30.0,20.0,55");
        check_fault(row[i].name, 11, row[i].word);
        assert_int_equal(report.n_faults, 1);
    }
}

static void gaps(void **state)
{
    (void)state;
    begin(HEADER);
    for (int h = 1; h <= 24; h++)
        if (h != 7) epw_line(1, h, "30.0,20.0,55");
    check_fault("hour left out", 15, "does not follow");
    begin(HEADER);
    for (int h = 1; h <= 24; h++)
        for (int k = 0; k < 1 + (h == 7); k++)
            epw_line(1, h, "30.0,20.0,55");
    check_fault("hour doubled", 16, "does not follow");
    begin(HEADER);
    for (int h = 1; h <= 24; h++)
        line("1999,7,1");
    check_fault("cut lines", 9, "fewer than nine");
    assert_int_equal(report.n_faults, 24);
}

static void headers(void **state)
{
    (void)state;
    begin("");
    check_fault("empty", 0, "empty");
    begin("LOCATION,a\nDESIGN CONDITIONS,0\nCOMMENTS 1\n");
    check_fault("header", 3, "TYPICAL/EXTREME");
    begin("LOCATION,a\n");
    check_fault("cut header", 1, "DESIGN CONDITIONS");
    begin("time,temperature\n1,2\n");
    check_fault("no weather", 2, "not a weather file");
    begin("dry_bulb,dew_point\n");
    check_fault("no unit", 1, "unit");
    begin("dry_bulb_f,dew_point_f\n");
    line("80,70");
    check_fault("one hour", 0, "at least 24");
    begin("dry_bulb_f,dew_point_f,hours\n80,70,8000\n81,70,900\n");
    check_fault("more than a year", 0, "8784");
    begin("dry_bulb_f,dew_point_f,hours\n80,70,-5\n80,70,5\n");
    check_fault("negative hours", 2, "0 to 8784");
    begin("dry_bulb_f,wet_bulb_f,hours\n80,85,5\n");
    check_fault("wet bulb above", 2, "no air has this");
    begin("x");
    used = 5; /* NUL bytes */
    check_is("NUL", read_it(), ==, CT_INPUT);
    begin("dry_bulb_f,dew_point_f\n");
    check_is("size", ct_weather_read(text, CT_WEATHER_BYTES + 1ul, CT_ATM_PA, &w, &report, &fault),
             ==, CT_INPUT);
    check_is("pressure", ct_weather_read(text, used, 0.0, &w, &report, &fault), ==, CT_RANGE);
    check_is("nothing", ct_weather_read(NULL, 0, CT_ATM_PA, &w, &report, &fault), ==, CT_INPUT);
}

/* Lines without end do no harm, and there is a last one. */
static void many(void **state)
{
    (void)state;
    begin("dry_bulb_f,dew_point_f\n");
    for (int i = 0; i <= CT_WEATHER_HOURS; i++)
        line("80,70");
    check_is("too many", read_it(), ==, CT_INPUT);
    check_has("told", fault.what, "more than 87840 hours");
    begin("dry_bulb_f,dew_point_f\n");
    for (int i = 0; i < 30000; i++)
        line("x,70");
    check_is("all wrong", read_it(), ==, CT_INPUT);
    assert_int_equal(report.n_faults, 30000);
}

static int end(void **state)
{
    (void)state;
    ct_weather_free(&w);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(epw),       cmocka_unit_test(csv),  cmocka_unit_test(bins),
        cmocka_unit_test(wrong_epw), cmocka_unit_test(gaps), cmocka_unit_test(headers),
        cmocka_unit_test(many),
    };
    return cmocka_run_group_tests(tests, NULL, end);
}
