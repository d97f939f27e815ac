#include "tune/change.h"

#include <math.h>
#include <string.h>

#include "base/paragraph.h"
#include "case/readings.h"
#include "study/tune_change.h"
#include "tune/findings.h"
#include "tune/text.h"

/* A difference past this many standard deviations is more than doubt. */
#define MORE_THAN_DOUBT 2.0

static const char *const answers[CT_CHANGE_COUNT] = {
    [CT_CHANGE_UNCLEAR] =
        ("WHETHER THE FIX WORKED CANNOT BE SAID: the readings of a visit contradict "
         "each other, cannot all be true, or point to no cause. Clear that up first."),
    [CT_CHANGE_SOUND] = "Nothing wrong stands out, before or after.",
    [CT_CHANGE_FIXED] = "THE FIX WORKED: nothing wrong stands out any more.",
    [CT_CHANGE_BETTER] = "BETTER, BUT NOT DONE: the same is wrong, by clearly less.",
    [CT_CHANGE_SAME] = "THE FIX DID NOT WORK: the same is wrong as before.",
    [CT_CHANGE_OTHER] = "SOMETHING ELSE IS LIKELY WRONG NOW than before; see below.",
    [CT_CHANGE_BROKEN] = "SOMETHING IS LIKELY WRONG NOW that was not before; see below.",
};

static void print_first(FILE *out, const char *when, const tune_result *r, bool metric)
{
    const ct_tune *t = r->t;
    char text[TUNE_CAUSE_SIZE], first[24];
    snprintf(first, sizeof first, "  %-8s", when);
    if (!t->fitted)
        paragraph_wrap_text(out, first, 10, "readings that cannot all be true");
    else if (!t->agree)
        paragraph_wrap_text(out, first, 10, "readings that do not fit together");
    else if (*tune_sign_words(t))
        paragraph_wrap_text(out, first, 10, "%s", tune_sign_words(t));
    else if (t->wrong && tune_first_told(t) < 0)
        paragraph_wrap_text(out, first, 10, "something is wrong, but nothing that can be named");
    else if (!t->wrong)
        paragraph_wrap_text(out, first, 10, "%4.0f%% nothing wrong stands out",
                            100.0 * fmin(t->sound, 0.99));
    else {
        const ct_tune_explanation *e = &t->explanation[t->wrong ? tune_first_told(t) : 0];
        tune_explanation_words(text, sizeof text, r, e, metric);
        paragraph_wrap_text(out, first, 15, "%4.0f%% %s", 100.0 * fmin(e->chance, 0.99), text);
    }
}

static const ct_tune_reading *reading_of(const ct_tune *t, ct_reading_kind kind)
{
    for (int i = 0; i < t->n; i++)
        if (t->reading[i].kind == kind) return &t->reading[i];
    return NULL;
}

static double as_shown(double v, int decimals)
{
    const double scale = pow(10.0, decimals);
    return tune_without_minus(round(v * scale) / scale, decimals);
}

/* The change is that of the values shown, so that it follows from them. */
static void print_reading(FILE *out, const ct_tune_reading *a, const ct_tune_reading *b,
                          bool metric)
{
    const quantity_form *f = quantity_for_people(tune_quantity(b->kind), metric);
    const int n = f->decimals;
    const double before = as_shown(quantity_show(f, a->given), n);
    const double after = as_shown(quantity_show(f, b->given), n);
    fprintf(out, "  %-30s%9.*f%9.*f%+9.*f %s\n", ct_reading_name(b->kind), n, before, n, after, n,
            tune_without_minus(after - before, n), f->unit);
}

static void print_readings(FILE *out, const ct_tune *before, const ct_tune *after, bool metric)
{
    fprintf(out, "\n%-32s%9s%9s%9s\n", "Reading", "before", "after", "change");
    for (int i = 0; i < after->n; i++) {
        const ct_tune_reading *b = &after->reading[i], *a = reading_of(before, b->kind);
        if (a) print_reading(out, a, b, metric);
    }
    fputs("  (The weather and the house differ between visits: compare what is below.)\n", out);
}

/* A third decimal, or a percent of change would not show in the values. */
static void print_change(FILE *out, const char *name, const ct_change_value *v)
{
    const double before = as_shown(v->before, 3), after = as_shown(v->after, 3);
    fprintf(out, "  %-30s%9.3f%9.3f%+9.1f%%%s\n", name, before, after,
            tune_without_minus(100.0 * (after / before - 1.0), 1),
            fabs(v->z) >= MORE_THAN_DOUBT ? "" : "  (within the doubt)");
}

static void print_model(FILE *out, const ct_tune_change *c, bool charge_first)
{
    fprintf(out, "\n%-32s%9s%9s%9s\n", "Against the nameplate", "before", "after", "change");
    if (c->has_capacity) print_change(out, "sensible capacity", &c->capacity);
    for (int i = 0; i < CT_TUNE_MULTIPLIERS; i++)
        if (c->has[i]) print_change(out, ct_tune_name((ct_tune_unknown)i), &c->value[i]);
    if (charge_first)
        fputs("  (Not the coil: charge, metering or the superheat read was in doubt on a visit.)\n",
              out);
}

void tune_change_print(FILE *out, const tune_result *before, const tune_result *after, bool metric)
{
    ct_tune_change c;
    ct_tune_compare(before->t, after->t, &c);
    verdict_print(out, &after->verdict, 0);
    if (after->j->c->job.title[0]) fprintf(out, "%s\n", after->j->c->job.title);
    fputs("Two visits, before and after\n", out);
    tune_source_print(out, "Before: ", before);
    tune_source_print(out, "After: ", after);
    fputc('\n', out);
    paragraph_wrap_text(out, "", 0, "%s", answers[c.kind]);
    print_first(out, "before", before, metric);
    print_first(out, "after", after, metric);
    if (before->t->fitted && after->t->fitted) {
        print_readings(out, before->t, after->t, metric);
        print_model(out, &c, before->t->charge_first || after->t->charge_first);
    }
    fputs("\nAfter:\n", out);
    if (after->t->fitted)
        tune_findings_print(out, after, metric);
    else
        tune_impossible_print(out, after, metric);
    if (!before->t->fitted) {
        fputs("\nBefore:\n", out);
        tune_impossible_print(out, before, metric);
    }
    verdict_print_findings(out, &after->verdict, 0);
}
