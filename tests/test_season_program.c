/* `season` as its user meets it: arguments, messages, files, exit codes. */
#include "program.h"

#include "base/exit_codes.h"

#define EXAMPLE SOURCE_DIR "/examples/r410a-humid.yaml"
#define SUMMER SOURCE_DIR "/examples/weather-summer.csv"
#define BINS SOURCE_DIR "/examples/weather-bins.csv"

static program_result r;

typedef struct {
    const char *name;
    const char *args[PROGRAM_MAX_ARGS];
    int code;
    const char *out, *err; /* a part; NULL: not looked at */
} row;

static const row rows[] = {
    {"rating bins", {"season", EXAMPLE}, EXIT_DONE, "8 temperature bins of the rating", NULL},
    {"pick", {"season", EXAMPLE}, EXIT_DONE, "\n* tap 2 ", NULL},
    {"pick without taps",
     {"season", SOURCE_DIR "/examples/lessons/base.yaml"},
     EXIT_DONE,
     "\n* ",
     NULL},
    {"no pick, said before the table",
     {"season", EXAMPLE, "load=60000btu"},
     EXIT_NO_PICK,
     "No blower speed passes on the design day: coiltrim sweep says why, and what\n"
     "  would fix it.\n\n",
     NULL},
    {"a ceiling that passes, hours above it",
     {"season", EXAMPLE},
     EXIT_DONE,
     "Humidity ceiling, 58%: tap 2 passes it and yet has 1137 h above 60%.",
     NULL},
    {"price", {"season", EXAMPLE, "season.price=0.15"}, EXIT_DONE, "costs", NULL},
    {"hourly", {"season", EXAMPLE, "--weather", SUMMER}, EXIT_DONE, "2208 h", NULL},
    {"own bins", {"season", EXAMPLE, "-w", BINS, "--si"}, EXIT_DONE, "W/W", NULL},
    {"count", {"season", EXAMPLE, "-w", SUMMER}, EXIT_DONE, "11040 hours worked out", NULL},
    {"no case", {"season"}, EXIT_USAGE, NULL, "CASE is missing"},
    {"no unit", {"season", EXAMPLE, "--unit", "E"}, EXIT_USAGE, NULL, "there is no unit E"},
    {"no file", {"season", EXAMPLE, "-w", "/nowhere.epw"}, EXIT_SYSTEM, NULL, "/nowhere.epw"},
    {"no weather", {"season", EXAMPLE, "-w", EXAMPLE}, EXIT_INPUT, NULL, "not a weather file"},
    {"no infiltration",
     {"season", EXAMPLE, "-w", SUMMER, "house.infiltration=0 cfm"},
     EXIT_INPUT,
     NULL,
     "needs house.infiltration"},
    {"no infiltration, bins",
     {"season", EXAMPLE, "house.infiltration=0 cfm"},
     EXIT_DONE,
     "No RH: it needs house.infiltration",
     NULL},
    {"and nothing that is there",
     {"season", EXAMPLE, "house.infiltration=0 cfm"},
     EXIT_DONE,
     "latent_load. Each speed",
     NULL},
    {"and what else is missing",
     {"season", "tons=3", "seer=10"},
     EXIT_DONE,
     "latent_load, and site.outdoor_humidity.",
     "is a guess"},
    {"fan control",
     {"season", EXAMPLE, "fan_control.cut_when_damp=yes"},
     EXIT_DONE,
     "Fan control: fan AUTO, 45 s run-on, 15% less air above 53% RH, in every hour.",
     NULL},
    {"fan control in JSON",
     {"season", EXAMPLE, "house.fan_off_delay=0s", "house.fan_on=no", "--json"},
     EXIT_DONE,
     "\"cut_when_damp\": false",
     NULL},
    {"json", {"season", EXAMPLE, "--json"}, EXIT_DONE, "\"hours_above_60\": ", NULL},
    {"picture without folder",
     {"season", EXAMPLE, "--format", "svg"},
     EXIT_USAGE,
     NULL,
     "--output"},
};

static void answers(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        program_run(rows[i].args, environ, &r);
        if (r.code != rows[i].code) print_error("%s\n%s", r.out, r.err);
        check_is(rows[i].name, r.code, ==, rows[i].code);
        check_that(rows[i].name, !rows[i].out || strstr(r.out, rows[i].out));
        check_that(rows[i].name, !rows[i].err || strstr(r.err, rows[i].err));
    }
}

/* Above 70% no hours are counted; a ceiling that fails needs no such sentence. */
static void ceiling_without_hours(void **state)
{
    (void)state;
    static const char *const pairs[] = {"house.humidity_ceiling=70%", "house.humidity_ceiling=50%"};
    for (int i = 0; i < 2; i++) {
        const char *const args[] = {"season", EXAMPLE, pairs[i], NULL};
        program_run(args, environ, &r);
        check_lacks(pairs[i], r.out, "Humidity ceiling");
    }
}

static void wrong_lines(void **state)
{
    const char *const args[] = {"season", EXAMPLE, "-w", program_path("bad.csv"), NULL};
    (void)state;
    program_write(program_path("bad.csv"), "dry_bulb_f,dew_point_f\n80,70\n80,xx\n80,70\n900,70\n");
    program_run(args, environ, &r);
    check_is("input", r.code, ==, EXIT_INPUT);
    check_has("line 3", r.err, "bad.csv:3: dew point: not a number");
    check_has("line 5", r.err, "bad.csv:5: dry bulb: ");
}

static int lines_of(const char *name)
{
    static char text[600000];
    int n = 0;
    program_read(program_path(name), text, sizeof text);
    for (const char *c = text; *c; c++)
        n += *c == '\n';
    return n;
}

static void files(void **state)
{
    const char *const args[] = {"season", EXAMPLE, "-w", SUMMER, "-o", program_path("folder"),
                                NULL};
    (void)state;
    program_run(args, environ, &r);
    check_is("done", r.code, ==, EXIT_DONE);
    check_is("speeds", lines_of("folder/season.csv"), ==, 6);
    check_is("hours", lines_of("folder/season_hours.csv"), ==, 2209);
    check_is("durations", lines_of("folder/season_duration.csv"), ==, 202);
    check_that("picture", program_is_there(program_path("folder/season_rh.png")));
    char script[20000];
    check_that("script", program_read(program_path("folder/season_rh.gp"), script, sizeof script));
    check_has("which is the pick", script, "name_a = 'tap 2, the pick'\n");
    check_has("which is not", script, "name_b = 'tap 5'\n");
    check_is("quiet", *r.err, ==, '\0');
}

/* The weather it reads is not written over. */
static void input_stays(void **state)
{
    const char *const args[] = {
        "season", EXAMPLE, "-w", program_path("mine.csv"), "--save", program_path("mine.csv"),
        NULL};
    (void)state;
    program_write(program_path("mine.csv"), "dry_bulb_f,dew_point_f,hours\n80,70,100\n90,70,10\n");
    program_run(args, environ, &r);
    check_is("refused", r.code, ==, EXIT_USAGE);
    char text[200];
    check_that("as it was", program_read(program_path("mine.csv"), text, sizeof text));
    check_that("as it was", strncmp(text, "dry_bulb_f,", 11) == 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(answers), cmocka_unit_test(ceiling_without_hours),
        cmocka_unit_test(wrong_lines), cmocka_unit_test(files), cmocka_unit_test(input_stays)};
    return cmocka_run_group_tests(tests, program_make_scratch, program_clear_scratch);
}
