#include "judge/humidity_control.h"

#include <math.h>
#include <stddef.h>

#include "judge/fan_control.h"
#include "plant/charge.h"

#define NODES 5    /* humidities between the house at the one airflow and at the other */
#define ASIDE 0.01 /* of the humidity, how far beyond both they reach */

typedef struct {
    ct_solver *solver;
    const ct_humidity_job *full, *cut;
    double T_out;
    double low, high; /* kg/kg, humidities of the house to look at */
    ct_fault *fault;
} hour;

static void reach(hour *o, const ct_humidity_answer *a)
{
    o->low = fmin(o->low, a->room.W);
    o->high = fmax(o->high, a->room.W);
    if (a->fan_on != CT_OK) return;
    o->low = fmin(o->low, a->room_fan_on.W);
    o->high = fmax(o->high, a->room_fan_on.W);
}

/* Only then does the coil give water back. */
static bool blower_stays_on(const ct_humidity_job *job)
{
    const ct_house *h = &job->c->house;
    return job->also_fan_on || h->fan_on || (h->fan_off_delay.has && h->fan_off_delay.v > 0.0);
}

static ct_status balance_all(const hour *o, const ct_humidity_job *job, const ct_near *near,
                             ct_room_equipment *out)
{
    const double W_sat = ct_air_W_sat(job->indoor.T, job->indoor.p);
    const double low = (1.0 - ASIDE) * o->low, high = fmin(W_sat, (1.0 + ASIDE) * o->high);
    ct_room_equipment e = {.n = NODES, .P_blower = job->P_blower};
    ct_start start = near->start;
    ct_status status = CT_OK;

    for (int i = 0; status == CT_OK && i < NODES; i++) {
        const ct_house_at at = {o->T_out, low + (high - low) * i / (NODES - 1),
                                start.Te > 0.0 ? &start : NULL};
        ct_house_unit unit;
        status = ct_humidity_unit(o->solver, job, &at, &unit, o->fault);
        if (status != CT_OK) break;
        start = ct_balance_start(&unit.balance);
        e.point[i] = unit.point;
        if (i > 0) e.point[i].water = fmax(e.point[i].water, e.point[i - 1].water);
        e.m_leak = unit.m_leak;
        e.W_leak = unit.W_leak;
    }
    if (status == CT_OK && blower_stays_on(job)) {
        const double water = ct_humidity_water_rated(o->solver, job, o->T_out, &start, NULL);
        e.water_rated = water > 0.0 ? water : e.point[NODES - 1].water;
    }
    if (status == CT_OK) *out = e;
    return status;
}

/* Both ends are as they were settled: the balances between serve what lies between. */
static ct_status settle_one(const ct_fan_run *run, const ct_room_out *cut, ct_room_out *room,
                            double *slowed, ct_fault *fault)
{
    ct_fan_settled at;
    const ct_status status = ct_fan_control_settle(run, &at, fault);

    if (status != CT_OK) return status;
    if (at.slowed >= 1.0)
        *room = *cut;
    else if (at.slowed > 0.0)
        *room = at.room;
    *slowed = at.slowed;
    return CT_OK;
}

static ct_status mix(const hour *o, double load, const ct_humidity_answer *cut,
                     ct_humidity_answer *out)
{
    ct_room_equipment full_at, cut_at;
    ct_room_house house;
    double slowed;
    ct_status status = balance_all(o, o->full, &out->seen, &full_at);

    if (status == CT_OK) status = balance_all(o, o->cut, &cut->seen, &cut_at);
    if (status == CT_OK) status = ct_humidity_house(o->full, o->T_out, load, &house, o->fault);
    if (status != CT_OK) return status;
    const ct_fan_run run = {&o->full->c->control, &house, &full_at, &cut_at};
    status = settle_one(&run, &cut->room, &out->room, &out->slowed, o->fault);
    if (status != CT_OK || out->fan_on != CT_OK) return status;
    if (cut->fan_on != CT_OK) {
        out->fan_on = cut->fan_on;
        return CT_OK;
    }
    house.fan_on = true;
    house.fan_delay = 0.0;
    out->fan_on = settle_one(&run, &cut->room_fan_on, &out->room_fan_on, &slowed, NULL);
    return CT_OK;
}

/* No slow start, and the house is never damp enough. */
static bool never_cuts(const ct_fan_control *k, const ct_humidity_answer *a)
{
    return !k->slow_start && a->room.rh <= k->rh_off &&
           (a->fan_on != CT_OK || a->room_fan_on.rh <= k->rh_off);
}

ct_status ct_humidity_controlled(ct_solver *solver, const ct_humidity_job *job, double load_share,
                                 ct_humidity_answer *out, ct_fault *fault)
{
    ct_humidity_job slow = *job;
    ct_humidity_answer a, cut;
    ct_status status = ct_humidity_settle(solver, job, load_share, &a, fault);

    if (status == CT_OK && job->m_cut > 0.0 && !never_cuts(&job->c->control, &a)) {
        /* The charge is that of the speed set. */
        const ct_system kept = ct_charge_kept(job->system, job->m_da);
        hour o = {.solver = solver,
                  .full = job,
                  .cut = &slow,
                  .T_out = ct_humidity_outdoor(job->c, load_share),
                  .low = a.room.W,
                  .high = a.room.W,
                  .fault = fault};
        slow.system = &kept;
        slow.m_da = job->m_cut;
        slow.P_blower = job->P_cut;
        slow.near = a.seen;
        slow.near_fan_on = a.seen_fan_on;
        slow.near_rated = a.seen_rated;
        slow.known = NULL;
        status = ct_humidity_settle(solver, &slow, load_share, &cut, fault);
        reach(&o, &a);
        if (status == CT_OK) reach(&o, &cut);
        if (status == CT_OK) status = mix(&o, load_share * job->c->house.Q_sensible, &cut, &a);
    }
    if (status == CT_OK)
        *out = a;
    else
        out->fan_on = status;
    return status;
}

void ct_humidity_band(ct_solver *solver, const ct_humidity_job *job, const double *share, int n,
                      double *rh)
{
    ct_humidity_job at = *job;
    ct_humidity_answer a;

    at.also_fan_on = false;
    for (int i = 0; i < n; i++) {
        const bool settles = ct_humidity_controlled(solver, &at, share[i], &a, NULL) == CT_OK;
        rh[i] = settles ? a.room.rh : (double)NAN;
        if (settles) at.near = a.seen;
    }
}
