#include "case/fill.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A section of the file under the name people know it by. */
typedef struct {
    ct_reader *r;
    const ct_node *node; /* NULL: left out */
    const char *shown;
} place;

typedef struct {
    char text[CT_PATH_SIZE];
} path;

static path under(const place *p, const char *key)
{
    path full;
    ct_path_join(full.text, p->shown, key);
    return full;
}

static const ct_node *at(const place *p, const char *key)
{
    return ct_tree_find(p->node, key);
}

static int line_of(const place *p, const char *key)
{
    const ct_node *node = at(p, key);
    return node ? node->line : p->node ? p->node->line : 0;
}

static const char *text_of(const place *p, const char *key)
{
    const ct_node *node = at(p, key);
    return node && node->text ? node->text : "";
}

#define fault_at(p, kind, key, ...)                                                                \
    ct_reader_fault((p)->r, kind, line_of(p, key), under(p, key).text, text_of(p, key), __VA_ARGS__)

/* Two keys of which only one may stand. */
static void not_both(const place *p, const char *a, const char *b, const char *advice)
{
    if (!at(p, a) || !at(p, b)) return;
    fault_at(p, CT_CASE_CONFLICT, b, "contradicts '%s' in line %d; %s", a, line_of(p, a), advice);
}

/* A key that means nothing without another. */
static void needs(const place *p, const char *a, const char *b, const char *advice)
{
    if (!at(p, a) || at(p, b)) return;
    fault_at(p, CT_CASE_INCOMPLETE, a, "needs '%s' beside it; %s", b, advice);
}

static void check_below(const place *p, const char *key, ct_maybe wet, double T)
{
    if (wet.has && wet.v > T)
        fault_at(p, CT_CASE_CONFLICT, key,
                 "above the dry bulb of %s, which no air has; check which reading is which",
                 text_of(p, "dry_bulb"));
}

static void check_air(const place *p, const ct_air_reading *air)
{
    static const char *const one[] = {"relative_humidity", "wet_bulb", "dew_point"};
    if (!p->node || p->node->kind != CT_NODE_SECTION) return;
    const char *found = NULL;
    for (int i = 0; i < 3; i++) {
        if (!at(p, one[i])) continue;
        if (found) not_both(p, found, one[i], "one of them is enough; keep the one you measured");
        found = found ? found : one[i];
    }
    if (!found)
        ct_reader_fault(p->r, CT_CASE_MISSING_KEY, p->node->line, p->shown, "",
                        "the moisture of this air is missing; give relative_humidity, wet_bulb or "
                        "dew_point");
    check_below(p, "wet_bulb", air->T_wb, air->T);
    check_below(p, "dew_point", air->T_dp, air->T);
}

static place section(ct_reader *r, const char *name)
{
    return (place){r, ct_tree_find(r->root, name), name};
}

static void check_site(ct_reader *r)
{
    const place in = section(r, "site.indoor_air");
    const place duct = section(r, "site.around_duct");
    check_air(&in, &r->c->site.indoor);
    check_air(&duct, &r->c->site.around_duct);
}

static void check_house(ct_reader *r)
{
    const place house = section(r, "house");
    const ct_maybe balance = r->c->house.T_balance;
    if (at(&house, "infiltration") && !ct_tree_find(r->root, "site.outdoor_humidity"))
        fault_at(&house, CT_CASE_INCOMPLETE, "infiltration",
                 "needs site.outdoor_humidity, to know the moisture it brings in");
    if (balance.has && balance.v >= r->c->site.T_outdoor)
        fault_at(&house, CT_CASE_CONFLICT, "balance_temperature",
                 "not below site.outdoor_dry_bulb, where the design load is met; check both");
    if (r->c->house.fan_on)
        not_both(&house, "fan_on", "fan_off_delay", "a fan that stays on has no run-on; keep one");
}

