#include <stdlib.h>
#include <string.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/job.h"
#include "base/out_folder.h"
#include "base/paragraph.h"
#include "base/text_stream.h"
#include "base/words.h"
#include "explain/explained.h"
#include "explain/files.h"
#include "explain/sections.h"
#include "show/limit_words.h"
#include "show/outlook.h"
#include "show/tap_words.h"
#include "show/verdict.h"
#include "show/ways_words.h"
#include "verbs.h"

enum { AT, TAP, AGAINST, AGAINST_TAP, SI, JSON, OUTPUT, FORMAT, NO_RENDER, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [AT] = {.name = "at",
            .kind = OPTION_VALUE,
            .unit = CT_UNIT_AIRFLOW_PER_TON,
            .shows = "AIRFLOW",
            .help = "standard airflow per nominal ton"},
    [TAP] = {.name = "tap", .kind = OPTION_TEXT, .shows = "NAME", .help = "a blower tap instead"},
    [AGAINST] = {.name = "against",
                 .kind = OPTION_VALUE,
                 .unit = CT_UNIT_AIRFLOW_PER_TON,
                 .shows = "AIRFLOW",
                 .help = "airflow to compare with: shows what changes from there, and why"},
    [AGAINST_TAP] = {.name = "against-tap",
                     .kind = OPTION_TEXT,
                     .shows = "NAME",
                     .help = "blower tap to compare with"},
    [SI] = {SI_ROW("metric numbers; SI columns in the files")},
    [JSON] = {JSON_ROW("JSON instead of text")},
    [OUTPUT] = {OUTPUT_ROW("DIR", "write the pictures and their CSV files into this directory")},
    [FORMAT] = {FORMAT_ROW("format of the pictures")},
    [NO_RENDER] = {NO_RENDER_ROW("write the plot scripts, but do not run gnuplot")},
};

/* ---- Which airflow --------------------------------------------------------------- */

static exit_code find_tap(const job *j, const char *name, int *tap)
{
    const ct_blower *blower = &j->sweep.unit->blower;
    const char *names[CT_MAX_TAPS];
    *tap = ct_blower_find_tap(blower, name);
    if (*tap >= 0) return EXIT_DONE;
    for (int i = 0; i < blower->n_taps; i++)
        names[i] = blower->tap[i].name;
    if (blower->n_taps == 0) {
        complain("explain: the case has no blower taps; use --at with an airflow per ton");
        return EXIT_INPUT;
    }
    const char *near = ct_words_nearest(name, names, blower->n_taps);
    complain("explain: no blower tap '%s'; %s '%s'", name, near ? "did you mean" : "the first is",
             near ? near : names[0]);
    return EXIT_INPUT;
}

static exit_code tap_point(job *j, const char *name, ct_point *p)
{
    ct_fault fault;
    int tap;
    const exit_code code = find_tap(j, name, &tap);
    if (code != EXIT_DONE) return code;
    if (!j->sweep.has_duct) {
        complain("explain: the case has no duct point, so a tap's airflow is not known; use --at");
        return EXIT_INPUT;
    }
    if (ct_sweep_tap(j->solver, &j->sweep, tap, p, &fault) != CT_OK) return complain_fault(&fault);
    return EXIT_DONE;
}

static exit_code airflow_point(job *j, double V_per_ton, ct_point *p)
{
    ct_fault fault;
    if (ct_sweep_airflow(j->solver, &j->sweep, V_per_ton, p, &fault) != CT_OK)
        return complain_fault(&fault);
    return EXIT_DONE;
}

/* The speed the sweep picks. */
static exit_code pick_point(job *j, ct_point *p)
{
    ct_fault fault = {.what = "out of memory for the sweep", .status = CT_SYSTEM};
    ct_pick pick = {.found = false};
    ct_sweep *s = calloc(1, sizeof *s);
    const ct_status status = s ? ct_sweep_run(j->solver, &j->sweep, s, &fault) : CT_SYSTEM;
    if (status == CT_OK) ct_pick_lowest(&j->sweep, s, &pick);
    const ct_point *at = pick.found        ? ct_pick_point(&pick, s)
                         : status == CT_OK ? ct_sweep_nearest(s)
                                           : NULL;
    if (at) *p = *at;
    free(s);
    if (status != CT_OK) return complain_fault(&fault);
    if (at) return EXIT_DONE;
    complain("explain: the system balances at no airflow of the sweep; 'coiltrim sweep' says why");
    return EXIT_MODEL;
}

