/* Files and streams that fail, and runs that are killed, for every verb.
 *
 * Whatever fails, the run either comes to the same answer, byte for byte, or says so and answers 5;
 * a file it was to write is the whole one, the one that was there before, or none; nothing
 * temporary is left. A killed run may leave something temporary; the next one clears it. A test run
 * takes as many faults as fit in part of a second for each verb; with the argument `all` every one,
 * and batch is killed 100 times. */
#include <dirent.h>
#include <errno.h>
#include <signal.h>
#include <sys/resource.h>
#include <time.h>

#include "base/clock.h"
#include "program.h"

#define EXAMPLE SOURCE_DIR "/examples/r22-larger-coil.yaml"
#define HUMID SOURCE_DIR "/examples/r410a-humid.yaml"
#define READINGS SOURCE_DIR "/examples/readings-r22.yaml"
#define WEATHER SOURCE_DIR "/examples/weather-bins.csv"

enum { FILES = 4, LEAST = 3, TOLD = 5, SIZE = 400000 };

#define STEP "step of writing"

static double patience = 0.25; /* seconds for each verb and kind of fault */
static int kills = 8;          /* of batch */
static unsigned long long seed = 20240901;

typedef struct {
    const char *name, *args[PROGRAM_MAX_ARGS];
    const char *files[FILES]; /* written */
} verb;

static const verb verbs[] = {
    {"sweep",
     {"sweep", EXAMPLE, "-o", "made", "--no-render"},
     {"made/sweep.csv", "made/taps.csv", "made/capacity.gp"}},
    {"sweep, JSON", {"sweep", EXAMPLE, "--json"}, {NULL}},
    {"whatif", {"whatif", EXAMPLE}, {NULL}},
    {"compare",
     {"compare", EXAMPLE, "-o", "made", "--no-render"},
     {"made/compare.csv", "made/compare.gp"}},
    {"metering",
     {"metering", EXAMPLE, "-o", "made", "--no-render"},
     {"made/metering.csv", "made/subcooling.csv", "made/superheat.gp"}},
    {"season",
     {"season", HUMID, "--weather", WEATHER, "-o", "made", "--no-render"},
     {"made/season.csv", "made/season_hours.csv", "made/season_duration.csv", "made/season_rh.gp"}},
    {"explain",
     {"explain", EXAMPLE, "-o", "made", "--no-render"},
     {"made/crossing.csv", "made/crossing.gp", "made/psychro.gp", "made/blower.csv"}},
    {"page", {"page", EXAMPLE, "-o", "made/job.html"}, {"made/job.html"}},
    {"explore", {"explore", EXAMPLE, "-o", "made/explore.html"}, {"made/explore.html"}},
    {"tune", {"tune", EXAMPLE, READINGS, "-o", "made/t.yaml"}, {"made/t.yaml"}},
    {"batch",
     {"batch", "jobs.csv", "--base", EXAMPLE, "-o", "made/r.csv", "-j", "1", "-q"},
     {"made/r.csv"}},
    {"new",
     {"new", "tons=3", "refrigerant=R-22", "seer=10", "static=0.7inwc", "--save", "made/n.yaml"},
     {"made/n.yaml"}},
    {"fit", {"fit", EXAMPLE}, {NULL}},
    {"air",
     {"air", "--dry-bulb", "80 F", "--wet-bulb", "67 F", "--altitude", "0 ft", "-o", "made/a.txt"},
     {"made/a.txt"}},
    {"keys", {"keys"}, {NULL}},
};
enum { VERBS = sizeof verbs / sizeof verbs[0] };

static char nowhere[] = "PATH=/nowhere"; /* no gnuplot */
static char temporary[] = "TMPDIR=made";
static char *plain[] = {nowhere, temporary, NULL};

/* ---- Running --------------------------------------------------------------------- */

/* What is put in a run's way. */
typedef struct {
    char *const *environment;
    rlim_t file_size, descriptors; /* 0: not limited */
    bool full;                     /* standard output is /dev/full */
    bool closed;                   /* it is closed */
    double kill_after;             /* seconds; 0: never */
} fault;

typedef struct {
    int code; /* -signal when one ended it */
    char out[SIZE], err[20000];
    bool there[FILES];
    char file[FILES][SIZE];
} outcome;

static void limit(int resource, rlim_t to)
{
    const struct rlimit l = {to, to};
    if (to) setrlimit((__rlimit_resource_t)resource, &l);
}

