/* `sweep --uncertain`, `whatif` and `batch` as their user meets them: arguments, messages, files,
 * JSON. What the numbers are is tested where they are made. */
#include "program.h"

#include <gsl/gsl_cdf.h>
#include <jansson.h>

#include "base/exit_codes.h"
#include "invented_case.h"

static program_result result;

static void run(const char *const *args)
{
    program_run(args, environ, &result);
}

static const char *case_path(void)
{
    const char *path = program_path("case.yaml");
    program_write(path, INVENTED_CASE);
    return path;
}

typedef struct {
    const char *name;
    const char *args[PROGRAM_MAX_ARGS]; /* CASE and OUT become files */
    int code;
    const char *out, *err;
} row;

static const row rows[] = {
    {"no number", {"sweep", "CASE", "--uncertain", "many"}, EXIT_USAGE, NULL, "--uncertain"},
    {"none", {"sweep", "CASE", "--uncertain", "0"}, EXIT_USAGE, NULL, "from 1 to 100000"},
    {"half", {"sweep", "CASE", "--uncertain", "10.5"}, EXIT_USAGE, NULL, "whole number"},
    {"too many", {"sweep", "CASE", "--uncertain", "1e6"}, EXIT_USAGE, NULL, "from 1 to 100000"},
    {"report",
     {"sweep", "CASE", "--uncertain", "63"},
     EXIT_DONE,
     "medium: carries the load: ",
     NULL},
    {"report in words",
     {"sweep", "CASE", "--uncertain", "63"},
     EXIT_DONE,
     "off by its usual doubt, there are ",
     NULL},
    {"inputs", {"sweep", "CASE", "--uncertain", "63"}, EXIT_DONE, "load 10.0%, rated", NULL},
    {"quiet", {"sweep", "CASE", "--uncertain", "63", "-q"}, EXIT_DONE, "carries the load: ", NULL},
    {"columns", {"sweep", "--columns"}, EXIT_DONE, "share_LIMIT", NULL},
    {"whatif", {"whatif", "CASE"}, EXIT_DONE, "The pick is: medium", NULL},
    {"whatif names its job", {"whatif", "CASE"}, EXIT_DONE, " ton outdoor unit", NULL},
    {"whatif metric", {"whatif", "CASE", "--si"}, EXIT_DONE, "kW", NULL},
    {"why the largest load is not the heat given",
     {"whatif", "CASE", "judge_load_at=settled"},
     EXIT_DONE,
     "At its largest load",
     NULL},
    {"and in the report",
     {"sweep", "CASE", "judge_load_at=settled", "--full"},
     EXIT_DONE,
     "At its largest load",
     NULL},
    {"whatif without a case", {"whatif"}, EXIT_USAGE, NULL, "CASE is missing"},
    {"whatif without a file", {"whatif", "/nowhere.yaml"}, EXIT_SYSTEM, NULL, "/nowhere.yaml"},
    {"batch without output", {"batch", "OUT"}, EXIT_USAGE, NULL, "--output FILE is missing"},
    {"batch of nothing", {"batch", "/nowhere", "-o", "OUT"}, EXIT_SYSTEM, NULL, "/nowhere"},
    {"batch jobs", {"batch", "CASE", "-o", "OUT", "-j", "0"}, EXIT_USAGE, NULL, "from 1 to 64"},
    {"batch, no such share",
     {"batch", "CASE", "-o", "OUT", "--part", "3/2"},
     EXIT_USAGE,
     NULL,
     "1/16 to 16/16"},
    {"batch, no share",
     {"batch", "CASE", "-o", "OUT", "--part", "a/b"},
     EXIT_USAGE,
     NULL,
     "'a/b' given"},
    {"batch of a case file", {"batch", "CASE", "-o", "OUT"}, EXIT_USAGE, NULL, "for one case use"},
};

static void test_runs(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *args[PROGRAM_MAX_ARGS + 1] = {NULL};
        for (int k = 0; k < PROGRAM_MAX_ARGS && rows[i].args[k]; k++) {
            const char *a = rows[i].args[k];
            args[k] = strcmp(a, "CASE") == 0  ? case_path()
                      : strcmp(a, "OUT") == 0 ? program_path("out.csv")
                                              : a;
        }
        run(args);
        check_abs(rows[i].name, result.code, rows[i].code, 0);
        if (rows[i].out) program_expect(rows[i].name, result.out, rows[i].out);
        program_expect(rows[i].name, result.err, rows[i].err);
    }
}

/* Lines of the report fit an 80-column terminal. */
static void test_width(void **state)
{
    const char *const both[][6] = {{"sweep", case_path(), "--uncertain", "15", NULL},
                                   {"whatif", case_path(), NULL}};
    (void)state;
    for (int i = 0; i < 2; i++) {
        run(both[i]);
        for (char *line = strtok(result.out, "\n"); line; line = strtok(NULL, "\n"))
            check_is(line, strlen(line), <, 90);
    }
}

static json_t *json(void)
{
    json_error_t error;
    json_t *root = json_loads(result.out, 0, &error);
    if (!root) fail_msg("JSON: line %d: %s", error.line, error.text);
    return root;
}

