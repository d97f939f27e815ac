#include <stdio.h>
#include <string.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/job.h"
#include "tune/change.h"
#include "tune/text.h"
#include "tune/tuned_case.h"
#include "tune/visit.h"
#include "verbs.h"

enum { OUTPUT, JSON, SI, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [OUTPUT] = {OUTPUT_ROW(
        "FILE", "write the case with what was learned, in a section 'tuned', to this file; "
                "every verb takes it as a case")},
    [JSON] = {JSON_ROW("JSON instead of a report")},
    [SI] = {SI_ROW("metric report; in JSON, SI units")},
};

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

/* Answers with the last of n visits, compared with the first when there are two. */
static exit_code answer(const arguments *args, const job *j, const visit *v, int n)
{
    const option_value *o = args->option;
    const visit *last = &v[n - 1];
    const tune_result before = visit_result(j, v, o[SI].given),
                      r = visit_result(j, last, o[SI].given);
    const exit_code told = visits_exit_code(v, n, verdict_refuses(&r.verdict));
    exit_code code = print(n > 1 ? &before : NULL, &r, o);
    if (code != EXIT_DONE) return code;
    visits_complain(v, n, o[OUTPUT].given ? " or written" : "");
    if (!o[OUTPUT].given || told == EXIT_INPUT) return told;
    code = tuned_case_write(args, j, &last->t, o[OUTPUT].text);
    if (code != EXIT_DONE) return code;
    if (!o[JSON].given && strcmp(o[OUTPUT].text, "-") != 0)
        printf("\nThe case with these corrections is in %s\n", o[OUTPUT].text);
    return told;
}

static exit_code run(const arguments *args)
{
    visit v[2];
    job j;
    if (common_options_streams_clash("tune", args, NULL)) return EXIT_USAGE;
    const int n = args->n_operands - 1;
    exit_code code = EXIT_DONE;
    for (int i = 0; i < n && code == EXIT_DONE; i++)
        code = visit_load(args->operand[1 + i], &v[i]);
    if (code == EXIT_DONE) code = job_open(args, &j);
    if (code != EXIT_DONE) return code;
    for (int i = 0; i < n && code == EXIT_DONE; i++)
        code = visit_tune(&j, &v[i]);
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
    .too_many = "a case, its readings and those of a second visit are all; a pair is KEY=VALUE",
    .options = options,
    .n_options = N_OPTIONS,
    .details = "READINGS is a file of what the instruments showed while the system cooled, any\n"
               "part of return_air, supply_air, outdoor_air, suction, liquid, blower,\n"
               "outdoor_unit ('coiltrim keys --readings' lists all), each value with its unit\n"
               "and, if you like, its uncertainty: 54.2 F +/- 1 F; or a log as a CSV table with\n"
               "the header name,value,unit,time: its longest steady stretch is averaged. One of\n"
               "the files may be -, standard input. The report names what is likely wrong, each\n"
               "cause with its chance, and what looks like it. Corrections of coil, compressor,\n"
               "condenser and airflow are no larger than the readings need; the coil's is\n"
               "left out while the charge is in doubt. With AFTER, the readings of a second\n"
               "visit, it says what changed and whether the fix worked; -o writes the second\n"
               "visit. Readings that cannot all be true are reported, and nothing is fitted:\n"
               "exit code 3. Readings that contradict each other, or one that is likely off,\n"
               "are reported: exit code 11; 10 when the unit does not fit.\n",
    .example =
        "  coiltrim tune examples/r22-larger-coil.yaml examples/readings-r22.yaml -o tuned.yaml\n"
        "  coiltrim sweep tuned.yaml\n",
    .run = run,
};
