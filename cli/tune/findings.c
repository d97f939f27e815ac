#include "tune/findings.h"

#include <math.h>
#include <string.h>

#include "base/paragraph.h"
#include "case/readings.h"

/* Explanations less likely than this, and more than so many, are not told. */
#define TOLD 0.05
#define TOLD_OF_SEVERAL 0.5 /* each may be there or not, whatever the others are */
#define MOST_TOLD 5

int tune_explanations_reported(const ct_tune *t)
{
    const double least = t->explained < 0 ? TOLD_OF_SEVERAL : TOLD;
    int n = 0;
    if (!t->wrong || !t->agree) return 0;
    while (n < t->n_explanations && n < MOST_TOLD &&
           (t->explanation[n].chance >= least || (t->alike && n < 2)))
        n++;
    return n;
}

bool tune_explanation_told(const ct_tune *t, int i)
{
    return !(t->explained < 0 && t->charge_first && t->explanation[i].cause == CT_CAUSE_COIL);
}

int tune_first_told(const ct_tune *t)
{
    for (int i = 0; i < tune_explanations_reported(t); i++)
        if (tune_explanation_told(t, i)) return i;
    return -1;
}

/* ---- Causes ------------------------------------------------------------------------ */

static const char *const words[CT_CAUSE_COUNT] = {
    [CT_CAUSE_LOW_AIRFLOW] = "low airflow: check filter, coil face, registers, blower wheel, tap; "
                             "the static tells which, with the tap's name",
    [CT_CAUSE_RESTRICTED] =
        "airflow blocked: little air although the static is high; check filter, "
        "coil face, closed registers, ducts",
    [CT_CAUSE_BLOWER] =
        "weak blower: little air although the static is low; check wheel, capacitor, "
        "motor, tap",
    [CT_CAUSE_COIL] = "coil weak: dirty, badly fed, or smaller than stated",
    [CT_CAUSE_CONDENSER] = "condenser weak: dirty, blocked, or recirculating its own air",
    [CT_CAUSE_COMPRESSOR] = "compressor moves little: worn, leaking valves, or smaller than stated",
    [CT_CAUSE_LOW_CHARGE] = "low charge: find the leak, charge to the target, read again",
    [CT_CAUSE_OVERCHARGE] = "too much charge: recover to the target, read again",
    [CT_CAUSE_STARVED] = "coil starved: metering device, bulb, filter drier, a restriction",
    [CT_CAUSE_FLOODED] = "coil flooded, liquid may reach the compressor: metering device, bulb, "
                         "low airflow",
};

static double shown_size(quantity q, double v, bool metric, int *decimals, const char **unit)
{
    const quantity_form *form = quantity_for_people(q, metric);
    *decimals = form->decimals;
    *unit = form->unit;
    return v * form->factor;
}

static void reading_words(char *text, size_t size, const ct_tune_explanation *e, bool metric)
{
    const char *name = ct_reading_name(e->kind), *unit;
    int decimals;
    const double by = shown_size(tune_quantity(e->kind), fabs(e->size), metric, &decimals, &unit);
    if (decimals > 0) decimals--; /* how far off it is, is no reading */
    const bool bulb = e->kind == CT_RETURN_WET_BULB || e->kind == CT_SUPPLY_WET_BULB;
    snprintf(text, size, "%s reads about %.*f%s%s too %s%s: read it again", name, decimals, by,
             ct_units_gap(unit), unit, e->size > 0.0 ? "high" : "low",
             bulb && e->size > 0.0 ? " (a dry wick reads high)" : "");
}

static void size_words(char *text, size_t size, const ct_tune_explanation *e, bool metric)
{
    const char *unit;
    int decimals;
    const size_t n = strlen(text);
    double v;
    switch (e->cause) {
    case CT_CAUSE_LOW_CHARGE:
    case CT_CAUSE_OVERCHARGE:
        v = shown_size(Q_DELTA_T, e->size, metric, &decimals, &unit);
        snprintf(text + n, size - n, " (subcooling about %.0f %s)", v, unit);
        break;
    case CT_CAUSE_STARVED:
    case CT_CAUSE_FLOODED:
        v = shown_size(Q_DELTA_T, e->size, metric, &decimals, &unit);
        if (e->is_multiplier)
            snprintf(text + n, size - n, " (about %.0f%% of its flow)", 100.0 * e->size);
        else
            snprintf(text + n, size - n, " (superheat at the coil about %.0f %s)", v, unit);
        break;
    case CT_CAUSE_TAP: break;
    default: snprintf(text + n, size - n, " (about %.0f%% of normal)", 100.0 * e->size);
    }
}

