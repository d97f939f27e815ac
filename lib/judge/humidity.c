#include "judge/humidity.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#include "case/no_load.h"

/* kg/kg. A settled humidity this near to a balance needs no other when it lies between two. Next to
 * a single one the slope is a guess, a neighbor's too, and beyond the last one sensible capacity is
 * held: both may lead to the answer but must not decide it, so a balance just past it is added. */
#define NEAR 2e-7
#define THERE 1e-9  /* the balance is at the answer, whatever the slope */
#define BESIDE 1e-6 /* how far past */
#define APART 1e-7  /* nearer balances say nothing of a slope; ct_room_equipment takes none */
#define ROUNDS 12
#define WATER_HEAT 2.45e6 /* J/kg, for a first guess */

/* Where the search from one balance to the next finds no way: from a dry coil to nearly fog, as RH at
 * room temperature. */
static const double spread_rh[] = {0.30, 0.42, 0.54, 0.66, 0.78, 0.92};

/* ---- One hour -------------------------------------------------------------------- */

double ct_humidity_outdoor(const ct_case *c, double load_share)
{
    if (c->site.T_humid.has && c->site.T_dp_humid.has && load_share < 1.0) return c->site.T_humid.v;
    const double T_none = ct_case_no_load(&c->house, c->site.indoor.T);

    return T_none + load_share * (c->site.T_outdoor - T_none);
}

/* The equipment against the humidity of the house, where it was tried. */
typedef struct {
    ct_solver *solver;
    const ct_humidity_job *job;
    double T_out;
    ct_room_house house;
    ct_room_equipment equipment;
    ct_balance at[CT_ROOM_POINTS]; /* of equipment.point */
    ct_near rated;
    ct_fault *fault;
} hour;

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
        ct_air air;
        const ct_status status = ct_humidity_outdoor_air(job->c, p, T_out, &air, fault);
        if (status != CT_OK) return status;
        house.W_outdoor = air.W;
        house.m_outdoor = h->infiltration.v / ct_air_v(T_out, air.W, p);
    }
    *out = house;
    return CT_OK;
}

static ct_conditions conditions(const hour *o, double W)
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

typedef struct {
    double Q_sens, water; /* W, kg/s that reach the house */
} delivered;

/* The air around the ducts is as much milder as the day is. */
static ct_duct_outside ducts_now(const hour *o)
{
    ct_duct_outside d = *o->job->outside;

    d.around.T += o->T_out - o->job->c->site.T_outdoor;
    d.around.W = fmin(d.around.W, ct_air_W_sat(d.around.T, d.around.p));
    return d;
}

/* Ducts outside lose some on the way; of the dried air the supply leaks lose their share. */
static delivered deliver(const hour *o, const ct_balance *b)
{
    double water = water_above_rounding(b);
    ct_duct_outside d;
    ct_duct_delivery share;

    if (!o->job->outside) return (delivered){b->Q_sens_net, water};
    d = ducts_now(o);
    const ct_air room = {o->job->indoor.T, b->in.W, o->job->indoor.p};
    const ct_duct_feed feed = {o->job->m_da, room, b->supply.T, b->Q_net, b->Q_sens_net};
    ct_duct_deliver(&d, &feed, &share);
    return (delivered){share.sensible_regained * b->Q_sens_net, (1.0 - d.leak_supply) * water};
}

/* What the return leaks draw in brings its water along, of which the supply leaks lose their share;
 * it may be more than the coil takes. */
static void leak(const hour *o, double *m, double *W)
{
    *m = *W = 0.0;
    if (!o->job->outside) return;
    const ct_duct_outside d = ducts_now(o);
    *m = (1.0 - d.leak_supply) * d.leak_return * o->job->m_da;
    *W = d.around.W;
}

static int nearest(const hour *o, double W)
{
    int best = 0;

    for (int i = 1; i < o->equipment.n; i++)
        if (fabs(o->equipment.point[i].W - W) < fabs(o->equipment.point[best].W - W)) best = i;
    return best;
}

static void drop(hour *o, int i)
{
    size_t after = (size_t)(o->equipment.n - i - 1);

    memmove(&o->equipment.point[i], &o->equipment.point[i + 1], after * sizeof *o->equipment.point);
    memmove(&o->at[i], &o->at[i + 1], after * sizeof *o->at);
    o->equipment.n--;
}

/* Keeps points in order of W; of a full list the one furthest from the new one goes. */
static void insert(hour *o, const ct_balance *b, double W)
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
    const delivered d = deliver(o, b);
    o->equipment.point[i] = (ct_room_point){W, d.Q_sens, d.water};
    o->at[i] = *b;
    o->equipment.n++;
}

