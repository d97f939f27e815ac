#include "judge/stage.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

/* kg/kg. A settled humidity this near to a balance needs no other when it lies between two. Next to
 * a single one the slope is a guess, a neighbor's too, and beyond the last one sensible capacity is
 * held: both may lead to the answer but must not decide it, so a balance just past it is added. */
#define NEAR 2e-7
#define THERE 1e-9        /* the balance is at the answer, whatever the slope */
#define BESIDE 1e-6       /* how far past */
#define APART 1e-7        /* nearer balances say nothing of a slope; ct_room_equipment takes none */
#define WATER_HEAT 2.45e6 /* J/kg, for a first guess */

/* Where the search from one balance to the next finds no way: from a dry coil to nearly fog, as RH at
 * room temperature. */
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
    ct_duct_outside d = *o->job->outside;

    d.around.T += o->T_out - o->job->c->site.T_outdoor;
    d.around.W = fmin(d.around.W, ct_air_W_sat(d.around.T, d.around.p));
    return d;
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

int ct_stage_nearest(const ct_stage_hour *o, double W)
{
    int best = 0;

    for (int i = 1; i < o->equipment.n; i++)
        if (fabs(o->equipment.point[i].W - W) < fabs(o->equipment.point[best].W - W)) best = i;
    return best;
}

static void drop(ct_stage_hour *o, int i)
{
    size_t after = (size_t)(o->equipment.n - i - 1);

    memmove(&o->equipment.point[i], &o->equipment.point[i + 1], after * sizeof *o->equipment.point);
    memmove(&o->at[i], &o->at[i + 1], after * sizeof *o->at);
    o->equipment.n--;
}

/* Keeps points in order of W; of a full list the one furthest from the new one goes. */
static void insert(ct_stage_hour *o, const ct_balance *b, double W)
{
    int i = 0;

    if (o->equipment.n == CT_ROOM_POINTS)
        drop(o, W - o->equipment.point[0].W > o->equipment.point[o->equipment.n - 1].W - W
                    ? 0
                    : o->equipment.n - 1);
    while (i < o->equipment.n && o->equipment.point[i].W < W)
        i++;
    size_t after = (size_t)(o->equipment.n - i);
    memmove(&o->equipment.point[i + 1], &o->equipment.point[i], after * sizeof *o->equipment.point);
    memmove(&o->at[i + 1], &o->at[i], after * sizeof *o->at);
    const ct_delivered d = ct_stage_deliver(o, b);
    o->equipment.point[i] = (ct_room_point){W, d.Q_sens, d.water};
    o->at[i] = *b;
    o->equipment.n++;
}

bool ct_stage_try(ct_stage_hour *o, double W, const ct_near *from)
{
    ct_conditions at = ct_stage_conditions(o, W);
    ct_start start;
    ct_balance b;
    bool warm = o->equipment.n > 0;

    if (warm && fabs(o->equipment.point[ct_stage_nearest(o, W)].W - W) < APART) return true;
    if (warm) start = ct_balance_start(&o->at[ct_stage_nearest(o, W)]);
    if (from && from->start.Te > 0.0) {
        start = from->start;
        warm = true;
    }
    if (ct_balance_solve(o->solver, o->job->system, &at, warm ? &start : NULL, &b, o->fault) !=
            CT_OK ||
        !(b.Q_sens_net > 0.0))
        return false;
    insert(o, &b, W);
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
    if (seen) *seen = (ct_near){at.in.W, ct_balance_start(&b)};
    return b.water;
}

/* The outdoors is the day's own. */
static void rate_water(ct_stage_hour *o)
{
    const ct_near *near = &o->job->near_rated;
    const ct_start start = near->start.Te > 0.0 ? near->start : ct_balance_start(&o->at[0]);
    const double water = ct_stage_water_rated(o->solver, o->job, o->T_out, &start, &o->rated);

    o->equipment.water_rated = water > 0.0 ? water : o->equipment.point[o->equipment.n - 1].water;
}

ct_status ct_stage_spread(ct_stage_hour *o)
{
    double W_sat = ct_air_W_sat(o->job->indoor.T, o->job->indoor.p);

    o->equipment.n = 0;
    for (size_t i = 0; i < sizeof spread_rh / sizeof *spread_rh; i++)
        try_at(o, spread_rh[i] * W_sat);
    if (o->equipment.n >= 2) return CT_OK;
    return ct_fault_say(o->fault, CT_NO_ROOT,
                        "the system balances at too few humidities of the house to say which "
                        "it settles at");
}