static double number(json_t *o, const char *key)
{
    json_t *v = json_object_get(o, key);
    if (!json_is_number(v)) fail_msg("no number '%s'", key);
    return json_number_value(v);
}

/* With the load alone uncertain the share is the normal distribution of capacity over load, taken
 * from the same JSON. log2(N)/N, as in the test of the library. */
static void test_json(void **state)
{
    const char *path = program_path("load.yaml");
    const char *const args[] = {"sweep", path, "--uncertain", "1023", "--json", NULL};
    (void)state;
    program_write(
        path, INVENTED_CASE
        "uncertainty: {load: 8 %, rated_capacity: 0 %, rated_eer: 0 %, duct_static: 0 %,\n"
        "  rated_sensible_ratio: 0 %, indoor_humidity: 0 %, outdoor_dry_bulb: 0 F,\n"
        "  coil_conductance: 0 %}\n");
    run(args);
    assert_int_equal(result.code, EXIT_DONE);
    json_t *root = json(), *u = json_object_get(root, "uncertain");
    assert_int_equal((int)number(u, "draws"), 1023);
    check_abs("sigma", number(json_object_get(u, "standard_deviations"), "load"), 0.08, 1e-9);
    for (size_t i = 0; i < 3; i++) {
        json_t *tap = json_array_get(json_object_get(root, "taps"), i);
        json_t *spread = json_array_get(json_object_get(u, "taps"), i);
        assert_string_equal(json_string_value(json_object_get(tap, "tap")),
                            json_string_value(json_object_get(spread, "tap")));
        const double capacity = number(tap, "net_sensible_btuh");
        check_abs("share", number(json_object_get(spread, "shares"), "sensible_load"),
                  gsl_cdf_ugaussian_P((capacity / (22500 * 1.02) - 1) / 0.08), 10.0 / 1023);
        check_rel("no spread", number(spread, "net_sensible_p95_btuh"), capacity, 1e-7);
    }
    json_decref(root);
}

static void test_whatif_json(void **state)
{
    const char *const args[] = {"whatif", case_path(), "--json", "--si", NULL};
    double last = 0;
    (void)state;
    run(args);
    json_t *root = json(), *first = json_object_get(root, "changes_first");
    assert_string_equal(json_string_value(json_object_get(root, "pick")), "medium");
    assert_int_equal(json_array_size(json_object_get(root, "speeds")), 3);
    assert_int_equal(json_array_size(first), 11);
    for (size_t i = 0; i < 11; i++) {
        json_t *o = json_array_get(first, i);
        if (!json_is_true(json_object_get(o, "changes"))) continue;
        check_is("rising", number(o, "standard_deviations"), >=, last);
        last = number(o, "standard_deviations");
    }
    json_t *low = json_array_get(json_object_get(root, "speeds"), 0);
    check_is("the slowest falls short on the design day", number(low, "hottest_day_k"), <, 308.15);
    json_decref(root);
}

/* Files of one run with, then one without: what belongs to the spread goes. */
static void test_files(void **state)
{
    static const char *const names[] = {"spread/sweep_uncertain.csv", "spread/taps_uncertain.csv",
                                        "spread/capacity_band.gp", "spread/capacity_band.svg"};
    const char *const with[] = {"sweep", case_path(), "--uncertain",          "31", "--format",
                                "svg",   "-o",        program_path("spread"), NULL};
    static char text[200000];
    (void)state;
    run(with);
    assert_int_equal(result.code, EXIT_DONE);
    program_expect("gnuplot has nothing to say", result.err, NULL);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        check_that(names[i], program_is_there(program_path(names[i])));
    program_read(program_path(names[1]), text, sizeof text);
    program_expect("heading", text, ",net_sensible_p05_btuh,");
    program_expect("row", text, "\r\nmedium,");
    const char *const without[] = {
        "sweep", case_path(), "--no-render", "-o", program_path("spread"), NULL};
    run(without);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        check_that(names[i], !program_is_there(program_path(names[i])));
}

static void test_batch(void **state)
{
    const char *table = program_path("t.csv"), *out = program_path("r.csv");
    const char *const args[] = {"batch", table, "--base", case_path(), "-o", out, NULL};
    static char text[100000];
    (void)state;
    program_write(table, "case,indoor.coil.size\na,1.1\nb,9\n");
    run(args);
    assert_int_equal(result.code, EXIT_INPUT);
    program_expect("progress", result.err, "batch: 2 of 2 cases, 1 wrong");
    program_expect("verdict", result.err, "1 of 2 cases have no answer");
    program_read(out, text, sizeof text);
    program_expect("why", text, "indoor.coil.size");
    run(args);
    program_expect("taken up", result.err, "2 of 2 cases were done by an earlier run");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_runs),  cmocka_unit_test(test_width),
        cmocka_unit_test(test_json),  cmocka_unit_test(test_whatif_json),
        cmocka_unit_test(test_files), cmocka_unit_test(test_batch),
    };
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
