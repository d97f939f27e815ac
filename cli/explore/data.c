#include "explore/data.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "explore/codes.h"
#include "show/json_out.h"
#include "show/note_words.h"
#include "show/verdict.h"

/* Values as people read them, so that the script converts nothing. */
static double show(quantity q, double v, bool metric)
{
    return quantity_show(quantity_for_people(q, metric), v);
}

/* The unit, its decimals, and what a value is rounded to. As `shown` of limit_words.c. */
static bool put_form(json_t *object, quantity q, bool metric)
{
    const quantity_form *form = quantity_for_people(q, metric);
    const int to = q == Q_HEAT && !metric ? 10 : 0;
    return put_text(object, "unit", form->unit) &&
           put_integer(object, "decimals", form->decimals) &&
           (!to || put_integer(object, "round", to));
}

static bool put_real(json_t *object, const char *name, double v)
{
    return object && json_object_set_new(object, name, json_real(v)) == 0;
}

/* ---- Sliders --------------------------------------------------------------------- */

static const struct {
    const char *name;
    quantity q;
    double step_ip, step_metric; /* of the slider, as shown */
} axes[AXES] = {
    [AXIS_AIR] = {"air", Q_AIRFLOW_PER_TON, 2, 1},
    [AXIS_OUTDOORS] = {"outdoors", Q_TEMPERATURE, 1, 0.5},
    [AXIS_HUMIDITY] = {"humidity", Q_FRACTION, 1, 1},
    [AXIS_LOAD] = {"load", Q_HEAT, 100, 0.05},
};

static double now_at(const explore_unit *u, int axis)
{
    const double now[AXES] = {
        [AXIS_AIR] = u->j->c->outdoor.V_rated_std / u->j->c->outdoor.tons,
        [AXIS_OUTDOORS] = u->job.T_out,
        [AXIS_HUMIDITY] = ct_air_rh(&u->job.indoor),
        [AXIS_LOAD] = u->j->c->house.Q_sensible,
    };
    return now[axis];
}

static bool put_axis(json_t *list, const explore_unit *u, int a, bool metric)
{
    const grid_axis *axis = &u->grid->axis[a];
    json_t *one = open_item(list), *at = open_array(one, "at");
    bool good = at && put_text(one, "name", axes[a].name) && put_form(one, axes[a].q, metric) &&
                put_real(one, "step", metric ? axes[a].step_metric : axes[a].step_ip) &&
                put_real(one, "now", show(axes[a].q, now_at(u, a), metric));
    for (int i = 0; good && i < axis->n; i++)
        good = json_array_append_new(at, json_real(show(axes[a].q, axis->at[i], metric))) == 0;
    return good;
}

/* ---- Figures --------------------------------------------------------------------- */

static bool put_codes(json_t *figure, const explore_unit *u, int i, bool metric)
{
    const figure_row *row = figure_at(i);
    const int n = grid_size(u->grid, i);
    double *v = malloc((size_t)n * sizeof *v);
    codes c = {.text = NULL};
    for (int k = 0; v && k < n; k++)
        v[k] = show(row->q, u->grid->value[i][k], metric);
    const bool good = v && codes_make(v, n, &c) && put_real(figure, "low", c.low) &&
                      put_real(figure, "step", c.step) && put_text(figure, "codes", c.text);
    free(c.text);
    free(v);
    return good;
}

static bool has_values(const grid *g, int i)
{
    for (int k = 0; k < grid_size(g, i); k++)
        if (isfinite(g->value[i][k])) return true;
    return false;
}

static bool put_figures(json_t *unit, const explore_unit *u, bool metric)
{
    json_t *figures = open_object(unit, "figures");
    bool good = figures != NULL;
    for (int i = 0; good && i < figures_count(); i++) {
        const figure_row *row = figure_at(i);
        const unsigned on = figure_axes(row, u->j->c);
        if (!has_values(u->grid, i)) continue;
        json_t *one = open_object(figures, row->name), *list = open_array(one, "axes");
        good = list != NULL;
        for (int a = 0; good && a < AXES; a++)
            if (on & 1u << a) good = json_array_append_new(list, json_integer(a)) == 0;
        good = good && (!(on & THINNED) || put_bool(one, "thinned", true)) &&
               put_form(one, row->q, metric) && put_codes(one, u, i, metric);
    }
    return good;
}

