#include "judge/judge.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "judge/heating.h"
#include "judge/humidity.h"
#include "judge/notes.h"
#include "plant/feed.h"

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

/* What reaches the rooms at the return air entered. */
static void deliver(const ct_sweep_job *job, ct_point *p)
{
    const ct_balance *b = &p->balance;
    const ct_duct_feed feed = {p->m_da, job->indoor, b->supply.T, b->Q_net, b->Q_sens_net};

    p->ducts = (ct_duct_delivery){1.0, 1.0, 1.0, 1.0, 1.0, 1.0};
    if (job->has_outside && b->Q_net > 0.0 && b->Q_sens_net > 0.0)
        ct_duct_deliver(&job->outside, &feed, &p->ducts);
    p->Q_house = b->Q_sens_net * p->ducts.sensible_regained;
}

static bool judged_settled(const ct_sweep_job *job, const ct_point *p)
{
    return p->has_design && job->c->house.judge_load_at == CT_LOAD_SETTLED;
}

static ct_near seen(const ct_near *near, int which)
{
    return near ? near[which] : (ct_near){.W = 0.0};
}

static ct_humidity_job humidity_job(const ct_sweep_job *job, const ct_point *p, ct_near near)
{
    return (ct_humidity_job){.c = job->c,
                             .system = &job->system,
                             .outside = job->has_outside ? &job->outside : NULL,
                             .indoor = job->indoor,
                             .m_da = p->m_da,
                             .P_blower = p->P_blower,
                             .near = near};
}

/* The design hour, in the air the house then has. */
static void settle_design(ct_solver *solver, const ct_sweep_job *job, const ct_near *near,
                          ct_point *p)
{
    ct_humidity_job humidity = humidity_job(job, p, seen(near, CT_SEEN_DESIGN));
    const ct_house *h = &job->c->house;
    const ct_house_day day = {job->T_out, h->Q_sensible * (1.0 + h->margin)};

    humidity.known = &p->balance;
    humidity.near_whole = seen(near, CT_SEEN_WHOLE);
    double Q_max;
    p->has_design = ct_humidity_day(solver, &humidity, &day, &p->design, &Q_max, NULL) == CT_OK;
    if (!p->has_design) return;
    p->Q_load_max = fmax(0.0, Q_max / (1.0 + h->margin));
    p->seen[CT_SEEN_DESIGN] = p->design.seen;
    p->seen[CT_SEEN_WHOLE] = p->design.seen_whole;
}

ct_status ct_judge_carried(ct_solver *solver, const ct_sweep_job *job, const ct_point *p,
                           const ct_house_day *day, double *Q)
{
    const ct_conditions at = {job->indoor, day->T_out, p->m_da, p->P_blower};
    ct_start start = ct_balance_start(&p->balance);
    ct_point other = *p;
    ct_status status;

    start.Tc += day->T_out - job->T_out;
    if (judged_settled(job, p)) {
        const ct_humidity_job humidity = humidity_job(job, p, (ct_near){.W = p->design.room.W});
        ct_house_hour hour;
        status = ct_humidity_day(solver, &humidity, day, &hour, NULL, NULL);
        if (status == CT_OK) *Q = hour.Q_house;
        return status;
    }
    status = ct_balance_solve(solver, &job->system, &at, &start, &other.balance, NULL);
    if (status != CT_OK) return status;
    deliver(job, &other);
    *Q = other.Q_house;
    return CT_OK;
}

/* The mildest hour it still runs: the evening of the design day, the house as dry as that day made
 * it. Head pressure is low then and the compressor draws the coil down furthest. */
static void try_mild(ct_solver *solver, const ct_sweep_job *job, const ct_near *near, ct_point *p)
{
    ct_conditions at = {job->indoor, job->c->limits.T_mild, p->m_da, p->P_blower};
    double W_sat = ct_air_W_sat(at.in.T, at.in.p);
    ct_start start = ct_balance_start(&p->balance);
    ct_balance b;

    start.Tc += at.T_out - job->T_out;
    if (near && near[CT_SEEN_MILD].start.Te > 0.0) start = near[CT_SEEN_MILD].start;
    if (judged_settled(job, p)) at.in.W = fmin(p->design.room.W, W_sat);
    p->has_mild = ct_balance_solve(solver, &job->system, &at, &start, &b, NULL) == CT_OK;
    if (!p->has_mild) return;
    p->Te_mild = b.Te;
    p->T_surface_mild = b.T_surface;
    p->seen[CT_SEEN_MILD] = (ct_near){at.in.W, ct_balance_start(&b)};
}

/* The coldest of the hours looked at. */
static void judge_frost(const ct_sweep_job *job, ct_point *p)
{
    double T = p->balance.T_surface;

    if (judged_settled(job, p)) T = fmin(T, p->design.T_surface);
    if (p->has_mild) T = fmin(T, p->T_surface_mild);
    at_least(p, CT_LIMIT_FROST, T, CT_FROST_LINE + job->c->limits.frost_guard);
}

