/* Files of the user's that a run must not harm: inputs named as output, foreign files beside the
 * results of a batch, links, devices, modes; and what a run that was stopped leaves. */
#include <signal.h>
#include <sys/file.h>
#include <time.h>

#include "program.h"

#define EXAMPLE SOURCE_DIR "/examples/r22-larger-coil.yaml"

static char text[400000], again[400000];
static program_result r;

static void copy_example(const char *name)
{
    check_that("read", program_read(EXAMPLE, text, sizeof text));
    program_write(name, text);
}

static void check_same(const char *name, const char *path, const char *wanted)
{
    check_that("read", program_read(path, again, sizeof again));
    check_same_text(name, again, wanted);
}

/* ---- Output over input ------------------------------------------------------------ */

static const struct {
    const char *name, *args[PROGRAM_MAX_ARGS];
} over[] = {
    {"fit", {"fit", "in/c.yaml", "-o", "in/c.yaml"}},
    {"another spelling", {"fit", "in/c.yaml", "-o", "in/../in/c.yaml"}},
    {"a link to it", {"fit", "in/c.yaml", "-o", "link.yaml"}},
    {"read through a link", {"fit", "link.yaml", "-o", "in/c.yaml"}},
    {"a second name", {"page", "in/c.yaml", "-o", "second.yaml"}},
    {"page", {"page", "in/c.yaml", "-o", "in/c.yaml"}},
    {"tune, case", {"tune", "in/c.yaml", "r.yaml", "-o", "in/c.yaml"}},
    {"tune, readings", {"tune", "in/c.yaml", "r.yaml", "-o", "r.yaml"}},
    {"save", {"sweep", "in/c.yaml", "tons=3", "--save", "in/c.yaml"}},
    {"batch, table", {"batch", "t.csv", "--base", "in/c.yaml", "-o", "t.csv"}},
    {"batch, base", {"batch", "t.csv", "--base", "in/c.yaml", "-o", "in/c.yaml"}},
    {"batch, a file of the folder", {"batch", "in", "-o", "in/c.yaml"}},
    {"batch, journal", {"batch", "x.csv.part", "--base", "in/c.yaml", "-o", "x.csv"}},
};

static void test_output_is_input(void **state)
{
    (void)state;
    static const char table[] = "case,outdoor.tons\none,3 ton\n";
    static char readings[20000], own[400000];
    check_that("read",
               program_read(SOURCE_DIR "/examples/readings-r22.yaml", readings, sizeof own));
    check_is("a folder", mkdir("in", 0700), ==, 0);
    copy_example("in/c.yaml");
    strcpy(own, text);
    check_is("links", symlink("in/c.yaml", "link.yaml"), ==, 0);
    check_is("links", link("in/c.yaml", "second.yaml"), ==, 0);
    program_write("r.yaml", readings);
    program_write("t.csv", table);
    program_write("x.csv.part", table);
    for (size_t i = 0; i < sizeof over / sizeof over[0]; i++) {
        program_run(over[i].args, environ, &r);
        check_is(over[i].name, r.code, ==, 2);
        program_expect(over[i].name, r.err, "another name");
        check_same(over[i].name, "in/c.yaml", own);
        check_same(over[i].name, "r.yaml", readings);
        check_same(over[i].name, "t.csv", table);
        check_same(over[i].name, "x.csv.part", table);
    }
    check_is("a file of the folder's pictures", rename("in/c.yaml", "in/compare.csv"), ==, 0);
    const char *const args[] = {"compare", "in/compare.csv", "-o", "in", "--no-render", NULL};
    program_run(args, environ, &r);
    check_is("compare", r.code, ==, 5);
    check_same("compare", "in/compare.csv", own);
}

/* ---- The file beside the results ---------------------------------------------------- */

