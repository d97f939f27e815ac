/* Units against the definitions and the printed factors of NIST SP 811 (2008) appendix B.8, which
 * prints seven digits; those rows are held to half a unit of the seventh (5e-7). SP 811's factors
 * are quoted from memory, unconfirmed. Definitions are held to a few roundings, 4e-15. */
#include <string.h>

#include "base/number.h"
#include "base/units.h"
#include "check.h"
#include "locale_comma.h"

#define EXACT 4e-15
#define SP811 5e-7

typedef struct {
    const char *text;
    ct_unit_kind kind;
    double si;
    double tol; /* relative */
    const char *source;
} read_row;

static const read_row reads[] = {
    {"75 %", CT_UNIT_NONE, 0.75, EXACT, "definition"},
    {"0.75", CT_UNIT_NONE, 0.75, EXACT, "definition"},
    {"-2.5e-3", CT_UNIT_NONE, -0.0025, EXACT, "definition"},
    {"32 F", CT_UNIT_TEMPERATURE, 273.15, EXACT, "ice point by definition"},
    {"95F", CT_UNIT_TEMPERATURE, 308.15, EXACT, "35 C, AHRI 210/240 A test"},
    {"-40 F", CT_UNIT_TEMPERATURE, 233.15, EXACT, "-40 is the same in F and C"},
    {"-40 °C", CT_UNIT_TEMPERATURE, 233.15, EXACT, "-40 is the same in F and C"},
    {"300 K", CT_UNIT_TEMPERATURE, 300.0, EXACT, "definition"},
    {"18 F", CT_UNIT_DELTA_T, 10.0, EXACT, "1.8 F to the kelvin"},
    {"10 C", CT_UNIT_DELTA_T, 10.0, EXACT, "definition"},
    {"1 Btu/h", CT_UNIT_POWER, 0.2930711, SP811, "SP 811 B.8 Btu(IT)/h"},
    {"36 kBtu/h", CT_UNIT_POWER, 3 * 3516.853, SP811, "SP 811 B.8 ton of refrigeration"},
    {"36000 BTUH", CT_UNIT_POWER, 3 * 3516.853, SP811, "12000 Btu/h to the ton"},
    {"1 ton", CT_UNIT_POWER, 3516.853, SP811, "SP 811 B.8 ton of refrigeration"},
    {"1 hp", CT_UNIT_POWER, 745.6999, SP811, "SP 811 B.8 horsepower (550 ft lbf/s)"},
    {"10.5 kW", CT_UNIT_POWER, 10500.0, EXACT, "definition"},
    {"480 W", CT_UNIT_POWER, 480.0, EXACT, "definition"},
    {"3 ton", CT_UNIT_TONS, 3.0, EXACT, "definition"},
    {"36000 Btu/h", CT_UNIT_TONS, 3.0, EXACT, "12000 Btu/h to the ton"},
    {"3.516853 kW", CT_UNIT_TONS, 1.0, SP811, "SP 811 B.8 ton of refrigeration"},
    {"10 Btu/Wh", CT_UNIT_EER, 2.930711, SP811, "SP 811 B.8 Btu(IT)/h"},
    {"3.2 W/W", CT_UNIT_EER, 3.2, EXACT, "definition"},
    {"1 cfm", CT_UNIT_AIRFLOW, 4.719474e-4, SP811, "SP 811 B.8 cubic foot per minute"},
    {"3600 m3/h", CT_UNIT_AIRFLOW, 1.0, EXACT, "definition"},
    {"1 m³/s", CT_UNIT_AIRFLOW, 1.0, EXACT, "definition"},
    {"250 L/s", CT_UNIT_AIRFLOW, 0.25, EXACT, "definition"},
    {"400 cfm/ton", CT_UNIT_AIRFLOW_PER_TON, 400 * 4.719474e-4, SP811, "SP 811 B.8"},
    {"3600 m3/h/kW", CT_UNIT_AIRFLOW_PER_TON, 3.516853, SP811, "SP 811 B.8 ton"},
    {"1000 L/s/kW", CT_UNIT_AIRFLOW_PER_TON, 3.516853, SP811, "SP 811 B.8 ton"},
    {"1 m3/s/kW", CT_UNIT_AIRFLOW_PER_TON, 3.516853, SP811, "SP 811 B.8 ton"},
    {"1 inwc", CT_UNIT_PRESSURE, 249.0889, SP811, "SP 811 B.8 inch of water, conventional"},
    {"0.5 in. w.c.", CT_UNIT_PRESSURE, 0.5 * 249.08891, EXACT, "25.4 mm x 1000 kg/m3 x g_n"},
    {"1 inH2O", CT_UNIT_PRESSURE, 249.08891, EXACT, "25.4 mm x 1000 kg/m3 x g_n"},
    {"0.5 in", CT_UNIT_PRESSURE, 0.5 * 249.08891, EXACT, "static in inches is of water (trade)"},
    {"0.5 w.c.", CT_UNIT_PRESSURE, 0.5 * 249.08891, EXACT, "static in inches is of water (trade)"},
    {"1 psi", CT_UNIT_PRESSURE, 6894.757, SP811, "SP 811 B.8 psi"},
    {"14.69594878 psia", CT_UNIT_PRESSURE, CT_ATM_PA, 1e-9, "SP 811 atm over psi, ten digits"},
    {"1.01325 bar", CT_UNIT_PRESSURE, CT_ATM_PA, EXACT, "SP 811 B.8 standard atmosphere"},
    {"101.325 kPa", CT_UNIT_PRESSURE, CT_ATM_PA, EXACT, "SP 811 B.8 standard atmosphere"},
    {"125 Pa", CT_UNIT_PRESSURE, 125.0, EXACT, "definition"},
    {"100 psig", CT_UNIT_PRESSURE_GAUGE, 689475.7, SP811, "SP 811 B.8 psi"},
    {"7 barg", CT_UNIT_PRESSURE_GAUGE, 7e5, EXACT, "definition"},
    {"700 kPag", CT_UNIT_PRESSURE_GAUGE, 7e5, EXACT, "definition"},
    {"7 bar", CT_UNIT_PRESSURE_GAUGE, 7e5, EXACT, "definition; a gauge shows no other bar"},
    {"700 kPa", CT_UNIT_PRESSURE_GAUGE, 7e5, EXACT, "definition; a gauge shows no other kPa"},
    {"12 in", CT_UNIT_LENGTH, 0.3048, EXACT, "international foot"},
    {"1 ft", CT_UNIT_LENGTH, 0.3048, EXACT, "international foot"},
    {"9.525 mm", CT_UNIT_LENGTH, 0.375 * 0.0254, EXACT, "3/8 in"},
    {"30.48 cm", CT_UNIT_LENGTH, 0.3048, EXACT, "international foot"},
    {"1609.344 m", CT_UNIT_LENGTH, 5280 * 0.3048, EXACT, "mile of 5280 ft"},
    {"1 ft2", CT_UNIT_AREA, 0.09290304, EXACT, "SP 811 B.8 square foot, exact"},
    {"144 in²", CT_UNIT_AREA, 0.09290304, EXACT, "SP 811 B.8 square foot, exact"},
    {"0.4 m^2", CT_UNIT_AREA, 0.4, EXACT, "definition"},
    {"500 fpm", CT_UNIT_VELOCITY, 2.54, EXACT, "SP 811 B.8 ft/min = 5.08e-3 m/s, exact"},
    {"500 ft/min", CT_UNIT_VELOCITY, 2.54, EXACT, "SP 811 B.8 ft/min = 5.08e-3 m/s, exact"},
    {"2.5 m/s", CT_UNIT_VELOCITY, 2.5, EXACT, "definition"},
    {"50%", CT_UNIT_FRACTION, 0.5, EXACT, "definition"},
    {"0.5", CT_UNIT_FRACTION, 0.5, EXACT, "definition"},
    {".5", CT_UNIT_FRACTION, 0.5, EXACT, "definition"},
    {"-.25 in. w.c.", CT_UNIT_PRESSURE, -0.25 * 249.08891, EXACT, "conventional inch of water"},
    {".5 iwc", CT_UNIT_PRESSURE, 0.5 * 249.08891, EXACT, "conventional inch of water"},
    {"0.5 \"w.c.", CT_UNIT_PRESSURE, 0.5 * 249.08891, EXACT, "conventional inch of water"},
    {"300 watts", CT_UNIT_POWER, 300.0, EXACT, "definition"},
    {"36 MBH", CT_UNIT_POWER, 36000 * 0.29307107, SP811, "thousands of Btu/h; SP 811 B.8"},
    {"90 s", CT_UNIT_TIME, 90.0, EXACT, "definition"},
    {"1.5 min", CT_UNIT_TIME, 90.0, EXACT, "definition"},
    {"2 h", CT_UNIT_TIME, 7200.0, EXACT, "definition"},
    {"2.5 lb", CT_UNIT_WATER, 2.5 * 0.45359237, EXACT, "international pound"},
    {"1200 g", CT_UNIT_WATER, 1.2, EXACT, "definition"},
    {"2 pints", CT_UNIT_WATER, 0.946352946 * 0.9991, EXACT, "231 in3 gallon; water of 15 C"},
    {"1 qt", CT_UNIT_WATER, 0.946352946 * 0.9991, EXACT, "231 in3 gallon; water of 15 C"},
    {"1 gal", CT_UNIT_WATER, 8.338 * 0.45359237, 2e-4, "8.34 lb to the gallon; common practice"},
    {"500 mL", CT_UNIT_WATER, 0.49955, EXACT,
     "water of 15 C, 999.1 kg/m3, from memory, unconfirmed"},
    {"R-6", CT_UNIT_R_VALUE, 6 * 0.1761102, SP811, "SP 811 B.8 F h ft2/Btu(IT)"},
    {"r6", CT_UNIT_R_VALUE, 6 * 0.1761102, SP811, "SP 811 B.8 F h ft2/Btu(IT)"},
    {"6 R", CT_UNIT_R_VALUE, 6 * 0.1761102, SP811, "SP 811 B.8 F h ft2/Btu(IT)"},
    {"4.2 h·ft²·°F/Btu", CT_UNIT_R_VALUE, 4.2 * 0.1761102, SP811, "SP 811 B.8"},
    {"1.06 m2 K/W", CT_UNIT_R_VALUE, 1.06, EXACT, "definition"},
    {"1 Btu/(h ft F)", CT_UNIT_CONDUCTIVITY, 1.730735, SP811, "SP 811 B.8 Btu(IT) ft/(h ft2 F)"},
    {"237 W/m K", CT_UNIT_CONDUCTIVITY, 237.0, EXACT, "definition"},
    {"12.7 fins/in", CT_UNIT_FIN_DENSITY, 0.002, EXACT, "25.4 mm over 12.7"},
    {"12.7 fpi", CT_UNIT_FIN_DENSITY, 0.002, EXACT, "25.4 mm over 12.7"},
    {"500 fins/m", CT_UNIT_FIN_DENSITY, 0.002, EXACT, "definition"},
    {"2 mm", CT_UNIT_FIN_DENSITY, 0.002, EXACT, "definition"},
    /* As people write it. */
    {"36,000 Btu/h", CT_UNIT_POWER, 3 * 3516.853, SP811, "12000 Btu/h to the ton"},
    {"36,000 btu", CT_UNIT_POWER, 3 * 3516.853, SP811, "the trade's Btu is a Btu/h; no source"},
    {"1,036,000.5 W", CT_UNIT_POWER, 1036000.5, EXACT, "definition"},
    {"1,200 cfm", CT_UNIT_AIRFLOW, 1200 * 4.719474432e-4, EXACT, "12 in x 2.54 cm, to the minute"},
    {"3-ton", CT_UNIT_TONS, 3.0, EXACT, "definition"},
    {"3-1/2 ton", CT_UNIT_TONS, 3.5, EXACT, "definition"},
    {"3", CT_UNIT_TONS, 3.0, EXACT, "the only unit it can have"},
    {"50% RH", CT_UNIT_FRACTION, 0.5, EXACT, "definition"},
    {"50 percent", CT_UNIT_FRACTION, 0.5, EXACT, "definition"},
    {"77 deg F", CT_UNIT_TEMPERATURE, 298.15, EXACT, "25 C"},
    {"75 deg F", CT_UNIT_TEMPERATURE, (75 + 459.67) / 1.8, EXACT, "definition"},
    {"77 degrees F", CT_UNIT_TEMPERATURE, 298.15, EXACT, "25 C"},
    {"77 Fahrenheit", CT_UNIT_TEMPERATURE, 298.15, EXACT, "25 C"},
    {"25 deg. C", CT_UNIT_TEMPERATURE, 298.15, EXACT, "definition"},
    {"18 degF", CT_UNIT_DELTA_T, 10.0, EXACT, "1.8 F to the kelvin"},
    {"22-1/2\"", CT_UNIT_LENGTH, 22.5 * 0.0254, EXACT, "international inch"},
    {"22 1/2 in", CT_UNIT_LENGTH, 22.5 * 0.0254, EXACT, "international inch"},
    {"-22-1/2 in", CT_UNIT_LENGTH, -22.5 * 0.0254, EXACT, "international inch"},
    {"3/8 in", CT_UNIT_LENGTH, 0.375 * 0.0254, EXACT, "international inch"},
    {"3/8\"", CT_UNIT_LENGTH, 0.375 * 0.0254, EXACT, "international inch"},
    {"1'10\"", CT_UNIT_LENGTH, 22 * 0.0254, EXACT, "international foot and inch"},
    {"1'-10 1/2\"", CT_UNIT_LENGTH, 22.5 * 0.0254, EXACT, "international foot and inch"},
    {"1 ft 10 in", CT_UNIT_LENGTH, 22 * 0.0254, EXACT, "international foot and inch"},
    {"6'", CT_UNIT_LENGTH, 6 * 0.3048, EXACT, "international foot"},
    {"600 ft", CT_UNIT_LENGTH, 600 * 0.3048, EXACT, "international foot"},
    {"600 feet", CT_UNIT_LENGTH, 600 * 0.3048, EXACT, "international foot"},
    {"22 inches", CT_UNIT_LENGTH, 22 * 0.0254, EXACT, "international inch"},
    {"0.55\"", CT_UNIT_PRESSURE, 0.55 * 249.08891, EXACT,
     "an inch of water, where pressure belongs"},
    {"0.55 in wc", CT_UNIT_PRESSURE, 0.55 * 249.08891, EXACT, "conventional inch of water"},
    {"0.55 inches w.c.", CT_UNIT_PRESSURE, 0.55 * 249.08891, EXACT, "conventional inch of water"},
    {"100 psi", CT_UNIT_PRESSURE_GAUGE, 689475.7, SP811, "by gauge, the only reading there"},
    {"10 SEER", CT_UNIT_EER, 2.930711, SP811, "SP 811 B.8 Btu(IT)/h"},
    {"10 EER", CT_UNIT_EER, 2.930711, SP811, "SP 811 B.8 Btu(IT)/h"},
    {"10", CT_UNIT_EER, 2.930711, SP811, "no unit has 10 W/W"},
    {"$1,850", CT_UNIT_NONE, 1850.0, EXACT, "definition"},
    {"350", CT_UNIT_AIRFLOW_PER_TON, 350 * 4.719474e-4, SP811, "SP 811 B.8"},
    {"163 L/s per ton", CT_UNIT_AIRFLOW_PER_TON, 0.163, EXACT, "definition"},
    {"163 L/s/ton", CT_UNIT_AIRFLOW_PER_TON, 0.163, EXACT, "definition"},
    {"36000btu", CT_UNIT_TONS, 3.0, EXACT, "12000 Btu/h are a ton"},
    {"4.5 sq ft", CT_UNIT_AREA, 4.5 * 0.09290304, EXACT, "SP 811 B.8 square foot, exact"},
};

