/* The program as its user meets it: arguments in; output, message and exit code out. Then its
 * writers: CSV, files written whole or not at all, text made safe for gnuplot, plot scripts. */
#include "check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <jansson.h>

#include "base/exit_codes.h"
#include "base/gnuplot.h"
#include "base/number_text.h"
#include "base/write_file.h"
#include "locale_comma.h"
#include "program.h"
#include "show/against_words.h"
#include "show/csv.h"
#include "show/plot_script.h"

static void read_text(const char *path, char *text, size_t size)
{
    check_that(path, program_is_there(path));
    program_read(path, text, size);
}

/* An invented job without a load calculation or a measured airflow. */
#define FOUND                                                                                      \
    "tons=3", "refrigerant=R-22", "seer=10", "return_static=.45inwc", "supply_static=.15inwc",     \
        "rise=26F", "strips=10kW", "run_minutes=42min", "run_outdoor=90F"
#define FOUND_LOAD "Load: sensible, by run time 2"

static const program_row runs[] = {
    {"no arguments is wrong usage", {NULL}, EXIT_USAGE, NULL, "Usage: coiltrim VERB"},
    {"help lists verbs", {"--help"}, EXIT_DONE, "  refrigerant ", NULL},
    {"help lists exit codes", {"--help"}, EXIT_DONE, "  10  done and written, ", NULL},
    {"version", {"--version"}, EXIT_DONE, "coiltrim 0.", NULL},
    {"verb's help has an example", {"air", "--help"}, EXIT_DONE, "  coiltrim air --dry-bulb", NULL},
    {"verb's help has units", {"refrigerant", "-h"}, EXIT_DONE, "psig, barg, kPag", NULL},
    {"verb's help has the default", {"air", "-h"}, EXIT_DONE, "(default 0 ft)", NULL},
    {"help wins over a fault", {"air", "--dry-bulb", "x", "--help"}, EXIT_DONE, "Usage:", NULL},
    {"unknown verb, near", {"refrigerent"}, EXIT_USAGE, NULL, "did you mean 'refrigerant'?"},
    {"unknown verb, far", {"zzz"}, EXIT_USAGE, NULL, "no verb 'zzz'; 'coiltrim --help' lists them"},
    {"help of a verb", {"help", "air"}, EXIT_DONE, "Usage: coiltrim air", NULL},
    {"help of no verb", {"help", "aire"}, EXIT_USAGE, NULL, "did you mean 'air'?"},
    {"version, short", {"-V"}, EXIT_DONE, "coiltrim 0.", NULL},
    {"a long name cut short", {"air", "--dry", "80F", "--rh", "50%"}, EXIT_DONE, "ry bulb", NULL},
    {"a long name cut too short",
     {"sweep", "x", "--s"},
     EXIT_USAGE,
     NULL,
     "--s can be --si, --save; write more of it"},
    {"a piston in place of the valve of a file",
     {"sweep", SOURCE_DIR "/examples/r22-larger-coil.yaml", "metering=piston", "bore=67", "-q"},
     EXIT_DONE,
     "Pick: ",
     "with metering = piston these values of the file are set aside: indoor.metering.superheat = "
     "10 F, indoor.metering.rated_capacity = 3 ton, indoor.metering.rated_drop = 100 psi\n"},
    {"letters together",
     {"sweep", "x", "-qo", "y"},
     EXIT_SYSTEM,
     NULL,
     "x: cannot be read: there is no such file"},
    {"a wrong letter among others", {"sweep", "x", "-qz"}, EXIT_USAGE, NULL, "no option -z"},
    {"facts without a file",
     {"sweep", "tons=3", "refrigerant=R-22", "seer=10", "static=0.7inwc", "load=24,000btu",
      "latent=4800btu"},
     EXIT_DONE,
     "Pick: ",
     NULL},
    {"a load and an airflow found are said by compare",
     {"compare", FOUND},
     EXIT_DONE,
     "Airflow: by the rise through the heat ",
     NULL},
    {"and by metering", {"metering", FOUND}, EXIT_DONE, FOUND_LOAD, NULL},
    {"and by whatif", {"whatif", FOUND}, EXIT_DONE, FOUND_LOAD, NULL},
    {"and by explain", {"explain", "--at", "350", FOUND}, EXIT_DONE, FOUND_LOAD, NULL},
    {"and by compare to programs", {"compare", "--json", FOUND}, EXIT_DONE, "\"run_time\"", NULL},
    {"words of the trade become the program's",
     {"sweep", "tons=3-ton", "refrigerant=HCFC-22", "metering=TXV", "seer=10 SEER"},
     EXIT_DONE,
     "R-22, 3 ton outdoor unit",
     "is a guess"},
    {"R410a", {"compare", "tons=3", "refrigerant=R410a"}, EXIT_DONE, "R-410A, 3 ton", "is a guess"},
    {"ECM is two motors",
     {"sweep", "tons=3", "refrigerant=R-22", "motor=ECM"},
     EXIT_INPUT,
     NULL,
     "'ECM' can be constant_torque or constant_airflow; write which one"},
    {"a long reason is whole",
     {"sweep", "tons=3", "coil_tons=4ton", "--reasons"},
     EXIT_DONE,
     "differ by a fifth; common practice,\n           no source\n",
     "is a guess"},
    {"a piston has a bore",
     {"sweep", "tons=3", "refrigerant=R-22", "metering=piston"},
     EXIT_INPUT,
     NULL,
     "a piston needs 'bore' beside it"},
    {"an airflow per ton without its unit",
     {"explain", "tons=3", "refrigerant=R-22", "--at", "350"},
     EXIT_DONE,
     "at 350 cfm/ton",
     "is a guess"},
    {"a guessed load is a close call, with the air that covers it",
     {"sweep", "tons=3", "refrigerant=R-410A", "load=24000btu", "-q"},
     EXIT_DONE,
     "cfm/ton) there is that much to spare.",
     "is a guess"},
    {"and the next slower airflow is no near tie",
     {"sweep", "tons=3", "refrigerant=R-410A", "load=24000btu", "--json"},
     EXIT_DONE,
     "\"close_call\": true,\n    \"near_tie\": false",
     "is a guess"},
    {"past the model no verdict: sweep",
     {"sweep", SOURCE_DIR "/examples/r22-larger-coil.yaml", "indoor=120F", "wet_bulb=105F"},
     EXIT_MODEL,
     NULL,
     "103 F dew point"},
    {"past the model no verdict: whatif",
     {"whatif", SOURCE_DIR "/examples/r22-larger-coil.yaml", "indoor=120F", "wet_bulb=105F"},
     EXIT_MODEL,
     NULL,
     "103 F dew point"},
    {"past the model no verdict: compare",
     {"compare", SOURCE_DIR "/examples/r22-larger-coil.yaml", "indoor=120F", "wet_bulb=105F"},
     EXIT_MODEL,
     NULL,
     "103 F dew point"},
    {"past the model no verdict: explain",
     {"explain", SOURCE_DIR "/examples/r22-larger-coil.yaml", "indoor=120F", "wet_bulb=105F"},
     EXIT_MODEL,
     NULL,
     "103 F dew point"},
    {"past the model no verdict: metering",
     {"metering", SOURCE_DIR "/examples/r22-larger-coil.yaml", "indoor=120F", "wet_bulb=105F"},
     EXIT_MODEL,
     NULL,
     "103 F dew point"},
    {"past the model no verdict: season",
     {"season", SOURCE_DIR "/examples/r22-larger-coil.yaml", "indoor=120F", "wet_bulb=105F"},
     EXIT_MODEL,
     NULL,
     "103 F dew point"},
    {"a humidity without its %",
     {"air", "--dry-bulb", "75F", "--rh", "50"},
     EXIT_USAGE,
     NULL,
     "--rh: '50' is over 1 and has no %; write 50%"},
    {"no speed passes, said with the one that is explained",
     {"explain", SOURCE_DIR "/examples/nothing-passes.yaml"},
     EXIT_NO_PICK,
     ", which comes nearest: no speed passes\n",
     NULL},
    {"the airflow read while it heats is wrong: it is set anew",
     {"sweep", "tons=3", "refrigerant=R-410A", "load=20000btu", "heating_airflow=1800cfm",
      "furnace=60000btu", "rise_min=35F", "rise_max=65F", "-q"},
     EXIT_NO_PICK,
     "- heating with 1,580 cfm instead of 1,800 cfm: ",
     "is a guess"},
    {"and then it passes",
     {"sweep", "tons=3", "refrigerant=R-410A", "load=20000btu", "heating_airflow=1580cfm",
      "furnace=60000btu", "rise_min=35F", "rise_max=65F", "-q"},
     EXIT_DONE,
     "Pick: ",
     "is a guess"},
    {"both are needed, the heating and less load",
     {"sweep", "tons=3", "refrigerant=R-410A", "load=29000btu", "heating_airflow=1800cfm",
      "furnace=60000btu", "rise_min=35F", "rise_max=65F", "-q"},
     EXIT_NO_PICK,
     "- heating with 1,580 cfm instead of 1,800 cfm, and ",
     "is a guess"},
    {"but half a unit can be read two ways",
     {"explain", "tons=3", "refrigerant=R-22", "--at", "350cfm"},
     EXIT_USAGE,
     NULL,
     "'350cfm' is not an airflow per ton: divide it by the nominal tons and write cfm/ton"},
    {"a guess is reported",
     {"sweep", "tons=3", "seer=10 SEER", "-q"},
     EXIT_DONE,
     "Pick: ",
     "house.sensible_load = 22800 Btu/h is a guess: 65% of the rated capacity"},
    {"a plus is explained",
     {"sweep", "tons=3", "refrigerant=R-22", "metering=piston", "bore=.067in"},
     EXIT_DONE,
     " +: fails more than the limit named.",
     "is a guess"},
    {"the size must be known", {"sweep", "seer=10"}, EXIT_INPUT, NULL, "give its tons, as tons=3"},
    {"a fault of a pair",
     {"sweep", "tons=x", "seer=10"},
     EXIT_INPUT,
     NULL,
     "command line: outdoor.tons: 'x' is not a number"},
    {"a misspelled short name",
     {"sweep", "tonz=3", "tons=3"},
     EXIT_INPUT,
     NULL,
     "tonz: no such key; did you mean 'tons'?"},
    {"a word of several keys",
     {"season", "tons=3", "seer=10", "price=0.15"},
     EXIT_INPUT,
     NULL,
     "price: more than one key has this name; write indoor.price or season.price"},
    {"a section's name as a pair",
     {"sweep", "tons=3", "seer=10", "heat_pump=yes"},
     EXIT_INPUT,
     NULL,
     "it belongs at 'outdoor.heat_pump' (a section"},
    {"a section given a value",
     {"sweep", "tons=3", "seer=10", "outdoor.heat_pump=yes"},
     EXIT_INPUT,
     NULL,
     "write outdoor.heat_pump.KEY=VALUE; 'coiltrim keys outdoor.heat_pump' lists them"},
    {"tons where the ratio belongs",
     {"sweep", "tons=3", "seer=10", "coil=3.5ton"},
     EXIT_INPUT,
     NULL,
     "with a unit give it as indoor.coil.tons"},
    {"a table without its base",
     {"batch", SOURCE_DIR "/examples/jobs.csv", "-o", "-", "-q"},
     EXIT_INPUT,
     "case,outcome",
     "without --base CASE each row must be a whole case"},
    {"a run time of two stages",
     {"sweep", "tons=3", "refrigerant=R-22", "seer=10", "outdoor.stages=two", "run_minutes=42min",
      "run_outdoor=90F"},
     EXIT_INPUT,
     NULL,
     "house.run_time.minutes: a run time does not say which of two stages ran"},
    {"case and weather both from standard input",
     {"season", "-", "--weather", "-"},
     EXIT_USAGE,
     NULL,
     "season: '-' given 2 times; only one file can come from standard input"},
    {"case and readings both from standard input",
     {"page", "-", "--readings", "-"},
     EXIT_USAGE,
     NULL,
     "only one file can come from standard input"},
    {"the beginning of a short name",
     {"sweep", "ref=R-22", "tons=3"},
     EXIT_INPUT,
     NULL,
     "ref: no such key; did you mean 'refrigerant'?"},
    {"two that exclude each other",
     {"sweep", "tons=3", "seer=10", "eer=9", "load=20000btu"},
     EXIT_INPUT,
     NULL,
     "contradicts 'rated_eer'"},
    {"a pair changes a file, and replaces what says the same",
     {"sweep", SOURCE_DIR "/examples/r22-larger-coil.yaml", "eer=9.5", "outdoor=100F", "-q"},
     EXIT_DONE,
     "Pick: ",
     NULL},
    {"no value", {"sweep", "tons="}, EXIT_USAGE, NULL, "needs a value after '='"},
    {"a file with an equals sign",
     {"sweep", "./tons=3"},
     EXIT_SYSTEM,
     NULL,
     "./tons=3: cannot be read: "},
    {"no folder is called -",
     {"sweep", "tons=3", "load=24000btu", "latent=4800btu", "refrigerant=R-22", "-o", "-"},
     EXIT_SYSTEM,
     NULL,
     "cannot go to standard output"},
    {"a saved case on standard output",
     {"whatif", "tons=3", "load=24000btu", "latent=4800btu", "refrigerant=R-22", "--save", "-"},
     EXIT_DONE,
     "  tons: 3  ",
     NULL},
    {"unknown option, near",
     {"air", "--wetbulb", "67F"},
     EXIT_USAGE,
     NULL,
     "no option --wetbulb; did you mean --wet-bulb?"},
    {"unknown option with =", {"air", "--xyzzy=3"}, EXIT_USAGE, NULL, "no option --xyzzy\n"},
    {"unknown letter", {"air", "-q"}, EXIT_USAGE, NULL, "no option -q"},
    {"value missing", {"air", "--dry-bulb"}, EXIT_USAGE, NULL, "--dry-bulb needs a value, TEMP"},
    {"required missing", {"air", "--rh", "50%"}, EXIT_USAGE, NULL, "--dry-bulb TEMP is missing"},
    {"given twice", {"air", "--rh", "50%", "--rh", "50%"}, EXIT_USAGE, NULL, "--rh is given twice"},
    {"flag with a value", {"air", "--si=yes"}, EXIT_USAGE, NULL, "--si takes no value, 'yes'"},
    {"no unit", {"air", "--dry-bulb", "80", "--rh", "50%"}, EXIT_USAGE, NULL, "F, C, K"},
    {"wrong kind of unit", {"air", "--dry-bulb", "80psig"}, EXIT_USAGE, NULL, "F, C, K"},
    {"not a number", {"air", "--dry-bulb", "nan F"}, EXIT_USAGE, NULL, "air: --dry-bulb: "},
    {"operand too many", {"air", "80F"}, EXIT_USAGE, NULL, "'80F' is one argument too many"},
    {"readings after the case",
     {"page", "a.yaml", "b.yaml"},
     EXIT_USAGE,
     NULL,
     "go behind --readings"},
    {"weather after the case", {"season", "a.yaml", "w.csv"}, EXIT_USAGE, NULL, "--weather"},
    {"two cases to compare", {"compare", "a.yaml", "b.yaml"}, EXIT_USAGE, NULL, "candidates:"},
    {"a reading without its option",
     {"refrigerant", "R-22", "68psig"},
     EXIT_USAGE,
     NULL,
     "such as --pressure 68psig"},
    {"air without options", {"air", "75F"}, EXIT_USAGE, NULL, "such as --dry-bulb 75F"},
    {"a file for new", {"new", "job.yaml"}, EXIT_USAGE, NULL, "--save names a file to write"},
    {"operand missing", {"refrigerant"}, EXIT_USAGE, NULL, "REFRIGERANT is missing"},
    {"control characters come back as ?", {"a\033[31mir"}, EXIT_USAGE, NULL, "no verb 'a?[31mir'"},
    {"two humidity readings",
     {"air", "--dry-bulb", "80F", "--rh", "50%", "--wet-bulb", "67F"},
     EXIT_USAGE,
     NULL,
     "2 humidity readings given; give exactly one"},
    {"no humidity reading",
     {"air", "--dry-bulb", "80F"},
     EXIT_USAGE,
     NULL,
     "0 humidity readings given"},
    {"wet bulb above dry bulb",
     {"air", "--dry-bulb", "80F", "--wet-bulb", "90F"},
     EXIT_INPUT,
     NULL,
     "90.0 F"},
    {"dry bulb beyond comfort air",
     {"air", "--dry-bulb", "400F", "--rh", "50%"},
     EXIT_MODEL,
     NULL,
     "outside the range of the model"},
    {"altitude beyond the atmosphere's formula",
     {"air", "--dry-bulb", "80F", "--rh", "50%", "--altitude", "99000ft"},
     EXIT_MODEL,
     NULL,
     "outside the range of the model"},
    {"value may touch its unit, option its value",
     {"air", "--dry-bulb=80F", "--wet-bulb=67F"},
     EXIT_DONE,
     "Wet bulb                                67.0 F",
     NULL},
    {"value below zero",
     {"air", "--dry-bulb", "-5 F", "--rh", "50 %"},
     EXIT_DONE,
     "Dry bulb                                -5.0 F",
     NULL},
    {"metric table",
     {"air", "--dry-bulb", "20 C", "--rh", "50 %", "--si"},
     EXIT_DONE,
     "Dry bulb                                20.0 C",
     NULL},
    {"unknown refrigerant", {"refrigerant", "R-999"}, EXIT_INPUT, NULL, "R-410A"},
    {"pressure without temperature",
     {"refrigerant", "R-22", "--suction-pressure", "68psig"},
     EXIT_USAGE,
     NULL,
     "--suction-pressure needs --suction-temperature beside it"},
    {"temperature without pressure",
     {"refrigerant", "R-22", "--liquid-temperature", "95F"},
     EXIT_USAGE,
     NULL,
     "--liquid-temperature needs --liquid-pressure beside it"},
    {"absolute where a gauge is asked",
     {"refrigerant", "R-22", "--pressure", "68psia"},
     EXIT_USAGE,
     NULL,
     "psig, barg, kPag"},
    {"above the tables",
     {"refrigerant", "R-22", "--temperature", "300F"},
     EXIT_MODEL,
     NULL,
     "outside the range of the model"},
    {"superheat says what it counts from",
     {"refrigerant", "R-22", "--suction-pressure", "68.6psig", "--suction-temperature", "52F"},
     EXIT_DONE,
     "superheat is counted from the dew temperature",
     NULL},
    {"subcooling says what it counts from",
     {"refrigerant", "R-22", "--liquid-pressure", "195.9psig", "--liquid-temperature", "90F"},
     EXIT_DONE,
     "subcooling is counted from the bubble temperature",
     NULL},
    {"liquid in the suction line is noted",
     {"refrigerant", "R-22", "--suction-pressure", "68.6psig", "--suction-temperature", "35F"},
     EXIT_DONE,
     "Note: the line is no warmer than the dew temperature",
     NULL},
    {"vapor in the liquid line is noted",
     {"refrigerant", "R-22", "--liquid-pressure", "195.9psig", "--liquid-temperature", "110F"},
     EXIT_DONE,
     "Note: the line is no colder than the bubble temperature",
     NULL},
    {"output into a folder that is not there",
     {"air", "--dry-bulb", "80F", "--rh", "50%", "-o", "/nowhere/state.txt"},
     EXIT_SYSTEM,
     NULL,
     "/nowhere/state.txt: cannot be written: there is no folder '/nowhere'"},
    {"output into a full device",
     {"air", "--dry-bulb", "80F", "--rh", "50%", "--output", "/dev/full"},
     EXIT_SYSTEM,
     NULL,
     "/dev/full: cannot be written: No space left"},
    {"output onto a folder",
     {"air", "--dry-bulb", "80F", "--rh", "50%", "-o/tmp"},
     EXIT_SYSTEM,
     NULL,
     "/tmp: cannot be written: it is a folder"},
};

