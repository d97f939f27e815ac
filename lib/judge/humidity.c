#include "judge/humidity.h"

#include <math.h>
#include <stddef.h>

#include "case/no_load.h"
#include "judge/stage.h"

#define ROUNDS 12

/* ---- One hour -------------------------------------------------------------------- */

double ct_humidity_outdoor(const ct_case *c, double load_share)
{
    if (c->site.T_humid.has && c->site.T_dp_humid.has && load_share < 1.0) return c->site.T_humid.v;
    const double T_none = ct_case_no_load(&c->house, c->site.indoor.T);

    return T_none + load_share * (c->site.T_outdoor - T_none);
}

ct_status ct_humidity_outdoor_air(const ct_case *c, double p, double T_out, ct_air *out,
                                  ct_fault *fault)
{
    const ct_site *site = &c->site;
    ct_status status;

    if (site->T_dp_humid.has && T_out < site->T_outdoor)
        status = ct_air_from_dew_point(fmax(T_out, site->T_dp_humid.v), site->T_dp_humid.v, p, out,
                                       fault);
    else if (site->rh_outdoor.has)
        status = ct_air_from_rh(site->T_outdoor, site->rh_outdoor.v, p, out, fault);
    else
        return ct_fault_say(fault, CT_INPUT, "infiltration needs the outdoor humidity beside it");
    if (status != CT_OK) return status;
    out->T = T_out;
    out->W = fmin(out->W, ct_air_W_sat(T_out, p));
    return CT_OK;
}

ct_status ct_humidity_house(const ct_humidity_job *job, double T_out, double Q_sensible,
                            ct_room_house *out, ct_fault *fault)
{
    const ct_house *h = &job->c->house;
    const double p = job->indoor.p;
    ct_room_house house = {.T = job->indoor.T,
                           .p = p,
                           .Q_sensible = Q_sensible,
                           .Q_latent = h->Q_latent,
                           .fan_on = h->fan_on,
                           .fan_delay =
                               !h->fan_on && h->fan_off_delay.has ? h->fan_off_delay.v : 0.0,
                           .coil = CT_REEVAPORATION_USUAL};

    if (h->infiltration.has && h->infiltration.v > 0.0) {
        ct_air air = {0};
        const ct_status status = ct_humidity_outdoor_air(job->c, p, T_out, &air, fault);
        if (status != CT_OK) return status;
        house.W_outdoor = air.W;
        house.m_outdoor = h->infiltration.v / ct_air_v(T_out, air.W, p);
    }
    *out = house;
    return CT_OK;
}

/* The same of the low stage, which has no neighbor to begin at. */
typedef struct {
    ct_humidity_job job;
    ct_stage_hour o;
} low_hour;

static ct_status begin_low(ct_stage_hour *o, double W, low_hour *low)
{
    const ct_stage_run *run = &o->job->low;

    low->job = (ct_humidity_job){.c = o->job->c,
                                 .system = run->system,
                                 .outside = o->job->outside,
                                 .indoor = o->job->indoor,
                                 .m_da = run->m_da,
                                 .P_blower = run->P_blower,
                                 .also_fan_on = o->job->also_fan_on};
    low->o = (ct_stage_hour){.solver = o->solver,
                             .job = &low->job,
                             .T_out = o->T_out,
                             .house = o->house,
                             .fault = o->fault};
    o->low = &low->o;
    return ct_stage_begin(o->low, W);
}

/* The house at this load, and the equipment at `W`, where the search begins. */
static ct_status begin(ct_stage_hour *o, double Q_sensible, double W, low_hour *low)
{
    ct_status status = ct_humidity_house(o->job, o->T_out, Q_sensible, &o->house, o->fault);

    if (status == CT_OK) status = ct_stage_begin(o, W);
    return status == CT_OK && o->job->low.system ? begin_low(o, W, low) : status;
}

static ct_status settle_known(const ct_stage_hour *o, ct_room_out *out)
{
    const ct_room_equipment high = ct_stage_known(o);

    if (!o->low) return ct_room_settle(&o->house, &high, out, o->fault);
    ct_room_equipment low = ct_stage_known(o->low);
    low.high = &high;
    return ct_room_settle(&o->house, &low, out, o->fault);
}

/* What is known of both stages near the place where the house is expected. */
typedef struct {
    ct_tried_nearby high, low;
} nearby;

