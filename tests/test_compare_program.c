/* `coiltrim compare` and `coiltrim metering` as their user meets them: runs, words, files. */
#include "program.h"

#include <jansson.h>

#include "base/exit_codes.h"
#include "locale_comma.h"

static program_result result;

#define R22 SOURCE_DIR "/examples/r22-larger-coil.yaml"
#define HUMID SOURCE_DIR "/examples/r410a-humid.yaml"
#define NOTHING SOURCE_DIR "/examples/nothing-passes.yaml"
#define SEVEN SOURCE_DIR "/tests/cases/seven-units.yaml"

static const program_row runs[] = {
    {"no case", {"compare"}, EXIT_USAGE, NULL, "CASE is missing"},
    {"no such case", {"compare", "/nowhere.yaml"}, EXIT_SYSTEM, NULL, "/nowhere.yaml"},
    {"format without a folder",
     {"compare", R22, "--format", "svg"},
     EXIT_USAGE,
     NULL,
     "--format needs --output DIR"},
    {"folder without a name", {"compare", R22, "-o", ""}, EXIT_USAGE, NULL, "has no name"},
    {"folder in a place that is none",
     {"compare", R22, "-o", "/nowhere/at/all"},
     EXIT_SYSTEM,
     NULL,
     "/nowhere/at/all: no folder to write to"},
    {"none passes", {"compare", NOTHING}, EXIT_NO_PICK, "A: none of its ", NULL},
    {"how the season follows",
     {"compare", R22},
     EXIT_DONE,
     "SEER = EER at the B test x (1 - 0.5 CD), CD = 0.25",
     NULL},
    {"a SEER label",
     {"compare", R22},
     EXIT_DONE,
     "Label: SEER, Btu/Wh                  10.0",
     NULL},
    {"an EER label",
     {"compare", HUMID},
     EXIT_DONE,
     "Label: EER, Btu/Wh                   10.8",
     NULL},
    {"a piston with hardly any superheat",
     {"compare", HUMID, "candidates[1].metering.bore=0.074 in"},
     EXIT_DONE,
     "copes  near flood",
     NULL},
    {"the piston of the example copes", {"compare", HUMID}, EXIT_DONE, "copes       copes", NULL},
    {"phased out", {"compare", R22}, EXIT_DONE, "A: Caution: R-22 is no longer made", NULL},
    {"a larger coil's run and water", {"compare", R22}, EXIT_DONE, "A cools with ", NULL},
    {"why it settles where it does", {"compare", R22}, EXIT_DONE, ": there it settles.", NULL},
    {"heat to what is known, a difference as of the numbers shown",
     {"compare", R22},
     EXIT_DONE,
     " Net sensible, Btu/h                     -       -1320\n",
     NULL},
    {"metric", {"compare", R22, "--si"}, EXIT_DONE, "Net sensible, kW", NULL},
    {"wrong valve",
     {"compare", SEVEN},
     EXIT_DONE,
     "F: DO NOT INSTALL, does not fit: R-22 coil left over: the valve is made for",
     NULL},
    {"weak coil",
     {"compare", SEVEN},
     EXIT_DONE,
     "F: DO NOT INSTALL, does not fit: R-22 coil left over: the coil's design",
     NULL},
    {"oil", {"compare", SEVEN}, EXIT_DONE, "F: Caution: R-22 and R-410A use different oils", NULL},
    {"the indoor unit's label",
     {"compare", SEVEN},
     EXIT_DONE,
     "C's label, EER 13.5 Btu/Wh, is for the outdoor unit it is listed with. It does\n"
     "   not apply to this outdoor unit: here the EER is ",
     NULL},
    {"what it costs", {"compare", SEVEN}, EXIT_DONE, "Installed cost", NULL},

    {"metering: no case", {"metering"}, EXIT_USAGE, NULL, "CASE is missing"},
    {"metering: no such unit",
     {"metering", R22, "--unit", "B"},
     EXIT_USAGE,
     NULL,
     "there is no unit B; the case has 1, A\n"},
    {"metering: no letter of a unit",
     {"metering", R22, "--unit", "R"},
     EXIT_USAGE,
     NULL,
     "'R' given, allowed is one of A|B|C|D|E|F"},
    {"metering: superheat out of reason",
     {"metering", R22, "--superheat", "99 F"},
     EXIT_USAGE,
     NULL,
     "--superheat: 99 F given, allowed is above 0 to 54 F"},
    {"compare: air outdoors that dries the house",
     {"compare", R22, "site.outdoor_humidity=5%", "infiltration=200cfm",
      "house.latent_load=500Btu/h"},
     EXIT_DONE,
     " of water out of the house, whatever",
     NULL},
    {"metering: pictures without a folder",
     {"metering", R22, "--no-render"},
     EXIT_USAGE,
     NULL,
     "--no-render needs --output DIR"},
    {"metering: a valve that holds",
     {"metering", R22},
     EXIT_DONE,
     "It holds its superheat, 10.0 F.",
     NULL},
    {"metering: the piston floods on hot days",
     {"metering", R22},
     EXIT_DONE,
     "115.0              10      29330       floods 1%",
     NULL},
    {"metering: says from where", {"metering", R22}, EXIT_DONE, " F it floods.", NULL},
    {"metering: the size asked for",
     {"metering", R22, "--superheat", "15 F"},
     EXIT_DONE,
     "Piston size: for 15.0 F of superheat",
     NULL},
    {"metering: a candidate's piston",
     {"metering", HUMID, "-u", "B"},
     EXIT_DONE,
     "Piston: bore 0.0700 in.",
     NULL},
    {"metering: metric",
     {"metering", HUMID, "-u", "B", "--si"},
     EXIT_DONE,
     "Piston: bore 1.778 mm.",
     NULL},
    {"metering: charge by weight", {"metering", NOTHING}, EXIT_NO_PICK, "charge by weight", NULL},
    {"metering: valve for another refrigerant",
     {"metering", SEVEN, "--unit", "F"},
     EXIT_NO_PICK,
     "DO NOT INSTALL, does not fit: R-22 coil left over: the valve is made for R-22",
     NULL},
};

