#include "case/defaults.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"
#include "base/units.h"
#include "case/assume.h"
#include "case/defaults_outdoor.h"
#include "case/key_rows.h"
#include "case/keys.h"
#include "case/place.h"
#include "case/ways_check.h"
#include "part/coil_drop.h"

#define BLOWER_W_PER_CFM 0.365

/* Coil-only default of 10 CFR 430 subpart B appendix M, for a blower of which nothing is known. */
static double default_blower_power(const ct_outdoor_unit *o)
{
    return BLOWER_W_PER_CFM * o->V_rated_std / CT_M3S_PER_CFM;
}

/* A key of one unit that follows from others, assumed under the name of that unit. */
static void assume_of(const ct_place *unit, const char *key, double v, ct_unit_kind kind,
                      const char *written)
{
    char row[CT_PATH_SIZE];
    ct_key_path_join(row, "indoor", key);
    if (kind != CT_UNIT_NONE || ct_key_find(&ct_case_keys, row)->type == CT_KEY_NUMBER)
        ct_assume_number(unit->r->report, ct_place_path(unit, key).text, v, kind, written,
                         ct_assume_why(row));
    else
        ct_note_assumption(unit->r->report, ct_place_path(unit, key).text, v, written,
                           ct_assume_why(row));
}

/* Coils are sold by the ton of the unit they go with, and their area follows it only roughly: two
 * coils of the same tons differ by a fifth (common practice, no source). The assumption says so. */
static bool size_from_tons(const ct_place *unit, ct_coil_spec *coil, double outdoor_tons)
{
    const ct_node *given = ct_place_at(unit, "coil.tons");
    double tons;
    if (!given || ct_units_read(given->text, CT_UNIT_TONS, &tons, NULL) != CT_OK) return false;
    coil->size = tons / outdoor_tons;
    ct_assume_number(unit->r->report, ct_place_path(unit, "coil.size").text, coil->size,
                     CT_UNIT_NONE, "",
                     "tons of the coil over tons of the outdoor unit; two coils of the same tons "
                     "differ by a fifth; " PRACTICE);
    return true;
}

/* Coils and air handlers are sold in these tons. Common practice, no source. */
static const double sold[] = {1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0};
enum { SOLD = sizeof sold / sizeof sold[0] };

/* So many sizes up from the outdoor unit's own; at the ends of the row its end. */
static bool size_from_row(const ct_place *unit, ct_coil_spec *coil, double outdoor_tons)
{
    const ct_node *given = ct_place_at(unit, "coil.sizes_up");
    double up;
    int at = 0;
    if (!given || ct_units_read(given->text, CT_UNIT_NONE, &up, NULL) != CT_OK) return false;
    while (at + 1 < SOLD && fabs(sold[at + 1] - outdoor_tons) <= fabs(sold[at] - outdoor_tons))
        at++;
    at += (int)lround(up);
    at = at < 0 ? 0 : at < SOLD ? at : SOLD - 1;
    coil->size = sold[at] / outdoor_tons;
    ct_assume_number(
        unit->r->report, ct_place_path(unit, "coil.size").text, coil->size, CT_UNIT_NONE, "",
        "from the row of tons coils are sold in, over tons of the outdoor unit; within "
        "a fifth; " PRACTICE);
    return true;
}

#define CIRCUITS_PER_TON 1.5

static void derive_circuits(const ct_place *section, const char *key, ct_coil_geometry *g,
                            double outdoor_tons)
{
    if (ct_place_at(section, key)) return;
    g->circuits = (int)fmax(1.0, round(CIRCUITS_PER_TON * outdoor_tons));
    ct_assume_number(section->r->report, ct_place_path(section, key).text, g->circuits,
                     CT_UNIT_NONE, "", ct_assume_why("matched_coil.circuits"));
}

/* A coil read off is compared with one of usual build where nobody could read the matched one: face
 * per ton, rows, fins. Two coils of a size differ by a fifth. Common practice, no source. */
