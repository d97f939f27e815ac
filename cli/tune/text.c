#include "tune/text.h"

#include <math.h>
#include <string.h>

#include "base/paragraph.h"
#include "base/units.h"
#include "show/limit_words.h"
#include "show/quantity.h"
#include "tune/findings.h"

/* Where the readings disagree, shifts at least this likely are listed. */
#define SHIFT_TOLD 0.02

/* A deviation that one honest reading in 80 exceeds. */
#define OUTLIER 2.5

static void print_reading(FILE *out, const ct_tune_reading *r, bool metric)
{
    const quantity_form *form = quantity_for_people(tune_quantity(r->kind), metric);
    const double given = quantity_show(form, r->given);
    fprintf(out, "  %-30s%9.*f", ct_reading_name(r->kind), form->decimals, given);
    if (!r->used) {
        fprintf(out, " %-6s  (not used here)\n", form->unit);
        return;
    }
    fprintf(out, " %s%*.*f", form->unit, 16 - (int)strlen(form->unit), form->decimals,
            quantity_show(form, r->predicted));
    if (isfinite(r->z))
        fprintf(out, "%9.*f%9.1f%s\n", form->decimals, r->u * form->factor,
                tune_without_minus(r->z, 1), r->chance >= TUNE_SUSPECT ? "  <-" : "");
    else
        fprintf(out, "   (taken as read)\n");
}

/* Where in the log the averages come from. */
static void print_log(FILE *out, const char *when, const ct_gauge_log *log)
{
    if (!log || !(log->to > log->from)) return;
    paragraph_wrap_text(
        out, when, 2 * (*when != '\0'),
        "The log is steady from minute %.1f to minute %.1f, the longest such stretch; the "
        "readings below are the averages over it, their doubt is the instrument's and the "
        "scatter's.",
        log->from / 60.0, log->to / 60.0);
}

void tune_source_print(FILE *out, const char *when, const tune_result *r)
{
    char first[40];
    snprintf(first, sizeof first, "%s%s stages: ", when, *when ? "two" : "Two");
    if (r->j->c->outdoor.low.has)
        paragraph_wrap(out,
                       r->low_ran
                           ? "the readings are those of the low stage, and so is the model here."
                           : "the readings are taken to be those of the high stage. If the low one "
                             "ran, write outdoor_unit.stage: low among them.",
                       first, 2);
    print_log(out, when, r->log);
}

static void print_readings(FILE *out, const ct_tune *t, bool metric)
{
    fprintf(out, "\n%-32s%9s        %9s%9s%9s\n", "Reading", "measured", "model", "+/-", "off by");
    for (int i = 0; i < t->n; i++)
        print_reading(out, &t->reading[i], metric);
    paragraph_wrap_text(
        out, "  (", 3,
        "+/-: the doubt in the reading and in the model; two of three lie within it. Off by: how "
        "many +/- the reading is above what the others say it should be; past 2 is unusual.)");
}

static void print_multipliers(FILE *out, const tune_result *r)
{
    const ct_tune *t = r->t;
    char airflow[TUNE_CAUSE_SIZE] = "";
    const bool other = tune_airflow_words(airflow, sizeof airflow, r);
    fprintf(out, "\n%-26s%7s%20s%18s%8s\n", "Model against nameplate", "times", "68% sure",
            "95% sure", "learned");
    for (int i = 0; i < CT_TUNE_MULTIPLIERS; i++) {
        const ct_tune_value *v = &t->value[i];
        if (!ct_tune_value_told(t, i)) continue;
        fprintf(out, "  %-24s%7.2f%12.2f to %.2f%10.2f to %.2f%7.0f%%\n",
                ct_tune_name((ct_tune_unknown)i), v->value, v->value * exp(-v->u),
                v->value * exp(v->u), v->low, v->high, 100.0 * v->narrowed);
    }
    paragraph_wrap_text(out, "  (", 3,
                        "Learned: how much of the doubt the readings took away%s%s.)",
                        other ? "; " : "", airflow);
}

