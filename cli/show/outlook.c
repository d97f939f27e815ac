#include "show/outlook.h"

#include <math.h>

#include "base/paragraph.h"
#include "show/fix_words.h"
#include "show/heating_words.h"
#include "show/json_out.h"
#include "show/limit_words.h"

enum { FIRST_SIZE = 40 };

/* The first airflow past the pick that passes with the doubt to spare; -1: none does. */
static int ample(const outlook *o)
{
    const ct_nearness *near = &o->close.pick;
    for (int i = o->pick->index + 1; i < o->pick->n_points; i++) {
        const ct_point *p = ct_pick_candidate(o->pick, o->sweep, i);
        if (p->passes && p->limit[near->limit].slack >= near->doubt) return i;
    }
    return -1;
}

ct_status outlook_find(const ct_setup *setup, outlook *o, ct_fault *fault)
{
    const ct_pick *k = o->pick;
    ct_status status = CT_OK;
    o->has_fixes = false;
    o->close = (ct_close_call){.close = false};
    o->ample = -1;
    if (k->found) status = ct_close_call_run(setup, o->sweep, k, &o->close, fault);
    if (o->close.close && !k->from_taps) o->ample = ample(o);
    if (!k->found && !k->refused) {
        status = ct_fixes_run(setup, o->sweep, &o->fixes, fault);
        o->has_fixes = status == CT_OK && o->fixes.has_gap;
    }
    if (status != CT_OK) o->close = (ct_close_call){.close = false};
    return status == CT_SYSTEM ? CT_SYSTEM : CT_OK;
}

static const char *first_words(char first[FIRST_SIZE], char letter, const char *label)
{
    snprintf(first, FIRST_SIZE, "%.1s%s%s", letter ? &letter : "", letter ? ": " : "", label);
    return first;
}

static const ct_point *speed(const outlook *o, int i)
{
    return ct_pick_candidate(o->pick, o->sweep, i);
}

/* ---- Words ----------------------------------------------------------------------- */

/* "sensible load with 320 Btu/h to spare; the usual doubt is 2,700 Btu/h" */
static void say_near(FILE *out, const ct_nearness *n, const ct_point *p, bool metric)
{
    char by[SHOWN_SIZE], doubt[SHOWN_SIZE];
    const quantity q = limit_words_of(n->limit, p).slack;
    const bool passes = n->slack >= 0;
    fprintf(out, "%s %s %s%s; the usual doubt is %s", ct_limit_of(n->limit)->name,
            passes ? "with" : "by", shown_gap(by, q, fabs(n->slack), metric),
            passes ? " to spare" : "", shown_gap(doubt, q, n->doubt, metric));
}

static void say_ample(FILE *out, const outlook *o, bool metric)
{
    char V[SHOWN_SIZE], per_ton[SHOWN_SIZE];
    if (o->ample < 0) return;
    const ct_point *p = speed(o, o->ample);
    fprintf(out, "At %s (%s) there is that much to spare. ", shown(V, Q_AIRFLOW, p->V, metric),
            shown(per_ton, Q_AIRFLOW_PER_TON, p->V_std_per_ton, metric));
}

void outlook_explain_close(FILE *out, const outlook *o, bool metric)
{
    const ct_close_call *c = &o->close;
    if (c->close) {
        fputs("the pick passes on ", out);
        say_near(out, &c->pick, speed(o, o->pick->index), metric);
        fputs(". ", out);
        say_ample(out, o, metric);
    }
    if (c->tie) {
        fputs(c->close ? "The" : "the", out);
        fputs(" next slower is nearly as good: it fails on ", out);
        say_near(out, &c->lower, speed(o, o->pick->lower), metric);
        fputs(". ", out);
    }
}

void outlook_print_close(FILE *out, const outlook *o, char letter, bool metric)
{
    char first[FIRST_SIZE];
    paragraph text;
    FILE *t;
    if ((!o->close.close && !o->close.tie) || !(t = paragraph_open(&text))) return;
    outlook_explain_close(t, o, metric);
    fputs(o->drawn ? "The chances are below." : "`sweep --uncertain 1000` gives the chances.", t);
    paragraph_print(&text, out, first_words(first, letter, "Close call: "), 2);
}

void outlook_print_fixes(FILE *out, const outlook *o, char letter, bool metric)
{
    char first[FIRST_SIZE];
    if (!o->has_fixes) return;
    fprintf(out, "%s%s\n", first_words(first, letter, "What would fix it,"),
            " each tried by itself:");
    fixes_print(out, &o->fixes, o->job->c, o->job->unit, metric);
}

void outlook_print_best_fixes(FILE *out, const outlook *o, bool metric)
{
    if (!o->has_fixes) return;
    fputs("What would fix it best, each tried by itself:\n", out);
    fixes_print_best(out, &o->fixes, o->job->c, o->job->unit, metric);
}

void outlook_print(FILE *out, const outlook *o, char letter, bool metric)
{
    outlook_print_close(out, o, letter, metric);
    outlook_print_fixes(out, o, letter, metric);
    heating_print(out, o->job, letter, metric);
}

/* ---- JSON ------------------------------------------------------------------------ */

static bool put_near(json_t *o, const char *name, const ct_nearness *n, const ct_point *p, bool si)
{
    const quantity q = limit_words_of(n->limit, p).slack;
    json_t *near = open_object(o, name);
    return near && put_text(near, "limit", ct_limit_of(n->limit)->token) &&
           put_value(near, "slack", q, n->slack, si) && put_value(near, "doubt", q, n->doubt, si);
}

bool outlook_put_close(json_t *object, const outlook *o, bool si)
{
    const ct_close_call *c = &o->close;
    if (!o->pick->found) return true;
    return put_bool(object, "close_call", c->close) && put_bool(object, "near_tie", c->tie) &&
           (!c->pick.has ||
            put_near(object, "nearest_limit", &c->pick, speed(o, o->pick->index), si)) &&
           (!c->tie || put_near(object, "lower_fails", &c->lower, speed(o, o->pick->lower), si));
}

bool outlook_put_fixes(json_t *object, const outlook *o, bool si)
{
    return !o->has_fixes || fixes_put(object, &o->fixes, o->job->c, o->job->unit, si);
}

bool outlook_put(json_t *object, const outlook *o, bool si)
{
    json_t *own = open_object(object, "outlook");
    return own && outlook_put_close(own, o, si) && outlook_put_fixes(own, o, si) &&
           heating_put(own, o->job, si);
}