static void test_runs(void **state)
{
    (void)state;
    program_check_rows(runs, sizeof runs / sizeof runs[0]);
}

/* Sources of expected values.
 * HW: Hyland & Wexler 1983 with the ideal-mixture relations of ASHRAE Fundamentals ch. 1, worked
 * out independently of this program; the tolerance is half the last digit printed. USSA: US
 * Standard Atmosphere 1976, 5000 ft: 12.228 psia; half the last digit. NIST: public
 * pressure-temperature charts drawn from NIST's reference database, printed to 0.1 psi. 0.1 psi
 * allows the last digit of the chart and the equation's own 0.05; in temperature that is 0.1 psi
 * over the slope, 1.5 psi/F for R-22 and 2.4 psi/F for R-410A at 40 F. */
static const struct {
    const char *name;
    const char *args[PROGRAM_MAX_ARGS];
    const char *group, *key; /* group NULL: at the top */
    double expected, tolerance;
} values[] = {
#define A_TEST_AIR "air", "--dry-bulb", "80 F", "--wet-bulb", "67 F", "--json"
    {"80/67 F moisture, HW", {A_TEST_AIR}, NULL, "humidity_ratio_lb_per_lb", 0.0111659, 5e-8},
    {"80/67 F dew point, HW", {A_TEST_AIR}, NULL, "dew_point_f", 60.31, 0.005},
    {"80/67 F relative humidity, HW", {A_TEST_AIR}, NULL, "relative_humidity", 0.5109, 5e-5},
    {"80/67 F volume, HW", {A_TEST_AIR}, NULL, "volume_ft3_per_lb", 13.8495, 5e-5},
    {"80/67 F enthalpy, SI, HW", {A_TEST_AIR, "--si"}, NULL, "enthalpy_j_per_kg", 55306, 0.5},
    {"80/67 F volume, SI, HW", {A_TEST_AIR, "--si"}, NULL, "volume_m3_per_kg", 0.86459, 5e-6},
    {"80 F in SI, exact", {A_TEST_AIR, "--si"}, NULL, "dry_bulb_k", 299.8166667, 5e-8},
    {"sea level, exact by definition",
     {A_TEST_AIR, "--si"},
     NULL,
     "barometric_pressure_pa",
     101325,
     1e-9},
    {"barometer at 5000 ft, USSA",
     {A_TEST_AIR, "--altitude", "5000 ft"},
     NULL,
     "barometric_pressure_psia",
     12.228,
     5e-4},
#define AT_T(FLUID, T) "refrigerant", FLUID, "--json", "--temperature", T
#define SAT_T "saturation_at_temperature"
    {"R-22 20 F, NIST", {AT_T("R-22", "20F")}, SAT_T, "bubble_pressure_psig", 43.1, 0.1},
    {"R-22 40 F, NIST", {AT_T("R-22", "40F")}, SAT_T, "bubble_pressure_psig", 68.6, 0.1},
    {"R-22 100 F, NIST", {AT_T("R-22", "100F")}, SAT_T, "bubble_pressure_psig", 195.9, 0.1},
    {"R-22 120 F, NIST", {AT_T("R-22", "120F")}, SAT_T, "bubble_pressure_psig", 260.0, 0.1},
    {"R-22 has one saturation", {AT_T("r22", "40F")}, SAT_T, "dew_pressure_psig", 68.6, 0.1},
    {"R-410A 20 F, NIST", {AT_T("R-410A", "20F")}, SAT_T, "bubble_pressure_psig", 78.7, 0.1},
    {"R-410A 40 F, NIST", {AT_T("R-410A", "40F")}, SAT_T, "bubble_pressure_psig", 118.8, 0.1},
    {"R-410A 100 F, NIST", {AT_T("R-410A", "100F")}, SAT_T, "bubble_pressure_psig", 318.5, 0.1},
    {"R-410A 120 F, NIST", {AT_T("R-410A", "120F")}, SAT_T, "bubble_pressure_psig", 419.5, 0.1},
    {"R-410A 40 F absolute, NIST",
     {AT_T("R-410A", "40F")},
     SAT_T,
     "bubble_pressure_psia",
     118.8 + 14.696,
     0.1},
    /* The gauge reads more where the air presses less: 14.696 - 12.228 psi. NIST and USSA. */
    {"R-410A 40 F at 5000 ft",
     {AT_T("R-410A", "40F"), "--altitude", "5000ft"},
     SAT_T,
     "bubble_pressure_psig",
     118.8 + 14.696 - 12.228,
     0.1},
    {"R-22 68.6 psig, NIST",
     {"refrigerant", "R-22", "--pressure", "68.6psig", "--json"},
     "saturation_at_pressure",
     "dew_temperature_f",
     40,
     0.1 / 1.5},
    {"R-410A 118.8 psig, NIST",
     {"refrigerant", "R-410A", "--pressure", "118.8psig", "--json"},
     "saturation_at_pressure",
     "bubble_temperature_f",
     40,
     0.1 / 2.4},
    {"R-22 superheat, NIST",
     {"refrigerant", "R-22", "--suction-pressure", "68.6 psig", "--suction-temperature", "52 F",
      "--json"},
     "superheat",
     "superheat_f",
     12,
     0.1 / 1.5},
    {"R-22 superheat in K, NIST",
     {"refrigerant", "R-22", "--suction-pressure", "68.6 psig", "--suction-temperature", "52 F",
      "--json", "--si"},
     "superheat",
     "superheat_k",
     12 / 1.8,
     0.1 / 1.5 / 1.8},
    /* 318.5 psig is 100 F on the liquid side; the slope there is 5 psi/F. */
    {"R-410A subcooling, NIST",
     {"refrigerant", "R-410A", "--liquid-pressure", "318.5 psig", "--liquid-temperature", "90 F",
      "--json"},
     "subcooling",
     "subcooling_f",
     10,
     0.1 / 5},
};