/* In the child. */
static void become(const verb *v, const fault *how)
{
    char *argv[PROGRAM_MAX_ARGS + 2] = {strdup("coiltrim")};
    for (int i = 0; i < PROGRAM_MAX_ARGS && v->args[i]; i++)
        argv[i + 1] = strdup(v->args[i]);
    const int in = open("/dev/null", O_RDONLY);
    const int out = open(how->full ? "/dev/full" : "out", O_WRONLY | O_CREAT | O_TRUNC, 0600);
    const int err = open("err", O_WRONLY | O_CREAT | O_TRUNC, 0600);
    dup2(in, 0);
    dup2(out, 1);
    dup2(err, 2);
    for (int i = 3; i < 64; i++)
        close(i);
    if (how->closed) close(1);
    signal(SIGXFSZ, SIG_IGN);
    limit(RLIMIT_FSIZE, how->file_size);
    limit(RLIMIT_NOFILE, how->descriptors);
    execve(PROGRAM, argv, how->environment);
    _exit(99);
}

static void pause_for(double seconds)
{
    const time_t whole = (time_t)seconds;
    nanosleep(&(struct timespec){whole, (long)((seconds - (double)whole) * 1e9)}, NULL);
}

static void run_verb(const verb *v, const fault *how, outcome *o)
{
    int state = 0;
    const pid_t pid = fork();
    check_is("a process", pid, >=, 0);
    if (pid == 0) become(v, how);
    if (how->kill_after > 0) {
        pause_for(how->kill_after);
        kill(pid, SIGKILL);
    }
    check_is("it ends", waitpid(pid, &state, 0), ==, pid);
    o->code = WIFEXITED(state) ? WEXITSTATUS(state) : -WTERMSIG(state);
    check_that("output fits", program_read("out", o->out, sizeof o->out));
    check_that("messages fit", program_read("err", o->err, sizeof o->err));
    for (int i = 0; i < FILES && v->files[i]; i++) {
        o->there[i] = program_is_there(v->files[i]);
        check_that("file fits", program_read(v->files[i], o->file[i], sizeof o->file[i]));
    }
}

static void clear_out(void)
{
    static const char *const args[] = {"-rf", "made", NULL};
    program_spawn("rm", args, "/dev/null", "/dev/null", environ);
    check_is("a folder", mkdir("made", 0700), ==, 0);
}

/* The page says itself why it has no plots, and gnuplot needs files of its own. */
static bool is_page_without_plots(const outcome *o, const verb *v)
{
    const size_t n = strlen(o->file[0]), end = strlen("</html>\n");
    return strcmp(v->name, "page") == 0 && n > end &&
           strcmp(o->file[0] + n - end, "</html>\n") == 0 &&
           strstr(o->err, "the page is made without plots");
}

/* Files beside results and folders of the page: TMPDIR is made. */
static int count_temporary(void)
{
    DIR *folder = opendir("made");
    const struct dirent *entry;
    int n = 0;
    while ((entry = readdir(folder)))
        n += strstr(entry->d_name, ".coiltrim-") || strncmp(entry->d_name, "coiltrim.", 9) == 0;
    closedir(folder);
    return n;
}

/* ---- What must come of it -------------------------------------------------------- */

static bool same_files(const verb *v, const outcome *a, const outcome *b, bool may_be_absent)
{
    for (int i = 0; i < FILES && v->files[i]; i++)
        if (!(may_be_absent && !a->there[i]) &&
            (a->there[i] != b->there[i] || strcmp(a->file[i], b->file[i]) != 0))
            return false;
    return true;
}

/* Of the faults of one kind. */
typedef struct {
    const char *kind;
    int n, same, told;
    char message[120];
} tally;

/* Where the failing step is the removal of one of the page's plots, the folder stays; the next run
 * clears it. */
static void clear_by_next(const verb *v, const char *kind)
{
    static outcome next;
    if (strcmp(v->name, "page") != 0 || strcmp(kind, STEP) != 0 || count_temporary() == 0) return;
    check_is("one folder", count_temporary(), ==, 1);
    run_verb(v, &(fault){.environment = plain}, &next);
    check_that("the next run works", next.code == 0 || next.code == 10);
}

static void check_outcome(const verb *v, const outcome *is, const outcome *was, bool wants_out,
                          tally *t)
{
    const bool out = !wants_out || strcmp(is->out, was->out) == 0;
    const bool same = is->code == was->code && out && same_files(v, is, was, false);
    const bool told = is->code == TOLD && is->err[0] &&
                      (same_files(v, is, was, true) || is_page_without_plots(is, v));
    t->n++;
    t->same += same;
    t->told += !same && told;
    if (!same && told)
        snprintf(t->message, sizeof t->message, "%.*s", (int)strcspn(is->err, "\n"), is->err);
    if (!same && !told)
        print_error("%s, %s %d: exit code %d, %s\n", v->name, t->kind, t->n, is->code, is->err);
    check_that(v->name, same || told);
    clear_by_next(v, t->kind);
    check_is("temporary files", count_temporary(), ==, 0);
}

