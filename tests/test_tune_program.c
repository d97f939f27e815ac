/* The verb tune as its user meets it: reports, JSON, exit codes, the tuned case file. Invented
 * data.
 */
#include "check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <jansson.h>

#include "base/exit_codes.h"
#include "study/tune_change.h"
#include "tune/change.h"
#include "tune/findings.h"

#define CASE SOURCE_DIR "/examples/r22-larger-coil.yaml"
#define READINGS SOURCE_DIR "/examples/readings-r22.yaml"

static char scratch[] = "/tmp/coiltrim-tune-XXXXXX";
static char said[65536]; /* standard output, then standard error */

static const char *in_scratch(const char *name)
{
    static char path[4][128];
    static int next;
    next = (next + 1) % 4;
    snprintf(path[next], sizeof path[next], "%s/%s", scratch, name);
    return path[next];
}

static void write_text(const char *path, const char *text)
{
    FILE *f = fopen(path, "w");
    check_that(path, f != NULL);
    fputs(text, f);
    check_is(path, fclose(f), ==, 0);
}

static void read_text(const char *path, char *text, size_t size)
{
    FILE *f = fopen(path, "r");
    check_that(path, f != NULL);
    text[fread(text, 1, size - 1, f)] = '\0';
    fclose(f);
}

/* Arguments hold no blank but those between them. */
static int run(const char *given)
{
    char command[1024];
    snprintf(command, sizeof command, PROGRAM " %s 2>%s/err", given, scratch);
    FILE *f = popen(command, "r");
    check_that("starts", f != NULL);
    size_t n = fread(said, 1, sizeof said - 1, f);
    const int state = pclose(f);
    snprintf(command, sizeof command, "%s/err", scratch);
    FILE *err = fopen(command, "r");
    check_that("messages", err != NULL);
    n += fread(said + n, 1, sizeof said - 1 - n, err);
    said[n] = '\0';
    fclose(err);
    check_that("ends", WIFEXITED(state));
    return WEXITSTATUS(state);
}

static int run_tune(const char *case_path, const char *readings, const char *options)
{
    char given[512];
    snprintf(given, sizeof given, "tune %s %s %s", case_path, readings, options);
    return run(given);
}

/* Sentences are wrapped: a run of blanks and line ends is one blank here. */
static void expect(const char *text)
{
    static char flat[sizeof said];
    size_t n = 0;
    for (const char *c = said; *c; c++)
        if (!(*c == ' ' || *c == '\n'))
            flat[n++] = *c;
        else if (n > 0 && flat[n - 1] != ' ')
            flat[n++] = ' ';
    flat[n] = '\0';
    if (!strstr(flat, text)) print_error("%s\n", said);
    check_has(text, flat, text);
}

