#include "whatif/json.h"

#include <math.h>

#include "show/json_out.h"
#include "show/note_words.h"
#include "show/noted_speeds.h"
#include "show/ways_words.h"

static json_t *reach_json(const whatif_result *r, int i)
{
    const ct_point *p = whatif_speed(r, i);
    json_t *o = json_object();
    char name[SHOWN_SIZE];
    const bool good = (p->tap < 0 || put_text(o, "tap", whatif_speed_name(r, i, name))) &&
                      put_value(o, "airflow_standard", Q_AIRFLOW, p->V_std, r->si) &&
                      put_value(o, "largest_load", Q_HEAT,
                                p->status == CT_OK ? r->reach[i].Q_load_max : (double)NAN, r->si) &&
                      put_value(o, "hottest_day", Q_TEMPERATURE, r->reach[i].T_hottest, r->si) &&
                      put_some_text(o, "why_no_hottest_day", r->reach[i].why);
    return json_when(good, o);
}

static json_t *tipping_json(const whatif_result *r, const ct_tipping *t)
{
    const quantity q = quantity_of_kind(ct_vary_unit(t->input));
    json_t *o = json_object();
    char name[SHOWN_SIZE];
    const bool good =
        put_text(o, "input", ct_vary_name(t->input)) &&
        put_value(o, "standard_deviation", q, t->sigma, r->si) &&
        put_bool(o, "changes", t->changes) && put_value(o, "change", q, t->change, r->si) &&
        put_value(o, "standard_deviations", Q_PLAIN, t->sigmas, r->si) &&
        (!t->changes || put_text(o, "pick", whatif_speed_name(r, t->to, name))) &&
        put_value(o, "looked_up_to", Q_PLAIN, t->cut ? t->up : (double)NAN, r->si) &&
        put_value(o, "looked_down_to", Q_PLAIN, t->cut ? -t->down : (double)NAN, r->si) &&
        put_value(o, "impossible_above", Q_PLAIN, t->ends_up ? t->up : (double)NAN, r->si) &&
        put_value(o, "impossible_below", Q_PLAIN, t->ends_down ? -t->down : (double)NAN, r->si);
    return json_when(good, o);
}

static bool fill(json_t *root, const whatif_result *r)
{
    const noted_speeds noted = {r->outlook.job, r->outlook.sweep, r->outlook.pick};
    json_t *speeds = open_array(root, "speeds"), *first = open_array(root, "changes_first");
    char name[SHOWN_SIZE];
    bool good = speeds && first && verdict_put(root, &r->verdict) &&
                outlook_put(root, &r->outlook, r->si) &&
                ways_put(root, r->j->c, &r->j->ways, r->si) &&
                put_notes(root, noted_speeds_answer(&noted), r->si) &&
                put_text(root, "units", r->si ? "si" : "inch_pound") &&
                put_text(root, "pick", whatif_speed_name(r, r->w->pick, name));
    for (int i = 0; good && i < whatif_n_speeds(r); i++)
        good = json_array_append_new(speeds, reach_json(r, i)) == 0;
    for (int i = 0; good && i < r->w->n; i++)
        good = json_array_append_new(first, tipping_json(r, &r->w->tipping[i])) == 0;
    return good;
}

exit_code whatif_json_print(const whatif_result *r)
{
    json_t *root = json_object();
    const bool good = fill(root, r);
    return print_answer(stdout, json_when(good, root), 9) ? EXIT_DONE : EXIT_SYSTEM;
}
