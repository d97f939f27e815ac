#include "base/common_options.h"
#include "base/complain.h"
#include "base/faults.h"
#include "base/job.h"
#include "base/progress.h"
#include "base/read_file.h"
#include "tune/change.h"
#include "tune/text.h"
#include "tune/tuned_case.h"
#include "verbs.h"

#include <stdlib.h>
#include <string.h>

enum { OUTPUT, JSON, SI, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [OUTPUT] = {OUTPUT_ROW(
        "FILE", "write the case with what was learned, in a section 'tuned', to this file; "
                "every verb takes it as a case")},
    [JSON] = {JSON_ROW("JSON instead of a report")},
    [SI] = {SI_ROW("metric report; in JSON, SI units")},
};

/* What the instruments said. */
typedef struct {
    const char *path;
    ct_readings readings;
    bool is_log;
    ct_gauge_log log;
    ct_tune t;
} visit;

static exit_code load_visit(const char *path, visit *v)
{
    ct_fault fault;
    ct_case_report *report = malloc(sizeof *report);
    if (!report) {
        complain("%s: out of memory", path);
        return EXIT_SYSTEM;
    }
    size_t size;
    char *text = read_file_or_pipe(path, READ_FILE_CASE, &size);
    if (is_standard_stream(path)) path = "standard input";
    if (!text) {
        complain("%s: cannot read '%.80s': %s", path, path, read_file_reason());
        free(report);
        return EXIT_SYSTEM;
    }
    *v = (visit){.path = path, .is_log = ct_gauge_log_is(text, size)};
    const ct_status status =
        v->is_log ? ct_gauge_log_parse(text, size, &v->readings, &v->log, report, &fault)
                  : ct_readings_parse(text, size, &v->readings, report, &fault);
    free(text);
    if (status == CT_INPUT)
        complain_faults(path, report);
    else if (status != CT_OK)
        complain("%s: %s", path, fault.what);
    free(report);
    return exit_code_of(status);
}

static exit_code print(const tune_result *before, const tune_result *r, const option_value *o)
{
    if (o[JSON].given)
        return tune_json_print(stdout, before, r, o[SI].given) ? EXIT_DONE : EXIT_SYSTEM;
    if (before)
        tune_change_print(stdout, before, r, o[SI].given);
    else
        tune_text_print(stdout, r, o[SI].given);
    return EXIT_DONE;
}

/* Readings that disagree, or one that is more likely off than not. */
static bool in_doubt(const ct_tune *t)
{
    return !t->agree || (t->explained >= 0 && t->cause[CT_CAUSE_READING] >= CT_TUNE_LIKELY);
}

static exit_code tune(const job *j, visit *v)
{
    const ct_setup setup = job_setup(j, 0);
    ct_fault fault;
    progress watch;
    progress_begin(&watch, "weighing causes");
    const ct_status status = ct_tune_run(&setup, &v->readings, &v->t, &fault);
    progress_end(&watch);
    if (status == CT_OK) return EXIT_DONE;
    complain("%s: %s: %s", v->path, ct_status_text(fault.status), fault.what);
    return exit_code_of(fault.status);
}

static tune_result result_of(const job *j, const visit *v, bool metric)
{
    return (tune_result){.j = j,
                         .verdict = verdict_of(j->c, j->refrigerant, j->sweep.unit, metric),
                         .t = &v->t,
                         .tap = v->readings.tap,
                         .log = v->is_log ? &v->log : NULL};
}

/* Answers with the last of n visits, held against the first when there are two. */
static exit_code answer(const arguments *args, const job *j, const visit *v, int n)
{
    const option_value *o = args->option;
    const visit *last = &v[n - 1];
    const tune_result before = result_of(j, v, o[SI].given), r = result_of(j, last, o[SI].given);
    exit_code code = print(n > 1 ? &before : NULL, &r, o);
    if (code != EXIT_DONE) return code;
    for (int i = 0; i < n; i++)
        if (!v[i].t.fitted) {
            complain("%s: these readings cannot all be true; nothing was fitted%s", v[i].path,
                     o[OUTPUT].given ? " or written" : "");
            return EXIT_INPUT;
        }
    if (o[OUTPUT].given) code = tuned_case_write(args, j, &last->t, o[OUTPUT].text);
    if (code == EXIT_DONE && (in_doubt(&v[0].t) || in_doubt(&last->t))) code = EXIT_DOUBT;
    return code == EXIT_DONE || code == EXIT_DOUBT
               ? verdict_refuses(&r.verdict) ? EXIT_NO_PICK : code
               : code;
}

static exit_code run(const arguments *args)
{
    visit v[2];
    job j;
    const int n = args->n_operands - 1;
    exit_code code = EXIT_DONE;
    for (int i = 0; i < n && code == EXIT_DONE; i++)
        code = load_visit(args->operand[1 + i], &v[i]);
    if (code == EXIT_DONE) code = job_open(args, &j);
    if (code != EXIT_DONE) return code;
    for (int i = 0; i < n && code == EXIT_DONE; i++)
        code = tune(&j, &v[i]);
    if (code == EXIT_DONE) code = answer(args, &j, v, n);
    job_close(&j);
    return code;
}

const verb verb_tune = {
    .name = "tune",
    .purpose = "After the visit: correct the model from readings.",
    .operands = "CASE READINGS [AFTER]",
    .min_operands = 2,
    .max_operands = 3,
    .takes_case = true,
    .options = options,
    .n_options = N_OPTIONS,
    .details =
        "READINGS is a file of what the instruments showed on the running system, any\n"
        "part of return_air, supply_air, outdoor_air, suction, liquid, blower,\n"
        "outdoor_unit ('coiltrim keys --readings' lists all), each value with its unit\n"
        "and, if you like, its uncertainty: 54.2 F +/- 1 F; or a log as a CSV table with\n"
        "the header name,value,unit,time: its longest steady stretch is averaged. The report names "
        "what is\n"
        "likely wrong, each cause with its chance. Multipliers on coil, compressor,\n"
        "condenser and airflow are changed no more than the readings need; the coil's is\n"
        "left out while the charge is wrong. With AFTER, the readings of a second visit, it\n"
        "says what changed and whether the fix worked; -o writes the second visit. Readings that "
        "cannot all be true are\n"
        "reported, and nothing is fitted: exit code 3. Readings that contradict each\n"
        "other, or one that is likely off, are reported: exit code 11; 10 when the unit\n"
        "does not fit.\n",
    .example =
        "  coiltrim tune examples/r22-larger-coil.yaml examples/readings-r22.yaml -o tuned.yaml\n"
        "  coiltrim sweep tuned.yaml\n",
    .run = run,
};