/* What is written to a readings file, the exit code, and what must be said. */
static const struct {
    const char *name, *readings;
    int code;
    const char *says[3];
} runs[] = {
    {"impossible",
     "return_air: {dry_bulb: 76 F, wet_bulb: 54 F}\nsupply_air: {dry_bulb: 80 F, wet_bulb: 63 F}\n",
     EXIT_INPUT,
     {"CANNOT ALL BE TRUE", "holds more moisture", "nothing was fitted"}},
    {"heating",
     "return_air: {dry_bulb: 70 F}\nsupply_air: {dry_bulb: 100 F}\noutdoor_air: {dry_bulb: 47 F}\n",
     EXIT_INPUT,
     {"CANNOT ALL BE TRUE", "the supply air is warmer", "Was it heating? Only readings of a"}},
    {"supply bulb far off",
     "return_air: {dry_bulb: 75.8 F, wet_bulb: 64.2 F}\nsupply_air: {dry_bulb: 48 F, wet_bulb: "
     "53.3 F}\n"
     "outdoor_air: {dry_bulb: 91 F}\nsuction: {pressure: 71 psig, temperature: 56 F}\n"
     "liquid: {pressure: 250 psig, temperature: 104 F}\nblower: {tap: medium low, static: 0.64 "
     "inwc}\n",
     EXIT_INPUT,
     {"CANNOT ALL BE TRUE", "An instrument that is off explains it",
      "supply air dry bulb reads about 7 F too low: read it again"}},
    {"contradiction",
     "return_air: {dry_bulb: 76 F, wet_bulb: 64 F}\nsupply_air: {dry_bulb: 70 F, wet_bulb: 63 F}\n"
     "outdoor_air: {dry_bulb: 91 F}\nsuction: {pressure: 71 psig, temperature: 56 F}\n"
     "liquid: {pressure: 250 psig, temperature: 104 F}\n"
     "blower: {tap: medium low, airflow: 980 cfm}\n",
     EXIT_DOUBT,
     {"DO NOT FIT TOGETHER", "THE TWO SIDES DO NOT AGREE", "supply air dry bulb: "}},
    {"what the sheet for the start-up has, the tap not named",
     "return_air: {dry_bulb: 75 F, wet_bulb: 62.5 F}\nsupply_air: {dry_bulb: 52 F}\n"
     "outdoor_air: {dry_bulb: 95 F}\nsuction: {pressure: 69 psig, temperature: 52 F}\n"
     "liquid: {pressure: 254 psig, temperature: 107 F}\n",
     EXIT_DONE,
     {"Nothing wrong stands out: the system is sound",
      "No blower tap was given: the airflow is compared with what sweep picks", "910 cfm"}},
    {"few",
     "supply_air: {dry_bulb: 56 F}\n",
     EXIT_DONE,
     {"say little about the model", "No blower tap was given",
      "Nothing wrong stands out, but these readings are too few to say that nothing is"}},
    {"conditions only",
     "return_air: {dry_bulb: 76 F}\n",
     EXIT_DONE,
     {"Too few readings to check", "say little", "1.00"}},
    {"faults",
     "supply_air:\n  dry_bulb: 56\n  wetbulb: 5 F\n",
     EXIT_INPUT,
     {"readings.yaml:2: supply_air.dry_bulb: ", "readings.yaml:3: supply_air.wetbulb: ",
      "did you mean 'wet_bulb'"}},
    {"tap",
     "blower: {tap: turbo, static: 0.5 inwc}\n",
     EXIT_INPUT,
     {"no tap 'turbo'", "'medium low'", "readings.yaml"}},
    {"tap written otherwise",
     "blower: {tap: Medium-Low, static: 0.5 inwc}\n",
     EXIT_DONE,
     {"on tap 'medium low'", "Nothing wrong stands out", "external static"}},
    {"low stage of one",
     "outdoor_unit: {stage: low, compressor_power: 2000 W}\n",
     EXIT_INPUT,
     {"the low stage (outdoor_unit.stage)", "give the case outdoor.stages: two", "readings.yaml"}},
    {"outlier",
     "return_air: {dry_bulb: 76 F, wet_bulb: 64 F}\nsupply_air: {dry_bulb: 55 F, wet_bulb: 54 F}\n"
     "outdoor_air: {dry_bulb: 91 F}\nsuction: {pressure: 71 psig, temperature: 56 F}\n"
     "liquid: {pressure: 250 psig, temperature: 104 F}\nblower: {tap: medium low}\n"
     "outdoor_unit: {compressor_power: 4300 W}\n",
     EXIT_DOUBT,
     {"compressor power reads about", "W too high: read it again",
      "The corrections are those under the likeliest cause"}},
    {"flood-back or a bad clamp",
     "return_air: {dry_bulb: 76 F, wet_bulb: 64 F}\nsupply_air: {dry_bulb: 55 F, wet_bulb: 54 F}\n"
     "outdoor_air: {dry_bulb: 91 F}\nsuction: {pressure: 71 psig, temperature: 44 F}\n"
     "liquid: {pressure: 250 psig, temperature: 104 F}\nblower: {tap: medium low}\n",
     EXIT_DONE,
     {"coil flooded", "The valve does not hold its superheat: ", "no correction of it is written"}},
    /* So little charge that the model cannot follow: the signs say it. */
    {"very low charge",
     "return_air: {dry_bulb: 76 F, wet_bulb: 64 F}\nsupply_air: {dry_bulb: 60 F, wet_bulb: 56 F}\n"
     "outdoor_air: {dry_bulb: 91 F}\nsuction: {pressure: 55 psig, temperature: 60 F}\n"
     "liquid: {pressure: 205 psig, temperature: 102 F}\nblower: {tap: medium low}\n",
     EXIT_DONE,
     {"First, by its signs low charge (superheat up, subcooling down)",
      "A charge this low does that: charge first",
      "Nothing is said of coil, compressor and condenser"}},
    {"compressor off",
     "return_air: {dry_bulb: 76 F}\noutdoor_air: {dry_bulb: 93 F}\n"
     "suction: {pressure: 150 psig}\nliquid: {pressure: 152 psig}\n",
     EXIT_INPUT,
     {"CANNOT ALL BE TRUE", "Look first whether the compressor runs", "when the compressor runs"}},
    {"bulbs exchanged",
     "return_air: {dry_bulb: 64 F, wet_bulb: 76 F}\nsupply_air: {dry_bulb: 55 F}\n",
     EXIT_INPUT,
     {"CANNOT ALL BE TRUE", "exchanged: return air dry bulb and return air wet bulb",
      "wrong units"}},
};

