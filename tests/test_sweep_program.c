/* `coiltrim sweep` as its user meets it: golden runs of the examples, faults, files, pictures, and
 * titles that try to be commands.
 *
 * tests/golden/ is this program's own output, kept to notice a change and to look at it; it proves
 * nothing right. `cmake --build build --target golden-refresh` makes it anew and shows the
 * difference. */
#include "program.h"

#include <jansson.h>

#include "base/exit_codes.h"
#include "job_of.h"
#include "locale_comma.h"
#include "sweep/columns.h"

enum { TEXT_SIZE = 400000 };

static const char *const examples[] = {"nothing-passes", "r22-larger-coil", "r410a-humid",
                                       "heat-pump",      "dual-rated",      "two-stage"};
enum { N_EXAMPLES = sizeof examples / sizeof examples[0] };

static program_result result;
static char golden[TEXT_SIZE], got[TEXT_SIZE];

static const char *example_path(const char *name)
{
    static char path[256];
    snprintf(path, sizeof path, "%s/examples/%s.yaml", SOURCE_DIR, name);
    return path;
}

static void read_golden(const char *example, const char *file)
{
    char path[256];
    snprintf(path, sizeof path, "%s/tests/golden/%s/%s", SOURCE_DIR, example, file);
    check_that(path, program_read(path, golden, sizeof golden));
}

/* ---- Golden runs ----------------------------------------------------------------- */

/* Absolute tolerance by a column's ending, for values that may be near zero; besides 1e-6 of the
 * value. Ten thousand times finer than any instrument, ten times coarser than the solver's. */
static double column_tolerance(const char *column)
{
    static const struct {
        const char *ending;
        double tol;
    } rows[] = {{"_btuh", 1e-2}, {"_f", 1e-5}, {"_watts", 1e-3}, {"_cfm", 1e-4}, {"_psig", 1e-4}};
    const size_t length = strlen(column);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const size_t n = strlen(rows[i].ending);
        if (length > n && strcmp(column + length - n, rows[i].ending) == 0) return rows[i].tol;
    }
    return 1e-6;
}

/* Cuts the next field off a line; a quoted one may hold commas. */
static char *next_field(char **rest)
{
    char *start = *rest, *c = start;
    if (!start) return NULL;
    if (*c == '"') do
            c++;
        while (*c && !(c[0] == '"' && c[1] != '"'));
    c += strcspn(c, ",");
    *rest = *c ? c + 1 : NULL;
    *c = '\0';
    return start;
}

static void compare_field(const char *where, const char *column, const char *want, const char *have)
{
    char label[320], *want_end, *have_end;
    snprintf(label, sizeof label, "%s, column %.60s ('%.40s', golden '%.40s')", where, column, have,
             want);
    const double w = strtod(want, &want_end), h = strtod(have, &have_end);
    if (!want[0] || *want_end || *have_end || !have[0]) {
        check_same_text(label, want, have);
        return;
    }
    check_abs(label, h, w, column_tolerance(column) + 1e-6 * fabs(w));
}

static int count_lines(const char *text)
{
    int n = 0;
    for (; *text; text++)
        n += *text == '\n';
    return n;
}

/* Shape first: lines, and fields of each line. Both texts are cut up. */
static void compare_csv(const char *name)
{
    char header[4000], *want = golden, *have = got;
    check_abs(name, count_lines(got), count_lines(golden), 0);
    snprintf(header, sizeof header, "%.*s", (int)strcspn(golden, "\r"), golden);
    for (int line = 1; *want; line++) {
        char where[120], columns[4000], *c = columns, *w = want, *h = have;
        want += strcspn(want, "\n") + 1;
        have += strcspn(have, "\n") + 1;
        want[-2] = want[-1] = have[-2] = have[-1] = '\0';
        strcpy(columns, header);
        snprintf(where, sizeof where, "%s line %d", name, line);
        while (c || w || h) {
            const char *column = next_field(&c), *wf = next_field(&w), *hf = next_field(&h);
            check_that(where, column);
            check_that(where, wf);
            check_that(where, hf);
            compare_field(where, column, wf, hf);
        }
    }
}

static bool is_number_part(char c)
{
    return (c >= '0' && c <= '9') || c == '.' || c == ',';
}