/* From the two options of an end; without either it is the pick. */
static exit_code end_point(job *j, const option_value *airflow, const option_value *tap,
                           ct_point *p, explained *e)
{
    ct_fault fault;
    const exit_code code = tap->given       ? tap_point(j, tap->text, p)
                           : airflow->given ? airflow_point(j, airflow->si, p)
                                            : pick_point(j, p);
    if (code != EXIT_DONE) return code;
    if (p->status == CT_OK) ct_sweep_humidity(j->solver, &j->sweep, p);
    if (explained_point(j->solver, &j->sweep, p, e, &fault) != CT_OK) return complain_fault(&fault);
    return EXIT_DONE;
}

/* ---- Text ------------------------------------------------------------------------ */

/* Load and airflow that nobody entered: how they were found. */
static void say_ways(sheet *s, const job *j)
{
    for (int topic = 0; topic < WAYS_DUCTS; topic++) {
        paragraph text;
        FILE *t = paragraph_open(&text);
        if (!t) return;
        const bool any = ways_explain(t, (ways_topic)topic, j->c, &j->ways, sheet_metric(s));
        fclose(t);
        if (any) sheet_say(s, "%s%s", ways_heading((ways_topic)topic), text.text);
    }
}

static exit_code fill(sheet *s, const job *j, const explained *e, const explained *old)
{
    ct_fault fault;
    sections_balance(s, e);
    say_ways(s, j);
    if (old && section_change(s, old, e, &fault) != CT_OK) return complain_fault(&fault);
    return EXIT_DONE;
}

/* Programs find it among the sections. */
static void put_verdict(sheet *s, const job *j)
{
    const verdict v = verdict_of(j->c, j->refrigerant, j->sweep.unit, sheet_metric(s));
    char *text = NULL;
    size_t size;
    FILE *memory = verdict_refuses(&v) ? text_stream(&text, &size) : NULL;
    if (!memory) return;
    verdict_print(memory, &v, 0);
    if (fclose(memory) == 0) {
        sheet_section(s, "Does not fit");
        sheet_say(s, "%s", text);
    }
    free(text);
}

static exit_code write_sheet(job *j, const option_value *o, const explained *e,
                             const explained *old)
{
    char title[600], name[80] = "";
    sheet *s = sheet_new("", o[SI].given);
    if (s) explained_name(s, e, name, sizeof name);
    const bool named = s;
    sheet_free(s);
    const bool chosen = !o[AT].given && !o[TAP].given;
    snprintf(title, sizeof title, "%s%sOne balance, step by step, at %s%s%s", j->c->job.title,
             j->c->job.title[0] ? ": " : "", name, j->c->outdoor.low.has ? ", high stage" : "",
             chosen && !e->point->passes ? ", which comes nearest: no speed passes" : "");
    s = named ? sheet_new(title, o[SI].given) : NULL;
    if (!s) {
        complain("out of memory");
        return EXIT_SYSTEM;
    }
    if (j->c->outdoor.low.has) sheet_stage(s, "high");
    if (o[JSON].given) put_verdict(s, j);
    exit_code code = fill(s, j, e, old);
    if (code == EXIT_DONE && !sheet_write(s, stdout, o[JSON].given)) code = EXIT_SYSTEM;
    sheet_free(s);
    return code;
}

static exit_code explain_text(job *j, const option_value *o)
{
    static ct_point at, against; /* large; the program runs one verb */
    explained e, old;
    const bool two = o[AGAINST].given || o[AGAINST_TAP].given;
    exit_code code = end_point(j, &o[AT], &o[TAP], &at, &e);
    if (code == EXIT_DONE && two) code = end_point(j, &o[AGAINST], &o[AGAINST_TAP], &against, &old);
    return code == EXIT_DONE ? write_sheet(j, o, &e, two ? &old : NULL) : code;
}

/* ---- What the case's answer is --------------------------------------------------- */

static void print_pick(FILE *out, const job *j, const ct_pick *pick, const ct_point *p, bool metric)
{
    char air[SHOWN_SIZE];
    paragraph says;
    FILE *t = pick->refused ? NULL : paragraph_open(&says);
    if (!t) return;
    if (!p) {
        fputs("no speed of this case passes every limit.", t);
    } else {
        fputs("the slowest speed that passes is ", t);
        tap_say(t, &j->sweep.unit->blower, p->tap);
        fprintf(t, "%s.", shown(air, Q_AIRFLOW, p->V, metric));
    }
    fputs("\n", out);
    paragraph_print(&says, out, "Answer: ", 2);
}

