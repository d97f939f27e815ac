/* `coiltrim new` as a technician meets it: on a terminal, from nothing to a pick. A pseudo-terminal
 * takes the place of the telephone or laptop; each row of a script is what must be asked and what
 * is typed. All data are invented. How long it takes: letters typed at a slow two a second must
 * stay under two minutes, with three seconds to read each question (both from experience, no
 * source). */
#include "check.h"

#include <errno.h>
#include <poll.h>
#include <pty.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/exit_codes.h"
#include "program.h"

enum { SEEN_SIZE = 200000, MAX_LINES = 48, WAIT_MS = 60000, QUESTION_LENGTH = 72 };

typedef struct {
    const char *asks, *types;
} line;

typedef struct {
    const char *name, *file;
    line lines[MAX_LINES];
    int code;
    const char *says[6];  /* on the terminal at the end */
    const char *holds[6]; /* in the case */
    bool slow;            /* a whole blower table is typed */
} script;

static const script scripts[] = {
    {"R-22 heat pump with its plate and a static",
     "r22.yaml",
     {{"metric units", ""},
      {"Refrigerant", "hcfc-22"},
      {"Nominal tons", "3"},
      {"capacity [35100 Btu/h]", ""},
      {"SEER", "10"},
      {"Size of the new coil", "one size up"},
      {"TXV or piston", "txv"},
      {"furnace", ""},
      {"Electric heat", ""},
      {"heat too", "y"},
      {"heating capacity at 47 F", "-"},
      {"External static", ".62"},
      {"Return side", ".45"},
      {"Blower table", ""},
      {"Airflow at that static [1100 cfm]", ""},
      {"Sensible load", ""},
      {"Minutes of each hour", "42"},
      {"Outdoors meanwhile", "91"},
      {"Floor area", "-"},
      {"Outdoors on the design day", "97"},
      {"Indoors [75 F]", ""},
      {"humidity", ""},
      {"above sea level", ""},
      {"Save the case as", "FILE"},
      {"sweep now", ""}},
     EXIT_DONE,
     {"Load: sensible, by run time", "Pick: ", "values are assumed", "return side is too small",
      NULL},
     {"refrigerant: hcfc-22", "rated_seer: 10 SEER", "static: .62 inwc", "sizes_up: 1",
      "minutes: 42 min", "in_use: yes"},
     false},
    {"furnace with a cased coil and a known output",
     "furnace.yaml",
     {{"metric units", ""},
      {"Refrigerant", "R410a"},
      {"Nominal tons", "2.5"},
      {"capacity", "28,800"},
      {"SEER", "11 EER"},
      {"Size of the new coil", "3 ton"},
      {"TXV or piston", "piston"},
      {"Bore of the piston", "61"},
      {"furnace", "64,000"},
      {"furnace plate [35 F]", ""},
      {"Highest temperature rise", "65"},
      {"External static", ".5"},
      {"Return side", ""},
      {"Blower table", ""},
      {"Temperature rise through", "54"},
      {"Sensible load", "19,500"},
      {"Latent load", "4200"},
      {"Outdoors", "95"},
      {"Indoors", ""},
      {"humidity", "50"},
      {"above sea level", "600"},
      {"Save the case as", "FILE"},
      {"sweep now", "y"}},
     EXIT_DONE,
     {"Pick: ", "furnace", "Airflow: by the rise through the heat"},
     {"rated_capacity: \"28,800 Btu/h\"", "rated_eer: 11 EER", "bore: 0.061 in",
      "furnace_output: \"64,000 Btu/h\"", "position: before_coil", "rise: 54 F"},
     false},
    {"metric house",
     "metric.yaml",
     {{"metric units", "R-32"}, /* too early: asked again */
      {"metric units", "m"},
      {"Refrigerant", "R-32"},
      {"Nominal tons", "3 ton"},
      {"capacity [10.3 kW]", "10.2"},
      {"SEER", "15"},
      {"Size of the new coil", ""},
      {"TXV or piston", ""},
      {"furnace", ""},
      {"Electric heat", ""},
      {"heat too", "n"},
      {"External static", "140"},
      {"Return side", ""},
      {"Blower table", ""},
      {"Airflow at that static", "1900"},
      {"Sensible load", ""},
      {"Minutes of each hour", ""},
      {"Floor area", "110"},
      {"Climate", "humid"},
      {"Outdoors on the design day [35 C]", ""},
      {"Indoors [23.9 C]", "24"},
      {"humidity", "50"},
      {"above sea level [0 m]", "150"},
      {"Save the case as", "FILE"},
      {"sweep now", "y"}},
     EXIT_DONE,
     {"Pick: ", "rule of thumb"},
     {"rated_capacity: 10.2 kW", "static: 140 Pa", "airflow: 1900 m3/h", "floor_area: 110 m2",
      "dry_bulb: 24 C", "altitude: 150 m"},
     false},
    {"blower table, strips, a plate without tons",
     "taps.yaml",
     {{"metric units", ""},
      {"Refrigerant", "R-22"},
      {"Nominal tons", "-"},
      {"Rated load amps", "17.1"},
      {"Volts", ""},
      {"capacity [35100 Btu/h]", ""},
      {"SEER", ""},
      {"Size of the new coil", "two sizes up"},
      {"TXV or piston", ""},
      {"furnace", ""},
      {"Electric heat", "10"},
      {"Least airflow", ""},
      {"heat too", ""},
      {"External static", ".7"},
      {"Return side", ""},
      {"Blower table", "y"},
      {"slowest tap", "low"},
      {"low: static", "0.3 980"},
      {"low: static", ".3 980 300"},
      {"low: static", ".7 inwc, 850 cfm, 280 W"},
      {"low: static", ""},
      {"next tap", "\"high\""},
      {"next tap", "high #2"},
      {"high #2: static", ".3, 1,400, 520"},
      {"high #2: static", ".7 1150 470"},
      {"high #2: static", ""},
      {"next tap", ""},
      {"Blower motor", "ecm"},
      {"Blower motor", "constant torque"},
      {"Highest static", ".8"},
      {"Tap that heats", "high #2"},
      {"Tap in use", "high #2"},
      {"Temperature rise through", "27"},
      {"Sensible load", "24000"},
      {"Latent load", ""},
      {"Outdoors", ""},
      {"Indoors", ""},
      {"humidity", ""},
      {"above sea level", ""},
      {"Save the case as", "FILE"},
      {"sweep now", "y"}},
     EXIT_DONE,
     {"three values belong", "without quotes", "write which one", "Heating: set to high #2",
      "They agree within their doubts", "whole ton off"},
     {"rated_load_amps: 17.1 A", "sizes_up: 2", "[.3 inwc, 1400 cfm, 520 W]", "name: \"high #2\"",
      "strip_power: 10 kW", "tap: \"high #2\""},
     true},
    {"a tap of one point is asked for again",
     "point.yaml",
     {{"metric units", ""},
      {"Refrigerant", "R-22"},
      {"Nominal tons", "3"},
      {"capacity", ""},
      {"SEER", "10"},
      {"Size of the new coil", ""},
      {"TXV or piston", ""},
      {"furnace", ""},
      {"Electric heat", ""},
      {"heat too", ""},
      {"External static", ".6"},
      {"Return side", ""},
      {"Blower table", "y"},
      {"slowest tap", ""},
      {"low: static", ".5 1000 400"},
      {"low: static", ""},
      {"constant airflow motor; if it is one, Enter", ""},
      {"next tap", ""},
      {"Blower motor", ""},
      {"Highest static", ""},
      {"Tap that heats", ""},
      {"Tap in use", ""},
      {"Airflow at that static", ""},
      {"Sensible load", "24000"},
      {"Latent load", ""},
      {"Outdoors", ""},
      {"Indoors", ""},
      {"humidity", ""},
      {"above sea level", ""},
      {"Again from there; Enter keeps what is in brackets.\r\n\r\nBlower table at hand, yes or no "
       "[no]",
       "q"}},
     EXIT_USAGE,
     {"one point is not enough", "nothing was written"},
     {NULL},
     true},
    {"help, going back, a wrong answer",
     "wrong.yaml",
     {{"metric units", ""},
      {"Refrigerant", "R-410A"},
      {"Nominal tons", "?"},
      {"Nominal tons", "2.5"},
      {"capacity", "29,400"},
      {"SEER", "b"},
      {"capacity", "28,800"},
      {"SEER", ""},
      {"Size of the new coil", "b"},
      {"SEER", "11 EER"},
      {"Size of the new coil", "b"},
      {"SEER (or its EER, as 9.5 EER) [11 EER]", ""},
      {"Size of the new coil", "half as much"},
      {"Size of the new coil", "two sizes up"},
      {"TXV or piston", "b"},
      {"Size of the new coil: 1.35 of the matched one, 3.5 ton, or one size up [2 sizes up]", "?"},
      {"Size of the new coil", "q"}},
     EXIT_USAGE,
     {"nominal size; cfm per ton", "'half as much' is not a number", "\r\n  2 sizes up\r\n",
      "nothing was written"},
     {NULL},
     false},
    {"quit leaves nothing",
     "quit.yaml",
     {{"metric units", ""}, {"Refrigerant", "q"}},
     EXIT_USAGE,
     {"nothing was written"},
     {NULL},
     false},
};