#define USUAL_FACE_PER_TON (1.5 * CT_M_PER_FT * CT_M_PER_FT)
#define USUAL_ROWS 3
#define USUAL_FINS_PER_IN 14.0

static void derive_matched(ct_reader *r, ct_case *c)
{
    const ct_place p = ct_place_section(r, "matched_coil");
    int i = 0;
    while (i < c->n_indoor && !c->indoor[i].coil.has_geometry)
        i++;
    if (c->has_matched_geometry) derive_circuits(&p, "circuits", &c->matched, c->outdoor.tons);
    if (c->has_matched_geometry || i == c->n_indoor) return;
    c->has_matched_geometry = true;
    c->matched = c->indoor[i].coil.geometry; /* its fin stock, tubes and fin shape */
    c->matched.face = USUAL_FACE_PER_TON * c->outdoor.tons;
    c->matched.rows = USUAL_ROWS;
    c->matched.fin_pitch = CT_M_PER_IN / USUAL_FINS_PER_IN;
    derive_circuits(&p, "circuits", &c->matched, c->outdoor.tons);
    ct_assume_number(r->report, "matched_coil.face_area", c->matched.face, CT_UNIT_AREA, "ft2",
                     "1.5 ft2 a ton with 3 rows of 14 fins/in, for the coil nobody read; within a "
                     "fifth; " PRACTICE);
}

static void derive_coil(const ct_place *unit, ct_coil_spec *coil, double outdoor_tons)
{
    const bool size = !ct_place_at(unit, "coil.size") &&
                      !size_from_tons(unit, coil, outdoor_tons) &&
                      !size_from_row(unit, coil, outdoor_tons);
    const bool growth = !ct_place_at(unit, "coil.growth");
    if (size) coil->size = ct_assume_usual("indoor.coil.size");
    if (growth) coil->growth = CT_GROW_FACE;
    if (coil->p_design.has) coil->p_design.v += CT_ATM_PA; /* stated by gauge at sea level */
    if (coil->has_geometry) {
        derive_circuits(unit, "coil.geometry.circuits", &coil->geometry, outdoor_tons);
        return;
    }
    if (size) assume_of(unit, "coil.size", coil->size, CT_UNIT_NONE, "");
    if (growth) assume_of(unit, "coil.growth", CT_GROW_FACE, CT_UNIT_NONE, "face");
}

static void derive_metering(const ct_place *unit, ct_meter_spec *meter)
{
    const bool orifice = meter->kind == CT_METER_ORIFICE;
    if (!ct_place_at(unit, "metering.superheat")) {
        meter->superheat = ct_assume_usual("indoor.metering.superheat");
        if (!orifice) assume_of(unit, "metering.superheat", meter->superheat, CT_UNIT_DELTA_T, "F");
    }
    if (!ct_place_at(unit, "metering.length")) {
        meter->length = ct_assume_usual("indoor.metering.length");
        if (orifice) assume_of(unit, "metering.length", meter->length, CT_UNIT_LENGTH, "in");
    }
}

/* ---- Whose drop the blower has to overcome ------------------------------------------- */

/* Rounded to what an estimate deserves. */
#define DROP_STEP (0.01 * CT_PA_PER_INWC)
#define DROP_MOST (2.0 * CT_PA_PER_INWC) /* as the key allows */

typedef struct {
    const char *key, *key_airflow;
    ct_maybe *dp, *V;
} drop_keys;

static bool can_estimate(const ct_coil_geometry *g, double V, double deeper, double *dp)
{
    return ct_coil_drop_wet(g, V, dp, NULL) == CT_OK && deeper * *dp <= DROP_MOST;
}

