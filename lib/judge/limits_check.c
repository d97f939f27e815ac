#include "judge/limits_check.h"

#include <math.h>

#include "base/units.h"
#include "part/duct.h"
#include "part/inlet.h"
#include "part/valve.h"
#include "plant/feed.h"

/* Superheat past which an orifice system counts as starved, K (35 F; common practice, no source).
 */
#define ORIFICE_STARVED (35.0 / CT_F_PER_K)

static void at_least(ct_point *p, ct_limit limit, double value, double bound)
{
    double slack = value - bound;

    p->limit[limit] = (ct_judgment){slack >= 0.0 ? CT_PASSES : CT_FAILS, value, bound, slack};
}

static void at_most(ct_point *p, ct_limit limit, double value, double bound)
{
    double slack = bound - value;

    p->limit[limit] = (ct_judgment){slack >= 0.0 ? CT_PASSES : CT_FAILS, value, bound, slack};
}

bool ct_limits_check_settled(const ct_sweep_job *job, const ct_point *p)
{
    return p->has_design && job->c->house.judge_load_at == CT_LOAD_SETTLED;
}

/* The coldest of the hours looked at. */
static void judge_frost(const ct_sweep_job *job, ct_point *p)
{
    double T = p->balance.T_surface;

    if (ct_limits_check_settled(job, p)) T = fmin(T, p->design.T_surface);
    if (p->has_mild) T = fmin(T, p->T_surface_mild);
    at_least(p, CT_LIMIT_FROST, T, CT_FROST_LINE + job->c->limits.frost_guard);
}

static void judge_loads(const ct_sweep_job *job, ct_point *p)
{
    const ct_house *h = &job->c->house;
    double sensible = h->Q_sensible * (1.0 + h->margin);

    if (job->is_low) return; /* the high stage carries it */

    double capacity = ct_limits_check_settled(job, p) ? p->design.Q_house : p->Q_house;

    at_least(p, CT_LIMIT_SENSIBLE, capacity, sensible);
    at_least(p, CT_LIMIT_LATENT, p->balance.Q_lat, h->Q_latent);
    at_least(p, CT_LIMIT_TOTAL, p->balance.Q_net * p->ducts.total_regained, sensible + h->Q_latent);
    if (!ct_limits_check_settled(job, p)) p->Q_load_max = fmax(0.0, p->Q_house / (1.0 + h->margin));
}

static void judge_sweat(const ct_sweep_job *job, ct_point *p)
{
    const ct_site *site = &job->c->site;
    ct_air around;
    double T_dp, T = site->around_duct.T;

    p->T_jacket = NAN;
    if (!site->has_around_duct) return;
    if (ct_sweep_air(&site->around_duct, job->indoor.p, &around, NULL) != CT_OK ||
        ct_air_dew_point(&around, &T_dp, NULL) != CT_OK)
        return;
    p->T_jacket = T - (T - p->balance.supply.T) * CT_DUCT_FILM / (site->duct_R + CT_DUCT_FILM);
    at_least(p, CT_LIMIT_SWEAT, p->T_jacket, T_dp + job->c->limits.sweat_guard);
}

static void judge_face(const ct_sweep_job *job, ct_point *p)
{
    const ct_coil_spec *coil = &job->unit->coil;
    const ct_air *in = &p->balance.in;
    double face = coil->has_geometry ? coil->geometry.face : coil->face.has ? coil->face.v : 0.0;

    p->V_face = NAN;
    if (!(face > 0.0)) return;
    p->V_face = p->m_da * ct_air_v(in->T, in->W, in->p) / face;
    at_most(p, CT_LIMIT_CARRYOVER, p->V_face, job->c->limits.V_face_max);
}

static double end_of_table(const ct_sweep_job *job, const ct_point *p)
{
    const ct_tap *tap = &job->blower.tap[p->tap];

    return tap->point[tap->n - 1].dp;
}

