#include "case/ways_check.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "case/assume.h"
#include "case/keys.h"
#include "case/no_load.h"
#include "case/place.h"

/* Nearer to the temperature of no load than this, the load says nothing of the design day. */
#define LEAST_OVER_BALANCE (8.0 / CT_F_PER_K)

/* Placeholders until study/ways.h has found the value; never shown. */
#define SENSIBLE_SHARE 0.65
#define LATENT_SHARE 0.2
#define CFM_PER_TON 360.0

static void missing(const ct_place *p, const char *key, const char *what)
{
    if (p->node && p->node->kind == CT_NODE_SECTION && !ct_place_at(p, key))
        ct_note_fault(p->r->report, CT_CASE_MISSING_KEY, p->node->line, ct_place_path(p, key).text,
                      "", "missing: %s", what);
}

/* ---- Load ------------------------------------------------------------------------ */

static bool has_load_way(const ct_place *house)
{
    return ct_place_at(house, "run_time") || ct_place_at(house, "floor_area");
}

static void check_run_time(ct_reader *r, const ct_case *c)
{
    const ct_place p = ct_place_section(r, "house.run_time");
    const double T_in =
        c->house.ways.run_time.T_in.has ? c->house.ways.run_time.T_in.v : c->site.indoor.T;
    const double T_none = ct_case_no_load(&c->house, T_in);
    if (p.node && (c->outdoor.low.has || c->outdoor.stages != CT_STAGES_ONE))
        ct_place_fault(&p, CT_CASE_CONFLICT, "minutes",
                       "a run time does not say which of two stages ran; give sensible_load and "
                       "latent_load");
    if (ct_place_at(&p, "outdoor") && c->house.ways.run_time.T_out < T_none + LEAST_OVER_BALANCE)
        ct_place_fault(&p, CT_CASE_CONFLICT, "outdoor",
                       "at most 8 F over the temperature at which the house needs no cooling (%.0f "
                       "F): too little to tell the load of the design day; watch it on a warmer "
                       "day",
                       ct_F_from_K(T_none));
}

static void check_house(ct_reader *r, const ct_case *c)
{
    const ct_place p = ct_place_section(r, "house");
    if (!has_load_way(&p)) {
        missing(&p, "sensible_load",
                "design sensible load; write it as power, 24000 Btu/h; or give run_time or "
                "floor_area, from which it can be found");
        missing(&p, "latent_load",
                "design latent load; write it as power, 4500 Btu/h; or give run_time or "
                "floor_area, from which it can be found");
    }
    ct_place_needs(&p, "climate", "floor_area", "it says how much of that load is moisture");
    ct_place_needs(&p, "insulation", "floor_area", "it says how much load each square foot has");
    check_run_time(r, c);
}

/* ---- Airflow --------------------------------------------------------------------- */

/* The whole, or two of the whole and its sides. */
static void check_static(const ct_place *p, const ct_case *c)
{
    const ct_airflow_ways *w = &c->airflow_ways;
    const bool whole = ct_place_at(p, "static") != NULL;
    const bool back = ct_place_at(p, "return_static"), out = ct_place_at(p, "supply_static");
    if (whole && back && out)
        ct_place_fault(p, CT_CASE_CONFLICT, "static",
                       "the two sides make it up already; take one of the three out");
    if (!whole && back != out)
        ct_place_fault(p, CT_CASE_INCOMPLETE, back ? "return_static" : "supply_static",
                       "the blower works against both sides: give the other, or static");
    if (!whole && !back && !out)
        missing(p, "static", "external static measured; write it as pressure, 0.62 inwc");
    if (whole && ((back && w->dp_return.v > c->duct.dp) || (out && w->dp_supply.v > c->duct.dp)))
        ct_place_fault(p, CT_CASE_CONFLICT, "static",
                       "below one of its sides; it is both together; check them");
    if (w->dp_filter.has && w->dp_return.has && w->dp_filter.v > w->dp_return.v)
        ct_place_fault(p, CT_CASE_CONFLICT, "filter_drop",
                       "above return_static of %s, which it is a part of; check both",
                       ct_place_text(p, "return_static"));
}

static void check_tap(const ct_place *p, const ct_case *c)
{
    const ct_blower *b = &c->indoor[0].blower;
    if (!ct_place_at(p, "tap")) return;
    ct_place_not_both(p, "tap", "tap_points",
                      "tap is of the blower that stays, tap_points of another");
    if (ct_blower_find_tap(b, c->airflow_ways.tap) >= 0) return;
    char names[CT_TAP_NAMES_SIZE];
    if (b->n_taps)
        ct_place_fault(p, CT_CASE_CONFLICT, "tap", "indoor.blower has no tap '%s'; it has: %s",
                       c->airflow_ways.tap, ct_blower_tap_names(b, names, sizeof names));
    else
        ct_place_fault(p, CT_CASE_CONFLICT, "tap",
                       "needs indoor.blower.taps, or give tap_points of the old blower");
}

static void check_points(const ct_place *p, const char *key, const ct_drop_point *q, int n)
{
    const bool rising = strcmp(key, "points") == 0;
    for (int i = 1; i < n; i++)
        if (q[i].dp <= q[i - 1].dp || (rising ? q[i].V <= q[i - 1].V : q[i].V > q[i - 1].V)) {
            ct_place_fault(p, CT_CASE_CONFLICT, key,
                           "point %d does not follow point %d: pressure must rise, and airflow "
                           "must %s with it",
                           i + 1, i, rising ? "rise" : "fall");
            return;
        }
    if (!rising && n == 1)
        ct_place_fault(p, CT_CASE_COUNT, key, "one point is not enough; give at least 2");
}