/* Reads "24,410" or "0.45" and gives one step of its last digit; capacities come in tens. */
static double read_shown(const char **text, double *step)
{
    double v = 0, unit = 1;
    bool fraction = false;
    for (; is_number_part(**text); (*text)++) {
        if (**text == '.') fraction = true;
        if (**text == '.' || **text == ',') continue;
        v = 10 * v + (**text - '0');
        if (fraction) unit /= 10;
    }
    *step = fraction ? unit : v >= 100 ? 10 : 1;
    return v * unit;
}

/* Texts alike but for one step in the last digit of a number. */
static void compare_report(const char *name)
{
    const char *want = golden, *have = got;
    check_abs(name, count_lines(got), count_lines(golden), 0);
    while (*want && *have) {
        if (is_number_part(*want) && is_number_part(*have)) {
            double step, w = read_shown(&want, &step), h = read_shown(&have, &step);
            check_abs(name, h, w, 1.01 * step);
        } else if (*want++ != *have++) {
            print_error("%s: got '%.60s', golden '%.60s'\n", name, have - 1, want - 1);
            check_that(name, false);
        }
    }
    check_that(name, !*want);
    check_that(name, !*have);
}

static void test_golden(void **state)
{
    (void)state;
    for (int i = 0; i < N_EXAMPLES; i++) {
        const char *dir = program_path("golden-run");
        const char *const report[] = {"sweep", example_path(examples[i]), NULL};
        program_run(report, environ, &result);
        check_abs(examples[i], result.code, i == 0 ? EXIT_NO_PICK : EXIT_DONE, 0);
        program_expect(examples[i], result.err, NULL);
        read_golden(examples[i], "stdout.txt");
        strcpy(got, result.out);
        compare_report(examples[i]);

        const char *const files[] = {"sweep", example_path(examples[i]), "-o", dir, "--no-render",
                                     NULL};
        program_run(files, environ, &result);
        static const char *const tables[] = {"sweep.csv", "taps.csv", "heating.csv",
                                             "low_sweep.csv", "low_taps.csv"};
        for (size_t k = 0; k < sizeof tables / sizeof *tables; k++) {
            const char *file = tables[k];
            char path[300];
            snprintf(path, sizeof path, "%s/%s", dir, file);
            read_golden(examples[i], file);
            check_that(path, program_read(path, got, sizeof got));
            check_is("no file for what the case does not have, not even a stale one",
                     program_is_there(path), ==, (golden[0] != '\0'));
            compare_csv(examples[i]);
        }
    }
}

/* The report must fit a terminal. */
static void test_width(void **state)
{
    (void)state;
    for (int i = 0; i < N_EXAMPLES; i++)
        for (int si = 0; si < 2; si++) {
            const char *const args[] = {"sweep", example_path(examples[i]), "--reasons",
                                        si ? "--si" : NULL, NULL};
            program_run(args, environ, &result);
            for (const char *line = result.out; *line; line += strcspn(line, "\n") + 1)
                if (strcspn(line, "\n") > 80) program_expect("80 columns", line, NULL);
        }
}

/* ---- Faults and options ---------------------------------------------------------- */

static const char bad_case[] = "site:\n"
                               "  outdoor_dry_bulb: 95\n"
                               "  indoor_air:\n"
                               "    dry_bulb: 75 F\n"
                               "    relative_humidity: 50 %\n"
                               "hause:\n"
                               "  sensible_load: 22000 Btu/h\n";