static void test_runs(void **state)
{
    (void)state;
    program_check_rows(runs, sizeof runs / sizeof runs[0]);
}

/* A terminal of 80 columns, and paper: no line is longer. */
static void test_width(void **state)
{
    (void)state;
    static const char *const args[][PROGRAM_MAX_ARGS] = {
        {"compare", R22},      {"compare", SEVEN},    {"compare", SEVEN, "--si"},
        {"compare", NOTHING},  {"metering", R22},     {"metering", HUMID, "-u", "B", "--si"},
        {"metering", NOTHING}, {"compare", "--help"}, {"metering", "--help"},
    };
    for (size_t i = 0; i < sizeof args / sizeof args[0]; i++) {
        program_run(args[i], environ, &result);
        for (char *line = strtok(result.out, "\n"); line; line = strtok(NULL, "\n")) {
            int width = 0;
            for (const char *c = line; *c; c++)
                width += ((unsigned char)*c & 0xc0) != 0x80;
            check_is(line, width, <=, 80);
        }
    }
}

static json_t *run_json(const char *const *args)
{
    json_error_t error;
    program_run(args, environ, &result);
    json_t *root = json_loads(result.out, JSON_REJECT_DUPLICATES, &error);
    check_that(error.text, root != NULL);
    return root;
}

static double number(const json_t *object, const char *key)
{
    const json_t *v = json_object_get(object, key);
    check_that(key, json_is_number(v));
    return json_number_value(v);
}

/* The nameplate of the example comes back (35 400 Btu/h is met at the A test, EER 10.8 beside it),
 * SEER follows by hand, and the change is the difference of the columns. */
static void test_compare_json(void **state)
{
    (void)state;
    const char *const args[] = {"compare", HUMID, "--json", NULL};
    json_t *root = run_json(args);
    const json_t *units = json_object_get(root, "units");
    check_abs("matched pair and two", (double)json_array_size(units), 3, 0);
    const json_t *rated = json_array_get(units, 0), *deep = json_array_get(units, 2);
    check_same_text("letter", json_string_value(json_object_get(rated, "letter")), "R");
    check_rel("rated EER", number(rated, "eer_a_btu_per_wh"), 10.8, 1e-6);
    const double CD = number(root, "cyclic_degradation");
    check_rel("SEER", number(deep, "seer_btu_per_wh"),
              number(deep, "eer_b_btu_per_wh") * (1 - CD / 2), 1e-9);
    check_abs("change in latent", number(deep, "change_net_latent_btuh"),
              number(deep, "net_latent_btuh") - number(rated, "net_latent_btuh"), 1e-6);
    check_abs("cost", number(deep, "installed_cost"), 2350, 1e-9);
    json_decref(root);
}

/* A deeper and a wider coil with valves, at the same air and load: shorter run, damper house. */
static void test_same_air_json(void **state)
{
    (void)state;
    const char *const args[] = {"compare", SEVEN, "--json", NULL};
    json_t *root = run_json(args);
    const json_t *units = json_object_get(root, "units"), *rated = json_array_get(units, 0);
    for (size_t i = 3; i <= 4; i++) {
        const json_t *larger = json_array_get(units, i);
        check_is("damper", number(larger, "rated_air_rh_settled"), >,
                 number(rated, "rated_air_rh_settled"));
        check_is("runs less", number(larger, "rated_air_run_share"), <,
                 number(rated, "rated_air_run_share"));
        check_is("takes out less", number(larger, "rated_air_water_lb_per_day"), <,
                 number(rated, "rated_air_water_lb_per_day"));
    }
    json_decref(root);
}