static void test_runs(void **state)
{
    (void)state;
    const char *path = in_scratch("readings.yaml");
    for (size_t i = 0; i < sizeof runs / sizeof runs[0]; i++) {
        write_text(path, runs[i].readings);
        const int code = run_tune(CASE, path, "");
        if (code != runs[i].code) print_error("%s: %d\n%s\n", runs[i].name, code, said);
        assert_int_equal(code, runs[i].code);
        for (int k = 0; k < 3; k++)
            expect(runs[i].says[k]);
    }
}

/* Four visits, as a technician would read them: what leads the report, and what else it must
 * say. */
static const struct {
    const char *readings;
    int code;
    const char *says[4];
} visits[] = {
    {"clamp",
     EXIT_DONE,
     {"coil flooded, liquid may reach the compressor", "suction line temperature reads about",
      "The valve does not hold its superheat: ",
      "take it for flood-back until you know: a compressor shell that is cold"}},
    {"swapped",
     EXIT_INPUT,
     {"CANNOT ALL BE TRUE", "exchanged: return air dry bulb and return air wet bulb",
      "wet bulb is above its dry bulb", "nothing was fitted"}},
    {"tap",
     EXIT_DONE,
     /* the heat by the air is then that of the faster tap: 20 % short by the one that was given */
     {"it runs on tap 'high', not on 'medium low'", "the airflow is",
      "without a cause the readings would not fit", "They agree within their doubt"}},
    {"charge",
     EXIT_DONE,
     {"% low charge: find the leak", "superheat up (", "subcooling down (",
      "no correction of it is written"}},
};

static void test_visits(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof visits / sizeof visits[0]; i++) {
        char path[256];
        snprintf(path, sizeof path, SOURCE_DIR "/examples/readings-r22-%s.yaml",
                 visits[i].readings);
        assert_int_equal(run_tune(CASE, path, ""), visits[i].code);
        for (int k = 0; k < 4; k++)
            expect(visits[i].says[k]);
    }
}

/* Gauges and clamps, psig and F, that say something of charge or metering (the case sets 10 F of
 * superheat, and 10 F of subcooling are on its plate): which two explanations lead, and what tells
 * them apart. */
static const struct {
    const char *name;
    int suction, suction_line, liquid, liquid_line;
    const char *says[3];
} charges[] = {
    {"low", 69, 67, 235, 113, {"low charge", "Signs: superheat up", "subcooling down"}},
    {"over", 72, 55, 262, 97, {"too much charge", "subcooling up", "discharge saturation up"}},
    {"flooded",
     71,
     44,
     250,
     104,
     {"coil flooded", "F too low: read it again These first two look",
      "a second clamp beside the first"}},
    {"starved", 65, 68, 250, 105, {"coil starved", "superheat up", "suction saturation down"}},
    {"starved or the clamp",
     71,
     66,
     250,
     105,
     {"coil starved", "F too high: read it again These first", "on a cold line too high"}},
    {"over or the clamp",
     71,
     54,
     250,
     97,
     {"too much charge", "F too low: read it again These first",
      "Do not add or recover refrigerant"}},
};