static void test_runs(void **state)
{
    (void)state;
    program_write(program_path("bad.yaml"), bad_case);
    program_write(program_path("file"), "x");
    char bad[256], missing[256], good[256], in_file[300];
    snprintf(bad, sizeof bad, "%s", program_path("bad.yaml"));
    snprintf(missing, sizeof missing, "%s", program_path("missing.yaml"));
    snprintf(good, sizeof good, "%s", example_path(examples[1]));
    snprintf(in_file, sizeof in_file, "%s/x", program_path("file"));
    const program_row runs[] = {
        {"help", {"sweep", "--help"}, EXIT_DONE, "Usage: coiltrim sweep CASE", NULL},
        {"no case", {"sweep"}, EXIT_USAGE, NULL, "give a file, or pairs"},
        {"missing file", {"sweep", missing}, EXIT_SYSTEM, NULL, "missing.yaml: "},
        {"a fault with its line",
         {"sweep", bad},
         EXIT_INPUT,
         NULL,
         "bad.yaml:2: site.outdoor_dry_bulb: "},
        {"and the next fault too", {"sweep", bad}, EXIT_INPUT, NULL, "bad.yaml:6: hause: "},
        {"what was given", {"sweep", bad}, EXIT_INPUT, NULL, "'95' has no unit"},
        {"what is missing", {"sweep", bad}, EXIT_INPUT, NULL, "outdoor"},
        {"folder that is a file",
         {"sweep", good, "-o", program_path("file")},
         EXIT_SYSTEM,
         NULL,
         "there is a file of that name"},
        {"folder in a file", {"sweep", good, "-o", in_file}, EXIT_SYSTEM, NULL, "no folder"},
        {"folder without a name", {"sweep", good, "-o", ""}, EXIT_USAGE, NULL, "has no name"},
        {"format without folder",
         {"sweep", good, "--format", "svg"},
         EXIT_USAGE,
         NULL,
         "needs --output"},
        {"no-render without folder",
         {"sweep", good, "--no-render"},
         EXIT_USAGE,
         NULL,
         "needs --output"},
        {"unknown format",
         {"sweep", good, "-o", "x", "--format", "gif"},
         EXIT_USAGE,
         NULL,
         "png|svg|pdf"},
        {"columns", {"sweep", "--columns"}, EXIT_DONE, "net_total_btuh, net_total_w", NULL},
        {"quiet", {"sweep", good, "-q"}, EXIT_DONE, "Pick: ", NULL},
        {"reasons", {"sweep", good, "--reasons"}, EXIT_DONE, "common practice, no source", NULL},
        {"metric", {"sweep", good, "--si"}, EXIT_DONE, "L/s", NULL},
        {"cut when damp",
         {"sweep", good, "fan_control.cut_when_damp=yes"},
         EXIT_DONE,
         "Fan control: fan AUTO, 15% less air above 53% RH",
         NULL},
        {"controls in JSON", {"sweep", good, "--json"}, EXIT_DONE, "\"plain_auto\": {", NULL},
    };
    program_check_rows(runs, sizeof runs / sizeof runs[0]);
}

/* 139 to 142 is 3, whatever the digits not shown say. */
static void test_difference_as_shown(void **state)
{
    (void)state;
    const char *const args[] = {"sweep", "tons=3", "--si", NULL};
    program_run(args, environ, &result);
    program_expect("difference", result.out,
                   "139 L/s per ton,\n  the least allowed is 142 L/s per ton: short by 3 L/s");
}

/* Ours: lines of the report that a technician reads first; the answer is before the table. */
enum { SCREENFUL = 30 };

static void test_screenful(void **state)
{
    (void)state;
    for (int i = 0; i < N_EXAMPLES; i++) {
        const char *const args[] = {"sweep", example_path(examples[i]), NULL};
        program_run(args, environ, &result);
        const char *table = strstr(result.out, "  net sens lat-");
        const char *answer = strstr(result.out, "Pick: ");
        if (!answer) answer = strstr(result.out, " passes.\n");
        check_that("the answer is before the table", answer);
        check_that("the answer is before the table", table);
        check_that("the answer is before the table", answer < table);
        /* A heat pump has a second table. */
        const bool second = strstr(result.out, "\nHeat pump ") != NULL;
        check_that(examples[i], second || count_lines(result.out) <= SCREENFUL);
    }
    /* Its house is near the humidity ceiling, and nobody said how much of the load the damp hour
     * has. */
    const char *const humid[] = {"sweep", example_path("r410a-humid"), NULL};
    program_run(humid, environ, &result);
    program_expect("an assumption that matters", result.out,
                   "Assumed: house.humidity_load = 60%; ");
    const char *const other[] = {"sweep", example_path("r22-larger-coil"), NULL};
    program_run(other, environ, &result);
    check_lacks("none that matters", result.out, "Assumed: ");
    const char *const args[] = {"explain", example_path("nothing-passes"), "--at", "400 cfm/ton",
                                NULL};
    program_run(args, environ, &result);
    check_abs("explain where none passes", result.code, EXIT_NO_PICK, 0);
    const char *const bare[] = {"explain", example_path("nothing-passes"), NULL};
    program_run(bare, environ, &result);
    check_abs("and without a speed", result.code, EXIT_NO_PICK, 0);
    program_expect("it explains one", result.out, "step by step, at 500\ncfm/ton");
    const char *const pick[] = {"explain", example_path("r22-larger-coil"), NULL};
    program_run(pick, environ, &result);
    program_expect("else the pick", result.out, "step by step, at tap 'low'");
}

