/* Timings, and a large crowd of random systems. Not a test; run alone on a quiet machine:
 *   build/tests/bench [systems] [case file]
 * Times are processor time of the thread, so that a busy machine disturbs less, the best of several
 * runs. Instructions are counted where the machine lets a program count its own. */
#include <ftw.h>
#include <linux/perf_event.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "crowd.h"
#include "fluid/helmholtz.h"
#include "fluid/refrigerant_tables.h"
#include "invented_case.h"
#include "plant.h"
#include "study/uncertain.h"

extern char **environ;

static double on(clockid_t clock)
{
    struct timespec t;
    clock_gettime(clock, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double now(void)
{
    return on(CLOCK_THREAD_CPUTIME_ID);
}

/* By the clock on the wall, for what runs on several cores. */
static double wall(void)
{
    return on(CLOCK_MONOTONIC);
}

/* Counts this thread's instructions outside the kernel; -1: not to be had here. */
static int counter = -1;

static void counter_open(void)
{
    struct perf_event_attr about = {.type = PERF_TYPE_HARDWARE,
                                    .size = sizeof about,
                                    .config = PERF_COUNT_HW_INSTRUCTIONS,
                                    .exclude_kernel = 1,
                                    .exclude_hv = 1};
    counter = (int)syscall(SYS_perf_event_open, &about, 0, -1, -1, 0);
    if (counter < 0) puts("instructions: no counter on this machine, or no leave to use it");
}

static double instructions(void)
{
    uint64_t n;
    return counter >= 0 && read(counter, &n, sizeof n) == sizeof n ? (double)n : (double)NAN;
}

/* ---- balances ---- */

enum { BALANCES = 4000, RUNS = 7, SWEEP_POINTS = 51 };

/* Airflow spread over 62 to 125 % of rated, outdoors over 75 to 115 F. */
static ct_conditions spread(const plant *p, int i)
{
    ct_conditions at = p->rating;
    at.m_da *= 0.62 + 0.63 * (i * 7919 % BALANCES) / BALANCES;
    at.T_out = K_(75 + 40.0 * (i * 1733 % BALANCES) / BALANCES);
    return at;
}

typedef struct {
    double time, instructions, evaluations; /* of one balance */
} cost;

static cost cost_of(double time, double counted, double evaluations, int n)
{
    return (cost){(now() - time) / n, (instructions() - counted) / n, evaluations / n};
}

static cost cold(ct_solver *solver, const plant *p)
{
    double t = now(), counted = instructions(), sum = 0;
    for (int i = 0; i < BALANCES; i++) {
        ct_conditions at = spread(p, i);
        ct_balance b;
        if (ct_balance_solve(solver, &p->sys, &at, NULL, &b, NULL) != CT_OK) abort();
        sum += b.evaluations;
    }
    return cost_of(t, counted, sum, BALANCES);
}

/* Sweeps of 51 airflows, each point begun where the last answers point to. */
static cost along(ct_solver *solver, const plant *p)
{
    double t = now(), counted = instructions(), sum = 0;
    int n = 0;
    for (; n < BALANCES; n += SWEEP_POINTS) {
        ct_start last[CT_AHEAD_MOST];
        for (int i = 0; i < SWEEP_POINTS; i++) {
            ct_conditions at = p->rating;
            ct_start s = {0};
            ct_balance b;
            at.T_out = spread(p, n).T_out;
            at.m_da *= 0.625 + 0.625 * i / (SWEEP_POINTS - 1);
            if (i > 0) s = ct_balance_ahead(last, i < CT_AHEAD_MOST ? i : CT_AHEAD_MOST);
            if (ct_balance_solve(solver, &p->sys, &at, i ? &s : NULL, &b, NULL) != CT_OK) abort();
            memmove(&last[1], last, (CT_AHEAD_MOST - 1) * sizeof *last);
            last[0] = ct_balance_start(&b);
            sum += b.evaluations;
        }
    }
    return cost_of(t, counted, sum, n);
}

static void balances(ct_solver *solver, const char *refrigerant, int orifice)
{
    static const struct {
        const char *name;
        cost (*run)(ct_solver *, const plant *);
    } kind[] = {{"cold", cold}, {"along a sweep", along}};
    plant p;
    plant_make(&p, refrigerant, 3);
    if (orifice) p.sys.meter = piston_for(&p);
    for (int k = 0; k < 2; k++) {
        cost best = {.time = 1e9};
        for (int i = 0; i < RUNS; i++) {
            const cost c = kind[k].run(solver, &p);
            if (c.time < best.time) best = c;
        }
        printf("  %-7s %-8s %-14s %6.2f us  %8.0f/s  %.2f coils each", refrigerant,
               orifice ? "orifice" : "valve", kind[k].name, 1e6 * best.time, 1 / best.time,
               best.evaluations);
        if (counter >= 0)
            printf("  %.0f instructions, %.0f a coil", best.instructions,
                   best.instructions / best.evaluations);
        putchar('\n');
    }
    plant_free(&p);
}

/* ---- tables against the equation of state ---- */

enum { LOOKUPS = 200000, EQUATIONS = 2000 };

static double vapor_from_table(const ct_refrigerant *r)
{
    double t = now(), sum = 0;
    for (int i = 0; i < LOOKUPS; i++) {
        ct_vapor v;
        if (ct_refrigerant_vapor(r, 275 + 10.0 * i / LOOKUPS, 2 + i % 9, &v, NULL)) abort();
        sum += v.h;
    }
    if (!(sum > 0)) abort();
    return (now() - t) / LOOKUPS;
}

static double vapor_from_equation(const ct_refrigerant *r)
{
    double t = now(), sum = 0;
    for (int i = 0; i < EQUATIONS; i++) {
        double T = 275 + 10.0 * i / EQUATIONS;
        ct_isotherm dew = ct_helmholtz_isotherm(r->model, T);
        ct_isotherm warm = ct_helmholtz_isotherm(r->model, T + 2 + i % 9);
        ct_saturation sat = ct_helmholtz_saturation(&dew);
        sum += ct_helmholtz_state(&warm, ct_helmholtz_density(&warm, sat.p_dew, sat.rho_vapor)).h;
    }
    if (!(sum > 0)) abort();
    return (now() - t) / EQUATIONS;
}

static void tables(const char *name)
{
    ct_refrigerant *r;
    double table = 1e9, equation = 1e9;
    if (ct_refrigerant_make(name, &r, NULL)) abort();
    for (int i = 0; i < RUNS; i++) {
        table = fmin(table, vapor_from_table(r));
        equation = fmin(equation, vapor_from_equation(r));
    }
    printf("  %-7s table %6.1f ns, equation %8.1f ns: %.0f times\n", name, 1e9 * table,
           1e9 * equation, equation / table);
    ct_refrigerant_free(r);
}

/* ---- the crowd ---- */

typedef struct {
    int outcome[CT_SUPERHEAT_LOST + 1];
    int refused; /* nameplates */
    double worst;
} tally;

static void one_plant(ct_solver *solver, uint64_t *seed, int points, tally *t)
{
    plant p;
    random_case(&p.c, seed);
    if (plant_calibrate(&p, NULL) != CT_OK) {
        t->refused++;
        plant_free(&p);
        return;
    }
    ct_conditions rated = p.rating;
    for (int i = 0; i < points; i++) {
        ct_balance b;
        random_join(&p, seed);
        random_conditions(&p, seed);
        if (ct_balance_solve(solver, &p.sys, &p.rating, NULL, &b, NULL) == CT_OK)
            t->worst = fmax(t->worst, closure(&p.sys, &p.rating, &b));
        t->outcome[b.outcome]++;
        p.rating = rated;
    }
    plant_free(&p);
}

static void crowd(ct_solver *solver, int systems)
{
    enum { POINTS = 50 };
    uint64_t seed = 1;
    tally t = {.worst = 0};
    double start = now();
    int done = 0;
    for (; done < systems; done = 0) {
        one_plant(solver, &seed, POINTS, &t);
        for (int k = 0; k <= CT_SUPERHEAT_LOST; k++)
            done += t.outcome[k];
        if (done >= systems) break;
    }
    printf("  %d systems in %.1f s, worst closure %.2g, %d nameplates refused\n", done,
           now() - start, t.worst, t.refused);
    for (int k = 0; k <= CT_SUPERHEAT_LOST; k++)
        if (t.outcome[k]) printf("  %8d %s\n", t.outcome[k], ct_outcome_text((ct_outcome)k));
}

/* ---- spread of the answer, all cores ---- */

static void uncertain(int samples)
{
    static ct_uncertain u;
    const ct_uncertain_plan plan = {.samples = samples};
    const ct_setup setup = invented_setup();
    ct_fault f;
    invented_read(INVENTED_CASE);
    inv.c.sweep.points = 26;
    invented_sweep();
    double t = wall();
    if (ct_uncertain_run(&setup, &inv.sweep, &plan, &u, &f)) abort();
    printf("  %d draws of %d airflows and %d taps: %.2f s, %d set aside\n", u.samples, u.n,
           u.n_taps, wall() - t, u.impossible);
    invented_free(NULL);
}

/* ---- the whole program ---- */

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

typedef struct {
    double wall, cpu; /* s; NaN: it failed */
} run_time;

static double seconds(struct timeval t)
{
    return (double)t.tv_sec + 1e-6 * (double)t.tv_usec;
}

static run_time once(char *const argv[])
{
    pid_t pid;
    int status;
    posix_spawn_file_actions_t quiet;
    struct rusage used;
    double t = wall();
    posix_spawn_file_actions_init(&quiet);
    posix_spawn_file_actions_addopen(&quiet, 1, "/dev/null", 1 /* O_WRONLY */, 0);
    if (posix_spawn(&pid, PROGRAM, &quiet, NULL, argv, environ)) return (run_time){NAN, NAN};
    wait4(pid, &status, 0, &used);
    posix_spawn_file_actions_destroy(&quiet);
    if (!WIFEXITED(status) || (WEXITSTATUS(status) != 0 && WEXITSTATUS(status) != 10))
        return (run_time){NAN, NAN};
    return (run_time){wall() - t, seconds(used.ru_utime) + seconds(used.ru_stime)};
}

static int unlink_one(const char *path, const struct stat *s, int kind, struct FTW *at)
{
    (void)s, (void)kind, (void)at;
    return remove(path);
}

static void program(const char *file)
{
    enum { N = 20 };
    char folder[] = "/tmp/coiltrim-bench-XXXXXX", path[256], verb[] = "sweep",
         no_render[] = "--no-render", out[] = "--output", name[] = "coiltrim";
    double t[N], cpu[N];
    if (!mkdtemp(folder)) return;
    snprintf(path, sizeof path, "%s", file);
    char *argv[] = {name, verb, path, no_render, out, folder, NULL};
    int n = 0;
    for (; n < N; n++) {
        const run_time r = once(argv);
        if (!isfinite(r.wall)) break;
        t[n] = r.wall;
        cpu[n] = r.cpu;
    }
    nftw(folder, unlink_one, 8, FTW_DEPTH | FTW_PHYS);
    if (n < N) {
        printf("  'coiltrim sweep --no-render' failed on %s\n", file);
        return;
    }
    qsort(t, N, sizeof *t, by_size);
    qsort(cpu, N, sizeof *cpu, by_size);
    printf(
        "  coiltrim sweep --no-render: least %.2f ms, median %.2f ms of %d; processor least %.2f "
        "ms\n",
        1e3 * t[0], 1e3 * 0.5 * (t[N / 2 - 1] + t[N / 2]), N, 1e3 * cpu[0]);
}

/* ---- batch ---- */

/* A table that changes one value of the example from row to row. */
static void jobs_table(const char *path, int jobs)
{
    FILE *f = fopen(path, "w");
    if (!f) abort();
    fputs("case,house.sensible_load\n", f);
    for (int i = 0; i < jobs; i++)
        fprintf(f, "job %d,%d Btu/h\n", i + 1, 20000 + 7919 * i % 8000);
    if (fclose(f) != 0) abort();
}

static double batch_rate(const char *folder, const char *cores, int jobs)
{
    char table[64], out[64], base[] = SOURCE_DIR "/examples/r22-larger-coil.yaml",
                             name[] = "coiltrim", verb[] = "batch", over[] = "--base", to[] = "-o",
                             at_once[] = "-j", quiet[] = "--quiet", fresh[] = "--fresh", n[8];
    char *argv[] = {name, verb, table, over, base, to, out, at_once, n, quiet, fresh, NULL};
    double best = 0;
    snprintf(table, sizeof table, "%s/jobs.csv", folder);
    snprintf(out, sizeof out, "%s/results.csv", folder);
    snprintf(n, sizeof n, "%s", cores);
    jobs_table(table, jobs);
    for (int i = 0; i < 3; i++)
        best = fmax(best, jobs / once(argv).wall);
    return best;
}

static void batch(void)
{
    enum { JOBS = 200 };
    char folder[] = "/tmp/coiltrim-bench-XXXXXX";
    if (!mkdtemp(folder)) return;
    const double one = batch_rate(folder, "1", JOBS), two = batch_rate(folder, "2", JOBS);
    nftw(folder, unlink_one, 8, FTW_DEPTH | FTW_PHYS);
    if (!(one > 0 && two > 0))
        puts("  'coiltrim batch' failed");
    else
        printf("  %.0f jobs/s on one core, %.0f on two: %.2f times\n", one, two, two / one);
}

int main(int argc, char **argv)
{
    ct_solver *solver;
    int systems = argc > 1 ? atoi(argv[1]) : 100000;
    if (ct_solver_make(&solver, NULL)) return 1;
    counter_open();
    puts("balances, one core");
    balances(solver, "R-410A", 0);
    balances(solver, "R-22", 0);
    balances(solver, "R-407C", 0);
    balances(solver, "R-410A", 1);
    puts("vapor state from saturated temperature and superheat");
    tables("R-410A");
    tables("R-22");
    puts("random systems");
    crowd(solver, systems);
    puts("cases drawn around one, all cores");
    uncertain(10000);
    puts("from start of the program to files written");
    program(argc > 2 ? argv[2] : SOURCE_DIR "/examples/r22-larger-coil.yaml");
    puts("a table of jobs");
    batch();
    ct_solver_free(solver);
    return 0;
}
