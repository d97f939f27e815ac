#include "case/defaults.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"
#include "base/units.h"
#include "case/keys.h"
#include "case/place.h"

static void assume_number(ct_reader *r, const char *key, double v, ct_unit_kind kind,
                          const char *unit, const char *why)
{
    double shown = v;
    char number[32];
    char text[48];
    ct_units_to(v, kind, unit, &shown);
    snprintf(text, sizeof text, "%s%s%s", ct_number_write(shown, 4, number, sizeof number),
             *unit ? " " : "", unit);
    ct_note_assumption(r->report, key, v, text, why);
}

/* The table's reason, for a row that is worked out here. */
static const char *why(const char *key)
{
    return ct_key_find(&ct_case_keys, key)->why;
}

/* The table's value, for a row whose default holds only beside certain others. */
static double usual(const char *key)
{
    const ct_key *k = ct_key_find(&ct_case_keys, key);
    double v = 0.0;
    ct_units_read(k->fallback, k->unit, &v, NULL);
    return v;
}

#define CFM_PER_TON 400.0
#define BLOWER_W_PER_CFM 0.365
#define FAN_W_PER_TON 70.0

static void derive_airflow(ct_reader *r, ct_outdoor_unit *o)
{
    if (ct_tree_find(r->root, "outdoor.rated_airflow")) return;
    o->V_rated_std = CFM_PER_TON * CT_M3S_PER_CFM * o->tons;
    assume_number(r, "outdoor.rated_airflow", o->V_rated_std, CT_UNIT_AIRFLOW, "cfm",
                  why("outdoor.rated_airflow"));
}

/* The sensible share of a coil at the A test rises with its airflow: 0.0053 per 10 cfm/ton, slope
 * of the regression of sensible heat ratio by A. Conant used in a state energy-code reference
 * method, through 0.75 at the customary 400 cfm/ton. */