/* Copies an example with one text replaced by another. */
static void write_variant(const char *example, const char *from, const char *to, const char *path)
{
    static char text[20000], changed[24000];
    check_that(example, program_read(example_path(example), text, sizeof text));
    char *at = strstr(text, from);
    check_that(from, at != NULL);
    snprintf(changed, sizeof changed, "%.*s%s%s", (int)(at - text), text, to, at + strlen(from));
    program_write(path, changed);
}

/* A nameplate that contradicts itself is reported with the file and the keys to look at. */
static void test_contradiction(void **state)
{
    (void)state;
    const char *path = program_path("contradiction.yaml");
    write_variant("r410a-humid", "rated_sensible_ratio: 74 %", "rated_sensible_ratio: 95 %", path);
    const char *const args[] = {"sweep", path, NULL};
    program_run(args, environ, &result);
    check_abs("exit code", result.code, EXIT_INPUT, 0);
    program_expect("file", result.err, "contradiction.yaml: ");
    program_expect("keys", result.err, "rated_sensible_ratio");
}

/* ---- Files ----------------------------------------------------------------------- */

static bool begins_with(const char *dir, const char *file, const char *magic)
{
    char path[300];
    snprintf(path, sizeof path, "%s/%s", dir, file);
    program_read(path, got, sizeof got);
    return strncmp(got, magic, strlen(magic)) == 0;
}

static bool dir_has(const char *dir, const char *file)
{
    char path[300];
    snprintf(path, sizeof path, "%s/%s", dir, file);
    return program_is_there(path);
}

static void test_pictures(void **state)
{
    (void)state;
    const char *dir = program_path("pictures");
    const char *const svg[] = {"sweep", example_path(examples[1]), "-o", dir, "--format", "svg",
                               NULL};
    program_run(svg, environ, &result);
    check_abs("svg", result.code, EXIT_DONE, 0);
    program_expect("gnuplot says nothing", result.err, NULL);
    program_expect("says where", result.out, "Files are in ");
    check_that("drawn", begins_with(dir, "capacity.svg", "<?xml"));
    check_that("drawn", begins_with(dir, "coil_temperature.svg", "<?xml"));
    check_that("drawn", begins_with(dir, "humidity.svg", "<?xml"));
    check_that("drawn", begins_with(dir, "shr.svg", "<?xml"));
    const char *const scripts[] = {"sweep", example_path(examples[0]), "-o", dir, "--no-render",
                                   NULL};
    program_run(scripts, environ, &result);
    check_abs("no speed passes, files all the same", result.code, EXIT_NO_PICK, 0);
    check_that("pictures and taps of the case before are gone", !dir_has(dir, "capacity.svg"));
    check_that("pictures and taps of the case before are gone", !dir_has(dir, "capacity.png"));
    check_that("pictures and taps of the case before are gone", !dir_has(dir, "taps.csv"));
    check_that("scripts are there", dir_has(dir, "capacity.gp"));
    check_that("scripts are there", dir_has(dir, "sweep.csv"));
    char script[300];
    snprintf(script, sizeof script, "%s/capacity.gp", dir);
    const char *const again[] = {"-d", script, NULL};
    check_abs("a script runs by hand",
              program_spawn("gnuplot", again, "/dev/null", "/dev/null", environ), 0, 0);
    check_that("and draws a PNG", begins_with(dir, "capacity.png", "\x89PNG"));
}

