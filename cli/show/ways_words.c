#include "show/ways_words.h"

#include <math.h>
#include <string.h>

#include "base/paragraph.h"
#include "judge/static_budget.h"
#include "show/json_out.h"
#include "show/limit_words.h"

typedef struct {
    const char *token; /* for programs */
    const char *by;    /* "by ..." */
} way_words;

static const way_words flow_words[CT_FLOW_COUNT] = {
    {"entered", "as entered"},
    {"tap", "by the table of the tap in use"},
    {"heat_rise", "by the rise through the heat"},
    {"cooling_split", "by the wet bulbs of the running system"},
    {"part_drop", "by the drop of a part with a table"}};

static const way_words load_words[CT_HOUSE_COUNT] = {
    {"entered", "as entered"},
    {"run_time", "by run time"},
    {"floor_area", "by rule of thumb from the floor area"}};

static const way_words part_words[CT_STATIC_PARTS] = {{"return_ducts", "return ducts"},
                                                      {"filter", "filter"},
                                                      {"coil", "old coil"},
                                                      {"supply_ducts", "supply ducts"}};

static const char *const headings[WAYS_TOPICS] = {"Load: ", "Airflow: ", "Ducts: "};

/* What such a finding is good for: the nearest 100 Btu/h or 10 cfm, 0.1 kW or 5 L/s. */
static double coarse(quantity q, double v, bool metric)
{
    const double shown = quantity_show(quantity_for_people(q, metric), v);
    const double step = q == Q_HEAT ? metric ? 0.1 : 100.0 : metric ? 5.0 : 10.0;
    return shown != 0.0 ? v * round(shown / step) * step / shown : v;
}

/* "by run time 21,000 Btu/h (15,000 to 27,000)" */
static void say_way(FILE *out, const ct_found *f, const way_words *w, quantity q, bool metric)
{
    char v[SHOWN_SIZE], low[SHOWN_SIZE], high[SHOWN_SIZE];
    if (!f->found) {
        fprintf(out, "%s: no answer (%s)", w->by, f->why);
        return;
    }
    fprintf(out, "%s %s (%s to %s)", w->by, shown(v, q, coarse(q, f->v, metric), metric),
            shown(low, q, coarse(q, fmax(0.0, f->v * (1 - 2 * f->doubt)), metric), metric),
            shown(high, q, coarse(q, f->v * (1 + 2 * f->doubt), metric), metric));
}

/* The ways to one value. */
typedef struct {
    const char *name;
    const ct_found *found;
    const way_words *words;
    int n, taken;
    bool differs;
    quantity q;
} group;

static group load_group(const ct_ways *w)
{
    return (group){"load",        w->load,         load_words, CT_HOUSE_COUNT,
                   w->load_taken, w->load_differs, Q_HEAT};
}

static group flow_group(const ct_ways *w)
{
    return (group){"airflow",     w->flow,         flow_words, CT_FLOW_COUNT,
                   w->flow_taken, w->flow_differs, Q_AIRFLOW};
}

/* There is more than a value entered. */
static bool is_told(const group *g)
{
    bool more = false;
    for (int i = 1; i < g->n; i++)
        more = more || g->found[i].given;
    return more && g->taken >= 0;
}

/* The way taken alone, for what is shorter than a report. */
static void say_taken(FILE *out, const group *g, bool metric)
{
    say_way(out, &g->found[g->taken], &g->words[g->taken], g->q, metric);
    fputs(g->differs ? ". Another way to it does not agree: find out why before the job." : ".",
          out);
}

static void say_ways(FILE *out, const group *g, bool metric)
{
    int found = 0;
    for (int i = 0; i < g->n; i++)
        found += g->found[i].found;
    say_way(out, &g->found[g->taken], &g->words[g->taken], g->q, metric);
    fputs(", which is taken", out);
    for (int i = 0; i < g->n; i++) {
        if (i == g->taken || !g->found[i].given) continue;
        fputs("; ", out);
        say_way(out, &g->found[i], &g->words[i], g->q, metric);
    }
    fputs(". ", out);
    if (found < 2) return;
    fputs(g->differs ? "They do not agree: find out why before the job. "
                     : "They agree within their doubts. ",
          out);
}

