#include "judge/stage.h"

#include <math.h>
#include <stddef.h>

/* kg/kg. A settled humidity this near to a balance needs no other when it lies between two. Next to
 * a single one the slope is a guess, a neighbor's too: it may lead to the answer but must not
 * decide it, so the next balance is made just past it. */
#define NEAR 2e-7
#define THERE 1e-9 /* the balance is at the answer, whatever the slope */
#define PAST 1e-7  /* how far past */

/* Where the search from one balance to the next finds no way: from a dry coil to nearly fog, as RH
 * at room temperature. */
static const double spread_rh[] = {0.30, 0.42, 0.54, 0.66, 0.78, 0.92};

ct_conditions ct_stage_conditions(const ct_stage_hour *o, double W)
{
    ct_conditions at = {o->job->indoor, o->T_out, o->job->m_da, o->job->P_blower};

    at.in.W = W;
    return at;
}

/* Water is a difference of two humidity ratios: on a dry coil rounding leaves a trace of either
 * sign. */
static double water_above_rounding(const ct_balance *b)
{
    return b->dry_share >= 1.0 && b->water < 1e-12 ? 0.0 : fmax(0.0, b->water);
}

/* The air around the ducts is as much milder as the day is. */
static ct_duct_outside ducts_now(const ct_stage_hour *o)
{
    return ct_duct_outside_warmer(o->job->outside, o->T_out - o->job->c->site.T_outdoor);
}

/* Ducts outside lose some on the way; of the dried air the supply leaks lose their share. */
ct_delivered ct_stage_deliver(const ct_stage_hour *o, const ct_balance *b)
{
    double water = water_above_rounding(b);
    ct_duct_outside d;
    ct_duct_delivery share;

    if (!o->job->outside) return (ct_delivered){b->Q_sens_net, water};
    d = ducts_now(o);
    const ct_air room = {o->job->indoor.T, b->in.W, o->job->indoor.p};
    const ct_duct_feed feed = {o->job->m_da, room, b->supply.T, b->Q_net, b->Q_sens_net};
    ct_duct_deliver(&d, &feed, &share);
    return (ct_delivered){share.sensible_regained * b->Q_sens_net, (1.0 - d.leak_supply) * water};
}

/* What the return leaks draw in brings its water along, of which the supply leaks lose their share;
 * it may be more than the coil takes. */
void ct_stage_leak(const ct_stage_hour *o, double *m, double *W)
{
    *m = *W = 0.0;
    if (!o->job->outside) return;
    const ct_duct_outside d = ducts_now(o);
    *m = (1.0 - d.leak_supply) * d.leak_return * o->job->m_da;
    *W = d.around.W;
}

static void keep(ct_stage_hour *o, const ct_balance *b, double W)
{
    const ct_delivered d = ct_stage_deliver(o, b);
    const ct_room_point point = {W, d.Q_sens, d.water};

    ct_tried_insert(&o->tried, &point, b);
}

bool ct_stage_try(ct_stage_hour *o, double W, const ct_near *from)
{
    ct_conditions at = ct_stage_conditions(o, W);
    ct_start start;
    ct_balance b;
    bool warm = o->tried.equipment.n > 0;

    if (warm &&
        fabs(o->tried.equipment.point[ct_tried_nearest(&o->tried, W)].W - W) < CT_TRIED_APART)
        return true;
    if (warm) start = ct_tried_start(&o->tried, W);
    if (from && from->start.Te > 0.0) {
        start = ct_tried_start_from(from, W);
        warm = true;
    }
    if (ct_balance_solve(o->solver, o->job->system, &at, warm ? &start : NULL, &b, o->fault) !=
            CT_OK ||
        !(b.Q_sens_net > 0.0))
        return false;
    keep(o, &b, W);
    return true;
}

static bool try_at(ct_stage_hour *o, double W)
{
    return ct_stage_try(o, W, NULL);
}

double ct_stage_water_rated(ct_solver *solver, const ct_humidity_job *job, double T_out,
                            const ct_start *start, ct_near *seen)
{
    ct_conditions at = {job->indoor, T_out, job->m_da, job->P_blower};
    ct_balance b;

    if (ct_air_from_wet_bulb(CT_RATING_T_IN, CT_RATING_T_WB, at.in.p, &at.in, NULL) != CT_OK ||
        ct_balance_solve(solver, job->system, &at, start, &b, NULL) != CT_OK || !(b.water > 0.0))
        return 0.0;
    if (seen) *seen = (ct_near){.W = at.in.W, .start = ct_balance_start(&b)};
    return b.water;
}