static void check_outdoor(ct_reader *r)
{
    const place unit = section(r, "outdoor");
    if (!unit.node || unit.node->kind != CT_NODE_SECTION) return;
    not_both(&unit, "rated_eer", "rated_seer", "keep rated_eer, it needs no assumption");
    not_both(&unit, "rated_saturated_discharge", "vintage",
             "vintage only stands in for it; take vintage out");
    if (!at(&unit, "rated_eer") && !at(&unit, "rated_seer"))
        ct_reader_fault(r, CT_CASE_MISSING_KEY, unit.node->line, "outdoor.rated_eer", "",
                        "the efficiency is missing; give rated_eer, or rated_seer if that is all "
                        "there is, such as 10.5 Btu/Wh");
}

static void check_geometry(const place *p, const ct_coil_geometry *g)
{
    if (!p->node || p->node->kind != CT_NODE_SECTION) return;
    if (g->tube_od >= fmin(g->pitch_t, g->pitch_l))
        fault_at(p, CT_CASE_CONFLICT, "tube_diameter",
                 "not below tube_spacing and row_spacing, so the tubes would touch; check all "
                 "three (spacings default to 1 in and 0.866 in)");
    if (2.0 * g->tube_wall >= g->tube_od)
        fault_at(p, CT_CASE_CONFLICT, "tube_wall", "leaves no bore in a tube of %s; check both",
                 text_of(p, "tube_diameter"));
}

static void check_coil(const place *unit, const ct_coil_spec *coil)
{
    static const char *const relative[] = {"size", "growth", "circuits", "face_area"};
    const path shown = under(unit, "coil");
    const place p = {unit->r, at(unit, "coil"), shown.text};
    const path shown_geometry = under(&p, "geometry");
    const place geometry = {unit->r, at(&p, "geometry"), shown_geometry.text};
    for (int i = 0; i < 4; i++)
        not_both(&p, "geometry", relative[i],
                 "give the geometry or the size relative to the matched coil, not both");
    if (geometry.node && !ct_tree_find(unit->r->root, "matched_coil"))
        fault_at(&p, CT_CASE_INCOMPLETE, "geometry",
                 "needs the geometry of the coil the outdoor unit was rated with, in section "
                 "matched_coil; give both, or a relative size here");
    check_geometry(&geometry, &coil->geometry);
    needs(&p, "wet_drop", "wet_drop_airflow", "a drop belongs to an airflow");
    needs(&p, "wet_drop_airflow", "wet_drop", "an airflow alone tells no drop");
}

static void check_metering(const place *unit, const ct_meter_spec *meter)
{
    static const char *const of_valve[] = {"superheat", "rated_capacity", "rated_drop"};
    static const char *const of_orifice[] = {"bore", "length"};
    const path shown = under(unit, "metering");
    const place p = {unit->r, at(unit, "metering"), shown.text};
    needs(&p, "rated_capacity", "rated_drop", "a capacity is rated at a drop, such as 160 psi");
    needs(&p, "rated_drop", "rated_capacity", "a drop alone tells no capacity");
    const bool orifice = meter->kind == CT_METER_ORIFICE;
    for (int i = 0; i < 3 && orifice; i++)
        if (at(&p, of_valve[i]))
            fault_at(&p, CT_CASE_CONFLICT, of_valve[i],
                     "a fixed orifice has none; take it out, or make kind valve");
    for (int i = 0; i < 2 && !orifice; i++)
        if (at(&p, of_orifice[i]))
            fault_at(&p, CT_CASE_CONFLICT, of_orifice[i],
                     "a valve has none; take it out, or make kind orifice");
    if (orifice && !meter->bore.has)
        fault_at(&p, CT_CASE_INCOMPLETE, "kind",
                 "an orifice needs 'bore' beside it; it is stamped on the piston in thousandths "
                 "of an inch, 67 is 0.067 in");
}

static void check_points(const place *tap, const ct_tap *t, bool one_is_enough)
{
    if (at(tap, "points") && t->n == 1 && !one_is_enough)
        fault_at(tap, CT_CASE_COUNT, "points",
                 "one point shows no slope; give at least 2, unless motor is constant_airflow");
    for (int i = 1; i < t->n; i++)
        if (t->point[i].dp <= t->point[i - 1].dp)
            fault_at(tap, CT_CASE_CONFLICT, "points",
                     "static of point %d is not above that of point %d; list them from low static "
                     "to high",
                     i + 1, i);
}

