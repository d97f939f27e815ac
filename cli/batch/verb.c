#include <math.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/parallel.h"
#include "batch/run.h"
#include "verbs.h"

enum { OUTPUT, BASE, JOBS, FRESH, SI, QUIET, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [OUTPUT] = {.name = "output",
                .letter = 'o',
                .kind = OPTION_TEXT,
                .required = true,
                .shows = "FILE",
                .help = "write the results to this CSV file, a row for each case"},
    [BASE] = {.name = "base",
              .kind = OPTION_TEXT,
              .shows = "CASE",
              .help = "case file that holds what the rows of the table have in common"},
    [JOBS] = {.name = "jobs",
              .letter = 'j',
              .kind = OPTION_VALUE,
              .unit = CT_UNIT_NONE,
              .shows = "N",
              .help = "cases worked on at once, instead of one per core"},
    [FRESH] = {.name = "fresh",
               .kind = OPTION_FLAG,
               .help = "work every case out anew, whatever an earlier run left"},
    [SI] = {SI_ROW("SI units in the results")},
    [QUIET] = {QUIET_ROW("no progress")},
};

static exit_code run(const arguments *args)
{
    const option_value *o = args->option;
    const double n = o[JOBS].given ? o[JOBS].si : 0;
    if (o[JOBS].given && !(n >= 1 && n <= CT_MAX_WORKERS && floor(n) == n)) {
        complain("batch: --jobs: '%s' given; a whole number from 1 to %d belongs here",
                 o[JOBS].text, CT_MAX_WORKERS);
        return EXIT_USAGE;
    }
    if (!o[OUTPUT].text[0]) {
        complain("batch: --output: the file has no name");
        return EXIT_USAGE;
    }
    const batch_plan plan = {.source = args->operand[0],
                             .base = o[BASE].text,
                             .results = o[OUTPUT].text,
                             .threads = (int)n,
                             .si = o[SI].given,
                             .fresh = o[FRESH].given,
                             .quiet = o[QUIET].given};
    return batch_run(&plan);
}

const verb verb_batch = {
    .name = "batch",
    .purpose = "The pick of many cases over all cores, a row for each.",
    .operands = "DIR|TABLE.csv",
    .min_operands = 1,
    .max_operands = 1,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Takes the case files (*.yaml, *.yml) of a folder, or a CSV table whose first\n"
               "row holds case keys such as outdoor.rated_capacity and indoor.coil.size\n"
               "('coiltrim keys' lists them), each further row the values of one case. An empty\n"
               "cell leaves what the base case has, a dash takes the key out; a column called\n"
               "case names the rows. A run that was stopped goes on where it was. A wrong case\n"
               "has a row that says what is wrong; exit code 3 then. A case without a pick is\n"
               "an answer like another.\n",
    .example =
        "  coiltrim batch examples/jobs.csv --base examples/r22-larger-coil.yaml -o results.csv\n",
    .run = run,
};
