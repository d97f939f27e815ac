#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/parallel.h"
#include "batch/run.h"
#include "verbs.h"

enum { OUTPUT, BASE, JOBS, PART, REMEDIES, FRESH, SI, QUIET, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [OUTPUT] = {.name = "output",
                .letter = 'o',
                .kind = OPTION_TEXT,
                .required = true,
                .shows = "FILE",
                .help = "write the results to this CSV file, a row for each case; - is standard "
                        "output"},
    [BASE] = {.name = "base",
              .kind = OPTION_TEXT,
              .shows = "CASE",
              .help = "case file with what the rows of the table have in common"},
    [JOBS] = {.name = "jobs",
              .letter = 'j',
              .kind = OPTION_VALUE,
              .unit = CT_UNIT_NONE,
              .shows = "N",
              .help = "cases computed at the same time (otherwise one per core)"},
    [REMEDIES] = {.name = "remedies",
                  .kind = OPTION_FLAG,
                  .help = "for each case in which no speed passes, run what would fix it; such a "
                          "case takes many times longer"},
    [PART] = {.name = "part",
              .kind = OPTION_TEXT,
              .shows = "K/N",
              .help = "only the K-th of N shares of the cases, for N machines; the first share has "
                      "the header, so that cat joins them"},
    [FRESH] = {.name = "fresh",
               .kind = OPTION_FLAG,
               .help = "compute every case again, even those of an earlier run"},
    [SI] = {SI_ROW("SI units in the results")},
    [QUIET] = {QUIET_ROW("no progress")},
};

enum { MOST_PARTS = 1000000 };

/* "3/16". */
static bool read_part(const char *text, int *part, int *parts)
{
    int end = 0;
    *part = *parts = 0;
    if (!text) return true;
    const bool digits = strspn(text, "0123456789/") == strlen(text) && strlen(text) < 16;
    /* At most seven digits: no number is too large for an int. NOLINTNEXTLINE(cert-err34-c) */
    if (digits && sscanf(text, "%7d/%7d%n", part, parts, &end) == 2 && !text[end] && *part >= 1 &&
        *part <= *parts && *parts <= MOST_PARTS)
        return true;
    complain("batch: --part: '%s' given, allowed is a share of so many, 1/16 to 16/16", text);
    return false;
}

static exit_code run(const arguments *args)
{
    const option_value *o = args->option;
    ct_override pairs[MAX_PAIRS];
    int part, parts;
    const double n = o[JOBS].given ? o[JOBS].si : 0;
    if (o[JOBS].given && !(n >= 1 && n <= CT_MAX_WORKERS && floor(n) == n)) {
        complain("batch: --jobs: '%s' given, allowed is a whole number from 1 to %d", o[JOBS].text,
                 CT_MAX_WORKERS);
        return EXIT_USAGE;
    }
    if (!o[OUTPUT].text[0]) {
        complain("batch: --output: the file has no name");
        return EXIT_USAGE;
    }
    if (!read_part(o[PART].text, &part, &parts)) return EXIT_USAGE;
    for (int i = 0; i < args->n_pairs; i++)
        pairs[i] = (ct_override){args->pair[i].key, args->pair[i].text, CT_LINE_OF_PAIR};
    const batch_plan plan = {.source = args->operand[0],
                             .base = o[BASE].text,
                             .results = o[OUTPUT].text,
                             .pairs = {pairs, args->n_pairs},
                             .part = part,
                             .parts = parts,
                             .threads = (int)n,
                             .si = o[SI].given,
                             .remedies = o[REMEDIES].given,
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
    .takes_pairs = true,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Takes the case files (*.yaml, *.yml) of a folder, or a CSV table whose first\n"
               "row holds case keys such as outdoor.rated_capacity and indoor.coil.size\n"
               "('coiltrim keys' lists them), each further row the values of one case. An empty\n"
               "cell keeps the value of the base case, a dash takes the key out. A wet_bulb\n"
               "takes the place of the base's relative_humidity, and so on; the other kind of\n"
               "metering device that of the base's, with all its keys. A column called case\n"
               "names the rows. KEY=VALUE pairs change every case. A table with semicolons has\n"
               "its decimal comma read. A run that was stopped continues where it stopped. A\n"
               "wrong case has a row that says what is wrong, and the exit code is 3. Exit code\n"
               "10: no speed passes in at least one case, or its unit does not fit.\n",
    .example =
        "  coiltrim batch examples/jobs.csv --base examples/r22-larger-coil.yaml -o results.csv\n"
        "  coiltrim batch examples/jobs.csv --base examples/r22-larger-coil.yaml --part 1/2 -o -\n",
    .run = run,
};
