#include <stdio.h>
#include <string.h>

#include "show/json_out.h"
#include "show/quantity.h"
#include "study/tune_change.h"
#include "tune/findings.h"
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
           put_value(o, "chance_off", Q_PLAIN, r->chance, si) &&
           put_value(o, "shift", margin_of(q), r->shift, si);
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
        if (!ct_tune_value_told(t, i) || q == Q_TEMPERATURE) continue;
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

static bool put_causes(json_t *root, const ct_tune *t)
{
    json_t *o = open_object(root, "hypotheses");
    for (int i = 0; o && i < CT_CAUSE_COUNT; i++)
        if (!put_value(o, ct_cause_name((ct_cause)i), Q_PLAIN, t->cause[i], true)) return false;
    return o && put_value(o, "sound", Q_PLAIN, t->sound, true);
}

static bool put_size(json_t *o, const ct_tune_explanation *e, bool si)
{
    if (e->is_multiplier) return put_value(o, "multiplier", Q_PLAIN, e->size, si);
    if (e->cause == CT_CAUSE_READING)
        return put_value(o, "shift", margin_of(tune_quantity(e->kind)), e->size, si);
    return put_value(o,
                     e->cause == CT_CAUSE_LOW_CHARGE || e->cause == CT_CAUSE_OVERCHARGE
                         ? "subcooling"
                         : "superheat",
                     Q_DELTA_T, e->size, si);
}

static bool put_explanations(json_t *root, const tune_result *r, bool si)
{
    const ct_tune *t = r->t;
    json_t *array = open_array(root, "explanations");
    for (int i = 0; array && i < t->n_explanations; i++) {
        char name[64], text[TUNE_CAUSE_SIZE];
        const ct_tune_explanation *e = &t->explanation[i];
        json_t *o = open_item(array);
        tune_explanation_words(text, sizeof text, r, e, si);
        if (!o || !put_text(o, "cause", ct_cause_name(e->cause)) ||
            !put_value(o, "probability", Q_PLAIN, e->chance, si) || !put_size(o, e, si) ||
            !put_text(o, "text", text))
            return false;
        if (e->cause == CT_CAUSE_READING &&
            !put_text(o, "reading", word_of(ct_reading_name(e->kind), name, sizeof name)))
            return false;
        if (e->cause == CT_CAUSE_TAP &&
            !put_text(o, "tap", r->j->c->indoor[0].blower.tap[e->tap].name))
            return false;
    }
    return array;
}

/* The first two explanations, where they give the same readings. */
static bool put_alike(json_t *root, const ct_tune *t)
{
    char text[TUNE_WORDS_SIZE];
    if (!t->alike) return put_bool(root, "first_two_look_alike", false);
    tune_alike_words(text, sizeof text, t);
    return put_bool(root, "first_two_look_alike", true) && put_text(root, "check_first", text);
}

static bool put_signs(json_t *root, const ct_tune *t, bool si)
{
    static const char *const names[CT_SIGN_COUNT] = {
        "superheat", "subcooling", "suction_saturation", "discharge_saturation", "air_split"};
    json_t *array = open_array(root, "signs");
    for (int i = 0; array && i < CT_SIGN_COUNT; i++) {
        const ct_tune_sign *s = &t->sign[i];
        const quantity q =
            i == CT_SIGN_SUCTION || i == CT_SIGN_DISCHARGE ? Q_TEMPERATURE : Q_DELTA_T;
        if (!s->has) continue;
        json_t *o = open_item(array);
        if (!o || !put_text(o, "sign", names[i]) || !put_value(o, "read", q, s->read, si) ||
            !put_value(o, "expected", q, s->expected, si) || !put_integer(o, "way", s->way))
            return false;
    }
    return array;
}

static bool put_valve(json_t *root, const ct_tune_valve *v, bool si)
{
    if (!v->has) return true;
    json_t *o = open_object(root, "valve_superheat");
    return o && put_value(o, "read", Q_DELTA_T, v->read, si) &&
           put_value(o, "set", Q_DELTA_T, v->wanted, si) && put_bool(o, "low", v->low) &&
           put_bool(o, "high", v->high);
}

static bool put_swap(json_t *root, const ct_tune_swap *s)
{
    char a[64], b[64];
    if (!s->has) return true;
    json_t *o = open_object(root, "exchanged");
    return o && put_text(o, "one", word_of(ct_reading_name(s->a), a, sizeof a)) &&
           put_text(o, "other", word_of(ct_reading_name(s->b), b, sizeof b)) &&
           put_value(o, "probability", Q_PLAIN, s->chance, true);
}

