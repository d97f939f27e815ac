#include "batch/row.h"

#include <stdio.h>
#include <string.h>

#include "base/paragraph.h"
#include "batch/journal.h"
#include "judge/heating.h"
#include "judge/oddities.h"
#include "judge/remedy.h"
#include "show/fix_words.h"
#include "show/low_stage_words.h"
#include "show/verdict.h"
#include "sweep/columns.h"

enum { DIGITS = 9, LIST_SIZE = 400 };

/* What one looks for comes first: the case, how it ended, and, in the columns of a sweep, the speed
 * picked. The rest follows. */
static const char *const first[] = {"case", "outcome", "fault"};
static const char *const last[] = {
    "title",          "speeds",         "refused_by", "questions",  "odd_input",
    "speeds_passing", "speeds_fail_on", "close_call", "near_tie",   "heating",
    "fixes",          "helps",          "best_fix",   "next_lower", "next_lower_fails_on",
    "low_stage",      "faults",         "stamp"};
enum {
    FIRST = sizeof first / sizeof first[0],
    LAST = sizeof last / sizeof last[0],
    OF_ANSWER = LAST - 3 /* without title, faults and stamp */
};

void batch_row_heading(csv_writer *csv, bool si)
{
    for (int i = 0; i < FIRST; i++)
        csv_text(csv, first[i]);
    sweep_columns_heading(csv, si);
    for (int i = 0; i < LAST; i++)
        csv_text(csv, last[i]);
    csv_end_row(csv);
}

static void join(char *text, const char *word)
{
    const size_t used = strlen(text);
    snprintf(text + used, LIST_SIZE - used, "%s%s", used ? ";" : "", word);
}

/* Two fixes can be of one remedy: a piston, and a valve instead of it. */
static void join_once(char *text, const char *word)
{
    const size_t n = strlen(word), used = strlen(text);
    if (used < n || strcmp(text + used - n, word) != 0) join(text, word);
}

/* ---- Whether it may be installed, and what to ask -------------------------------- */

static void put_findings(csv_writer *csv, const ct_pick *k, ct_finding kind)
{
    char list[LIST_SIZE] = "";
    for (int bit = 0; k->has_checks && bit < CT_CHECK_COUNT; bit++)
        if (k->checks.found & 1u << bit && ct_compatibility_kind(1u << bit) == kind)
            join(list, ct_compatibility_token(1u << bit));
    csv_text(csv, list);
}

static void put_odd(csv_writer *csv, const outlook *o)
{
    const unsigned odd = ct_oddities(o->job->c, o->job->unit);
    char list[LIST_SIZE] = "";
    for (int bit = 0; bit < CT_ODD_COUNT; bit++)
        if (odd & 1u << bit) join(list, verdict_odd_token(bit));
    csv_text(csv, list);
}

/* ---- The speeds ------------------------------------------------------------------ */

static void put_speeds(csv_writer *csv, const outlook *o)
{
    char failed[LIST_SIZE] = "";
    int passing = 0;
    for (int i = 0; i < o->pick->n_points; i++)
        passing += ct_pick_candidate(o->pick, o->sweep, i)->passes;
    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++)
        if (o->pick->failing[i]) join(failed, ct_limit_of((ct_limit)i)->token);
    csv_number(csv, passing, DIGITS);
    csv_text(csv, failed);
}

static void put_close(csv_writer *csv, const outlook *o)
{
    const ct_close_call *c = &o->close;
    csv_text(csv, c->close ? ct_limit_of(c->pick.limit)->token : "");
    csv_text(csv, c->tie ? ct_limit_of(c->lower.limit)->token : "");
}

static const char *heating_word(const ct_sweep_job *job)
{
    ct_heating h;
    ct_heating_of(job, &h);
    if (!h.asked) return "";
    if (!h.known) return "tap_not_given";
    return ct_heating_fails(&h) ? "fails" : "passes";
}

