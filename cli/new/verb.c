#include <ctype.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/complain.h"
#include "base/job.h"
#include "base/paragraph.h"
#include "base/read_file.h"
#include "base/write_file.h"
#include "case/usual.h"
#include "new/blank.h"
#include "new/dialog.h"
#include "verbs.h"

enum { BLANK, READINGS, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [BLANK] = {.name = "blank",
               .kind = OPTION_FLAG,
               .help = "a form with every common key, an example and what it means; pairs are "
                       "filled in"},
    [READINGS] = {.name = "readings",
                  .kind = OPTION_FLAG,
                  .help = "a form for the readings of a visit, for coiltrim tune"},
};

static exit_code write_text(const char *path, const char *text)
{
    write_file file;
    if (!write_file_open(&file, path)) return EXIT_SYSTEM;
    fputs(text, file.stream);
    return write_file_end_at(&file, true, "case", path) ? EXIT_DONE : EXIT_SYSTEM;
}

static exit_code write_blank(const arguments *args)
{
    write_file file;
    const char *path = args->save.given ? args->save.text : "-";
    if (!write_file_open(&file, path)) return EXIT_SYSTEM;
    if (args->option[READINGS].given)
        blank_print_readings(file.stream);
    else
        blank_print(file.stream, args);
    return write_file_end_at(&file, true, "form", path) ? EXIT_DONE : EXIT_SYSTEM;
}

/* The case of the pairs and the usual answers, checked; its text is to be freed. */
static exit_code make_case(const arguments *args, char **text)
{
    static const char heading[] =
        "# A coiltrim case. ASSUMED marks what nobody stated: correct what you know better.\n"
        "# 'coiltrim new --blank' shows the other common keys.\n\n";
    arguments unsaved = *args;
    char *body;
    job j;
    unsaved.save = (option_value){0};
    exit_code code = job_open_case(&unsaved, &j);
    if (code != EXIT_DONE) return code;
    code = job_case_text(&unsaved, &j, &body);
    job_close(&j);
    if (code != EXIT_DONE) return code;
    const bool good = asprintf(text, "%s%s", heading, body) >= 0;
    free(body);
    if (good) return EXIT_DONE;
    complain("new: out of memory");
    return EXIT_SYSTEM;
}

static exit_code from_pairs(const arguments *args)
{
    char *text;
    exit_code code = make_case(args, &text);
    if (code != EXIT_DONE) return code;
    code = write_text(args->save.given ? args->save.text : "-", text);
    free(text);
    return code;
}

/* ---- On a terminal --------------------------------------------------------------- */

/* False: the input is over. */
static bool ask_yes(dialog *d, const char *prompt, bool usual, bool *yes)
{
    char line[ANSWER_SIZE];
    if (!prompt_line(d, prompt, line)) return false;
    *yes = line[0] ? line[0] == 'y' || line[0] == 'Y' : usual;
    return true;
}

/* The name of a file that may be written. False: the input is over. */
static bool ask_name(dialog *d, const arguments *args, char name[ANSWER_SIZE])
{
    struct stat there;
    bool yes = true;
    do {
        if (args->save.given && yes)
            snprintf(name, ANSWER_SIZE, "%s", args->save.text);
        else if (!prompt_line(d, "Save the case as [job.yaml]: ", name))
            return false;
        if (!name[0]) snprintf(name, ANSWER_SIZE, "job.yaml");
        yes = true;
        if (stat(name, &there) == 0 &&
            !ask_yes(d, "  There is such a file. Write over it? [no]: ", false, &yes))
            return false;
    } while (!yes);
    return true;
}

static exit_code offer_sweep(dialog *d, char *name)
{
    arguments args;
    bool yes;
    if (!ask_yes(d, "Run the sweep now? [yes]: ", true, &yes) || !yes) {
        fprintf(d->out, "Later: coiltrim sweep %s\n", name);
        return EXIT_DONE;
    }
    fputc('\n', d->out);
    if (arguments_read(&verb_sweep, 1, &name, &args) != ARGUMENTS_OK) return EXIT_USAGE;
    return verb_sweep.run(&args);
}

static exit_code quit(void)
{
    complain("new: nothing was written");
    return EXIT_USAGE;
}