static void test_foreign_journal(void **state)
{
    (void)state;
    static const char mine[] = "my own notes\n";
    const char *const args[] = {"batch", "jobs.csv", "--base", EXAMPLE, "-o", "f.csv", "-q", NULL};
    const char *const fresh[] = {"batch", "jobs.csv", "--base",  EXAMPLE,
                                 "-o",    "f.csv",    "--fresh", NULL};
    program_write("jobs.csv", "case,outdoor.tons\nwrong,3 kWh\n");
    program_write("f.csv.part", mine);
    program_run(args, environ, &r);
    check_is("foreign", r.code, ==, 5);
    program_expect("foreign", r.err, "f.csv.part: not a file of this program");
    program_run(fresh, environ, &r);
    check_is("foreign, fresh", r.code, ==, 5);
    check_same("untouched", "f.csv.part", mine);

    check_is("a link", rename("f.csv.part", "mine.txt"), ==, 0);
    check_is("a link", symlink("mine.txt", "f.csv.part"), ==, 0);
    program_run(args, environ, &r);
    check_is("a link", r.code, ==, 5);
    program_expect("a link", r.err, "a link; move it away");
    check_same("untouched", "mine.txt", mine);
    unlink("f.csv.part");

    check_is("a link to nowhere", symlink("new.txt", "f.csv.part"), ==, 0);
    program_run(args, environ, &r);
    check_is("nothing is made there", r.code, ==, 5);
    check_that("nothing is made there", !program_is_there("new.txt"));
    unlink("f.csv.part");

    check_is("a pipe", mkfifo("f.csv.part", 0600), ==, 0);
    program_run(args, environ, &r);
    check_is("a pipe does not hang it", r.code, ==, 5);
    unlink("f.csv.part");
    program_run(args, environ, &r);
    check_is("free again", r.code, ==, 3);
}

static void test_no_device(void **state)
{
    (void)state;
    check_is("a pipe", mkfifo("pipe", 0600), ==, 0);
    check_is("a pipe", mkdir("pipes", 0700), ==, 0);
    check_is("a pipe", mkfifo("pipes/c.yaml", 0600), ==, 0);
    program_write("jobs.csv", "case,outdoor.tons\nwrong,3 kWh\n");
    static const program_row rows[] = {
        {"results are a device",
         {"batch", "jobs.csv", "-o", "/dev/zero"},
         5,
         NULL,
         "not a regular file"},
        {"results are a pipe", {"batch", "jobs.csv", "-o", "pipe"}, 5, NULL, "not a regular file"},
        {"results are a folder",
         {"batch", "jobs.csv", "-o", "pipes"},
         5,
         NULL,
         "not a regular file"},
        {"the table is a device",
         {"batch", "/dev/zero", "-o", "d.csv"},
         5,
         NULL,
         "device or a pipe"},
        {"the table is a pipe", {"batch", "pipe", "-o", "d.csv"}, 5, NULL, "device or a pipe"},
        {"the base is a device",
         {"batch", "jobs.csv", "--base", "/dev/zero", "-o", "d.csv"},
         5,
         NULL,
         "device or a pipe"},
        {"a case of the folder is a pipe",
         {"batch", "pipes", "-o", "d.csv", "-q"},
         3,
         NULL,
         "no answer"},
        {"the case is a device", {"fit", "/dev/zero"}, 3, NULL, "larger than 1 MiB"},
    };
    program_check_rows(rows, sizeof rows / sizeof rows[0]);
    check_that("read", program_read("d.csv", again, sizeof again));
    program_expect("its row says why", again, "c.yaml");
    program_expect("its row says why", again, "device or a pipe");
}

/* ---- Mode, killed runs, signals ----------------------------------------------------- */

static int count_beside(const char *name)
{
    char command[300];
    snprintf(command, sizeof command, "ls -a '%s' | grep -c '^%s.coiltrim-' >count",
             program_scratch, name);
    if (system(command) < 0) return -1;
    program_read("count", again, sizeof again);
    return atoi(again);
}