static void put_lower(csv_writer *csv, const outlook *o)
{
    const ct_pick *k = o->pick;
    if (!k->found || !k->has_lower) {
        csv_absent(csv);
        csv_absent(csv);
        return;
    }
    const ct_point *p = ct_pick_candidate(k, o->sweep, k->lower);
    if (p->tap >= 0)
        csv_text(csv, o->job->unit->blower.tap[p->tap].name);
    else
        csv_number(csv, k->lower, DIGITS);
    csv_text(csv, ct_limit_of(k->binding)->token);
}

/* ---- Remedies -------------------------------------------------------------------- */

static void put_fix_words(csv_writer *csv, const outlook *o, bool si)
{
    paragraph text;
    FILE *t = o->has_fixes && o->fixes.n > 0 ? paragraph_open(&text) : NULL;
    if (!t) {
        csv_text(csv, "");
        return;
    }
    fix_explain(t, &o->fixes.fix[0], o->job->c, o->job->unit, si);
    fclose(t);
    csv_text(csv, text.text);
}

/* "heat_tap+duct_insulation": with what costs nothing done besides. */
static void join_fix(char *list, const ct_fix *f)
{
    static const unsigned besides[] = {CT_REMEDY_FAN, CT_REMEDY_HEAT_TAP};
    char token[80] = "";
    size_t n = 0;
    for (size_t i = 0; i < sizeof besides / sizeof besides[0]; i++)
        if (f->also & besides[i])
            n += (size_t)snprintf(token + n, sizeof token - n, "%s+", ct_remedy_token(besides[i]));
    snprintf(token + n, sizeof token - n, "%s", ct_remedy_token(f->remedy));
    join_once(list, token);
}

/* Those that are enough, those that help, and the first in words. */
static void put_fixes(csv_writer *csv, const outlook *o, bool si)
{
    char enough[LIST_SIZE] = "", helps[LIST_SIZE] = "";
    if (o->has_fixes && o->fixes.none_closes) join(enough, ct_remedy_token(CT_REMEDY_DO_NOT));
    for (int i = 0; o->has_fixes && i < o->fixes.n; i++)
        join_fix(o->fixes.fix[i].closes ? enough : helps, &o->fixes.fix[i]);
    csv_text(csv, enough);
    csv_text(csv, helps);
    put_fix_words(csv, o, si);
}

/* The speed of the low stage in words, with its airflow. */
static void put_low_stage(csv_writer *csv, const outlook *o, bool si)
{
    paragraph text;
    FILE *t = o->job->has_low ? paragraph_open(&text) : NULL;
    if (!t) {
        csv_text(csv, o->job->low_fails ? "none_passes" : "");
        return;
    }
    low_stage_speed(t, o->job, si);
    fclose(t);
    csv_text(csv, text.text);
}

static void put_answer(csv_writer *csv, const outlook *o, bool si)
{
    csv_number(csv, o->pick->n_points, DIGITS);
    put_findings(csv, o->pick, CT_FINDING_REFUSES);
    put_findings(csv, o->pick, CT_FINDING_QUESTION);
    put_odd(csv, o);
    put_speeds(csv, o);
    put_close(csv, o);
    csv_text(csv, heating_word(o->job));
    put_fixes(csv, o, si);
    put_lower(csv, o);
    put_low_stage(csv, o, si);
}

bool batch_row(csv_writer *csv, const batch_item *item, const batch_result *v, bool si)
{
    const outlook *o = v->outlook;
    char stamp[JOURNAL_STAMP_SIZE];
    journal_stamp(stamp, item);
    const sweep_view view = {o ? o->job : NULL, o ? o->sweep : NULL, o ? o->pick : NULL};
    csv_text(csv, item->name);
    csv_text(csv, v->outcome);
    csv_text(csv, v->fault);
    sweep_columns_cells(csv, o ? &view : NULL, o ? ct_pick_point(o->pick, o->sweep) : NULL, si);
    csv_text(csv, o ? o->job->c->job.title : "");
    if (o)
        put_answer(csv, o, si);
    else
        for (int i = 0; i < OF_ANSWER; i++)
            csv_absent(csv);
    csv_number(csv, v->n_faults, DIGITS);
    csv_text(csv, stamp);
    csv_end_row(csv);
    return csv_good(csv);
}
