#include <math.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/write_file.h"
#include "page/page.h"
#include "show/verdict.h"
#include "verbs.h"

enum { OUTPUT, UNIT, SI, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [OUTPUT] = {.name = "output",
                .letter = 'o',
                .kind = OPTION_TEXT,
                .shows = "FILE",
                .fallback = "job.html",
                .help = "file to write"},
    [UNIT] = {UNIT_ROW},
    [SI] = {SI_ROW("metric page")},
};

static void write_page(FILE *out, const page *p)
{
    page_write_head(out, p);
    page_write_answer(out, p);
    page_write_figures(out, p);
    page_write_pictures(out, p);
    page_write_customer(out, p);
    page_write_candidates(out, p);
    page_write_fit(out, p);
    page_write_inputs(out, p);
    page_write_readings(out, p);
    page_write_cautions(out, p);
    page_write_foot(out, p);
}

static exit_code make_page(job *j, const option_value *o)
{
    page p;
    write_file file;
    const int unit = unit_index("page", &o[UNIT], j->c->n_indoor);
    if (unit < 0) return EXIT_USAGE;
    exit_code code = page_work_out(j, unit, o[SI].given, &p);
    if (code != EXIT_DONE) return code;
    code = EXIT_SYSTEM;
    if (write_file_open(&file, o[OUTPUT].text)) {
        write_page(file.stream, &p);
        if (write_file_close(&file)) code = exit_code_answer(EXIT_DONE, page_passes(&p));
    }
    page_free(&p);
    return code;
}

static exit_code run(const arguments *args)
{
    job j;
    exit_code code = job_open(args->operand[0], &j);
    if (code != EXIT_DONE) return code;
    code = make_page(&j, args->option);
    job_close(&j);
    return code;
}

const verb verb_page = {
    .name = "page",
    .purpose = "The job on two printed sheets, for you and the customer.",
    .operands = "CASE",
    .min_operands = 1,
    .max_operands = 1,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Writes one HTML file to print, mail or open on a phone. It runs no scripts and\n"
               "loads nothing from the network. On it: the pick and why, limits, plots, what to\n"
               "tell the customer, the input values, and blanks for the readings at start-up,\n"
               "each with the value to expect. Exit code 10 when no speed passes or the unit\n"
               "must not be installed; the page says so. Without gnuplot there are no plots.\n",
    .example = "  coiltrim page examples/r22-larger-coil.yaml -o job.html\n",
    .run = run,
};
