#include "case/conflicts.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "case/assume.h"
#include "case/keys.h"
#include "case/meter_keys.h"
#include "case/place.h"
#include "case/ways_check.h"

static void check_below(const ct_place *p, const char *key, ct_maybe wet, double T)
{
    if (wet.has && wet.v > T)
        ct_place_fault(p, CT_CASE_CONFLICT, key,
                       "above the dry bulb of %s, which no air has; check which reading is which",
                       ct_place_text(p, "dry_bulb"));
}

static void check_air(const ct_place *p, const ct_air_reading *air)
{
    static const char *const one[] = {"relative_humidity", "wet_bulb", "dew_point"};
    if (!p->node || p->node->kind != CT_NODE_SECTION) return;
    const char *found = NULL;
    for (int i = 0; i < 3; i++) {
        if (!ct_place_at(p, one[i])) continue;
        if (found)
            ct_place_not_both(p, found, one[i], "one of them is enough; keep the one you measured");
        found = found ? found : one[i];
    }
    if (!found)
        ct_note_fault(p->r->report, CT_CASE_MISSING_KEY, p->node->line, p->shown, "",
                      "the moisture of this air is missing; give relative_humidity, wet_bulb or "
                      "dew_point");
    check_below(p, "wet_bulb", air->T_wb, air->T);
    check_below(p, "dew_point", air->T_dp, air->T);
}

static void check_humid(ct_reader *r, const ct_site *site)
{
    const ct_place p = ct_place_section(r, "site");
    ct_place_needs(&p, "humid_dry_bulb", "humid_dew_point", "the two are one condition");
    ct_place_needs(&p, "humid_dew_point", "humid_dry_bulb", "the two are one condition");
    if (!site->T_humid.has || !site->T_dp_humid.has) return;
    if (site->T_dp_humid.v > site->T_humid.v)
        ct_place_fault(&p, CT_CASE_CONFLICT, "humid_dew_point",
                       "above humid_dry_bulb, which no air has; check both");
    if (site->T_humid.v >= site->T_outdoor)
        ct_place_fault(&p, CT_CASE_CONFLICT, "humid_dry_bulb",
                       "not below outdoor_dry_bulb; the humid condition is that of milder hours");
}

static void check_site(ct_reader *r, const ct_case *c)
{
    const ct_place in = ct_place_section(r, "site.indoor_air");
    const ct_place duct = ct_place_section(r, "site.around_duct");
    check_air(&in, &c->site.indoor);
    check_air(&duct, &c->site.around_duct);
    check_humid(r, &c->site);
}

/* Without surroundings the losses would silently be none. */
static void check_losses(ct_reader *r)
{
    const ct_node *losses = ct_tree_find(r->root, "duct_losses");
    if (losses && !ct_tree_find(r->root, "site.around_duct"))
        ct_note_fault(r->report, CT_CASE_INCOMPLETE, losses->line, "duct_losses", "",
                      "needs site.around_duct, the air around the ducts");
}

static void check_house(ct_reader *r, const ct_case *c)
{
    const ct_place house = ct_place_section(r, "house");
    const ct_maybe balance = c->house.T_balance;
    if (ct_place_at(&house, "infiltration") && !ct_tree_find(r->root, "site.outdoor_humidity"))
        ct_place_fault(&house, CT_CASE_INCOMPLETE, "infiltration",
                       "needs site.outdoor_humidity, to know the moisture it brings in");
    if (balance.has && balance.v >= c->site.T_outdoor)
        ct_place_fault(&house, CT_CASE_CONFLICT, "balance_temperature",
                       "not below site.outdoor_dry_bulb, where the design load is met; check both");
    if (c->house.fan_on)
        ct_place_not_both(&house, "fan_on", "fan_off_delay",
                          "a fan that stays on has no run-on; keep one");
}

