#include "part/room.h"

#include <math.h>
#include <stddef.h>

#include "base/monotone.h"
#include "base/search.h"
#include "fluid/air.h"

#define NO_WATER 1e-12 /* kg/s, a coil that takes less is dry */
#define RUN_STEPS 24   /* scan of the run share before it is bracketed */
#define SHORT_ROUNDS 3
#define STRIDE 0.02 /* of saturation, the search's first */

/* ---- the equipment between its points ---- */

typedef struct {
    int n;
    double x[CT_ROOM_POINTS + 1], y[CT_ROOM_POINTS + 1];
} curve;

static ct_monotone points_of(const curve *c)
{
    return (ct_monotone){c->x, c->y, c->n, 1};
}

static double curve_at(const curve *c, double x)
{
    const ct_monotone m = points_of(c);
    return ct_monotone_at(&m, x);
}

typedef struct {
    curve Q_net, water;
    bool dry; /* takes no water at any point */
} stage;

typedef struct {
    const ct_room_house *house;
    const ct_room_equipment *equipment;
    stage low, high;  /* the only one, and the high one where there are two */
    double W_sat, hg; /* saturation at room temperature; J/kg */
    double t_fan;     /* s the blower runs after a stop */
    /* where the last evaluation stood */
    double W, depression, Q, full, run, kept, share_high, Q_high;
    ct_status status;
    ct_fault *fault;
    int iterations;
} room;

/* Where the coil begins to take water, before its first wet point k. */
static double dry_limit(const ct_room_equipment *p, int k)
{
    const ct_room_point *a = &p->point[k];
    double least = k > 0 ? p->point[k - 1].W : 0.0, W = least;
    if (k + 1 < p->n && a[1].water > a->water)
        W = a->W - a->water * (a[1].W - a->W) / (a[1].water - a->water);
    return fmin(fmax(W, least), a->W - 1e-9);
}

static void set_curves(stage *r, const ct_room_equipment *p)
{
    int k = 0;
    while (k < p->n && p->point[k].water <= NO_WATER)
        k++;
    r->dry = k == p->n;
    r->Q_net.n = p->n;
    for (int i = 0; i < p->n; i++) {
        r->Q_net.x[i] = p->point[i].W;
        r->Q_net.y[i] = p->point[i].Q_net;
    }
    if (r->dry) return;
    r->water.n = p->n - k + 1;
    r->water.x[0] = dry_limit(p, k);
    r->water.y[0] = 0.0;
    for (int i = k; i < p->n; i++) {
        r->water.x[i - k + 1] = p->point[i].W;
        r->water.y[i - k + 1] = p->point[i].water;
    }
}

/* Outside the points sensible capacity is held; water runs out to the dry limit below, and along
 * its last slope above. The flag is `extrapolated`. */
static double Q_net_at(const stage *r, double W)
{
    const curve *c = &r->Q_net;
    return curve_at(c, fmin(fmax(W, c->x[0]), c->x[c->n - 1]));
}

static double water_at(const stage *r, double W)
{
    const curve *c = &r->water;
    if (r->dry || W <= c->x[0]) return 0.0;
    int last = c->n - 1;
    const ct_monotone m = points_of(c);
    if (W > c->x[last]) return c->y[last] + ct_monotone_chord(&m, last - 1) * (W - c->x[last]);
    return curve_at(c, W);
}

/* ---- run share at one humidity ---- */

static double kept_at(const room *r, double run)
{
    /* Without fan or delay the rated water may be 0: it is not needed then. */
    if (r->full <= NO_WATER || r->t_fan <= 0.0) return 1.0;
    const double load = r->full / r->equipment->water_rated;
    return ct_reevaporation_kept(&r->house->coil, run, load, r->depression, r->t_fan);
}

/* Share of the hour the blower runs without the compressor. */
static double fan_alone(const room *r, double run)
{
    double t_off = run > 0.0 ? 3600.0 / (4.0 * r->house->coil.N_max * run) : HUGE_VAL;
    if (r->t_fan >= t_off || isinf(r->t_fan)) return 1.0 - run;
    return (1.0 - run) * r->t_fan / t_off;
}