static void estimate_drop(const ct_place *unit, const drop_keys *k, const ct_coil_geometry *g,
                          double V, double deeper)
{
    if (k->dp->has || !(V > 0.0)) return;
    double dp;
    if (!can_estimate(g, V, deeper, &dp)) {
        ct_place_fault(
            unit, CT_CASE_INCOMPLETE, k->key,
            "missing, and the coil is outside what an estimate covers; give the wet drop "
            "and its airflow");
        return;
    }
    k->dp->has = k->V->has = true;
    k->dp->v = fmax(round(deeper * dp / DROP_STEP), 1.0) * DROP_STEP;
    k->V->v = V;
    assume_of(unit, k->key, k->dp->v, CT_UNIT_PRESSURE, "inwc");
    assume_of(unit, k->key_airflow, V, CT_UNIT_AIRFLOW, "cfm");
}

/* Fins are wavy where nobody says, as the key fin_shape has it. The new coil's own geometry, or the
 * matched coil's grown as its size says, its drop to be multiplied by *deeper. */
static ct_coil_geometry grown(const ct_coil_spec *coil, const ct_case *c, double *deeper)
{
    const bool deep = coil->growth == CT_GROW_DEPTH;
    ct_coil_geometry g =
        c->has_matched_geometry ? c->matched : ct_coil_typical(c->outdoor.V_rated_std, CT_FIN_WAVY);

    *deeper = coil->has_geometry || !deep ? 1.0 : coil->size;
    if (coil->has_geometry) return coil->geometry;
    if (coil->face.has)
        g.face = coil->face.v;
    else if (!deep)
        g.face *= coil->size;
    return g;
}

static void estimate_drop_of(const ct_place *unit, const drop_keys *keys, const ct_coil_spec *coil,
                             const ct_case *c)
{
    double deeper;
    const ct_coil_geometry g = grown(coil, c, &deeper);
    estimate_drop(unit, keys, &g, c->outdoor.V_rated_std, deeper);
}

static bool has_drop(const ct_coil_spec *coil, const ct_case *c)
{
    double deeper, dp;
    const ct_coil_geometry g = grown(coil, c, &deeper);
    return coil->dp_wet.has || can_estimate(&g, c->outdoor.V_rated_std, deeper, &dp);
}

static void estimate_wet_drop(const ct_place *unit, ct_coil_spec *coil, const ct_case *c)
{
    const drop_keys keys = {"coil.wet_drop", "coil.wet_drop_airflow", &coil->dp_wet, &coil->V_dp};
    estimate_drop_of(unit, &keys, coil, c);
}

static void estimate_table_coil(const ct_place *unit, ct_indoor_unit *u, const ct_case *c)
{
    const drop_keys keys = {"blower.table_coil_drop", "blower.table_coil_airflow",
                            &u->dp_table_coil, &u->V_table_coil};
    const double V = c->outdoor.V_rated_std;
    const ct_coil_geometry g =
        c->has_matched_geometry ? c->matched : ct_coil_typical(V, CT_FIN_WAVY);

    estimate_drop(unit, &keys, &g, V, 1.0);
}

/* Without a table nothing moves air against a drop. */
static void derive_coil_drop(const ct_place *unit, ct_indoor_unit *u, const ct_case *c)
{
    ct_blower *b = &u->blower;
    static const char *const words[] = {"no", "yes", "other"};
    if (!ct_place_at(unit, "blower.table_includes_coil")) {
        b->table_coil = u->dp_table_coil.has ? CT_TABLE_OTHER_COIL
                        : b->before_coil     ? CT_TABLE_NO_COIL
                                             : CT_TABLE_THIS_COIL;
        if (b->n_taps > 0)
            assume_of(unit, "blower.table_includes_coil", b->table_coil, CT_UNIT_NONE,
                      words[b->table_coil]);
    }
    if (b->n_taps == 0 || b->table_coil == CT_TABLE_THIS_COIL) return;
    estimate_wet_drop(unit, &u->coil, c);
    if (b->table_coil == CT_TABLE_OTHER_COIL) estimate_table_coil(unit, u, c);
}

