/* `explore` as its user meets it: what the file holds, lessons, messages, exit codes; and the codes
 * its values are written in. What the page shows in a browser: tests/browser/check_explore. */
#include <math.h>

#include "program.h"

#include "base/exit_codes.h"
#include "explore/codes.h"

#define EXAMPLE SOURCE_DIR "/examples/r22-larger-coil.yaml"
#define AWKWARD SOURCE_DIR "/examples/awkward-names.yaml"
#define BASE SOURCE_DIR "/examples/lessons/base.yaml"
#define LESSON SOURCE_DIR "/examples/lessons/1-slow-the-blower.md"
#define SECOND SOURCE_DIR "/examples/lessons/2-larger-coil.md"

/* ---- The file -------------------------------------------------------------------- */

static const program_row rows[] = {
    {"policy",
     {"explore", EXAMPLE, "-o", "-"},
     EXIT_DONE,
     "default-src 'none'; style-src 'sha256-",
     NULL},
    {"frost is drawn where it is judged, with its guard",
     {"explore", EXAMPLE, "-o", "-"},
     EXIT_DONE,
     "\"against\":\"frost and its guard need\",\"at_most\":false,\"bound\":34.0",
     NULL},
    {"metric",
     {"explore", EXAMPLE, "--si", "-o", "-"},
     EXIT_DONE,
     "\"against\":\"frost and its guard need\",\"at_most\":false,\"bound\":1.1",
     NULL},
    {"a piston: below which superheat to be careful, and the hotter day",
     {"explore", EXAMPLE, "metering=piston", "bore=0.067in", "-o", "-"},
     EXIT_DONE,
     "\"piston\":{\"least\":5.0,\"hot\":105.0}",
     "set aside"},
    {"taps in order of airflow",
     {"explore", EXAMPLE, "-o", "-"},
     EXIT_DONE,
     "\"taps\":[{\"name\":\"low\"",
     NULL},
    {"names are text", {"explore", AWKWARD, "-o", "-"}, EXIT_DONE, "\\u003ci\\u003ecoil", NULL},
    {"changed by a pair",
     {"explore", EXAMPLE, "site.outdoor_dry_bulb=100 F", "-o", "-"},
     EXIT_DONE,
     "\"step\":1.0,\"now\":100.0",
     NULL},
    {"opens on the pick",
     {"explore", EXAMPLE, "-o", "-"},
     EXIT_DONE,
     "\"picked\":true,\"begin\":",
     NULL},
    {"what the sweep says of it",
     {"explore", EXAMPLE, "-o", "-"},
     EXIT_DONE,
     "\"remarks\":[\"Caution: R-22",
     NULL},
    {"lesson",
     {"explore", BASE, "-l", LESSON, "-o", "-"},
     EXIT_DONE,
     "\"title\":\"1. Slow the blower",
     NULL},
    {"lesson with a second unit",
     {"explore", BASE, "-l", SECOND, "-o", "-"},
     EXIT_DONE,
     "\"name\":\"larger coil\"",
     NULL},
    {"no case", {"explore"}, EXIT_USAGE, NULL, "CASE is missing"},
    {"no file", {"explore", "/nowhere.yaml"}, EXIT_SYSTEM, NULL, "cannot be read"},
    {"no folder", {"explore", EXAMPLE, "-o", "/nowhere/e.html"}, EXIT_SYSTEM, NULL, "/nowhere"},
    {"no lesson", {"explore", BASE, "-l", "/nowhere.md"}, EXIT_SYSTEM, NULL, "/nowhere.md"},
    {"a case for a lesson", {"explore", BASE, "-l", BASE}, EXIT_INPUT, NULL, "not a lesson"},
    {"case from a pipe",
     {"explore", "-", "-l", LESSON},
     EXIT_USAGE,
     NULL,
     "needs the case in a file"},
};

static void what_comes_out(void **state)
{
    (void)state;
    program_check_rows(rows, sizeof rows / sizeof *rows);
}

/* Nothing from outside, no text of the case as markup, and the file is ours alone. */
static void alone_and_escaped(void **state)
{
    static program_result r;
    static const char *const args[] = {"explore", AWKWARD, "-o", "-", NULL};
    static const char *const never[] = {
        "<i>coil", "<script>document", "<img", "src=", "<link", "@import", "fetch(", "<td>\""};
    (void)state;
    program_run(args, environ, &r);
    for (size_t i = 0; i < sizeof never / sizeof *never; i++)
        check_that(never[i], strstr(r.out, never[i]) == NULL);
    /* Only the namespace of SVG is an address. */
    const char *address = strstr(r.out, "http");
    check_that("one address", address && !strncmp(address, "http-equiv", 10));
    address = strstr(address + 1, "http");
    check_that("SVG's", address && !strncmp(address, "http://www.w3.org/2000/svg", 26));
    check_that("no other", strstr(address + 1, "http") == NULL);
}

/* ---- Lessons that are wrong ------------------------------------------------------ */

#define HEAD "# Title\n\n<!-- explore\n"
#define QUESTION(text) "\n-->\n\n## Question\n\n" text "\n\n## Worked answer\n\nThat.\n"
#define TAIL QUESTION("What?")

