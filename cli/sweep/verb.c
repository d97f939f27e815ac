#include <math.h>
#include <stdlib.h>

#include "base/clock.h"
#include "base/common_options.h"
#include "base/complain.h"
#include "base/job.h"
#include "base/out_folder.h"
#include "base/progress.h"
#include "judge/hottest.h"
#include "show/switch_words.h"
#include "sweep/columns.h"
#include "sweep/files.h"
#include "sweep/json.h"
#include "sweep/text.h"
#include "verbs.h"

enum {
    OUTPUT,
    FORMAT,
    NO_RENDER,
    UNCERTAIN,
    JSON,
    SI,
    QUIET,
    FULL,
    ASSUMED,
    REASONS,
    COLUMNS,
    N_OPTIONS
};

static const option_row options[N_OPTIONS] = {
    [OUTPUT] = {OUTPUT_ROW(
        "DIR", "write sweep.csv, taps.csv (heating.csv, low_sweep.csv, low_taps.csv where "
               "they apply), the plot scripts and pictures to this folder; "
               "it is made when missing")},
    [FORMAT] = {FORMAT_ROW("format of the pictures")},
    [NO_RENDER] = {NO_RENDER_ROW("write the plot scripts, but do not run gnuplot")},
    [UNCERTAIN] = {.name = "uncertain",
                   .kind = OPTION_VALUE,
                   .unit = CT_UNIT_NONE,
                   .shows = "N",
                   .help = "draw N cases around this one (section uncertainty) and show how sure "
                           "each answer is; 1000 is a good number"},
    [JSON] = {JSON_ROW("the whole result as JSON on standard output")},
    [SI] = {SI_ROW("metric report; SI units in files and JSON")},
    [QUIET] = {QUIET_ROW("report the pick only")},
    [FULL] = {.name = "full", .kind = OPTION_FLAG, .help = "everything, not just a screenful"},
    [ASSUMED] = {.name = "assumed", .kind = OPTION_FLAG, .help = "list what was assumed"},
    [REASONS] = {.name = "reasons",
                 .kind = OPTION_FLAG,
                 .help = "list it with where each value comes from"},
    [COLUMNS] = {.name = "columns",
                 .kind = OPTION_FLAG,
                 .help = "list the columns of the CSV files and end"},
};

/* The reverse question at the pick, when the case says how the load goes with the weather. */
static ct_status ask_hottest(sweep_result *r, const job *j, ct_fault *fault)
{
    const ct_point *pick = ct_pick_point(r->view.pick, r->view.sweep);
    if (!pick || !j->c->house.T_balance.has) return CT_OK;
    const ct_status status = ct_hottest_day(j->solver, &j->sweep, pick, &r->T_hottest, fault);
    r->has_hottest = status == CT_OK;
    if (!r->has_hottest) snprintf(r->why_no_hottest, sizeof r->why_no_hottest, "%s", fault->what);
    return status;
}

/* Other speeds than the pick. */
static ct_status look_beside(sweep_result *r, const job *j, ct_fault *fault)
{
    const ct_sweep *s = r->view.sweep;
    const ct_pick *k = r->view.pick;
    if (!k->found) return CT_OK;
    ct_beside_pick(r->view.job, s, k, &r->beside);
    if (!j->c->house.T_balance.has || r->beside.reserve == k->index) return CT_OK;
    const ct_status status =
        ct_hottest_day(j->solver, &j->sweep, ct_pick_candidate(k, s, r->beside.reserve),
                       &r->T_hottest_reserve, fault);
    r->has_hottest_reserve = status == CT_OK;
    return status;
}

/* All that is said beside the pick, or instead of it. A question without an answer leaves its line
 * out; memory that fails must not. */