/* Of the figures a label may show, the first in this list that is given is kept. */
static void one_efficiency(const ct_place *unit)
{
    static const char *const key[] = {"rated_eer", "rated_eer2", "rated_seer", "rated_seer2"};
    static const char *const why[] = {"keep rated_eer, it needs no assumption",
                                      "keep rated_eer2, it needs the fewer assumptions",
                                      "keep rated_seer, it needs the fewer assumptions"};
    int first = 0;
    while (first < 4 && !ct_place_at(unit, key[first]))
        first++;
    if (first == 4)
        ct_note_fault(unit->r->report, CT_CASE_MISSING_KEY, unit->node->line, "outdoor.rated_eer",
                      "",
                      "the efficiency is missing; give rated_eer, or rated_seer if that is all "
                      "there is, such as 10.5 Btu/Wh");
    for (int i = first + 1; i < 4; i++)
        ct_place_not_both(unit, key[first], key[i], why[first]);
}

static void check_liquid_line(const ct_place *unit, const ct_outdoor_unit *u)
{
    if (u->line_length.has && u->line_lift.has && u->line_length.v < fabs(u->line_lift.v))
        ct_place_fault(unit, CT_CASE_CONFLICT, "liquid_line_length",
                       "shorter than liquid_line_lift, %s; check both",
                       ct_place_text(unit, "liquid_line_lift"));
}

static void check_stages(ct_reader *r, const ct_outdoor_unit *u)
{
    const ct_place unit = ct_place_section(r, "outdoor");
    const ct_place low = ct_place_section(r, "outdoor.low_stage");
    const bool has = low.node && ct_place_at(&low, "rated_capacity");
    const double share = has && u->Q_net > 0.0 ? u->low.Q_net / u->Q_net : CT_LOW_STAGE_CAPACITY;
    if (ct_place_at(&unit, "stages") && u->stages == CT_STAGES_ONE)
        ct_place_not_both(&unit, "stages", "low_stage",
                          "a unit with a low stage has two: take one out");
    if (u->stages == CT_STAGES_VARIABLE && !(has && ct_place_at(&low, "rated_eer")))
        ct_place_fault(&unit, CT_CASE_INCOMPLETE, "stages",
                       "speeds between two steady points are not modeled: give the minimum speed "
                       "as low_stage with its rated_capacity and rated_eer");
    if (share < CT_LOW_STAGE_LEAST || share > CT_LOW_STAGE_MOST)
        ct_place_fault(&low, CT_CASE_CONFLICT, "rated_capacity",
                       "%.0f%% of the high stage, allowed %.0f to %.0f%%; both are at 95 F "
                       "outdoors",
                       100.0 * share, 100.0 * CT_LOW_STAGE_LEAST, 100.0 * CT_LOW_STAGE_MOST);
}

/* The second rating has nothing to pull without its capacity, and is the smaller one. */
static void check_heat_pump(const ct_place *unit, const ct_heat_pump_spec *h)
{
    const ct_path shown = ct_place_path(unit, "heat_pump");
    const ct_place p = {unit->r, ct_place_at(unit, "heat_pump"), shown.text};

    if (h->COP_cold.has && !h->Q_net_cold.has)
        ct_place_fault(&p, CT_CASE_CONFLICT, "rated_cop_17",
                       "needs rated_capacity_17 beside it; give it, or leave both out");
    if (h->Q_net_cold.has && h->Q_net.has && h->Q_net_cold.v >= h->Q_net.v)
        ct_place_fault(&p, CT_CASE_CONFLICT, "rated_capacity_17",
                       "not below rated_capacity, which holds at 47 F; check both");
}

static void check_outdoor(ct_reader *r, const ct_outdoor_unit *u)
{
    const ct_place unit = ct_place_section(r, "outdoor");
    if (!unit.node || unit.node->kind != CT_NODE_SECTION) return;
    one_efficiency(&unit);
    ct_place_not_both(&unit, "rated_saturated_discharge", "vintage",
                      "vintage only helps to guess it; take vintage out");
    check_liquid_line(&unit, u);
    check_stages(r, u);
    check_heat_pump(&unit, &u->heat_pump);
}