/* At sea level it makes no difference, and is not listed. */
static void derive_thin_air(const ct_place *unit, ct_blower *b, double altitude)
{
    const ct_node *given = ct_place_at(unit, "blower.thin_air");
    b->holds_mass = given && ct_key_word(ct_key_find(&ct_case_keys, "indoor.blower.thin_air"),
                                         given->text, NULL) == 1;
    if (!given && b->n_taps > 0 && b->motor == CT_MOTOR_CONST_AIRFLOW && altitude != 0.0)
        assume_of(unit, "blower.thin_air", 0.0, CT_UNIT_NONE, "volume");
}

static void derive_blower(const ct_place *unit, ct_indoor_unit *u, const ct_outdoor_unit *o)
{
    const ct_node *position = ct_place_at(unit, "blower.position");
    ct_blower *b = &u->blower;
    b->before_coil = position && ct_key_word(ct_key_find(&ct_case_keys, "indoor.blower.position"),
                                             position->text, NULL) == 0;
    if (!position) assume_of(unit, "blower.position", 0.0, CT_UNIT_NONE, "after_coil");
    if (b->n_taps == 0) b->dp_max = 0.0;
    if (ct_place_at(unit, "blower.power")) return;
    u->P_blower_default = default_blower_power(o);
    if (b->n_taps == 0) assume_of(unit, "blower.power", u->P_blower_default, CT_UNIT_POWER, "W");
}

/* A table that includes its coil was measured with the one that comes out. */
static void take_table_coil(const ct_place *unit, const ct_coil_spec *out, ct_indoor_unit *u,
                            const ct_case *c)
{
    const drop_keys keys = {"blower.table_coil_drop", "blower.table_coil_airflow",
                            &u->dp_table_coil, &u->V_table_coil};
    u->blower.table_coil = CT_TABLE_OTHER_COIL;
    u->dp_table_coil = out->dp_wet;
    u->V_table_coil = out->V_dp;
    estimate_drop_of(unit, &keys, out, c);
}

/* A coil by itself is put on the blower that is there: its table, its watts, the tap that heats. */
static void take_blower(const ct_place *unit, ct_indoor_unit *u, const ct_case *c)
{
    const ct_indoor_unit *from = &c->indoor[0];
    u->blower = from->blower;
    u->P_blower_default = from->P_blower_default;
    u->V_heat = from->V_heat;
    memcpy(u->heat_tap, from->heat_tap, sizeof u->heat_tap);
    u->dp_table_coil = from->dp_table_coil;
    u->V_table_coil = from->V_table_coil;
    ct_note_assumption(
        unit->r->report, ct_place_path(unit, "blower").text, NAN, "that of indoor",
        "a coil without a blower of its own goes on the one that is there; " PRACTICE);
    if (u->blower.n_taps == 0) return;
    if (u->blower.table_coil == CT_TABLE_THIS_COIL) {
        /* Where no drop is known the two coils count as alike. */
        if (!has_drop(&from->coil, c) || !has_drop(&u->coil, c)) return;
        take_table_coil(unit, &from->coil, u, c);
    }
    estimate_wet_drop(unit, &u->coil, c);
}

static void derive_unit(const ct_place *unit, ct_case *c, int i)
{
    ct_indoor_unit *u = &c->indoor[i];
    if (!ct_place_at(unit, "name")) snprintf(u->name, sizeof u->name, CT_UNNAMED_UNIT);
    derive_coil(unit, &u->coil, c->outdoor.tons);
    derive_metering(unit, &u->meter);
    if (i > 0 && !ct_place_at(unit, "blower")) {
        take_blower(unit, u, c);
    } else {
        derive_blower(unit, u, &c->outdoor);
        derive_coil_drop(unit, u, c);
        derive_thin_air(unit, &u->blower, c->site.altitude);
    }
    if (u->cabinet.has && !ct_place_at(unit, "cabinet.section_height"))
        u->cabinet.section_height = u->cabinet.height;
}

static void derive_limits(ct_reader *r, ct_limits *l)
{
    const ct_place p = ct_place_section(r, "limits");
    if (ct_place_at(&p, "strip_rise_max")) return;
    l->dT_strip_max = ct_assume_usual("limits.strip_rise_max");
    if (l->P_strip.has && !l->V_heat_min.has)
        ct_assume_number(r->report, "limits.strip_rise_max", l->dT_strip_max, CT_UNIT_DELTA_T, "F",
                         ct_assume_why("limits.strip_rise_max"));
}