void tune_explanation_words(char *text, size_t size, const tune_result *r,
                            const ct_tune_explanation *e, bool metric)
{
    const ct_blower *b = &r->j->c->indoor[0].blower;
    if (e->cause == CT_CAUSE_READING) {
        reading_words(text, size, e, metric);
        return;
    }
    if (e->cause == CT_CAUSE_TAP)
        snprintf(text, size, "it runs on tap '%s', not on '%s'", b->tap[e->tap].name, r->tap);
    else
        snprintf(text, size, "%s", words[e->cause]);
    size_words(text, size, e, metric);
}

#define GAUGE_CHECK "With the hose off the gauge must show zero; compare with a second gauge."
#define CLAMP_CHECK                                                                                \
    "Clean the pipe, put a second clamp beside the first, insulate both and read again (a loose "  \
    "or bare clamp reads toward the outdoor air, "

/* What an instrument that makes a sound part look bad asks for. */
static const char *const checks[CT_READING_COUNT] = {
    [CT_SUCTION_TEMPERATURE] = CLAMP_CHECK "on a cold line too high).",
    [CT_SUCTION_PRESSURE] = GAUGE_CHECK,
    [CT_LIQUID_TEMPERATURE] = CLAMP_CHECK "on a warm line too low).",
    [CT_LIQUID_PRESSURE] = GAUGE_CHECK,
    [CT_STATIC] =
        "Zero the gauge; have both tubes whole, their tips square to the air and away from "
        "elbows and the blower's outlet; read again.",
    [CT_OUTDOOR_DRY_BULB] =
        "Read the air again where it enters the condenser, in the shade and on each side of it.",
};

static const ct_tune_explanation *of_cause(const ct_tune *t, ct_cause cause)
{
    for (int i = 0; i < 2; i++)
        if (t->explanation[i].cause == cause) return &t->explanation[i];
    return NULL;
}

static const char *harm_words(const ct_tune *t)
{
    if (of_cause(t, CT_CAUSE_FLOODED))
        return " Liquid ruins a compressor, so take it for flood-back until you know: a compressor "
               "shell that is cold or sweats at the suction side says that liquid comes back.";
    if (of_cause(t, CT_CAUSE_LOW_CHARGE) || of_cause(t, CT_CAUSE_OVERCHARGE))
        return " Do not add or recover refrigerant before you know.";
    return "";
}

void tune_alike_words(char *text, size_t size, const ct_tune *t)
{
    const ct_tune_explanation *reading = of_cause(t, CT_CAUSE_READING);
    snprintf(text, size, "These first two look the same, or nearly, in the readings.%s %s",
             harm_words(t),
             reading
                 ? checks[reading->kind]
                 : "With the power off, look which tap the wire is on or the board is set to; if "
                   "it is the one written down, the blower is weak.");
}

static void print_alike(FILE *out, const ct_tune *t)
{
    char text[TUNE_WORDS_SIZE];
    if (!t->alike) return;
    tune_alike_words(text, sizeof text, t);
    paragraph_wrap_text(out, "         ", 9, "%s", text);
}

const char *tune_tap_words(const ct_tune *t)
{
    const bool first =
        !t->alike && tune_explanations_reported(t) > 0 && t->explanation[0].cause == CT_CAUSE_TAP;
    return first ? "Look, with the power off, which tap the wire is on or the board is set to."
                 : "";
}

bool tune_airflow_words(char *text, size_t size, const tune_result *r)
{
    const ct_blower *b = &r->j->c->indoor[0].blower;
    const int tap = ct_tune_runs_on(r->t);
    if (tap < 0) return false;
    snprintf(text, size, "the airflow is counted on tap '%s'", b->tap[tap].name);
    return true;
}