static void print_load(FILE *out, const ct_ways *w, bool metric)
{
    const group g = load_group(w);
    paragraph text;
    FILE *t;
    if (!is_told(&g) || !(t = paragraph_open(&text))) return;
    fputs("sensible, ", t);
    say_ways(t, &g, metric);
    if (w->at_least)
        fputs("It ran the whole time: by run time the load is at least this, and may be more. ", t);
    fputs("95 of 100 lie in the range given; --uncertain uses it", t);
    fputs(w->load[w->load_taken].doubt > CT_LOAD_DOUBT_MOST ? ", at most 80% either way." : ".", t);
    paragraph_print(&text, out, headings[WAYS_LOAD], 6);
}

static void print_flow(FILE *out, const ct_ways *w, bool metric)
{
    const group g = flow_group(w);
    paragraph text;
    FILE *t;
    if (!is_told(&g) || !(t = paragraph_open(&text))) return;
    say_ways(t, &g, metric);
    fputs("It is the airflow at the static read; --uncertain uses the range, at most 20% of the "
          "static.",
          t);
    paragraph_print(&text, out, headings[WAYS_AIRFLOW], 9);
}

/* ---- Static ---------------------------------------------------------------------- */

static void say_parts(FILE *out, const ct_static_budget *b, bool metric)
{
    char dp[SHOWN_SIZE];
    const char *between = "";
    for (int i = 0; i < CT_STATIC_PARTS; i++) {
        if (!(b->usual[i] > 0.0)) continue;
        fprintf(out, "%s%s%s %s, %.0f%% of that (usual %.0f%%)", between, part_words[i].by,
                i == CT_STATIC_RETURN && b->filter_inside ? " with the filter" : "",
                shown(dp, Q_STATIC, b->dp[i], metric), 100 * b->share[i], 100 * b->usual[i]);
        between = "; ";
    }
    fputs(". ", out);
}

static bool is_over(const ct_static_budget *b, ct_static_part i)
{
    return b->share[i] > 1.1 * b->usual[i];
}

static void say_worst(FILE *out, const ct_static_budget *b)
{
    const bool sides = is_over(b, CT_STATIC_RETURN) && is_over(b, CT_STATIC_SUPPLY);
    static const char *const cure[CT_STATIC_PARTS] = {
        "The return side is too small: a larger or second return comes first.",
        "The filter is too small or dirty: more filter face comes first.",
        "The old coil takes too much: look whether it is dirty.",
        "The supply side is too small: dampers, then more or larger supply ducts."};
    if (b->worst < 0)
        fputs("No part takes more than its share.", out);
    else if (b->too_small && sides)
        fprintf(out, "Both sides are too small, first the %s side: larger or more ducts.",
                b->worst == CT_STATIC_SUPPLY ? "supply" : "return");
    else if (b->too_small)
        fputs(cure[b->worst], out);
    else
        fprintf(out, "The %s take the most beyond their share; the total is within the limit.",
                part_words[b->worst].by);
}

static void say_static(FILE *t, const ct_static_budget *b, bool metric)
{
    char total[SHOWN_SIZE], limit[SHOWN_SIZE];
    fprintf(t, "%s of static where the blower is made for %s%s: ",
            shown(total, Q_STATIC, b->total, metric), shown(limit, Q_STATIC, b->limit, metric),
            b->limit_assumed ? " (usual; its nameplate is not given)" : "");
    say_parts(t, b, metric);
    say_worst(t, b);
}

/* ---- Text ------------------------------------------------------------------------ */