static void print_tally(const verb *v, const tally *t)
{
    print_message("| %s | %s | %d | %d | %d | %s |\n", v->name, t->kind, t->n, t->same, t->told,
                  t->message);
}

static void run_plain(const verb *v, outcome *was)
{
    clear_out();
    run_verb(v, &(fault){.environment = plain}, was);
    if (was->code != 0 && was->code != 10) print_error("%s: %s\n", v->name, was->err);
    check_that(v->name, was->code == 0 || was->code == 10);
    for (int i = 0; i < FILES && v->files[i]; i++)
        check_that(v->files[i], was->there[i]);
    check_is("temporary files", count_temporary(), ==, 0);
}

/* ---- Each step of writing in turn ------------------------------------------------ */

static int count_steps(const verb *v, outcome *is)
{
    static char preload[] = "LD_PRELOAD=" FAULT_WRITE, counting[] = "FAULT_COUNT=steps";
    char *environment[] = {nowhere, temporary, preload, counting, NULL};
    char text[32];
    clear_out();
    run_verb(v, &(fault){.environment = environment}, is);
    check_that("counted", program_read("steps", text, sizeof text));
    return atoi(text);
}

static void test_steps_fail(void **state)
{
    (void)state;
    static outcome was, is;
    static char preload[] = "LD_PRELOAD=" FAULT_WRITE, nth[40];
    char *environment[] = {nowhere, temporary, preload, nth, NULL};
    for (int i = 0; i < VERBS; i++) {
        const verb *v = &verbs[i];
        tally t = {.kind = STEP};
        run_plain(v, &was);
        const int n = count_steps(v, &is), stride = stride_of(n);
        check_is("counted as it was", is.code, ==, was.code);
        check_is("steps", n, >, 0);
        const double until = clock_seconds() + patience;
        for (int k = 0; k < n && (k < LEAST || clock_seconds() < until); k++) {
            snprintf(nth, sizeof nth, "FAULT_NTH=%d", 1 + (int)((long)k * stride % n));
            clear_out();
            run_verb(v, &(fault){.environment = environment}, &is);
            check_outcome(v, &is, &was, true, &t);
        }
        print_tally(v, &t);
    }
}

/* ---- The surroundings ------------------------------------------------------------ */

static void run_fault(const verb *v, const fault *how, const outcome *was, tally *t)
{
    static outcome is;
    clear_out();
    run_verb(v, how, &is);
    check_outcome(v, &is, was, !how->full && !how->closed, t);
}

static void test_surroundings_fail(void **state)
{
    (void)state;
    static outcome was;
    static const rlim_t sizes[] = {1, 700, 4096, 9000}, open_files[] = {4, 5, 6, 7};
    for (int i = 0; i < VERBS; i++) {
        const verb *v = &verbs[i];
        tally disk = {.kind = "full disk"}, few = {.kind = "no descriptors"},
              full = {.kind = "standard output full"}, closed = {.kind = "standard output closed"};
        run_plain(v, &was);
        for (size_t k = 0; k<4; k += patience> 1 ? 1 : 2) {
            if (!v->files[0]) continue;
            run_fault(v, &(fault){.environment = plain, .descriptors = open_files[k]}, &was, &few);
            run_fault(v, &(fault){.environment = plain, .file_size = sizes[k]}, &was, &disk);
        }
        run_fault(v, &(fault){.environment = plain, .full = true}, &was, &full);
        run_fault(v, &(fault){.environment = plain, .closed = true}, &was, &closed);
        if (was.out[0]) check_is("a full output is reported", full.told, ==, 1);
        print_tally(v, &disk);
        print_tally(v, &few);
        print_tally(v, &full);
        print_tally(v, &closed);
    }
}