/* Sensible cooling less sensible load: water given back cools the air it goes into. */
static double sensible_surplus(double run, void *about)
{
    const room *r = about;
    double back = r->t_fan > 0.0 ? (1.0 - kept_at(r, run)) * r->full * r->hg : 0.0;
    return run * (r->Q + back) - r->house->Q_sensible - r->equipment->P_blower * fan_alone(r, run);
}

/* A share that cannot carry the load, close to the smallest that does. The longer the coil runs the
 * more of its drying it keeps: at a share that is too short more water goes back than at any longer
 * one, and even with that, and no heat from the blower, the next share is too short. */
static double share_too_short(const room *r)
{
    double share = 0.0, back = r->full * r->hg;
    for (int i = 0; i < SHORT_ROUNDS && share < 1.0; i++) {
        share = fmax(0.0, r->house->Q_sensible / (r->Q + back) * (1.0 - 1e-12));
        back = (1.0 - kept_at(r, share)) * r->full * r->hg;
    }
    return fmin(1.0, share);
}

/* The smallest share that carries the load: a house coming from rest settles there. With the blower
 * on the surplus need not rise all the way, so it is scanned before it is bracketed. */
static double run_share(room *r)
{
    if (sensible_surplus(0.0, r) >= 0.0) return 0.0;
    if (r->t_fan <= 0.0) return fmin(1.0, r->house->Q_sensible / r->Q);
    double low = share_too_short(r), before = sensible_surplus(low, r);
    for (int i = (int)(RUN_STEPS * low) + 1; i <= RUN_STEPS; i++) {
        const double run = (double)i / RUN_STEPS, now = sensible_surplus(run, r);
        int steps;
        if (now == 0.0) return run;
        if (now > 0.0)
            return ct_search_false_position(sensible_surplus, r,
                                            (ct_bracket){low, before, run, now}, 1e-14, &steps);
        low = run;
        before = now;
    }
    return 1.0;
}

/* ---- moisture ---- */

static double water_in(const room *r, double W)
{
    const ct_room_house *h = r->house;
    return h->Q_latent / r->hg + h->m_outdoor * (h->W_outdoor - W);
}

/* What return leaks bring in while the blower runs, kg/s. */
static double leaked_in(const room *r, double W)
{
    const ct_room_equipment *p = r->equipment, *h = p->high;
    const double alone = r->t_fan > 0.0 ? fan_alone(r, r->run) : 0.0;
    const double in = (r->run - r->share_high + alone) * p->m_leak * (p->W_leak - W);
    return h ? in + r->share_high * h->m_leak * (h->W_leak - W) : in;
}

/* The part of an hour, run through, that the low stage leaves to the high one: all of it where the
 * two give too little, or the high one no more than the low: the thermostat calls for it all the
 * same. */
static void share_stages(room *r, double W)
{
    r->share_high = r->Q_high = 0.0;
    if (!r->equipment->high || r->run < 1.0) return;
    r->Q_high = Q_net_at(&r->high, W);
    const double left = r->house->Q_sensible - r->Q, more = r->Q_high - r->Q;
    if (left > 0.0) r->share_high = more > left ? left / more : 1.0;
}

/* kg/s that the coil takes, leaks apart. */
static double taken(const room *r, double W)
{
    const double low = (r->run - r->share_high) * r->kept * r->full;
    return r->share_high > 0.0 ? low + r->share_high * water_at(&r->high, W) : low;
}

/* A failure is kept: the caller looks. */
static void stand_at(room *r, double W)
{
    ct_air air = {r->house->T, W, r->house->p};
    double T_wb = r->house->T;
    if (W == r->W) return;
    if (r->t_fan > 0.0) {
        ct_status status = ct_air_wet_bulb(&air, &T_wb, r->fault);
        if (status != CT_OK) r->status = status;
    }
    r->W = W;
    r->depression = fmax(0.0, r->house->T - T_wb);
    r->Q = Q_net_at(&r->low, W);
    r->full = water_at(&r->low, W);
    r->run = run_share(r);
    r->kept = kept_at(r, r->run);
    share_stages(r, W);
}

