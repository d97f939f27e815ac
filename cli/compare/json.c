#include "compare/files.h"
#include "show/json_out.h"
#include "show/limit_words.h"
#include "show/note_words.h"
#include "show/ways_words.h"

static bool put_facts(json_t *object, const comparison *k, int unit, bool si)
{
    bool good = true;
    for (int i = 0; good && i < compare_facts_count(); i++) {
        const compare_fact *f = compare_fact_at(i);
        good = put_value(object, f->name, f->q, compare_value(k, i, unit), si);
    }
    return good;
}

static bool put_unit(json_t *object, const comparison *k, int unit, bool si)
{
    const compare_unit *u = unit == MATCHED ? NULL : &k->unit[unit];
    const char letter[] = {compare_letter(unit), '\0'};
    if (!put_text(object, "letter", letter) || !put_text(object, "name", compare_name(k, unit)) ||
        !put_facts(object, k, unit, si))
        return false;
    if (!u) return put_notes(object, k->matched.at.point.notes, si);
    if (!put_bool(object, "passes", compare_unit_passes(u)) ||
        !put_bool(object, "refused", compare_unit_refused(u)))
        return false;
    if (!u->good) return put_text(object, "why", u->why);
    const int tap = u->row.at.point.tap;
    return put_notes(object, u->row.at.point.notes, si) && outlook_put(object, &u->outlook, si) &&
           put_text(object, "metering", meter_token(u->row.at.point.meter)) &&
           (tap < 0 || put_text(object, "tap", k->j->c->indoor[unit].blower.tap[tap].name));
}

json_t *compare_json(const comparison *k, bool si)
{
    json_t *root = json_object(), *units = open_array(root, "units");
    bool good = units &&
                put_number(root, "humidity_load", Q_FRACTION, k->j->c->house.humidity_load, si) &&
                put_number(root, "cyclic_degradation", Q_PLAIN, k->j->c->outdoor.CD, si) &&
                ways_put(root, k->j->c, &k->j->ways, si);
    for (int u = MATCHED; good && u < k->n; u++) {
        json_t *one = open_item(units);
        good = one && put_unit(one, k, u, si);
        if (good && u != MATCHED) good = verdict_put(one, &k->unit[u].verdict);
    }
    return json_when(good, root);
}
