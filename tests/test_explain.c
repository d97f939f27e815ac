/* The walk-through: every printed sum gives its printed result, worked out here by another reader
 * of sums; every number in a sentence stands among the numbers shown; the words go the way the
 * numbers go; the values are the balance's own. Then the pictures' files: chart lines against the
 * air model, the process between its ends, curves crossing at the balance, taps on their tables. */
#include "check.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "base/units.h"
#include "explain/sections.h"
#include "fluid/air.h"
#include "job_of.h"
#include "program.h"
#include "show/arithmetic.h"

#define ROWS(a) (sizeof(a) / sizeof((a)[0]))

enum { OUT_SIZE = 200000 };

static const char *example(const char *name)
{
    static char path[4][300];
    static int next;
    next = (next + 1) % 4;
    snprintf(path[next], sizeof path[next], "%s/examples/%s.yaml", SOURCE_DIR, name);
    return path[next];
}

/* Runs the program through the shell; standard error joins `out` when `all`. */
static int run_program(const char *words, bool all, char *out)
{
    char command[1200];
    snprintf(command, sizeof command, "'%s' %s 2>%s", PROGRAM, words, all ? "&1" : "/dev/null");
    FILE *pipe = popen(command, "r");
    assert_non_null(pipe);
    const size_t n = fread(out, 1, OUT_SIZE - 1, pipe);
    out[n] = '\0';
    const int state = pclose(pipe);
    assert_true(WIFEXITED(state));
    return WEXITSTATUS(state);
}

/* ---- Another reader of sums: operators on a stack, not by descent ---------------- */

typedef struct {
    double value[40];
    char op[40];
    int n_values, n_ops;
} stacks;

static int rank(char op)
{
    return op == '+' || op == '-' ? 1 : op == 'x' || op == '/' ? 2 : op == '^' ? 3 : 0;
}

static void reduce(stacks *s)
{
    const char op = s->op[--s->n_ops];
    assert_true(s->n_values >= 2);
    const double b = s->value[--s->n_values], a = s->value[s->n_values - 1];
    s->value[s->n_values - 1] = op == '+'   ? a + b
                                : op == '-' ? a - b
                                : op == 'x' ? a * b
                                : op == '/' ? a / b
                                            : pow(a, b);
}

static void close_bracket(stacks *s)
{
    while (s->n_ops > 0 && !strchr("(le", s->op[s->n_ops - 1]))
        reduce(s);
    assert_true(s->n_ops > 0);
    double *v = &s->value[s->n_values - 1];
    const char opened = s->op[--s->n_ops];
    if (opened == 'l') *v = log(*v);
    if (opened == 'e') *v = exp(*v);
}

static double work_out(const char *text)
{
    stacks s = {.n_values = 0};
    bool wants_value = true;
    for (const char *c = text; *c;) {
        char *end;
        if (*c == ' ') {
            c++;
        } else if (strncmp(c, "ln(", 3) == 0) {
            s.op[s.n_ops++] = 'l';
            c += 3;
        } else if (strncmp(c, "exp(", 4) == 0) {
            s.op[s.n_ops++] = 'e';
            c += 4;
        } else if (*c == '(') {
            s.op[s.n_ops++] = '(';
            c++;
        } else if (*c == ')') {
            close_bracket(&s);
            c++;
        } else if (wants_value) {
            s.value[s.n_values++] = strtod(c, &end);
            assert_true(end != c);
            c = end;
            wants_value = false;
        } else {
            assert_true(rank(*c) > 0);
            while (s.n_ops > 0 && rank(s.op[s.n_ops - 1]) >= rank(*c))
                reduce(&s);
            s.op[s.n_ops++] = *c++;
            wants_value = true;
        }
    }
    while (s.n_ops > 0)
        reduce(&s);
    assert_int_equal(s.n_values, 1);
    return s.value[0];
}

static int decimals_of(const char *number)
{
    const char *point = strchr(number, '.');
    return point ? (int)strspn(point + 1, "0123456789") : 0;
}

/* "sum = result unit": rounding what the sum gives to the result's decimals must give the result.
 */