typedef struct {
    const char *text;
    ct_unit_kind kind;
    const char *says; /* a phrase of the message */
} refuse_row;

static const refuse_row refusals[] = {
    {"", CT_UNIT_NONE, "is not a number"},
    {"F", CT_UNIT_TEMPERATURE, "is not a number"},
    {"nan", CT_UNIT_NONE, "is not a number"},
    {"inf", CT_UNIT_NONE, "is not a number"},
    {"-inf F", CT_UNIT_TEMPERATURE, "is not a number"},
    {"0x5F F", CT_UNIT_TEMPERATURE, "is not a unit of temperature; allowed: F, C, K"},
    {"1e400", CT_UNIT_NONE, "is not a number"},
    {"1e-400", CT_UNIT_NONE, "is not a number"},
    {"1e99999999999999999999", CT_UNIT_NONE, "is not a number"},
    {"1.7e308 kW", CT_UNIT_POWER, "no possible power"},
    {"0 fins/in", CT_UNIT_FIN_DENSITY, "no possible fin spacing"},
    {".", CT_UNIT_NONE, "is not a number"},
    {".F", CT_UNIT_TEMPERATURE, "is not a number"},
    {"1200", CT_UNIT_AIRFLOW, "has no unit; an airflow is written with"},
    {"5", CT_UNIT_EER, "has no unit; an efficiency is written with"},
    {"10.5", CT_UNIT_TONS, "has no unit; a nominal size is written with"},
    {"193", CT_UNIT_AIRFLOW_PER_TON, "has no unit; an airflow per ton is written with"},
    {"1050 cfm", CT_UNIT_AIRFLOW_PER_TON,
     "'1050 cfm' is not an airflow per ton: divide it by the nominal tons and write cfm/ton"},
    {"450cfm", CT_UNIT_AIRFLOW_PER_TON, "divide it by the nominal tons"},
    {"200 L/s", CT_UNIT_AIRFLOW_PER_TON, "divide it by the nominal tons and write L/s/ton"},
    {"3,500 kW", CT_UNIT_POWER, "can mean thousands or a decimal comma"},
    {"1,200 m3/h", CT_UNIT_AIRFLOW, "can mean thousands or a decimal comma"},
    {"0,500 Btu/h", CT_UNIT_POWER, "has a comma"},
    {"36,00 Btu/h", CT_UNIT_POWER, "has a comma"},
    {"3600,000 Btu/h", CT_UNIT_POWER, "has a comma"},
    {"1'14\"", CT_UNIT_LENGTH, "is not a unit of length"},
    {"1/0 in", CT_UNIT_LENGTH, "is not a unit of length"},
    {"$5 F", CT_UNIT_TEMPERATURE, "is not a number"},
    {"13 SEER2", CT_UNIT_EER, "is not a unit of efficiency"},
    {"4 ton", CT_UNIT_NONE, "'ton' is where no unit belongs"},
    {"5.", CT_UNIT_NONE, "'.' is where no unit belongs"},
    {"+-5", CT_UNIT_NONE, "is not a number"},
    {"1.2.3 F", CT_UNIT_TEMPERATURE, "is not a unit"},
    {"1 000 W", CT_UNIT_POWER, "'000 W' is not a unit of power"},
    {"95,5 F", CT_UNIT_TEMPERATURE, "has a comma"},
    {"95", CT_UNIT_TEMPERATURE, "has no unit; a temperature is written with one of: F, C, K"},
    {"95 R", CT_UNIT_TEMPERATURE, "'R' is not a unit of temperature; allowed: F, C, K"},
    {"3 kg", CT_UNIT_POWER, "allowed: W, kW, Btu/h, kBtu/h, ton, hp"},
    {"3 cfm/ton", CT_UNIT_AIRFLOW, "allowed: cfm, m3/s, m3/h, L/s"},
    {"100 psig", CT_UNIT_PRESSURE, "allowed: Pa, kPa, bar, inwc, psi, psia"},
    {"R--6", CT_UNIT_R_VALUE, "is not a number"},
    {"R-6 R", CT_UNIT_R_VALUE, "is not a number"},
    {"5 abcdefghijklmnopqrstuvwxyzabcdefghij", CT_UNIT_TIME, "is not a unit of time"},
    {"50 F", CT_UNIT_NONE, "allowed: a bare number, or %"},
};