static void print_setting(FILE *out, const ct_tune *t, ct_tune_unknown i, const char *name,
                          bool metric)
{
    const ct_tune_value *v = &t->value[i];
    const quantity_form *form = quantity_for_people(Q_DELTA_T, metric);
    if (!v->fitted) return;
    fprintf(out, "  %-24s%6.0f %s, 95%% sure %.0f to %.0f\n", name,
            tune_without_minus(quantity_show(form, v->value), 0), form->unit,
            tune_without_minus(quantity_show(form, v->low), 0),
            tune_without_minus(quantity_show(form, v->high), 0));
}

static void print_without_tap(FILE *out, const tune_result *r, bool metric)
{
    char V[SHOWN_SIZE], per_ton[SHOWN_SIZE];
    const ct_tune *t = r->t;
    if (t->tap >= 0) return;
    paragraph_wrap_text(
        out, "", 0,
        "%s: the airflow is compared with %s, %s of standard air (%s%s), and is not written to the "
        "case.",
        r->j->c->indoor[0].blower.n_taps > 0 ? "No blower tap was given"
                                             : "The case has no blower table",
        t->as_picked ? "what sweep picks" : "the rated airflow",
        shown(V, Q_AIRFLOW, t->V_without_tap, metric),
        shown(per_ton, Q_AIRFLOW_PER_TON, t->V_without_tap_per_ton, metric),
        r->low_ran ? " of the low stage" : "");
}

static void print_trust(FILE *out, const tune_result *r, bool metric)
{
    const ct_tune *t = r->t;
    const bool learned = tune_learned_anything(t);
    fputc('\n', out);
    if (!learned)
        paragraph_wrap_text(
            out, "", 0,
            "These readings say little about the model: the corrections stay near 1 because "
            "nothing moves them, not because the system was found to be good.");
    for (int i = 0; learned && i < CT_TUNE_MULTIPLIERS; i++)
        if (ct_tune_value_told(t, i) && t->value[i].narrowed < TUNE_LEARNED)
            paragraph_wrap_text(out, "", 0, "The readings say almost nothing about the %s.",
                                ct_tune_name((ct_tune_unknown)i));
    print_without_tap(out, r, metric);
}

/* The set as a whole may pass with one reading in it that stands out. */
static void print_outliers(FILE *out, const ct_tune *t)
{
    for (int i = 0; i < t->n; i++)
        if (fabs(t->reading[i].z) > OUTLIER)
            paragraph_wrap_text(out, "  - ", 4,
                                "look again at the %s: it is off by %.1f times its doubt",
                                ct_reading_name(t->reading[i].kind), fabs(t->reading[i].z));
}

/* How large a shift of each reading would explain what does not fit. */
static void print_shifts(FILE *out, const ct_tune *t, bool metric)
{
    for (int i = 0; i < t->n; i++) {
        const ct_tune_reading *r = &t->reading[i];
        const quantity_form *form = quantity_for_people(tune_quantity(r->kind), metric);
        if (!(r->chance >= SHIFT_TOLD)) continue;
        paragraph_wrap_text(out, "  - ", 4, "%s: %.0f%%; it would read %.*f%s%s too %s",
                            ct_reading_name(r->kind), 100.0 * fmin(r->chance, 0.99), form->decimals,
                            fabs(r->shift) * form->factor, ct_units_gap(form->unit), form->unit,
                            r->shift > 0.0 ? "high" : "low");
    }
}

static void print_far(FILE *out, const ct_tune *t)
{
    if (t->explained == 0 && t->fits) return;
    if (t->explained < 0) {
        paragraph_wrap_text(out, "", 0,
                            "The corrections are rough: no single cause explains the readings.");
        return;
    }
    if (t->explained == 0) {
        paragraph_wrap_text(out, "", 0, "The system is far from its plate.");
        return;
    }
    paragraph_wrap_text(out, "", 0,
                        "The corrections are those under the likeliest cause above; %s (p %.2g).",
                        t->p_sound < CT_TUNE_P_LOW ? "without a cause the readings would not fit"
                                                   : "without a cause the readings would fit, too",
                        t->p_sound);
}