/* Of each, nothing of the coil: neither in the report nor in JSON. */
static void test_charges(void **state)
{
    (void)state;
    char text[512];
    const char *path = in_scratch("charge-readings.yaml");
    for (size_t i = 0; i < sizeof charges / sizeof charges[0]; i++) {
        snprintf(text, sizeof text,
                 "return_air: {dry_bulb: 76 F, wet_bulb: 64 F}\n"
                 "supply_air: {dry_bulb: 55 F, wet_bulb: 54 F}\noutdoor_air: {dry_bulb: 91 F}\n"
                 "suction: {pressure: %d psig, temperature: %d F}\n"
                 "liquid: {pressure: %d psig, temperature: %d F}\nblower: {tap: medium low}\n",
                 charges[i].suction, charges[i].suction_line, charges[i].liquid,
                 charges[i].liquid_line);
        write_text(path, text);
        assert_int_equal(run_tune(CASE, path, ""), EXIT_DONE);
        for (int k = 0; k < 3; k++)
            expect(charges[i].says[k]);
        check_lacks(charges[i].name, said, "coil conductance");
        check_has(charges[i].name, said, "condenser conductance");
        assert_int_equal(run_tune(CASE, path, "--json"), EXIT_DONE);
        check_lacks(charges[i].name, said, "coil_conductance");
        check_has(charges[i].name, said, "condenser_conductance");
    }
}

/* With the charge wrong the case gets no multiplier of the coil. */
static void test_no_coil(void **state)
{
    (void)state;
    static char text[32768];
    char options[160];
    const char *tuned = in_scratch("charge.yaml");
    snprintf(options, sizeof options, "-o %s", tuned);
    assert_int_equal(run_tune(CASE, SOURCE_DIR "/examples/readings-r22-charge.yaml", options),
                     EXIT_DONE);
    expect("The case with these corrections is in ");
    read_text(tuned, text, sizeof text);
    check_lacks("no coil", text, "\n  coil_conductance:");
    check_has("and why", text, "charge, metering or the superheat was in doubt");
    check_has("the rest", text, "compressor_flow:");
}

/* In each line of before and after, the change as a reader works it out from the two values. */
static void check_changes(bool percent)
{
    int n = 0;
    for (const char *line = strstr(said, percent ? "Against the nameplate" : "Reading  ");
         line && line[1] != '\n'; line = strchr(line + 1, '\n')) {
        double before, after, change;
        if (strncmp(line, "\n  ", 3) != 0 || strlen(line) < 34) continue;
        if (sscanf(line + 33, "%lf %lf %lf", &before, &after, &change) != 3) continue;
        /* Half of the last digit of the percent; a difference has the digits of its values. */
        check_abs(line, change, percent ? 100.0 * (after / before - 1.0) : after - before,
                  percent ? 0.0501 : 1e-6);
        n++;
    }
    check_is("lines", n, >=, 5);
}

/* Two visits: what was wrong is gone, came, stayed, or cannot be said. */
static const struct {
    const char *before, *after;
    int code;
    const char *says[3];
} pairs[] = {
    {"-charge", "", EXIT_DONE, {"THE FIX WORKED", "before 98% low charge", "+2.0 psig"}},
    {"-charge", "", EXIT_DONE, {"Not the coil: charge", "compressor flow", "sensible capacity"}},
    {"", "-charge", EXIT_DONE, {"LIKELY WRONG NOW that was not before", "low charge", "After:"}},
    {"-charge", "-charge", EXIT_DONE, {"THE FIX DID NOT WORK", "sensible capacity", "+0.0%"}},
    {"-tap",
     "-charge",
     EXIT_DONE,
     {"SOMETHING ELSE IS LIKELY WRONG NOW", "tap 'high'", "low charge"}},
    {"", "", EXIT_DONE, {"Nothing wrong stands out, before or after", "within the doubt", "+0 W"}},
    {"-swapped", "", EXIT_INPUT, {"CANNOT BE SAID", "cannot all be true, or point", "Before:"}},
};

static void test_before_after(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        char paths[400];
        snprintf(paths, sizeof paths,
                 SOURCE_DIR "/examples/readings-r22%s.yaml " SOURCE_DIR
                            "/examples/readings-r22%s.yaml",
                 pairs[i].before, pairs[i].after);
        assert_int_equal(run_tune(CASE, paths, ""), pairs[i].code);
        for (int k = 0; k < 3; k++)
            expect(pairs[i].says[k]);
        check_lacks("minus nothing", said, "-0 ");
        check_lacks("minus nothing", said, "-0.0 ");
        if (pairs[i].code == EXIT_DONE) {
            check_changes(true);
            check_changes(false);
        }
        check_that("the coil, but with the charge right",
                   (strstr(said, "coil conductance    ") != NULL) ==
                       (strcmp(pairs[i].before, "") == 0 && strcmp(pairs[i].after, "") == 0));
    }
    assert_int_equal(run_tune(CASE, READINGS " " READINGS, "--json"), EXIT_DONE);
    expect("\"result\": \"sound\"");
    expect("\"first_two_look_alike\": false");
    expect("\"sensible_capacity_over_nameplate\"");
    check_lacks("one stage", said, "\"stage\"");
}

