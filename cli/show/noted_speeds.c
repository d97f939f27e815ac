#include "show/noted_speeds.h"

#include "base/paragraph.h"
#include "judge/notes.h"
#include "show/limit_words.h"
#include "show/note_words.h"
#include "show/tap_words.h"

typedef struct {
    int n, first, last; /* speeds with a note; -1: none */
    bool pick;          /* one of them is the pick */
} noted;

static noted count(const noted_speeds *s, unsigned note)
{
    noted at = {.first = -1, .last = -1};
    for (int i = 0; i < s->pick->n_points; i++) {
        if (!(ct_pick_candidate(s->pick, s->sweep, i)->notes & note)) continue;
        if (at.n++ == 0) at.first = i;
        at.last = i;
        if (s->pick->found && i == s->pick->index) at.pick = true;
    }
    return at;
}

static void list_taps(FILE *out, const noted_speeds *s, unsigned note)
{
    const char *between = "";
    for (int i = 0; i < s->pick->n_points; i++) {
        const ct_point *p = ct_pick_candidate(s->pick, s->sweep, i);
        if (!(p->notes & note)) continue;
        const char *name = s->job->unit->blower.tap[p->tap].name;
        fprintf(out, "%s%s%s", between, tap_prefix(name), name);
        between = ", ";
    }
}

/* "480 to 500 cfm/ton", or of those between that have it their number. */
static void say_airflows(FILE *out, const noted_speeds *s, const noted *at, bool metric)
{
    const quantity_form *form = quantity_for_people(Q_AIRFLOW_PER_TON, metric);
    const ct_point *first = ct_pick_candidate(s->pick, s->sweep, at->first);
    char last[SHOWN_SIZE];
    shown(last, Q_AIRFLOW_PER_TON, ct_pick_candidate(s->pick, s->sweep, at->last)->V_std_per_ton,
          metric);
    if (at->n < at->last - at->first + 1)
        fprintf(out, "%d of %d airflows, from ", at->n, s->pick->n_points);
    if (at->n > 1)
        fprintf(out, "%.*f to ", form->decimals, quantity_show(form, first->V_std_per_ton));
    fputs(last, out);
}

static void print_note(FILE *out, const noted_speeds *s, unsigned note, bool metric)
{
    const noted at = count(s, note);
    const bool all = at.n == s->pick->n_points;
    paragraph text;
    FILE *t;
    if (at.n == 0 || !(t = paragraph_open(&text))) return;
    if (!all && s->pick->from_taps) list_taps(t, s, note);
    if (!all && !s->pick->from_taps) say_airflows(t, s, &at, metric);
    if (!all) fputs(!at.pick ? ": " : at.n > 1 ? ", the pick among them: " : ", the pick: ", t);
    note_explain(t, note, metric);
    paragraph_print(&text, out, all ? "Note: " : "Note, at ", 2);
}

void noted_speeds_print(FILE *out, const noted_speeds *s, unsigned which, bool metric)
{
    for (int bit = 0; bit < CT_NOTE_COUNT; bit++)
        if (which & 1u << bit) print_note(out, s, 1u << bit, metric);
}

unsigned noted_speeds_answer(const noted_speeds *s)
{
    const ct_point *pick = ct_pick_point(s->pick, s->sweep);
    unsigned notes = 0;
    if (pick) return pick->notes;
    for (int i = 0; i < s->pick->n_points; i++)
        notes |= ct_pick_candidate(s->pick, s->sweep, i)->notes;
    return notes & CT_NOTE_METERING;
}

void noted_speeds_print_answer(FILE *out, const noted_speeds *s, bool metric)
{
    const unsigned notes = noted_speeds_answer(s);
    if (s->pick->found)
        notes_print(out, notes, "Note: ", metric);
    else
        noted_speeds_print(out, s, notes, metric);
}

const char *note_mark(unsigned notes)
{
    if (notes & CT_NOTE_LITTLE_SUPERHEAT) return " *";
    return notes & CT_NOTE_STARVED ? " ~" : "";
}

void note_marks_explain(FILE *out, unsigned notes, const char *where)
{
    const bool little = notes & CT_NOTE_LITTLE_SUPERHEAT, much = notes & CT_NOTE_STARVED;
    if (little) fputs(" *: too little superheat, now or on a hotter day", out);
    if (much) fputs(little ? "; ~: too much" : " ~: too much superheat", out);
    if (little || much) fprintf(out, "; see %s.\n", where);
}