static void check_rise(ct_reader *r, const ct_case *c)
{
    const ct_place p = ct_place_section(r, "duct.heat_rise");
    const ct_heat_rise *h = &c->airflow_ways.rise;
    const int given = h->P.has + h->amps.has + h->Q.has + h->input.has;
    if (!p.node) return;
    ct_place_needs(&p, "volts", "amps", "watts are volts times amps");
    ct_place_needs(&p, "amps", "volts", "watts are volts times amps");
    ct_place_needs(&p, "input", "efficiency", "output is input times efficiency");
    ct_place_needs(&p, "efficiency", "input", "output is input times efficiency");
    if (given > 1)
        ct_place_fault(&p, CT_CASE_CONFLICT, "rise",
                       "give the heat once: power, volts and amps, output, or input and "
                       "efficiency");
    if (given == 0 && !c->limits.P_strip.has && !c->limits.Q_furnace.has)
        ct_place_fault(&p, CT_CASE_INCOMPLETE, "rise",
                       "needs the heat beside it: power, volts and amps, output, or input and "
                       "efficiency");
    if (given == 0 && c->limits.P_strip.has && c->limits.Q_furnace.has)
        ct_place_fault(&p, CT_CASE_INCOMPLETE, "rise",
                       "strips and a furnace are given; say which was on: power or output");
}

static void check_split(ct_reader *r, const ct_cooling_split *s)
{
    const ct_place p = ct_place_section(r, "duct.cooling_split");
    if (s->T_wb_return > s->T_return)
        ct_place_fault(&p, CT_CASE_CONFLICT, "return_wet_bulb",
                       "above its dry bulb, which no air has; check both");
    if (s->T_wb_supply > s->T_supply)
        ct_place_fault(&p, CT_CASE_CONFLICT, "supply_wet_bulb",
                       "above its dry bulb, which no air has; check both");
    if (s->T_supply > s->T_return || s->T_wb_supply > s->T_wb_return)
        ct_place_fault(
            &p, CT_CASE_CONFLICT, "supply_dry_bulb",
            "the supply is not cooler than the return, dry and wet bulb; check all four");
}

static void check_duct(ct_reader *r, const ct_case *c)
{
    const ct_place p = ct_place_section(r, "duct");
    const ct_place part = ct_place_section(r, "duct.part_drop");
    static const char *const ways[] = {"tap", "tap_points", "heat_rise", "cooling_split",
                                       "part_drop"};
    const ct_airflow_ways *w = &c->airflow_ways;
    bool way = false;
    check_static(&p, c);
    check_tap(&p, c);
    check_points(&p, "tap_points", w->table, w->n_table);
    check_rise(r, c);
    check_split(r, &w->split);
    check_points(&part, "points", w->part.point, w->part.n);
    for (int i = 0; i < 5; i++)
        way = way || ct_place_at(&p, ways[i]);
    if (!way)
        missing(&p, "airflow",
                "airflow at that static; write it as airflow, 1050 cfm; or give tap, tap_points, "
                "heat_rise, cooling_split or part_drop, from which it can be found");
}

void ct_ways_check(ct_reader *r, const ct_case *c)
{
    check_house(r, c);
    check_duct(r, c);
}

/* ---- Defaults -------------------------------------------------------------------- */

static void derive_word(ct_reader *r, const char *key, int usual, int *to)
{
    const ct_key *k = ct_key_find(&ct_case_keys, key);
    if (ct_tree_find(r->root, key)) return;
    *to = usual;
    ct_note_assumption(r->report, key, usual, k->fallback, k->why);
}

static void derive_load(ct_reader *r, ct_case *c)
{
    const ct_place p = ct_place_section(r, "house");
    ct_house *h = &c->house;
    h->load_open = !ct_place_at(&p, "sensible_load");
    h->latent_open = !ct_place_at(&p, "latent_load");
    if (h->load_open) h->Q_sensible = SENSIBLE_SHARE * c->outdoor.Q_net;
    if (h->latent_open) h->Q_latent = LATENT_SHARE * h->Q_sensible;
    if (!h->ways.floor_area.has) return;
    int climate = (int)h->ways.climate, insulation = (int)h->ways.insulation;
    derive_word(r, "house.climate", CT_CLIMATE_MODERATE, &climate);
    derive_word(r, "house.insulation", CT_INSULATION_USUAL, &insulation);
    h->ways.climate = (ct_climate)climate;
    h->ways.insulation = (ct_insulation)insulation;
}

void ct_ways_defaults(ct_reader *r, ct_case *c)
{
    const ct_place duct = ct_place_section(r, "duct");
    ct_airflow_ways *w = &c->airflow_ways;
    derive_load(r, c);
    if (!c->has_duct) return;
    if (w->dp_return.has && w->dp_supply.has)
        c->duct.dp = w->dp_return.v + w->dp_supply.v;
    else if (w->dp_return.has)
        w->dp_supply = (ct_maybe){true, c->duct.dp - w->dp_return.v};
    else if (w->dp_supply.has)
        w->dp_return = (ct_maybe){true, c->duct.dp - w->dp_supply.v};
    c->airflow_open = !ct_place_at(&duct, "airflow");
    if (c->airflow_open) c->duct.V = CFM_PER_TON * CT_M3S_PER_CFM * c->outdoor.tons;
}
