#include "show/limit_words.h"

#include <math.h>
#include <string.h>

/* The table of limits says in which kind of unit a limit is; these are what people read. */
static quantity quantity_of(ct_unit_kind kind)
{
    switch (kind) {
    case CT_UNIT_POWER: return Q_HEAT;
    case CT_UNIT_TEMPERATURE: return Q_TEMPERATURE;
    case CT_UNIT_DELTA_T: return Q_DELTA_T;
    case CT_UNIT_VELOCITY: return Q_VELOCITY;
    case CT_UNIT_PRESSURE: return Q_STATIC;
    case CT_UNIT_FRACTION: return Q_FRACTION;
    case CT_UNIT_AIRFLOW: return Q_AIRFLOW;
    case CT_UNIT_AIRFLOW_PER_TON: return Q_AIRFLOW_PER_TON;
    default: return Q_PLAIN;
    }
}

double limit_judged_sensible(const ct_point *p)
{
    const ct_judgment *judged = &p->limit[CT_LIMIT_SENSIBLE];
    return judged->verdict == CT_NOT_JUDGED ? p->balance.Q_sens_net : judged->value;
}

limit_words limit_words_of(ct_limit limit, const ct_point *p)
{
    const ct_limit_row *row = ct_limit_of(limit);
    limit_words w = {row->brief, row->measured, row->bound, quantity_of(row->unit),
                     quantity_of(row->unit_slack)};
    if (limit != CT_LIMIT_METER || !isnan(p->valve_share)) return w;
    /* What this limit measures depends on the device and on how it fails (limits_check.c). */
    if (p->meter == CT_METER_FLOODS)
        return (limit_words){"flooding", "vapor share leaving the coil", "the compressor needs",
                             Q_FRACTION, Q_FRACTION};
    /* A valve that cannot pass the flow at all has no share either: its value is not finite. */
    if (isfinite(p->limit[limit].value))
        return (limit_words){w.brief, "superheat behind the piston", "a starved coil begins at",
                             Q_DELTA_T, Q_DELTA_T};
    return w;
}

const char *limit_largest_load_words(const ct_house *h)
{
    return h->judge_load_at == CT_LOAD_SETTLED
               ? "At its largest load a speed runs the whole hour; the house is drier then than "
                 "at a smaller load, and in drier air more of the capacity is sensible."
               : "";
}

/* Thousands set off by commas, in place. */
static void group_digits(char *text)
{
    size_t digits = strspn(text[0] == '-' ? text + 1 : text, "0123456789");
    char *start = text[0] == '-' ? text + 1 : text;
    for (size_t at = digits; at > 3; at -= 3) {
        char *where = start + at - 3;
        memmove(where + 1, where, strlen(where) + 1);
        *where = ',';
    }
}

/* Four digits of a capacity are more than anybody knows. */
static double known_digits(quantity q, double value)
{
    return q == Q_HEAT && fabs(value) >= 100 ? 10 * round(value / 10) : value;
}

double shown_number(quantity q, double v, bool metric)
{
    const quantity_form *form = quantity_for_people(q, metric);
    const double scale = pow(10, form->decimals);
    return round(known_digits(q, quantity_show(form, v)) * scale) / scale;
}

const char *shown(char text[SHOWN_SIZE], quantity q, double v, bool metric)
{
    const quantity_form *form = quantity_for_people(q, metric);
    const double half_step = 0.5 * pow(10, -form->decimals);
    double value = quantity_show(form, v);
    if (!isfinite(v)) {
        snprintf(text, SHOWN_SIZE, "not known");
        return text;
    }
    if (fabs(value) < half_step) value = 0; /* never "-0" */
    value = known_digits(q, value);
    snprintf(text, SHOWN_SIZE - 16, "%.*f", form->decimals, value);
    group_digits(text);
    const size_t used = strlen(text);
    snprintf(text + used, SHOWN_SIZE - used, "%s%s", ct_units_gap(form->unit), form->unit);
    return text;
}