static void test_metering_json(void **state)
{
    (void)state;
    const char *const args[] = {"metering", R22, "--json", "--si", NULL};
    json_t *root = run_json(args);
    const json_t *valve = json_object_get(root, "valve"), *piston = json_object_get(root, "piston");
    check_abs("outdoors", (double)json_array_size(valve), 17, 0);
    check_abs("both", (double)json_array_size(piston), 17, 0);
    check_abs("charges", (double)json_array_size(json_object_get(root, "charge")), 10, 0);
    for (size_t i = 0; i < 17; i++)
        check_rel("held", number(json_array_get(valve, i), "superheat_k"), 10 / 1.8, 1e-9);
    /* Design day, 95 F: sized there. */
    check_rel("sized", number(json_array_get(piston, 8), "superheat_k"), 10 / 1.8, 1e-5);
    check_is("floods", number(json_array_get(piston, 16), "quality_out"), <, 1);
    json_decref(root);
}

static int count_lines(const char *text)
{
    int n = 0;
    for (; *text; text++)
        n += *text == '\n';
    return n;
}

static char text[400000];

static void read_scratch(const char *name)
{
    check_that(name, program_is_there(program_path(name)));
    check_that(name, program_read(program_path(name), text, sizeof text));
}

static void test_compare_files(void **state)
{
    (void)state;
    char dir[256];
    snprintf(dir, sizeof dir, "%s", program_path("compared"));
    const char *const args[] = {"compare", SEVEN, "-o", dir, NULL};
    program_run(args, environ, &result);
    program_expect("no complaint, of gnuplot neither", result.err, NULL);
    read_scratch("compared/compare.csv");
    check_abs("a header, the pair, six units", count_lines(text), 8, 0);
    program_expect("columns", text, "letter,unit,verdict,tap,metering,airflow_cfm,");
    program_expect("refused", text, "F,R-22 coil left over,refused,");
    read_scratch("compared/compare_curves.csv");
    /* 45 airflows of the pair and of the six units, and a mark for each. */
    check_abs("curves", count_lines(text), 1 + 7 * 45 + 7, 0);
    read_scratch("compared/compare.png");
    check_that("a picture", strncmp(text, "\x89PNG", 4) == 0);
    check_that("the title ran nothing", !program_is_there("boom"));
    const char *const again[] = {"compare", R22, "-o", dir, "--no-render", "--si", NULL};
    program_run(again, environ, &result);
    check_that("an older picture is gone", !program_is_there(program_path("compared/compare.png")));
    read_scratch("compared/compare.csv");
    program_expect("SI", text, ",net_total_w,");
    const char *const svg[] = {"compare", R22, "-o", dir, "--format", "svg", NULL};
    program_run(svg, environ, &result);
    read_scratch("compared/compare.svg");
    check_that("svg", strncmp(text, "<?xml", 5) == 0);
}

static void test_metering_files(void **state)
{
    (void)state;
    char dir[256];
    snprintf(dir, sizeof dir, "%s", program_path("metered"));
    const char *const args[] = {"metering", HUMID, "--unit", "B", "-o", dir, NULL};
    program_run(args, environ, &result);
    program_expect("no complaint, of gnuplot neither", result.err, NULL);
    read_scratch("metered/metering.csv");
    check_abs("outdoors", count_lines(text), 18, 0);
    program_expect("columns", text, "outdoor_dry_bulb_f,valve_superheat_f,valve_quality_out,");
    read_scratch("metered/subcooling.csv");
    check_abs("charges", count_lines(text), 11, 0);
    read_scratch("metered/superheat.png");
    check_that("a picture", strncmp(text, "\x89PNG", 4) == 0);
    const char *const pdf[] = {"metering", R22, "-o", dir, "--format", "pdf", "--si", NULL};
    program_run(pdf, environ, &result);
    program_expect("pdf without complaint", result.err, NULL);
    read_scratch("metered/superheat.pdf");
    check_that("pdf", strncmp(text, "%PDF", 4) == 0);
    check_that("the png is gone", !program_is_there(program_path("metered/superheat.png")));
}

/* Figures of the files are the same in a comma locale. */
static void test_comma_locale(void **state)
{
    (void)state;
    static const char *const files[] = {"local/compare.csv", "local/compare_curves.csv",
                                        "local/compare.gp", "local/metering.csv",
                                        "local/superheat.gp"};
    char dir[256], locale[64];
    static char plain[5][400000];
    snprintf(dir, sizeof dir, "%s", program_path("local"));
    const char *const compare[] = {"compare", HUMID, "-o", dir, "--no-render", NULL};
    const char *const metering[] = {"metering", HUMID, "-o", dir, "--no-render", NULL};
    for (int comma = 0; comma < 2; comma++) {
        if (comma) comma_locale_enter(locale);
        if (comma) setenv("LC_ALL", "de_DE.UTF-8", 1);
        program_run(compare, environ, &result);
        program_run(metering, environ, &result);
        if (comma) unsetenv("LC_ALL");
        if (comma) comma_locale_leave(locale);
        for (int i = 0; i < 5; i++) {
            read_scratch(files[i]);
            if (comma)
                assert_string_equal(text, plain[i]);
            else
                strcpy(plain[i], text);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_runs),           cmocka_unit_test(test_width),
        cmocka_unit_test(test_compare_json),   cmocka_unit_test(test_same_air_json),
        cmocka_unit_test(test_metering_json),  cmocka_unit_test(test_compare_files),
        cmocka_unit_test(test_metering_files), cmocka_unit_test(test_comma_locale),
    };
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
