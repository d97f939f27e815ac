#include "base/common_options.h"
#include "base/complain.h"
#include "base/faults.h"
#include "base/job.h"
#include "base/progress.h"
#include "base/read_file.h"
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

static exit_code load_readings(const char *path, ct_readings *readings)
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
    const ct_status status = ct_readings_parse(text, size, readings, report, &fault);
    free(text);
    if (status == CT_INPUT)
        complain_faults(path, report);
    else if (status != CT_OK)
        complain("%s: %s", path, fault.what);
    free(report);
    return exit_code_of(status);
}

static exit_code print(const tune_result *r, const option_value *o)
{
    if (o[JSON].given) return tune_json_print(stdout, r, o[SI].given) ? EXIT_DONE : EXIT_SYSTEM;
    tune_text_print(stdout, r, o[SI].given);
    return EXIT_DONE;
}

/* Readings that disagree, or one that is more likely off than not. */
static bool in_doubt(const ct_tune *t)
{
    return !t->agree || (t->explained >= 0 && t->cause[CT_CAUSE_READING] >= CT_TUNE_LIKELY);
}

static exit_code tune(const arguments *args, const job *j, const ct_readings *readings)
{
    const option_value *o = args->option;
    const ct_setup setup = job_setup(j, 0);
    ct_fault fault;
    ct_tune t;
    progress watch;
    progress_begin(&watch, "weighing causes");
    const ct_status status = ct_tune_run(&setup, readings, &t, &fault);
    progress_end(&watch);
    if (status != CT_OK) {
        complain("%s: %s: %s", args->operand[1], ct_status_text(fault.status), fault.what);
        return exit_code_of(fault.status);
    }
    const tune_result r = {.j = j,
                           .verdict = verdict_of(j->c, j->refrigerant, j->sweep.unit, o[SI].given),
                           .t = &t,
                           .tap = readings->tap};
    exit_code code = print(&r, o);
    if (code != EXIT_DONE) return code;
    if (!t.fitted) {
        complain("%s: these readings cannot all be true; nothing was fitted%s", args->operand[1],
                 o[OUTPUT].given ? " or written" : "");
        return EXIT_INPUT;
    }
    if (o[OUTPUT].given) code = tuned_case_write(args, j, &t, o[OUTPUT].text);
    if (code == EXIT_DONE && in_doubt(&t)) code = EXIT_DOUBT;
    return code == EXIT_DONE || code == EXIT_DOUBT
               ? verdict_refuses(&r.verdict) ? EXIT_NO_PICK : code
               : code;
}

static exit_code run(const arguments *args)
{
    ct_readings readings;
    job j;
    exit_code code = load_readings(args->operand[1], &readings);
    if (code == EXIT_DONE) code = job_open(args, &j);
    if (code != EXIT_DONE) return code;
    code = tune(args, &j, &readings);
    job_close(&j);
    return code;
}

const verb verb_tune = {
    .name = "tune",
    .purpose = "After the visit: correct the model from readings.",
    .operands = "CASE READINGS",
    .min_operands = 2,
    .max_operands = 2,
    .takes_case = true,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "READINGS is a file of what the instruments showed on the running system, any\n"
               "part of return_air, supply_air, outdoor_air, suction, liquid, blower,\n"
               "outdoor_unit ('coiltrim keys --readings' lists all), each value with its unit\n"
               "and, if you like, its uncertainty: 54.2 F +/- 1 F. The report names what is\n"
               "likely wrong, each cause with its chance. Multipliers on coil, compressor,\n"
               "condenser and airflow are changed no more than the readings need; the coil's is\n"
               "left out while the charge is wrong. Readings that cannot all be true are\n"
               "reported, and nothing is fitted: exit code 3. Readings that contradict each\n"
               "other, or one that is likely off, are reported: exit code 11; 10 when the unit\n"
               "does not fit.\n",
    .example =
        "  coiltrim tune examples/r22-larger-coil.yaml examples/readings-r22.yaml -o tuned.yaml\n"
        "  coiltrim sweep tuned.yaml\n",
    .run = run,
};