static bool try_from(hour *o, double W, const ct_near *from)
{
    ct_conditions at = conditions(o, W);
    ct_start start;
    ct_balance b;
    bool warm = o->equipment.n > 0;

    if (warm && fabs(o->equipment.point[nearest(o, W)].W - W) < APART) return true;
    if (warm) start = ct_balance_start(&o->at[nearest(o, W)]);
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

static bool try_at(hour *o, double W)
{
    return try_from(o, W, NULL);
}

double ct_humidity_water_rated(ct_solver *solver, const ct_humidity_job *job, double T_out,
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
static void rate_water(hour *o)
{
    const ct_near *near = &o->job->near_rated;
    const ct_start start = near->start.Te > 0.0 ? near->start : ct_balance_start(&o->at[0]);
    const double water = ct_humidity_water_rated(o->solver, o->job, o->T_out, &start, &o->rated);

    o->equipment.water_rated = water > 0.0 ? water : o->equipment.point[o->equipment.n - 1].water;
}

static ct_status spread(hour *o)
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

/* The house at this load, and the equipment at `W`, where the search begins. */
static ct_status begin(hour *o, double Q_sensible, double W)
{
    const ct_balance *known = o->job->known;
    ct_status status = ct_humidity_house(o->job, o->T_out, Q_sensible, &o->house, o->fault);

    if (status != CT_OK) return status;
    o->equipment = (ct_room_equipment){.P_blower = o->job->P_blower};
    leak(o, &o->equipment.m_leak, &o->equipment.W_leak);
    if (known && known->Q_sens_net > 0.0) insert(o, known, o->job->indoor.W);
    if (!try_from(o, W, &o->job->near)) status = spread(o);
    if (status == CT_OK && (o->job->also_fan_on || o->house.fan_on || o->house.fan_delay > 0.0))
        rate_water(o);
    return status;
}

/* ---- Settling -------------------------------------------------------------------- */

/* kg/kg, the air at the coil's surface sets how its water changes with the air's. */
static double at_surface(const hour *o, int i)
{
    return fmin(ct_air_W_sat(o->at[i].T_surface, o->house.p), 0.95 * o->equipment.point[i].W);
}

/* From a single balance, and a neighbor's bend if there is one: most of what latent capacity gains
 * sensible loses. */
static void guess_second(const hour *o, ct_room_equipment *equipment)
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
static ct_bend bend_of(const hour *o, int i, int k)
{
    const ct_room_point *a = &o->equipment.point[i], *b = &o->equipment.point[k];
    double more = b->water - a->water;

    if (i == k || !(a->water > 0.0 && b->water > 0.0) || more == 0.0) return o->job->bend;
    return (ct_bend){more / a->water * (a->W - at_surface(o, i)) / (b->W - a->W),
                     (a->Q_net - b->Q_net) / more};
}

/* A balance at W or, where there is none, between there and the nearest there is. */
static bool come_near(hour *o, double W)
{
    for (int i = 0; i < 6; i++) {
        if (try_at(o, W)) return true;
        double there = o->equipment.point[nearest(o, W)].W;
        W += 0.5 * (there - W);
        if (fabs(there - W) < NEAR) return false;
    }
    return false;
}

/* Where to balance next for an answer at W, NAN where the answer is good already. */
static double next_for(const hour *o, double W, bool between)
{
    double from = o->equipment.point[nearest(o, W)].W, off = fabs(W - from);

    if (off <= (between ? NEAR : THERE)) return (double)NAN;
    return between || off >= BESIDE ? W : from + copysign(BESIDE, W - from);
}

/* Balance where the house settles with the equipment as known, until that is where it was tried. */
static ct_status settle_near(hour *o, ct_room_out *out)
{
    for (int i = 0; i < ROUNDS; i++) {
        ct_room_equipment equipment = o->equipment;
        if (equipment.n == 1) guess_second(o, &equipment);
        ct_status status = ct_room_settle(&o->house, &equipment, out, o->fault);
        if (status != CT_OK) return status;
        double W = next_for(o, out->W, o->equipment.n > 1 && !out->extrapolated);
        if (isnan(W)) {
            out->extrapolated = false;
            return CT_OK;
        }
        if (!come_near(o, W)) return CT_OK; /* extrapolated says so */
    }
    return CT_OK;
}

static ct_status settle(hour *o, ct_room_out *out)
{
    ct_room_out room;
    ct_status status = settle_near(o, &room);

    if (status != CT_OK) {
        status = spread(o);
        if (status == CT_OK) status = ct_room_settle(&o->house, &o->equipment, &room, o->fault);
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

/* The balance nearest but one, for the line through both; the same again when there is only one. */
static int second(const hour *o, double W, int first)
{
    int best = first;

    for (int i = 0; i < o->equipment.n; i++)
        if (i != first && (best == first || fabs(o->equipment.point[i].W - W) <
                                                fabs(o->equipment.point[best].W - W)))
            best = i;
    return best;
}

/* How far W is from the nearest balance on the way to the second, as a share. */
static double along(const hour *o, double W, int i, int k)
{
    double from = o->equipment.point[i].W;

    return k == i ? 0.0 : (W - from) / (o->equipment.point[k].W - from);
}

static ct_near seen_at(const hour *o, double W)
{
    int i = nearest(o, W), k = second(o, W, i);
    const ct_balance *a = &o->at[i], *b = &o->at[k];
    double t = along(o, W, i, k);

    ct_near seen = {W, ct_balance_start(a)};

    seen.start.Te += t * (b->Te - a->Te);
    seen.start.Tc += t * (b->Tc - a->Tc);
    return seen;
}

ct_status ct_humidity_settle(ct_solver *solver, const ct_humidity_job *job, double load_share,
                             ct_humidity_answer *out, ct_fault *fault)
{
    hour o = {solver, job, ct_humidity_outdoor(job->c, load_share), .fault = fault};
    double W = job->near.W > 0.0 ? job->near.W : likely(job, load_share);
    ct_status status = begin(&o, load_share * job->c->house.Q_sensible, W);

    if (status == CT_OK) status = settle(&o, &out->room);
    out->fan_on = status != CT_OK ? status : CT_NO_ROOT;
    out->slowed = 0.0;
    if (status == CT_OK) out->seen = seen_at(&o, out->room.W);
    out->seen_rated = o.rated;
    if (status != CT_OK || !job->also_fan_on) return status;
    o.house.fan_on = true;
    o.house.fan_delay = 0.0;
    o.fault = NULL;
    if (job->near_fan_on.W > 0.0) try_from(&o, job->near_fan_on.W, &job->near_fan_on);
    out->fan_on = settle(&o, &out->room_fan_on);
    if (out->fan_on == CT_OK) out->seen_fan_on = seen_at(&o, out->room_fan_on.W);
    return status;
}

static void record(const hour *o, const ct_room_out *room, ct_house_hour *out)
{
    int i = nearest(o, room->W), k = second(o, room->W, i);
    const ct_balance *a = &o->at[i], *b = &o->at[k];
    double t = along(o, room->W, i, k);

    *out = (ct_house_hour){.T_out = o->T_out,
                           .room = *room,
                           .Q_net = a->Q_net + t * (b->Q_net - a->Q_net),
                           .Q_sens_net = a->Q_sens_net + t * (b->Q_sens_net - a->Q_sens_net),
                           .Q_lat = a->Q_lat + t * (b->Q_lat - a->Q_lat),
                           .Q_house = room->Q_net,
                           .Te = a->Te + t * (b->Te - a->Te),
                           .T_surface = a->T_surface + t * (b->T_surface - a->T_surface),
                           .seen = seen_at(o, room->W),
                           .bend = bend_of(o, i, k)};
}

ct_status ct_humidity_day(ct_solver *solver, const ct_humidity_job *job, const ct_house_day *day,
                          ct_house_hour *out, double *Q_max, ct_fault *fault)
{
    hour o = {solver, job, day->T_out, .fault = fault};
    ct_room_out room, whole;
    ct_status status = begin(&o, day->load, job->near.W > 0.0 ? job->near.W : job->indoor.W);

    if (status == CT_OK) status = settle(&o, &room);
    if (status != CT_OK) return status;
    record(&o, &room, out);
    if (!Q_max) return CT_OK;
    o.house.Q_sensible = 1e6;
    if (!out->room.always_on && job->near_whole.W > 0.0)
        try_from(&o, job->near_whole.W, &job->near_whole);
    status = settle(&o, &whole);
    if (status != CT_OK) return status;
    *Q_max = whole.Q_net;
    out->seen_whole = seen_at(&o, whole.W);
    return CT_OK;
}

ct_status ct_humidity_held(ct_solver *solver, const ct_humidity_job *job, const ct_house_day *day,
                           ct_room_out *out, ct_fault *fault)
{
    hour o = {solver, job, day->T_out, .fault = fault};
    ct_status status = begin(&o, day->load, job->indoor.W);
    ct_room_equipment equipment = o.equipment;

    if (status != CT_OK) return status;
    if (equipment.n == 1) guess_second(&o, &equipment);
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
    const hour o = {solver, job, at->T_out, .fault = fault};
    const ct_conditions conditions_at = conditions(&o, at->W);
    ct_balance b;
    ct_status status = ct_balance_solve(solver, job->system, &conditions_at, at->start, &b, fault);

    if (status != CT_OK) return status;
    const delivered d = deliver(&o, &b);
    *out = (ct_house_unit){.point = {at->W, d.Q_sens, d.water}, .balance = b};
    leak(&o, &out->m_leak, &out->W_leak);
    return CT_OK;
}
