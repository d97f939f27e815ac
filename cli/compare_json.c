#include <math.h>

#include "check_words.h"
#include "compare_files.h"
#include "limit_words.h"

static bool put(json_t *object, const char *name, json_t *value)
{
    return json_object_set_new(object, name, value) == 0;
}

/* A difference has no zero to move, a temperature has; none of the differences is one. */
static bool put_facts(json_t *object, const comparison *k, int unit, bool si)
{
    for (int i = 0; i < compare_facts_count(); i++) {
        const compare_fact *f = compare_fact_at(i);
        const double v = compare_value(k, i, unit);
        if (isfinite(v) && !put_number(object, f->name, f->q, v, si)) return false;
    }
    return true;
}

static bool put_checks(json_t *object, const ct_checks *checks)
{
    json_t *list = json_array();
    if (!list || !put(object, "findings", list)) return false;
    for (int bit = 0; bit < CHECKS; bit++) {
        if (!(checks->found & 1u << bit)) continue;
        json_t *one = json_object();
        if (!one || json_array_append_new(list, one) != 0) return false;
        if (!put(one, "check", json_string(check_token(bit))) ||
            !put(one, "refuses", json_boolean(check_refuses(bit))))
            return false;
    }
    return true;
}

static bool put_unit(json_t *object, const comparison *k, int unit, bool si)
{
    const compare_unit *u = unit == MATCHED ? NULL : &k->unit[unit];
    const char letter[] = {compare_letter(unit), '\0'};
    if (!put(object, "letter", json_string(letter)) ||
        !put(object, "name", json_string(compare_name(k, unit))) || !put_facts(object, k, unit, si))
        return false;
    if (!u) return true;
    if (!put(object, "passes", json_boolean(compare_unit_passes(u))) ||
        !put(object, "refused", json_boolean(compare_unit_refused(u))))
        return false;
    if (!u->good) return put(object, "why", json_string(u->why));
    const int tap = u->row.at.point.tap;
    return put(object, "metering", json_string(meter_token(u->row.at.point.meter))) &&
           (tap < 0 || put(object, "tap", json_string(k->j->c->indoor[unit].blower.tap[tap].name)));
}

json_t *compare_json(const comparison *k, bool si)
{
    json_t *root = json_object(), *units = json_array();
    bool good = root && units && put(root, "units", units);
    good = good &&
           put_number(root, "humidity_load", Q_FRACTION, k->j->c->house.humidity_load, si) &&
           put_number(root, "cyclic_degradation", Q_PLAIN, k->j->c->outdoor.CD, si);
    for (int u = MATCHED; good && u < k->n; u++) {
        json_t *one = json_object();
        good = one && json_array_append_new(units, one) == 0 && put_unit(one, k, u, si);
        if (good && u != MATCHED && k->unit[u].has_checks)
            good = put_checks(one, &k->unit[u].checks);
    }
    if (good) return root;
    json_decref(root);
    return NULL;
}
