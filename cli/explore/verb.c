#include <stdlib.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/read_file.h"
#include "base/write_file.h"
#include "explore/page.h"
#include "show/verdict.h"
#include "verbs.h"

enum { OUTPUT, LESSON, SI, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [OUTPUT] = {.name = "output",
                .letter = 'o',
                .kind = OPTION_TEXT,
                .shows = "FILE",
                .fallback = "explore.html",
                .help = "file to write"},
    [LESSON] =
        {.name = "lesson",
         .letter = 'l',
         .kind = OPTION_TEXT,
         .shows = "FILE",
         .help =
             "a question, guesses and the answer, from one of lessons 1 to 5 of examples/lessons"},
    [SI] = {SI_ROW("metric page; also without this when the case has its temperatures in C")},
};

static exit_code write_page(const explore_facts *f, const char *path)
{
    write_file file;
    if (!write_file_open(&file, path)) return EXIT_SYSTEM;
    const bool good = explore_page_write(file.stream, f);
    if (!good && !ferror(file.stream)) complain("out of memory for the page");
    return write_file_end_at(&file, good, "page", path) ? EXIT_DONE : EXIT_SYSTEM;
}

/* That of the unit in question. */
static exit_code answer(const explore_facts *f)
{
    const explore_unit *u = &f->unit[0];
    if (u->good) return verdict_exit_code(EXIT_DONE, u->has_pick);
    complain("%s: %s", u->name, u->why);
    return u->code;
}

static exit_code make_page(const arguments *args, job *j, const lesson *l)
{
    const option_value *o = args->option;
    explore_facts *f = calloc(1, sizeof *f);
    if (!f) {
        complain("out of memory for the page");
        return EXIT_SYSTEM;
    }
    f->metric = job_is_metric(j, o[SI].given);
    exit_code code = explore_work_out(args, j, l, f);
    if (code == EXIT_DONE) code = write_page(f, o[OUTPUT].text);
    if (code == EXIT_DONE) code = answer(f);
    explore_free(f);
    free(f);
    return code;
}

static exit_code explore(const arguments *args, const lesson *l)
{
    job j;
    exit_code code = job_open(args, &j);
    if (code != EXIT_DONE) return code;
    code = make_page(args, &j, l);
    job_close(&j);
    return code;
}

/* The second unit of a lesson reads the case again. */
static exit_code run(const arguments *args)
{
    const char *path = args->option[LESSON].text;
    lesson l = {.text = NULL};
    if (!path) return explore(args, NULL);
    if (args->n_operands && read_file_is_standard(args->operand[0])) {
        complain("explore: --lesson needs the case in a file, not on standard input");
        return EXIT_USAGE;
    }
    exit_code code = lesson_read(path, &l);
    if (code == EXIT_DONE) code = explore(args, &l);
    lesson_free(&l);
    return code;
}

const verb verb_explore = {
    .name = "explore",
    .purpose = "The trade-off under your thumb: one page with sliders.",
    .operands = "CASE",
    .min_operands = 1,
    .max_operands = 1,
    .takes_case = true,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Writes one HTML file to open on a phone; it loads nothing from the network.\n"
               "Sliders move the airflow (the blower's speeds are stops), the outdoor\n"
               "temperature, the humidity of the return air and the sensible load. Capacities,\n"
               "coil temperatures, the humidity the house settles at and the verdict with its\n"
               "reason follow, for each indoor unit of the case. The page opens on the pick, or\n"
               "on the speed that comes nearest. Equipment and charge stay as the case has\n"
               "them. Values lie between balances worked out beforehand: capacity within 0.3%,\n"
               "temperatures within 0.2 F, humidity within half a point; a piston's superheat\n"
               "near flooding within about 2 F. With --lesson the page begins with a question,\n"
               "takes your guesses, and then shows the answer. Exit code 10 when no speed passes\n"
               "or the unit must not be installed; the page is written.\n",
    .example = "  coiltrim explore examples/r410a-humid.yaml -o explore.html\n"
               "  coiltrim explore examples/lessons/base.yaml --lesson "
               "examples/lessons/1-slow-the-blower.md\n",
    .run = run,
};
