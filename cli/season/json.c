#include "season/json.h"

#include <math.h>

#include "season/columns.h"
#include "show/json_out.h"
#include "show/note_words.h"
#include "show/noted_speeds.h"
#include "show/switch_words.h"

static bool put_weather(json_t *root, const season_result *r)
{
    json_t *o = open_object(root, "weather");
    return o &&
           put_text(o, "kind",
                    !r->path            ? "rating_bins"
                    : r->weather.hourly ? "hourly"
                                        : "bins") &&
           put_some_text(o, "file", r->path) && put_some_text(o, "place", r->weather.place) &&
           put_integer(o, "lines", r->weather.n);
}

static bool put_speed(json_t *list, const season_result *r, int i)
{
    const season_speed *s = &r->speed[i];
    json_t *o = open_item(list);
    bool good = o && (s->point->tap < 0 || put_text(o, "tap", s->name)) &&
                put_bool(o, "pick", i == r->picked) && put_some_text(o, "why_none", s->why);
    for (int k = 0; good && k < SEASON_COLUMNS; k++)
        good = put_value(o, season_columns[k].name, season_columns[k].q,
                         season_column_value(r, s, k), r->si);
    if (good && r->sweep.has_low)
        good = put_value(o, "run_hours_high_stage", Q_PLAIN,
                         s->status == CT_OK ? s->total.run_high : (double)NAN, r->si);
    return good && put_integer(o, "balances", s->balances);
}

exit_code season_json_print(const season_result *r)
{
    const noted_speeds noted = {&r->sweep, r->swept, &r->pick};
    json_t *root = json_object();
    bool good = root && verdict_put(root, &r->verdict) &&
                put_notes(root, noted_speeds_answer(&noted), r->si) &&
                put_text(root, "units", r->si ? "si" : "inch_pound") &&
                put_some_text(root, "currency", r->j->c->job.currency) && put_weather(root, r) &&
                switches_put_setting(root, r->j->c, r->si);
    json_t *list = good ? open_array(root, "speeds") : NULL;
    good = good && list;
    for (int i = 0; good && i < r->n; i++)
        good = put_speed(list, r, i);
    return print_answer(stdout, json_when(good, root), 9) ? EXIT_DONE : EXIT_SYSTEM;
}