/* A folder nothing can be made in, also by root. */
static void test_read_only(void **state)
{
    (void)state;
    static outcome is;
    for (int i = 0; i < VERBS; i++) {
        verb v = verbs[i];
        for (int k = 0; k < PROGRAM_MAX_ARGS && v.args[k]; k++)
            if (strncmp(v.args[k], "made", 4) == 0) v.args[k] = "/proc/made";
        if (!v.files[0]) continue;
        v.files[0] = NULL;
        run_verb(&v, &(fault){.environment = plain}, &is);
        if (is.code != TOLD) print_error("%s: %d %s\n", v.name, is.code, is.err);
        check_is(v.name, is.code, ==, TOLD);
        check_has("the folder is named", is.err, "/proc/made");
        print_message("| %s | read-only folder | 1 | 0 | 1 | %.*s |\n", v.name,
                      (int)strcspn(is.err, "\n"), is.err);
    }
}

/* ---- Killed ---------------------------------------------------------------------- */

/* Knuth's MMIX generator (The Art of Computer Programming 2, 3.3.4). */
static double draw(void)
{
    seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(seed >> 11) / 9007199254740992.0;
}

static double time_of(const verb *v, outcome *was)
{
    run_plain(v, was);
    const double start = clock_seconds();
    run_verb(v, &(fault){.environment = plain}, was);
    return clock_seconds() - start;
}

/* A file is whole or absent, and the run after has nothing to show for it. */
static void test_killed(void **state)
{
    (void)state;
    static outcome was, is;
    for (int i = 0; i < VERBS; i++) {
        const verb *v = &verbs[i];
        if (!v->files[0]) continue;
        const double takes = time_of(v, &was), until = clock_seconds() + patience;
        int n = 0, killed = 0, most = patience > 100 ? 40 : 200;
        for (; n < most && (n < 2 || clock_seconds() < until); n++) {
            clear_out();
            run_verb(v, &(fault){.environment = plain, .kill_after = 1e-4 + takes * draw()}, &is);
            killed += is.code < 0;
            check_that("whole or absent", same_files(v, &is, &was, true));
            run_verb(v, &(fault){.environment = plain}, &is);
            check_is(v->name, is.code, ==, was.code);
            check_that("as undisturbed", same_files(v, &is, &was, false));
            check_is("temporary files", count_temporary(), ==, 0);
        }
        print_message("| %s | killed | %d | %d | %d | |\n", v->name, n, n - killed, killed);
    }
}

static const verb *batch_many(void)
{
    static const verb many = {
        "batch",
        {"batch", "many.csv", "--base", EXAMPLE, "-o", "made/r.csv", "-j", "2", "-q"},
        {"made/r.csv"}};
    FILE *f = fopen("many.csv", "w");
    check_that("a table", f != NULL);
    fprintf(f, "case,house.sensible_load\n");
    for (int i = 0; i < 24; i++)
        fprintf(f, "load %d,%d Btu/h\n", i, 18000 + 100 * i);
    fclose(f);
    return &many;
}

/* Killed again and again over the same results, each time a little further on. */
static void test_batch_killed(void **state)
{
    (void)state;
    static outcome was, is;
    const verb *v = batch_many();
    const fault whole = {.environment = plain};
    run_plain(v, &was);
    clear_out();
    const double start = clock_seconds();
    run_verb(v, &whole, &is);
    const double takes = clock_seconds() - start;
    int killed = 0, ended = 0;
    clear_out();
    for (int tries = 0; killed < kills && tries < 4 * kills; tries++) {
        run_verb(v, &(fault){.environment = plain, .kill_after = takes * draw() * draw()}, &is);
        killed += is.code < 0;
        if (is.code < 0) check_that("nothing or all", same_files(v, &is, &was, true));
        if (is.code < 0) continue;
        ended++;
        check_that("as undisturbed", same_files(v, &is, &was, false));
        clear_out();
    }
    run_verb(v, &whole, &is);
    check_is("as undisturbed", is.code, ==, was.code);
    check_that("as undisturbed", same_files(v, &is, &was, false));
    check_that("no journal", !program_is_there("made/r.csv.part"));
    check_is("killed", killed, >=, kills / 2);
    print_message("batch: killed %d times, ended in between %d times, the same file\n", killed,
                  ended);
}

static int work_in_scratch(void **state)
{
    if (program_make_scratch(state) != 0 || chdir(program_scratch) != 0) return -1;
    program_write("jobs.csv", "case,outdoor.tons\nas it is,\nsmaller,2.5 ton\n");
    return 0;
}

int main(int argc, char **argv)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_steps_fail), cmocka_unit_test(test_surroundings_fail),
        cmocka_unit_test(test_read_only), cmocka_unit_test(test_killed),
        cmocka_unit_test(test_batch_killed)};
    if (argc > 1 && strcmp(argv[1], "all") == 0) {
        patience = 1e9;
        kills = 100;
    }
    return cmocka_run_group_tests(tests, work_in_scratch, program_clear_scratch);
}
