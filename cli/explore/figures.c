#include "explore/figures.h"

#include <math.h>
#include <stddef.h>

#include "part/valve.h"

#define ON_WEATHER (ON_AIR | ON_OUTDOORS | ON_HUMIDITY)
#define ON_HOUSE (ON_AIR | ON_OUTDOORS | ON_LOAD | THINNED)
#define ON_HOURS (ON_AIR | ON_OUTDOORS | THINNED)

/* ---- Values ---------------------------------------------------------------------- */

/* A value of a point that balances. */
#define OF_BALANCE(name, member)                                                                   \
    static double name(const ct_sweep_job *job, const ct_point *p)                                 \
    {                                                                                              \
        (void)job;                                                                                 \
        return p->status == CT_OK ? p->member : (double)NAN;                                       \
    }

OF_BALANCE(airflow, V)
OF_BALANCE(total, balance.Q_net)
OF_BALANCE(sensible, balance.Q_sens_net)
OF_BALANCE(latent, balance.Q_lat)
OF_BALANCE(suction, balance.Te)
OF_BALANCE(surface, balance.T_surface)
OF_BALANCE(supply, balance.supply.T)
OF_BALANCE(condensing, balance.Tc)
OF_BALANCE(superheat, balance.superheat)
OF_BALANCE(watts, balance.P_total)
OF_BALANCE(water, balance.water)
OF_BALANCE(dry_share, balance.dry_share)
OF_BALANCE(carried, Q_load_max)

static double external_static(const ct_sweep_job *job, const ct_point *p)
{
    (void)job;
    return p->status == CT_OK && p->has_dp ? p->dp : (double)NAN;
}

static double dew_point(const ct_sweep_job *job, const ct_point *p)
{
    double T;
    (void)job;
    return p->status == CT_OK && ct_air_dew_point(&p->balance.in, &T, NULL) == CT_OK ? T
                                                                                     : (double)NAN;
}

static double settled_humidity(const ct_sweep_job *job, const ct_point *p)
{
    (void)job;
    return p->status == CT_OK && p->has_room ? p->room.rh : (double)NAN;
}

/* ---- Slacks ---------------------------------------------------------------------- */

static double judged(const ct_point *p, ct_limit limit)
{
    const ct_judgment *j = &p->limit[limit];
    return j->verdict == CT_NOT_JUDGED ? (double)NAN : j->slack;
}