static void judge_loads(const ct_sweep_job *job, ct_point *p)
{
    const ct_house *h = &job->c->house;
    double sensible = h->Q_sensible * (1.0 + h->margin);

    double capacity = judged_settled(job, p) ? p->design.Q_house : p->Q_house;

    at_least(p, CT_LIMIT_SENSIBLE, capacity, sensible);
    at_least(p, CT_LIMIT_LATENT, p->balance.Q_lat, h->Q_latent);
    at_least(p, CT_LIMIT_TOTAL, p->balance.Q_net * p->ducts.total_regained, sensible + h->Q_latent);
    if (!judged_settled(job, p)) p->Q_load_max = fmax(0.0, p->Q_house / (1.0 + h->margin));
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

/* Above the superheat to charge to in this air by more than the trade lets pass: the coil's end is
 * dry. Below 5 F there is no target and 5 F stands for it. */
#define STARVED_OVER_TARGET (10.0 / CT_F_PER_K) /* common practice, no source */

static bool starved(const ct_sweep_job *job, const ct_point *p)
{
    double wet_bulb, target = CT_SUPERHEAT_LITTLE;

    if (job->system.meter.kind != CT_METER_ORIFICE || p->status != CT_OK) return false;
    if (ct_air_wet_bulb(&job->indoor, &wet_bulb, NULL) == CT_OK)
        ct_orifice_target_superheat(wet_bulb, job->T_out, &target, NULL);
    return p->balance.superheat > target + STARVED_OVER_TARGET;
}

static void conclude(const ct_sweep_job *job, ct_point *p)
{
    p->notes = p->below_table ? CT_NOTE_BLOWER_TABLE : 0;
    if (p->meter == CT_METER_NEARLY_FLOODS) p->notes |= CT_NOTE_NEAR_FLOOD;
    if (starved(job, p)) p->notes |= CT_NOTE_STARVED;
    if (p->status == CT_OK)
        p->notes |= ct_notes_of_balance(&job->system, &p->balance) |
                    ct_notes_of_room(p->has_room ? &p->room : NULL,
                                     p->has_room_fan_on ? &p->room_fan_on : NULL);
    p->passes = true;
    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++)
        if (p->limit[i].verdict == CT_FAILS) p->passes = false;
}

void ct_judge_point(ct_solver *solver, const ct_sweep_job *job, const ct_near *near, ct_point *p)
{
    const ct_limits *l = &job->c->limits;

    memset(p->limit, 0, sizeof p->limit);
    p->limit[CT_LIMIT_BALANCE].verdict = p->status == CT_OK ? CT_PASSES : CT_FAILS;
    p->valve_share = p->T_jacket = p->V_face = NAN;
    p->meter = CT_METER_UNKNOWN;
    p->Q_load_max = 0.0;
    p->has_design = p->has_mild = false;
    memset(p->seen, 0, sizeof p->seen);
    if (p->m_da > 0.0) at_least(p, CT_LIMIT_FLOOR, p->V_std_per_ton, l->V_per_ton_floor);
    judge_static(job, p);
    ct_heating_judge(job, p->limit);
    if (p->status == CT_OK) {
        deliver(job, p);
        settle_design(solver, job, near, p);
        try_mild(solver, job, near, p);
        judge_loads(job, p);
        judge_frost(job, p);
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

void ct_judge_humidity(ct_solver *solver, const ct_sweep_job *job, unsigned also,
                       const ct_near *near, ct_point *p)
{
    const ct_house *h = &job->c->house;
    ct_humidity_job humidity = humidity_job(job, p, seen(near, CT_SEEN_ROOM));
    ct_humidity_answer a;

    if (p->status != CT_OK) return;
    humidity.near_fan_on = seen(near, CT_SEEN_FAN_ON);
    humidity.near_rated = seen(near, CT_SEEN_RATED);
    if (p->has_design) humidity.bend = p->design.bend;
    humidity.also_fan_on = (also & CT_ALSO_FAN_ON) != 0;
    p->has_room = ct_humidity_settle(solver, &humidity, h->humidity_load, &a, NULL) == CT_OK;
    p->has_room_fan_on = a.fan_on == CT_OK;
    if (p->has_room) {
        p->room = a.room;
        p->seen[CT_SEEN_ROOM] = a.seen;
        p->seen[CT_SEEN_RATED] = a.seen_rated;
    }
    p->has_band = p->has_room && (also & CT_ALSO_BAND);
    if (p->has_band) {
        static const double share[CT_HUMIDITY_BAND] = CT_HUMIDITY_BAND_SHARES;
        humidity.near = a.seen;
        ct_humidity_band(solver, &humidity, share, CT_HUMIDITY_BAND, p->rh_band);
    }
    if (p->has_room_fan_on) {
        p->room_fan_on = a.room_fan_on;
        p->seen[CT_SEEN_FAN_ON] = a.seen_fan_on;
    }
    if (p->has_room && h->rh_ceiling.has)
        at_most(p, CT_LIMIT_HUMIDITY, p->room.rh, h->rh_ceiling.v);
    conclude(job, p);
}