static void check_geometry(const ct_place *p, const ct_coil_geometry *g)
{
    if (!p->node || p->node->kind != CT_NODE_SECTION) return;
    if (g->tube_od >= fmin(g->pitch_t, g->pitch_l))
        ct_place_fault(
            p, CT_CASE_CONFLICT, "tube_diameter",
            "not below tube_spacing and row_spacing, so the tubes would touch; check all "
            "three (spacings default to 1 in and 0.866 in)");
    if (2.0 * g->tube_wall >= g->tube_od)
        ct_place_fault(p, CT_CASE_CONFLICT, "tube_wall",
                       "leaves no bore in a tube of %s; check both",
                       ct_place_text(p, "tube_diameter"));
}

static void check_coil(const ct_place *unit, const ct_coil_spec *coil)
{
    static const char *const relative[] = {"size",   "tons",     "sizes_up",
                                           "growth", "circuits", "face_area"};
    const ct_path shown = ct_place_path(unit, "coil");
    const ct_place p = {unit->r, ct_place_at(unit, "coil"), shown.text};
    const ct_path shown_geometry = ct_place_path(&p, "geometry");
    const ct_place geometry = {unit->r, ct_place_at(&p, "geometry"), shown_geometry.text};
    ct_place_not_both(&p, "size", "tons", "keep size; the tons are only a way to guess it");
    ct_place_not_both(&p, "size", "sizes_up", "keep size; the other is only a way to guess it");
    ct_place_not_both(&p, "tons", "sizes_up", "keep tons");
    for (int i = 0; i < 6; i++)
        ct_place_not_both(&p, "geometry", relative[i],
                          "give the geometry or the size relative to the matched coil, not both");
    check_geometry(&geometry, &coil->geometry);
    ct_place_needs(&p, "wet_drop", "wet_drop_airflow", "give the airflow the drop was measured at");
    ct_place_needs(&p, "wet_drop_airflow", "wet_drop", "give the pressure drop at that airflow");
}

static void check_metering(const ct_place *unit, const ct_meter_spec *meter)
{
    const ct_path shown = ct_place_path(unit, "metering");
    const ct_place p = {unit->r, ct_place_at(unit, "metering"), shown.text};
    /* The usual drops: common practice, no source. */
    ct_place_needs(&p, "rated_capacity", "rated_drop",
                   "give the pressure drop it is rated at, by its maker's table: usually "
                   "100 psi with R-22 and R-407C, 160 psi with R-410A");
    ct_place_needs(&p, "rated_drop", "rated_capacity",
                   "give the capacity of the valve at that drop");
    const bool orifice = meter->kind == CT_METER_ORIFICE;
    const char *key;
    for (int i = 0; (key = ct_meter_key(orifice ? CT_METER_VALVE : CT_METER_ORIFICE, i)); i++)
        if (ct_place_at(&p, key))
            ct_place_fault(&p, CT_CASE_CONFLICT, key, "a %s has none; take it out, or make kind %s",
                           orifice ? "piston" : "valve", orifice ? "valve" : "piston");
    if (orifice && !meter->bore.has)
        ct_place_fault(
            &p, CT_CASE_INCOMPLETE, "kind",
            "a piston needs 'bore' beside it; it is stamped on the piston in thousandths "
            "of an inch, 67 is 0.067 in");
}

static void check_points(const ct_place *tap, const ct_tap *t, bool one_is_enough)
{
    if (ct_place_at(tap, "points") && t->n == 1 && !one_is_enough)
        ct_place_fault(
            tap, CT_CASE_COUNT, "points",
            "one point is not enough; give at least 2, unless motor is constant_airflow");
    for (int i = 1; i < t->n; i++)
        if (t->point[i].dp <= t->point[i - 1].dp)
            ct_place_fault(
                tap, CT_CASE_CONFLICT, "points",
                "static of point %d is not above that of point %d; list them from low static "
                "to high",
                i + 1, i);
}

/* No blower's airflow jumps so from one point of its table to the next: a digit is missing or one
 * too many. */
static void check_neighbors(const ct_place *tap, const ct_tap *t)
{
    for (int i = 1; i < t->n; i++) {
        const double before = t->point[i - 1].V, ratio = t->point[i].V / before;
        /* A point that could not be read has no airflow, and its own fault. */
        if (!(before > 0.0 && t->point[i].V > 0.0) || !(ratio > 5.0 || ratio < 0.2)) continue;
        ct_place_fault(tap, CT_CASE_CONFLICT, "points",
                       "the airflow of point %d is %.2g times that of the point before it; look "
                       "for a digit too few or too many",
                       i + 1, ratio);
        return;
    }
}

