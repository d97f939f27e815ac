#include "compare/facts.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

bool compare_unit_refused(const compare_unit *u)
{
    return !u->good || verdict_refuses(&u->verdict);
}

bool compare_unit_passes(const compare_unit *u)
{
    return !compare_unit_refused(u) && u->row.pick.found;
}

char compare_letter(int unit)
{
    return unit == MATCHED ? 'R' : (char)('A' + unit);
}

const char *compare_name(const comparison *k, int unit)
{
    return unit == MATCHED ? "matched pair as rated" : k->j->c->indoor[unit].name;
}

static const ct_showing *showing(const comparison *k, int unit)
{
    return unit == MATCHED ? &k->matched.at : &k->unit[unit].row.at;
}

static const ct_showing *showing_rated(const comparison *k, int unit)
{
    return unit == MATCHED ? &k->matched.at : &k->unit[unit].row.at_rated;
}

static const ct_efficiency *efficiency(const comparison *k, int unit)
{
    if (unit == MATCHED) return &k->matched.efficiency;
    return k->unit[unit].row.has_efficiency ? &k->unit[unit].row.efficiency : NULL;
}

typedef enum { OF_POINT, OF_BALANCE, OF_ROOM, OF_ROOM_FAN_ON, OF_HOUR, OF_EFFICIENCY } part;

/* A double in one part of a showing, NaN when the part is not there. */
static double member(const ct_showing *s, const ct_efficiency *e, part from, size_t offset)
{
    const ct_point *p = &s->point;
    const void *base = NULL;
    double v = NAN;
    switch (from) {
    case OF_POINT: base = p; break;
    case OF_BALANCE: base = p->status == CT_OK ? &p->balance : NULL; break;
    case OF_ROOM: base = p->has_room ? &p->room : NULL; break;
    case OF_ROOM_FAN_ON: base = p->has_room_fan_on ? &p->room_fan_on : NULL; break;
    case OF_HOUR: base = s->has_hour ? &s->hour : NULL; break;
    case OF_EFFICIENCY: base = e; break;
    }
    if (base) memcpy(&v, (const char *)base + offset, sizeof v);
    return v;
}

typedef enum { OWN, RATED_AIR, AGAINST_MATCHED, LABEL_EER, LABEL_SEER, COST } source;

typedef struct {
    compare_fact fact;
    source from;
    part part;
    size_t offset;
} row;

#define HOUR_RUN OF_HOUR, offsetof(ct_room_out, run)
#define HOUR_WATER OF_HOUR, offsetof(ct_room_out, water_per_day)
#define BALANCE(member) OF_BALANCE, offsetof(ct_balance, member)