static void check_sum(const char *label, const char *line)
{
    char sum[500], rounded[60];
    const char *equals = strstr(line, " = ");
    assert_non_null(equals);
    snprintf(sum, sizeof sum, "%.*s", (int)(equals - line), line);
    const char *result = equals + 3;
    const size_t length = strspn(result, "-0123456789.");
    double v = work_out(sum);
    snprintf(rounded, sizeof rounded, "%.*f", decimals_of(result), v);
    if (strspn(rounded, "-0.") == strlen(rounded) && rounded[0] == '-')
        memmove(rounded, rounded + 1, strlen(rounded));
    const bool same = strlen(rounded) == length && strncmp(rounded, result, length) == 0;
    /* Halfway between two roundings, as a round ratio can be, either is right. */
    const double step = pow(10, -decimals_of(result));
    const bool halfway = fabs(fabs(v - strtod(result, NULL)) - 0.5 * step) <= 1e-9 * step;
    if (!same && !halfway) print_error("%s: '%s' gives %s\n", label, line, rounded);
    check_that(label, same || halfway);
}

/* ---- Text -------------------------------------------------------------------------- */

static const struct {
    const char *name, *options;
    int sums; /* at least so many */
} texts[] = {
    {"r22-larger-coil", "--at '350 cfm/ton' --against '400 cfm/ton'", 60},
    {"r22-larger-coil", "--at '350 cfm/ton' --against '400 cfm/ton' --si", 60},
    {"r22-larger-coil", "--at '250 cfm/ton' --against '450 cfm/ton'", 60},
    {"r22-larger-coil", "--at '450 cfm/ton' --against '250 cfm/ton'", 60},
    {"r22-larger-coil", "--tap low --against-tap high", 60},
    {"r410a-humid", "--tap 'tap 1' --against-tap 'tap 5' --si", 60},
    {"r410a-humid", "--at '301 cfm/ton' --against '397 cfm/ton'", 60},
    {"nothing-passes", "--at '350 cfm/ton' --against '450 cfm/ton'", 60},
    {"nothing-passes", "--at '333 cfm/ton' --si", 35},
    {"heat-pump", "--tap low --against-tap high", 70},
    {"heat-pump", "--at '260 cfm/ton' --against '450 cfm/ton' --si", 70},
};

static void command_of(size_t row, const char *more, char *command, size_t size)
{
    snprintf(command, size, "explain '%s' %s %s", example(texts[row].name), texts[row].options,
             more);
}

/* Sums stand six blanks in; what continues one, nine. */
static int check_text(const char *label, char *text)
{
    char sum[1000] = "";
    int n = 0;
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
        check_is(label, strlen(line), <=, 80);
        const size_t blanks = strspn(line, " ");
        if (blanks == 6 && line[blanks])
            snprintf(sum, sizeof sum, "%s", line + 6);
        else if (blanks == 9 && sum[0])
            snprintf(sum + strlen(sum), sizeof sum - strlen(sum), " %s", line + 9);
        else
            continue;
        if (!strstr(sum, " = ")) continue;
        check_sum(label, sum);
        sum[0] = '\0';
        n++;
    }
    check_that(label, sum[0] == '\0');
    return n;
}

/* An explanation is given also where no speed passes: then the code is that of no pick. Of the
 * examples only nothing-passes ends so. */
static void assert_answered(const char *command, int code)
{
    check_is(command, code, ==, strstr(command, "nothing-passes") ? EXIT_NO_PICK : EXIT_DONE);
}

static void test_printed_sums(void **state)
{
    static char out[OUT_SIZE];
    char command[600];
    (void)state;
    for (size_t i = 0; i < ROWS(texts); i++) {
        command_of(i, "", command, sizeof command);
        assert_answered(command, run_program(command, true, out));
        const int n = check_text(command, out);
        if (n < texts[i].sums) print_error("%s: %d sums only\n", command, n);
        check_is(command, n, >=, texts[i].sums);
    }
}

/* ---- JSON -------------------------------------------------------------------------- */

typedef struct {
    json_t *root;
    json_t *item[400]; /* borrowed */
    int n;
} told;

static void read_json(const char *command, told *t)
{
    static char out[OUT_SIZE];
    size_t i, k;
    json_t *section, *item;
    assert_answered(command, run_program(command, false, out));
    t->n = 0;
    t->root = json_loads(out, 0, NULL);
    assert_non_null(t->root);
    json_array_foreach(json_object_get(t->root, "sections"), i, section)
        json_array_foreach(json_object_get(section, "items"), k, item)
    {
        assert_true(t->n < 400);
        t->item[t->n++] = item;
    }
}

static const char *text_of(const json_t *item, const char *key)
{
    const char *text = json_string_value(json_object_get(item, key));
    return text ? text : "";
}

static double value_of(const told *t, const char *name)
{
    for (int i = 0; i < t->n; i++)
        if (strcmp(text_of(t->item[i], "name"), name) == 0)
            return json_number_value(json_object_get(t->item[i], "value"));
    print_error("no value %s\n", name);
    return NAN;
}