static bool tap_name_taken(const ct_blower *b, int i)
{
    for (int j = 0; j < i; j++)
        if (b->tap[i].name[0] && strcmp(b->tap[i].name, b->tap[j].name) == 0) return true;
    return false;
}

static void check_taps(const ct_place *p, const ct_blower *b)
{
    const ct_node *taps = ct_place_at(p, "taps");
    if (!taps || taps->kind != CT_NODE_LIST) return;
    const ct_node *node = taps->first;
    const ct_path list = ct_place_path(p, "taps");
    for (int i = 0; i < b->n_taps; i++, node = node->next) {
        char shown[CT_PATH_SIZE];
        ct_key_path_item(shown, list.text, i);
        const ct_place tap = {p->r, node, shown};
        check_points(&tap, &b->tap[i], b->motor == CT_MOTOR_CONST_AIRFLOW);
        check_neighbors(&tap, &b->tap[i]);
        if (tap_name_taken(b, i))
            ct_place_fault(&tap, CT_CASE_CONFLICT, "name",
                           "an earlier tap has this name; name each once");
    }
}

static void check_heat_tap(const ct_place *p, const ct_indoor_unit *u)
{
    char names[CT_TAP_NAMES_SIZE];
    ct_place_not_both(p, "heating_airflow", "heat_tap",
                      "one is enough: the airflow, or the tap it is on");
    if (!ct_place_at(p, "heat_tap")) return;
    ct_place_needs(p, "heat_tap", "taps", "it is the name of one of them");
    if (ct_blower_find_tap(&u->blower, u->heat_tap) >= 0) return;
    if (u->blower.n_taps > 0)
        ct_place_fault(p, CT_CASE_CONFLICT, "heat_tap", "there is no tap '%s'; there are: %s",
                       u->heat_tap, ct_blower_tap_names(&u->blower, names, sizeof names));
}

static void check_table_coil(const ct_place *p, const ct_blower *b)
{
    ct_place_needs(p, "table_includes_coil", "taps", "there is no table that could include it");
    ct_place_needs(p, "table_coil_drop", "taps", "there is no table it could be in");
    ct_place_needs(p, "table_coil_drop", "table_coil_airflow",
                   "give the airflow the drop was measured at");
    ct_place_needs(p, "table_coil_airflow", "table_coil_drop",
                   "give the pressure drop at that airflow");
    if (ct_place_at(p, "table_coil_drop") && ct_place_at(p, "table_includes_coil") &&
        b->table_coil != CT_TABLE_OTHER_COIL)
        ct_place_fault(p, CT_CASE_CONFLICT, "table_coil_drop",
                       "only a table measured with another coil has its drop in it; take this out, "
                       "or make table_includes_coil other");
    if (ct_place_at(p, "thin_air") && b->motor != CT_MOTOR_CONST_AIRFLOW)
        ct_place_fault(p, CT_CASE_CONFLICT, "thin_air",
                       "only a constant_airflow motor holds one of them; take it out");
}

static void check_blower(const ct_place *unit, const ct_indoor_unit *u)
{
    const ct_blower *b = &u->blower;
    const ct_path shown = ct_place_path(unit, "blower");
    const ct_place p = {unit->r, ct_place_at(unit, "blower"), shown.text};
    ct_place_not_both(&p, "taps", "power", "the tap table has the watts; take power out");
    ct_place_needs(&p, "taps", "motor", "psc, constant_torque or constant_airflow");
    ct_place_needs(&p, "taps", "static_limit", "the highest external static on the nameplate");
    check_table_coil(&p, b);
    if (ct_place_at(&p, "taps") && !ct_tree_find(unit->r->root, "duct"))
        ct_place_fault(
            &p, CT_CASE_INCOMPLETE, "taps",
            "a tap table needs section duct, one static and airflow measured in this house; "
            "without it, take taps out");
    check_taps(&p, b);
    check_heat_tap(&p, u);
}