static double json_value(const char *name, const char *text, const char *group, const char *key)
{
    json_error_t error;
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, &error);
    if (!root) print_error("%s: %s in:\n%s\n", name, error.text, text);
    check_that(name, root != NULL);
    const json_t *number = json_object_get(group ? json_object_get(root, group) : root, key);
    if (!json_is_real(number)) print_error("%s: no number %s in:\n%s\n", name, key, text);
    check_that(name, json_is_real(number));
    const double v = json_real_value(number);
    json_decref(root);
    return v;
}

static void test_values(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        program_result result;
        program_run(values[i].args, environ, &result);
        program_expect(values[i].name, result.err, NULL);
        check_abs(values[i].name, result.code, EXIT_DONE, 0);
        check_abs(values[i].name,
                  json_value(values[i].name, result.out, values[i].group, values[i].key),
                  values[i].expected, values[i].tolerance);
    }
}

/* On one line and one gauge, superheat from dew and subcooling from bubble differ by the glide.
 * Were both taken from the same curve the sum would be 0. R-407C glides 8 to 12 F: common practice,
 * no source. */
static void test_glide_sides(void **state)
{
    (void)state;
    const char *const args[] = {"refrigerant",
                                "R-407C",
                                "--suction-pressure",
                                "100psig",
                                "--suction-temperature",
                                "60F",
                                "--liquid-pressure",
                                "100psig",
                                "--liquid-temperature",
                                "60F",
                                "--json",
                                NULL};
    program_result result;
    program_run(args, environ, &result);
    const double glide = -json_value("superheat", result.out, "superheat", "superheat_f") -
                         json_value("subcooling", result.out, "subcooling", "subcooling_f");
    check_abs("R-407C glide", glide, 10, 2);
}

