#include <stdlib.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/out_folder.h"
#include "metering/files.h"
#include "metering/json.h"
#include "metering/text.h"
#include "show/json_out.h"
#include "show/verdict.h"
#include "verbs.h"

enum { UNIT, SUPERHEAT, OUTPUT, FORMAT, NO_RENDER, JSON, SI, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [UNIT] = {UNIT_ROW},
    [SUPERHEAT] = {.name = "superheat",
                   .kind = OPTION_VALUE,
                   .unit = CT_UNIT_DELTA_T,
                   .shows = "DELTA",
                   .help = "superheat to size the piston for; without it the valve's setting, or "
                           "the superheat the outdoor unit was rated at"},
    [OUTPUT] = {OUTPUT_ROW("DIR", "write metering.csv, subcooling.csv, the plot script and its "
                                  "picture to this folder; it is made when missing")},
    [FORMAT] = {FORMAT_ROW("format of the picture")},
    [NO_RENDER] = {NO_RENDER_ROW("write the plot script, but do not run gnuplot")},
    [JSON] = {JSON_ROW("the whole result as JSON on standard output")},
    [SI] = {SI_ROW("metric report; SI units in files and JSON")},
};

static exit_code report(const metering_study *s, const option_value *o)
{
    exit_code code = EXIT_DONE;
    if (o[OUTPUT].text) {
        const out_request to = {o[OUTPUT].text, o[FORMAT].text, o[SI].given, !o[NO_RENDER].given};
        code = metering_files_write(&to, s);
    }
    if (code != EXIT_DONE) return code;
    if (o[JSON].given)
        return print_answer(stdout, metering_json(s, s->metric), 12) ? EXIT_DONE : EXIT_SYSTEM;
    metering_text_print(stdout, s);
    if (o[OUTPUT].text) printf("\nFiles are in %s\n", o[OUTPUT].text);
    return EXIT_DONE;
}

static exit_code study(job *j, const option_value *o)
{
    const int unit = common_options_unit("metering", &o[UNIT], j->c->n_indoor);
    if (unit < 0) return EXIT_USAGE;
    if (o[OUTPUT].given && !out_folder_possible(o[OUTPUT].text)) return EXIT_SYSTEM;
    metering_study *s = calloc(1, sizeof *s);
    if (!s) {
        complain("out of memory for the sweep");
        return EXIT_SYSTEM;
    }
    s->metric = o[SI].given;
    exit_code code = metering_study_run(j, unit, o[SUPERHEAT].given ? o[SUPERHEAT].si : 0, s);
    if (code == EXIT_DONE) code = report(s, o);
    code = verdict_exit_code(code, s->row.pick.found);
    free(s);
    return code;
}

static exit_code check_options(const arguments *args)
{
    const option_value *o = args->option;
    if (o[SUPERHEAT].given && !(o[SUPERHEAT].si > 0 && o[SUPERHEAT].si <= 30)) {
        complain("metering: --superheat: %s given, allowed is above 0 to 54 F (30 K)",
                 o[SUPERHEAT].text);
        return EXIT_USAGE;
    }
    return common_options_folder("metering", &o[OUTPUT], &o[FORMAT], &o[NO_RENDER]);
}

static exit_code run(const arguments *args)
{
    const exit_code code = check_options(args);
    return code == EXIT_DONE ? job_run(args, job_open_outdoor, study) : code;
}

const verb verb_metering = {
    .name = "metering",
    .purpose = "Valve or piston: superheat, bore, charge, hot and mild days.",
    .operands = "CASE",
    .min_operands = 1,
    .max_operands = 1,
    .takes_case = true,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Says whether the valve holds, hunts or starves, or what superheat the piston\n"
               "gives. Gives the bore for the superheat you want, and shows how superheat\n"
               "changes with the charge and with the outdoor temperature, for this device and\n"
               "for the other kind. Exit code 10 when no speed passes or the unit does not fit.\n",
    .example = "  coiltrim metering examples/r410a-humid.yaml --unit B -o out\n",
    .run = run,
};