/* `print`: in words too, below the sheet. */
static ct_status find_outlook(job *j, const verdict *v, bool print, ct_sweep *s, bool *found,
                              ct_fault *fault)
{
    const ct_setup setup = job_setup(j, 0);
    ct_pick pick;
    outlook o = {.job = &j->sweep, .sweep = s, .pick = &pick};
    ct_status status = ct_sweep_run(j->solver, &j->sweep, s, fault);
    if (status != CT_OK) return status;
    ct_pick_lowest(&j->sweep, s, &pick);
    *found = pick.found;
    if (!print) return CT_OK;
    status = outlook_find(&setup, &o, fault);
    if (status != CT_OK) return status;
    print_pick(stdout, j, &pick, ct_pick_point(&pick, s), v->metric);
    outlook_print(stdout, &o, 0, v->metric);
    verdict_print_findings(stdout, v, 0);
    return CT_OK;
}

/* The speed explained need not be the one to set: what the case comes to goes below it. */
static exit_code answer(job *j, const verdict *v, bool print)
{
    bool found = false;
    ct_fault fault = {.what = "out of memory for the sweep", .status = CT_SYSTEM};
    ct_sweep *s = calloc(1, sizeof *s);
    const ct_status status = s ? find_outlook(j, v, print, s, &found, &fault) : CT_SYSTEM;
    free(s);
    return status == CT_OK ? verdict_exit_code(EXIT_DONE, found) : complain_fault(&fault);
}

/* ---- Verb ------------------------------------------------------------------------ */

/* -o alone is for the pictures. */
static bool has_text(const option_value *o)
{
    return o[AT].given || o[TAP].given || !o[OUTPUT].given;
}

static exit_code check(const option_value *o)
{
    const bool text = has_text(o);
    const char *wrong = NULL;
    if (o[AT].given && o[TAP].given) wrong = "give --at or --tap, not both";
    if (o[AGAINST].given && o[AGAINST_TAP].given)
        wrong = "give --against or --against-tap, not both";
    if ((o[AGAINST].given || o[AGAINST_TAP].given) && !text)
        wrong = "--against needs --at or --tap: the airflow to explain";
    if (!wrong && !o[OUTPUT].given && (o[FORMAT].given || o[NO_RENDER].given))
        wrong = "--format and --no-render need -o DIR beside them";
    if (!wrong) return EXIT_DONE;
    complain("explain: %s", wrong);
    return EXIT_USAGE;
}

static exit_code explain(job *j, const option_value *o)
{
    if (o[OUTPUT].given && !out_folder_possible(o[OUTPUT].text)) return EXIT_SYSTEM;
    const verdict v = verdict_of(j->c, j->refrigerant, j->sweep.unit, o[SI].given);
    exit_code code = EXIT_DONE;
    if (!o[JSON].given) verdict_print(stdout, &v, 0);
    const bool text = has_text(o);
    if (text) code = explain_text(j, o);
    const out_request to = {o[OUTPUT].text, o[FORMAT].text, o[SI].given, !o[NO_RENDER].given};
    const bool words = text && !o[JSON].given;
    if (code == EXIT_DONE && o[OUTPUT].given) code = explain_files(j, &to);
    if (code != EXIT_DONE) return code;
    code = answer(j, &v, words);
    if (o[OUTPUT].given && !o[JSON].given)
        printf("%sFiles are in %s\n", text ? "\n" : "", o[OUTPUT].text);
    return code;
}

static exit_code run(const arguments *args)
{
    const exit_code code = check(args->option);
    return code == EXIT_DONE ? job_run(args, job_open, explain) : code;
}

const verb verb_explain = {
    .name = "explain",
    .purpose = "Why the system settles where it does, step by step.",
    .operands = "CASE",
    .min_operands = 1,
    .max_operands = 1,
    .takes_case = true,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "Works through one airflow: the air, the coil, the refrigerant, the condenser,\n"
               "where the two curves cross, what the blower takes off, and the load. Every sum\n"
               "is printed with its numbers, and the printed numbers give the printed result.\n"
               "With --against or --against-tap it shows what changes from there, and why. With\n"
               "-o it draws the curves crossing, the process on a psychrometric chart and the\n"
               "blower taps against the ducts. Without --at and --tap it is about the speed that\n"
               "is picked (when none passes, the one that comes nearest), and with -o alone\n"
               "only the pictures are made. Exit code 10 when no speed passes or the\n"
               "unit must not be installed.\n",
    .example =
        "  coiltrim explain examples/r22-larger-coil.yaml --tap low --against-tap high\n"
        "  coiltrim explain examples/r22-larger-coil.yaml --at \"350 cfm/ton\" -o pictures\n",
    .run = run,
};