static bool tap_name_taken(const ct_blower *b, int i)
{
    for (int j = 0; j < i; j++)
        if (b->tap[i].name[0] && strcmp(b->tap[i].name, b->tap[j].name) == 0) return true;
    return false;
}

static void check_taps(const place *p, const ct_blower *b)
{
    const ct_node *taps = at(p, "taps");
    if (!taps || taps->kind != CT_NODE_LIST) return;
    const ct_node *node = taps->first;
    const path list = under(p, "taps");
    for (int i = 0; i < b->n_taps; i++, node = node->next) {
        char shown[CT_PATH_SIZE];
        ct_path_item(shown, list.text, i);
        const place tap = {p->r, node, shown};
        check_points(&tap, &b->tap[i], b->motor == CT_MOTOR_CONST_AIRFLOW);
        if (tap_name_taken(b, i))
            fault_at(&tap, CT_CASE_CONFLICT, "name",
                     "an earlier tap has this name; name each once");
    }
}

static void check_blower(const place *unit, const ct_blower *b)
{
    const path shown = under(unit, "blower");
    const place p = {unit->r, at(unit, "blower"), shown.text};
    not_both(&p, "taps", "power", "the tap table tells the watts; take power out");
    needs(&p, "taps", "motor", "psc, constant_torque or constant_airflow");
    needs(&p, "taps", "static_limit", "the highest external static on the nameplate");
    needs(&p, "table_includes_coil", "taps", "there is no table that could include it");
    if (at(&p, "taps") && !ct_tree_find(unit->r->root, "duct"))
        fault_at(&p, CT_CASE_INCOMPLETE, "taps",
                 "a tap table needs section duct, one static and airflow measured in this house; "
                 "without it, take taps out");
    check_taps(&p, b);
}

static void check_sections(const place *p, const ct_cabinet *cabinet)
{
    if (cabinet->sections > 1)
        needs(p, "sections", "section_height", "the height of the tallest piece");
    if (!at(p, "section_height")) return;
    if (cabinet->section_height > cabinet->height)
        fault_at(p, CT_CASE_CONFLICT, "section_height", "above the height of the whole, %s",
                 text_of(p, "height"));
    /* The library's own rounding allowance, so that three thirds of a height pass. */
    if (cabinet->sections > 0 &&
        cabinet->section_height < cabinet->height / cabinet->sections - CT_FIT_TOUCH)
        fault_at(p, CT_CASE_CONFLICT, "section_height",
                 "with sections: %d this does not make up the height of %s; check all three",
                 cabinet->sections, text_of(p, "height"));
}

/* However the unit stands, neither can be longer than its longest edge. */
static void check_cabinet(const place *unit, const ct_cabinet *cabinet)
{
    const path shown = under(unit, "cabinet");
    const place p = {unit->r, at(unit, "cabinet"), shown.text};
    const double longest = fmax(cabinet->width, fmax(cabinet->depth, cabinet->height));
    check_sections(&p, cabinet);
    if (cabinet->filter.has && cabinet->filter.v > longest)
        fault_at(&p, CT_CASE_CONFLICT, "filter",
                 "longer than any edge of the cabinet it is drawn out of; check both");
    if (cabinet->drain_outlet.has && cabinet->drain_outlet.v > longest)
        fault_at(&p, CT_CASE_CONFLICT, "drain_outlet",
                 "higher than any edge of the cabinet is long; it counts from the unit's base");
}

static void check_name(const place *unit, const ct_case *c, int i)
{
    if (unit->node->kind == CT_NODE_SECTION && !at(unit, "name"))
        ct_reader_fault(unit->r, CT_CASE_MISSING_KEY, unit->node->line, under(unit, "name").text,
                        "", "missing: a candidate needs a short name of its own");
    for (int j = 0; j < i; j++)
        if (c->indoor[i].name[0] && strcmp(c->indoor[i].name, c->indoor[j].name) == 0)
            fault_at(unit, CT_CASE_CONFLICT, "name",
                     "another unit has this name; plots could not tell them apart");
}