static void test_output_file(void **state)
{
    (void)state;
    const char *path = program_path("state.json");
    const char *const args[] = {"air", "--dry-bulb", "80F",    "--wet-bulb", "67F",
                                "-o",  path,         "--json", NULL};
    program_result result;
    char text[4096];
    program_run(args, environ, &result);
    check_abs("written", result.code, EXIT_DONE, 0);
    program_expect("nothing on standard output", result.out, NULL);
    read_text(path, text, sizeof text);
    check_abs("its wet bulb", json_value("file", text, NULL, "wet_bulb_f"), 67, 1e-6);
}

static void test_full_standard_output(void **state)
{
    (void)state;
    const char *const args[] = {"--help", NULL};
    char text[4096];
    const char *err = program_path("err");
    check_abs("code", program_spawn(PROGRAM, args, "/dev/full", err, environ), EXIT_SYSTEM, 0);
    read_text(err, text, sizeof text);
    program_expect("told", text, "standard output: cannot be written: No space left");
}

/* In a comma locale neither the writers nor the program write a comma, nor stumble over a point. */
static void test_comma_locale(void **state)
{
    (void)state;
    char dir[64], text[NUMBER_TEXT_SIZE], process[16];
    comma_locale_enter(dir);
    check_that("finite", number_text(text, 95.5, 6));
    check_same_text("shown with a point", text, "95.5");
    check_that("shortest", number_text(text, 0.1, 0));
    check_same_text("0.1 is 0.1", text, "0.1");
    snprintf(process, sizeof process, "%.1f", 95.5);
    check_same_text("the process keeps its locale", process, "95,5");
    const char *const args[] = {"air", "--dry-bulb", "80.5F", "--rh", "50%", "--json", NULL};
    program_result result;
    setenv("LC_ALL", "de_DE.UTF-8", 1);
    program_run(args, environ, &result);
    unsetenv("LC_ALL");
    comma_locale_leave(dir);
    check_abs("dry bulb", json_value("json", result.out, NULL, "dry_bulb_f"), 80.5, 1e-9);
}

