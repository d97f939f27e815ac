#include <stdio.h>
#include <string.h>

#include "show/json_out.h"
#include "show/quantity.h"
#include "tune/text.h"

/* "supply air dry bulb" -> "supply_air_dry_bulb" */
static const char *word_of(const char *name, char *text, size_t size)
{
    snprintf(text, size, "%s", name);
    for (char *c = text; *c; c++)
        if (*c == ' ') *c = '_';
    return text;
}

static quantity margin_of(quantity q)
{
    return q == Q_TEMPERATURE ? Q_DELTA_T : q;
}

static bool put_reading(json_t *array, const ct_tune_reading *r, bool si)
{
    char name[64];
    const quantity q = tune_quantity(r->kind);
    json_t *o = open_item(array);
    return o && put_text(o, "reading", word_of(ct_reading_name(r->kind), name, sizeof name)) &&
           put_value(o, "read", q, r->given, si) &&
           put_value(o, "standard_uncertainty", margin_of(q), r->u, si) &&
           put_bool(o, "used", r->used) && put_value(o, "tuned", q, r->predicted, si) &&
           put_value(o, "deviations", Q_PLAIN, r->z, si) &&
           put_value(o, "p_without", Q_PLAIN, r->p_without, si) &&
           put_bool(o, "suspect", r->suspect);
}

static bool put_readings(json_t *root, const ct_tune *t, bool si)
{
    json_t *array = open_array(root, "readings");
    for (int i = 0; array && i < t->n; i++)
        if (!put_reading(array, &t->reading[i], si)) return false;
    return array;
}

static quantity value_quantity(int i)
{
    if (i < CT_TUNE_MULTIPLIERS) return Q_PLAIN;
    return i == CT_TUNE_SUBCOOLING || i == CT_TUNE_SUPERHEAT ? Q_DELTA_T : Q_TEMPERATURE;
}

/* Multipliers and settings; conditions stand among the readings. The uncertainty of a multiplier is
 * that of its logarithm, so it is relative. */
static bool put_values(json_t *root, const ct_tune *t, bool si)
{
    json_t *all = open_object(root, "values");
    for (int i = 0; all && i < CT_TUNE_COUNT; i++) {
        char name[64];
        const ct_tune_value *v = &t->value[i];
        const quantity q = value_quantity(i);
        if (!v->fitted || q == Q_TEMPERATURE) continue;
        json_t *o = open_object(all, word_of(ct_tune_name((ct_tune_unknown)i), name, sizeof name));
        if (!o || !put_value(o, "value", q, v->value, si) ||
            !put_value(o, q == Q_PLAIN ? "relative_uncertainty" : "standard_uncertainty", q, v->u,
                       si) ||
            !put_value(o, "low_95", q, v->low, si) || !put_value(o, "high_95", q, v->high, si) ||
            !put_value(o, "narrowed", Q_PLAIN, v->narrowed, si))
            return false;
    }
    return all;
}

static bool put_impossible(json_t *root, const ct_tune *t)
{
    json_t *array = open_array(root, "impossible");
    for (int i = 0; array && i < CT_IMPOSSIBLE_COUNT; i++) {
        if (!t->impossible[i].found) continue;
        json_t *o = open_item(array);
        if (!o || !put_text(o, "what", ct_impossible_text((ct_impossible)i)) ||
            !put_value(o, "deviations", Q_PLAIN, t->impossible[i].by, true))
            return false;
    }
    return array;
}

static bool put_heat(json_t *root, const ct_tune_heat *h, bool si)
{
    if (!h->has) return true;
    json_t *o = open_object(root, "coil_heat");
    return o && put_value(o, "air_side", Q_HEAT, h->Q_air, si) &&
           put_value(o, "air_side_uncertainty", Q_HEAT, h->u_air, si) &&
           put_value(o, "refrigerant_side", Q_HEAT, h->Q_ref, si) &&
           put_value(o, "refrigerant_side_uncertainty", Q_HEAT, h->u_ref, si) &&
           put_value(o, "air_over_refrigerant", Q_PLAIN, 1.0 + h->share, si) &&
           put_value(o, "deviations", Q_PLAIN, h->z, si) && put_bool(o, "agrees", !h->off);
}

static const char *const cause_names[CT_CAUSE_COUNT] = {
    [CT_CAUSE_LOW_AIRFLOW] = "low_airflow", [CT_CAUSE_COIL] = "coil",
    [CT_CAUSE_CONDENSER] = "condenser",     [CT_CAUSE_COMPRESSOR] = "compressor",
    [CT_CAUSE_LOW_CHARGE] = "low_charge",   [CT_CAUSE_OVERCHARGE] = "overcharge",
    [CT_CAUSE_STARVED] = "starved",         [CT_CAUSE_FLOODED] = "flooded"};

static bool put_causes(json_t *root, const ct_tune *t)
{
    json_t *o = open_object(root, "hypotheses");
    for (int i = 0; o && i < CT_CAUSE_COUNT; i++)
        if (!put_value(o, cause_names[i], Q_PLAIN, t->cause[i], true)) return false;
    return o;
}

static bool put_fit(json_t *root, const ct_tune *t, bool si)
{
    json_t *o = open_object(root, "fit");
    return o && put_value(o, "chi_square", Q_PLAIN, t->chi2, si) &&
           put_integer(o, "degrees_of_freedom", t->dof) && put_value(o, "p", Q_PLAIN, t->p, si) &&
           put_bool(o, "fits", t->fits);
}

static bool fill(json_t *root, const tune_result *r, bool si)
{
    const ct_tune *t = r->t;
    if (!put_some_text(root, "title", r->j->c->job.title) || !put_some_text(root, "tap", r->tap) ||
        !verdict_put(root, &r->verdict) || !put_bool(root, "fitted", t->fitted) ||
        !put_impossible(root, t) || !put_heat(root, &t->heat, si) || !put_causes(root, t))
        return false;
    return !t->fitted ||
           (put_fit(root, t, si) && put_readings(root, t, si) && put_values(root, t, si) &&
            put_value(root, "airflow", Q_AIRFLOW, t->V, si));
}

bool tune_json_print(FILE *out, const tune_result *r, bool si)
{
    json_t *root = json_object();
    const bool good = fill(root, r, si);
    return print_answer(out, json_when(good, root), 12);
}