/* The log of a gauge: its steady stretch; a table of another form is refused. */
static void test_log(void **state)
{
    (void)state;
    assert_int_equal(run_tune(CASE, SOURCE_DIR "/examples/gauge-log-r22.csv", ""), EXIT_DONE);
    expect("The log is steady from minute");
    expect("Nothing wrong stands out");
    assert_int_equal(run_tune(CASE, SOURCE_DIR "/examples/gauge-log-r22.csv", "--json"), EXIT_DONE);
    expect("\"steady_from_s\"");
    write_text(in_scratch("other.csv"), "Time,Low side,High side\n0,70,250\n");
    assert_int_equal(run_tune(CASE, in_scratch("other.csv"), ""), EXIT_INPUT);
    expect("name,value,unit,time");
}

/* Both visits say where their readings come from. */
static void test_two_sources(void **state)
{
    (void)state;
    assert_int_equal(run_tune(CASE, READINGS " " SOURCE_DIR "/examples/gauge-log-r22.csv", ""),
                     EXIT_DONE);
    expect("After: The log is steady from minute");
    check_lacks("no log", said, "Before: The log");
    write_text(in_scratch("two.yaml"), "supply_air: {dry_bulb: 56 F}\n");
    char both[300];
    snprintf(both, sizeof both, "%s/two.yaml %s/two.yaml", scratch, scratch);
    assert_int_equal(run_tune(SOURCE_DIR "/examples/two-stage.yaml", both, ""), EXIT_DONE);
    expect("Before: two stages: the readings are taken to be those of the high stage");
    expect("After: two stages: the readings are taken to be those of the high stage");
    assert_int_equal(
        run_tune(SOURCE_DIR "/examples/two-stage.yaml", in_scratch("two.yaml"), "--json"),
        EXIT_DONE);
    expect("\"stage\": \"high\"");
}

/* Wrong, and no cause to name: never "nothing wrong". The coil is left out where one visit has the
 * charge in doubt. */
static void test_no_cause(void **state)
{
    (void)state;
    static ct_tune odd = {.fitted = true, .agree = true, .wrong = true}, good;
    static ct_case c;
    good = (ct_tune){.fitted = true, .agree = true, .sound = 0.8};
    for (int i = 0; i < CT_TUNE_MULTIPLIERS; i++)
        odd.value[i] = good.value[i] = (ct_tune_value){.fitted = true, .value = 1.0, .u = 0.1};
    ct_tune_change change;
    ct_tune_compare(&odd, &good, &change);
    assert_int_equal(change.kind, CT_CHANGE_UNCLEAR);
    check_that("coil", change.has[CT_TUNE_COIL]);
    job j = {.c = &c};
    const verdict unit = {.c = &c, .unit = &c.indoor[0]};
    const tune_result before = {.j = &j, .verdict = unit, .t = &odd, .tap = ""},
                      after = {.j = &j, .verdict = unit, .t = &good, .tap = ""};
    FILE *out = fmemopen(said, sizeof said, "w");
    check_that("opens", out != NULL);
    tune_change_print(out, &before, &after, false);
    assert_int_equal(fclose(out), 0);
    expect("or point to no cause. Clear that up first.");
    expect("before something is wrong, but nothing that can be named");
    odd.charge_first = true;
    ct_tune_compare(&odd, &good, &change);
    check_that("not the coil", !change.has[CT_TUNE_COIL] && change.has[CT_TUNE_FLOW]);
    ct_tune_compare(&good, &odd, &change);
    check_that("not the coil", !change.has[CT_TUNE_COIL] && change.has[CT_TUNE_FLOW]);
}

/* Flood-back before, of which a clamp gives the same readings; after, the clamp alone: it may be
 * the same that is wrong. The heading does not call likeliest what is only put first. */