static void print_static(FILE *out, const ct_case *c, bool metric)
{
    ct_static_budget b;
    paragraph text;
    FILE *t;
    ct_static_budget_of(c, &b);
    if (!b.has || !(t = paragraph_open(&text))) return;
    say_static(t, &b, metric);
    paragraph_print(&text, out, headings[WAYS_DUCTS], 7);
}

bool ways_explain(FILE *out, ways_topic topic, const ct_case *c, const ct_ways *w, bool metric)
{
    const group g = topic == WAYS_LOAD ? load_group(w) : flow_group(w);
    if (topic == WAYS_DUCTS) {
        ct_static_budget b;
        ct_static_budget_of(c, &b);
        if (b.has) say_static(out, &b, metric);
        return b.has;
    }
    if (!is_told(&g)) return false;
    fputs(topic == WAYS_LOAD ? "sensible, " : "", out);
    say_taken(out, &g, metric);
    return true;
}

const char *ways_heading(ways_topic topic)
{
    return headings[topic];
}

void ways_print_short(FILE *out, const ct_case *c, const ct_ways *w, bool metric)
{
    for (int topic = 0; topic < WAYS_DUCTS; topic++) {
        paragraph text;
        FILE *t = paragraph_open(&text);
        if (!t) return;
        if (ways_explain(t, (ways_topic)topic, c, w, metric))
            paragraph_print(&text, out, headings[topic], (int)strlen(headings[topic]));
        else
            fclose(t);
    }
}

void ways_print(FILE *out, const ct_case *c, const ct_ways *w, bool metric)
{
    print_load(out, w, metric);
    print_flow(out, w, metric);
    print_static(out, c, metric);
}

/* ---- JSON ------------------------------------------------------------------------ */

static bool put_way(json_t *list, const group *g, int i, bool si)
{
    const ct_found *f = &g->found[i];
    const bool load = g->q == Q_HEAT;
    json_t *o = open_item(list);
    if (!o || !put_text(o, "way", g->words[i].token) || !put_bool(o, "found", f->found))
        return false;
    if (!f->found) return put_text(o, "why", f->why);
    return put_value(o, load ? "sensible" : "airflow", g->q, f->v, si) &&
           put_value(o, "latent", Q_HEAT, load ? f->latent : (double)NAN, si) &&
           put_value(o, "standard_deviation", Q_FRACTION, f->doubt, si);
}

static bool put_ways(json_t *parent, const group *g, bool si)
{
    if (!is_told(g)) return true;
    json_t *o = open_object(parent, g->name), *list = o ? open_array(o, "ways") : NULL;
    bool good = list && put_text(o, "taken", g->words[g->taken].token) &&
                put_bool(o, "ways_differ", g->differs);
    for (int i = 0; good && i < g->n; i++)
        if (g->found[i].given) good = put_way(list, g, i, si);
    return good;
}

static bool put_static(json_t *object, const ct_case *c, bool si)
{
    ct_static_budget b;
    ct_static_budget_of(c, &b);
    if (!b.has) return true;
    json_t *o = open_object(object, "static");
    bool good = o && put_value(o, "total", Q_STATIC, b.total, si) &&
                put_value(o, "limit", Q_STATIC, b.limit, si) &&
                put_some_text(o, "too_small", b.too_small ? part_words[b.worst].token : "");
    for (int i = 0; good && i < CT_STATIC_PARTS; i++)
        if (b.usual[i] > 0.0) good = put_value(o, part_words[i].token, Q_STATIC, b.dp[i], si);
    return good;
}

bool ways_put(json_t *object, const ct_case *c, const ct_ways *w, bool si)
{
    const group load = load_group(w), flow = flow_group(w);
    if (is_told(&load) || is_told(&flow)) {
        json_t *o = open_object(object, "found");
        if (!o || !put_ways(o, &load, si) || !put_ways(o, &flow, si)) return false;
    }
    return put_static(object, c, si);
}
