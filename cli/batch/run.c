#include "batch/run.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/complain.h"
#include "base/inputs.h"
#include "base/parallel.h"
#include "base/text_stream.h"
#include "batch/items.h"
#include "batch/journal.h"
#include "batch/row.h"
#include "plant/settle.h"
#include "show/verdict.h"
#include "study/ways.h"

enum { MAX_REFRIGERANTS = 16 };

/* Made once each, when first asked for, and shared. */
typedef struct {
    pthread_mutex_t lock;
    struct {
        char name[CT_NAME_SIZE];
        ct_refrigerant *made;
    } row[MAX_REFRIGERANTS];
    int n;
} refrigerants;

/* What each thread works in. */
typedef struct {
    ct_solver *solver;
    ct_case c;
    ct_case_report report;
    ct_sweep sweep;
    /* What the setup of the case points to. */
    ct_outdoor outdoor;
    ct_coil matched;
} bench;

typedef struct {
    const batch_plan *plan;
    const batch_items *items;
    journal *journal;
    refrigerants shared;
    bench **benches;
    const int *todo;          /* items to be worked */
    pthread_mutex_t progress; /* over the next three */
    int done, wrong, n_todo;
    double shown_at;
} batch;

/* A row (item NULL: the header) in memory, to be freed. NULL: memory, or a number not finite. */
static char *row_text(const batch_item *item, const batch_result *v, bool si, size_t *size)
{
    char *text = NULL;
    csv_writer csv;
    FILE *f = text_stream(&text, size);
    bool good = true;
    if (!f) return NULL;
    csv_begin(&csv, f);
    if (item)
        good = batch_row(&csv, item, v, si);
    else
        batch_row_heading(&csv, si);
    if (fclose(f) == 0 && good) return text;
    free(text);
    return NULL;
}

/* ---- One case -------------------------------------------------------------------- */

static ct_status find_refrigerant(refrigerants *r, const char *name, const ct_refrigerant **out,
                                  ct_fault *fault)
{
    ct_status status = CT_OK;
    int i = 0;
    pthread_mutex_lock(&r->lock);
    while (i < r->n && strcmp(r->row[i].name, name) != 0)
        i++;
    if (i == MAX_REFRIGERANTS) {
        status = ct_fail(fault, CT_SYSTEM, 0, 0, 0, "more refrigerants than expected");
    } else if (i == r->n) {
        status = ct_refrigerant_make(name, &r->row[i].made, fault);
        if (status == CT_OK) {
            snprintf(r->row[i].name, sizeof r->row[i].name, "%s", name);
            r->n++;
        }
    }
    if (status == CT_OK) *out = r->row[i].made;
    pthread_mutex_unlock(&r->lock);
    return status;
}

static void wrong(batch_result *v, const char *outcome, const char *text)
{
    v->outcome = outcome;
    v->n_faults = v->n_faults ? v->n_faults : 1;
    snprintf(v->fault, sizeof v->fault, "%s", text);
}

static const char *outcome_of(ct_status status)
{
    switch (status) {
    case CT_INPUT: return "wrong_input";
    case CT_RANGE: return "outside_model";
    case CT_NO_ROOT:
    case CT_NO_CONV: return "no_balance";
    default: return "system";
    }
}

static bool read_case(const batch *b, int i, bench *w, batch_result *v)
{
    const batch_item *item = &b->items->item[i];
    ct_fault fault;
    if (item->unread) {
        wrong(v, "unread", item->unread);
        return false;
    }
    if (item->wrong) {
        wrong(v, outcome_of(CT_INPUT), item->wrong);
        return false;
    }
    const ct_status status = batch_items_case(b->items, i, &w->c, &w->report, &fault);
    if (status == CT_OK) return true;
    if (status != CT_INPUT) {
        wrong(v, outcome_of(status), fault.what);
        return false;
    }
    const ct_case_fault *f = &w->report.fault[0];
    v->n_faults = w->report.n_faults;
    v->outcome = outcome_of(status);
    char line[24] = "";
    if (f->line > 0) snprintf(line, sizeof line, "line %d: ", f->line);
    snprintf(v->fault, sizeof v->fault, "%s%s%s%s%s%s%s", line, f->key, f->key[0] ? ": " : "",
             f->what, f->given[0] ? " (given: " : "", f->given, f->given[0] ? ")" : "");
    return false;
}