/* Both are roundings of one value: they differ by half a last digit of each at most. */
static bool rounds_to(const char *exact, double exact_value, const char *number)
{
    const int fine = decimals_of(exact), coarse = decimals_of(number);
    const double room = 0.5 * (pow(10, -fine) + pow(10, -coarse));
    return fine >= coarse && fabs(strtod(number, NULL) - exact_value) <= room * (1 + 1e-9);
}

/* Is the number shown anywhere, or a term of a sum, perhaps with more decimals? */
static bool is_shown(const told *t, const char *number)
{
    for (int i = 0; i < t->n; i++) {
        const char *shown = text_of(t->item[i], "shown");
        if (*shown && rounds_to(shown, strtod(shown, NULL), number)) return true;
        for (const char *c = text_of(t->item[i], "sum"); *c;) {
            char *end;
            const double v = isdigit((unsigned char)*c) ? strtod(c, &end) : 0.0;
            if (!isdigit((unsigned char)*c)) {
                c++;
                continue;
            }
            if (rounds_to(c, v, number)) return true;
            c = end;
        }
    }
    return false;
}

/* Numbers in sentences, but for the count of the steps, "(2)". The two trial suctions are where the
 * reader should try: they are the settled one and four degrees each way. */
static int check_sentence(const char *label, const told *t, const char *text)
{
    int n = 0;
    for (const char *c = text; *c; c++) {
        if (!isdigit((unsigned char)*c)) continue;
        const bool counts = c > text && c[-1] == '(';
        const bool is_trial =
            strstr(text, "at a saturated suction of") || strstr(text, "At a suction");
        if (!counts && !is_trial) {
            if (!is_shown(t, c)) print_error("%s: %.12s in: %s\n", label, c, text);
            check_that(label, is_shown(t, c));
            n++;
        }
        c += strspn(c, "0123456789.") - 1;
    }
    return n;
}

static void test_numbers_in_sentences(void **state)
{
    char command[600];
    told t;
    int n = 0;
    (void)state;
    for (size_t i = 0; i < ROWS(texts); i++) {
        command_of(i, "--json", command, sizeof command);
        read_json(command, &t);
        for (int k = 0; k < t.n; k++)
            n += check_sentence(command, &t, text_of(t.item[k], "text"));
        json_decref(t.root);
    }
    check_is("some numbers were there to check", n, >=, 6);
}

static bool says(const told *t, const char *phrase)
{
    for (int i = 0; i < t->n; i++)
        if (strstr(text_of(t->item[i], "text"), phrase)) return true;
    return false;
}

/* The cause chain's words against its own numbers. */
static void test_words_follow_numbers(void **state)
{
    char command[600];
    told t;
    (void)state;
    for (size_t i = 0; i < ROWS(texts); i++) {
        if (!strstr(texts[i].options, "against")) continue;
        command_of(i, "--json", command, sizeof command);
        read_json(command, &t);
        const bool less_air = value_of(&t, "change_air") < 0;
        check_that(command, says(&t, less_air ? "(1) Less air" : "(1) More air"));
        check_that(command, says(&t, value_of(&t, "change_suction") < 0 ? "So the suction falls"
                                                                        : "So the suction rises"));
        check_that(command,
                   says(&t, value_of(&t, "below_dew_now") > value_of(&t, "below_dew_before")
                                ? "farther below"
                                : "less far below"));
        check_that(command, says(&t, value_of(&t, "slope_now") > value_of(&t, "slope_before")
                                         ? "loses more water"
                                         : "loses less water"));
        check_that(command,
                   says(&t, value_of(&t, "change_water") > 0 ? "water off the coil rises"
                                                             : "water off the coil falls"));
        check_that(command, says(&t, value_of(&t, "change_humidity") > 0 ? "settles at rises"
                                                                         : "settles at falls"));
        json_decref(t.root);
    }
}