/* ---- Limits ---------------------------------------------------------------------- */

static quantity value_of(const figure_row *row, const grid_bound *b)
{
    return row->value != Q_PLAIN ? row->value : b->words.value;
}

/* How the bound moves with the load: the margin is on it. */
static double per_load(const figure_row *row, const ct_case *c)
{
    return row->moves_with_load ? 1.0 + c->house.margin : 0.0;
}

static bool put_limit(json_t *list, const explore_unit *u, int i, bool metric)
{
    const figure_row *row = figure_at(i);
    const grid_bound *b = &u->grid->bound[i];
    const ct_limit_row *limit = ct_limit_of(row->limit);
    json_t *one = open_item(list);
    return put_text(one, "limit", limit->token) && put_text(one, "name", limit->name) &&
           put_text(one, "figure", row->name) &&
           put_bool(one, "decides", row->limit < CT_LIMIT_FIRST_ADVICE) &&
           put_text(one, "measured", row->measured ? row->measured : b->words.measured) &&
           put_text(one, "against", row->bound ? row->bound : b->words.bound) &&
           put_bool(one, "at_most", b->at_most) &&
           put_real(one, "bound", show(value_of(row, b), b->bound, metric)) &&
           put_real(one, "per_load", per_load(row, u->j->c)) &&
           put_form(one, value_of(row, b), metric);
}

static bool put_limits(json_t *unit, const explore_unit *u, bool metric)
{
    json_t *list = open_array(unit, "limits");
    bool good = list != NULL;
    for (int i = 0; good && i < figures_count(); i++)
        if (figure_at(i)->is_slack && u->grid->bound[i].has) good = put_limit(list, u, i, metric);
    return good;
}

/* ---- Units ----------------------------------------------------------------------- */

static bool put_tap(json_t *list, const explore_tap *t, bool metric)
{
    json_t *one = open_item(list);
    if (!put_text(one, "name", t->name)) return false;
    if (!t->has) return put_text(one, "why", t->why);
    return put_real(one, "air", show(Q_AIRFLOW_PER_TON, t->V_std_per_ton, metric)) &&
           (t->dp.verdict == CT_NOT_JUDGED ||
            (put_bool(one, "static_fails", t->dp.verdict == CT_FAILS) &&
             put_real(one, "static", show(Q_STATIC, t->dp.value, metric)) &&
             put_real(one, "static_bound", show(Q_STATIC, t->dp.bound, metric))));
}

/* What the sweep says of the pick, or of the speed that comes nearest, in its words. */
static bool put_remarks(json_t *unit, const explore_unit *u, bool metric)
{
    const verdict v = verdict_of(u->j->c, u->j->refrigerant, u->job.unit, metric);
    json_t *list = open_array(unit, "remarks");
    return list && put_note_remarks(list, u->notes, metric) && verdict_put_remarks(list, &v);
}

static bool put_begin(json_t *unit, const explore_unit *u, bool metric)
{
    return !u->V_begin.has ||
           (put_bool(unit, "picked", u->has_pick) &&
            put_real(unit, "begin", show(Q_AIRFLOW_PER_TON, u->V_begin.v, metric)));
}

/* Below how much superheat a piston may let liquid through, and the hotter day it is looked at. */
static bool put_piston(json_t *unit, const explore_unit *u, bool metric)
{
    if (u->job.system.meter.kind != CT_METER_ORIFICE) return true;
    json_t *one = open_object(unit, "piston");
    return put_real(one, "least", show(Q_DELTA_T, CT_SUPERHEAT_LITTLE, metric)) &&
           (!u->T_hot.has || put_real(one, "hot", show(Q_TEMPERATURE, u->T_hot.v, metric)));
}