const char *tune_order_words(const ct_tune *t)
{
    const ct_tune_explanation *e = t->explanation;
    const int n = t->n_explanations;
    const bool first = n < 2 || e[0].chance >= e[1].chance;
    if (first && (n < 3 || e[1].chance >= e[2].chance)) return "likeliest first";
    return first ? "likeliest first, with what looks like it" : "flood-back first";
}

/* Superheat and subcooling as every charging guide reads them; common practice, no source. */
const char *tune_sign_words(const ct_tune *t)
{
    const int superheat = t->sign[CT_SIGN_SUPERHEAT].way,
              subcooling = t->sign[CT_SIGN_SUBCOOLING].way;
    if (!t->agree || !t->wrong || t->explained >= 0) return "";
    if (superheat > 0 && subcooling < 0)
        return "by its signs low charge (superheat up, subcooling down): find the leak, charge to "
               "the target, read again";
    if (superheat > 0 && subcooling > 0)
        return "by its signs a restriction (superheat up, subcooling up): metering device, filter "
               "drier, kinked line";
    if (superheat <= 0 && subcooling > 0)
        return "by its signs too much charge (subcooling up, superheat not): recover to the "
               "target, read again";
    return "";
}

static void print_no_single(FILE *out, const ct_tune *t)
{
    const char *signs = tune_sign_words(t);
    fputc('\n', out);
    paragraph_wrap_text(out, "", 0, "No single cause explains these readings.%s%s%s%s",
                        *signs ? " First, " : "", signs, *signs ? "." : "",
                        tune_first_told(t) < 0 ? ""
                        : *signs               ? " Besides, each with the chance that it is there:"
                                 : " Worth checking, each with the chance that it is there:");
}

static void print_explanation(FILE *out, const tune_result *r, int i, bool metric)
{
    const ct_tune_explanation *e = &r->t->explanation[i];
    char text[TUNE_CAUSE_SIZE], first[24];
    tune_explanation_words(text, sizeof text, r, e, metric);
    snprintf(first, sizeof first, "  %4.0f%%  ", 100.0 * fmin(e->chance, 0.99));
    paragraph_wrap_text(out, first, 9, "%s", text);
}

static void print_causes(FILE *out, const tune_result *r, bool metric)
{
    const ct_tune *t = r->t;
    const int n = tune_explanations_reported(t);
    if (t->explained < 0)
        print_no_single(out, t);
    else
        fprintf(out, "\nWorth checking, %s, each with its chance:\n", tune_order_words(t));
    for (int i = 0; i < n; i++) {
        if (!tune_explanation_told(t, i)) continue;
        print_explanation(out, r, i, metric);
        if (i == 1) print_alike(out, t);
    }
    if (tune_first_told(t) < 0 && !*tune_sign_words(t))
        fputs("  nothing that can be named; see the readings that are off below\n", out);
    if (t->explained >= 0 && t->sound >= 0.01)
        fprintf(out, "  %4.0f%%  nothing of this\n", 100.0 * t->sound);
    if (*tune_tap_words(t)) paragraph_wrap_text(out, "", 0, "%s", tune_tap_words(t));
}

/* ---- Signs ------------------------------------------------------------------------- */

static const char *const sign_names[CT_SIGN_COUNT] = {
    "superheat", "subcooling", "suction saturation", "discharge saturation", "air split"};

double tune_without_minus(double v, int decimals)
{
    return fabs(v) <= 0.5 * pow(10.0, -decimals) ? 0.0 : v;
}

static void print_signs(FILE *out, const ct_tune *t, bool metric)
{
    char text[TUNE_WORDS_SIZE] = "";
    size_t n = 0;
    for (int i = 0; i < CT_SIGN_COUNT; i++) {
        const ct_tune_sign *s = &t->sign[i];
        const bool scale = i == CT_SIGN_SUCTION || i == CT_SIGN_DISCHARGE;
        const quantity_form *f = quantity_for_people(scale ? Q_TEMPERATURE : Q_DELTA_T, metric);
        if (!s->has || s->way == 0) continue;
        snprintf(text + n, sizeof text - n, "%s%s %s (%.0f %s%s where %.0f is expected)",
                 n ? ", " : "", sign_names[i], s->way > 0 ? "up" : "down",
                 tune_without_minus(quantity_show(f, s->read), 0), f->unit,
                 i == CT_SIGN_SUPERHEAT ? " at the outdoor unit" : "",
                 tune_without_minus(quantity_show(f, s->expected), 0));
        n = strlen(text);
    }
    if (n) paragraph_wrap_text(out, "", 0, "Signs: %s.", text);
}