/* A heat pump has a picture of its heating; a cooling-only unit in the same folder leaves none. */
static void test_heating_picture(void **state)
{
    (void)state;
    const char *dir = program_path("heating");
    const char *const pump[] = {"sweep", example_path("heat-pump"), "-o", dir, NULL};
    const char *const cools[] = {
        "sweep", example_path("heat-pump"), "outdoor.heat_pump.in_use=no", "-o", dir, "--no-render",
        NULL};
    program_run(pump, environ, &result);
    check_abs("heat pump", result.code, EXIT_DONE, 0);
    program_expect("gnuplot says nothing", result.err, NULL);
    check_that("drawn", begins_with(dir, "heating.png", "\x89PNG"));
    char path[300];
    snprintf(path, sizeof path, "%s/heating.gp", dir);
    check_that("script", program_read(path, got, sizeof got));
    program_expect("the tap advised", got, "n_taps = 3\nadvised = 3\ntap_name_1 = 'low'\n");
    snprintf(path, sizeof path, "%s/heating.csv", dir);
    check_that("table", program_read(path, got, sizeof got));
    program_expect("columns", got,
                   "day,outdoor_dry_bulb_f,return_dry_bulb_f,airflow_cfm_per_ton,tap,heats,"
                   "heating_capacity_btuh,saturated_discharge_f,supply_f,total_power_watts,cop");
    /* Four days, each 26 airflows and three taps, and the heading. */
    check_is("rows", count_lines(got), ==, 1 + 4 * (26 + 3));
    program_run(cools, environ, &result);
    check_abs("cools only", result.code, EXIT_DONE, 0);
    check_that("no second table", !strstr(result.out, "\nHeat pump "));
    check_that("nothing stale", !dir_has(dir, "heating.png") && !dir_has(dir, "heating.csv") &&
                                    !dir_has(dir, "heating.gp"));
}

/* Which tap is meant to heat, and why that one of those that do, where nobody said which heats. */
static void test_heating_tap_not_said(void **state)
{
    (void)state;
    static char text[20000];
    const char *path = program_path("nobody-said.yaml");
    check_that("example", program_read(example_path("heat-pump"), text, sizeof text));
    char *line = strstr(text, "    heat_tap: low");
    check_that("a tap that heats", line != NULL);
    memset(line, ' ', strcspn(line, "\n"));
    program_write(path, text);
    const char *const args[] = {"sweep", path, NULL}, *const si[] = {"sweep", path, "--si", NULL};
    program_run(args, environ, &result);
    program_expect("why", result.out,
                   "Heating: set it to high, 1,142 cfm: the slowest that does with the usual 350\n"
                   "  cfm/ton. So far nobody said which tap heats");
    program_expect("what to give", result.out, "Say which tap heats");
    program_run(si, environ, &result);
    program_expect("metric", result.out, "the usual 165");
}

static void test_without_gnuplot(void **state)
{
    (void)state;
    char no_path[] = "PATH=/nowhere";
    char *environment[] = {no_path, NULL};
    const char *dir = program_path("bare");
    const char *const args[] = {"sweep", example_path(examples[1]), "-o", dir, NULL};
    program_run(args, environment, &result);
    check_abs("no failure", result.code, EXIT_DONE, 0);
    program_expect("told", result.err, "gnuplot is not installed");
    check_lacks("told once", strstr(result.err, "not installed") + 1, "not installed");
    check_that("files are there", dir_has(dir, "shr.gp"));
    check_that("files are there", dir_has(dir, "taps.csv"));
}

/* gnuplot loses count of a table's columns at a name with quotes: figures of other columns would be
 * drawn, here a heat ratio of thousands. */
static void test_quoted_names(void **state)
{
    (void)state;
    const char *dir = program_path("quoted");
    const char *const args[] = {
        "sweep", example_path("awkward-names"), "-o", dir, "--format", "svg", NULL};
    program_run(args, environ, &result);
    check_abs("done", result.code, EXIT_DONE, 0);
    program_expect("gnuplot says nothing", result.err, NULL);
    check_that("all are drawn", begins_with(dir, "humidity.svg", "<?xml"));
    check_that("all are drawn", begins_with(dir, "shr.svg", "<?xml"));
    char path[300];
    snprintf(path, sizeof path, "%s/shr.svg", dir);
    program_read(path, got, sizeof got);
    check_has("no ratio of thousands", got, "0.70<");
    check_lacks("no ratio of thousands", got, "000.00<");
}