static char seen[SEEN_SIZE];

/* Reads until `text` is there behind `from`; false when the program ends or says nothing. */
static bool wait_for(int terminal, size_t from, size_t *n, const char *text)
{
    while (!text || !strstr(seen + from, text)) {
        struct pollfd p = {.fd = terminal, .events = POLLIN};
        if (poll(&p, 1, WAIT_MS) <= 0 || *n + 1 >= sizeof seen) return false;
        const ssize_t got = read(terminal, seen + *n, sizeof seen - *n - 1);
        if (got <= 0) return false; /* EIO: the other side is closed */
        *n += (size_t)got;
        seen[*n] = '\0';
    }
    return true;
}

/* The line the cursor is on. */
static const char *question_at(size_t from)
{
    const char *end = strrchr(seen + from, '\n');
    return end ? end + 1 : seen + from;
}

/* Characters before its bracket: a longer question breaks on a terminal of 80 columns. */
static int question_length(size_t from)
{
    const char *text = question_at(from), *bracket = strstr(text, " [");
    return (int)(bracket ? (size_t)(bracket - text) : strlen(text));
}

static int play(const script *s, const char *file, double *seconds)
{
    int terminal, state = 0;
    size_t n = 0, from = 0;
    const struct winsize size = {.ws_row = 24, .ws_col = 80};
    const pid_t pid = forkpty(&terminal, NULL, NULL, &size);
    check_is("a terminal", pid, >=, 0);
    if (pid == 0) {
        execl(PROGRAM, PROGRAM, "new", (char *)NULL);
        _exit(127);
    }
    memset(seen, 0, sizeof seen);
    *seconds = 0.0;
    for (int i = 0; s->lines[i].asks; i++) {
        const char *types = strcmp(s->lines[i].types, "FILE") == 0 ? file : s->lines[i].types;
        const bool asked =
            wait_for(terminal, from, &n, s->lines[i].asks) && wait_for(terminal, from, &n, "]: ");
        if (!asked) print_error("%s: not asked: %s\n%s\n", s->name, s->lines[i].asks, seen + from);
        check_that(s->name, asked);
        check_is(question_at(from), question_length(from), <=, QUESTION_LENGTH);
        from = n;
        check_is(s->name, dprintf(terminal, "%s\n", types), >, 0);
        /* A name is typed without the scratch folder's. */
        *seconds += 3.0 + 0.5 * (double)(strlen(types == file ? s->file : types) + 1);
    }
    wait_for(terminal, from, &n, NULL);
    close(terminal);
    check_is("it ends", waitpid(pid, &state, 0), ==, pid);
    check_that("it ends", WIFEXITED(state));
    return WEXITSTATUS(state);
}

