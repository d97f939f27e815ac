#include "metering/json.h"

#include <math.h>

#include "metering/columns.h"
#include "show/json_out.h"
#include "show/limit_words.h"
#include "show/note_words.h"
#include "show/outlook.h"
#include "show/verdict.h"
#include "show/ways_words.h"

/* The points of a study by what was stepped. */
typedef struct {
    const char *name, *x; /* of the list, and of what was stepped */
    quantity q;           /* of x */
    const ct_study_point *points;
    int n;
} series;

static bool put_series(json_t *root, const series *s, bool si)
{
    json_t *list = open_array(root, s->name);
    if (!list) return false;
    for (int k = 0; k < s->n; k++) {
        const ct_study_point *p = &s->points[k];
        json_t *one = open_item(list);
        if (!one || !put_value(one, s->x, s->q, p->x, si) || !put_some_text(one, "why", p->why))
            return false;
        for (int i = 0; i < METERING_COLUMNS; i++)
            if (!put_value(one, metering_column_at(i)->name, metering_column_at(i)->q,
                           metering_value(i, p), si))
                return false;
    }
    return true;
}

static bool put_device(json_t *root, const metering_study *s, bool si)
{
    const ct_balance *b = &s->row.at.point.balance;
    json_t *o = open_object(root, "device");
    if (!o || !put_some_text(o, "kind", metering_kind_name(s->kind)) ||
        !put_some_text(o, "state", meter_token(s->row.at.point.meter)) ||
        !put_value(o, "superheat", Q_DELTA_T, b->superheat, si) ||
        !put_value(o, "quality_out", Q_FRACTION, b->quality_out, si) ||
        !put_value(o, "flow", Q_WATER_RATE, b->m_r, si) ||
        !put_value(o, "target_superheat", Q_DELTA_T, s->has_target ? s->target : (double)NAN, si))
        return false;
    if (s->kind == CT_METER_ORIFICE)
        return put_value(o, "bore", Q_BORE, s->sweep.system.meter.orifice.bore, si);
    return !s->valve.has || (put_value(o, "valve_share", Q_FRACTION, s->valve.out.share, si) &&
                             put_value(o, "pressure_drop", Q_PRESSURE_DROP, s->valve.dp, si) &&
                             put_value(o, "opening", Q_FRACTION, s->valve.out.opening, si));
}

static bool put_nearest(json_t *o, const char *name, const bore_showing *b, bool si)
{
    if (!b->has) return true;
    json_t *n = open_object(o, name);
    return n && put_value(n, "bore", Q_BORE, b->bore, si) && put_some_text(n, "why", b->why) &&
           (b->status != CT_OK ||
            (put_value(n, "superheat", Q_DELTA_T, b->balance.superheat, si) &&
             put_value(n, "quality_out", Q_FRACTION, b->balance.quality_out, si)));
}

static bool put_bore(json_t *root, const metering_study *s, bool si)
{
    json_t *o = open_object(root, "piston_size");
    if (!o || !put_value(o, "superheat", Q_DELTA_T, s->wanted.superheat, si) ||
        !put_value(o, "length", Q_BORE, s->wanted.length, si))
        return false;
    if (!s->has_bore) return put_some_text(o, "why", s->why_no_bore);
    return put_value(o, "bore", Q_BORE, s->bore.bore, si) &&
           put_nearest(o, "below", &s->below, si) && put_nearest(o, "above", &s->above, si);
}

static bool put_state(json_t *step, const char *name, const ct_study_point *p, bool si)
{
    json_t *o = open_object(step, name);
    return o && put_some_text(o, "why", p->why) &&
           (p->status != CT_OK ||
            (put_value(o, "superheat", Q_DELTA_T, p->balance.superheat, si) &&
             put_value(o, "subcooling", Q_DELTA_T, p->balance.subcooling, si) &&
             put_value(o, "quality_out", Q_FRACTION, p->balance.quality_out, si) &&
             put_value(o, "net_total", Q_HEAT, p->balance.Q_net, si)));
}

static bool put_steps(json_t *root, const metering_study *s, bool si)
{
    json_t *list = open_array(root, "pistons");
    bool good = list != NULL;
    for (int i = 0; good && i < s->n_steps; i++) {
        json_t *o = open_item(list);
        good = o && put_value(o, "bore", Q_BORE, s->step[i].bore, si) &&
               put_state(o, "charged", &s->step[i].charged, si) &&
               put_state(o, "less_flow", &s->step[i].less, si) &&
               put_state(o, "more_flow", &s->step[i].more, si);
    }
    return good;
}

static bool put_one_off(json_t *list, const ct_charge_point *p, bool si)
{
    json_t *o = json_object();
    bool good = o && json_array_append_new(list, o) == 0 &&
                put_value(o, "off", Q_FRACTION, p->off, si) &&
                put_value(o, "measured_capacity", Q_FRACTION, p->measured_capacity, si) &&
                put_value(o, "measured_power", Q_FRACTION, p->measured_power, si);
    return good && (!p->has || (put_value(o, "subcooling", Q_DELTA_T, p->subcooling, si) &&
                                put_value(o, "capacity", Q_FRACTION, p->capacity, si) &&
                                put_value(o, "power", Q_FRACTION, p->power, si)));
}

static bool put_off(json_t *root, const metering_study *s, bool si)
{
    json_t *list = s->has_off ? open_array(root, "charge_off") : NULL;
    bool good = !s->has_off || list;
    for (int i = 0; good && s->has_off && i < OFF; i++)
        good = put_one_off(list, &s->off[i], si);
    return good;
}

json_t *metering_json(const metering_study *s, bool si)
{
    const verdict v = verdict_of(s->j->c, s->j->refrigerant, &s->j->c->indoor[s->unit], si);
    json_t *root = json_object();
    bool good =
        root && put_some_text(root, "unit", s->j->c->indoor[s->unit].name) &&
        put_some_text(root, "stage", s->j->c->outdoor.low.has ? "high" : "") &&
        put_device(root, s, si) && put_bore(root, s, si) && put_steps(root, s, si) &&
        verdict_put(root, &v) &&
        put_notes_sized(root, s->row.at.point.notes, s->n_steps > 0 ? " (see pistons)" : "", si) &&
        outlook_put(root, &s->outlook, si) && ways_put(root, s->j->c, &s->j->ways, si) &&
        put_series(root, &(series){"charge", "subcooling", Q_DELTA_T, s->charge, CHARGES}, si) &&
        put_off(root, s, si);
    for (int kind = 0; good && kind < KINDS; kind++)
        if (metering_has_kind(s, kind))
            good = put_series(root,
                              &(series){metering_kind_name((ct_meter_kind)kind), "outdoor_dry_bulb",
                                        Q_TEMPERATURE, s->outdoors[kind], OUTDOORS},
                              si);
    return json_when(good, root);
}