static void test_alike_twice(void **state)
{
    (void)state;
    static ct_tune before, after;
    ct_tune_change change;
    const ct_tune_explanation flooded = {.cause = CT_CAUSE_FLOODED, .chance = 0.2},
                              clamp = {.cause = CT_CAUSE_READING,
                                       .kind = CT_SUCTION_TEMPERATURE,
                                       .chance = 0.6},
                              coil = {.cause = CT_CAUSE_COIL, .chance = 0.3};
    before = after =
        (ct_tune){.fitted = true, .agree = true, .wrong = true, .alike = true, .n_explanations = 2};
    before.explanation[0] = after.explanation[1] = flooded;
    before.explanation[1] = after.explanation[0] = clamp;
    assert_string_equal(tune_order_words(&before), "flood-back first");
    assert_string_equal(tune_order_words(&after), "likeliest first");
    ct_tune_compare(&before, &after, &change);
    assert_int_equal(change.kind, CT_CHANGE_SAME);
    after.alike = false;
    ct_tune_compare(&before, &after, &change);
    assert_int_equal(change.kind, CT_CHANGE_SAME);
    before.alike = false;
    ct_tune_compare(&before, &after, &change);
    assert_int_equal(change.kind, CT_CHANGE_OTHER);
    after.n_explanations = 3;
    after.explanation[2] = coil;
    assert_string_equal(tune_order_words(&after), "likeliest first, with what looks like it");
}

static void test_usage(void **state)
{
    (void)state;
    assert_int_equal(run("tune " CASE " - - </dev/null"), EXIT_USAGE);
    expect("only one file can come from standard input");
    assert_int_equal(run("tune - - </dev/null"), EXIT_USAGE);
    assert_int_equal(run("tune " CASE " - <" READINGS), EXIT_DONE);
    assert_int_equal(run("tune " CASE), EXIT_USAGE);
    assert_int_equal(run_tune(CASE, "/no/such/file", ""), EXIT_SYSTEM);
    expect("/no/such/file");
    assert_int_equal(run_tune("/no/such/case", READINGS, ""), EXIT_SYSTEM);
    assert_int_equal(run("tune --help"), EXIT_DONE);
    expect("+/- 1 F");
    for (const char *line = said, *end; (end = strchr(line, '\n')); line = end + 1)
        if (strncmp(line, "  coiltrim", 10) != 0) /* a command is one line */
            check_is("help has 80 columns", end - line, <=, 80);
}

static void test_report(void **state)
{
    (void)state;
    assert_int_equal(run_tune(CASE, READINGS, ""), EXIT_DONE);
    expect("on tap 'medium low'");
    expect("supply air dry bulb 54.6 F 54.8 0.7");
    expect("psig");
    expect("95% sure");
    expect("Smaller faults can hide, each 95% sure no larger: 13% less air than normal, 19% less "
           "coil");
    for (const char *line = said; *line;) {
        const char *end = strchr(line, '\n');
        check_that("no line over 79", end);
        check_is("no line over 79", end - line, <=, 79);
        line = end + 1;
    }
    assert_int_equal(run_tune(CASE, READINGS, "--si"), EXIT_DONE);
    expect("kPa gauge");
}

static double number(const json_t *object, const char *key)
{
    const json_t *value = json_object_get(object, key);
    check_that(key, json_is_number(value));
    return json_number_value(value);
}

static void test_json(void **state)
{
    (void)state;
    assert_int_equal(run_tune(CASE, READINGS, "--json"), EXIT_DONE);
    json_t *ip = json_loads(said, 0, NULL);
    assert_int_equal(run_tune(CASE, READINGS, "--json --si"), EXIT_DONE);
    json_t *si = json_loads(said, 0, NULL);
    check_that("both are JSON", ip);
    check_that("both are JSON", si);
    check_that("fitted", json_is_true(json_object_get(ip, "fitted")));
    const json_t *first = json_array_get(json_object_get(ip, "readings"), 0);
    const json_t *same = json_array_get(json_object_get(si, "readings"), 0);
    assert_string_equal(json_string_value(json_object_get(first, "reading")),
                        "return_air_dry_bulb");
    check_abs("F", number(first, "read_f"), 75.8, 1e-9);
    check_abs("K", number(same, "read_k"), (75.8 + 459.67) / 1.8, 1e-9);
    check_abs("margin in F", number(first, "standard_uncertainty_f"), 0.5, 1e-9);
    const json_t *coil = json_object_get(json_object_get(ip, "values"), "coil_conductance");
    check_is("inside", number(coil, "low_95"), <, number(coil, "value"));
    check_is("inside", number(coil, "value"), <, number(coil, "high_95"));
    const json_t *fit = json_object_get(ip, "fit");
    check_is("p", number(fit, "p"), >, 0.05);
    check_that("p", json_is_true(json_object_get(fit, "fits")));
    json_decref(ip);
    json_decref(si);
}

