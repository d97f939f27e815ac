#include <stdlib.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/out_folder.h"
#include "compare/files.h"
#include "compare/text.h"
#include "show/json_out.h"
#include "verbs.h"

enum { OUTPUT, FORMAT, NO_RENDER, JSON, SI, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [OUTPUT] = {OUTPUT_ROW(
        "DIR", "write compare.csv, compare_curves.csv, the plot script and its picture to "
               "this folder; it is made when missing")},
    [FORMAT] = {FORMAT_ROW("format of the picture")},
    [NO_RENDER] = {NO_RENDER_ROW("write the plot script, but do not run gnuplot")},
    [JSON] = {JSON_ROW("the whole result as JSON on standard output")},
    [SI] = {SI_ROW("metric report; SI units in files and JSON")},
};

/* The matched pair at every airflow, for the curves. */
static exit_code sweep_matched(comparison *k)
{
    const job *j = k->j;
    const ct_setup setup = job_setup(j, 0);
    ct_fault fault;
    ct_indoor_unit unit;
    ct_sweep_job sweep;
    k->matched_sweep = calloc(1, sizeof *k->matched_sweep);
    if (!k->matched_sweep) {
        complain("out of memory for the sweep");
        return EXIT_SYSTEM;
    }
    if (ct_compare_matched(&setup, &k->matched, &fault) != CT_OK ||
        ct_compare_matched_job(&setup, &unit, &sweep, &fault) != CT_OK ||
        ct_sweep_run(j->solver, &sweep, k->matched_sweep, &fault) != CT_OK)
        return complain_fault(&fault);
    return EXIT_DONE;
}

static exit_code look_further(compare_unit *u, const ct_setup *setup)
{
    ct_fault fault;
    ct_status status = ct_sweep_prepare(setup, &u->job, &fault);
    u->outlook = (outlook){.job = &u->job, .sweep = u->sweep, .pick = &u->row.pick};
    if (status == CT_OK) status = outlook_find(setup, &u->outlook, &fault);
    return status == CT_OK ? EXIT_DONE : complain_fault(&fault);
}

/* A unit that cannot be calculated is left out; the others are compared. */
static exit_code take_unit(comparison *k, int i)
{
    const job *j = k->j;
    const ct_setup setup = job_setup(j, i);
    compare_unit *u = &k->unit[i];
    ct_fault fault = {.what = ""};
    u->sweep = calloc(1, sizeof *u->sweep);
    if (!u->sweep) {
        complain("out of memory for the sweep");
        return EXIT_SYSTEM;
    }
    u->verdict = verdict_of(j->c, j->refrigerant, &j->c->indoor[i], k->metric);
    u->good = ct_compare_unit(&setup, u->sweep, &u->row, &fault) == CT_OK;
    if (u->good) return look_further(u, &setup);
    snprintf(u->why, sizeof u->why, "%s", fault.what);
    return EXIT_DONE;
}

static exit_code work_out(comparison *k)
{
    exit_code code = sweep_matched(k);
    for (int i = 0; code == EXIT_DONE && i < k->n; i++)
        code = take_unit(k, i);
    return code;
}

static exit_code report(const comparison *k, const option_value *o)
{
    exit_code code = EXIT_DONE;
    if (o[OUTPUT].text) {
        const out_request to = {o[OUTPUT].text, o[FORMAT].text, o[SI].given, !o[NO_RENDER].given};
        code = compare_files_write(&to, k);
    }
    if (code != EXIT_DONE) return code;
    if (o[JSON].given)
        return print_answer(stdout, compare_json(k, k->metric), 12) ? EXIT_DONE : EXIT_SYSTEM;
    compare_text_print(stdout, k);
    if (o[OUTPUT].text) printf("\nFiles are in %s\n", o[OUTPUT].text);
    return EXIT_DONE;
}

static bool one_passes(const comparison *k)
{
    for (int i = 0; i < k->n; i++)
        if (compare_unit_passes(&k->unit[i])) return true;
    return false;
}

static exit_code compare(job *j, const option_value *o)
{
    if (o[OUTPUT].given && !out_folder_possible(o[OUTPUT].text)) return EXIT_SYSTEM;
    comparison k = {.j = j, .n = j->c->n_indoor, .metric = o[SI].given};
    exit_code code = work_out(&k);
    if (code == EXIT_DONE) code = report(&k, o);
    if (code == EXIT_DONE) code = verdict_exit_code(code, one_passes(&k));
    for (int i = 0; i < k.n; i++)
        free(k.unit[i].sweep);
    free(k.matched_sweep);
    return code;
}

static exit_code run(const arguments *args)
{
    const option_value *o = args->option;
    const exit_code code = common_options_folder("compare", &o[OUTPUT], &o[FORMAT], &o[NO_RENDER]);
    return code == EXIT_DONE ? job_run(args, job_open_outdoor, compare) : code;
}

const verb verb_compare = {
    .name = "compare",
    .purpose = "The indoor units of a case side by side on its outdoor unit.",
    .operands = "CASE",
    .min_operands = 1,
    .max_operands = 1,
    .takes_case = true,
    .too_many = "the units to compare go into one case, under candidates:; a pair is KEY=VALUE",
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Compares the indoor unit, each of the candidates and the pair the outdoor unit\n"
               "was rated as: capacity, humidity of the house, efficiency and cost. First each\n"
               "at its own pick, with what it gives up. Then all at the rated airflow, where\n"
               "only the coil differs. Exit code 10 when no unit has a speed that passes.\n",
    .example = "  coiltrim compare examples/r410a-humid.yaml -o out\n",
    .run = run,
};