#define ROWS(a) (sizeof(a) / sizeof((a)[0]))

static void check_reads(void)
{
    for (size_t i = 0; i < ROWS(reads); i++) {
        double si = -1e300;
        ct_fault fault;
        check_is(reads[i].text, ct_units_read(reads[i].text, reads[i].kind, &si, &fault), ==,
                 CT_OK);
        check_rel(reads[i].text, si, reads[i].si, reads[i].tol);
    }
}

static void test_reads(void **state)
{
    (void)state;
    check_reads();
}

static void test_refusals(void **state)
{
    (void)state;
    for (size_t i = 0; i < ROWS(refusals); i++) {
        double si = 42.0;
        ct_fault fault;
        const char *text = refusals[i].text;
        check_is(text, ct_units_read(text, refusals[i].kind, &si, &fault), ==, CT_INPUT);
        if (!strstr(fault.what, refusals[i].says)) print_error("message: %s\n", fault.what);
        check_has(text, fault.what, refusals[i].says);
        check_abs(text, si, 42.0, 0.0); /* untouched */
    }
}

/* Every unit that the messages offer is one that the reader takes, there and back. */
static void check_listed(ct_unit_kind kind, const char *unit)
{
    char text[64];
    double si;
    double back;
    const char *named;
    snprintf(text, sizeof text, "12.5 %s", unit);
    check_is(text, ct_units_read_as(text, kind, &si, &named, NULL), ==, CT_OK);
    check_same_text(text, named, unit);
    check_that(text, ct_units_to(si, kind, unit, &back));
    check_rel(text, back, 12.5, 1e-14); /* F: 459.67 is taken off a number 40 times larger */
}