static void check_sections(const ct_place *p, const ct_cabinet *cabinet)
{
    if (cabinet->sections > 1)
        ct_place_needs(p, "sections", "section_height", "the height of the tallest piece");
    if (!ct_place_at(p, "section_height")) return;
    if (cabinet->section_height > cabinet->height)
        ct_place_fault(p, CT_CASE_CONFLICT, "section_height", "above the height of the whole, %s",
                       ct_place_text(p, "height"));
    /* The library's own rounding allowance, so that three thirds of a height pass. */
    if (cabinet->sections > 0 &&
        cabinet->section_height < cabinet->height / cabinet->sections - CT_FIT_TOUCH)
        ct_place_fault(p, CT_CASE_CONFLICT, "section_height",
                       "with sections: %d this does not make up the height of %s; check all three",
                       cabinet->sections, ct_place_text(p, "height"));
}

/* Upright or on its side, neither can be longer than its longest edge. */
static void check_cabinet(const ct_place *unit, const ct_cabinet *cabinet)
{
    const ct_path shown = ct_place_path(unit, "cabinet");
    const ct_place p = {unit->r, ct_place_at(unit, "cabinet"), shown.text};
    const double longest = fmax(cabinet->width, fmax(cabinet->depth, cabinet->height));
    check_sections(&p, cabinet);
    if (cabinet->filter.has && cabinet->filter.v > longest)
        ct_place_fault(&p, CT_CASE_CONFLICT, "filter",
                       "longer than any edge of the cabinet it is drawn out of; check both");
    if (cabinet->drain_outlet.has && cabinet->drain_outlet.v > longest)
        ct_place_fault(
            &p, CT_CASE_CONFLICT, "drain_outlet",
            "higher than any edge of the cabinet is long; it counts from the unit's base");
}

static void check_name(const ct_place *unit, const ct_case *c, int i)
{
    if (unit->node->kind == CT_NODE_SECTION && !ct_place_at(unit, "name"))
        ct_note_fault(unit->r->report, CT_CASE_MISSING_KEY, unit->node->line,
                      ct_place_path(unit, "name").text, "",
                      "missing: a candidate needs a short name of its own");
    for (int j = 0; j < i; j++)
        if (c->indoor[i].name[0] && strcmp(c->indoor[i].name, c->indoor[j].name) == 0)
            ct_place_fault(unit, CT_CASE_CONFLICT, "name",
                           "another unit has this name; plots could not tell them apart");
}

static void check_unit(const ct_place *unit, ct_case *c, int i)
{
    const ct_indoor_unit *u = &c->indoor[i];
    check_coil(unit, &u->coil);
    check_metering(unit, &u->meter);
    check_blower(unit, u);
    check_cabinet(unit, &u->cabinet);
    if (i > 0) check_name(unit, c, i);
}

/* Sizes of one kind of opening that mean nothing on another. */
static const struct {
    const char *key;
    bool has[3], must[3]; /* by ct_opening_kind: door, hatch, corner */
    const char *kinds;    /* those that have it */
} sizes[] = {
    {"height", {true, false, true}, {true, false, true}, "door or corner"},
    {"run", {true, false, false}, {false, false, false}, "door"},
    {"length", {false, true, false}, {false, true, false}, "hatch"},
    {"headroom", {false, true, false}, {false, true, false}, "hatch"},
    {"frame", {false, true, false}, {false, false, false}, "hatch"},
    {"width_after", {false, false, true}, {false, false, true}, "corner"},
};
static const char *const opening_kinds[] = {"door", "hatch", "corner"};

static void check_size(const ct_place *p, ct_opening_kind kind, size_t i)
{
    char row[CT_PATH_SIZE];
    const char *key = sizes[i].key;
    if (ct_place_at(p, key) && !sizes[i].has[kind])
        ct_place_fault(p, CT_CASE_CONFLICT, key, "a %s has none; take it out, or make kind %s",
                       opening_kinds[kind], sizes[i].kinds);
    if (ct_place_at(p, key) || !sizes[i].must[kind]) return;
    snprintf(row, sizeof row, "way_in[].%s", key);
    ct_place_fault(p, CT_CASE_MISSING_KEY, key, "missing: a %s needs it (%s); write it as %s",
                   opening_kinds[kind], ct_key_find(&ct_case_keys, row)->help,
                   ct_key_find(&ct_case_keys, row)->unit_text);
}