/* Water taken out over the hour, kg/s. */
static double water_out(room *r, double W)
{
    stand_at(r, W);
    return taken(r, W) - leaked_in(r, W);
}

static double drying(double W, void *about)
{
    room *r = about;
    return water_out(r, W) - water_in(r, W);
}

/* ---- checks ---- */

typedef struct {
    const char *name;
    double v, low, high;
} bound;

static ct_status within(const bound *b, size_t n, ct_fault *fault)
{
    for (size_t i = 0; i < n; i++) {
        if (!(b[i].v >= b[i].low && b[i].v <= b[i].high))
            return ct_fail(fault, CT_INPUT, b[i].v, b[i].low, b[i].high,
                           "house: %s is %.6g, allowed %g to %g (SI units)", b[i].name, b[i].v,
                           b[i].low, b[i].high);
    }
    return CT_OK;
}

static ct_status check_house(const ct_room_house *h, ct_fault *fault)
{
    const ct_reevaporation *c = &h->coil;
    const bound bounds[] = {
        {"room temperature", h->T, 280.0, 320.0},
        {"barometric pressure", h->p, 5e4, 1.2e5},
        {"sensible load", h->Q_sensible, -1e6, 1e6},
        {"latent load", h->Q_latent, 0.0, 1e6},
        {"outdoor air leaking in", h->m_outdoor, 0.0, 100.0},
        {"outdoor humidity ratio", h->W_outdoor, 0.0, 0.1},
        {"blower run-on", h->fan_delay, 0.0, 3600.0},
        {"coil's time to fill with water", c->t_wet, 60.0, 9999.0},
        {"coil's evaporation ratio", c->gamma, 0.0, 10.0},
        {"cycles per hour", c->N_max, 0.1, 20.0},
        {"coil's time constant", c->tau, 1.0, 600.0},
    };
    return within(bounds, sizeof bounds / sizeof bounds[0], fault);
}

static ct_status check_point(const ct_room_point *p, int i, ct_fault *fault)
{
    if (!(p[i].W >= 0.0 && p[i].W <= 0.1) || (i > 0 && !(p[i].W - p[i - 1].W >= 1e-7)))
        return ct_fail(
            fault, CT_INPUT, p[i].W, 0.0, 0.1,
            "equipment: humidity ratio of point %d is %.6g; 0 to 0.1 and rising by 1e-7 or "
            "more from point to point",
            i + 1, p[i].W);
    if (!(p[i].Q_net > 0.0 && isfinite(p[i].Q_net)))
        return ct_fail(
            fault, CT_INPUT, p[i].Q_net, 0.0, NAN,
            "equipment: net sensible capacity of point %d is %.6g W; it must be positive", i + 1,
            p[i].Q_net);
    double least = i > 0 ? p[i - 1].water * (1.0 - 1e-6) : 0.0;
    if (!(p[i].water >= least && p[i].water <= 1.0))
        return ct_fail(
            fault, CT_INPUT, p[i].water, least, 1.0,
            "equipment: water of point %d is %.6g kg/s; damper air cannot give less, %.6g to 1",
            i + 1, p[i].water, least);
    return CT_OK;
}