static exit_code look_further(sweep_result *r, const job *j, const option_value *o, ct_fault *fault)
{
    const ct_setup setup = job_setup(j, 0);
    const ct_point *pick = ct_pick_point(r->view.pick, r->view.sweep);
    ct_status status = ask_hottest(r, j, fault);
    /* Shown only then. */
    const bool switches = o[JSON].given || r->full || switches_are_set(j->c);
    if (status != CT_SYSTEM && pick && switches && !j->c->outdoor.low.has)
        r->has_switches =
            complain_had(ct_switches_run(j->solver, &j->sweep, pick, &r->switches, fault));
    if (status != CT_SYSTEM) status = look_beside(r, j, fault);
    r->outlook.job = r->view.job;
    r->outlook.sweep = r->view.sweep;
    r->outlook.pick = r->view.pick;
    r->outlook.drawn = r->uncertain != NULL;
    if (status != CT_SYSTEM) status = outlook_find(&setup, &r->outlook, fault);
    return status == CT_SYSTEM ? complain_fault(fault) : EXIT_DONE;
}

static exit_code write_files(const sweep_result *r, const option_value *o)
{
    const sweep_files files = {.dir = o[OUTPUT].text,
                               .title = r->j->c->job.title,
                               .format = o[FORMAT].text,
                               .si = o[SI].given,
                               .render = !o[NO_RENDER].given,
                               .uncertain = r->uncertain,
                               .low = r->low};
    return o[OUTPUT].text ? sweep_files_write(&files, &r->view) : EXIT_DONE;
}

static exit_code report(const sweep_result *r, const option_value *o)
{
    if (o[JSON].given) return sweep_json_print(stdout, r);
    sweep_text_print(stdout, r);
    if (o[OUTPUT].text && !o[QUIET].given) printf("\nFiles are in %s\n", o[OUTPUT].text);
    return EXIT_DONE;
}

/* Fills view->u, to be freed by the caller. */
static exit_code draw_cases(const job *j, const ct_sweep *s, double samples, uncertain_view *view)
{
    const ct_setup setup = job_setup(j, 0);
    ct_fault fault;
    ct_uncertain *u = malloc(sizeof *u);
    const double start = clock_seconds();
    const ct_uncertain_plan plan = {.samples = (int)samples};
    *view = (uncertain_view){.job = &j->sweep, .sweep = s, .u = u};
    if (!u) {
        complain("out of memory for the draws");
        return EXIT_SYSTEM;
    }
    progress watch;
    progress_begin(&watch, "drawing cases");
    const ct_status status = ct_uncertain_run(&setup, s, &plan, u, &fault);
    progress_end(&watch);
    if (status != CT_OK) return complain_fault(&fault);
    view->seconds = clock_seconds() - start;
    return EXIT_DONE;
}

/* The sweep of the low stage. */
typedef struct {
    ct_sweep_job job;
    ct_sweep sweep;
    ct_pick pick;
    sweep_view view;
} low_sweep;

/* *low NULL: one stage, or not shown. To be freed by the caller. */
static exit_code sweep_low(const job *j, const option_value *o, low_sweep **low)
{
    ct_fault fault;
    *low = NULL;
    if (!j->c->outdoor.low.has) return EXIT_DONE;
    if (!o[FULL].given && !o[JSON].given && !o[OUTPUT].given) return EXIT_DONE;
    *low = calloc(1, sizeof **low);
    if (!*low) {
        complain("out of memory for the sweep");
        return EXIT_SYSTEM;
    }
    low_sweep *l = *low;
    ct_sweep_low_job(&j->sweep, &l->job);
    if (ct_sweep_run(j->solver, &l->job, &l->sweep, &fault) != CT_OK) return complain_fault(&fault);
    ct_pick_driest(&l->job, &l->sweep, &l->pick);
    l->view = (sweep_view){&l->job, &l->sweep, &l->pick};
    return EXIT_DONE;
}

/* All that is worked out. Large and mostly unused, so it is not on the stack: of memory that comes
 * cleared from the system only what is written to costs anything. */
typedef struct {
    ct_sweep sweep;
    ct_pick pick;
    uncertain_view uncertain;
    sweep_result result;
} answers;