/* Left-out standard deviations come from the table, but are no assumptions of the case: they matter
 * only where an uncertainty is wanted, and are listed there. */
static void derive_uncertainty(ct_reader *r, ct_uncertainty *u)
{
    const ct_key *k;
    for (int i = 0; (k = ct_key_at(r->keys, i)) != NULL; i++) {
        if (!ct_key_child_name(k, "uncertainty") || ct_tree_find(r->root, k->path)) continue;
        const double v = ct_assume_usual(k->path);
        memcpy((char *)u + k->offset, &v, sizeof v);
    }
    u->load_given = ct_tree_find(r->root, "uncertainty.load") != NULL;
    u->latent_given = ct_tree_find(r->root, "uncertainty.latent_load") != NULL;
    u->static_given = ct_tree_find(r->root, "uncertainty.duct_static") != NULL;
}

static void usual(ct_reader *r, const char *key, double *v)
{
    if (!ct_tree_find(r->root, key)) *v = ct_assume_usual(key);
}

/* The same for the season: what it takes as usual it says itself. */
static void derive_season(ct_reader *r, ct_season_spec *s)
{
    usual(r, "season.load_hours", &s->load_hours);
    usual(r, "season.moisture_storage", &s->storage);
}

/* And for the blower's controls. */
static void derive_control(ct_reader *r, ct_fan_control *k)
{
    usual(r, "fan_control.airflow_cut", &k->cut);
    usual(r, "fan_control.humidity_on", &k->rh_on);
    usual(r, "fan_control.humidity_off", &k->rh_off);
    usual(r, "fan_control.overcool", &k->overcool);
    usual(r, "fan_control.start_time", &k->start_time);
}

/* What the kind does not have is 0 from here on, not NaN. */
static void derive_opening(const ct_place *p, ct_case *c, int i)
{
    ct_opening *o = &c->opening[i];
    static const char *const kinds[] = {"door", "hatch", "corner"};
    double *const unused[] = {&o->height, &o->length, &o->headroom, &o->width_after};
    for (size_t k = 0; k < sizeof unused / sizeof unused[0]; k++)
        if (!isfinite(*unused[k])) *unused[k] = 0.0;
    if (!o->name[0]) snprintf(o->name, sizeof o->name, "%s %d", kinds[o->kind], i + 1);
    if (ct_place_at(p, "frame")) return;
    o->frame = ct_assume_usual("way_in[].frame");
    if (o->kind == CT_OPEN_HATCH)
        ct_assume_number(p->r->report, ct_place_path(p, "frame").text, o->frame, CT_UNIT_LENGTH,
                         "in", ct_assume_why("way_in[].frame"));
}

static void derive_space(ct_reader *r, ct_space *s)
{
    if (!s->has || ct_tree_find(r->root, "space.drain_end")) return;
    s->drain_end = ct_assume_usual("space.drain_end");
    if (s->drain_run.has)
        ct_assume_number(r->report, "space.drain_end", s->drain_end, CT_UNIT_LENGTH, "in",
                         ct_assume_why("space.drain_end"));
}

void ct_defaults(ct_reader *r, ct_case *c)
{
    ct_defaults_outdoor(r, &c->outdoor);
    ct_place_each_unit(r, c, derive_unit);
    derive_matched(r, c);
    derive_uncertainty(r, &c->uncertainty);
    ct_place_each_opening(r, c, derive_opening);
    derive_space(r, &c->space);
    derive_limits(r, &c->limits);
    ct_ways_defaults(r, c);
    derive_season(r, &c->season);
    derive_control(r, &c->control);
    if (!ct_tree_find(r->root, "house.humidity_floor"))
        c->house.rh_floor = ct_assume_usual("house.humidity_floor");
}