/* What a superheat too low asks for, once flood-back and a clamp have been put side by side or
 * not. */
static const char *low_words(const ct_tune *t)
{
    if (t->wrong && t->alike && of_cause(t, CT_CAUSE_FLOODED))
        return "If it is liquid: is the valve's bulb tight on the pipe and insulated?";
    return "Either liquid floods back to the compressor or the clamp or the suction gauge is off. "
           "Check both before anything else; then the valve's bulb: is it tight on the pipe and "
           "insulated?";
}

/* What a superheat too high asks for. */
static const char *high_words(const ct_tune *t)
{
    if ((t->wrong && t->n_explanations > 0 && t->explanation[0].cause == CT_CAUSE_LOW_CHARGE) ||
        (*tune_sign_words(t) && t->sign[CT_SIGN_SUBCOOLING].way < 0))
        return "A charge this low does that: charge first, then read the superheat again.";
    return "Either the coil starves or the clamp or the suction gauge is off. Check the "
           "charge and the clamp, read again.";
}

bool tune_valve_words(char *text, size_t size, const ct_tune *t, bool metric)
{
    const ct_tune_valve *v = &t->valve;
    const quantity_form *f = quantity_for_people(Q_DELTA_T, metric);
    if (!v->low && !v->high) return false;
    snprintf(text, size, "%s: %.0f %s at the coil where it is set to %.0f. %s",
             tune_explanations_reported(t) > 0 ? "The valve does not hold its superheat"
                                               : "THE VALVE DOES NOT HOLD ITS SUPERHEAT",
             tune_without_minus(quantity_show(f, v->read), 0), f->unit, quantity_show(f, v->wanted),
             v->low ? low_words(t) : high_words(t));
    return true;
}

static void print_valve(FILE *out, const ct_tune *t, bool metric)
{
    char text[TUNE_WORDS_SIZE];
    if (!tune_valve_words(text, sizeof text, t, metric)) return;
    fputc('\n', out);
    paragraph_wrap_text(out, "", 0, "%s", text);
}

/* How large a fault the readings leave room for. */
static void print_hidden(FILE *out, const ct_tune *t)
{
    static const struct {
        ct_tune_unknown i;
        const char *name;
    } parts[] = {{CT_TUNE_AIRFLOW, "air"},
                 {CT_TUNE_COIL, "coil"},
                 {CT_TUNE_FLOW, "compressor"},
                 {CT_TUNE_CONDENSER, "condenser"}};
    char text[240] = "";
    size_t n = 0;
    for (size_t k = 0; k < sizeof parts / sizeof parts[0]; k++) {
        const ct_tune_value *v = &t->value[parts[k].i];
        const double less = 100.0 * (1.0 - v->low);
        if (!ct_tune_value_told(t, (int)parts[k].i) || v->narrowed < TUNE_LEARNED || less < 0.5)
            continue;
        snprintf(text + n, sizeof text - n, "%s%.0f%% less %s%s", n ? ", " : "", less,
                 parts[k].name, n ? "" : " than normal");
        n = strlen(text);
    }
    if (n)
        paragraph_wrap_text(out, "", 0, "Smaller faults can hide, each 95%% sure no larger: %s.",
                            text);
}

bool tune_learned_anything(const ct_tune *t)
{
    int learned = 0;
    for (int i = 0; i < CT_TUNE_MULTIPLIERS; i++)
        learned += ct_tune_value_told(t, i) && t->value[i].narrowed >= TUNE_LEARNED;
    return learned > 0;
}

static void print_sound(FILE *out, const ct_tune *t)
{
    fputc('\n', out);
    if (!tune_learned_anything(t)) {
        paragraph_wrap_text(out, "", 0,
                            "Nothing wrong stands out, but these readings are too few to say that "
                            "nothing is: take more of them.");
        return;
    }
    paragraph_wrap_text(
        out, "", 0,
        "Nothing wrong stands out: the system is sound with a chance of %.0f%%, as far as these "
        "readings tell.",
        100.0 * fmin(t->sound, 0.99));
    print_hidden(out, t);
}