/* As the C library writes them, rounding and all: many sizes, and halves of the last digit. */
static void numbers_as_printf(void)
{
    char text[NUMBER_TEXT_SIZE], want[64];
    unsigned long seed = 1;
    for (int i = 0; i < 40000; i++) {
        const int digits = 1 + i % 12;
        seed = seed * 6364136223846793005u + 1442695040888963407u;
        double v = ldexp((double)(seed >> 11), (int)(seed % 90) - 90);
        if (i % 5 == 0) v = (double)((seed >> 40) % 100000) / 32; /* ends in ...5 */
        if (i % 7 == 0) v = -v;
        if (i % 11 == 0) v = round(v) * (1 - 1e-15);
        snprintf(want, sizeof want, "%.*g", digits, v);
        const double back = strtod(want, NULL);
        if (strchr(want, 'e') && fabs(back) >= 1 && fabs(back) < 1e15)
            snprintf(want, sizeof want, "%.0f", back);
        check_that(want, number_text(text, v, digits));
        assert_string_equal(text, want);
    }
}

static void test_numbers(void **state)
{
    (void)state;
    static const struct {
        double v;
        int digits;
        const char *text;
    } rows[] = {{1.0 / 3, 4, "0.3333"}, {36000, 0, "36000"},
                {1e22, 0, "1e+22"},     {-0.0, 0, "-0"},
                {5e-324, 0, "5e-324"},  {0.3, 0, "0.3"},
                {123456, 3, "123000"},  {0.1 + 0.2, 0, "0.30000000000000004"}};
    char text[NUMBER_TEXT_SIZE];
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        check_that(rows[i].text, number_text(text, rows[i].v, rows[i].digits));
        assert_string_equal(text, rows[i].text);
    }
    numbers_as_printf();
    check_that("NaN has no text", !number_text(text, NAN, 0));
    check_that("NaN has no text", text[0] == '\0');
    check_that("infinity has no text", !number_text(text, INFINITY, 5));
}

/* Two shares that differ by a tenth of a percent, rounded, are never written alike; the words are
 * ours, the rounding by hand. */