/* A trace of liquid is liquid: a share that rounds to none is not written as none. */
static void explain_flooding(FILE *out, double liquid)
{
    if (liquid < 0.001)
        fputs("less than 0.1%", out);
    else
        fprintf(out, "%.1f%%", 100 * liquid);
    fputs(" of the refrigerant leaves the coil as liquid, none may", out);
}

/* Limits that are no comparison of two numbers. */
static bool explain_apart(FILE *out, ct_limit limit, const ct_judgment *j, const ct_point *p)
{
    if (limit == CT_LIMIT_BALANCE)
        fputs(p->why, out);
    else if (!isfinite(j->value))
        fputs("the metering device cannot pass this flow", out);
    else if (limit == CT_LIMIT_METER && p->meter == CT_METER_FLOODS)
        explain_flooding(out, 1 - j->value);
    else
        return false;
    return true;
}

const char *shown_gap(char text[SHOWN_SIZE], quantity q, double v, bool metric)
{
    if (q != Q_FRACTION || !isfinite(v)) return shown(text, q, v, metric);
    snprintf(text, SHOWN_SIZE, "%.1f points", 100 * v);
    return text;
}

/* What is missing, as a reader finds it who subtracts the two numbers shown. */
static const char *show_gap(char by[SHOWN_SIZE], const limit_words *w, const ct_judgment *j,
                            bool metric)
{
    const quantity_form *form = quantity_for_people(w->slack, metric);
    const double gap =
        fabs(shown_number(w->value, j->value, metric) - shown_number(w->value, j->bound, metric));
    const bool as_read = gap > 0 && w->slack != Q_FRACTION;
    return shown_gap(by, w->slack, as_read ? gap / form->factor : fabs(j->slack), metric);
}

void limit_explain_gap(FILE *out, ct_limit limit, const ct_judgment *j, const ct_point *p,
                       bool metric)
{
    char by[SHOWN_SIZE];
    const limit_words w = limit_words_of(limit, p);
    if (explain_apart(out, limit, j, p)) return;
    show_gap(by, &w, j, metric);
    fprintf(out, "%s %s by %s", ct_limit_of(limit)->name, j->value < j->bound ? "short" : "over",
            by);
}

void limit_explain(FILE *out, ct_limit limit, const ct_judgment *j, const ct_point *p, bool metric)
{
    char value[SHOWN_SIZE], bound[SHOWN_SIZE], by[SHOWN_SIZE];
    const limit_words w = limit_words_of(limit, p);
    if (explain_apart(out, limit, j, p)) return;
    shown(value, w.value, j->value, metric);
    shown(bound, w.value, j->bound, metric);
    show_gap(by, &w, j, metric);
    fprintf(out, "%s %s, %s %s: %s by %s", w.measured, value, w.bound, bound,
            j->value < j->bound ? "short" : "over", by);
}

const char *outcome_token(ct_outcome outcome)
{
    switch (outcome) {
    case CT_BALANCED: return "balanced";
    case CT_NO_BALANCE: return "no_balance";
    case CT_JUMPED: return "jumped";
    case CT_UNCONVERGED: return "unconverged";
    case CT_NOT_COMPUTABLE: return "not_computable";
    case CT_HEAD_TOO_HIGH: return "head_too_high";
    case CT_HEAD_TOO_LOW: return "head_too_low";
    case CT_FLOODED_OUT: return "flooded_out";
    case CT_STARVED_OUT: return "starved_out";
    case CT_SUPERHEAT_LOST: return "superheat_lost";
    }
    return "unknown";
}

const char *meter_token(ct_meter_state state)
{
    switch (state) {
    case CT_METER_UNKNOWN: return "not_rated";
    case CT_METER_COPES: return "copes";
    case CT_METER_HUNTS: return "hunts";
    case CT_METER_STARVES: return "starves";
    case CT_METER_FLOODS: return "floods";
    case CT_METER_NEARLY_FLOODS: return "nearly_floods";
    }
    return "unknown";
}
