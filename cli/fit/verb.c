#include "base/common_options.h"
#include "base/complain.h"
#include "base/faults.h"
#include "base/job.h"
#include "base/write_file.h"
#include "fit/json.h"
#include "fit/text.h"
#include "verbs.h"

enum { SI, JSON, OUTPUT, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [SI] = {SI_ROW("millimeters; SI units in JSON")},
    [JSON] = {JSON_ROW("JSON instead of a list")},
    [OUTPUT] = {OUTPUT_FILE_ROW},
};

static exit_code write_answers(const ct_case *c, const fit_answer *a, const verdict *v,
                               const option_value *o)
{
    const char *path = o[OUTPUT].text;
    const bool metric = o[SI].given;
    write_file file = {.stream = stdout};
    if (path && !write_file_open(&file, path)) return EXIT_SYSTEM;
    const bool good = o[JSON].given ? fit_json_print(file.stream, c, a, v, metric)
                                    : fit_text_print(file.stream, c, a, v, metric);
    if (!path) return good ? EXIT_DONE : EXIT_SYSTEM;
    if (good) return write_file_close(&file) ? EXIT_DONE : EXIT_SYSTEM;
    write_file_drop(&file);
    return EXIT_SYSTEM;
}

/* Not one unit judged is no answer, so a script must not take it for "fits". */
static exit_code code_of(const ct_case *c, const fit_answer *a, const verdict *v, const char *path)
{
    bool judged = false, refused = false;
    for (int i = 0; i < c->n_indoor; i++) {
        judged = judged || a[i].judged;
        refused =
            refused || verdict_refuses(&v[i]) || (a[i].judged && a[i].report.verdict == CT_FIT_NO);
    }
    if (refused) return EXIT_NO_PICK;
    if (judged) return EXIT_DONE;
    complain("%s: nothing to check; add a cabinet, and way_in or space", path);
    return EXIT_INPUT;
}

static exit_code judge(job *j, const option_value *o)
{
    fit_answer answers[CT_MAX_INDOOR];
    verdict may[CT_MAX_INDOOR];
    ct_fault fault;
    if (ct_refrigerant_make(j->c->outdoor.refrigerant, &j->refrigerant, &fault) != CT_OK)
        return faults_complain_key(j->path, "outdoor.refrigerant", &fault);
    for (int i = 0; i < j->c->n_indoor; i++) {
        if (fit_judge(j->c, i, &answers[i], &fault) != CT_OK) return complain_fault(&fault);
        may[i] = verdict_of(j->c, j->refrigerant, &j->c->indoor[i], o[SI].given);
    }
    const exit_code code = write_answers(j->c, answers, may, o);
    return code == EXIT_DONE ? code_of(j->c, answers, may, j->path) : code;
}

static exit_code run(const arguments *args)
{
    return job_run(args, job_open_case, judge);
}

const verb verb_fit = {
    .name = "fit",
    .purpose = "Does the cabinet go in and fit, with room for service?",
    .operands = "CASE",
    .min_operands = 1,
    .max_operands = 1,
    .takes_case = true,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Tries every indoor unit of the case (indoor and candidates) at every narrow\n"
               "place of way_in in every position, in one piece and in sections, and in the\n"
               "space where it is installed. Shows which keys to add when sizes are missing.\n"
               "Exit code 10 when a unit does not fit or must not be installed; 3 when nothing\n"
               "could be checked. A problem only with filter, condensate or service is marked in\n"
               "the list and leaves the exit code at 0.\n",
    .example = "  coiltrim fit examples/r22-larger-coil.yaml\n",
    .run = run,
};