static ct_status settle_by(const ct_stage_hour *o, nearby *by, ct_room_out *out)
{
    if (!o->low) return ct_room_settle(&o->house, &by->high.equipment, out, o->fault);
    by->low.equipment.high = &by->high.equipment;
    return ct_room_settle(&o->house, &by->low.equipment, out, o->fault);
}

static ct_stage_progress learn_both(ct_stage_hour *o, const nearby *by, const ct_room_out *out)
{
    const bool low_runs = o->low && out->high < 1.0, high_runs = !o->low || out->high > 0.0;
    const ct_stage_progress low =
        low_runs ? ct_stage_learn(o->low, &by->low, out->W) : CT_STAGE_GOOD;
    const ct_stage_progress high = high_runs ? ct_stage_learn(o, &by->high, out->W) : CT_STAGE_GOOD;

    if (low == CT_STAGE_LEARNED || high == CT_STAGE_LEARNED) return CT_STAGE_LEARNED;
    return low == CT_STAGE_STUCK || high == CT_STAGE_STUCK ? CT_STAGE_STUCK : CT_STAGE_GOOD;
}

/* Balance where the house settles with the equipment as known, until that is where it was tried. W
 * is where it is expected. */
static ct_status settle_near(ct_stage_hour *o, double W, ct_room_out *out)
{
    for (int i = 0; i < ROUNDS; i++) {
        nearby by;
        ct_tried_near(&o->tried, W, i == 0, &by.high);
        if (o->low) ct_tried_near(&o->low->tried, W, i == 0, &by.low);
        ct_status status = settle_by(o, &by, out);
        if (status != CT_OK) return status;
        const ct_stage_progress p = learn_both(o, &by, out);
        W = out->W;
        out->extrapolated = p != CT_STAGE_GOOD &&
                            (ct_stage_outside(o, W) || (o->low && ct_stage_outside(o->low, W)));
        if (p != CT_STAGE_LEARNED) return CT_OK; /* extrapolated says so */
    }
    return CT_OK;
}

static ct_status settle(ct_stage_hour *o, double W, ct_room_out *out)
{
    ct_room_out room;
    ct_status status = settle_near(o, W, &room);

    if (status != CT_OK) {
        status = ct_stage_spread(o);
        if (status == CT_OK && o->low) status = ct_stage_spread(o->low);
        if (status == CT_OK) status = settle_known(o, &room);
    }
    if (status == CT_OK) *out = room;
    return status;
}

/* Less moisture at less load: where a house at that share is likely to be, to begin with. */
static double likely(const ct_humidity_job *job, double load_share)
{
    double W_sat = ct_air_W_sat(job->indoor.T, job->indoor.p);

    return fmin(0.9, 0.45 + 0.2 * (1.0 - load_share)) * W_sat;
}

ct_status ct_humidity_settle(ct_solver *solver, const ct_humidity_job *job, double load_share,
                             ct_humidity_answer *out, ct_fault *fault)
{
    ct_stage_hour o = {solver, job, ct_humidity_outdoor(job->c, load_share), .fault = fault};
    double W = job->near.W > 0.0 ? job->near.W : likely(job, load_share);
    low_hour low;
    ct_status status = begin(&o, load_share * job->c->house.Q_sensible, W, &low);

    if (status == CT_OK) status = settle(&o, W, &out->room);
    out->fan_on = status != CT_OK ? status : CT_NO_ROOT;
    out->slowed = 0.0;
    if (status == CT_OK) out->seen = ct_tried_seen(&o.tried, out->room.W);
    out->seen_rated = o.rated;
    if (status != CT_OK || !job->also_fan_on) return status;
    o.house.fan_on = true;
    o.house.fan_delay = 0.0;
    o.fault = NULL;
    if (o.low) o.low->fault = NULL;
    W = out->room.W;
    ct_stage_come_from(&o, &job->near_fan_on, &W);
    out->fan_on = settle(&o, W, &out->room_fan_on);
    if (out->fan_on == CT_OK) out->seen_fan_on = ct_tried_seen(&o.tried, out->room_fan_on.W);
    return status;
}

/* Between the balances i and k. */
static double house_at(const ct_stage_hour *o, int i, int k, double t)
{
    const double at = o->tried.equipment.point[i].Q_net;

    return at + t * (o->tried.equipment.point[k].Q_net - at);
}

