#include "tune/text.h"

#include <math.h>

#include "base/paragraph.h"
#include "show/quantity.h"

/* Less than this share of the doubt taken away: the readings say nothing about it. */
#define LEARNED 0.10

/* A deviation that one honest reading in 80 exceeds. */
#define OUTLIER 2.5

quantity tune_quantity(ct_reading_kind kind)
{
    switch (kind) {
    case CT_RETURN_RH:
    case CT_SUPPLY_RH: return Q_FRACTION;
    case CT_SUCTION_PRESSURE:
    case CT_LIQUID_PRESSURE: return Q_PRESSURE_GAUGE;
    case CT_STATIC: return Q_STATIC;
    case CT_AIRFLOW: return Q_AIRFLOW;
    case CT_COMPRESSOR_POWER:
    case CT_OUTDOOR_POWER:
    case CT_BLOWER_POWER: return Q_ELECTRIC;
    default: return Q_TEMPERATURE;
    }
}

/* ---- Terminal -------------------------------------------------------------------- */

static void print_reading(FILE *out, const ct_tune_reading *r, bool metric)
{
    const quantity_form *form = quantity_for_people(tune_quantity(r->kind), metric);
    const double given = quantity_show(form, r->given);
    fprintf(out, "  %-30s%9.*f", ct_reading_name(r->kind), form->decimals, given);
    if (!r->used) {
        fprintf(out, " %-6s  (not used here)\n", form->unit);
        return;
    }
    fprintf(out, " %-6s%8.*f", form->unit, form->decimals, quantity_show(form, r->predicted));
    if (isfinite(r->z))
        fprintf(out, "%9.*f%9.1f%s\n", form->decimals, r->u * form->factor,
                fabs(r->z) < 0.05 ? 0.0 : r->z, /* never "-0.0" */
                r->suspect ? "  <-" : "");
    else
        fprintf(out, "   (taken as read)\n");
}

static void print_readings(FILE *out, const ct_tune *t, bool metric)
{
    fprintf(out, "\n%-32s%9s       %9s%9s%9s\n", "Reading", "measured", "model", "+/-", "off by");
    for (int i = 0; i < t->n; i++)
        print_reading(out, &t->reading[i], metric);
    wrap_text(
        out, "  (", 3,
        "+/-: the doubt in the reading, one standard deviation. Off by: the reading less what "
        "the others say it should be, in standard deviations; past 2 is unusual.)");
}

static void print_multipliers(FILE *out, const ct_tune *t)
{
    fprintf(out, "\n%-26s%7s%20s%18s%8s\n", "Model against nameplate", "times", "68 % sure",
            "95 % sure", "learned");
    for (int i = 0; i < CT_TUNE_MULTIPLIERS; i++) {
        const ct_tune_value *v = &t->value[i];
        fprintf(out, "  %-24s%7.3f%10.3f to %.3f%8.3f to %.3f%6.0f %%\n",
                ct_tune_name((ct_tune_unknown)i), v->value, v->value * exp(-v->u),
                v->value * exp(v->u), v->low, v->high, 100.0 * v->narrowed);
    }
    fputs("  (Learned: how much of the doubt the readings took away.)\n", out);
}

static void print_setting(FILE *out, const ct_tune *t, ct_tune_unknown i, bool metric)
{
    const ct_tune_value *v = &t->value[i];
    const quantity_form *form = quantity_for_people(Q_DELTA_T, metric);
    if (!v->fitted) return;
    fprintf(out, "  %-24s%7.1f %s, 95 %% sure %.1f to %.1f\n", ct_tune_name(i),
            quantity_show(form, v->value), form->unit, quantity_show(form, v->low),
            quantity_show(form, v->high));
}

static void print_trust(FILE *out, const ct_tune *t)
{
    int learned = 0;
    fputc('\n', out);
    for (int i = 0; i < CT_TUNE_MULTIPLIERS; i++)
        learned += t->value[i].narrowed >= LEARNED;
    if (learned == 0)
        wrap_text(out, "", 0,
                  "These readings say little about the model: the multipliers stay near 1 because "
                  "nothing moves them, not because the system was found to be good.");
    for (int i = 0; learned > 0 && i < CT_TUNE_MULTIPLIERS; i++)
        if (t->value[i].narrowed < LEARNED)
            wrap_text(out, "", 0, "The readings say almost nothing about the %s.",
                      ct_tune_name((ct_tune_unknown)i));
    if (t->tap < 0)
        wrap_text(out, "", 0,
                  "No blower tap was given: the airflow is compared with the rated airflow and is "
                  "not written to the case.");
}

static void print_suspects(FILE *out, const ct_tune *t)
{
    int n = 0;
    for (int i = 0; i < t->n; i++) {
        const ct_tune_reading *r = &t->reading[i];
        if (!r->suspect) continue;
        n++;
        wrap_text(out, "  - ", 4, "%s: without it the others fit together (p %.2f); read it again",
                  ct_reading_name(r->kind), r->p_without);
    }
    if (n > 1)
        wrap_text(out, "  ", 2,
                  "They contradict each other; the readings cannot tell which of "
                  "them is wrong.");
    if (n == 0)
        wrap_text(out, "  ", 2,
                  "No single reading explains it. Several are wrong, the system was "
                  "not steady, or it does something the model does not know.");
}

/* The set as a whole may pass with one odd reading in it. */
static void print_outliers(FILE *out, const ct_tune *t)
{
    for (int i = 0; i < t->n; i++)
        if (fabs(t->reading[i].z) > OUTLIER)
            wrap_text(out, "  - ", 4,
                      "but look again at the %s: it is off by %.1f standard deviations",
                      ct_reading_name(t->reading[i].kind), fabs(t->reading[i].z));
}