static const row rows[] = {
    {{GROUP_AIR, "airflow", "Airflow", Q_AIRFLOW, -1, false, "actual, at the blower"},
     OWN,
     OF_POINT,
     offsetof(ct_point, V)},
    {{GROUP_AIR, "standard", "Airflow", Q_AIRFLOW_PER_TON, -1, false,
      "standard air per nominal ton of the outdoor unit"},
     OWN,
     OF_POINT,
     offsetof(ct_point, V_std_per_ton)},
    {{GROUP_AIR, "blower", "Blower", Q_ELECTRIC, -1, false, "blower motor input"},
     OWN,
     OF_POINT,
     offsetof(ct_point, P_blower)},
    {{GROUP_DESIGN_DAY, "net_total", "Net total", Q_HEAT, -1, false,
      "total capacity on the design day, blower heat taken off"},
     OWN,
     BALANCE(Q_net)},
    {{GROUP_DESIGN_DAY, "net_sensible", "Net sensible", Q_HEAT, -1, false,
      "sensible capacity on the design day, blower heat taken off"},
     OWN,
     BALANCE(Q_sens_net)},
    {{GROUP_DESIGN_DAY, "net_latent", "Latent", Q_HEAT, -1, false,
      "latent capacity on the design day"},
     OWN,
     BALANCE(Q_lat)},
    {{GROUP_DESIGN_DAY, "sat_suction", "Saturated suction", Q_TEMPERATURE, 1, false,
      "dew temperature at the compressor"},
     OWN,
     BALANCE(Te)},
    {{GROUP_DESIGN_DAY, "superheat", "Superheat", Q_DELTA_T, 1, false,
      "at the coil outlet; 0 when it floods"},
     OWN,
     BALANCE(superheat)},
    {{GROUP_HOUR, "run_share", "Run", Q_RUN, 1, false,
      "share of the hour, the room held at the case's humidity"},
     OWN,
     HOUR_RUN},
    {{GROUP_HOUR, "water", "Water removed", Q_WATER_DAY, 1, false,
      "at that run share and humidity"},
     OWN,
     HOUR_WATER},
    {{GROUP_HOUR, "rh_settled", "House settles at", Q_FRACTION, 1, false,
      "relative humidity at which water in and out are equal"},
     OWN,
     OF_ROOM,
     offsetof(ct_room_out, rh)},
    {{GROUP_HOUR, "rh_settled_fan_on", "with the fan left on", Q_FRACTION, 1, false,
      "the same were the blower left on all the time"},
     OWN,
     OF_ROOM_FAN_ON,
     offsetof(ct_room_out, rh)},
    {{GROUP_SAME_AIR, "rated_air_net_sensible", "Net sensible", Q_HEAT, -1, false,
      "design day, this coil at the matched pair's rated airflow and blower watts"},
     RATED_AIR,
     BALANCE(Q_sens_net)},
    {{GROUP_SAME_AIR, "rated_air_net_latent", "Latent", Q_HEAT, -1, false, "the same"},
     RATED_AIR,
     BALANCE(Q_lat)},
    {{GROUP_SAME_AIR, "rated_air_run_share", "Run", Q_RUN, 1, false, "the same"},
     RATED_AIR,
     HOUR_RUN},
    {{GROUP_SAME_AIR, "rated_air_water", "Water removed", Q_WATER_DAY, 1, false, "the same"},
     RATED_AIR,
     HOUR_WATER},
    {{GROUP_SAME_AIR, "rated_air_rh_settled", "House settles at", Q_FRACTION, 1, false, "the same"},
     RATED_AIR,
     OF_ROOM,
     offsetof(ct_room_out, rh)},
    {{GROUP_GIVEN_UP, "change_net_total", "Net total", Q_HEAT, -1, true,
      "this unit at its pick less the matched pair as rated"},
     AGAINST_MATCHED,
     BALANCE(Q_net)},
    {{GROUP_GIVEN_UP, "change_net_sensible", "Net sensible", Q_HEAT, -1, true, "the same"},
     AGAINST_MATCHED,
     BALANCE(Q_sens_net)},
    {{GROUP_GIVEN_UP, "change_net_latent", "Latent", Q_HEAT, -1, true, "the same"},
     AGAINST_MATCHED,
     BALANCE(Q_lat)},
    {{GROUP_GIVEN_UP, "change_rh_settled", "Settled RH", Q_FRACTION, 1, true, "the same"},
     AGAINST_MATCHED,
     OF_ROOM,
     offsetof(ct_room_out, rh)},
    {{GROUP_GIVEN_UP, "change_eer_a", "EER, A test", Q_EER, -1, true, "the same"},
     AGAINST_MATCHED,
     OF_EFFICIENCY,
     offsetof(ct_efficiency, EER_A)},
    {{GROUP_EFFICIENCY, "eer_a", "EER, A test (95 F)", Q_EER, -1, false,
      "net, 80/67 F indoors, 95 F outdoors, at the pick's airflow and blower watts"},
     OWN,
     OF_EFFICIENCY,
     offsetof(ct_efficiency, EER_A)},
    {{GROUP_EFFICIENCY, "eer_b", "EER, B test (82 F)", Q_EER, -1, false,
      "the same at 82 F outdoors"},
     OWN,
     OF_EFFICIENCY,
     offsetof(ct_efficiency, EER_B)},
    {{GROUP_EFFICIENCY, "seer", "SEER, calculated", Q_EER, -1, false,
      "EER at the B test times 1 - 0.5 CD; of two stages by the bins of AHRI 210/240"},
     OWN,
     OF_EFFICIENCY,
     offsetof(ct_efficiency, SEER)},
    {{GROUP_EFFICIENCY, "label_eer", "Label: EER", Q_EER, -1, false,
      "matched pair: its rated EER; indoor unit: its own label, which does not apply here"},
     LABEL_EER,
     OF_POINT,
     0},
    {{GROUP_EFFICIENCY, "label_seer", "Label: SEER", Q_EER, -1, false,
      "matched pair: its rated SEER, when the case gives it"},
     LABEL_SEER,
     OF_POINT,
     0},
    {{GROUP_COST, "installed_cost", "Installed cost", Q_PLAIN, 0, false,
      "price, labor and duct work as entered"},
     COST,
     OF_POINT,
     0},
};

int compare_facts_count(void)
{
    return (int)(sizeof rows / sizeof rows[0]);
}

const compare_fact *compare_fact_at(int i)
{
    return &rows[i].fact;
}

static double maybe(ct_maybe m)
{
    return m.has ? m.v : (double)NAN;
}

static double label_eer(const comparison *k, int unit)
{
    const ct_case *c = k->j->c;
    if (unit != MATCHED) return maybe(c->indoor[unit].EER_label);
    /* Given only a SEER, the case's EER is an assumption and no label. */
    return c->outdoor.SEER_label.has ? (double)NAN : c->outdoor.EER;
}

static double own(const comparison *k, const row *r, int unit)
{
    return member(showing(k, unit), efficiency(k, unit), r->part, r->offset);
}

double compare_own(const comparison *k, int i, int unit)
{
    return own(k, &rows[i], unit);
}

double compare_value(const comparison *k, int i, int unit)
{
    const row *r = &rows[i];
    if (r->from == LABEL_EER) return label_eer(k, unit);
    if (r->from == LABEL_SEER)
        return unit == MATCHED ? maybe(k->j->c->outdoor.SEER_label) : (double)NAN;
    if (unit != MATCHED && !k->unit[unit].good) return NAN;
    switch (r->from) {
    case RATED_AIR: return member(showing_rated(k, unit), NULL, r->part, r->offset);
    case AGAINST_MATCHED:
        return unit == MATCHED ? (double)NAN : own(k, r, unit) - own(k, r, MATCHED);
    case COST: return unit == MATCHED ? (double)NAN : k->unit[unit].row.cost;
    default: return own(k, r, unit);
    }
}