/* Cases apart: the lesson's equipment with a line changed. What is said must be so there too. */
static void test_words_of_odd_cases(void **state)
{
    static const struct {
        const char *change, *says;
        int code;
    } rows[] = {
        {"s/relative_humidity: .*/relative_humidity: 12 %/", "still above the dew point", 0},
        {"s/relative_humidity: .*/relative_humidity: 12 %/", "the coil stays dry", 0},
        {"s/relative_humidity: .*/relative_humidity: 50 %/", "farther below", 0},
        {"s/relative_humidity: .*/relative_humidity: 27 %/", "it was above before", 0},
        {"s/kind: valve/kind: orifice/; s/superheat: .*/bore: 0.078 in/", "floods the coil",
         EXIT_NO_PICK},
        {"s/kind: valve/kind: orifice/; s/superheat: .*/bore: 0.065 in/",
         "the superheat is the one", 0},
        {"", "coldest coil surface (with 70.0 F outdoors) - what is needed", 0},
    };
    static char out[OUT_SIZE], flat[OUT_SIZE];
    (void)state;
    for (size_t i = 0; i < ROWS(rows); i++) {
        char command[900];
        snprintf(command, sizeof command, "sed '%s' '%s/examples/lessons/base.yaml' >'%s/odd.yaml'",
                 rows[i].change, SOURCE_DIR, program_scratch);
        assert_int_equal(system(command), 0);
        snprintf(command, sizeof command,
                 "explain '%s/odd.yaml' --at '300 cfm/ton' --against '400 cfm/ton'",
                 program_scratch);
        check_is(command, run_program(command, true, out), ==, rows[i].code);
        /* Sentences are broken into lines; put them together again. */
        size_t n = 0;
        for (const char *c = out; *c; c++) {
            const char put = *c == '\n' ? ' ' : *c;
            if (put != ' ' || (n && flat[n - 1] != ' ')) flat[n++] = put;
        }
        flat[n] = '\0';
        check_has(rows[i].says, flat, rows[i].says);
        check_lacks("a piston, whatever the file calls it", flat, " orifice");
    }
}

/* ---- The values are the balance's -------------------------------------------------- */

static void test_values_are_the_balances(void **state)
{
    char command[600];
    told t;
    job j;
    ct_point p;
    ct_fault fault;
    (void)state;
    assert_int_equal(job_of(example("r22-larger-coil"), &j), EXIT_DONE);
    assert_int_equal(ct_sweep_airflow(j.solver, &j.sweep, 350 * CT_M3S_PER_CFM, &p, &fault), CT_OK);
    command_of(0, "--json", command, sizeof command);
    read_json(command, &t);
    const ct_balance *b = &p.balance;
    /* Twelve digits are written. */
    check_rel("coil heat", value_of(&t, "coil_heat"), b->Q / CT_W_PER_BTUH, 1e-9);
    check_rel("refrigerant heat", value_of(&t, "refrigerant_heat"), b->Q / CT_W_PER_BTUH, 1e-9);
    check_rel("sensible", value_of(&t, "coil_sensible"), b->Q_sens / CT_W_PER_BTUH, 1e-9);
    check_rel("net sensible", value_of(&t, "net_sensible"), b->Q_sens_net / CT_W_PER_BTUH, 1e-9);
    check_rel("shed", value_of(&t, "heat_shed"), b->Q_condenser / CT_W_PER_BTUH, 1e-9);
    check_rel("refrigerant", value_of(&t, "refrigerant_flow"), b->m_r * 3600 / CT_KG_PER_LBM, 1e-9);
    check_abs("suction", value_of(&t, "sat_suction"), ct_F_from_K(b->Te), 1e-8);
    check_abs("surface", value_of(&t, "coil_surface"), ct_F_from_K(b->T_surface), 1e-8);
    /* Told where there is one. */
    if (b->dry_share > 0.0)
        check_abs("dry share", value_of(&t, "dry_share"), 100 * b->dry_share, 1e-8);
    else
        check_that("wet all over", isnan(value_of(&t, "dry_share")));
    check_rel("water", value_of(&t, "water"), b->water * 3600 / CT_KG_PER_LBM, 1e-9);
    /* 3 tons at 350 cfm/ton of 0.075 lb/ft3 by the hour: 4725 lb/h, by hand. The library's standard
     * density is 1.2014 kg/m3, 0.0013 % more. */
    check_rel("mass of air", value_of(&t, "air_mass_flow"), 3 * 350 * 0.075 * 60, 2e-5);
    json_decref(t.root);
    job_close(&j);
}

/* ---- Every sum over a wide field --------------------------------------------------- */

static bool adds_up(job *j, double V_per_ton, const explained *old, bool metric, bool *balanced,
                    explained *e)
{
    static ct_point points[2];
    ct_point *p = &points[old ? 1 : 0];
    ct_fault fault;
    *balanced =
        ct_sweep_airflow(j->solver, &j->sweep, V_per_ton, p, &fault) == CT_OK && p->status == CT_OK;
    if (!*balanced) return true;
    ct_sweep_humidity(j->solver, &j->sweep, p);
    sheet *s = sheet_new("Field", metric);
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    bool good = s && explained_point(j->solver, &j->sweep, p, e, &fault) == CT_OK;
    if (good) sections_balance(s, e);
    if (good && old) good = section_change(s, old, e, &fault) == CT_OK;
    good = good && sheet_write(s, out, false);
    fclose(out);
    good = good && size > 5000;
    free(text);
    sheet_free(s);
    return good;
}