static ct_status check_plant(const ct_room_equipment *p, bool re_evaporates, ct_fault *fault)
{
    if (p->n < 2 || p->n > CT_ROOM_POINTS)
        return ct_fail(fault, CT_INPUT, p->n, 2.0, CT_ROOM_POINTS,
                       "equipment: %d points, allowed 2 to %d", p->n, CT_ROOM_POINTS);
    for (int i = 0; i < p->n; i++) {
        if (check_point(p->point, i, fault) != CT_OK) return CT_INPUT;
    }
    if (!(p->P_blower >= 0.0 && p->P_blower <= 1e5))
        return ct_fail(fault, CT_INPUT, p->P_blower, 0.0, 1e5,
                       "equipment: blower heat is %.6g W, allowed 0 to 100000 W", p->P_blower);
    if (!(p->m_leak >= 0.0 && p->m_leak <= 100.0 && p->W_leak >= 0.0 && p->W_leak <= 0.2))
        return ct_fail(
            fault, CT_INPUT, p->m_leak, 0.0, 100.0,
            "equipment: return leaks draw in %.6g kg/s of air at %.6g kg/kg; allowed 0 to 100 "
            "and 0 to 0.2",
            p->m_leak, p->W_leak);
    if (re_evaporates && !(p->water_rated > 0.0 && p->water_rated <= 1.0))
        return ct_fail(
            fault, CT_INPUT, p->water_rated, 0.0, 1.0,
            "equipment: water at the rating point is %.6g kg/s; it must be positive to tell "
            "what a running blower gives back",
            p->water_rated);
    return CT_OK;
}

static ct_status start(room *r, const ct_room_house *h, const ct_room_equipment *p, ct_fault *fault)
{
    *r = (room){.house = h, .equipment = p, .fault = fault, .status = CT_OK};
    r->t_fan = h->fan_on ? HUGE_VAL : h->fan_delay;
    ct_status status = check_house(h, fault);
    if (status == CT_OK) status = check_plant(p, r->t_fan > 0.0, fault);
    if (status == CT_OK && p->high) status = check_plant(p->high, false, fault);
    if (status != CT_OK) return status;
    set_curves(&r->low, p);
    if (p->high) set_curves(&r->high, p->high);
    r->W = NAN;
    r->W_sat = ct_air_W_sat(h->T, h->p);
    r->hg = ct_air_h_vapor(h->T);
    return CT_OK;
}

/* ---- answers ---- */

static bool outside(const ct_room_equipment *p, double W)
{
    return W < p->point[0].W || W > p->point[p->n - 1].W;
}

/* Net sensible while it runs, by the shares of the two stages. */
static double cooling(const room *r)
{
    return r->share_high > 0.0 ? r->Q + r->share_high * (r->Q_high - r->Q) : r->Q;
}

static ct_room_out describe(room *r, double W, ct_room_outcome outcome)
{
    double out = water_out(r, W);
    ct_air air = {r->house->T, W, r->house->p};
    ct_room_out o = {.outcome = outcome, .W = W, .rh = ct_air_rh(&air)};
    o.Q_net = cooling(r);
    o.run = r->run;
    o.high = r->share_high;
    o.fan_alone = r->t_fan > 0.0 ? fan_alone(r, r->run) : 0.0;
    o.multiplier = r->kept;
    o.water = out;
    o.water_per_day = out * 86400.0;
    o.always_on = (r->equipment->high ? r->share_high : r->run) >= 1.0;
    o.Q_short = o.always_on ? fmax(0.0, r->house->Q_sensible - o.Q_net) : 0.0;
    o.extrapolated = (r->share_high < 1.0 && outside(r->equipment, W)) ||
                     (r->share_high > 0.0 && outside(r->equipment->high, W));
    o.residual = water_in(r, W) - out;
    o.iterations = r->iterations;
    return o;
}

static bool stays_dry(double W, void *about)
{
    return water_out(about, W) <= NO_WATER;
}

/* Nothing comes in. Drier than the edge nothing is taken out either, so it stops there. */
static ct_room_out dry_out(room *r)
{
    enum { HALVINGS = 40 }; /* to 1e-12 of saturation */
    if (stays_dry(r->W_sat, r)) return describe(r, r->W_sat, CT_ROOM_UNMOVED);
    r->iterations = HALVINGS;
    return describe(r, ct_search_halve(stays_dry, r, 0.0, r->W_sat, HALVINGS), CT_ROOM_DRIES);
}