static bool ask_units(dialog *d)
{
    char line[ANSWER_SIZE];
    for (;;) {
        if (!prompt_line(d, "Inch-pound or metric units, i or m [i]: ", line)) return false;
        const char c = (char)tolower((unsigned char)line[0]);
        d->metric = c == 'm';
        if (c == 'q') return false;
        if (c == 'm' || c == 'i' || c == '\0') return true;
        fputs("  Write i or m; the refrigerant and the rest come after this.\n", d->out);
    }
}

/* False: the answers go against each other or too little was said; why is on the terminal, and the
 * first question to look at again is next. */
static bool go_together(dialog *d, const arguments *all)
{
    ct_override over[MAX_PAIRS];
    ct_fault fault;
    ct_case *c = malloc(sizeof *c);
    ct_case_report *report = malloc(sizeof *report);
    for (int i = 0; i < all->n_pairs; i++)
        over[i] = (ct_override){all->pair[i].key, all->pair[i].text, CT_LINE_OF_PAIR};
    const bool wrong =
        c && report &&
        ct_usual_case(&(ct_overrides){over, all->n_pairs}, c, report, &fault) == CT_INPUT;
    for (int i = 0; wrong && i < report->n_faults && i < CT_MAX_CASE_FAULTS; i++)
        paragraph_wrap_text(d->out, "", 2, "%s: %s", report->fault[i].key, report->fault[i].what);
    if (wrong) dialog_go_to(d, report->n_faults > 0 ? report->fault[0].key : "");
    free(c);
    free(report);
    return !wrong;
}

/* Asks until the case is one that reads; answers that go against each other are asked again. */
static exit_code from_dialog(dialog *d, const arguments *args)
{
    arguments all;
    char *text, name[ANSWER_SIZE];
    fputs("Enter takes the answer in brackets; ?: help; -: not known; b: back; q: quit.\n\n",
          d->out);
    if (!ask_units(d)) return quit();
    exit_code code;
    do {
        if (dialog_run(d, args) == DIALOG_QUIT) return quit();
        fputc('\n', d->out);
        fflush(d->out);
        dialog_pairs(d, args, &all);
        code = EXIT_INPUT;
        if (go_together(d, &all)) {
            code = make_case(&all, &text);
            d->at = 0;
        }
        if (code == EXIT_INPUT)
            fputs("Again from there; Enter keeps what is in brackets.\n\n", d->out);
    } while (code == EXIT_INPUT);
    if (code != EXIT_DONE) return code;
    code = ask_name(d, args, name) ? write_text(name, text) : quit();
    free(text);
    return code == EXIT_DONE ? offer_sweep(d, name) : code;
}

static exit_code check(const arguments *args)
{
    const char *wrong = NULL;
    if (args->option[READINGS].given && args->option[BLANK].given)
        wrong = "give --blank, a form for a case, or --readings, one for a visit, not both";
    else if (args->option[READINGS].given && args->n_pairs > 0)
        wrong = "--readings takes no pairs: write the readings into its form";
    if (!wrong) return EXIT_DONE;
    complain("new: %s", wrong);
    return EXIT_USAGE;
}

static exit_code run(const arguments *args)
{
    const exit_code code = check(args);
    if (code != EXIT_DONE) return code;
    if (args->option[BLANK].given || args->option[READINGS].given) return write_blank(args);
    if (isatty(STDIN_FILENO) == 1) {
        dialog d = {.in = stdin, .out = stdout};
        return from_dialog(&d, args);
    }
    if (args->n_pairs) return from_pairs(args);
    complain("new: the questions need a terminal; give pairs, as tons=3 seer=10, or --blank");
    return EXIT_USAGE;
}

const verb verb_new = {
    .name = "new",
    .purpose = "Make a case from what you have: a few questions, pairs, or a blank form.",
    .operands = "",
    .takes_case = true,
    .too_many = "a pair is KEY=VALUE; --save names a file to write",
    .options = options,
    .n_options = N_OPTIONS,
    .details = "On a terminal it asks a line at a time, with the usual answer in brackets,\n"
               "writes the case with a remark beside each value, and offers the sweep. Units\n"
               "may be left out, and any answer may be 'not known'. Without a terminal the\n"
               "pairs are the answers, and the case goes to standard output, or to the file of\n"
               "--save. --readings is a form to fill in on the visit.\n",
    .example = "  coiltrim new --blank\n"
               "  coiltrim new --readings --save readings.yaml\n"
               "  coiltrim new tons=3 refrigerant=R-22 seer=10 static=0.7inwc --save job.yaml\n",
    .run = run,
};