static void print_fit(FILE *out, const ct_tune *t)
{
    if (t->dof <= 0) {
        wrap_text(out, "", 0, "Too few readings to check them against each other.");
        return;
    }
    if (t->fits) {
        wrap_text(out, "", 0, "The readings fit together (chi-square %.1f for %d; p %.2f).",
                  t->chi2, t->dof, t->p);
        print_outliers(out, t);
        return;
    }
    wrap_text(out, "", 0,
              "THE READINGS DO NOT FIT TOGETHER (chi-square %.1f for %d; good readings disagree "
              "this much in %.2g %% of visits). Do not trust the multipliers until this is "
              "cleared up:",
              t->chi2, t->dof, 100.0 * t->p);
    print_suspects(out, t);
}

static void print_heat(FILE *out, const ct_tune_heat *h, bool metric)
{
    const quantity_form *form = quantity_for_people(Q_HEAT, metric);
    if (!h->has) return;
    fputc('\n', out);
    wrap_text(out, "", 0,
              "Heat at the coil: by the air %.*f +/- %.*f %s, by the refrigerant %.*f +/- %.*f %s. "
              "%s the air side is %.0f %% %s (%.1f standard deviations).",
              form->decimals, quantity_show(form, h->Q_air), form->decimals,
              quantity_show(form, h->u_air), form->unit, form->decimals,
              quantity_show(form, h->Q_ref), form->decimals, quantity_show(form, h->u_ref),
              form->unit,
              h->off ? "THE TWO SIDES DO NOT AGREE:" : "They agree within their uncertainty:",
              100.0 * fabs(h->share), h->share < 0.0 ? "lower" : "higher", fabs(h->z));
}

const char *tune_cause_words(ct_cause cause)
{
    switch (cause) {
    case CT_CAUSE_LOW_AIRFLOW:
        return "airflow more than 10 % under the blower's table: check filter, coil face, closed "
               "registers, blower wheel, tap";
    case CT_CAUSE_COIL:
        return "coil more than 15 % low: dirty, poorly fed, or smaller than "
               "stated";
    case CT_CAUSE_CONDENSER:
        return "condenser more than 10 % low: dirty, blocked, recirculating its own air, or "
               "overcharged";
    case CT_CAUSE_COMPRESSOR:
        return "compressor flow more than 7 % low: worn, leaking valves, or smaller than "
               "stated";
    case CT_CAUSE_LOW_CHARGE: return "low charge: little subcooling while there is superheat";
    case CT_CAUSE_OVERCHARGE: return "too much charge: more than 18 F (10 K) of subcooling";
    case CT_CAUSE_STARVED:
        return "coil starved although the charge is there: check metering device, bulb, filter "
               "drier, restrictions";
    case CT_CAUSE_FLOODED:
        return "hardly any superheat: liquid may reach the compressor; check metering device, "
               "bulb, low airflow";
    case CT_CAUSE_COUNT: break;
    }
    return "";
}

static void print_causes(FILE *out, const ct_tune *t)
{
    int n = 0;
    for (int i = 0; i < CT_CAUSE_COUNT; i++) {
        char first[24];
        if (t->cause[i] < TUNE_CAUSE_REPORTED) continue;
        if (n++ == 0)
            fputs("\nWorth checking (possible causes, each with the chance that it is there):\n",
                  out);
        snprintf(first, sizeof first, "  %3.0f %%  ", 100.0 * fmin(t->cause[i], 0.99));
        wrap_text(out, first, 9, "%s", tune_cause_words((ct_cause)i));
    }
    fputs(!t->fits || n == 0 ? "\n" : "", out);
    if (!t->fits)
        wrap_text(out, "", 0,
                  "What else may be wrong with the system is not judged while the readings "
                  "disagree.");
    else if (n == 0)
        wrap_text(out, "", 0,
                  "Low airflow, dirty coils, wrong charge and a weak compressor are each less "
                  "likely than not.");
}

static void print_impossible(FILE *out, const ct_tune *t)
{
    fputs("\nTHESE READINGS CANNOT ALL BE TRUE; nothing was fitted:\n", out);
    for (int i = 0; i < CT_IMPOSSIBLE_COUNT; i++)
        if (t->impossible[i].found)
            wrap_text(out, "  - ", 4, "%s (by %.1f standard deviations)",
                      ct_impossible_text((ct_impossible)i), t->impossible[i].by);
    wrap_text(out, "", 0,
              "Read them again after the system has run steadily for 15 minutes. Check for swapped "
              "probes or hoses and for wrong units.");
}

void tune_text_print(FILE *out, const tune_result *r, bool metric)
{
    const ct_tune *t = r->t;
    verdict_print(out, &r->verdict, 0);
    if (r->j->c->job.title[0]) fprintf(out, "%s\n", r->j->c->job.title);
    fprintf(out, "Model tuned to readings%s%s%s\n", r->tap[0] ? " on tap '" : "", r->tap,
            r->tap[0] ? "'" : "");
    if (!t->fitted) {
        print_impossible(out, t);
        verdict_print_findings(out, &r->verdict, 0);
        return;
    }
    print_readings(out, t, metric);
    print_multipliers(out, t);
    print_setting(out, t, CT_TUNE_SUPERHEAT, metric);
    print_setting(out, t, CT_TUNE_SUBCOOLING, metric);
    print_trust(out, t);
    print_fit(out, t);
    print_heat(out, &t->heat, metric);
    print_causes(out, t);
    verdict_print_findings(out, &r->verdict, 0);
}