/* The equipment at `W`, where the search begins. */
ct_status ct_stage_begin(ct_stage_hour *o, double W)
{
    ct_status status = CT_OK;

    o->equipment = (ct_room_equipment){.P_blower = o->job->P_blower};
    ct_stage_leak(o, &o->equipment.m_leak, &o->equipment.W_leak);
    if (o->job->known && o->job->known->Q_sens_net > 0.0)
        insert(o, o->job->known, o->job->indoor.W);
    if (!ct_stage_try(o, W, &o->job->near)) status = ct_stage_spread(o);
    if (status == CT_OK && (o->job->also_fan_on || o->house.fan_on || o->house.fan_delay > 0.0))
        rate_water(o);
    return status;
}

/* ---- Getting to know it ---------------------------------------------------------- */

/* kg/kg, the air at the coil's surface sets how its water changes with the air's. */
static double at_surface(const ct_stage_hour *o, int i)
{
    return fmin(ct_air_W_sat(o->at[i].T_surface, o->house.p), 0.95 * o->equipment.point[i].W);
}

/* From a single balance, and a neighbor's bend if there is one: most of what latent capacity gains
 * sensible loses. */
static void guess_second(const ct_stage_hour *o, ct_room_equipment *equipment)
{
    const ct_bend *k = &o->job->bend;
    const ct_room_point *a = &equipment->point[0];
    ct_room_point b = {1.05 * a->W, a->Q_net, a->water};

    if (a->water > 0.0) {
        double rise = (k->water > 0.0 ? k->water : 1.0) * (b.W - a->W) / (a->W - at_surface(o, 0));
        double lost = k->water > 0.0 ? k->sensible : 0.6 * WATER_HEAT;
        b.water *= 1.0 + rise;
        b.Q_net = fmax(0.5 * a->Q_net, a->Q_net - lost * (b.water - a->water));
    }
    equipment->point[equipment->n++] = b;
}

/* The bend between two balances. */
ct_bend ct_stage_bend(const ct_stage_hour *o, int i, int k)
{
    const ct_room_point *a = &o->equipment.point[i], *b = &o->equipment.point[k];
    double more = b->water - a->water;

    if (i == k || !(a->water > 0.0 && b->water > 0.0) || more == 0.0) return o->job->bend;
    return (ct_bend){more / a->water * (a->W - at_surface(o, i)) / (b->W - a->W),
                     (a->Q_net - b->Q_net) / more};
}

/* A balance at W or, where there is none, between there and the nearest there is. */
bool ct_stage_come_near(ct_stage_hour *o, double W)
{
    for (int i = 0; i < 6; i++) {
        if (try_at(o, W)) return true;
        double there = o->equipment.point[ct_stage_nearest(o, W)].W;
        W += 0.5 * (there - W);
        if (fabs(there - W) < NEAR) return false;
    }
    return false;
}

/* Where to balance next for an answer at W, NAN where the answer is good already. */
static double next_for(const ct_stage_hour *o, double W, bool between)
{
    double from = o->equipment.point[ct_stage_nearest(o, W)].W, off = fabs(W - from);

    if (off <= (between ? NEAR : THERE)) return (double)NAN;
    return between || off >= BESIDE ? W : from + copysign(BESIDE, W - from);
}

/* As far as it is known, with a guess where one balance is all there is. */
ct_room_equipment ct_stage_known(const ct_stage_hour *o)
{
    ct_room_equipment equipment = o->equipment;

    if (equipment.n == 1) guess_second(o, &equipment);
    return equipment;
}

ct_stage_progress ct_stage_learn(ct_stage_hour *stage, double W)
{
    const ct_room_equipment *e = &stage->equipment;
    const bool between = e->n > 1 && W >= e->point[0].W && W <= e->point[e->n - 1].W;
    const double next = next_for(stage, W, between);

    if (isnan(next)) return CT_STAGE_GOOD;
    return ct_stage_come_near(stage, next) ? CT_STAGE_LEARNED : CT_STAGE_STUCK;
}

/* The balance nearest but one, for the line through both; the same again when there is only one. */
int ct_stage_second(const ct_stage_hour *o, double W, int first)
{
    int best = first;

    for (int i = 0; i < o->equipment.n; i++)
        if (i != first && (best == first || fabs(o->equipment.point[i].W - W) <
                                                fabs(o->equipment.point[best].W - W)))
            best = i;
    return best;
}

/* How far W is from the nearest balance on the way to the second, as a share. */
double ct_stage_along(const ct_stage_hour *o, double W, int i, int k)
{
    double from = o->equipment.point[i].W;

    return k == i ? 0.0 : (W - from) / (o->equipment.point[k].W - from);
}

ct_near ct_stage_seen(const ct_stage_hour *o, double W)
{
    int i = ct_stage_nearest(o, W), k = ct_stage_second(o, W, i);
    const ct_balance *a = &o->at[i], *b = &o->at[k];
    double t = ct_stage_along(o, W, i, k);

    ct_near seen = {W, ct_balance_start(a)};

    seen.start.Te += t * (b->Te - a->Te);
    seen.start.Tc += t * (b->Tc - a->Tc);
    return seen;
}
