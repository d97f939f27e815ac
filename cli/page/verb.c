#include "base/common_options.h"
#include "base/complain.h"
#include "base/write_file.h"
#include "page/page.h"
#include "show/verdict.h"
#include "verbs.h"

enum { OUTPUT, UNIT, READINGS, SI, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [OUTPUT] = {.name = "output",
                .letter = 'o',
                .kind = OPTION_TEXT,
                .shows = "FILE",
                .fallback = "job.html",
                .help = "file to write"},
    [UNIT] = {UNIT_ROW},
    [READINGS] = {.name = "readings",
                  .kind = OPTION_TEXT,
                  .shows = "FILE",
                  .help = "add a sheet: what the readings of a visit say, as tune does"},
    [SI] = {SI_ROW("metric page; also without this when the case has its temperatures in C")},
};

static void write_technician(FILE *out, const page *p)
{
    page_begin_technician(out, p);
    page_write_setting(out, p);
    page_write_figures(out, p);
    page_write_pictures(out, p);
    page_next_sheet(out, p, "start-up and what went in");
    page_write_start_up(out, p);
    page_write_way_in(out, p);
    page_write_inputs(out, p);
    if (p->j->c->n_indoor > 1) {
        page_next_sheet(out, p, "the indoor units side by side, cautions");
        page_write_candidates(out, p);
    }
    page_write_cautions(out, p);
    if (p->visit) {
        page_next_sheet(out, p, "the visit");
        page_write_visit(out, p);
    }
    page_end_sheet(out, p);
}

static void write_page(FILE *out, const page *p)
{
    page_write_head(out, p);
    page_begin_customer(out, p);
    page_write_customer(out, p);
    page_end_sheet(out, p);
    write_technician(out, p);
    page_write_foot(out);
}

/* Readings are those of the first indoor unit. */
static exit_code take_visit(const job *j, const option_value *o, int unit, visit *v)
{
    if (unit != 0) {
        complain("page: --readings goes with the first indoor unit only; leave --unit out");
        return EXIT_USAGE;
    }
    const exit_code code = visit_load(o[READINGS].text, v);
    return code == EXIT_DONE ? visit_tune(j, v) : code;
}

/* What becomes of a page that is written. */
static exit_code told_by(const page *p)
{
    if (p->pictures.failed) return EXIT_SYSTEM;
    if (!p->visit) return EXIT_DONE;
    visits_complain(p->visit, 1, "; the page says so");
    return visits_exit_code(p->visit, 1, p->candidate[p->unit].refused);
}

static exit_code make_page(job *j, const option_value *o)
{
    page p;
    visit v;
    write_file file;
    const int unit = common_options_unit("page", &o[UNIT], j->c->n_indoor);
    if (unit < 0) return EXIT_USAGE;
    if (o[READINGS].given) {
        const exit_code taken = take_visit(j, o, unit, &v);
        if (taken != EXIT_DONE) return taken;
    }
    exit_code code = page_work_out(j, unit, job_is_metric(j, o[SI].given), &p);
    if (code != EXIT_DONE) return code;
    if (o[READINGS].given) p.visit = &v;
    code = EXIT_SYSTEM;
    if (write_file_open(&file, o[OUTPUT].text)) {
        write_page(file.stream, &p);
        const exit_code told = told_by(&p);
        if (write_file_end_at(&file, true, "page", o[OUTPUT].text))
            code = verdict_exit_code(told, page_passes(&p));
    }
    page_free(&p);
    return code;
}

static exit_code run(const arguments *args)
{
    if (common_options_streams_clash("page", args, &args->option[READINGS])) return EXIT_USAGE;
    return job_run(args, job_open, make_page);
}

const verb verb_page = {
    .name = "page",
    .purpose = "The job on paper: a sheet for the customer, sheets for you.",
    .operands = "CASE",
    .min_operands = 1,
    .max_operands = 1,
    .takes_case = true,
    .too_many = "readings of a visit go behind --readings; a pair is KEY=VALUE",
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Writes one HTML file to print (letter or A4), mail or open on a phone. It runs\n"
               "no scripts and loads nothing from the network. The customer's sheet: what is\n"
               "proposed and why, what it will feel like, what is given up, how sure, options\n"
               "with price, lines to sign (keys: coiltrim keys job). The technician's sheets:\n"
               "the setting, limits, plots, readings at start-up with the value to expect, the\n"
               "way in, what went in; with --readings what the readings of a visit say.\n"
               "Exit code 10 when no speed passes or the unit must not be installed; with\n"
               "readings 3 when they cannot all be true, and 11 when they are in doubt, whether\n"
               "a speed passes or not. The page is written all the same and says so. Where\n"
               "gnuplot is not installed there are no plots; when it fails the page is written\n"
               "without them and the exit code is 5.\n",
    .example = "  coiltrim page examples/r22-larger-coil.yaml -o job.html\n",
    .run = run,
};