#define OF_LIMIT(name, id)                                                                         \
    static double name(const ct_sweep_job *job, const ct_point *p)                                 \
    {                                                                                              \
        (void)job;                                                                                 \
        return judged(p, CT_LIMIT_##id);                                                           \
    }

OF_LIMIT(floor_slack, FLOOR)
OF_LIMIT(sweat_slack, SWEAT)
OF_LIMIT(carryover_slack, CARRYOVER)
OF_LIMIT(static_slack, STATIC)
OF_LIMIT(head_slack, HEAD)
OF_LIMIT(heat_slack, HEAT)
OF_LIMIT(furnace_slack, FURNACE)
OF_LIMIT(heat_head_slack, HEAT_HEAD)
OF_LIMIT(latent_slack, LATENT)
OF_LIMIT(total_slack, TOTAL)

/* Where a load is not carried the house runs the whole hour, and the capacity judged is the largest
 * load this speed carries, with its margin. Where it is carried that load is the larger one. So the
 * two always agree on the verdict; and the largest load does not depend on the load, so that the
 * script need only take a slider's load from it. */
static double sensible_slack(const ct_sweep_job *job, const ct_point *p)
{
    const ct_house *h = &job->c->house;
    if (p->status != CT_OK) return (double)NAN;
    return (p->Q_load_max - h->Q_sensible) * (1.0 + h->margin);
}

static double sensible_bound(const ct_sweep_job *job, const ct_point *p)
{
    const ct_house *h = &job->c->house;
    (void)p;
    return h->Q_sensible * (1.0 + h->margin);
}

/* Frost is judged at the coldest of the hours looked at; each is a figure of its own, for the
 * coldest of several has corners that a smooth curve would cut. */
static double above_frost(const ct_point *p, bool has, double T)
{
    return p->status == CT_OK && has ? T - p->limit[CT_LIMIT_FROST].bound : (double)NAN;
}

static double frost_slack(const ct_sweep_job *job, const ct_point *p)
{
    (void)job;
    return above_frost(p, true, p->balance.T_surface);
}

static double frost_slack_settled(const ct_sweep_job *job, const ct_point *p)
{
    const bool settled = job->c->house.judge_load_at == CT_LOAD_SETTLED;
    return above_frost(p, settled && p->has_design, p->design.T_surface);
}

static double frost_slack_mild(const ct_sweep_job *job, const ct_point *p)
{
    (void)job;
    return above_frost(p, p->has_mild, p->T_surface_mild);
}

static double humidity_slack(const ct_sweep_job *job, const ct_point *p)
{
    return job->c->house.rh_ceiling.has ? judged(p, CT_LIMIT_HUMIDITY) : (double)NAN;
}

/* A valve has two ends, each a figure of its own: between them the judged slack jumps. One that
 * cannot pass the flow at all is as far beyond as a slack can say. */
#define CANNOT_PASS (-1.0)

static double valve_wide_slack(const ct_sweep_job *job, const ct_point *p)
{
    const ct_meter *m = &job->system.meter;
    if (m->kind != CT_METER_VALVE || p->limit[CT_LIMIT_METER].verdict == CT_NOT_JUDGED)
        return (double)NAN;
    return isnan(p->valve_share) ? CANNOT_PASS : m->valve.reserve - p->valve_share;
}

static double valve_wide_bound(const ct_sweep_job *job, const ct_point *p)
{
    (void)p;
    return job->system.meter.valve.reserve;
}

static double valve_shut_slack(const ct_sweep_job *job, const ct_point *p)
{
    return job->system.meter.kind == CT_METER_VALVE ? p->valve_share - CT_VALVE_HUNTS_BELOW
                                                    : (double)NAN;
}

static double valve_shut_bound(const ct_sweep_job *job, const ct_point *p)
{
    (void)job;
    (void)p;
    return CT_VALVE_HUNTS_BELOW;
}

static bool is_piston(const ct_sweep_job *job, const ct_point *p)
{
    return p->status == CT_OK && job->system.meter.kind == CT_METER_ORIFICE;
}

static double starved_slack(const ct_sweep_job *job, const ct_point *p)
{
    return is_piston(job, p) && p->meter != CT_METER_FLOODS ? judged(p, CT_LIMIT_METER)
                                                            : (double)NAN;
}

/* Superheat, and below none the heat that the liquid left would still take, as degrees of vapor:
 * latent heat over the vapor's specific heat is some 200 K for these refrigerants. Only its sign is
 * read; the size keeps the curve through zero smooth. */
#define LIQUID_AS_SUPERHEAT 200.0

static double flooded_slack(const ct_sweep_job *job, const ct_point *p)
{
    if (!is_piston(job, p)) return (double)NAN;
    return p->meter == CT_METER_FLOODS ? (p->balance.quality_out - 1.0) * LIQUID_AS_SUPERHEAT
                                       : p->balance.superheat;
}

static double no_superheat(const ct_sweep_job *job, const ct_point *p)
{
    (void)job;
    (void)p;
    return 0.0;
}

/* ---- The table ------------------------------------------------------------------- */

#define AT_LEAST(id) .is_slack = true, .limit = CT_LIMIT_##id
#define AT_MOST(id) AT_LEAST(id), .at_most = true

/* clang-format off */
static const figure_row rows[] = {
    {"airflow", Q_AIRFLOW, ON_WEATHER, ON_WEATHER, .of = airflow},
    {"total", Q_HEAT, ON_WEATHER, ON_WEATHER, .of = total},
    {"sensible", Q_HEAT, ON_WEATHER, ON_WEATHER, .of = sensible},
    {"latent", Q_HEAT, ON_WEATHER, ON_WEATHER, .of = latent},
    {"suction", Q_TEMPERATURE, ON_WEATHER, ON_WEATHER, .of = suction},
    {"surface", Q_TEMPERATURE, ON_WEATHER, ON_WEATHER, .of = surface},
    {"supply", Q_TEMPERATURE, ON_WEATHER, ON_WEATHER, .of = supply},
    {"condensing", Q_TEMPERATURE, ON_WEATHER, ON_WEATHER, .of = condensing},
    {"superheat", Q_DELTA_T, ON_WEATHER, ON_WEATHER, .of = superheat},
    {"watts", Q_ELECTRIC, ON_WEATHER, ON_WEATHER, .of = watts},
    {"water", Q_WATER_RATE, ON_WEATHER, ON_WEATHER, .of = water},
    {"dry_share", Q_FRACTION, ON_WEATHER, ON_WEATHER, .of = dry_share},
    {"static", Q_STATIC, ON_WEATHER, ON_WEATHER, .of = external_static},
    {"dew_point", Q_TEMPERATURE, ON_HUMIDITY, ON_HUMIDITY, .of = dew_point},
    {"carried", Q_HEAT, ON_HOURS, ON_WEATHER, .of = carried},
    {"settled_humidity", Q_FRACTION, ON_HOUSE, ON_HOUSE, .of = settled_humidity},

    {"sensible_slack", Q_HEAT, ON_HOURS, ON_WEATHER, sensible_slack, AT_LEAST(SENSIBLE),
     .moves_with_load = true, .bound_of = sensible_bound},
    {"floor_slack", Q_AIRFLOW_PER_TON, ON_AIR, ON_AIR, floor_slack, AT_LEAST(FLOOR)},
    {"frost_slack", Q_DELTA_T, ON_WEATHER, ON_WEATHER, frost_slack, AT_LEAST(FROST)},
    {"frost_slack_settled", Q_DELTA_T, ON_HOUSE, 0, frost_slack_settled, AT_LEAST(FROST),
     .measured = "coldest coil surface in the air the house settles at"},
    {"frost_slack_mild", Q_DELTA_T, ON_HOUSE, ON_AIR | ON_HUMIDITY, frost_slack_mild,
     AT_LEAST(FROST), .measured = "coldest coil surface at the mildest hour"},
    {"sweat_slack", Q_DELTA_T, ON_WEATHER, ON_WEATHER, sweat_slack, AT_LEAST(SWEAT)},
    {"carryover_slack", Q_VELOCITY, ON_AIR | ON_HUMIDITY, ON_AIR | ON_HUMIDITY, carryover_slack,
     AT_MOST(CARRYOVER)},
    {"static_slack", Q_STATIC, ON_WEATHER, ON_WEATHER, static_slack, AT_MOST(STATIC)},
    {"head_slack", Q_DELTA_T, ON_WEATHER, ON_WEATHER, head_slack, AT_MOST(HEAD)},
    {"valve_wide_slack", Q_FRACTION, ON_WEATHER, ON_WEATHER, valve_wide_slack, AT_MOST(METER),
     .bound_of = valve_wide_bound},
    {"valve_shut_slack", Q_FRACTION, ON_WEATHER, ON_WEATHER, valve_shut_slack, AT_LEAST(METER),
     .bound = "it hunts below", .bound_of = valve_shut_bound},
    {"starved_slack", Q_DELTA_T, ON_WEATHER, ON_WEATHER, starved_slack, AT_MOST(METER),
     .measured = "superheat behind the piston", .bound = "a starved coil begins at",
     .value = Q_DELTA_T},
    {"flooded_slack", Q_DELTA_T, ON_WEATHER, ON_WEATHER, flooded_slack, AT_LEAST(METER),
     .measured = "", .bound = "liquid leaves the coil, none may", .value = Q_DELTA_T,
     .bound_of = no_superheat},
    {"heat_slack", Q_AIRFLOW, 0, 0, heat_slack, AT_LEAST(HEAT)},
    {"furnace_slack", Q_DELTA_T, 0, 0, furnace_slack, AT_MOST(FURNACE)},
    {"heat_head_slack", Q_DELTA_T, 0, 0, heat_head_slack, AT_MOST(HEAT_HEAD)},
    {"humidity_slack", Q_FRACTION, ON_HOUSE, ON_HOUSE, humidity_slack, AT_MOST(HUMIDITY)},
    {"latent_slack", Q_HEAT, ON_WEATHER, ON_WEATHER, latent_slack, AT_LEAST(LATENT)},
    {"total_slack", Q_HEAT, ON_WEATHER, ON_WEATHER, total_slack, AT_LEAST(TOTAL),
     .moves_with_load = true},
};
/* clang-format on */

_Static_assert(sizeof rows / sizeof *rows <= MAX_FIGURES, "more figures than a grid has room for");

int figures_count(void)
{
    return (int)(sizeof rows / sizeof *rows);
}

const figure_row *figure_at(int i)
{
    return &rows[i];
}

unsigned figure_axes(const figure_row *row, const ct_case *c)
{
    return c->house.judge_load_at == CT_LOAD_SETTLED ? row->axes : row->axes_entered;
}

double figure_bound(const figure_row *row, const ct_sweep_job *job, const ct_point *p)
{
    return row->bound_of ? row->bound_of(job, p) : p->limit[row->limit].bound;
}
