#include <stdlib.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/job.h"
#include "base/progress.h"
#include "verbs.h"
#include "whatif/json.h"
#include "whatif/text.h"

enum { JSON, SI, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [JSON] = {JSON_ROW("JSON instead of tables")},
    [SI] = {SI_ROW("metric tables; SI units in JSON")},
};

/* The long part, with a word on a terminal. */
static ct_status work_out(const job *j, ct_sweep *s, ct_whatif *w, ct_fault *fault)
{
    const ct_setup setup = job_setup(j, 0);
    progress watch;
    progress_begin(&watch, "looking at each input");
    ct_status status = ct_sweep_run(j->solver, &j->sweep, s, fault);
    if (status == CT_OK) status = ct_whatif_run(&setup, s, w, fault);
    progress_end(&watch);
    return status;
}

static exit_code report(job *j, ct_sweep *s, ct_reach *reach, bool json, bool si)
{
    const ct_setup setup = job_setup(j, 0);
    ct_fault fault;
    ct_whatif w;
    ct_pick pick;
    if (work_out(j, s, &w, &fault) != CT_OK) return complain_fault(&fault);
    ct_pick_lowest(&j->sweep, s, &pick);
    whatif_result r = {.j = j,
                       .sweep = s,
                       .w = &w,
                       .reach = reach,
                       .verdict = verdict_of(j->c, j->refrigerant, j->sweep.unit, si),
                       .outlook = {.job = &j->sweep, .sweep = s, .pick = &pick},
                       .si = si};
    if (outlook_find(&setup, &r.outlook, &fault) != CT_OK) return complain_fault(&fault);
    for (int i = 0; i < whatif_n_speeds(&r); i++) {
        ct_whatif_reach(j->solver, &j->sweep, whatif_speed(&r, i), &reach[i]);
        complain_had(reach[i].hot_status);
    }
    exit_code code = EXIT_DONE;
    if (json)
        code = whatif_json_print(&r);
    else
        whatif_text_print(&r);
    return verdict_exit_code(code, w.pick >= 0);
}

static exit_code whatif(job *j, const option_value *o)
{
    ct_sweep *s = calloc(1, sizeof *s);
    ct_reach *reach = calloc(CT_MAX_SWEEP_POINTS, sizeof *reach);
    exit_code code = EXIT_SYSTEM;
    if (s && reach)
        code = report(j, s, reach, o[JSON].given, o[SI].given);
    else
        complain("out of memory for the sweep");
    free(reach);
    free(s);
    return code;
}

static exit_code run(const arguments *args)
{
    return job_run(args, job_open, whatif);
}

const verb verb_whatif = {
    .name = "whatif",
    .purpose = "The largest load of each speed, and what would change the pick.",
    .operands = "CASE",
    .min_operands = 1,
    .max_operands = 1,
    .takes_case = true,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "For each speed the largest load it carries on the design day, and the hottest\n"
               "day on which it carries that day's load. For each uncertain input (section\n"
               "uncertainty of the case) the change that makes another speed the pick:\n"
               "the first line is the one to measure again. Exit code 10 when no speed passes\n"
               "or the unit does not fit.\n",
    .example = "  coiltrim whatif examples/r22-larger-coil.yaml\n",
    .run = run,
};