static void judge_static(const ct_sweep_job *job, ct_point *p)
{
    double allowed = job->blower.dp_max;

    if (!p->has_dp || !(allowed > 0.0)) return;
    /* A table that ends below the limit: past it airflow and watts are guesses. */
    if (p->over_limit && p->dp <= allowed) allowed = end_of_table(job, p);
    at_most(p, CT_LIMIT_STATIC, p->dp, allowed);
    if (p->over_limit) p->limit[CT_LIMIT_STATIC].verdict = CT_FAILS;
}

static void judge_valve(const ct_sweep_job *job, ct_point *p)
{
    const ct_meter *meter = &job->system.meter;
    const ct_refrigerant *r = job->system.outdoor.refrigerant;
    const ct_balance *b = &p->balance;
    ct_inlet inlet;
    ct_valve_out valve;

    if (!meter->has_valve) return;
    double p_evaporator;
    if (ct_refrigerant_p_dew(r, b->T_coil, &p_evaporator, NULL) != CT_OK) return;
    double dp;
    if (ct_feed_inlet(&job->system, b, &inlet, NULL) != CT_OK ||
        ct_inlet_dp(&inlet, meter->dp_distributor, p_evaporator, &dp, NULL) != CT_OK ||
        ct_valve_meet(&meter->valve, &inlet, dp, b->m_r, &valve, NULL) != CT_OK) {
        p->meter = CT_METER_STARVES;
        at_most(p, CT_LIMIT_METER, INFINITY, meter->valve.reserve);
        return;
    }
    p->valve_share = valve.share;
    p->meter = valve.state == CT_VALVE_HUNTS     ? CT_METER_HUNTS
               : valve.state == CT_VALVE_STARVES ? CT_METER_STARVES
                                                 : CT_METER_COPES;
    if (p->meter == CT_METER_HUNTS)
        at_least(p, CT_LIMIT_METER, valve.share, CT_VALVE_HUNTS_BELOW);
    else
        at_most(p, CT_LIMIT_METER, valve.share, meter->valve.reserve);
}

static void judge_orifice(ct_point *p)
{
    const ct_balance *b = &p->balance;

    p->meter = b->superheat <= 0.0                  ? CT_METER_FLOODS
               : b->superheat > ORIFICE_STARVED     ? CT_METER_STARVES
               : b->superheat < CT_SUPERHEAT_LITTLE ? CT_METER_NEARLY_FLOODS
                                                    : CT_METER_COPES;
    if (p->meter == CT_METER_FLOODS)
        at_least(p, CT_LIMIT_METER, b->quality_out, 1.0);
    else
        at_most(p, CT_LIMIT_METER, b->superheat, ORIFICE_STARVED);
    if (p->meter == CT_METER_FLOODS) p->limit[CT_LIMIT_METER].verdict = CT_FAILS;
}

void ct_limits_check_air(const ct_sweep_job *job, ct_point *p)
{
    if (p->m_da > 0.0)
        at_least(p, CT_LIMIT_FLOOR, p->V_std_per_ton, job->c->limits.V_per_ton_floor);
    judge_static(job, p);
}

void ct_limits_check_balance(const ct_sweep_job *job, ct_point *p)
{
    judge_loads(job, p);
    judge_frost(job, p);
    at_most(p, CT_LIMIT_HEAD, p->balance.Tc, job->c->limits.T_discharge_max);
    judge_sweat(job, p);
    judge_face(job, p);
    if (job->system.meter.kind == CT_METER_ORIFICE)
        judge_orifice(p);
    else
        judge_valve(job, p);
}

void ct_limits_check_humidity(const ct_sweep_job *job, ct_point *p)
{
    const ct_maybe *ceiling = &job->c->house.rh_ceiling;

    /* A ceiling is kept by both stages together. */
    if (p->has_room && ceiling->has && !job->is_low)
        at_most(p, CT_LIMIT_HUMIDITY, p->room.rh, ceiling->v);
}