static void test_listed_units(void **state)
{
    (void)state;
    for (int k = CT_UNIT_NONE; k <= CT_UNIT_FIN_DENSITY; k++) {
        char list[128];
        snprintf(list, sizeof list, "%s", ct_units_allowed((ct_unit_kind)k));
        for (char *save, *w = strtok_r(list, ",", &save); w; w = strtok_r(NULL, ",", &save)) {
            while (*w == ' ')
                w++;
            if (strncmp(w, "R (", 3) == 0) w[1] = '\0';
            if (strncmp(w, "or the pitch in ", 16) == 0) w += 16;
            if (strncmp(w, "or ", 3) == 0) w += 3; /* before: 'or a bare fraction' */
            if (strncmp(w, "a bare", 6) == 0) w[0] = '\0';
            check_listed((ct_unit_kind)k, w);
        }
    }
}

static void test_unit_round_trip(void **state)
{
    (void)state;
    static const struct {
        ct_unit_kind kind;
        const char *unit;
    } rows[] = {{CT_UNIT_NONE, ""},
                {CT_UNIT_TEMPERATURE, "F"},
                {CT_UNIT_TEMPERATURE, "C"},
                {CT_UNIT_DELTA_T, "F"},
                {CT_UNIT_POWER, "Btu/h"},
                {CT_UNIT_POWER, "kW"},
                {CT_UNIT_TONS, "ton"},
                {CT_UNIT_TONS, "kW"},
                {CT_UNIT_EER, "Btu/Wh"},
                {CT_UNIT_EER, "W/W"},
                {CT_UNIT_AIRFLOW, "cfm"},
                {CT_UNIT_AIRFLOW, "m3/h"},
                {CT_UNIT_AIRFLOW_PER_TON, "cfm/ton"},
                {CT_UNIT_AIRFLOW_PER_TON, "m3/h/kW"},
                {CT_UNIT_PRESSURE, "inwc"},
                {CT_UNIT_PRESSURE, "Pa"},
                {CT_UNIT_PRESSURE_GAUGE, "psig"},
                {CT_UNIT_PRESSURE_GAUGE, "barg"},
                {CT_UNIT_LENGTH, "in"},
                {CT_UNIT_LENGTH, "mm"},
                {CT_UNIT_AREA, "ft2"},
                {CT_UNIT_VELOCITY, "fpm"},
                {CT_UNIT_FRACTION, "%"},
                {CT_UNIT_TIME, "min"},
                {CT_UNIT_WATER, "pint"},
                {CT_UNIT_R_VALUE, "R"},
                {CT_UNIT_R_VALUE, "m2K/W"},
                {CT_UNIT_CONDUCTIVITY, "Btu/h.ft.F"},
                {CT_UNIT_FIN_DENSITY, "fins/in"},
                {CT_UNIT_FIN_DENSITY, "fins/m"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double si = 0.0375 * (rows[i].kind + 1) + 280.0;
        char text[80], number[32];
        double v, back;
        check_that(rows[i].unit, ct_units_to(si, rows[i].kind, rows[i].unit, &v));
        snprintf(text, sizeof text, "%s %s", ct_number_write(v, 17, number, 32), rows[i].unit);
        check_is(text, ct_units_read(text, rows[i].kind, &back, NULL), ==, CT_OK);
        check_rel(text, back, si, 1e-14);
    }
    check_rel("F and back", ct_F_from_K(ct_K_from_F(67.0)), 67.0, 2e-15 * 527 / 67);
}

static void test_comma_locale(void **state)
{
    (void)state;
    char dir[64];
    char text[32];
    comma_locale_enter(dir);
    check_reads();
    check_same_text("writes '.'", ct_number_write(0.62, 3, text, 32), "0.62");
    check_same_text("exponent", ct_number_write(-1.5e-30, 3, text, 32), "-1.5e-30");
    comma_locale_leave(dir);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_reads),        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_listed_units), cmocka_unit_test(test_unit_round_trip),
        cmocka_unit_test(test_comma_locale),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