/* Text of the job file that would run in a shell, in double quotes or in gnuplot's own commands. */
static void test_payload(void **state)
{
    (void)state;
    const char *path = program_path("payload.yaml"), *dir = program_path("payload");
    char touched[256], title[1200];
    snprintf(touched, sizeof touched, "%s/TOUCHED", program_scratch);
    snprintf(title, sizeof title,
             "title: '`touch %s` $(touch %s) \"''; system(\"touch %s\") # {/Bold @x_1^2}'", touched,
             touched, touched);
    write_variant(examples[1], "title: Larger coil on an old R-22 unit", title, path);
    const char *both = program_path("payload2.yaml");
    static char text[24000], changed[26000];
    program_read(path, text, sizeof text);
    char *at = strstr(text, "name: medium low");
    check_that("tap to rename", at != NULL);
    /* A tap's name is 47 bytes at most: the short form of the same attack. */
    snprintf(changed, sizeof changed, "%.*sname: '`touch TOUCHED` \"$(id)\" '';id'%s",
             (int)(at - text), text, at + strlen("name: medium low"));
    program_write(both, changed);
    static const char *const formats[] = {"png", "svg", "pdf"};
    for (int i = 0; i < 3; i++) {
        const char *const args[] = {"sweep", both, "-o", dir, "--format", formats[i], NULL};
        program_run(args, environ, &result);
        check_abs(formats[i], result.code, EXIT_DONE, 0);
        program_expect("gnuplot says nothing", result.err, NULL);
        check_that("nothing ran", !program_is_there(touched));
        check_that("nothing ran", !program_is_there("TOUCHED"));
    }
    char script[300];
    snprintf(script, sizeof script, "%s/capacity.gp", dir);
    program_read(script, got, sizeof got);
    program_expect("the title is there as text", got, "job_title = '`touch ");
}

/* ---- JSON ------------------------------------------------------------------------ */

static json_t *run_json(const char *example, bool si)
{
    json_error_t error;
    const char *const args[] = {"sweep", example_path(example), "--json", si ? "--si" : NULL, NULL};
    program_run(args, environ, &result);
    json_t *root = json_loads(result.out, JSON_REJECT_DUPLICATES, &error);
    check_that(error.text, root != NULL);
    return root;
}

static double number_at(const json_t *object, const char *key)
{
    const json_t *v = json_object_get(object, key);
    check_that(key, json_is_number(v));
    return json_number_value(v);
}

/* The same run in both unit systems, against each other by exact conversions and against itself. */
static void test_json(void **state)
{
    (void)state;
    json_t *ip = run_json("r410a-humid", false), *si = run_json("r410a-humid", true);
    const json_t *pick = json_object_get(ip, "pick");
    check_that("found", json_is_true(json_object_get(pick, "found")));
    const size_t i = (size_t)number_at(pick, "index");
    const json_t *a = json_array_get(json_object_get(ip, "taps"), i);
    const json_t *b = json_array_get(json_object_get(si, "taps"), i);
    check_that("the pick is marked", json_is_true(json_object_get(a, "pick")));
    /* 1 Btu/h (IT) = 0.29307107 W, NIST SP 811 appendix B.8, printed digits */
    check_rel("capacity", number_at(a, "net_total_btuh") * 0.29307107, number_at(b, "net_total_w"),
              1e-8);
    check_abs("suction", (number_at(a, "sat_suction_f") + 459.67) / 1.8,
              number_at(b, "sat_suction_k"), 1e-6);
    check_abs("net is sensible and latent", number_at(a, "net_total_btuh"),
              number_at(a, "net_sensible_btuh") + number_at(a, "net_latent_btuh"), 1e-4);
    const json_t *sensible = json_object_get(json_object_get(a, "limits"), "sensible_load");
    check_abs("judged in the air the house settles at", number_at(sensible, "value_btuh"),
              number_at(a, "design_sensible_btuh"), 1e-4);
    check_is("assumptions", json_array_size(json_object_get(ip, "assumed")), >, 5);
    check_rel(
        "case is reported",
        number_at(json_object_get(json_object_get(ip, "case"), "outdoor"), "rated_capacity_btuh"),
        35400, 1e-9);
    check_is("hottest day", number_at(pick, "hottest_day_f"), >, 93);
    json_decref(ip);
    json_decref(si);

    json_t *none = run_json("nothing-passes", false);
    check_abs("exit code", result.code, EXIT_NO_PICK, 0);
    pick = json_object_get(none, "pick");
    check_that("not found", json_is_false(json_object_get(pick, "found")));
    check_abs("what fails", number_at(json_object_get(pick, "fails_on"), "sensible_load"), 51, 0);
    check_is("fixes", json_array_size(json_object_get(pick, "fixes")), >, 0);
    json_decref(none);
}