static void test_against(void **state)
{
    static const struct {
        double now, then;
        const char *says;
    } rows[] = {
        {0.466, 0.494, "47% instead of 49%"}, {0.468, 0.472, "46.8% instead of 47.2%"},
        {0.4701, 0.4704, "47% at both"},      {0.346, 0.354, "34.6% instead of 35.4%"},
        {0.4649, 0.4651, "46.5% at both"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[64] = "";
        FILE *stream = fmemopen(text, sizeof text, "w");
        assert_non_null(stream);
        against_words(stream, rows[i].now, rows[i].then);
        fclose(stream);
        assert_string_equal(text, rows[i].says);
    }
}

/* RFC 4180 section 2: CR LF, quotes around fields with comma, quote or line break, quotes doubled.
 */
static void test_csv(void **state)
{
    (void)state;
    char *text = NULL;
    size_t size;
    FILE *stream = open_memstream(&text, &size);
    csv_writer csv;
    csv_begin(&csv, stream);
    csv_text(&csv, "tap");
    csv_text(&csv, "cfm, measured");
    csv_text(&csv, "note");
    csv_end_row(&csv);
    csv_text(&csv, "say \"low\"");
    csv_number(&csv, 1050.5, 0);
    csv_absent(&csv);
    csv_end_row(&csv);
    csv_text(&csv, "two\nlines");
    csv_number(&csv, -2, 3);
    csv_text(&csv, "it's plain; `id`");
    csv_end_row(&csv);
    csv_text(&csv, "#3 red");
    csv_text(&csv, "red #3");
    csv_absent(&csv);
    csv_end_row(&csv);
    check_that("good", csv_good(&csv));
    csv_number(&csv, NAN, 0);
    check_that("a NaN is caught", !csv_good(&csv));
    fclose(stream);
    assert_string_equal(text, "tap,\"cfm, measured\",note\r\n"
                              "\"say \"\"low\"\"\",1050.5,\r\n"
                              "two lines,-2,it's plain; `id`\r\n"
                              "\"#3 red\",red #3,\r\n");
    free(text);
}

/* A case as another program hands it over, written as people write. */
static void test_standard_input(void **state)
{
    (void)state;
    static const char *const args[] = {"sweep", "-", "-q", NULL};
    static program_result r;
    const char *path = program_path("handed.yaml");
    program_write(path, "site: {outdoor_dry_bulb: 95 degrees F,\n"
                        "  indoor_air: {dry_bulb: 75 deg F, relative_humidity: 50% RH}}\n"
                        "house: {sensible_load: \"21,000 Btu/h\", latent_load: 4500 Btu/h}\n"
                        "outdoor: {refrigerant: HCFC-22, tons: 3-ton, rated_seer: 10 SEER,\n"
                        "  rated_capacity: \"35,000 Btu/h\"}\n"
                        "indoor: {coil: {size: 1}}\n");
    const int kept = dup(STDIN_FILENO), file = open(path, O_RDONLY);
    check_is("opens", dup2(file, STDIN_FILENO), ==, STDIN_FILENO);
    program_run(args, environ, &r);
    check_is("put back", dup2(kept, STDIN_FILENO), ==, STDIN_FILENO);
    close(file);
    close(kept);
    check_is(r.err, r.code, ==, EXIT_DONE);
    check_has("- is standard input", r.out, "Pick: ");
}

static void test_csv_row_length(void **state)
{
    (void)state;
    FILE *stream = fopen("/dev/null", "w");
    csv_writer csv;
    csv_begin(&csv, stream);
    csv_text(&csv, "a");
    csv_text(&csv, "b");
    csv_end_row(&csv);
    csv_number(&csv, 1, 0);
    csv_end_row(&csv);
    check_that("a short row is caught", !csv_good(&csv));
    fclose(stream);
}

/* The old file stays until the new one is whole, and nothing is left lying about. */
static void test_write_whole(void **state)
{
    (void)state;
    char path[256], text[64];
    snprintf(path, sizeof path, "%s", program_path("whole.csv"));
    write_file file;
    check_that("opens", write_file_open(&file, path));
    fputs("first", file.stream);
    check_that("not there before it is closed", !program_is_there(path));
    check_that("closes", write_file_close(&file));
    check_that("opens again", write_file_open(&file, path));
    char beside[256];
    snprintf(beside, sizeof beside, "%s", file.temporary);
    fputs("second", file.stream);
    write_file_drop(&file);
    read_text(path, text, sizeof text);
    assert_string_equal(text, "first");
    check_that("dropped file is gone", !program_is_there(beside));
    check_that("opens a third time", write_file_open(&file, path));
    fputs("third", file.stream);
    check_that("closes", write_file_close(&file));
    read_text(path, text, sizeof text);
    assert_string_equal(text, "third");
}

static void test_write_failures(void **state)
{
    (void)state;
    write_file file;
    char path[256], link[280], text[64];
    snprintf(path, sizeof path, "%s", program_path("plain"));
    check_that("a plain file", write_file_open(&file, path));
    check_that("a plain file", write_file_close(&file));
    /* A file for a folder: not writable even for root, for whom permissions do not count. */
    snprintf(link, sizeof link, "%s/below", path);
    check_that("parent is a file", !write_file_open(&file, link));
    check_that("a folder", !write_file_open(&file, program_scratch));
    check_that("an empty name", !write_file_open(&file, ""));
    check_that("a full device opens", write_file_open(&file, "/dev/full"));
    fputs("text", file.stream);
    check_that("and fails at the end", !write_file_close(&file));
    struct stat there;
    check_is("it is still a device", stat("/dev/full", &there), ==, 0);
    check_that("it is still a device", S_ISCHR(there.st_mode));
    snprintf(link, sizeof link, "%s", program_path("link"));
    check_is("a link", symlink(path, link), ==, 0);
    check_that("opens through it", write_file_open(&file, link));
    fputs("through", file.stream);
    check_that("closes", write_file_close(&file));
    check_is("stays a link", lstat(link, &there), ==, 0);
    check_that("stays a link", S_ISLNK(there.st_mode));
    read_text(path, text, sizeof text);
    assert_string_equal(text, "through");
}

static const struct {
    const char *text;
    int limit;
    const char *quoted;
} quotes[] = {
    {"plain", 0, "'plain'"},
    {"O'Brien", 0, "'O'.\"\\047\".'Brien'"},
    {"''", 0, "''.\"\\047\".''.\"\\047\".''"},
    {"`id` $(id) \"x\"", 0, "'`id` $(id) \"x\"'"},
    {"a\nb\rc\td\033e\177", 0, "'a b c d e '"},
    {"next\xc2\x85line", 0, "'next line'"},
    {"75 \xc2\xb0"
     "F",
     0,
     "'75 \xc2\xb0"
     "F'"},
    {"bad\xff\xc3", 0, "'bad?\?'"},
    {"\xed\xa0", 0, "'?\?'"},
    {"\\", 0, "'\\'"},
    {"12345", 5, "'12345'"},
    {"123456", 5, "'1234\xe2\x80\xa6'"},
    {"\xc3\xa9\xc3\xa9\xc3\xa9", 2, "'\xc3\xa9\xe2\x80\xa6'"},
    {"''''''", 4, "''.\"\\047\".''.\"\\047\".''.\"\\047\".'\xe2\x80\xa6'"},
};

static void test_gnuplot_quote(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof quotes / sizeof quotes[0]; i++) {
        char *text = NULL;
        size_t size;
        FILE *stream = open_memstream(&text, &size);
        gnuplot_quote(stream, quotes[i].text, quotes[i].limit);
        fclose(stream);
        assert_string_equal(text, quotes[i].quoted);
        free(text);
    }
}