static void record(const ct_stage_hour *o, const ct_room_out *room, ct_house_hour *out)
{
    int i = ct_tried_nearest(&o->tried, room->W), k = ct_tried_second(&o->tried, room->W, i);
    const ct_balance *a = &o->tried.at[i], *b = &o->tried.at[k];
    double t = ct_tried_along(&o->tried, room->W, i, k);

    *out = (ct_house_hour){.T_out = o->T_out,
                           .room = *room,
                           .Q_net = a->Q_net + t * (b->Q_net - a->Q_net),
                           .Q_sens_net = a->Q_sens_net + t * (b->Q_sens_net - a->Q_sens_net),
                           .Q_lat = a->Q_lat + t * (b->Q_lat - a->Q_lat),
                           .Q_house = o->low ? house_at(o, i, k, t) : room->Q_net,
                           .Te = a->Te + t * (b->Te - a->Te),
                           .T_surface = a->T_surface + t * (b->T_surface - a->T_surface),
                           .seen = ct_tried_seen(&o->tried, room->W),
                           .seen_rated = o->rated,
                           .bend = ct_tried_bend(&o->tried, i, k)};
}

ct_status ct_humidity_day(ct_solver *solver, const ct_humidity_job *job, const ct_house_day *day,
                          ct_house_hour *out, double *Q_max, ct_fault *fault)
{
    ct_stage_hour o = {solver, job, day->T_out, .fault = fault};
    ct_room_out room, whole;
    low_hour low;
    double W = job->near.W > 0.0 ? job->near.W : job->indoor.W;
    ct_status status = begin(&o, day->load, W, &low);

    if (status == CT_OK) status = settle(&o, W, &room);
    if (status != CT_OK) return status;
    /* The high stage is judged there, whether or not the low one leaves it anything to do. */
    if (o.low) ct_stage_come_near(&o, room.W);
    record(&o, &room, out);
    if (!Q_max) return CT_OK;
    o.house.Q_sensible = 1e6;
    W = room.W;
    if (!room.always_on) ct_stage_come_from(&o, &job->near_whole, &W);
    /* The hour above has settled, whatever becomes of this one. */
    if (settle(&o, W, &whole) != CT_OK) return CT_OK;
    *Q_max = whole.Q_net;
    out->seen_whole = ct_tried_seen(&o.tried, whole.W);
    return CT_OK;
}

ct_status ct_humidity_held(ct_solver *solver, const ct_humidity_job *job, const ct_house_day *day,
                           ct_room_out *out, ct_fault *fault)
{
    ct_stage_hour o = {solver, job, day->T_out, .fault = fault};
    low_hour low;
    ct_status status = begin(&o, day->load, job->indoor.W, &low);

    if (status != CT_OK) return status;
    const ct_room_equipment high = ct_stage_known(&o);
    if (!o.low) return ct_room_at(&o.house, &high, job->indoor.W, out, fault);
    ct_room_equipment equipment = ct_stage_known(o.low);
    equipment.high = &high;
    return ct_room_at(&o.house, &equipment, job->indoor.W, out, fault);
}

ct_status ct_humidity_hour(ct_solver *solver, const ct_humidity_job *job, double load_share,
                           ct_room_out *out, ct_fault *fault)
{
    const ct_house_day day = {ct_humidity_outdoor(job->c, load_share),
                              load_share * job->c->house.Q_sensible};

    return ct_humidity_held(solver, job, &day, out, fault);
}

ct_status ct_humidity_unit(ct_solver *solver, const ct_humidity_job *job, const ct_house_at *at,
                           ct_house_unit *out, ct_fault *fault)
{
    const ct_stage_hour o = {solver, job, at->T_out, .fault = fault};
    const ct_conditions conditions_at = ct_stage_conditions(&o, at->W);
    ct_balance b;
    ct_status status = ct_balance_solve(solver, job->system, &conditions_at, at->start, &b, fault);

    if (status != CT_OK) return status;
    const ct_delivered d = ct_stage_deliver(&o, &b);
    *out = (ct_house_unit){.point = {at->W, d.Q_sens, d.water}, .balance = b};
    ct_stage_leak(&o, &out->m_leak, &out->W_leak);
    return CT_OK;
}

double ct_humidity_water_rated(ct_solver *solver, const ct_humidity_job *job, double T_out,
                               const ct_start *start, ct_near *seen)
{
    return ct_stage_water_rated(solver, job, T_out, start, seen);
}