static int times(const char *text, const char *word)
{
    int n = 0;
    for (const char *at = text; (at = strstr(at, word)); at += strlen(word))
        n++;
    return n;
}

/* The original stands unchanged before the section; a second tuning replaces it; the sweep takes it
 * and comes out different from the untuned one. */
static void test_tuned_file(void **state)
{
    (void)state;
    static char original[32768], first[32768], second[32768], untuned[65536], page[1000000];
    char options[160], given[256];
    const char *tuned = in_scratch("tuned.yaml"), *again = in_scratch("again.yaml");
    snprintf(options, sizeof options, "-o %s", tuned);
    assert_int_equal(run_tune(CASE, READINGS, options), EXIT_DONE);
    read_text(CASE, original, sizeof original);
    read_text(tuned, first, sizeof first);
    check_that("the text is kept", strncmp(first, original, strlen(original)) == 0);
    check_that("section", strncmp(first + strlen(original), "tuned:\n", 7) == 0);
    check_has("source", first, "12 readings of readings-r22.yaml");
    snprintf(options, sizeof options, "-o %s", again);
    assert_int_equal(run_tune(tuned, READINGS, options), EXIT_DONE);
    read_text(again, second, sizeof second);
    assert_int_equal(times(second, "\ntuned:"), 1);
    assert_string_equal(second, first);
    run("sweep " CASE);
    strcpy(untuned, said);
    snprintf(given, sizeof given, "sweep %s", tuned);
    const int code = run(given);
    check_that("swept", code == EXIT_DONE || code == EXIT_NO_PICK);
    check_that("another answer", strcmp(said, untuned) != 0);
    static const char *const verbs[] = {"sweep", "metering", "compare", "whatif"};
    for (size_t i = 0; i < sizeof verbs / sizeof verbs[0]; i++) {
        snprintf(given, sizeof given, "%s %s", verbs[i], tuned);
        run(given);
        check_has(verbs[i], said, "Tuned by readings: coil conductance ");
    }
    snprintf(given, sizeof given, "page %s -o %s", tuned, in_scratch("tuned.html"));
    run(given);
    read_text(in_scratch("tuned.html"), page, sizeof page);
    check_has("page", page, "Tuned by readings:");
    check_has("page", page, "12 readings of readings-r22.yaml");
}

static void test_tuned_file_refused(void **state)
{
    (void)state;
    static char text[32768];
    char options[160];
    const char *closed = in_scratch("closed.yaml"), *tuned = in_scratch("none.yaml");
    read_text(CASE, text, sizeof text - 8);
    strcat(text, "...\n");
    write_text(closed, text);
    snprintf(options, sizeof options, "-o %s", tuned);
    assert_int_equal(run_tune(closed, READINGS, options), EXIT_INPUT);
    expect("no section can be added");
    check_is("nothing written", access(tuned, F_OK), !=, 0);
    assert_int_equal(run_tune(CASE, READINGS, "-o /no/such/folder/x.yaml"), EXIT_SYSTEM);
}

static int make_scratch(void **state)
{
    (void)state;
    return mkdtemp(scratch) ? 0 : 1;
}

static int clear_scratch(void **state)
{
    (void)state;
    char command[128];
    snprintf(command, sizeof command, "rm -r %s", scratch);
    return system(command);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_two_sources),  cmocka_unit_test(test_no_cause),
        cmocka_unit_test(test_alike_twice),  cmocka_unit_test(test_runs),
        cmocka_unit_test(test_before_after), cmocka_unit_test(test_log),
        cmocka_unit_test(test_visits),       cmocka_unit_test(test_charges),
        cmocka_unit_test(test_no_coil),      cmocka_unit_test(test_usage),
        cmocka_unit_test(test_report),       cmocka_unit_test(test_json),
        cmocka_unit_test(test_tuned_file),   cmocka_unit_test(test_tuned_file_refused),
    };
    return cmocka_run_group_tests(tests, make_scratch, clear_scratch);
}