/* gnuplot itself must read the quoted text back as it was. Its scanner (5.4) knows a doubled
 * apostrophe only after another character, so where they stand matters. */
static void test_gnuplot_reads_back(void **state)
{
    (void)state;
    static const char *const evil[] = {
        "O'Brien `touch boom` $(touch boom) \"; !touch boom; system('x') \\n@a",
        "'; system('touch boom') #",
        "'.system('touch boom').'",
        "'",
        "'''' two '' three ''' end''",
        "\"'\".system(\"touch boom\").\"'\"",
        "\\",
        "@script",
        "' @script",
        "a'b\"c'@script",
    };
    const char *script = program_path("quote.gp"), *back = program_path("back");
    for (size_t i = 0; i < sizeof evil / sizeof evil[0]; i++) {
        FILE *stream = fopen(script, "w");
        fputs("set print ", stream);
        gnuplot_quote(stream, back, 0);
        fputs("\nscript = 'print 1'\nprint ", stream);
        gnuplot_quote(stream, evil[i], 0);
        fputc('\n', stream);
        fclose(stream);
        check_is("gnuplot reads it", gnuplot_try(script, "png"), ==, GNUPLOT_DONE);
        char text[256];
        read_text(back, text, sizeof text);
        text[strcspn(text, "\n")] = '\0';
        assert_string_equal(text, evil[i]);
    }
    check_that("nothing was run", !program_is_there("boom"));
    check_that("nothing was run", !program_is_there(program_path("boom")));
}

static void test_gnuplot_failure(void **state)
{
    (void)state;
    const char *script = program_path("broken.gp");
    FILE *stream = fopen(script, "w");
    fputs("plot 'nothing-here.csv'\n", stream);
    fclose(stream);
    check_is("a broken script is reported", gnuplot_run(script, "png"), ==, GNUPLOT_FAILED);
    char *path = strdup(getenv("PATH"));
    setenv("PATH", "/nowhere", 1);
    const gnuplot_result result = gnuplot_run(script, "png");
    setenv("PATH", path, 1);
    free(path);
    check_is("not installed is no failure", result, ==, GNUPLOT_ABSENT);
}

/* Invented points, only to draw: columns as the templates ask for them. */
static void write_points(const char *name, bool si, bool taps)
{
    FILE *stream = fopen(program_path(name), "w");
    csv_writer csv;
    csv_begin(&csv, stream);
    static const char *const columns[2][12] = {
        {"cfm_per_ton", "net_total_btuh", "net_sensible_btuh", "net_latent_btuh", "shr_net",
         "sat_suction_f", "coil_surface_f", "adp_f", "rh_settled", "rh_settled_fan_on",
         "design_sensible_btuh", "mild_coil_surface_f"},
        {"m3_per_s_per_ton", "net_total_w", "net_sensible_w", "net_latent_w", "shr_net",
         "sat_suction_k", "coil_surface_k", "adp_k", "rh_settled", "rh_settled_fan_on",
         "design_sensible_w", "mild_coil_surface_k"}};
    if (taps) csv_text(&csv, "tap");
    for (int i = 0; i < 12; i++)
        csv_text(&csv, columns[si][i]);
    csv_text(&csv, "pick");
    csv_end_row(&csv);
    for (int k = 0; k < 5; k++) {
        const double heat = si ? 0.293 : 1, cold = si ? 278 : 41;
        if (taps) csv_text(&csv, k == 2 ? "it's \"`id`\"" : "Low");
        csv_number(&csv, (300 + 40 * k) * (si ? 4.72e-4 : 1), 6);
        for (int i = 1; i < 12; i++) {
            const double v[] = {0,
                                34e3 * heat,
                                (24e3 + 1e3 * k) * heat,
                                9e3 * heat,
                                0.7 + 0.02 * k,
                                cold + k,
                                cold + k + 2,
                                cold + k + 5,
                                0.5 + 0.01 * k,
                                0.6,
                                (25e3 + 900 * k) * heat,
                                cold + k - 1};
            if (k == 3 && !taps)
                csv_absent(&csv);
            else
                csv_number(&csv, v[i], 6);
        }
        csv_number(&csv, k == 2, 1);
        csv_end_row(&csv);
    }
    check_that("points", csv_good(&csv));
    fclose(stream);
}

/* Every template in every format, with and without taps and load: gnuplot must draw without a word
 * on standard error, started from another folder. The first bytes tell the format. */
static void draw(const char *name, const plot_facts *facts, const char *format, const char *magic)
{
    char script[256], picture[256], e[32], text[256];
    snprintf(script, sizeof script, "%s/%s.gp", program_scratch, name);
    snprintf(picture, sizeof picture, "%s/%s.%s", program_scratch, name, format);
    snprintf(e, sizeof e, "format='%s'", format);
    unlink(picture);
    FILE *stream = fopen(script, "w");
    check_that(name, plot_script_write(stream, name, facts));
    fclose(stream);
    const char *const args[] = {"-d", "-e", e, script, NULL};
    const char *err = program_path("err");
    const int code = program_spawn("gnuplot", args, program_path("out"), err, environ);
    read_text(err, text, sizeof text);
    program_expect(name, text, NULL);
    check_abs(name, code, 0, 0);
    read_text(picture, text, sizeof text);
    check_that(picture, strncmp(text, magic, strlen(magic)) == 0);
}

