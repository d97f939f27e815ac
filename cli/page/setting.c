#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/html.h"
#include "base/paragraph.h"
#include "base/text_stream.h"
#include "page/page.h"
#include "show/chance_words.h"
#include "show/fix_words.h"
#include "show/heating_words.h"

#define SHOW(q, v) page_show(p, q, v).text

enum { NAME_LENGTH = 60 };
enum { FEW = 2 }; /* remedies shown that are not enough by themselves; the sweep shows all */

/* limit_explain in a string of its own; free it. NULL: out of memory. */
static char *explain(const page *p, ct_limit limit, const ct_judgment *j, const ct_point *point)
{
    char *text = NULL, *nice = NULL;
    size_t size;
    FILE *stream = text_stream(&text, &size);
    if (!stream) return NULL;
    limit_explain(stream, limit, j, point, p->metric);
    if (fclose(stream) == 0) nice = page_nice(text);
    free(text);
    return nice;
}

static void write_lower(FILE *out, const page *p)
{
    const ct_pick *k = p->pick;
    if (!k->has_lower) {
        html_element(out, "p", NULL, "%s",
                     k->from_taps ? "The blower has no slower speed."
                                  : "It is the lowest airflow checked.");
        return;
    }
    const ct_point *below = k->from_taps ? &p->sweep->tap[k->lower] : &p->sweep->point[k->lower];
    char *why = explain(p, k->binding, &k->binding_at, below);
    html_element(out, "p", NULL, "The next slower speed, %s, does not pass: %s.",
                 page_speed(p, below).text, why ? why : "");
    free(why);
}

/* "deeper coil: ", where the unit has a name. */
static page_name unit_is(const page *p)
{
    page_name name = page_short(page_indoor(p)->name, NAME_LENGTH);
    const size_t n = strlen(name.text);
    if (!job_unit_is_named(page_indoor(p)))
        name.text[0] = '\0';
    else
        snprintf(name.text + n, sizeof name.text - n, ": ");
    return name;
}

static const char *set_word(const page *p)
{
    return job_unit_is_named(page_indoor(p)) ? "set" : "Set";
}

static void write_pick(FILE *out, const page *p)
{
    const page_value air = page_show(p, Q_AIRFLOW, p->p->V);
    if (p->pick->from_taps)
        html_element(out, "p", "pick",
                     "%s%s the blower to %s (tap %d of %d): %s (%s of standard air), the slowest "
                     "speed that meets every limit.",
                     unit_is(p).text, set_word(p), page_speed(p, p->p).text, p->p->tap + 1,
                     page_indoor(p)->blower.n_taps, air.text,
                     SHOW(Q_AIRFLOW_PER_TON, p->p->V_std_per_ton));
    else
        html_element(out, "p", "pick",
                     "%s%s the blower to move %s (%s of standard air), the lowest airflow that "
                     "meets every limit.",
                     unit_is(p).text, set_word(p), air.text,
                     SHOW(Q_AIRFLOW_PER_TON, p->p->V_std_per_ton));
    write_lower(out, p);
}

/* The low stage's own tap, and which stage everything else on the sheet is about. */
static void write_low_stage(FILE *out, const page *p)
{
    const ct_point *low = &p->at.low;
    if (!p->j->c->outdoor.low.has) return;
    if (!p->at.has_low) {
        html_element(
            out, "p", NULL,
            "Low stage: no blower speed meets its limits. Lock it out; the numbers here are "
            "for the high stage alone.");
        return;
    }
    html_element(
        out, "p", "pick",
        "Low stage: set the blower to %s (%s, %s of the low stage), the driest that passes.",
        page_speed(p, low).text, SHOW(Q_AIRFLOW, low->V),
        SHOW(Q_AIRFLOW_PER_TON, low->V_std_per_ton));
    html_element(
        out, "p", NULL,
        "All readings are for the high stage: run it before you read. At %.0f%% of the load the "
        "low stage runs %.0f%% of the time.",
        100 * p->j->c->house.humidity_load, 100 * low->room.run);
}

