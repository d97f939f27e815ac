/* The program against its surroundings: names that try to be commands, closed streams, a gnuplot
 * that fails half way, speeds that crowd or lie outside the plot. */
#include <errno.h>
#include <sys/file.h>

#include "program.h"

static const char *const base_case =
    "job: {title: \"%s\"}\n"
    "site:\n"
    "  outdoor_dry_bulb: 95 F\n"
    "  indoor_air: {dry_bulb: 75 F, relative_humidity: 50 %%}\n"
    "house: {sensible_load: 24000 Btu/h, latent_load: 4800 Btu/h}\n"
    "outdoor: {refrigerant: R-22, tons: 3 ton, rated_capacity: 35000 Btu/h, rated_eer: 9.5 "
    "Btu/Wh}\n"
    "sweep: {points: 11}\n"
    "duct: {static: 0.55 inwc, airflow: 1120 cfm}\n"
    "indoor:\n"
    "  name: \"%s\"\n"
    "  coil: {size: 1.35}\n"
    "  blower:\n"
    "    motor: psc\n"
    "    static_limit: 0.8 inwc\n"
    "    taps:\n";

/* A tap of `airflow` cfm at 0.5 inwc. */
static void put_tap(FILE *file, const char *name, int airflow)
{
    fprintf(
        file,
        "      - {name: \"%s\", points: [[0.2 inwc, %d cfm, 350 W], [0.8 inwc, %d cfm, 300 W]]}\n",
        name, airflow + airflow / 10, airflow - airflow / 10);
}

static const char *write_case(const char *title, const char *name, const char *tap)
{
    static const char path[] = "names.yaml";
    FILE *file = fopen(path, "w");
    check_that(path, file != NULL);
    fprintf(file, base_case, title, name);
    put_tap(file, tap, 900);
    put_tap(file, "other", 1150);
    check_is(path, fclose(file), ==, 0);
    return path;
}

/* As they stand between double quotes in YAML. BOOM is what each of them tries to make. */
static const char *const names[] = {
    "'; system('touch BOOM') #",
    "'.system('touch BOOM').'",
    "' @here",
    "''''",
    "a''b",
    "#3 red",
    "`touch BOOM`",
    "\\\"; system(\\\"touch BOOM\\\") #",
    "$(touch BOOM) %s%n",
    "NaN",
    "\\\\",
    "| touch BOOM",
    "< touch BOOM",
};

static const char *const verbs[] = {"sweep", "compare", "metering", "explain"};

static void test_names_are_data(void **state)
{
    (void)state;
    static program_result r;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const char *path = write_case(names[i], names[i], names[i]);
        for (size_t k = 0; k < sizeof verbs / sizeof verbs[0]; k++) {
            const char *const args[] = {verbs[k], path, "-o", "drawn", "--format", "svg", NULL};
            program_run(args, environ, &r);
            if (r.code != 0 || r.err[0]) print_error("%s %s: %s\n", verbs[k], names[i], r.err);
            check_is("drawn without a word", r.code, ==, 0);
            check_that("drawn without a word", r.err[0] == '\0');
        }
        check_that("nothing was run", !program_is_there("BOOM"));
    }
}

/* ---- Closed streams -------------------------------------------------------------- */

/* Batch keeps a file open while it tells its progress. */
static int run_closed(const char *results, int first, int last)
{
    const char *arguments[] = {PROGRAM, "batch", SOURCE_DIR "/examples", "-o", results, "--fresh"};
    const pid_t pid = fork();
    check_is("a process", pid, >=, 0);
    if (pid == 0) {
        char *argv[7] = {NULL};
        for (int i = 0; i < 6; i++)
            argv[i] = strdup(arguments[i]);
        const int nowhere = open("/dev/null", O_RDWR);
        for (int i = 0; i <= 2; i++)
            dup2(nowhere, i);
        for (int i = first; i <= last; i++)
            close(i);
        execv(PROGRAM, argv);
        _exit(99);
    }
    int state = 0;
    check_is("it ends", waitpid(pid, &state, 0), ==, pid);
    check_that("it ends", WIFEXITED(state));
    return WEXITSTATUS(state);
}

/* Another run holds the file of rows. With messages closed, that file would be opened as number 2,
 * and the message that it is taken would end in it. */