/* What the band plot reads besides. */
static void write_bands(bool si)
{
    static const char *const bands[] = {"net_total", "net_sensible", "net_latent"};
    static const char *const quantiles[] = {"p05", "p16", "p50", "p84", "p95"};
    FILE *stream = fopen(program_path("sweep_uncertain.csv"), "w");
    csv_writer csv;
    char name[64];
    csv_begin(&csv, stream);
    csv_text(&csv, si ? "m3_per_s_per_ton" : "cfm_per_ton");
    for (int b = 0; b < 3; b++)
        for (int q = 0; q < 5; q++) {
            snprintf(name, sizeof name, "%s_%s_%s", bands[b], quantiles[q], si ? "w" : "btuh");
            csv_text(&csv, name);
        }
    csv_end_row(&csv);
    for (int k = 0; k < 5; k++) {
        csv_number(&csv, (300 + 40 * k) * (si ? 4.72e-4 : 1), 6);
        for (int b = 0; b < 3; b++)
            for (int q = 0; q < 5; q++)
                if (k == 3 && b == 1) /* no balance: a gap */
                    csv_absent(&csv);
                else
                    csv_number(&csv, (34e3 - 12e3 * b + 800 * q) * (si ? 0.293 : 1), 9);
        csv_end_row(&csv);
    }
    check_that("bands", csv_good(&csv));
    check_is("bands", fclose(stream), ==, 0);
}

static void test_plots(void **state)
{
    (void)state;
    /* By hand, in a terminal that knows UTF-8; the program sets it for itself
     * (test_bare_program). */
    unsetenv("LC_ALL");
    check_is("letters", setenv("LC_CTYPE", "C.UTF-8", 1), ==, 0);
    static const char *const formats[][2] = {{"png", "\x89PNG"}, {"svg", "<?xml"}, {"pdf", "%PDF"}};
    const char *name;
    int n = 0;
    for (int si = 0; si < 2; si++) {
        write_points("sweep.csv", si, false);
        write_bands(si);
        for (int has = 0; has < 2; has++) {
            if (has) write_points("taps.csv", si, true);
            const plot_facts facts = {.title = "O'Brien `id` \"x\" @a",
                                      .si = si,
                                      .has_taps = has,
                                      .has_load = has,
                                      .Q_sensible = 7600,
                                      .has_ceiling = si != has,
                                      .rh_ceiling = 0.55,
                                      .load_sigma = 0.1 * has,
                                      .T_frost = 273.15,
                                      .carried = has ? "design_sensible" : NULL,
                                      .rh_entered = 0.5,
                                      .has_mild = has};
            for (int i = 0; (name = plot_template_name(i)); i++, n++)
                draw(name, &facts, formats[n % 3][0], formats[n % 3][1]);
        }
        unlink(program_path("taps.csv"));
    }
    check_is("four templates at least", n, >=, 16);
    plot_facts facts = {.title = ""};
    check_that("an unknown template is reported", !plot_script_write(stderr, "nonsense", &facts));
}

/* Where the case went is said: not among the numbers when there are some. */
static void test_saved(void **state)
{
    static program_result r;
    char path[600], second[600];
    (void)state;
    snprintf(path, sizeof path, "%s", program_path("job.yaml"));
    snprintf(second, sizeof second, "%s", program_path("b.yaml"));
    const char *const fresh[] = {"new", "tons=3", "refrigerant=R-22", "load=24000btu", "--save",
                                 path,  NULL};
    const char *const again[] = {"sweep", path, "coil=1.2", "--json", "--save", path, NULL};
    const char *const other[] = {"sweep", path, "coil=1.2", "-q", "--save", second, NULL};
    program_run(fresh, environ, &r);
    check_is("new", r.code, ==, EXIT_DONE);
    check_that("says where", strstr(r.out, "The case is in ") && strstr(r.out, path));
    const char *const later[] = {"whatif", path, NULL};
    const char *const known[] = {"whatif", path, "latent=5000btu", NULL};
    program_run(later, environ, &r);
    check_has("a saved guess is one", r.err, "job.yaml:12: latent_load: 4800 Btu/h is marked as");
    program_run(known, environ, &r);
    check_that("until it is given", !strstr(r.err, "is marked as a guess"));
    program_run(again, environ, &r);
    check_is("not over what it reads", r.code, ==, EXIT_USAGE);
    program_run(other, environ, &r);
    check_is("sweep", r.code, ==, EXIT_DONE);
    check_that("says where", strstr(r.err, "the case is in ") && strstr(r.err, "b.yaml"));
    check_that("apart from the answer", !strstr(r.out, "the case is in "));
}

/* A column of a table whose name several keys have: none of them is guessed. */
static void test_column_of_several(void **state)
{
    static program_result r;
    char table[600];
    (void)state;
    snprintf(table, sizeof table, "%s", program_path("several.csv"));
    program_write(table, "case,rated_capacity\nx,3 ton\n");
    const char *const args[] = {"batch", table, "--base", SOURCE_DIR "/examples/heat-pump.yaml",
                                "-o",    "-",   NULL};
    program_run(args, environ, &r);
    check_is("wrong", r.code, ==, EXIT_INPUT);
    check_has("which", r.err,
              "more than one key is called 'rated_capacity': write one of outdoor.");
    check_has("all of them", r.err, "indoor.metering.rated_capacity");
}

/* A load without its unit is one mistake, not two. */
static void test_one_mistake(void **state)
{
    static program_result r;
    static const char *const args[] = {"sweep", "tons=3", "refrigerant=R-22", "load=24", NULL};
    (void)state;
    program_run(args, environ, &r);
    check_is("wrong", r.code, ==, EXIT_INPUT);
    check_has("what", r.err, "house.sensible_load: '24' has no unit");
    check_that("and nothing else", !strstr(r.err, "latent_load"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_runs),
        cmocka_unit_test(test_values),
        cmocka_unit_test(test_glide_sides),
        cmocka_unit_test(test_output_file),
        cmocka_unit_test(test_full_standard_output),
        cmocka_unit_test(test_comma_locale),
        cmocka_unit_test(test_numbers),
        cmocka_unit_test(test_against),
        cmocka_unit_test(test_csv),
        cmocka_unit_test(test_csv_row_length),
        cmocka_unit_test(test_standard_input),
        cmocka_unit_test(test_write_whole),
        cmocka_unit_test(test_write_failures),
        cmocka_unit_test(test_gnuplot_quote),
        cmocka_unit_test(test_gnuplot_reads_back),
        cmocka_unit_test(test_gnuplot_failure),
        cmocka_unit_test(test_plots),
        cmocka_unit_test(test_saved),
        cmocka_unit_test(test_column_of_several),
        cmocka_unit_test(test_one_mistake),
    };
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