/* Dry to damp, cool to hot, slow to fast, dry coils, frosty ones, flooded ones: sheet_write refuses
 * a sum that its own printed numbers do not give. */
static void test_sums_over_a_field(void **state)
{
    static const char *const names[] = {"r22-larger-coil", "r410a-humid", "nothing-passes"};
    int n = 0;
    (void)state;
    for (size_t i = 0; i < ROWS(names); i++) {
        job j;
        assert_int_equal(job_of(example(names[i]), &j), EXIT_DONE);
        for (int k = 0; k < 48; k++) {
            char label[120];
            bool fast_balances, balances;
            explained fast, e;
            const double T = 292.0 + 4.0 * (k % 3), rh = 0.22 + 0.14 * (k / 3 % 4),
                         V = (200.0 + 83.0 * (k / 12 % 4)) * CT_M3S_PER_CFM;
            snprintf(label, sizeof label, "%s %.0f K %.0f %% %.4f m3/s/ton", names[i], T, 100 * rh,
                     V);
            assert_int_equal(ct_air_from_rh(T, rh, j.sweep.indoor.p, &j.sweep.indoor, NULL), CT_OK);
            j.sweep.T_out = 300.0 + 6.0 * (k % 4);
            check_that(label,
                       adds_up(&j, 400 * CT_M3S_PER_CFM, NULL, k % 2, &fast_balances, &fast));
            if (!fast_balances) continue;
            check_that(label, adds_up(&j, V, &fast, k % 2, &balances, &e));
            n += balances;
        }
        job_close(&j);
    }
    check_is("most of the field balances", n, >, 110);
}

/* ---- Arithmetic -------------------------------------------------------------------- */

/* Worked with bc to twelve digits. */
static void test_arithmetic(void **state)
{
    static const struct {
        const char *text;
        bool good;
        double v;
    } rows[] = {
        {"1 + 2 x 3", true, 7},  {"(1 + 2) x 3", true, 9},
        {"12 / 4 / 3", true, 1}, {"10 - 4 - 3", true, 3},
        {"2^3^2", true, 512},    {"(-3) x 2", true, -6},
        {"2 - (-3)", true, 5},   {"ln(2.718281828459045)", true, 1},
        {"exp(0) + 1", true, 2}, {"1 - 0.03 x (3.1912^(1 / 1.15) - 1)", true, 0.94771093181375},
        {" 7 ", true, 7},        {"", false, 0},
        {"1 +", false, 0},       {"(1", false, 0},
        {"1)", false, 0},        {"1 2", false, 0},
        {"1 / 0", false, 0},     {"ln(0)", false, 0},
        {"nan", false, 0},       {"0x10", true, 0},
    };
    (void)state;
    for (size_t i = 0; i < ROWS(rows); i++) {
        double v = 99;
        check_is(rows[i].text, arithmetic(rows[i].text, &v), ==, rows[i].good);
        check_abs(rows[i].text, v, rows[i].good ? rows[i].v : 99, 1e-8);
    }
}

/* A step whose printed numbers do not give its result must not be printed. */
static void test_wrong_sum_is_refused(void **state)
{
    (void)state;
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    sheet *s = sheet_new("Wrong", false);
    const term terms[] = {sheet_constant(s, 2, 2, 0), sheet_constant(s, 2, 2, 0)};
    sheet_section(s, "One");
    sheet_sum(s, &(sum_of){"four", "Two and two", "two + two", M_NUMBER, 5.0}, "# + #", terms);
    check_that("refused", !sheet_write(s, out, false));
    fclose(out);
    check_is("nothing written", size, ==, 0);
    free(text);
    sheet_free(s);
}

/* ---- Wrong usage ------------------------------------------------------------------- */

static void test_usage(void **state)
{
    static char out[OUT_SIZE];
    static const struct {
        const char *arguments;
        int code;
        const char *says;
    } rows[] = {
        {"", 0, "tap 'low'"},
        {"--at '350 cfm/ton' --tap low", 2, "not both"},
        {"-o x --against '350 cfm/ton'", 2, "needs --at or --tap"},
        {"--at 350", 0, "at 350 cfm/ton"},
        {"--at 350cfm", 2, "divide it by the nominal tons"},
        {"--at '350 cfm/ton' --against '300 cfm/ton' --against-tap low", 2, "not both"},
        {"--tap lo", 3, "did you mean 'low'"},
        {"--tap low --format bmp -o x", 2, "png|svg|pdf"},
        {"--at '350 cfm/ton' --no-render", 2, "need -o DIR"},
        {"--at '5 cfm/ton'", 4, "air"},
        {"-o /dev/null/x", 5, "/dev/null/x"},
    };
    (void)state;
    for (size_t i = 0; i < ROWS(rows); i++) {
        char command[600];
        snprintf(command, sizeof command, "explain '%s' %s", example("r22-larger-coil"),
                 rows[i].arguments);
        const int code = run_program(command, true, out);
        if (code != rows[i].code || !strstr(out, rows[i].says))
            print_error("%s: %d, %s\n", command, code, out);
        check_is(command, code, ==, rows[i].code);
        check_has(command, out, rows[i].says);
    }
    char command[600];
    snprintf(command, sizeof command, "explain '%s' --tap low", example("nothing-passes"));
    check_is("no taps in the case", run_program(command, true, out), ==, 3);
    check_has("no taps in the case", out, "has no blower taps");
}