static void test_closed_streams(void **state)
{
    (void)state;
    static char text[2000];
    static const struct {
        const char *name;
        int first, last;
    } rows[] = {{"input", 0, 0}, {"output", 1, 1}, {"messages", 2, 2}, {"all three", 0, 2}};
    program_write("taken.csv.part", "case,outcome,fault,tap,rows of another run\n");
    const int other = open("taken.csv.part", O_RDWR);
    check_is("held by another", flock(other, LOCK_EX | LOCK_NB), ==, 0);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        check_is(rows[i].name, run_closed("taken.csv", rows[i].first, rows[i].last), ==, 5);
        program_read("taken.csv.part", text, sizeof text);
        assert_string_equal(text, "case,outcome,fault,tap,rows of another run\n");
    }
    close(other);
    check_is("free again", run_closed("taken.csv", 0, 2), ==, 3); /* the readings are no case */
    check_that("written", program_read("taken.csv", text, sizeof text) || text[0]);
    check_that("the table only", strncmp(text, "case,", 5) == 0);
    check_lacks("the table only", text, "coiltrim:");
}

/* ---- gnuplot --------------------------------------------------------------------- */

static const struct {
    const char *name, *script;
} broken[] = {
    {"says done, draws nothing", "#!/bin/sh\nexit 0\n"},
    {"stops in the middle of a picture, says done",
     "#!/bin/sh\nfor last; do :; done\nprintf '\\211PNG half' >\"${last%.gp}.png\"\n"},
    {"never ends", "#!/bin/sh\nexec sleep 1000\n"},
    {"ignores a polite end", "#!/bin/sh\ntrap '' TERM INT HUP\nsleep 1000\nsleep 1000\n"},
    {"closes its messages and never ends", "#!/bin/sh\nexec 2>&-\nsleep 1000\n"},
    {"leaves a process on its messages", "#!/bin/sh\nsleep 1000 &\nexit 0\n"},
    {"talks without end", "#!/bin/sh\nexec yes >&2\n"},
    {"fails", "#!/bin/sh\necho no room >&2\nexit 1\n"},
};

static void test_broken_gnuplot(void **state)
{
    (void)state;
    static program_result r;
    static char seconds[] = "COILTRIM_GNUPLOT_SECONDS=1";
    char *environment[] = {NULL, seconds, NULL};
    const char *const page[] = {"page", SOURCE_DIR "/examples/r410a-humid.yaml", "-o",
                                "broken.html", NULL};
    const char *const args[] = {"compare", SOURCE_DIR "/examples/r410a-humid.yaml", "-o", "broken",
                                NULL};
    check_is("a folder", mkdir("bin", 0700), ==, 0);
    check_is("memory", asprintf(&environment[0], "PATH=%s/bin:/usr/bin:/bin", program_scratch), >,
             0);
    for (size_t i = 0; i < sizeof broken / sizeof broken[0]; i++) {
        program_write("bin/gnuplot", broken[i].script);
        check_is("may be run", chmod("bin/gnuplot", 0700), ==, 0);
        program_run(args, environment, &r);
        check_is(broken[i].name, r.code, ==, 5);
        check_has(broken[i].name, r.err, "gnuplot");
        check_that("no picture is left", !program_is_there("broken/compare.png"));
        check_that("but the tables", program_is_there("broken/compare.csv"));
        program_run(page, environment, &r);
        check_is("the page says a word too", r.code, ==, 5);
        check_has("the page says a word too", r.err, "gnuplot");
        check_that("and is there", program_is_there("broken.html"));
    }
    free(environment[0]);
}

/* All pictures of a verb are drawn by one gnuplot; when that fails, each by its own, so that one
 * that cannot be drawn does not take the others with it. */
static const struct {
    const char *name, *more;
    int runs;
} counted[] = {
    {"one draws all", "", 1},
    {"one that fails is followed by one for each",
     "case \"$*\" in *capacity.gp*humidity.gp*) exit 1;; esac\n", 5},
};