static void check_unit(ct_reader *r, const ct_node *node, const char *shown, int i)
{
    const ct_indoor_unit *u = &r->c->indoor[i];
    const place unit = {r, node, shown};
    check_coil(&unit, &u->coil);
    check_metering(&unit, &u->meter);
    check_blower(&unit, &u->blower);
    check_cabinet(&unit, &u->cabinet);
    if (i > 0) check_name(&unit, r->c, i);
}

/* Calls `visit` for the unit in question and every candidate read. */
static void each_unit(ct_reader *r,
                      void (*visit)(ct_reader *, const ct_node *, const char *shown, int i))
{
    visit(r, ct_tree_find(r->root, "indoor"), "indoor", 0);
    const ct_node *list = ct_tree_find(r->root, "candidates");
    const ct_node *node = list ? list->first : NULL;
    for (int i = 1; i < r->c->n_indoor; i++, node = node->next) {
        char shown[CT_PATH_SIZE];
        ct_path_item(shown, "candidates", i - 1);
        visit(r, node, shown, i);
    }
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

static void check_size(const place *p, ct_opening_kind kind, size_t i)
{
    char row[CT_PATH_SIZE];
    const char *key = sizes[i].key;
    if (at(p, key) && !sizes[i].has[kind])
        fault_at(p, CT_CASE_CONFLICT, key, "a %s has none; take it out, or make kind %s",
                 opening_kinds[kind], sizes[i].kinds);
    if (at(p, key) || !sizes[i].must[kind]) return;
    snprintf(row, sizeof row, "way_in[].%s", key);
    fault_at(p, CT_CASE_MISSING_KEY, key, "missing: a %s needs it (%s); write it as %s",
             opening_kinds[kind], ct_key_find(&ct_case_keys, row)->help,
             ct_key_find(&ct_case_keys, row)->unit_text);
}

static void check_opening(ct_reader *r, const ct_node *node, const char *shown, int i)
{
    const place p = {r, node, shown};
    const ct_opening *o = r->c->opening;
    /* Without its kind, told already, nobody knows what it should have. */
    if (ct_reader_word("door|hatch|corner", text_of(&p, "kind")) < 0) return;
    for (size_t k = 0; k < sizeof sizes / sizeof sizes[0]; k++)
        check_size(&p, o[i].kind, k);
    for (int j = 0; j < i; j++)
        if (o[i].name[0] && strcmp(o[j].name, o[i].name) == 0)
            fault_at(&p, CT_CASE_CONFLICT, "name",
                     "an earlier place on the way in has this name; name each once");
}

static void each_opening(ct_reader *r,
                         void (*visit)(ct_reader *, const ct_node *, const char *shown, int i))
{
    const ct_node *list = ct_tree_find(r->root, "way_in");
    const ct_node *node = list ? list->first : NULL;
    for (int i = 0; i < r->c->n_openings; i++, node = node->next) {
        char shown[CT_PATH_SIZE];
        ct_path_item(shown, "way_in", i);
        visit(r, node, shown, i);
    }
}

static void check_space(ct_reader *r)
{
    const place p = section(r, "space");
    needs(&p, "drain_end", "drain_run", "the fall is asked per length of the line");
}

static void check_limits(ct_reader *r)
{
    const place p = section(r, "limits");
    const ct_limits *l = &r->c->limits;
    needs(&p, "furnace_output", "furnace_rise_min", "both ends of the rise on the nameplate");
    needs(&p, "furnace_output", "furnace_rise_max", "both ends of the rise on the nameplate");
    needs(&p, "furnace_rise_min", "furnace_output", "a rise alone asks no airflow");
    needs(&p, "furnace_rise_max", "furnace_output", "a rise alone asks no airflow");
    if (l->dT_furnace_min.has && l->dT_furnace_max.has &&
        l->dT_furnace_min.v >= l->dT_furnace_max.v)
        fault_at(&p, CT_CASE_CONFLICT, "furnace_rise_max", "not above furnace_rise_min of %s",
                 text_of(&p, "furnace_rise_min"));
}

static void check_sweep(ct_reader *r)
{
    const place p = section(r, "sweep");
    if (r->c->sweep.V_per_ton_min >= r->c->sweep.V_per_ton_max)
        fault_at(&p, CT_CASE_CONFLICT, at(&p, "from") ? "from" : "to",
                 "sweep.from is not below sweep.to (they default to 250 and 500 cfm/ton)");
}

void ct_case_check(ct_reader *r)
{
    const place matched = section(r, "matched_coil");
    check_site(r);
    check_house(r);
    check_outdoor(r);
    check_geometry(&matched, &r->c->matched);
    each_unit(r, check_unit);
    each_opening(r, check_opening);
    check_space(r);
    check_sweep(r);
    check_limits(r);
}

/* From here on: what follows from other keys. */

static void assume_number(ct_reader *r, const char *key, double v, ct_unit_kind kind,
                          const char *unit, const char *why)
{
    double shown = v;
    char number[32];
    char text[48];
    ct_units_to(v, kind, unit, &shown);
    snprintf(text, sizeof text, "%s%s%s", ct_number_write(shown, 4, number, sizeof number),
             *unit ? " " : "", unit);
    ct_reader_assume(r, key, v, text, why);
}

/* The table's reason, for a row that is worked out here. */
static const char *why(const char *key)
{
    return ct_key_find(&ct_case_keys, key)->why;
}

#define CFM_PER_TON 400.0
#define BLOWER_W_PER_CFM 0.365
#define FAN_W_PER_TON 70.0

static void derive_airflow(ct_reader *r)
{
    ct_outdoor_unit *o = &r->c->outdoor;
    if (ct_tree_find(r->root, "outdoor.rated_airflow")) return;
    o->V_rated_std = CFM_PER_TON * CT_M3S_PER_CFM * o->tons;
    assume_number(r, "outdoor.rated_airflow", o->V_rated_std, CT_UNIT_AIRFLOW, "cfm",
                  why("outdoor.rated_airflow"));
}

/* The sensible share of a coil at the A test rises with its airflow: 0.0053 per 10 cfm/ton, slope
 * of the regression of sensible heat ratio by A. Conant used in a state energy-code reference
 * method, through 0.75 at the customary 400 cfm/ton. */
static void derive_sensible_ratio(ct_reader *r)
{
    ct_outdoor_unit *o = &r->c->outdoor;
    double per_ton = o->V_rated_std / CT_M3S_PER_CFM / o->tons;
    if (ct_tree_find(r->root, "outdoor.rated_sensible_ratio")) return;
    o->SHR_rated = fmin(fmax(0.75 + 0.00053 * (per_ton - CFM_PER_TON), 0.65), 0.85);
    assume_number(r, "outdoor.rated_sensible_ratio", o->SHR_rated, CT_UNIT_FRACTION, "%",
                  why("outdoor.rated_sensible_ratio"));
}

static double default_blower_power(const ct_outdoor_unit *o)
{
    return BLOWER_W_PER_CFM * o->V_rated_std / CT_M3S_PER_CFM;
}

static void derive_powers(ct_reader *r)
{
    ct_outdoor_unit *o = &r->c->outdoor;
    if (!ct_tree_find(r->root, "outdoor.rated_blower_power")) {
        o->P_blower_rated = default_blower_power(o);
        assume_number(r, "outdoor.rated_blower_power", o->P_blower_rated, CT_UNIT_POWER, "W",
                      why("outdoor.rated_blower_power"));
    }
    if (ct_tree_find(r->root, "outdoor.fan_power")) return;
    o->P_fan = FAN_W_PER_TON * o->tons;
    assume_number(r, "outdoor.fan_power", o->P_fan, CT_UNIT_POWER, "W", why("outdoor.fan_power"));
}

/* SEER says how a unit does at 82 F outdoors and in cycling; the model is anchored at 95 F. The
 * standard's own single-speed relation (AHRI 210/240, SEER = EER at 82 F times 1 - CD/2) stops at
 * 82 F and leaves the step to 95 F open. So the regression that public residential energy models
 * use with the single-speed curves of Cutler et al. 2013 (NREL/TP-5500-56354) is taken: gross COP
 * at the rating, compressor and outdoor fan only, 0.2692 SEER + 0.2706. It describes one family of
 * units; from memory that it goes with that report, unconfirmed. Blower heat and power then make it
 * net. */
static void derive_efficiency(ct_reader *r)
{
    ct_outdoor_unit *o = &r->c->outdoor;
    const ct_node *given = ct_tree_find(r->root, "outdoor.rated_seer");
    double seer;
    if (!given || ct_units_read(given->text, CT_UNIT_EER, &seer, NULL) != CT_OK) return;
    o->SEER_label.has = true;
    o->SEER_label.v = seer;
    const double cop_gross = 0.2692 * (seer / CT_W_PER_BTUH) + 0.2706;
    const double P_outdoor = (o->Q_net + o->P_blower_rated) / cop_gross;
    o->EER = o->Q_net / (P_outdoor + o->P_blower_rated);
    assume_number(
        r, "outdoor.rated_eer", o->EER, CT_UNIT_EER, "Btu/Wh",
        "from rated_seer: gross COP = 0.2692 SEER + 0.2706, a regression on one family of "
        "single-speed units");
}

static void derive_discharge(ct_reader *r)
{
    ct_outdoor_unit *o = &r->c->outdoor;
    if (ct_tree_find(r->root, "outdoor.rated_saturated_discharge")) return;
    const ct_node *given = ct_tree_find(r->root, "outdoor.vintage");
    const bool older =
        given ? strcmp(given->text, "older") == 0 : strcmp(o->refrigerant, "R-22") == 0;
    if (!given)
        ct_reader_assume(r, "outdoor.vintage", older, older ? "older" : "newer",
                         why("outdoor.vintage"));
    o->T_discharge_rated = ct_K_from_F(older ? 120.0 : 115.0);
    assume_number(r, "outdoor.rated_saturated_discharge", o->T_discharge_rated, CT_UNIT_TEMPERATURE,
                  "F", why("outdoor.rated_saturated_discharge"));
}

/* A key of one unit that follows from others, assumed under the name of that unit. */
static void assume_of(const place *unit, const char *key, double v, ct_unit_kind kind,
                      const char *written)
{
    char row[CT_PATH_SIZE];
    ct_path_join(row, "indoor", key);
    if (ct_key_find(&ct_case_keys, row)->type == CT_KEY_NUMBER)
        assume_number(unit->r, under(unit, key).text, v, kind, written, why(row));
    else
        ct_reader_assume(unit->r, under(unit, key).text, v, written, why(row));
}

static void derive_coil(const place *unit, ct_coil_spec *coil)
{
    const bool size = !at(unit, "coil.size");
    const bool growth = !at(unit, "coil.growth");
    if (size) coil->size = 1.0;
    if (growth) coil->growth = CT_GROW_FACE;
    if (coil->p_design.has) coil->p_design.v += CT_ATM_PA; /* stated by gauge at sea level */
    if (coil->has_geometry) return;
    if (size) assume_of(unit, "coil.size", 1.0, CT_UNIT_NONE, "");
    if (growth) assume_of(unit, "coil.growth", CT_GROW_FACE, CT_UNIT_NONE, "face");
}

static void derive_metering(const place *unit, ct_meter_spec *meter)
{
    const bool orifice = meter->kind == CT_METER_ORIFICE;
    if (!at(unit, "metering.superheat")) {
        meter->superheat = 10.0 / CT_F_PER_K;
        if (!orifice) assume_of(unit, "metering.superheat", meter->superheat, CT_UNIT_DELTA_T, "F");
    }
    if (!at(unit, "metering.length")) {
        meter->length = 0.5 * CT_M_PER_IN;
        if (orifice) assume_of(unit, "metering.length", meter->length, CT_UNIT_LENGTH, "in");
    }
}

static void derive_blower(const place *unit, ct_indoor_unit *u)
{
    const ct_node *position = at(unit, "blower.position");
    ct_blower *b = &u->blower;
    b->before_coil = position && strcmp(position->text, "before_coil") == 0;
    if (!position) assume_of(unit, "blower.position", 0.0, CT_UNIT_NONE, "after_coil");
    if (b->n_taps == 0) b->dp_max = 0.0;
    if (!at(unit, "blower.table_includes_coil")) {
        b->table_includes_coil = !b->before_coil;
        if (b->n_taps > 0)
            assume_of(unit, "blower.table_includes_coil", b->table_includes_coil, CT_UNIT_NONE,
                      b->table_includes_coil ? "yes" : "no");
    }
    if (at(unit, "blower.power")) return;
    u->P_blower_default = default_blower_power(&unit->r->c->outdoor);
    if (b->n_taps == 0) assume_of(unit, "blower.power", u->P_blower_default, CT_UNIT_POWER, "W");
}

static void derive_unit(ct_reader *r, const ct_node *node, const char *shown, int i)
{
    ct_indoor_unit *u = &r->c->indoor[i];
    const place unit = {r, node, shown};
    if (!at(&unit, "name")) snprintf(u->name, sizeof u->name, "indoor unit");
    derive_coil(&unit, &u->coil);
    derive_metering(&unit, &u->meter);
    derive_blower(&unit, u);
    if (u->cabinet.has && !at(&unit, "cabinet.section_height"))
        u->cabinet.section_height = u->cabinet.height;
}

/* Left-out standard deviations come from the table, but are no assumptions of the case: they matter
 * only where an uncertainty is asked for, and are told there. */
static void derive_uncertainty(ct_reader *r)
{
    for (int i = 0; i < r->keys->n; i++) {
        const ct_key *k = &r->keys->row[i];
        if (!ct_key_child_name(k, "uncertainty") || ct_tree_find(r->root, k->path)) continue;
        double v = 0.0;
        ct_units_read(k->fallback, k->unit, &v, NULL);
        memcpy((char *)&r->c->uncertainty + k->offset, &v, sizeof v);
    }
}

/* What the kind does not have is 0 from here on, not NaN. */
static void derive_opening(ct_reader *r, const ct_node *node, const char *shown, int i)
{
    ct_opening *o = &r->c->opening[i];
    const place p = {r, node, shown};
    double *const unused[] = {&o->height, &o->length, &o->headroom, &o->width_after};
    for (size_t k = 0; k < sizeof unused / sizeof unused[0]; k++)
        if (!isfinite(*unused[k])) *unused[k] = 0.0;
    if (!o->name[0]) snprintf(o->name, sizeof o->name, "%s %d", opening_kinds[o->kind], i + 1);
    if (at(&p, "frame")) return;
    o->frame = 0.0;
    if (o->kind == CT_OPEN_HATCH)
        assume_number(r, under(&p, "frame").text, 0.0, CT_UNIT_LENGTH, "in", why("way_in[].frame"));
}

static void derive_space(ct_reader *r)
{
    ct_space *s = &r->c->space;
    if (!s->has || ct_tree_find(r->root, "space.drain_end")) return;
    s->drain_end = 0.0;
    if (s->drain_run.has)
        assume_number(r, "space.drain_end", 0.0, CT_UNIT_LENGTH, "in", why("space.drain_end"));
}

void ct_case_derive(ct_reader *r)
{
    r->c->outdoor.compressor = ct_tree_find(r->root, "outdoor.compressor_map")
                                   ? CT_COMPRESSOR_MAP
                                   : CT_COMPRESSOR_PHYSICAL;
    derive_airflow(r);
    derive_sensible_ratio(r);
    derive_powers(r);
    derive_efficiency(r);
    derive_discharge(r);
    each_unit(r, derive_unit);
    derive_uncertainty(r);
    each_opening(r, derive_opening);
    derive_space(r);
}