static void test_mode_is_kept(void **state)
{
    (void)state;
    static const mode_t modes[] = {0600, 0640, 0664, 0644};
    const char *const args[] = {"fit", EXAMPLE, "-o", "kept.txt", NULL};
    struct stat there;
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        program_write("kept.txt", "old\n");
        check_is("set", chmod("kept.txt", modes[i]), ==, 0);
        program_run(args, environ, &r);
        check_is("replaced", stat("kept.txt", &there), ==, 0);
        check_is("replaced", there.st_size, >, 4);
        check_is("mode", there.st_mode & 07777, ==, modes[i]);
    }
}

static void test_killed_run_is_cleared(void **state)
{
    (void)state;
    const char *const args[] = {"fit", EXAMPLE, "-o", "left.txt", NULL};
    program_write("left.txt.coiltrim-abcdef", "half a result");
    program_write("left.txt.coiltrim-backup", "not ours");
    program_write("left.txt.coiltrim-locked", "another run writes it");
    check_is("six", rename("left.txt.coiltrim-locked", "left.txt.coiltrim-lockAd"), ==, 0);
    const int other = open("left.txt.coiltrim-lockAd", O_RDONLY);
    check_is("held", flock(other, LOCK_EX | LOCK_NB), ==, 0);
    /* "backup" has six letters: our mark in front of them makes it ours */
    check_is("seven", rename("left.txt.coiltrim-backup", "left.txt.coiltrim-backups"), ==, 0);
    program_run(args, environ, &r);
    check_that("cleared", !program_is_there("left.txt.coiltrim-abcdef"));
    check_that("another's is left", program_is_there("left.txt.coiltrim-lockAd"));
    check_that("another name is left", program_is_there("left.txt.coiltrim-backups"));
    close(other);
    unlink("left.txt.coiltrim-lockAd");
    unlink("left.txt.coiltrim-backups");
}

/* Signals at a time that walks through the run. Whenever it comes: no temporary file, and the
 * result is the old or the new one, whole. */
static void test_signals_clear(void **state)
{
    (void)state;
    static const int signals[] = {SIGINT, SIGTERM, SIGHUP};
    static char old[400000];
    char *argv[] = {strdup(PROGRAM), strdup("page"),   strdup(EXAMPLE),
                    strdup("-o"),    strdup("s.html"), NULL};
    check_is("a folder", mkdir("tmp", 0700), ==, 0);
    check_is("a folder", setenv("TMPDIR", program_path("tmp"), 1), ==, 0);
    program_write("s.html", "old");
    strcpy(old, "old");
    for (int i = 0; i < 12; i++) {
        pid_t pid;
        int status;
        check_is("starts", posix_spawn(&pid, PROGRAM, NULL, NULL, argv, environ), ==, 0);
        const struct timespec wait = {0, 15000000L * (i + 1)};
        nanosleep(&wait, NULL);
        kill(pid, signals[i % 3]);
        check_is("ends", waitpid(pid, &status, 0), ==, pid);
        check_that("by the signal, or done", WIFSIGNALED(status) || WEXITSTATUS(status) == 0);
        check_is("no temporary file", count_beside("s.html"), ==, 0);
        check_is("no temporary folder", rmdir("tmp"), ==, 0);
        check_is("again", mkdir("tmp", 0700), ==, 0);
        program_read("s.html", again, sizeof again);
        check_that("old or whole", strcmp(again, old) == 0 || strstr(again, "</html>"));
    }
    unsetenv("TMPDIR");
    for (int i = 0; argv[i]; i++)
        free(argv[i]);
}

/* ---- Text that would be obeyed ------------------------------------------------------ */