/* kg/s, the larger of what may come in and of what may go out. */
static double water_scale(const room *r)
{
    const ct_room_house *h = r->house;
    const ct_room_equipment *p = r->equipment;
    const double leak =
        fmax(p->m_leak * p->W_leak, p->high ? p->high->m_leak * p->high->W_leak : 0.0);
    return h->Q_latent / r->hg + h->m_outdoor * fmax(h->W_outdoor, r->W_sat) +
           fmax(leak, p->m_leak * r->W_sat);
}

/* About, of the drying over W near there, kg/s: of what the coil takes in its share of the hour,
 * and of the air that comes in. */
static double slope_near(const room *r, double W)
{
    const ct_room_equipment *p = r->equipment;
    int i = 0;
    while (i < p->n - 2 && p->point[i + 1].W < W)
        i++;
    const ct_room_point *a = &p->point[i], *b = a + 1;
    const double run = fmin(1.0, fmax(0.0, r->house->Q_sensible / a->Q_net));
    return run * ((b->water - a->water) / (b->W - a->W) + p->m_leak) + r->house->m_outdoor;
}

static ct_root_job search_from(const room *r)
{
    const ct_room_equipment *p = r->equipment;
    const double W = p->W_near > 0.0 ? p->W_near : p->point[p->n / 2].W;
    return (ct_root_job){.start = fmin(W, r->W_sat),
                         .step = STRIDE * r->W_sat,
                         .slope = slope_near(r, W),
                         .high = r->W_sat,
                         .rising = true,
                         .tol = 1e-13 * water_scale(r)};
}

static ct_status balance(room *r, ct_room_out *o)
{
    const ct_root_job job = search_from(r);
    ct_root_result found;
    const ct_root_end end = ct_search_root(drying, r, &job, &found);
    double W = found.x;
    r->iterations = found.evaluations;
    if (end == CT_ROOT_NO_BRACKET && found.f < 0.0) {
        *o = describe(r, r->W_sat, CT_ROOM_SATURATED);
        return CT_OK;
    }
    if (end == CT_ROOT_NO_BRACKET) W = 0.0;
    *o = describe(r, W, CT_ROOM_SETTLED);
    if (taken(r, W) <= NO_WATER) o->outcome = CT_ROOM_OUTDOOR;
    if (fabs(o->residual) <= 1e-9 * (fabs(o->water) + water_scale(r))) return CT_OK;
    return ct_fail(r->fault, CT_NO_CONV, o->residual, NAN, NAN,
                   "house: at %.1f%% humidity the drying jumps by %.3g kg/s: with the blower "
                   "running on, water given back carries part of the sensible load and two run "
                   "shares are possible; stop the blower with the compressor",
                   100.0 * o->rh, fabs(o->residual));
}

ct_status ct_room_settle(const ct_room_house *h, const ct_room_equipment *p, ct_room_out *out,
                         ct_fault *fault)
{
    room r;
    ct_room_out o;
    ct_status status = start(&r, h, p, fault);
    if (status != CT_OK) return status;
    if (h->Q_latent == 0.0 && h->m_outdoor == 0.0 && p->m_leak == 0.0) {
        o = dry_out(&r);
    } else {
        status = balance(&r, &o);
    }
    if (r.status != CT_OK) return r.status;
    if (status == CT_OK) *out = o;
    return status;
}

ct_status ct_room_at(const ct_room_house *h, const ct_room_equipment *p, double W, ct_room_out *out,
                     ct_fault *fault)
{
    room r;
    ct_status status = start(&r, h, p, fault);
    if (status != CT_OK) return status;
    if (!(W >= 0.0 && W <= r.W_sat))
        return ct_fail(fault, CT_INPUT, W, 0.0, r.W_sat,
                       "house: humidity ratio %.6g; allowed 0 to saturation, %.6g", W, r.W_sat);
    ct_room_out o = describe(&r, W, CT_ROOM_SETTLED);
    if (r.status == CT_OK) *out = o;
    return r.status;
}