static const struct {
    const char *name, *text, *err;
} bad[] = {
    {"no comment", "# Title\n\n## Question\n\nWhat?\n\n## Worked answer\n\nThat.\n",
     "<!-- explore"},
    {"no answer", "# Title\n\n<!-- explore\nguess: total\n-->\n\n## Question\n\nWhat?\n",
     "Worked answer"},
    {"empty", "", "not a lesson"},
    {"nothing to guess", HEAD "before: airflow 400 cfm/ton" TAIL, "nothing to guess"},
    {"unknown value", HEAD "guess: happiness" TAIL, "happiness"},
    {"a slack is no value", HEAD "guess: frost_slack" TAIL, "frost_slack"},
    {"unknown slider", HEAD "before: moon 3 F\nguess: total" TAIL, "moon"},
    {"no unit", HEAD "before: outdoors 75\nguess: total" TAIL, "unit"},
    {"no number", HEAD "before: outdoors\nguess: total" TAIL, "outdoors"},
    {"unknown line", HEAD "later: total" TAIL, "later"},
    {"no colon", HEAD "guess total" TAIL, "':'"},
    {"second unit not named", HEAD "after: unit other\nguess: total" TAIL, "other"},
    {"change without a value", HEAD "with: other; indoor.coil.size\nguess: total" TAIL, "'='"},
    {"change of an unknown key", HEAD "with: other; indoor.coil.sise = 2\nguess: total" TAIL,
     "sise"},
    {"Latin-1", HEAD "guess: total" QUESTION("Caf\xe9?"),
     "not plain text (given: a character in line 9)"},
    {"writing turned round",
     HEAD "guess: total" QUESTION("Wh\xe2\x80\xae"
                                  "at?"),
     "not plain text"},
    {"isolated",
     HEAD "guess: total" QUESTION("Wh\xe2\x81\xa9"
                                  "at?"),
     "not plain text"},
    {"a control character", HEAD "guess: total" QUESTION("Wh\x1b[2J?"), "not plain text"},
};

static void wrong_lessons(void **state)
{
    static program_result r;
    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        const char *path = program_path("bad.md"), *page = program_path("bad.html");
        const char *const args[] = {"explore", BASE, "-l", path, "-o", page, NULL};
        program_write(path, bad[i].text);
        program_run(args, environ, &r);
        program_expect(bad[i].name, r.err, bad[i].err);
        check_is(bad[i].name, r.code, ==, EXIT_INPUT);
        check_that(bad[i].name, !program_is_there(page));
    }
}

/* A lesson is not cut: the largest one is taken whole, one more byte is refused. Line ends of other
 * systems, tabs and letters beyond ASCII are text. */
static void largest_lesson(void **state)
{
    static char text[200002];
    static const char begin[] = HEAD "guess: total" QUESTION("What\tis\r\n95 \xc2\xb0"
                                                             "F?");
    static const size_t size[] = {200000, 200001};
    static program_result r;
    (void)state;
    memset(text, 'x', sizeof text - 1);
    memcpy(text, begin, sizeof begin - 1);
    for (int i = 0; i < 2; i++) {
        const char *path = program_path("large.md"), *page = program_path("large.html");
        const char *const args[] = {"explore", BASE, "-l", path, "-o", page, NULL};
        remove(page);
        text[size[i]] = '\0';
        program_write(path, text);
        text[size[i]] = 'x';
        program_run(args, environ, &r);
        check_is("code", r.code, ==, i == 0 ? EXIT_DONE : EXIT_INPUT);
        check_is("page", program_is_there(page), ==, i == 0);
    }
    program_expect("refused", r.err, "too large");
}

/* ---- A full disk ----------------------------------------------------------------- */

/* The reason is the disk's, and no other is made up. */
static void full_disk(void **state)
{
    static program_result r;
    static const char *const args[] = {"explore", EXAMPLE, "-o", "/dev/full", NULL};
    (void)state;
    program_run(args, environ, &r);
    check_is("code", r.code, ==, EXIT_SYSTEM);
    program_expect("reason", r.err, "/dev/full: cannot be written: No space left");
    check_that("memory was not short", strstr(r.err, "memory") == NULL);
}

/* ---- Codes ----------------------------------------------------------------------- */

/* By hand: 4095 is the missing value, so the highest is 4094 = 63 * 64 + 62, "_-" in base64url's
 * order (RFC 4648, section 5); the middle is 2047 = 31 * 64 + 63, "f_". */
static void codes_by_hand(void **state)
{
    static const double v[] = {-10, 10, 0, NAN}, same[] = {7, 7};
    codes c;
    (void)state;
    check_that("made", codes_make(v, 4, &c));
    check_abs("low", c.low, -10, 0);
    check_abs("step", c.step, 20.0 / 4094, 1e-15);
    program_expect("text", c.text, "AA_-f___");
    free(c.text);
    check_that("one value", codes_make(same, 2, &c));
    check_abs("no step", c.step, 0, 0);
    program_expect("one code", c.text, "AAAA");
    free(c.text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_comes_out), cmocka_unit_test(alone_and_escaped),
        cmocka_unit_test(wrong_lessons),  cmocka_unit_test(largest_lesson),
        cmocka_unit_test(full_disk),      cmocka_unit_test(codes_by_hand),
    };
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