static void test_one_gnuplot(void **state)
{
    (void)state;
    static program_result r;
    char *environment[] = {NULL, NULL}, script[300], runs[64];
    const char *const args[] = {"sweep", SOURCE_DIR "/examples/r410a-humid.yaml", "-o", "together",
                                NULL};
    check_that("a folder", mkdir("bin", 0700) == 0 || errno == EEXIST);
    check_is("memory", asprintf(&environment[0], "PATH=%s/bin:/usr/bin:/bin", program_scratch), >,
             0);
    for (size_t i = 0; i < sizeof counted / sizeof counted[0]; i++) {
        unlink("runs");
        snprintf(script, sizeof script, "#!/bin/sh\necho >>runs\n%sexec /usr/bin/gnuplot \"$@\"\n",
                 counted[i].more);
        program_write("bin/gnuplot", script);
        check_is("may be run", chmod("bin/gnuplot", 0700), ==, 0);
        program_run(args, environment, &r);
        check_abs(counted[i].name, r.code, 0, 0);
        program_expect(counted[i].name, r.err, NULL);
        check_that("drawn", program_is_there("together/capacity.png"));
        check_that("drawn", program_is_there("together/shr.png"));
        program_read("runs", runs, sizeof runs);
        check_abs(counted[i].name, (double)strlen(runs), counted[i].runs, 0);
    }
    free(environment[0]);
}

/* ---- Crowded and far-off speeds -------------------------------------------------- */

/* Where the name is in the picture: x of the last translate before it. -1: nowhere. */
static double place_of(const char *svg, const char *name)
{
    char text[64];
    double x = -1;
    snprintf(text, sizeof text, ">%s<", name);
    const char *at = strstr(svg, text);
    for (const char *t = svg; at && (t = strstr(t, "translate(")) && t < at; t++)
        sscanf(t, "translate(%lf", &x);
    return at ? x : -1;
}

static void test_crowded_taps(void **state)
{
    (void)state;
    static program_result r;
    static char svg[400000];
    const char *path = program_path("crowd.yaml");
    FILE *file = fopen(path, "w");
    fprintf(file, base_case, "ten speeds", "unit");
    for (int i = 0; i < 10; i++) {
        char name[8];
        snprintf(name, sizeof name, "n%d", i);
        put_tap(file, name, 540 + (i == 0 ? 0 : 300 + 6 * i)); /* the first below 250 cfm/ton */
    }
    check_is(path, fclose(file), ==, 0);
    const char *const args[] = {"sweep", path, "-o", "crowd", "--format", "svg", NULL};
    program_run(args, environ, &r);
    check_that("drawn", r.err[0] == '\0');
    check_that("read", program_read("crowd/capacity.svg", svg, sizeof svg));
    double last = 0.1 * 780; /* the frame begins at 0.15 of the width */
    for (int i = 0; i < 10; i++) {
        char name[8];
        snprintf(name, sizeof name, "n%d", i);
        const double x = place_of(svg, name);
        if (!(x >= last + 20)) print_error("%s at %.1f, the one before at %.1f\n", name, x, last);
        check_is("a line of type (23 pixels, slanting) from the one before", x, >=, last + 25);
        last = x;
    }
    check_is("inside the picture", last, <, 780);
}

static void test_starving_piston(void **state)
{
    (void)state;
    static program_result r;
    const char *path = program_path("piston.yaml");
    const char *const args[] = {"sweep", path, NULL};
    program_write(
        path,
        "site: {outdoor_dry_bulb: 92 F, indoor_air: {dry_bulb: 74 F, relative_humidity: 55 %}}\n"
        "house: {sensible_load: 18000 Btu/h, latent_load: 4200 Btu/h}\n"
        "outdoor: {refrigerant: R-410A, tons: 2 ton, rated_capacity: 23400 Btu/h, rated_seer: 13 "
        "Btu/Wh}\n"
        "indoor: {coil: {size: 1.25}, metering: {kind: orifice, bore: .045 in}}\n");
    program_run(args, environ, &r);
    check_is("none passes", r.code, ==, 10);
    program_expect("the piston is named", r.out, "- a piston of 0.05");
}

/* Files that a payload makes, and relative paths, end in the scratch folder. */
static int work_in_scratch(void **state)
{
    return program_make_scratch(state) == 0 ? chdir(program_scratch) : -1;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_names_are_data), cmocka_unit_test(test_closed_streams),
        cmocka_unit_test(test_broken_gnuplot), cmocka_unit_test(test_one_gnuplot),
        cmocka_unit_test(test_crowded_taps),   cmocka_unit_test(test_starving_piston),
    };
    return cmocka_run_group_tests(tests, work_in_scratch, program_clear_scratch);
}