/* ---- Locale ---------------------------------------------------------------------- */

/* In a host program with a decimal comma the CSV stays the same to the byte. */
static void test_comma_locale(void **state)
{
    (void)state;
    char *texts[2];
    for (int comma = 0; comma < 2; comma++) {
        char dir[64];
        size_t size;
        job j;
        if (comma) comma_locale_enter(dir);
        check_is("case", job_of(example_path(examples[1]), &j), ==, EXIT_DONE);
        ct_sweep *s = calloc(1, sizeof *s);
        ct_pick pick;
        check_is("sweep", ct_sweep_run(j.solver, &j.sweep, s, NULL), ==, CT_OK);
        ct_pick_lowest(&j.sweep, s, &pick);
        const sweep_view view = {&j.sweep, s, &pick};
        FILE *stream = open_memstream(&texts[comma], &size);
        check_that("CSV", sweep_columns_csv(stream, &view, s->point, s->n, false));
        fclose(stream);
        if (comma) comma_locale_leave(dir);
        free(s);
        job_close(&j);
    }
    check_same_text("same bytes", texts[0], texts[1]);
    free(texts[0]);
    free(texts[1]);
}

/* The case shown in the README runs as it is, and its transcript is the program's. */
static void test_readme(void **state)
{
    (void)state;
    check_that("README", program_read(SOURCE_DIR "/README.md", got, sizeof got));
    char *block = strstr(got, "```yaml\n"), *end = block ? strstr(block + 8, "```") : NULL;
    check_that("a case is shown", end != NULL);
    *end = '\0';
    const char *path = program_path("readme.yaml");
    program_write(path, block + 8);
    const char *const args[] = {"sweep", path, NULL};
    program_run(args, environ, &result);
    check_abs("a speed passes", result.code, EXIT_DONE, 0);
    program_expect("no complaint", result.err, NULL);
    read_golden(examples[1], "stdout.txt");
    const char *pick = strstr(golden, "\n>");
    char row[100];
    snprintf(row, sizeof row, "%.*s", (int)strcspn(pick + 1, "\n"), pick + 1);
    program_expect("the transcript has the golden run's pick", got, row);
}

static void test_columns(void **state)
{
    (void)state;
    char key[COLUMN_KEY_SIZE], other[COLUMN_KEY_SIZE];
    for (int i = 0; i < sweep_columns_count(); i++)
        for (int si = 0; si < 2; si++) {
            sweep_column_key(i, si, key);
            check_that(key, sweep_column_meaning(i)[0] != '\0');
            check_that(key, !key[strcspn(key, ",\" ")]);
            for (int k = 0; k < i; k++) {
                sweep_column_key(k, si, other);
                check_that(key, strcmp(key, other) != 0);
            }
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_heating_picture),
        cmocka_unit_test(test_heating_tap_not_said),
        cmocka_unit_test(test_screenful),
        cmocka_unit_test(test_difference_as_shown),
        cmocka_unit_test(test_golden),
        cmocka_unit_test(test_width),
        cmocka_unit_test(test_runs),
        cmocka_unit_test(test_contradiction),
        cmocka_unit_test(test_pictures),
        cmocka_unit_test(test_without_gnuplot),
        cmocka_unit_test(test_quoted_names),
        cmocka_unit_test(test_payload),
        cmocka_unit_test(test_json),
        cmocka_unit_test(test_comma_locale),
        cmocka_unit_test(test_columns),
        cmocka_unit_test(test_readme),
    };
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