static void check_opening(const ct_place *p, ct_case *c, int i)
{
    const ct_opening *o = c->opening;
    /* Without its kind, reported already, nobody knows what it should have. */
    if (ct_key_word(ct_key_find(&ct_case_keys, "way_in[].kind"), ct_place_text(p, "kind"), NULL) <
        0)
        return;
    for (size_t k = 0; k < sizeof sizes / sizeof sizes[0]; k++)
        check_size(p, o[i].kind, k);
    for (int j = 0; j < i; j++)
        if (o[i].name[0] && strcmp(o[j].name, o[i].name) == 0)
            ct_place_fault(p, CT_CASE_CONFLICT, "name",
                           "an earlier place on the way in has this name; name each once");
}

static void check_space(ct_reader *r)
{
    const ct_place p = ct_place_section(r, "space");
    ct_place_needs(&p, "drain_end", "drain_run", "the slope of the line needs its length");
}

static void check_limits(ct_reader *r, const ct_case *c)
{
    const ct_place p = ct_place_section(r, "limits");
    const ct_limits *l = &c->limits;
    ct_place_needs(&p, "furnace_output", "furnace_rise_min",
                   "both ends of the rise on the nameplate");
    ct_place_needs(&p, "furnace_output", "furnace_rise_max",
                   "both ends of the rise on the nameplate");
    ct_place_needs(&p, "furnace_rise_min", "furnace_output",
                   "the airflow follows from the rise and the output");
    ct_place_needs(&p, "furnace_rise_max", "furnace_output",
                   "the airflow follows from the rise and the output");
    ct_place_needs(&p, "strip_rise_max", "strip_power",
                   "the airflow follows from the rise and the power");
    if (l->dT_furnace_min.has && l->dT_furnace_max.has &&
        l->dT_furnace_min.v >= l->dT_furnace_max.v)
        ct_place_fault(&p, CT_CASE_CONFLICT, "furnace_rise_max", "not above furnace_rise_min of %s",
                       ct_place_text(&p, "furnace_rise_min"));
}

static void check_sweep(ct_reader *r, const ct_case *c)
{
    const ct_place p = ct_place_section(r, "sweep");
    if (c->sweep.V_per_ton_min >= c->sweep.V_per_ton_max)
        ct_place_fault(&p, CT_CASE_CONFLICT, ct_place_at(&p, "from") ? "from" : "to",
                       "sweep.from is not below sweep.to (they default to 250 and 500 cfm/ton)");
}

/* A humidity that was not given is still open here. */
static double or_usual(double rh, const char *key)
{
    return isnan(rh) ? ct_assume_usual(key) : rh;
}

static void check_control(ct_reader *r, const ct_fan_control *k)
{
    const ct_place p = ct_place_section(r, "fan_control");
    if (or_usual(k->rh_off, "fan_control.humidity_off") >=
        or_usual(k->rh_on, "fan_control.humidity_on"))
        ct_place_fault(&p, CT_CASE_CONFLICT,
                       ct_place_at(&p, "humidity_off") ? "humidity_off" : "humidity_on",
                       "humidity_off is not below humidity_on (they default to 50 and 53%%)");
}

void ct_conflicts(ct_reader *r, ct_case *c)
{
    const ct_place matched = ct_place_section(r, "matched_coil");
    check_site(r, c);
    check_losses(r);
    check_house(r, c);
    check_outdoor(r, &c->outdoor);
    check_geometry(&matched, &c->matched);
    ct_place_each_unit(r, c, check_unit);
    ct_place_each_opening(r, c, check_opening);
    check_space(r);
    check_sweep(r, c);
    check_limits(r, c);
    check_control(r, &c->control);
    ct_ways_check(r, c);
}
