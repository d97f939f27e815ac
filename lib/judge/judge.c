#include "judge/judge.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "judge/humidity.h"
#include "judge/notes.h"

/* Inside-out film of still air on a duct jacket, m2 K/W: 0.65 h ft2 F/Btu, ASHRAE Handbook
 * Fundamentals, surface film resistances (from memory, unconfirmed: 0.6 to 0.7). */
#define R_FILM (0.65 * 0.1761101838)

/* Superheat past which an orifice system counts as starved, K (35 F; common practice, no source).
 */
#define ORIFICE_STARVED (35.0 / CT_F_PER_K)

static void at_least(ct_point *p, ct_limit limit, double value, double bound)
{
    double slack = value - bound;

    p->limit[limit] = (ct_judgement){slack >= 0.0 ? CT_PASSES : CT_FAILS, value, bound, slack};
}

static void at_most(ct_point *p, ct_limit limit, double value, double bound)
{
    double slack = bound - value;

    p->limit[limit] = (ct_judgement){slack >= 0.0 ? CT_PASSES : CT_FAILS, value, bound, slack};
}

static void judge_loads(const ct_sweep_job *job, ct_point *p)
{
    const ct_house *h = &job->c->house;
    double sensible = h->Q_sensible * (1.0 + h->margin);

    at_least(p, CT_LIMIT_SENSIBLE, p->balance.Q_sens_net, sensible);
    at_least(p, CT_LIMIT_LATENT, p->balance.Q_lat, h->Q_latent);
    at_least(p, CT_LIMIT_TOTAL, p->balance.Q_net, sensible + h->Q_latent);
    p->Q_load_max = fmax(0.0, p->balance.Q_sens_net / (1.0 + h->margin));
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
    p->T_jacket = T - (T - p->balance.supply.T) * R_FILM / (site->duct_R + R_FILM);
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
    double dp, p_evaporator;

    if (!meter->has_valve) return;
    if (ct_refrigerant_p_dew(r, b->T_coil, &p_evaporator, NULL) != CT_OK ||
        ct_inlet_after_line(r, b->p_discharge, b->subcooling, 0.0, &inlet, NULL) != CT_OK)
        return;
    if (ct_inlet_dp(&inlet, meter->dp_distributor, p_evaporator, &dp, NULL) != CT_OK ||
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

static void judge_heating(const ct_sweep_job *job, ct_point *p)
{
    const ct_limits *l = &job->c->limits;
    double rise;

    if (l->V_heat_min.has) at_least(p, CT_LIMIT_HEAT, p->V, l->V_heat_min.v);
    if (!l->Q_furnace.has) return;
    rise = l->Q_furnace.v / (p->V * CT_STD_DENSITY * ct_sweep_job_thinness(job) * CT_AIR_CPA);
    if (l->dT_furnace_max.has) at_most(p, CT_LIMIT_FURNACE, rise, l->dT_furnace_max.v);
    if (l->dT_furnace_min.has && rise < l->dT_furnace_min.v)
        at_least(p, CT_LIMIT_FURNACE, rise, l->dT_furnace_min.v);
}

static void conclude(const ct_sweep_job *job, ct_point *p)
{
    p->notes = p->below_table ? CT_NOTE_BLOWER_TABLE : 0;
    if (p->meter == CT_METER_NEARLY_FLOODS) p->notes |= CT_NOTE_NEAR_FLOOD;
    if (p->status == CT_OK)
        p->notes |= ct_notes_of_balance(&job->system, &p->balance) |
                    ct_notes_of_room(p->has_room ? &p->room : NULL,
                                     p->has_room_fan_on ? &p->room_fan_on : NULL);
    p->passes = true;
    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++)
        if (p->limit[i].verdict == CT_FAILS) p->passes = false;
}

void ct_judge_point(const ct_sweep_job *job, ct_point *p)
{
    const ct_limits *l = &job->c->limits;

    memset(p->limit, 0, sizeof p->limit);
    p->limit[CT_LIMIT_BALANCE].verdict = p->status == CT_OK ? CT_PASSES : CT_FAILS;
    p->valve_share = p->T_jacket = p->V_face = NAN;
    p->meter = CT_METER_UNKNOWN;
    p->Q_load_max = 0.0;
    judge_static(job, p);
    judge_heating(job, p);
    if (p->status == CT_OK) {
        judge_loads(job, p);
        at_least(p, CT_LIMIT_FROST, p->balance.T_surface, CT_FROST_LINE + l->frost_guard);
        at_most(p, CT_LIMIT_HEAD, p->balance.Tc, l->T_discharge_max);
        judge_sweat(job, p);
        judge_face(job, p);
        if (job->system.meter.kind == CT_METER_ORIFICE)
            judge_orifice(p);
        else
            judge_valve(job, p);
    }
    conclude(job, p);
}

void ct_judge_humidity(ct_solver *solver, const ct_sweep_job *job, bool also_fan_on, ct_point *p)
{
    const ct_house *h = &job->c->house;
    const ct_humidity_job humidity = {job->c,  &job->system, job->indoor,
                                      p->m_da, p->P_blower,  also_fan_on};
    ct_humidity_answer a;

    if (p->status != CT_OK) return;
    p->has_room = ct_humidity_settle(solver, &humidity, h->humidity_load, &a, NULL) == CT_OK;
    p->has_room_fan_on = a.fan_on == CT_OK;
    if (p->has_room) p->room = a.room;
    if (p->has_room_fan_on) p->room_fan_on = a.room_fan_on;
    if (p->has_room && h->rh_ceiling.has)
        at_most(p, CT_LIMIT_HUMIDITY, p->room.rh, h->rh_ceiling.v);
    conclude(job, p);
}