/* The outdoors is the day's own. */
static void rate_water(ct_stage_hour *o)
{
    const ct_near *near = &o->job->near_rated;
    const ct_start start = near->start.Te > 0.0 ? near->start : ct_balance_start(&o->tried.at[0]);
    const double water = ct_stage_water_rated(o->solver, o->job, o->T_out, &start, &o->rated);

    o->tried.equipment.water_rated =
        water > 0.0 ? water : o->tried.equipment.point[o->tried.equipment.n - 1].water;
}

ct_status ct_stage_spread(ct_stage_hour *o)
{
    double W_sat = ct_air_W_sat(o->job->indoor.T, o->job->indoor.p);

    o->tried.equipment.n = 0;
    for (size_t i = 0; i < sizeof spread_rh / sizeof *spread_rh; i++)
        try_at(o, spread_rh[i] * W_sat);
    if (o->tried.equipment.n >= 2) return CT_OK;
    return ct_fault_say(o->fault, CT_NO_ROOT,
                        "the system balances at too few humidities of the house to say which "
                        "it settles at");
}

static ct_bend bend_from(const ct_stage_hour *o, const ct_near *near)
{
    return near->bend.water > 0.0 ? near->bend : o->job->bend;
}

/* The equipment at `W`, where the search begins. */
ct_status ct_stage_begin(ct_stage_hour *o, double W)
{
    ct_status status = CT_OK;

    o->tried = (ct_tried){.p = o->job->indoor.p, .equipment.P_blower = o->job->P_blower};
    o->tried.bend = bend_from(o, &o->job->near);
    ct_stage_leak(o, &o->tried.equipment.m_leak, &o->tried.equipment.W_leak);
    if (o->job->known && o->job->known->Q_sens_net > 0.0) keep(o, o->job->known, o->job->indoor.W);
    if (!ct_stage_try(o, W, &o->job->near)) status = ct_stage_spread(o);
    /* Of two stages only the low one's rated water counts (part/room.h). */
    if (status == CT_OK && !o->job->low.system &&
        (o->job->also_fan_on || o->house.fan_on || o->house.fan_delay > 0.0))
        rate_water(o);
    return status;
}

/* ---- Getting to know it ---------------------------------------------------------- */

/* A balance at W or, where there is none, between there and the nearest there is. */
bool ct_stage_come_near(ct_stage_hour *o, double W)
{
    for (int i = 0; i < 6; i++) {
        if (try_at(o, W)) return true;
        double there = o->tried.equipment.point[ct_tried_nearest(&o->tried, W)].W;
        W += 0.5 * (there - W);
        if (fabs(there - W) < NEAR) return false;
    }
    return false;
}

/* Where to balance next for an answer at W, NAN where the answer is good already. */
static double next_for(const ct_stage_hour *o, double W, bool decided)
{
    double from = o->tried.equipment.point[ct_tried_nearest(&o->tried, W)].W, off = fabs(W - from);

    if (off <= (decided ? NEAR : THERE)) return (double)NAN;
    return decided ? W : from + copysign(fmax(off + PAST, 2.0 * CT_TRIED_APART), W - from);
}

/* As far as it is known, with a guess where one balance is all there is. */
ct_room_equipment ct_stage_known(const ct_stage_hour *o)
{
    ct_room_equipment equipment = o->tried.equipment;

    if (equipment.n == 1) equipment.point[equipment.n++] = ct_tried_guess(&o->tried, 0);
    return equipment;
}

ct_stage_progress ct_stage_learn(ct_stage_hour *stage, const ct_tried_nearby *by, double W)
{
    const bool decided = W >= by->low && W <= by->high;

    if (decided && ct_tried_pair(&stage->tried, W) != by->pair) return CT_STAGE_LEARNED;
    const double next = next_for(stage, W, decided);

    if (isnan(next)) return CT_STAGE_GOOD;
    return ct_stage_come_near(stage, next) ? CT_STAGE_LEARNED : CT_STAGE_STUCK;
}

bool ct_stage_outside(const ct_stage_hour *o, double W)
{
    const ct_room_equipment *e = &o->tried.equipment;

    return W < e->point[0].W || W > e->point[e->n - 1].W;
}

void ct_stage_come_from(ct_stage_hour *o, const ct_near *near, double *W)
{
    if (!(near->W > 0.0)) return;
    o->tried.bend = bend_from(o, near);
    if (ct_stage_try(o, near->W, near)) *W = near->W;
}