static ct_setup setup_of(bench *w)
{
    return (ct_setup){w->solver, &w->c, &w->outdoor, &w->matched, 0};
}

static ct_status work_out(batch *b, bench *w, ct_sweep_job *job, ct_fault *fault)
{
    const ct_refrigerant *refrigerant;
    ct_calibration calibration;
    ct_ways ways;
    const ct_setup setup = setup_of(w);
    ct_status status = find_refrigerant(&b->shared, w->c.outdoor.refrigerant, &refrigerant, fault);
    if (status == CT_OK)
        status = ct_settle(&w->c, refrigerant, w->solver, &w->report,
                           &(ct_settled){&w->outdoor, &w->matched, &calibration}, fault);
    if (status == CT_OK) status = ct_ways_find(&w->c, &setup, &w->report, &ways, fault);
    if (status == CT_OK) status = ct_sweep_prepare(&setup, job, fault);
    if (status == CT_OK) status = ct_sweep_run(w->solver, job, &w->sweep, fault);
    return status;
}

/* In place on a terminal, at most every few seconds elsewhere. */
static void show_progress(batch *b, bool has_fault)
{
    const bool terminal = isatty(STDERR_FILENO) == 1;
    const double now = clock_seconds();
    pthread_mutex_lock(&b->progress);
    b->done++;
    b->wrong += has_fault;
    if (!b->plan->quiet && (now - b->shown_at > (terminal ? 0.1 : 5.0) || b->done == b->n_todo)) {
        b->shown_at = now;
        fprintf(stderr, "%sbatch: %d of %d cases, %d wrong%s", terminal ? "\r" : "", b->done,
                b->n_todo, b->wrong, terminal && b->done < b->n_todo ? "" : "\n");
    }
    pthread_mutex_unlock(&b->progress);
}

/* The remedies take many times the case's own time, and are run when asked for. */
static ct_status look_further(const batch *b, bench *w, outlook *o, ct_fault *fault)
{
    const ct_setup setup = setup_of(w);
    if (o->pick->found || b->plan->remedies) return outlook_find(&setup, o, fault);
    return CT_OK;
}

static ct_status answer(batch *b, bench *w, ct_sweep_job *job, ct_pick *pick, outlook *o,
                        ct_fault *fault)
{
    const ct_status status = work_out(b, w, job, fault);
    if (status != CT_OK) return status;
    ct_pick_lowest(job, &w->sweep, pick);
    *o = (outlook){.job = job, .sweep = &w->sweep, .pick = pick};
    return look_further(b, w, o, fault);
}

static void work(int k, int worker, void *context)
{
    batch *b = context;
    bench *w = b->benches[worker];
    const batch_item *item = &b->items->item[b->todo[k]];
    batch_result v = {.outcome = "pick"};
    ct_sweep_job job;
    ct_pick pick;
    outlook o;
    ct_fault fault;
    if (read_case(b, b->todo[k], w, &v)) {
        const ct_status status = answer(b, w, &job, &pick, &o, &fault);
        if (status == CT_OK)
            v.outlook = &o;
        else
            wrong(&v, outcome_of(status), fault.what);
        if (status == CT_OK && !pick.found) v.outcome = pick.refused ? "does_not_fit" : "no_pick";
    }
    size_t size;
    char *text = row_text(item, &v, b->plan->si, &size);
    journal_add(b->journal, b->todo[k], text, size);
    show_progress(b, v.outlook == NULL);
}

/* ---- The run --------------------------------------------------------------------- */

static void free_benches(bench **b, int n)
{
    for (int i = 0; b && i < n; i++) {
        if (b[i]) ct_solver_free(b[i]->solver);
        free(b[i]);
    }
    free(b);
}

static bench **make_benches(int n)
{
    bench **b = calloc((size_t)n, sizeof *b);
    for (int i = 0; b && i < n; i++) {
        b[i] = calloc(1, sizeof *b[i]);
        if (b[i] && ct_solver_make(&b[i]->solver, NULL) == CT_OK) continue;
        free_benches(b, n);
        return NULL;
    }
    return b;
}

