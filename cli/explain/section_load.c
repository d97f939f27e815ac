#include "explain/sections.h"

#include <math.h>
#include <stdio.h>

#include "base/paragraph.h"
#include "explain/terms.h"
#include "show/limit_words.h"
#include "show/note_words.h"

static bool measure_of(quantity q, measure *m)
{
    switch (q) {
    case Q_HEAT: *m = M_HEAT; return true;
    case Q_TEMPERATURE: *m = M_TEMPERATURE; return true;
    case Q_DELTA_T: *m = M_DIFFERENCE; return true;
    case Q_STATIC: *m = M_STATIC; return true;
    case Q_VELOCITY: *m = M_VELOCITY; return true;
    case Q_FRACTION: *m = M_PERCENT; return true;
    case Q_AIRFLOW: *m = M_AIRFLOW; return true;
    case Q_AIRFLOW_PER_TON: *m = M_PER_TON; return true;
    default: return false;
    }
}

/* The coldest of several hours decides on frost; section 3 is about another than the mildest. */
static void say_measured(char *text, size_t size, const sheet *s, const explained *e,
                         ct_limit limit, const char *measured)
{
    const ct_point *p = e->point;
    const double v = p->limit[limit].value;
    char T[SHOWN_SIZE];
    snprintf(text, size, "%s", measured);
    if (limit != CT_LIMIT_FROST || fabs(v - p->balance.T_surface) < 1e-9) return;
    if (p->has_mild && fabs(v - p->T_surface_mild) < 1e-9)
        snprintf(text, size, "%s (with %s outdoors)", measured,
                 shown(T, Q_TEMPERATURE, e->job->c->limits.T_mild, sheet_metric(s)));
    else
        snprintf(text, size, "%s (where the house settles that day)", measured);
}

static void sum_limit(sheet *s, const explained *e, ct_limit limit)
{
    const ct_judgment *j = &e->point->limit[limit];
    const limit_words w = limit_words_of(limit, e->point);
    measure value, slack;
    char name[64], label[120], formula[240], measured[160];
    if (j->verdict == CT_NOT_JUDGED || !isfinite(j->value)) return;
    if (!measure_of(w.value, &value) || !measure_of(w.slack, &slack)) return;
    const bool at_least = fabs(j->value - j->bound - j->slack) <= 1e-9 * (1.0 + fabs(j->bound));
    const term a = sheet_term(s, value, j->value), b = sheet_term(s, value, j->bound);
    snprintf(name, sizeof name, "%s_room", ct_limit_of(limit)->token);
    snprintf(label, sizeof label, "%s, %s", ct_limit_of(limit)->name,
             j->verdict == CT_PASSES ? "passes" : "FAILS");
    say_measured(measured, sizeof measured, s, e, limit, w.measured);
    snprintf(formula, sizeof formula, at_least ? "%s - what is needed" : "what is allowed - %s",
             measured);
    sheet_sum(s, &(sum_of){name, label, formula, slack, j->slack}, "# - #",
              at_least ? TERMS(a, b) : TERMS(b, a));
}

static void say_settled(sheet *s, const explained *e)
{
    const ct_point *p = e->point;
    if (!p->has_room) return;
    const bool two = e->job->has_low;
    sheet_say(s,
              "At part load the system runs only part of the hour, and it removes water only "
              "while it runs. %s the house settles here:",
              two ? "The low stage runs first, at its own speed; with this one for the high stage"
                  : "With this airflow");
    if (p->room.always_on)
        sheet_say(s, "(At that load it runs the whole hour already, and cannot run longer.)");
    sheet_given(s, "run_share",
                two ? "Share of the hour the low stage runs" : "Share of the hour it runs",
                M_PERCENT, p->room.run);
    sheet_given(s, "settled_humidity", "Relative humidity in the house", M_PERCENT, p->room.rh);
}

/* What goes beyond its data at this speed. */
static void say_notes(sheet *s, const explained *e)
{
    for (int bit = 0; bit < CT_NOTE_COUNT; bit++) {
        paragraph text;
        FILE *t;
        if (!(e->point->notes & 1u << bit) || !(t = paragraph_open(&text))) continue;
        note_explain(t, 1u << bit, sheet_metric(s));
        fclose(t);
        sheet_say(s, "Note: %s", text.text);
    }
}

void section_load(sheet *s, const explained *e)
{
    const ct_house *h = &e->job->c->house;
    sheet_numbered(s, "AGAINST THE LOAD");
    sheet_sum(s,
              &(sum_of){"sensible_asked", "Sensible capacity needed", "load x (1 + margin)", M_HEAT,
                        h->Q_sensible * (1.0 + h->margin)},
              "# x (1 + # / 100)",
              TERMS(sheet_term(s, M_HEAT, h->Q_sensible), sheet_term(s, M_PERCENT, h->margin)));
    if (e->point->has_design && h->judge_load_at == CT_LOAD_SETTLED) {
        sheet_say(s,
                  "Under that load the house does not keep the humidity entered. It settles where "
                  "as much water leaves as comes in, and there the capacity is judged:");
        sheet_given(s, "design_humidity", "Relative humidity on the design day", M_PERCENT,
                    e->point->design.room.rh);
        sheet_given(s, "design_sensible", "Net sensible capacity in that air", M_HEAT,
                    e->point->design.Q_house);
    }
    for (int i = CT_LIMIT_BALANCE + 1; i < CT_LIMIT_COUNT; i++)
        sum_limit(s, e, (ct_limit)i);
    sheet_say(s, e->point->passes ? "This speed passes every limit that decides."
                                  : "This speed does not pass.");
    say_settled(s, e);
    say_notes(s, e);
}