static void derive_sensible_ratio(ct_reader *r, ct_outdoor_unit *o)
{
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

static void derive_powers(ct_reader *r, ct_outdoor_unit *o)
{
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
static void derive_efficiency(ct_reader *r, ct_outdoor_unit *o)
{
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

static void derive_discharge(ct_reader *r, ct_outdoor_unit *o)
{
    if (ct_tree_find(r->root, "outdoor.rated_saturated_discharge")) return;
    const ct_node *given = ct_tree_find(r->root, "outdoor.vintage");
    const bool older =
        given ? ct_key_word(ct_key_find(&ct_case_keys, "outdoor.vintage"), given->text, NULL) == 1
              : strcmp(o->refrigerant, "R-22") == 0;
    if (!given)
        ct_note_assumption(r->report, "outdoor.vintage", older, older ? "older" : "newer",
                           why("outdoor.vintage"));
    o->T_discharge_rated = ct_K_from_F(older ? 120.0 : 115.0);
    assume_number(r, "outdoor.rated_saturated_discharge", o->T_discharge_rated, CT_UNIT_TEMPERATURE,
                  "F", why("outdoor.rated_saturated_discharge"));
}

/* A key of one unit that follows from others, assumed under the name of that unit. */
static void assume_of(const ct_place *unit, const char *key, double v, ct_unit_kind kind,
                      const char *written)
{
    char row[CT_PATH_SIZE];
    ct_path_join(row, "indoor", key);
    if (ct_key_find(&ct_case_keys, row)->type == CT_KEY_NUMBER)
        assume_number(unit->r, ct_place_path(unit, key).text, v, kind, written, why(row));
    else
        ct_note_assumption(unit->r->report, ct_place_path(unit, key).text, v, written, why(row));
}

static void derive_coil(const ct_place *unit, ct_coil_spec *coil)
{
    const bool size = !ct_place_at(unit, "coil.size");
    const bool growth = !ct_place_at(unit, "coil.growth");
    if (size) coil->size = usual("indoor.coil.size");
    if (growth) coil->growth = CT_GROW_FACE;
    if (coil->p_design.has) coil->p_design.v += CT_ATM_PA; /* stated by gauge at sea level */
    if (coil->has_geometry) return;
    if (size) assume_of(unit, "coil.size", coil->size, CT_UNIT_NONE, "");
    if (growth) assume_of(unit, "coil.growth", CT_GROW_FACE, CT_UNIT_NONE, "face");
}

static void derive_metering(const ct_place *unit, ct_meter_spec *meter)
{
    const bool orifice = meter->kind == CT_METER_ORIFICE;
    if (!ct_place_at(unit, "metering.superheat")) {
        meter->superheat = usual("indoor.metering.superheat");
        if (!orifice) assume_of(unit, "metering.superheat", meter->superheat, CT_UNIT_DELTA_T, "F");
    }
    if (!ct_place_at(unit, "metering.length")) {
        meter->length = usual("indoor.metering.length");
        if (orifice) assume_of(unit, "metering.length", meter->length, CT_UNIT_LENGTH, "in");
    }
}

static void derive_blower(const ct_place *unit, ct_indoor_unit *u, const ct_outdoor_unit *o)
{
    const ct_node *position = ct_place_at(unit, "blower.position");
    ct_blower *b = &u->blower;
    b->before_coil = position && ct_key_word(ct_key_find(&ct_case_keys, "indoor.blower.position"),
                                             position->text, NULL) == 0;
    if (!position) assume_of(unit, "blower.position", 0.0, CT_UNIT_NONE, "after_coil");
    if (b->n_taps == 0) b->dp_max = 0.0;
    if (!ct_place_at(unit, "blower.table_includes_coil")) {
        b->table_includes_coil = !b->before_coil;
        if (b->n_taps > 0)
            assume_of(unit, "blower.table_includes_coil", b->table_includes_coil, CT_UNIT_NONE,
                      b->table_includes_coil ? "yes" : "no");
    }
    if (ct_place_at(unit, "blower.power")) return;
    u->P_blower_default = default_blower_power(o);
    if (b->n_taps == 0) assume_of(unit, "blower.power", u->P_blower_default, CT_UNIT_POWER, "W");
}

static void derive_unit(const ct_place *unit, ct_case *c, int i)
{
    ct_indoor_unit *u = &c->indoor[i];
    if (!ct_place_at(unit, "name")) snprintf(u->name, sizeof u->name, "indoor unit");
    derive_coil(unit, &u->coil);
    derive_metering(unit, &u->meter);
    derive_blower(unit, u, &c->outdoor);
    if (u->cabinet.has && !ct_place_at(unit, "cabinet.section_height"))
        u->cabinet.section_height = u->cabinet.height;
}

/* Left-out standard deviations come from the table, but are no assumptions of the case: they matter
 * only where an uncertainty is asked for, and are told there. */
static void derive_uncertainty(ct_reader *r, ct_uncertainty *u)
{
    const ct_key *k;
    for (int i = 0; (k = ct_key_at(r->keys, i)) != NULL; i++) {
        if (!ct_key_child_name(k, "uncertainty") || ct_tree_find(r->root, k->path)) continue;
        const double v = usual(k->path);
        memcpy((char *)u + k->offset, &v, sizeof v);
    }
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
    o->frame = usual("way_in[].frame");
    if (o->kind == CT_OPEN_HATCH)
        assume_number(p->r, ct_place_path(p, "frame").text, o->frame, CT_UNIT_LENGTH, "in",
                      why("way_in[].frame"));
}

static void derive_space(ct_reader *r, ct_space *s)
{
    if (!s->has || ct_tree_find(r->root, "space.drain_end")) return;
    s->drain_end = usual("space.drain_end");
    if (s->drain_run.has)
        assume_number(r, "space.drain_end", s->drain_end, CT_UNIT_LENGTH, "in",
                      why("space.drain_end"));
}

void ct_defaults(ct_reader *r, ct_case *c)
{
    c->outdoor.compressor = ct_tree_find(r->root, "outdoor.compressor_map")
                                ? CT_COMPRESSOR_MAP
                                : CT_COMPRESSOR_PHYSICAL;
    derive_airflow(r, &c->outdoor);
    derive_sensible_ratio(r, &c->outdoor);
    derive_powers(r, &c->outdoor);
    derive_efficiency(r, &c->outdoor);
    derive_discharge(r, &c->outdoor);
    ct_place_each_unit(r, c, derive_unit);
    derive_uncertainty(r, &c->uncertainty);
    ct_place_each_opening(r, c, derive_opening);
    derive_space(r, &c->space);
}
