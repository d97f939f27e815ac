#include <stdlib.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/out_folder.h"
#include "season/files.h"
#include "season/json.h"
#include "season/text.h"
#include "verbs.h"

enum { WEATHER, UNIT, OUTPUT, FORMAT, NO_RENDER, JSON, SI, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [WEATHER] = {.name = "weather",
                 .letter = 'w',
                 .kind = OPTION_TEXT,
                 .shows = "FILE",
                 .help = "hourly weather, EPW or CSV, or a CSV table of temperature bins; without "
                         "it the bins of the rating procedure"},
    [UNIT] = {UNIT_ROW},
    [OUTPUT] = {OUTPUT_ROW("DIR", "write season.csv, season_hours.csv, season_duration.csv, the "
                                  "plot script and its picture to this folder; it is made when "
                                  "missing")},
    [FORMAT] = {FORMAT_ROW("format of the picture")},
    [NO_RENDER] = {NO_RENDER_ROW("write the plot script, but do not run gnuplot")},
    [JSON] = {JSON_ROW("the whole result as JSON on standard output")},
    [SI] = {SI_ROW("metric report; SI units in files and JSON")},
};

static exit_code report(const season_result *r, const option_value *o)
{
    exit_code code = EXIT_DONE;
    if (o[OUTPUT].text) {
        const out_request to = {o[OUTPUT].text, o[FORMAT].text, o[SI].given, !o[NO_RENDER].given};
        code = season_files_write(&to, r);
    }
    if (code != EXIT_DONE) return code;
    if (o[JSON].given) return season_json_print(r);
    season_text_print(r);
    if (o[OUTPUT].text) printf("\nFiles are in %s\n", o[OUTPUT].text);
    return EXIT_DONE;
}

static exit_code season(job *j, const option_value *o)
{
    const int unit = common_options_unit("season", &o[UNIT], j->c->n_indoor);
    if (unit < 0) return EXIT_USAGE;
    if (o[OUTPUT].given && !out_folder_possible(o[OUTPUT].text)) return EXIT_SYSTEM;
    season_result *r = calloc(1, sizeof *r);
    if (!r) {
        complain("out of memory for the season");
        return EXIT_SYSTEM;
    }
    r->unit = unit;
    r->si = o[SI].given;
    r->path = o[WEATHER].text;
    exit_code code = job_join(j, unit, &r->sweep);
    if (code == EXIT_DONE) code = season_work_out(j, r);
    if (code == EXIT_DONE) code = report(r, o);
    code = verdict_exit_code(code, r->pick.found);
    season_free(r);
    free(r);
    return code;
}

static exit_code run(const arguments *args)
{
    const exit_code code = common_options_folder("season", &args->option[OUTPUT],
                                                 &args->option[FORMAT], &args->option[NO_RENDER]);
    if (code != EXIT_DONE) return code;
    if (common_options_streams_clash("season", args, &args->option[WEATHER])) return EXIT_USAGE;
    return job_run(args, job_open_outdoor, season);
}

const verb verb_season = {
    .name = "season",
    .purpose = "Humidity, run hours and cost of each speed over a season.",
    .operands = "CASE",
    .min_operands = 1,
    .max_operands = 1,
    .takes_case = true,
    .too_many = "a weather file goes behind --weather; a pair is KEY=VALUE",
    .options = options,
    .n_options = N_OPTIONS,
    .details = "For each speed how many hours the house is above 50, 55, 60 and 65% relative\n"
               "humidity, how long it runs, what it uses and costs (season.price), and in how\n"
               "many hours it does not carry the load. Outdoors are the bins of the rating\n"
               "procedure, bins of your own, or an hourly weather file; the house then holds\n"
               "water from one hour to the next. Exit code 10 when no speed passes or the unit\n"
               "does not fit.\n",
    .example = "  coiltrim season examples/r410a-humid.yaml season.price=0.15\n"
               "  coiltrim season examples/r410a-humid.yaml --weather examples/weather-summer.csv "
               "-o out\n",
    .run = run,
};