static void begin_result(const job *j, const option_value *o, answers *a)
{
    sweep_result *r = &a->result;
    r->j = j;
    r->view = (sweep_view){&j->sweep, &a->sweep, &a->pick};
    r->verdict = verdict_of(j->c, j->refrigerant, j->sweep.unit, o[SI].given);
    r->uncertain = a->uncertain.u ? &a->uncertain : NULL;
    r->metric = o[SI].given;
    r->quiet = o[QUIET].given;
    r->full = o[FULL].given;
    r->assumed = o[ASSUMED].given;
    r->reasons = o[REASONS].given;
}

static exit_code sweep(job *j, answers *a, const option_value *o)
{
    ct_fault fault;
    sweep_result *r = &a->result;
    if (o[OUTPUT].given && !out_folder_possible(o[OUTPUT].text)) return EXIT_SYSTEM;
    if (ct_sweep_run(j->solver, &j->sweep, &a->sweep, &fault) != CT_OK)
        return complain_fault(&fault);
    ct_pick_lowest(&j->sweep, &a->sweep, &a->pick);
    if (o[UNCERTAIN].given && !a->pick.refused) {
        const exit_code drawn = draw_cases(j, &a->sweep, o[UNCERTAIN].si, &a->uncertain);
        if (drawn != EXIT_DONE) return drawn;
    }
    begin_result(j, o, a);
    const exit_code looked = look_further(r, j, o, &fault);
    if (looked != EXIT_DONE) return looked;
    low_sweep *low;
    exit_code told = sweep_low(j, o, &low);
    if (low) r->low = &low->view;
    if (told == EXIT_DONE) told = write_files(r, o);
    if (told == EXIT_DONE) told = report(r, o);
    free(low);
    return verdict_exit_code(told, a->pick.found);
}

static exit_code check_options(const arguments *args)
{
    const option_value *o = args->option;
    if (args->n_operands == 0 && args->n_pairs == 0) {
        operands_missing(&verb_sweep, 0);
        return EXIT_USAGE;
    }
    const double n = o[UNCERTAIN].si;
    if (o[UNCERTAIN].given && !(n >= 1 && n <= CT_UNCERTAIN_SAMPLES_MAX && floor(n) == n)) {
        complain("sweep: --uncertain: '%s' given, allowed is a whole number from 1 to %d",
                 o[UNCERTAIN].text, CT_UNCERTAIN_SAMPLES_MAX);
        return EXIT_USAGE;
    }
    return common_options_folder("sweep", &o[OUTPUT], &o[FORMAT], &o[NO_RENDER]);
}

static exit_code whole(job *j, const option_value *o)
{
    answers *a = calloc(1, sizeof *a);
    if (!a) {
        complain("out of memory for the sweep");
        return EXIT_SYSTEM;
    }
    const exit_code code = sweep(j, a, o);
    free(a->uncertain.u);
    free(a);
    return code;
}

static exit_code run(const arguments *args)
{
    if (args->option[COLUMNS].given) {
        sweep_columns_print(stdout);
        uncertain_columns_print(stdout);
        return EXIT_DONE;
    }
    const exit_code code = check_options(args);
    return code == EXIT_DONE ? job_run(args, job_open, whole) : code;
}

const verb verb_sweep = {
    .name = "sweep",
    .purpose = "Check every airflow and blower speed of a case and pick one.",
    .operands = "CASE",
    .min_operands = 0,
    .max_operands = 1,
    .takes_case = true,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Sizes the outdoor unit from its nameplate, balances it with the indoor coil at\n"
               "each airflow and at each real blower speed, and picks the lowest speed that\n"
               "carries the sensible load and passes every limit. Exit code 10 when none does or\n"
               "the unit does not fit.\n",
    .example = "  coiltrim sweep examples/r22-larger-coil.yaml -o out\n"
               "  coiltrim sweep examples/r22-larger-coil.yaml --uncertain 1000\n",
    .run = run,
};