static int list_todo(const batch_items *items, const journal *j, int *todo)
{
    int n = 0;
    for (int i = 0; i < items->n; i++)
        if (!journal_has(j, i)) todo[n++] = i;
    return n;
}

static exit_code work_all(batch *b, int *todo)
{
    const int workers = ct_parallel_workers(b->plan->threads);
    b->n_todo = list_todo(b->items, b->journal, todo);
    b->todo = todo;
    b->shown_at = clock_seconds();
    if (b->n_todo < b->items->n && !b->plan->quiet)
        fprintf(stderr, "batch: %d of %d cases were done by an earlier run\n",
                b->items->n - b->n_todo, b->items->n);
    b->benches = make_benches(workers);
    if (!b->benches) {
        complain("batch: out of memory");
        return EXIT_SYSTEM;
    }
    pthread_mutex_init(&b->shared.lock, NULL);
    pthread_mutex_init(&b->progress, NULL);
    ct_parallel(workers, b->n_todo, work, b);
    pthread_mutex_destroy(&b->progress);
    pthread_mutex_destroy(&b->shared.lock);
    for (int i = 0; i < b->shared.n; i++)
        ct_refrigerant_free(b->shared.row[i].made);
    free_benches(b->benches, workers);
    return EXIT_DONE;
}

static exit_code conclude(batch *b)
{
    const int wrong_cases = journal_wrong(b->journal);
    const int failed = journal_failed(b->journal);
    const int said_no = journal_said_no(b->journal);
    if (!journal_finish(b->journal)) return EXIT_SYSTEM;
    if (wrong_cases == 0) return verdict_exit_code(EXIT_DONE, said_no == 0);
    complain("%s: %d of %d cases have no answer; the column `fault` says why", b->plan->results,
             wrong_cases, b->items->n);
    if (b->items->table && !b->plan->base && wrong_cases == b->items->n)
        complain("%s: without --base CASE each row must be a whole case; name the case that the "
                 "rows vary",
                 b->plan->source);
    return failed ? EXIT_SYSTEM : EXIT_INPUT;
}

/* The form of the results belongs to the stamp, with the unit system in it, whether remedies were
 * run, and the version: another one may come to other numbers. With the name no two are alike. */
static void complete_stamp(batch_item *item, const batch_plan *plan, const char *heading,
                           size_t size)
{
    static const char version[] = COILTRIM_VERSION;
    item->stamp = batch_items_hash(item->stamp, heading, size);
    item->stamp = batch_items_hash(item->stamp, version, sizeof version);
    item->stamp = batch_items_hash(item->stamp, plan->remedies ? "r" : "", plan->remedies);
    item->stamp = batch_items_hash(item->stamp, item->name, strlen(item->name) + 1);
}

static exit_code run_items(const batch_plan *plan, batch_items *items)
{
    batch b = {.plan = plan, .items = items};
    size_t size;
    char *heading = row_text(NULL, NULL, plan->si, &size);
    int *todo = calloc((size_t)items->n + 1, sizeof *todo);
    exit_code code = EXIT_SYSTEM;
    for (int i = 0; heading && i < items->n; i++)
        complete_stamp(&items->item[i], plan, heading, size);
    if (!heading || !todo)
        complain("batch: out of memory");
    else
        code = journal_open(&b.journal,
                            &(journal_plan){plan->results, heading, plan->part <= 1, plan->fresh},
                            items);
    if (code == EXIT_DONE) {
        code = work_all(&b, todo);
        if (code == EXIT_DONE) code = conclude(&b);
        journal_close(b.journal);
    }
    free(todo);
    free(heading);
    return code;
}

exit_code batch_run(const batch_plan *plan)
{
    batch_items items;
    exit_code code = batch_items_read(plan->source, plan->base, &plan->pairs, &items);
    if (code == EXIT_DONE) {
        if (plan->parts > 0) batch_items_share(&items, plan->part, plan->parts);
        code = run_items(plan, &items);
        batch_items_free(&items);
    }
    inputs_forget();
    return code;
}