const char *tune_charge_words(const ct_tune *t)
{
    return t->explained >= 0
               ? "Nothing is said of the coil while charge, metering or the superheat read is in "
                 "doubt, and no correction of it is written: put that right and take the readings "
                 "again."
               : "Nothing is said of coil, compressor and condenser while charge, metering or the "
                 "superheat read is in doubt, and no correction of them is written: put that right "
                 "and take the readings again.";
}

void tune_findings_print(FILE *out, const tune_result *r, bool metric)
{
    const ct_tune *t = r->t;
    if (!t->agree) {
        fputc('\n', out);
    } else if (!t->wrong) {
        print_sound(out, t);
    } else {
        print_causes(out, r, metric);
    }
    print_signs(out, t, metric);
    print_valve(out, t, metric);
    if (!t->charge_first) return;
    fputc('\n', out);
    paragraph_wrap(out, tune_charge_words(t), "", 0);
}

/* ---- What cannot be ---------------------------------------------------------------- */

#define NEARLY_EQUAL 3.0 /* times the doubt; past it the hoses are exchanged */

const char *tune_stopped_words(const ct_tune *t)
{
    const bool equal = t->impossible[CT_IMPOSSIBLE_PRESSURES].found && !t->swap.has &&
                       t->impossible[CT_IMPOSSIBLE_PRESSURES].by < NEARLY_EQUAL;
    return equal
               ? "Look first whether the compressor runs. One that runs with the same pressure on "
                 "both sides does not pump."
               : "";
}

/* Instruments that may be off, those told at most so many. */
#define MOST_SUSPECTED 3

int tune_suspects_reported(const ct_tune *t)
{
    int n = 0;
    if (t->fitted || *tune_stopped_words(t)) return 0;
    while (n < t->n_explanations && n < MOST_SUSPECTED && t->explanation[n].chance >= TOLD)
        n++;
    return n;
}

static void print_suspects(FILE *out, const tune_result *r, bool metric)
{
    const int n = tune_suspects_reported(r->t);
    if (n == 0) return;
    fputs("An instrument that is off explains it, each with its chance:\n", out);
    for (int i = 0; i < n; i++)
        print_explanation(out, r, i, metric);
}

bool tune_swap_leads(const ct_tune *t)
{
    return !(t->swap.chance < 0.5);
}

bool tune_swap_words(char *text, size_t size, const ct_tune *t)
{
    if (!t->swap.has || t->swap.chance < TOLD) return false;
    snprintf(text, size, "%s: %s and %s. The other way round they could be true.",
             tune_swap_leads(t) ? "Look first whether two are exchanged" : "Or two are exchanged",
             ct_reading_name(t->swap.a), ct_reading_name(t->swap.b));
    return true;
}

void tune_impossible_print(FILE *out, const tune_result *r, bool metric)
{
    const ct_tune *t = r->t;
    char text[240];
    const bool swap = tune_swap_words(text, sizeof text, t);
    fputs("\nTHESE READINGS CANNOT ALL BE TRUE; nothing was fitted:\n", out);
    for (int i = 0; i < CT_IMPOSSIBLE_COUNT; i++)
        if (t->impossible[i].found && t->impossible[i].by >= 1.0)
            paragraph_wrap_text(out, "  - ", 4, "%s (by %.0f times the doubt in the readings)",
                                ct_impossible_text((ct_impossible)i), t->impossible[i].by);
        else if (t->impossible[i].found)
            paragraph_wrap(out, ct_impossible_text((ct_impossible)i), "  - ", 4);
    if (t->impossible[CT_IMPOSSIBLE_WARMER].found)
        paragraph_wrap(out, "Was it heating? Only readings of a system that cools can be used.", "",
                       0);
    if (*tune_stopped_words(t)) paragraph_wrap(out, tune_stopped_words(t), "", 0);
    if (swap && tune_swap_leads(t)) paragraph_wrap(out, text, "", 0);
    print_suspects(out, r, metric);
    if (swap && !tune_swap_leads(t)) paragraph_wrap(out, text, "", 0);
    paragraph_wrap_text(
        out, "", 0,
        "Check for swapped probes or hoses and for wrong units. Read again after the system has "
        "run steadily for 15 minutes.");
}