/* ---- Files ------------------------------------------------------------------------- */

typedef struct {
    char cell[12][64];
    int n;
} row;

typedef struct {
    row head, rows[2000];
    int n;
} table;

static void split(char *line, row *r)
{
    r->n = 0;
    line[strcspn(line, "\r\n")] = '\0';
    for (char *c = line; c && r->n < 12;) {
        char *comma = strchr(c, ',');
        if (comma) *comma = '\0';
        snprintf(r->cell[r->n++], sizeof r->cell[0], "%.63s", c);
        c = comma ? comma + 1 : NULL;
    }
}

/* Tap names of the examples have no comma, so splitting at commas does. */
static void read_table(const char *folder, const char *name, table *t)
{
    char path[300], line[1000];
    snprintf(path, sizeof path, "%s/%s/%s.csv", program_scratch, folder, name);
    FILE *file = fopen(path, "r");
    check_that(path, file != NULL);
    assert_non_null(fgets(line, sizeof line, file));
    split(line, &t->head);
    t->n = 0;
    while (fgets(line, sizeof line, file)) {
        assert_true(t->n < (int)ROWS(t->rows));
        split(line, &t->rows[t->n++]);
    }
    fclose(file);
}

static const char *cell(const table *t, int k, const char *column)
{
    for (int i = 0; i < t->head.n; i++)
        if (strcmp(t->head.cell[i], column) == 0) return t->rows[k].cell[i];
    print_error("no column %s\n", column);
    fail();
    return "";
}

static double number(const table *t, int k, const char *column)
{
    const char *text = cell(t, k, column);
    return *text ? strtod(text, NULL) : (double)NAN;
}

static void write_all(const char *name, const char *folder, const char *options)
{
    static char out[OUT_SIZE];
    char command[700], where[300];
    snprintf(command, sizeof command, "explain '%s' -o '%s/%s' %s", example(name), program_scratch,
             folder, options);
    snprintf(where, sizeof where, "Files are in %s/%s\n", program_scratch, folder);
    const int code = run_program(command, true, out);
    if (strcmp(out, where) != 0) print_error("%s: %d, %s\n", command, code, out);
    assert_answered(command, code);
    check_that(command, strcmp(out, where) == 0);
}

static void check_picture(const char *folder, const char *name, const char *ending,
                          const char *magic)
{
    char path[300], start[16] = "";
    snprintf(path, sizeof path, "%s/%s/%s.%s", program_scratch, folder, name, ending);
    FILE *file = fopen(path, "rb");
    check_that(path, file != NULL);
    const size_t n = fread(start, 1, strlen(magic), file);
    check_is(path, n, ==, strlen(magic));
    check_that(path, memcmp(start, magic, n) == 0);
    fclose(file);
}

static void test_pictures(void **state)
{
    static const struct {
        const char *name, *folder, *options, *ending, *magic;
        bool blower;
    } rows[] = {
        {"r22-larger-coil", "ip", "", "png", "\x89PNG", true},
        {"r410a-humid", "si", "--si --format svg", "svg", "<?xml", true},
        {"nothing-passes", "orifice", "--format pdf", "pdf", "%PDF", false},
    };
    (void)state;
    for (size_t i = 0; i < ROWS(rows); i++) {
        write_all(rows[i].name, rows[i].folder, rows[i].options);
        check_picture(rows[i].folder, "crossing", rows[i].ending, rows[i].magic);
        check_picture(rows[i].folder, "psychro", rows[i].ending, rows[i].magic);
        if (rows[i].blower) check_picture(rows[i].folder, "blower", rows[i].ending, rows[i].magic);
    }
}

/* The level piece of a path is the blower's heat: a mark of the key ends it, on the blower's side
 * of the coil. */
