/* Memory that fails: one allocation for each distinct call stack, in the verbs that allocate most.
 *
 * Whatever fails, the run either comes to the same answer, byte for byte, or says so and answers 5;
 * a file it was to write is the whole one or is not there; nothing temporary is left. All stacks
 * are walked when there is time; a test run takes as many as fit in some seconds, spread over
 * all. */
#include <dirent.h>

#include "base/clock.h"
#include "program.h"

#define EXAMPLE SOURCE_DIR "/examples/r22-larger-coil.yaml"

enum { MOST = 4000, LEAST = 6, SECONDS = 4, FILES = 3 };
static double patience = SECONDS; /* for each verb; endless when all are asked for */

static const struct {
    const char *name, *args[PROGRAM_MAX_ARGS];
    const char *files[FILES]; /* written */
    bool rows;                /* a file may hold a row that says that memory failed */
} verbs[] = {
    {"sweep",
     {"sweep", EXAMPLE, "-o", "made", "--no-render"},
     {"made/sweep.csv", "made/taps.csv"},
     false},
    {"sweep as JSON", {"sweep", EXAMPLE, "--json"}, {NULL}, false},
    {"season",
     {"season", EXAMPLE, "-w", SOURCE_DIR "/examples/weather-bins.csv", "-o", "made",
      "--no-render"},
     {"made/season.csv", "made/season_hours.csv", "made/season_duration.csv"},
     false},
    {"explain as JSON", {"explain", EXAMPLE, "--json"}, {NULL}, false},
    {"page", {"page", EXAMPLE, "-o", "made/job.html"}, {"made/job.html"}, false},
    {"explore", {"explore", EXAMPLE, "-o", "made/explore.html"}, {"made/explore.html"}, false},
    {"batch",
     {"batch", "jobs.csv", "--base", EXAMPLE, "-o", "made/r.csv", "-j", "1", "-q"},
     {"made/r.csv"},
     true},
    {"tune",
     {"tune", EXAMPLE, SOURCE_DIR "/examples/readings-r22.yaml", "-o", "made/t.yaml"},
     {"made/t.yaml"},
     false},
};

static char preload[] = "LD_PRELOAD=" FAULT_MALLOC;
static char nowhere[] = "PATH=/nowhere"; /* no gnuplot */

static void clear_out(void)
{
    static const char *const args[] = {"-rf", "made", NULL};
    program_spawn("rm", args, "/dev/null", "/dev/null", environ);
    check_is("a folder", mkdir("made", 0700), ==, 0);
}

static int count_temporary(void)
{
    DIR *folder = opendir("made");
    const struct dirent *entry;
    int n = 0;
    while ((entry = readdir(folder)))
        n += strstr(entry->d_name, ".coiltrim-") != NULL;
    closedir(folder);
    return n;
}

typedef struct {
    program_result result;
    bool there[FILES];
    char file[FILES][400000];
} outcome;

static void run_verb(size_t v, char **environment, outcome *o)
{
    clear_out();
    program_run(verbs[v].args, environment, &o->result);
    for (int i = 0; i < FILES && verbs[v].files[i]; i++) {
        o->there[i] = program_is_there(verbs[v].files[i]);
        check_that("fits", program_read(verbs[v].files[i], o->file[i], sizeof o->file[i]));
    }
}

static bool same_files(size_t v, const outcome *a, const outcome *b, bool may_be_absent)
{
    for (int i = 0; i < FILES && verbs[v].files[i]; i++)
        if (!(may_be_absent && !a->there[i]) &&
            (a->there[i] != b->there[i] || strcmp(a->file[i], b->file[i]) != 0))
            return false;
    return true;
}

/* The results of a batch that memory stopped: absent, or the same heading and no row cut short. */
static bool whole_rows(const outcome *is, const outcome *was)
{
    const size_t n = strlen(is->file[0]), heading = strcspn(was->file[0], "\n") + 1;
    return !is->there[0] || (n >= heading && is->file[0][n - 1] == '\n' &&
                             memcmp(is->file[0], was->file[0], heading) == 0);
}

static void check_failed(size_t v, long nth, const outcome *is, const outcome *was)
{
    const program_result *r = &is->result;
    const bool same = r->code == was->result.code && strcmp(r->out, was->result.out) == 0 &&
                      same_files(v, is, was, false);
    const bool told = r->code == 5 && r->err[0] &&
                      (verbs[v].rows ? whole_rows(is, was) : same_files(v, is, was, true));
    if (!same && !told)
        print_error("%s, allocation %ld: exit code %d, %s\n", verbs[v].name, nth, r->code, r->err);
    check_that(verbs[v].name, same || told);
    check_is("temporary files", count_temporary(), ==, 0);
}

static int read_stacks(long nth[MOST])
{
    FILE *f = fopen("stacks", "r");
    int n = 0;
    check_that("recorded", f != NULL);
    while (n < MOST && fscanf(f, "%ld", &nth[n]) == 1)
        n++;
    fclose(f);
    return n;
}

static void test_memory_fails(void **state)
{
    (void)state;
    static outcome was, is;
    static long nth[MOST];
    static char record[] = "FAULT_RECORD=stacks", fault[40];
    char *plain[] = {nowhere, NULL}, *recording[] = {nowhere, preload, record, NULL},
         *failing[] = {nowhere, preload, fault, NULL};
    program_write("jobs.csv", "case,outdoor.tons\nas it is,\nsmaller,2.5 ton\n");
    for (size_t v = 0; v < sizeof verbs / sizeof verbs[0]; v++) {
        run_verb(v, plain, &was);
        check_that(verbs[v].name, was.result.code == 0 || was.result.code == 10);
        run_verb(v, recording, &is);
        check_is("recorded as it was", is.result.code, ==, was.result.code);
        const int n = read_stacks(nth), stride = stride_of(n);
        check_is("stacks", n, >, 20);
        const double until = clock_seconds() + patience;
        int done = 0;
        for (; done < n && (done < LEAST || clock_seconds() < until); done++) {
            const long at = nth[(long)done * stride % n];
            snprintf(fault, sizeof fault, "FAULT_NTH=%ld", at);
            run_verb(v, failing, &is);
            check_failed(v, at, &is, &was);
        }
        print_message("%s: %d of %d stacks\n", verbs[v].name, done, n);
    }
}

static int work_in_scratch(void **state)
{
    return program_make_scratch(state) == 0 ? chdir(program_scratch) : -1;
}

/* With the argument `all`: every stack. */
int main(int argc, char **argv)
{
    if (argc > 1 && strcmp(argv[1], "all") == 0) patience = 1e9;
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_memory_fails)};
    return cmocka_run_group_tests(tests, work_in_scratch, program_clear_scratch);
}