static bool put_equipment(json_t *unit, const explore_unit *u, bool metric)
{
    json_t *taps = open_array(unit, "taps"), *sliders = open_array(unit, "axes");
    bool good = taps && sliders && put_real(unit, "tons", u->job.system.outdoor.tons) &&
                put_begin(unit, u, metric) && put_piston(unit, u, metric) &&
                put_remarks(unit, u, metric) && put_figures(unit, u, metric) &&
                put_limits(unit, u, metric);
    for (int i = 0; good && i < u->n_taps; i++)
        good = put_tap(taps, &u->tap[i], metric);
    for (int a = 0; good && a < AXES; a++)
        good = put_axis(sliders, u, a, metric);
    if (good && u->grid->trouble != CT_BALANCED)
        good = put_text(unit, "trouble", ct_outcome_text(u->grid->trouble));
    return good;
}

static bool put_unit(json_t *list, const explore_unit *u, bool metric)
{
    json_t *one = open_item(list);
    return put_text(one, "name", u->name) && put_some_text(one, "refusal", u->refusal) &&
           (u->good ? put_equipment(one, u, metric) : put_text(one, "why", u->why));
}

/* ---- Lesson ---------------------------------------------------------------------- */

/* Paragraphs and items of a list, each a text of its own; line ends are blanks. */
static bool put_piece(json_t *list, const char *from, size_t n, bool item)
{
    json_t *one = open_item(list);
    char *text = strndup(from, n);
    for (char *c = text; c && *c; c++)
        if (*c == '\n' || *c == '\r' || *c == '\t') *c = ' ';
    const bool good = text && put_bool(one, "item", item) && put_text(one, "text", text);
    free(text);
    return good;
}

/* How far a paragraph goes: to an empty line or the next item. */
static size_t piece_length(const char *text)
{
    const char *blank = strstr(text, "\n\n"), *item = strstr(text, "\n- ");
    if (blank && (!item || blank < item)) return (size_t)(blank - text);
    return item ? (size_t)(item - text) : strlen(text);
}

static bool put_prose(json_t *object, const char *name, const char *text)
{
    json_t *list = open_array(object, name);
    bool good = list != NULL;
    while (good && *(text += strspn(text, "\n\r "))) {
        const size_t n = piece_length(text);
        const bool item = strncmp(text, "- ", 2) == 0;
        good = put_piece(list, text + (item ? 2 : 0), n - (item ? 2 : 0), item);
        text += n;
    }
    return good;
}

static bool put_place(json_t *object, const char *name, const lesson_place *p,
                      const explore_facts *f)
{
    json_t *one = open_object(object, name);
    bool good = put_integer(one, "unit", p->second ? f->n - 1 : 0);
    for (int a = 0; good && a < AXES; a++)
        if (p->has[a]) good = put_real(one, axes[a].name, show(axes[a].q, p->at[a], f->metric));
    return good;
}

static bool put_lesson(json_t *root, const explore_facts *f)
{
    const lesson *l = f->lesson;
    json_t *one = open_object(root, "lesson"), *guess = open_array(one, "guess");
    bool good = guess && put_text(one, "title", l->title) &&
                put_prose(one, "question", l->question) && put_prose(one, "hints", l->hints) &&
                put_prose(one, "answer", l->answer) && put_place(one, "before", &l->before, f) &&
                put_place(one, "after", &l->after, f);
    for (int i = 0; good && i < l->n_guesses; i++)
        good = json_array_append_new(guess, json_string(figure_at(l->guess[i])->name)) == 0;
    return good;
}

json_t *explore_data(const explore_facts *f)
{
    json_t *root = json_object(), *units = open_array(root, "units");
    bool good = units && put_bool(root, "metric", f->metric) &&
                put_bool(root, "settled", f->j->c->house.judge_load_at == CT_LOAD_SETTLED) &&
                put_real(root, "humidity_load", 100 * f->j->c->house.humidity_load);
    for (int i = 0; good && i < f->n; i++)
        good = put_unit(units, &f->unit[i], f->metric);
    if (good && f->lesson) good = put_lesson(root, f);
    return json_when(good, root);
}