/* U+009B is the terminal's command introducer, U+202E turns the direction of all that follows. */
static void test_text_is_data(void **state)
{
    (void)state;
    static const char table[] = "case,outdoor.tons,job.title\n"
                                "=cmd|x,,=1+1\n+two,,@three\n-four,,-5\n\xef\xbc\x9d"
                                "five,,six\n";
    program_write("bad1.yaml", "job: {title: \"a\xc2\x9b"
                               "31mb\"}\n");
    program_write("bad2.yaml", "job:\n  title: a\xe2\x80\xae"
                               "b\n");
    program_write("bad3.yaml", "job: {title: \"a\\u202Eb\"}\n");
    program_write("bad4.yaml", "\"no\\nsuch\": 1\n");
    static const program_row rows[] = {
        {"C1 in a case", {"fit", "bad1.yaml"}, 3, NULL, "bad1.yaml:1: the character U+009B"},
        {"direction in a case", {"fit", "bad2.yaml"}, 3, NULL, "bad2.yaml:2: the character U+202E"},
        {"escaped in a case", {"fit", "bad3.yaml"}, 3, NULL, "escaped control character"},
        {"line end in a key", {"fit", "bad4.yaml"}, 3, NULL, "no such"},
        {"verb",
         {"sw\xc2\x9b"
          "eep\n\xff"},
         2,
         NULL,
         "no verb 'sw?eep ?'"},
        {"option",
         {"fit", "--x\xe2\x80\xae"
                 "y"},
         2,
         NULL,
         "no option --x?y"},
        {"file", {"fit", "a\xc2\x9b\nb\x1b[31m"}, 5, NULL, "a? b?[31m"},
        {"value", {"air", "--dry-bulb", "7 F\xc2\x85\x07"}, 2, NULL, "F??"},
    };
    program_check_rows(rows, sizeof rows / sizeof rows[0]);

    program_write("cells.csv", table);
    const char *const args[] = {"batch", "cells.csv",     "--base", EXAMPLE,
                                "-o",    "cells-out.csv", "-q",     NULL};
    program_run(args, environ, &r);
    check_that("written", program_read("cells-out.csv", again, sizeof again));
    static const char *const safe[] = {"\n'=cmd|x,", ",'=1+1,",   "\n'+two,",
                                       ",'@three,",  "\n'-four,", "\n'\357\274\235five,"};
    for (size_t i = 0; i < sizeof safe / sizeof safe[0]; i++)
        program_expect("a spreadsheet runs nothing", again, safe[i]);
    strcpy(text, again);
    program_run(args, environ, &r);
    check_same("and taken up again the same", "cells-out.csv", text);

    check_that("a case", program_read(EXAMPLE, text, sizeof text));
    char *title = strstr(text, "title: Larger");
    memcpy(title,
           "title: \xc3\x84\xc3\x96"
           "er",
           13);
    program_write("letters.yaml", text);
    const char *const json[] = {"sweep", "letters.yaml", "--json", NULL};
    program_run(json, environ, &r);
    program_expect("JSON in ASCII", r.out, "\\u00C4\\u00D6er");
    for (const char *c = r.out; *c; c++)
        check_is("ASCII", (unsigned char)*c, <, 127);
}

static void test_whatif_is_bounded(void **state)
{
    (void)state;
    program_write(
        "many.yaml",
        "site: {outdoor_dry_bulb: 95 F, indoor_air: {dry_bulb: 75 F, relative_humidity: 50 %}}\n"
        "house: {sensible_load: 24000 Btu/h, latent_load: 4800 Btu/h}\n"
        "outdoor: {refrigerant: R-22, tons: 3 ton, rated_capacity: 35000 Btu/h, rated_eer: 9.5 "
        "Btu/Wh}\n"
        "sweep: {points: 501}\nindoor: {coil: {size: 1.35}}\n");
    const char *const args[] = {"whatif", "many.yaml", NULL};
    program_run(args, environ, &r);
    program_expect("says how far it looked", r.out, "looked at only from -");
}

static int work_in_scratch(void **state)
{
    return program_make_scratch(state) == 0 ? chdir(program_scratch) : -1;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_output_is_input),
        cmocka_unit_test(test_foreign_journal),
        cmocka_unit_test(test_no_device),
        cmocka_unit_test(test_mode_is_kept),
        cmocka_unit_test(test_killed_run_is_cleared),
        cmocka_unit_test(test_signals_clear),
        cmocka_unit_test(test_text_is_data),
        cmocka_unit_test(test_whatif_is_bounded),
    };
    return cmocka_run_group_tests(tests, work_in_scratch, program_clear_scratch);
}