static void test_the_blower_is_named(void **state)
{
    static char text[OUT_SIZE];
    (void)state;
    program_read(program_path("si/psychro.svg"), text, sizeof text);
    check_has("key", text, "past the blower");
    program_read(program_path("si/psychro.gp"), text, sizeof text);
    check_has("after the coil", text, "past_blower = 'supply'");
    write_all("r22-larger-coil", "furnace", "indoor.blower.position=before_coil --no-render");
    program_read(program_path("furnace/psychro.gp"), text, sizeof text);
    check_has("before the coil", text, "past_blower = 'entering'");
}

/* Saturation and constant humidity against the air model at the site's pressure, constant wet bulb
 * by asking the model for the wet bulb of the point. */
static void test_chart_lines(void **state)
{
    static table t;
    int n_saturation = 0, n_wet_bulb = 0;
    double p;
    (void)state;
    read_table("ip", "psychro_lines", &t);
    assert_int_equal(ct_air_pressure(600 * CT_M_PER_FT, &p, NULL), CT_OK);
    for (int k = 0; k < t.n; k++) {
        const ct_air a = {ct_K_from_F(number(&t, k, "dry_bulb_f")),
                          number(&t, k, "moisture_lb_per_lb"), p};
        const double value = number(&t, k, "rh_or_wet_bulb_f");
        if (strcmp(cell(&t, k, "kind"), "wet bulb") == 0) {
            double T_wb;
            assert_int_equal(ct_air_wet_bulb(&a, &T_wb, NULL), CT_OK);
            check_abs("wet bulb line", ct_F_from_K(T_wb), value, 1e-6);
            n_wet_bulb++;
        } else {
            check_abs("humidity line", ct_air_rh(&a), value, 1e-9);
            if (strcmp(cell(&t, k, "kind"), "saturation") == 0) {
                check_rel("saturation line", a.W, ct_air_W_sat(a.T, p), 1e-12);
                n_saturation++;
            }
        }
    }
    check_is("lines are there", n_saturation, >, 50);
    check_is("lines are there", n_wet_bulb, >, 50);
}

static int find_state(const table *t, int series, const char *state)
{
    for (int k = 0; k < t->n; k++)
        if (number(t, k, "series") == series && strcmp(cell(t, k, "state"), state) == 0) return k;
    print_error("no %s of series %d\n", state, series);
    fail();
    return -1;
}

static ct_air air_at(const table *t, int k, double p)
{
    return (ct_air){ct_K_from_F(number(t, k, "dry_bulb_f")), number(t, k, "moisture_lb_per_lb"), p};
}

/* Ends of the process against the tap's own balance; the apparatus dew point on saturation and on
 * the straight line, in h and W, through entering and leaving air. */
static void test_process(void **state)
{
    static table t;
    static const int taps[] = {0, 2, 3};
    job j;
    (void)state;
    read_table("ip", "psychro_process", &t);
    assert_int_equal(job_of(example("r22-larger-coil"), &j), EXIT_DONE);
    const double p = j.sweep.indoor.p;
    for (int i = 0; i < 3; i++) {
        ct_point point;
        ct_fault fault;
        assert_int_equal(ct_sweep_tap(j.solver, &j.sweep, taps[i], &point, &fault), CT_OK);
        const ct_air in = air_at(&t, find_state(&t, i + 1, "entering"), p),
                     out = air_at(&t, find_state(&t, i + 1, "leaving"), p),
                     supply = air_at(&t, find_state(&t, i + 1, "supply"), p),
                     back = air_at(&t, find_state(&t, i + 1, "return"), p),
                     adp = air_at(&t, find_state(&t, i + 1, "apparatus"), p);
        check_abs("return is the room", back.T, j.sweep.indoor.T, 1e-9);
        check_abs("entering", in.T, point.balance.in.T, 1e-7);
        check_abs("leaving", out.T, point.balance.out.T, 1e-6);
        check_abs("leaving moisture", out.W, point.balance.out.W, 1e-10);
        check_abs("supply", supply.T, point.balance.supply.T, 1e-6);
        check_is("the blower warms it and leaves the water", supply.T, >, out.T);
        check_is("the blower warms it and leaves the water", fabs(supply.W - out.W), <, 1e-12);
        check_rel("apparatus dew point is saturated", adp.W, ct_air_W_sat(adp.T, p), 1e-9);
        const double h_in = ct_air_h(in.T, in.W), h_out = ct_air_h(out.T, out.W);
        const double share = (in.W - adp.W) / (in.W - out.W);
        check_rel("on the line", ct_air_h(adp.T, adp.W), h_in + share * (h_out - h_in), 1e-6);
        check_is("beyond the leaving air", adp.T, <, out.T);
        check_is("beyond the leaving air", share, >, 1.0);
    }
    job_close(&j);
}

