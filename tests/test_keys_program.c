/* `coiltrim keys` as its user meets it: nothing of the tables of keys is left out, a part can be
 * asked for, and what is said of a key is true of the reader. */
#include "program.h"

#include <jansson.h>

#include "base/exit_codes.h"
#include "case/casefile.h"
#include "case/readings.h"

static program_result r;

typedef bool key_of(int i, ct_key_row *row);

static void expect_all(const char *option, key_of *key)
{
    const char *const args[] = {"keys", "--json", option, NULL};
    program_run(args, environ, &r);
    check_abs("exit code", r.code, EXIT_DONE, 0);
    json_t *list = json_loads(r.out, 0, NULL);
    check_that("JSON", list != NULL);
    ct_key_row row;
    int n = 0;
    for (; key(n, &row); n++) {
        const json_t *told = json_array_get(list, (size_t)n);
        const struct {
            const char *name, *text;
        } part[] = {{"key", row.key},   {"unit", row.unit}, {"allowed", row.allowed},
                    {"when", row.when}, {"also", row.also}, {"help", row.help}};
        for (size_t i = 0; i < sizeof part / sizeof part[0]; i++) {
            const char *text = json_string_value(json_object_get(told, part[i].name));
            check_that(row.key, text);
            check_same_text(row.key, text, part[i].text);
        }
        check_that(row.key, row.help[0]);
        check_that(row.key, row.unit[0]);
        check_that(row.key, row.when[0]);
    }
    check_is("a table of keys", n, >, 15);
    check_abs("no more than the table has", (double)json_array_size(list), n, 0);
    json_decref(list);
}

static void test_all(void **state)
{
    (void)state;
    expect_all(NULL, ct_casefile_key);
    expect_all("--readings", ct_readings_key);
}

static const struct {
    const char *name;
    const char *args[6];
    int code;
    const char *out, *err; /* must be in it; NULL: must be empty */
    const char *not_out;   /* must not be in it */
} runs[] = {
    {"a section",
     {"keys", "duct"},
     EXIT_DONE,
     "duct.static: this or return_static and supply_static\n    external static measured\n    "
     "pressure, 0.62 inwc; allowed: "
     "0.02 inwc to 3 inwc\n",
     NULL,
     "\nsite"},
    {"a section in a section", {"keys", "blower"}, EXIT_DONE, "indoor.blower.motor", NULL, "duct."},
    {"a section and a part",
     {"keys", "indoor.blower"},
     EXIT_DONE,
     "blower.taps[].name",
     NULL,
     "duct"},
    {"one key's name", {"keys", "bore"}, EXIT_DONE, "indoor.metering.bore: ", NULL, "superheat:"},
    {"words that are allowed", {"keys", "vintage"}, EXIT_DONE, "newer|older", NULL, "tons"},
    {"no part of a name",
     {"keys", "superhea"},
     EXIT_USAGE,
     NULL,
     "did you mean 'superheat'?",
     NULL},
    {"a wrong name", {"keys", "metring"}, EXIT_USAGE, NULL, "did you mean 'metering'?", NULL},
    {"a far name", {"keys", "qqqqqqqqqqqq"}, EXIT_USAGE, NULL, "'coiltrim keys' lists them", NULL},
    {"an empty name", {"keys", ""}, EXIT_USAGE, NULL, "no key or section ''", NULL},
    {"a reading among case keys", {"keys", "outdoor_unit"}, EXIT_USAGE, NULL, "no key", NULL},
    {"a reading",
     {"keys", "liquid", "--readings"},
     EXIT_DONE,
     "liquid.pressure: ",
     NULL,
     "suction"},
    {"a word of a name", {"keys", "seer"}, EXIT_DONE, "outdoor.rated_seer: ", NULL, "tons"},
    {"a word of the trade", {"keys", "txv"}, EXIT_DONE, "indoor.metering.kind: ", NULL, "bore"},
    {"a British spelling", {"keys", "labour"}, EXIT_DONE, "indoor.labor: ", NULL, "price"},
    {"other words are listed",
     {"keys", "motor"},
     EXIT_DONE,
     "ECM = constant_torque or",
     NULL,
     "tons"},
    {"a reading is pointed to", {"keys", "supply_air"}, EXIT_USAGE, NULL, "add --readings", NULL},
    {"a case key is pointed to",
     {"keys", "tons", "--readings"},
     EXIT_USAGE,
     NULL,
     "leave out --readings",
     NULL},
    {"two names", {"keys", "duct", "site"}, EXIT_USAGE, NULL, "one argument too many", NULL},
};

static void test_runs(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof runs / sizeof runs[0]; i++) {
        program_run(runs[i].args, environ, &r);
        program_expect(runs[i].name, r.out, runs[i].out);
        program_expect(runs[i].name, r.err, runs[i].err);
        check_abs(runs[i].name, r.code, runs[i].code, 0);
        if (runs[i].not_out) check_lacks(runs[i].name, r.out, runs[i].not_out);
    }
}

/* The value a row gives as its example is one the reader takes at that key. */
static void test_examples_are_read(void **state)
{
    (void)state;
    static ct_case c;
    static ct_case_report report;
    static char text[100000];
    check_that("example",
               program_read(SOURCE_DIR "/examples/r22-larger-coil.yaml", text, sizeof text));
    ct_key_row row;
    int tried = 0;
    for (int i = 0; ct_casefile_key(i, &row); i++) {
        const char *example = strrchr(row.unit, ',');
        if (!example || strchr(row.key, '[') || !strpbrk(example, "0123456789")) continue;
        const ct_override over = {.key = row.key, .text = example + 2};
        ct_fault fault;
        ct_casefile_parse_over(text, strlen(text), &(ct_overrides){&over, 1}, &c, &report, &fault);
        tried++;
        for (int k = 0; k < report.n_faults && k < CT_MAX_CASE_FAULTS; k++) {
            const ct_case_fault *f = &report.fault[k];
            const bool about = strcmp(f->key, row.key) == 0;
            const bool bad = f->kind == CT_CASE_NUMBER || f->kind == CT_CASE_UNIT ||
                             f->kind == CT_CASE_RANGE || f->kind == CT_CASE_UNKNOWN_KEY;
            if (about && bad) print_error("%s: %s: %s\n", row.key, example + 2, f->what);
            check_that(row.key, !(about && bad));
        }
    }
    check_is("keys with a number", tried, >, 80);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_all),
        cmocka_unit_test(test_runs),
        cmocka_unit_test(test_examples_are_read),
    };
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
