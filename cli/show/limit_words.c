#include "show/limit_words.h"

#include <math.h>
#include <string.h>

static const limit_words words[CT_LIMIT_COUNT] = {
    [CT_LIMIT_BALANCE] = {"balance", "balance", "", "", Q_PLAIN, Q_PLAIN},
    [CT_LIMIT_SENSIBLE] = {"sensible_load", "sensible", "net sensible capacity", "the load asks",
                           Q_HEAT, Q_HEAT},
    [CT_LIMIT_FROST] = {"frost", "frost", "coldest coil surface", "frost and its guard ask",
                        Q_TEMPERATURE, Q_DELTA_T},
    [CT_LIMIT_SWEAT] = {"duct_sweating", "sweat", "duct jacket",
                        "the dew point around it and its guard ask", Q_TEMPERATURE, Q_DELTA_T},
    [CT_LIMIT_CARRYOVER] = {"carry_over", "carryover", "air speed at the coil's face",
                            "water stays on the coil up to", Q_VELOCITY, Q_VELOCITY},
    [CT_LIMIT_STATIC] = {"external_static", "static", "external static",
                         "the blower's limit or table ends at", Q_STATIC, Q_STATIC},
    [CT_LIMIT_HEAD] = {"condensing", "head", "condensing temperature", "the ceiling is",
                       Q_TEMPERATURE, Q_DELTA_T},
    [CT_LIMIT_METER] = {"metering", "metering", "valve opening over its rated opening",
                        "it works to", Q_FRACTION, Q_FRACTION},
    [CT_LIMIT_HEAT] = {"heat_airflow", "heat", "airflow", "the electric heat asks", Q_AIRFLOW,
                       Q_AIRFLOW},
    [CT_LIMIT_FURNACE] = {"furnace_rise", "furnace", "furnace temperature rise",
                          "its range ends at", Q_DELTA_T, Q_DELTA_T},
    [CT_LIMIT_HUMIDITY] = {"settled_humidity", "humidity", "humidity the house settles at",
                           "the ceiling is", Q_FRACTION, Q_FRACTION},
    [CT_LIMIT_LATENT] = {"latent_load", "latent", "latent capacity", "the latent load is", Q_HEAT,
                         Q_HEAT},
    [CT_LIMIT_TOTAL] = {"total_load", "total", "net total capacity", "the total load is", Q_HEAT,
                        Q_HEAT},
};

/* What the metering limit measures depends on the device and on how it fails (sweep.c). */
static const limit_words orifice_superheat = {
    "metering", "metering", "superheat behind the orifice", "a starved coil begins at",
    Q_DELTA_T,  Q_DELTA_T};
static const limit_words orifice_quality = {
    "metering", "flooding", "vapour share leaving the coil", "the compressor needs",
    Q_FRACTION, Q_FRACTION};

const limit_words *limit_words_of(ct_limit limit, const ct_point *p)
{
    if (limit != CT_LIMIT_METER || !isnan(p->valve_share)) return &words[limit];
    if (p->meter == CT_METER_FLOODS) return &orifice_quality;
    /* A valve that cannot pass the flow at all has no share either: its value is not finite. */
    return isfinite(p->limit[limit].value) ? &orifice_superheat : &words[limit];
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

const char *shown(char text[SHOWN_SIZE], quantity q, double v, bool metric)
{
    const quantity_form *form = quantity_for_people(q, metric);
    const double half_step = 0.5 * pow(10, -form->decimals);
    double value = quantity_show(form, v);
    if (!isfinite(v)) return strcpy(text, "not known");
    if (fabs(value) < half_step) value = 0; /* never "-0" */
    /* Four digits of a capacity are more than anybody knows. */
    if (q == Q_HEAT && fabs(value) >= 100) value = 10 * round(value / 10);
    snprintf(text, SHOWN_SIZE - 16, "%.*f", form->decimals, value);
    group_digits(text);
    const size_t used = strlen(text);
    snprintf(text + used, SHOWN_SIZE - used, "%s%s",
             form->unit[0] && strcmp(form->unit, "%") != 0 ? " " : "", form->unit);
    return text;
}

void limit_explain(FILE *out, ct_limit limit, const ct_judgement *j, const ct_point *p, bool metric)
{
    char value[SHOWN_SIZE], bound[SHOWN_SIZE], by[SHOWN_SIZE];
    const limit_words *w = limit_words_of(limit, p);
    if (limit == CT_LIMIT_BALANCE) {
        fputs(p->why, out);
        return;
    }
    if (!isfinite(j->value)) {
        fputs("the metering device cannot pass this flow", out);
        return;
    }
    shown(value, w->value, j->value, metric);
    shown(bound, w->value, j->bound, metric);
    shown(by, w->slack, fabs(j->slack), metric);
    if (w->slack == Q_FRACTION) snprintf(by, sizeof by, "%.1f points", 100 * fabs(j->slack));
    fprintf(out, "%s %s, %s %s: %s by %s", w->measured, value, w->bound, bound,
            j->value < j->bound ? "short" : "over", by);
}

static const struct {
    const char *token, *text;
} mends[MENDS] = {
    {"smaller_coil", "a smaller coil: longer runs dry the house more"},
    {"dehumidifier",
     "a dehumidifier beside the plant: at the air the load needs the house stays damp"},
    {"duct_work", "duct work or another blower: the speeds there do not give the airflow needed"},
    {"larger_outdoor_unit",
     "a larger outdoor unit: no airflow in the range carries the sensible load"},
    {"duct_insulation", "more insulation on the supply ducts, or drier air around them"},
    {"metering_device", "another valve or piston size"},
    {"more_air", "a faster speed or a freer duct: too little air for the coil or for the heat"},
    {"less_head", "a clean or larger outdoor coil: it condenses too hot"},
    {"larger_face", "a coil of larger face: the air is too fast to leave the water on it"},
    {"less_load", "a smaller load: shade, seal, insulate"},
    {"do_not", "not doing this job with this pairing"},
};

const char *mend_words(int bit)
{
    return mends[bit].text;
}

const char *mend_token(int bit)
{
    return mends[bit].token;
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