static void print_fit(FILE *out, const ct_tune *t, bool metric)
{
    if (t->dof <= 0) {
        paragraph_wrap_text(out, "", 0, "Too few readings to check them against each other.");
        return;
    }
    if (t->agree) {
        paragraph_wrap_text(out, "", 0,
                            "The readings fit together (chi-square %.1f for %d; p %.2f).", t->chi2,
                            t->dof, t->p);
        print_far(out, t);
        print_outliers(out, t);
        return;
    }
    paragraph_wrap_text(
        out, "", 0,
        "THE READINGS DO NOT FIT TOGETHER, whatever is wrong with the system: good readings "
        "disagree this much in %.2g%% of visits. Do not trust the corrections until this is "
        "cleared up. Chance of each reading to be the one that is off:",
        100.0 * t->p_agree);
    print_shifts(out, t, metric);
    paragraph_wrap_text(out, "  ", 2, "More than one may be wrong, or the system was not steady.");
}

/* A heat is known to some hundreds of Btu/h at best. */
static const char *heat_text(char text[SHOWN_SIZE], double v, bool metric)
{
    const double step = 100.0 * CT_W_PER_BTUH;
    return shown(text, Q_HEAT, metric ? v : step * round(v / step), metric);
}

static void print_heat(FILE *out, const ct_tune_heat *h, bool metric)
{
    char air[SHOWN_SIZE], u_air[SHOWN_SIZE], ref[SHOWN_SIZE], u_ref[SHOWN_SIZE], apart[80] = "";
    if (!h->has) return;
    if (100.0 * fabs(h->share) >= 0.5)
        snprintf(apart, sizeof apart, ": the air side is %.0f%% %s, %.1f times the doubt",
                 100.0 * fabs(h->share), h->share < 0.0 ? "lower" : "higher", fabs(h->z));
    fputc('\n', out);
    paragraph_wrap_text(
        out, "", 0, "Heat at the coil: by the air %s +/- %s, by the refrigerant %s +/- %s. %s%s.",
        heat_text(air, h->Q_air, metric), heat_text(u_air, h->u_air, metric),
        heat_text(ref, h->Q_ref, metric), heat_text(u_ref, h->u_ref, metric),
        h->off              ? "THE TWO SIDES DO NOT AGREE"
        : fabs(h->z) <= 1.0 ? "They agree within their doubt"
                            : "They are not clearly apart",
        apart);
}

/* What to read next, when nothing has to be put right first. */
static void print_next(FILE *out, const ct_tune *t)
{
    char text[320] = "";
    size_t n = 0;
    for (int i = 0; i < t->n_next; i++) {
        const ct_tune_next *x = &t->next[i];
        snprintf(text + n, sizeof text - n, "%s%s%s (to %.1f%%)", n ? ", " : "",
                 ct_reading_name(x->kind), x->again ? " again" : "", 100.0 * x->u);
        n += strlen(text + n);
    }
    if (n == 0 || t->charge_first) return;
    fputc('\n', out);
    paragraph_wrap_text(
        out, "", 0,
        "To know more: the sensible capacity on this visit is known to %.1f%% (68%% sure). "
        "The reading that would narrow this most: %s.",
        100.0 * t->u_capacity, text);
}

void tune_text_print(FILE *out, const tune_result *r, bool metric)
{
    const ct_tune *t = r->t;
    verdict_print(out, &r->verdict, 0);
    if (r->j->c->job.title[0]) fprintf(out, "%s\n", r->j->c->job.title);
    fprintf(out, "%s%s%s%s\n", t->fitted ? "Model tuned to readings" : "Readings",
            r->tap[0] ? " on tap '" : "", r->tap, r->tap[0] ? "'" : "");
    tune_source_print(out, "", r);
    if (!t->fitted) {
        tune_impossible_print(out, r, metric);
        verdict_print_findings(out, &r->verdict, 0);
        return;
    }
    tune_findings_print(out, r, metric);
    print_readings(out, t, metric);
    print_multipliers(out, r);
    print_setting(out, t, CT_TUNE_SUPERHEAT, "superheat at the coil", metric);
    print_setting(out, t, CT_TUNE_SUBCOOLING, "subcooling", metric);
    print_trust(out, r, metric);
    print_fit(out, t, metric);
    print_heat(out, &t->heat, metric);
    print_next(out, t);
    verdict_print_findings(out, &r->verdict, 0);
}