/* The marks lie on both lines: drawn points a quarter of a degree apart leave a sagitta under
 * 0.01 % of the heat. */
static void check_crossing_files(const char *folder, const char *temperature, const char *heat)
{
    static table curves, points;
    char suction[40], takes[40], gives[40], total[40];
    snprintf(suction, sizeof suction, "sat_suction_%s", temperature);
    snprintf(takes, sizeof takes, "unit_takes_%s", heat);
    snprintf(gives, sizeof gives, "coil_gives_%s", heat);
    snprintf(total, sizeof total, "coil_total_%s", heat);
    read_table(folder, "crossing", &curves);
    read_table(folder, "crossing_points", &points);
    assert_int_equal(points.n, 5);
    for (int i = 0; i < points.n; i++) {
        const double Te = number(&points, i, suction), Q = number(&points, i, total);
        bool found = false;
        for (int k = 1; k < curves.n; k++) {
            const double a = number(&curves, k - 1, suction), b = number(&curves, k, suction);
            if (number(&curves, k, "curve") != i + 1 || !(a <= Te && Te <= b)) continue;
            const double x = (Te - a) / (b - a);
            found = true;
            check_rel("on the outdoor unit's line",
                      number(&curves, k - 1, takes) * (1 - x) + number(&curves, k, takes) * x, Q,
                      1e-3);
            if (strcmp(folder, "orifice") != 0)
                check_rel("on the coil's line",
                          number(&curves, k - 1, gives) * (1 - x) + number(&curves, k, gives) * x,
                          Q, 1e-3);
        }
        check_that("inside the drawing", found);
    }
}

static void test_crossing_files(void **state)
{
    (void)state;
    check_crossing_files("ip", "f", "btuh");
    check_crossing_files("si", "k", "w");
    check_crossing_files("orifice", "f", "btuh");
}

/* The measured tables of the example lie on the traced curves (straight between drawn points, so to
 * 0.5 %), the ducts' curve goes through the measured point, operating points lie on the ducts'. */
static void test_blower_file(void **state)
{
    static table t, points;
    job j;
    int checked = 0;
    (void)state;
    read_table("ip", "blower", &t);
    read_table("ip", "blower_points", &points);
    assert_int_equal(job_of(example("r22-larger-coil"), &j), EXIT_DONE);
    const ct_blower *blower = &j.sweep.blower;
    for (int i = 0; i < blower->n_taps; i++)
        for (int m = 0; m < blower->tap[i].n; m++) {
            const double dp = blower->tap[i].point[m].dp / CT_PA_PER_INWC,
                         V = blower->tap[i].point[m].V / CT_M3S_PER_CFM;
            for (int k = 1; k < t.n; k++) {
                const double a = number(&t, k - 1, "static_inwc"), b = number(&t, k, "static_inwc");
                if (number(&t, k - 1, "series") != i + 1 || number(&t, k, "series") != i + 1 ||
                    !(a - 1e-9 <= dp && dp <= b + 1e-9))
                    continue;
                const double x = (dp - a) / (b - a);
                check_rel("tap table on its curve",
                          number(&t, k - 1, "airflow_cfm") * (1 - x) +
                              number(&t, k, "airflow_cfm") * x,
                          V, 5e-3);
                checked++;
            }
        }
    check_is("every point of every table", checked, >=, 20);
    assert_int_equal(points.n, blower->n_taps);
    for (int k = 0; k < points.n; k++)
        check_rel("runs on the ducts' curve", number(&points, k, "static_inwc"),
                  ct_duct_dp(&j.sweep.duct, number(&points, k, "airflow_cfm") * CT_M3S_PER_CFM) /
                      CT_PA_PER_INWC,
                  1e-6);
    job_close(&j);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_arithmetic),
        cmocka_unit_test(test_wrong_sum_is_refused),
        cmocka_unit_test(test_printed_sums),
        cmocka_unit_test(test_numbers_in_sentences),
        cmocka_unit_test(test_words_follow_numbers),
        cmocka_unit_test(test_words_of_odd_cases),
        cmocka_unit_test(test_values_are_the_balances),
        cmocka_unit_test(test_sums_over_a_field),
        cmocka_unit_test(test_usage),
        cmocka_unit_test(test_pictures),
        cmocka_unit_test(test_the_blower_is_named),
        cmocka_unit_test(test_chart_lines),
        cmocka_unit_test(test_process),
        cmocka_unit_test(test_crossing_files),
        cmocka_unit_test(test_blower_file),
    };
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