static void test_questions(void **state)
{
    (void)state;
    static char text[20000];
    for (size_t i = 0; i < sizeof scripts / sizeof scripts[0]; i++) {
        const script *s = &scripts[i];
        char file[256];
        double seconds;
        snprintf(file, sizeof file, "%s", program_path(s->file));
        const int code = play(s, file, &seconds);
        for (int k = 0; k < 6 && s->says[k]; k++)
            program_expect(s->name, seen, s->says[k]);
        check_abs(s->name, code, s->code, 0);
        if (!s->slow) check_is(s->name, seconds, <, 120.0);
        check_is(s->name, program_is_there(file), ==, (s->holds[0] != NULL));
        program_read(file, text, sizeof text);
        for (int k = 0; k < 6 && s->holds[k]; k++)
            program_expect(s->name, text, s->holds[k]);
    }
}

static void test_runs(void **state)
{
    (void)state;
    const program_row rows[] = {
        {"a form", {"new", "--blank"}, EXIT_DONE, "#    relative_humidity: 50%  ", NULL},
        {"a form has the blower's table",
         {"new", "--blank"},
         EXIT_DONE,
         "#        points: [[0.3 inwc, 980 cfm, 300 W], [0.7 inwc, 850 cfm, 280 W]]\n",
         NULL},
        {"and its limit", {"new", "--blank"}, EXIT_DONE, "#    static_limit: 0.8 inwc  ", NULL},
        {"a name of a tap", {"new", "--blank"}, EXIT_DONE, "#    heat_tap: low  ", NULL},
        {"a form with a value", {"new", "--blank", "tons=3"}, EXIT_DONE, "\n  tons: 3  ", NULL},
        {"a form for readings",
         {"new", "--readings"},
         EXIT_DONE,
         "\n#suction:\n#  pressure: 70 psig +/- 1 psi",
         NULL},
        {"a form for readings, with a pair",
         {"new", "--readings", "tons=3"},
         EXIT_USAGE,
         NULL,
         "--readings takes no pairs"},
        {"two forms", {"new", "--readings", "--blank"}, EXIT_USAGE, NULL, "not both"},
        {"a case from pairs",
         {"new", "tons=3", "refrigerant=R-22", "load=24000btu", "latent=4800btu"},
         EXIT_DONE,
         "# ASSUMED: 11700 Btu/h per nominal ton",
         NULL},
        {"a coil by its tons",
         {"sweep", "tons=3", "coil_tons=3.5", "refrigerant=R-22", "load=24000btu", "latent=4800btu",
          "--reasons"},
         EXIT_DONE,
         "tons of the coil over tons",
         NULL},
        {"a table in a pair",
         {"sweep", "tons=3", "refrigerant=R-22", "static_limit=.8inwc", "static=.6inwc",
          "airflow=1000cfm", "load=21000btu",
          "indoor.blower.taps=[{name: low, points: [[.3 inwc, 980 cfm, 300 W], [.7 inwc, 850 cfm, "
          "280 W]]}]"},
         EXIT_DONE,
         "Pick: low",
         "indoor.blower.motor = psc is a guess"},
        {"no list",
         {"sweep", "tons=3", "refrigerant=R-22", "static=.6inwc", "indoor.blower.taps=[{name: low"},
         EXIT_INPUT,
         NULL,
         "no list"},
        {"a size and tons",
         {"sweep", "tons=3", "coil_tons=3.5", "coil=1.2"},
         EXIT_INPUT,
         NULL,
         "contradicts 'size'"},
    };
    program_check_rows(rows, sizeof rows / sizeof rows[0]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_questions),
                                       cmocka_unit_test(test_runs)};
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