static bool put_fit(json_t *root, const ct_tune *t, bool si)
{
    json_t *o = open_object(root, "fit");
    return o && put_value(o, "chi_square", Q_PLAIN, t->chi2, si) &&
           put_integer(o, "degrees_of_freedom", t->dof) && put_value(o, "p", Q_PLAIN, t->p, si) &&
           put_value(o, "p_nothing_wrong", Q_PLAIN, t->p_sound, si) &&
           put_value(o, "p_among_readings", Q_PLAIN, t->p_agree, si) &&
           put_bool(o, "fits", t->agree);
}

static bool put_next(json_t *root, const ct_tune *t)
{
    json_t *array = open_array(root, "read_next");
    for (int i = 0; array && i < t->n_next; i++) {
        char name[64];
        json_t *o = open_item(array);
        if (!o ||
            !put_text(o, "reading", word_of(ct_reading_name(t->next[i].kind), name, sizeof name)) ||
            !put_bool(o, "again", t->next[i].again) ||
            !put_value(o, "capacity_uncertainty", Q_PLAIN, t->next[i].u, true))
            return false;
    }
    return array && put_value(root, "capacity_uncertainty", Q_PLAIN, t->u_capacity, true);
}

static bool put_log(json_t *root, const ct_gauge_log *log)
{
    if (!log) return true;
    json_t *o = open_object(root, "log");
    return o && put_integer(o, "values", log->rows) &&
           put_value(o, "steady_from_s", Q_PLAIN, log->from, true) &&
           put_value(o, "steady_to_s", Q_PLAIN, log->to, true);
}

/* That the readings were taken on, "" where there is only one. */
static const char *stage_of(const tune_result *r)
{
    if (!r->j->c->outdoor.low.has) return "";
    return r->low_ran ? "low" : "high";
}

static bool fill(json_t *root, const tune_result *r, bool si)
{
    const ct_tune *t = r->t;
    if (!put_some_text(root, "title", r->j->c->job.title) || !put_some_text(root, "tap", r->tap) ||
        !put_some_text(root, "stage", stage_of(r)) || !put_log(root, r->log) ||
        !verdict_put(root, &r->verdict) || !put_bool(root, "fitted", t->fitted) ||
        !put_impossible(root, t) || !put_swap(root, &t->swap) || !put_heat(root, &t->heat, si) ||
        !put_valve(root, &t->valve, si) || !put_causes(root, t) || !put_explanations(root, r, si))
        return false;
    return !t->fitted ||
           (put_alike(root, t) && put_signs(root, t, si) && put_next(root, t) &&
            put_fit(root, t, si) && put_readings(root, t, si) && put_values(root, t, si) &&
            put_value(root, "airflow", Q_AIRFLOW, t->V, si));
}

static bool put_change_value(json_t *root, const char *name, const ct_change_value *v)
{
    json_t *o = open_object(root, name);
    return o && put_value(o, "before", Q_PLAIN, v->before, true) &&
           put_value(o, "after", Q_PLAIN, v->after, true) &&
           put_value(o, "deviations", Q_PLAIN, v->z, true);
}

static bool put_change(json_t *root, const ct_tune *before, const ct_tune *after)
{
    ct_tune_change c;
    char name[64];
    ct_tune_compare(before, after, &c);
    json_t *o = open_object(root, "change");
    if (!o || !put_text(o, "result", ct_change_name(c.kind)) ||
        (c.has_capacity && !put_change_value(o, "sensible_capacity_over_nameplate", &c.capacity)))
        return false;
    for (int i = 0; i < CT_TUNE_MULTIPLIERS; i++)
        if (c.has[i] &&
            !put_change_value(o, word_of(ct_tune_name((ct_tune_unknown)i), name, sizeof name),
                              &c.value[i]))
            return false;
    return true;
}

/* The second visit as a lone one is, and beside it the first and what changed. */
bool tune_json_print(FILE *out, const tune_result *before, const tune_result *r, bool si)
{
    json_t *root = json_object();
    bool good = fill(root, r, si);
    if (good && before) {
        json_t *o = open_object(root, "before");
        good = o && fill(o, before, si) && put_change(root, before->t, r->t);
    }
    return print_answer(out, json_when(good, root), 12);
}