/* Each remedy as it was run, the best first. */
static void write_remedies(FILE *out, const page *p)
{
    if (!p->outlook.has_fixes) return;
    html_element(out, "p", NULL, "%s",
                 p->outlook.fixes.none_closes ? "No single remedy is enough. Each tried by itself:"
                                              : "What would fix it, each tried by itself:");
    fputs("<ul>\n", out);
    for (int i = 0; i < p->outlook.fixes.n && (i < FEW || p->outlook.fixes.fix[i].closes); i++) {
        paragraph text;
        FILE *t = paragraph_open(&text);
        if (!t) break;
        fix_explain_briefly(t, &p->outlook.fixes.fix[i], p->j->c, page_indoor(p), p->metric);
        fclose(t);
        char *nice = page_nice(text.text);
        html_element(out, "li", NULL, "%s.", nice ? nice : "");
        free(nice);
    }
    fputs("</ul>\n", out);
}

static void write_refusal(FILE *out, const page *p)
{
    const ct_pick *k = p->pick;
    const ct_limit worst = ct_limit_worst(p->p->limit);
    if (k->n_points == 1)
        html_element(
            out, "p", "pick",
            "Do not do this job as planned: the blower's one speed does not meet every limit.");
    else
        html_element(
            out, "p", "pick",
            "Do not do this job as planned: none of the %d %s looked at meets every limit.",
            k->n_points, k->from_taps ? "blower speeds" : "airflows");
    char *why = explain(p, worst, &p->p->limit[worst], p->p);
    html_element(out, "p", NULL, "“%s” fails at %d of %d. At %s, which comes nearest: %s.",
                 ct_limit_of(worst)->title, k->failing[worst], k->n_points,
                 page_speed(p, p->p).text, why ? why : "");
    free(why);
    write_remedies(out, p);
}

/* In the words of the sweep's report. */
static void write_close(FILE *out, const page *p)
{
    const ct_close_call *c = &p->outlook.close;
    paragraph text;
    FILE *t;
    if ((!c->close && !c->tie) || !(t = paragraph_open(&text))) return;
    outlook_explain_close(t, &p->outlook, p->metric);
    fclose(t);
    char *nice = page_nice(text.text);
    html_element(out, "p", NULL, "Close call: %s", nice ? nice : "");
    free(nice);
}

static void write_sure(FILE *out, const page *p)
{
    char text[CHANCE_SENTENCE];
    if (!p->has_sure || !page_passes(p)) return;
    html_element(out, "p", NULL, "%s",
                 chance_sentence(text, "this speed", p->sure_all, p->sure_cool));
    write_close(out, p);
}

static void write_heating(FILE *out, const page *p)
{
    paragraph text;
    ct_heating h;
    FILE *t;
    ct_heating_of(&p->at, &h);
    if (!h.asked || !(t = paragraph_open(&text))) return;
    heating_explain(t, &h, &p->at, p->metric);
    fclose(t);
    char *nice = page_nice(text.text);
    html_element(out, "p", NULL, "Heating: %s", nice ? nice : "");
    free(nice);
}

void page_write_setting(FILE *out, const page *p)
{
    fputs("<section class=\"answer\">\n", out);
    html_element(out, "h2", NULL, "Setting");
    if (p->candidate[p->unit].refused)
        html_element(out, "p", "pick",
                     "Do not install this indoor unit: its refrigerant, valve or pressure rating "
                     "is wrong for this system. See Cautions for the reason. The numbers below are "
                     "only for comparison.");
    else if (!p->pick->found)
        write_refusal(out, p);
    else if (page_passes(p)) {
        write_pick(out, p);
        page_write_flooding(out, p);
        write_low_stage(out, p);
    }
    write_heating(out, p);
    write_sure(out, p);
    fputs("</section>\n", out);
}
