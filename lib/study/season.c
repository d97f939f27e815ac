#include "study/season.h"

#include <math.h>

#include "fluid/air.h"

#define STEPS 2         /* an hour */
#define SLOPE_STEP 1e-5 /* kg/kg, for the slope of the moisture balance */
#define SHORT 1e-6      /* of the load: less is rounding */

static const double level[CT_SEASON_LEVELS] = CT_SEASON_RH;

typedef struct {
    const ct_season_house *house;
    const ct_season_stage *stage;
    const ct_weather *weather;
    ct_season_total *total;
    /* this hour */
    ct_room_house room;
    ct_season_now now, cut; /* the equipment, and at the airflow the controls cut to */
    ct_season_now high;     /* the high stage, where `now` is the low one */
    bool idle;              /* nothing runs but, with the fan left on, the blower */
    double hg, W_sat;
    double W; /* of the house at its start, hourly */
    double rh_sum;
    ct_fault *fault;
} run;

/* What a share of the hour used and gave, added up. */
typedef struct {
    double run, high, energy, Q, water, Q_short; /* h, h, J, J, kg, W h */
    double W;                                    /* mean */
    bool is_short, saturated;
} hour_sum;

/* What runs first. */
static const ct_season_stage *first_stage(const run *r)
{
    return r->stage->low ? r->stage->low : r->stage;
}

static void begin_hour(run *r, const ct_weather_hour *h)
{
    const ct_season_house *house = r->house;
    const double blower = house->room.fan_on ? first_stage(r)->P_blower : 0.0;

    r->room = house->room;
    r->room.Q_sensible = ct_season_load(house, h->T);
    r->room.W_outdoor = h->W;
    r->room.m_outdoor = house->V_outdoor / ct_air_v(h->T, h->W, house->room.p);
    r->idle = r->room.Q_sensible + blower <= 0.0;
    if (r->idle) return;
    ct_season_at(first_stage(r), h->T, &r->now);
    if (r->stage->low) {
        ct_season_at(r->stage, h->T, &r->high);
        r->now.equipment.high = &r->high.equipment;
    }
    if (r->stage->cut) ct_season_at(r->stage->cut, h->T, &r->cut);
}

/* Moisture that comes in, kg/s. */
static double coming_in(const run *r, double W)
{
    return r->room.Q_latent / r->hg + r->room.m_outdoor * (r->room.W_outdoor - W);
}

static ct_fan_run controlled(const run *r)
{
    return (ct_fan_run){&r->house->control, &r->room, &r->now.equipment, &r->cut.equipment};
}

static ct_status look(const run *r, double W, ct_fan_settled *out)
{
    const ct_fan_run with = controlled(r);

    *out = (ct_fan_settled){.slowed = 0.0};
    if (!r->idle)
        return r->stage->cut ? ct_fan_control_at(&with, W, out, r->fault)
                             : ct_room_at(&r->room, &r->now.equipment, W, &out->room, r->fault);
    out->room =
        (ct_room_out){.W = W, .fan_alone = r->room.fan_on ? 1.0 : 0.0, .residual = coming_in(r, W)};
    return CT_OK;
}

typedef struct {
    double P, Q_net; /* W */
} running;

static running running_at(const ct_season_now *now, double W)
{
    return (running){ct_season_read(now, now->P, W), ct_season_read(now, now->Q_net, W)};
}

static void mix(running *u, running other, double share)
{
    u->P += share * (other.P - u->P);
    u->Q_net += share * (other.Q_net - u->Q_net);
}

/* What the equipment uses and gives while it runs. */
static running while_running(const run *r, const ct_fan_settled *then)
{
    const double W = then->room.W, high = then->room.high;
    running u = running_at(&r->now, W);

    if (then->slowed > 0.0) mix(&u, running_at(&r->cut, W), then->slowed);
    if (high > 0.0) mix(&u, running_at(&r->high, W), high / then->room.run);
    return u;
}

/* A share of an hour, h, at what the house was like then. */
static void use(run *r, const ct_fan_settled *then, double hours, hour_sum *sum)
{
    const double seconds = 3600.0 * hours;
    const ct_room_out *at = &then->room;

    sum->energy += seconds * at->fan_alone * first_stage(r)->P_blower;
    if (r->idle || at->run <= 0.0) return;
    const running u = while_running(r, then);
    const double kept = 1.0 - r->house->CD * (1.0 - at->run);
    sum->run += hours * at->run;
    sum->high += hours * at->high;
    sum->energy += seconds * at->run * u.P / kept;
    sum->Q += seconds * at->run * u.Q_net;
    if (at->Q_short <= SHORT * r->room.Q_sensible) return;
    sum->is_short = true;
    sum->Q_short += hours * at->Q_short;
}

/* ---- Hour by hour ---------------------------------------------------------------- */

/* (exp(z) - 1)/z and (that - 1)/z, the shares of a step's straight change that its end and its mean
 * see. Near 0 by their series, where the quotients lose their digits. */
static double to_end(double z)
{
    return fabs(z) < 1e-4 ? 1.0 + z * (0.5 + z / 6.0) : expm1(z) / z;
}

static double to_mean(double z)
{
    return fabs(z) < 1e-4 ? 0.5 + z * (1.0 / 6.0 + z / 24.0) : (to_end(z) - 1.0) / z;
}

/* One step from r->W; its mean humidity in *W_mean. */
static ct_status step(run *r, double seconds, double *W_mean, bool *saturated)
{
    ct_fan_settled here, beside;
    const double dW = r->W + SLOPE_STEP <= r->W_sat ? SLOPE_STEP : -SLOPE_STEP;
    ct_status status = look(r, r->W, &here);

    if (status == CT_OK) status = look(r, r->W + dW, &beside);
    if (status != CT_OK) return status;
    const double M = r->house->storage, f = here.room.residual / M;
    const double z = seconds * fmin(0.0, (beside.room.residual - here.room.residual) / dW / M);
    const double W_end = r->W + seconds * f * to_end(z);
    *W_mean = fmax(0.0, fmin(r->W + seconds * f * to_mean(z), r->W_sat));
    *saturated = W_end > r->W_sat;
    r->W = fmax(0.0, fmin(W_end, r->W_sat));
    return CT_OK;
}

static ct_status remember(run *r, hour_sum *sum)
{
    const double hours = 1.0 / STEPS, seconds = 3600.0 * hours;

    for (int i = 0; i < STEPS; i++) {
        const double before = r->W;
        double W_mean;
        bool saturated;
        ct_fan_settled at;
        ct_status status = step(r, seconds, &W_mean, &saturated);
        if (status == CT_OK) status = look(r, W_mean, &at);
        if (status != CT_OK) return status;
        at.room.W = W_mean;
        use(r, &at, hours, sum);
        sum->W += W_mean / STEPS;
        sum->saturated = sum->saturated || saturated;
        /* What came in and was not stored went out; the coil's own figure at the mean differs by
         * the bend of its curve within a step. */
        const double out = seconds * coming_in(r, W_mean) - r->house->storage * (r->W - before);
        if (saturated || r->idle) continue;
        sum->water += out;
        r->total->unclosed += out - seconds * at.room.water;
    }
    return CT_OK;
}

/* ---- Bins ------------------------------------------------------------------------ */

static ct_status settle_room(const run *r, ct_fan_settled *out)
{
    const ct_fan_run with = controlled(r);

    if (r->stage->cut) return ct_fan_control_settle(&with, out, r->fault);
    out->slowed = 0.0;
    return ct_room_settle(&r->room, &r->now.equipment, &out->room, r->fault);
}

static ct_status settle(run *r, double hours, hour_sum *sum)
{
    const bool held = r->house->held || r->idle;
    ct_fan_settled at;
    ct_status status = held ? look(r, r->house->W_start, &at) : settle_room(r, &at);

    if (status != CT_OK) return status;
    if (held) at.room.W = r->house->W_start;
    use(r, &at, hours, sum);
    sum->W = at.room.W;
    sum->water = 3600.0 * hours * at.room.water;
    sum->saturated = at.room.outcome == CT_ROOM_SATURATED;
    return CT_OK;
}

/* ---- The season ------------------------------------------------------------------ */

static bool needs_cooling(const run *r, int i)
{
    return r->weather->hour[i].T > r->house->T_no_load;
}

/* Bins: those with a load. Hours: all of a day on which one has. */
static bool counts(const run *r, int i)
{
    const int day = i - i % 24, n = r->weather->n;

    if (!r->weather->hourly) return needs_cooling(r, i);
    for (int k = day; k < day + 24 && k < n; k++)
        if (needs_cooling(r, k)) return true;
    return false;
}

static void add_humidity(run *r, double rh, double hours)
{
    ct_season_total *t = r->total;

    t->counted += hours;
    r->rh_sum += hours * rh;
    t->rh_max = fmax(t->rh_max, rh);
    for (int k = 0; k < CT_SEASON_LEVELS; k++)
        if (rh > level[k]) t->above[k] += hours;
}

static double add(run *r, int i, const hour_sum *sum)
{
    ct_season_total *t = r->total;
    const double hours = r->weather->hour[i].hours;
    const ct_air air = {r->room.T, sum->W, r->room.p};
    const double rh = ct_air_rh(&air);

    t->hours += hours;
    if (needs_cooling(r, i)) t->cooling += hours;
    if (counts(r, i)) add_humidity(r, rh, hours);
    t->run += sum->run;
    t->run_high += sum->high;
    t->energy += sum->energy;
    t->Q += sum->Q;
    t->water += sum->water;
    if (sum->is_short) t->hours_short += hours;
    t->heat_short += 3600.0 * sum->Q_short;
    if (!r->idle && (r->now.held || (r->stage->low && r->high.held))) t->held += hours;
    if (sum->saturated && counts(r, i)) t->saturated += hours;
    return rh;
}

ct_status ct_season_run(const ct_season_house *house, const ct_season_stage *stage,
                        const ct_weather *weather, const ct_season_trace *trace,
                        ct_season_total *out, ct_fault *fault)
{
    ct_season_total total = {.hours = 0.0};
    run r = {.house = house,
             .stage = stage,
             .weather = weather,
             .total = &total,
             .hg = ct_air_h_vapor(house->room.T),
             .W_sat = ct_air_W_sat(house->room.T, house->room.p),
             .W = house->W_start,
             .fault = fault};

    for (int i = 0; i < weather->n; i++) {
        const ct_weather_hour *h = &weather->hour[i];
        hour_sum sum = {.W = 0.0};
        begin_hour(&r, h);
        const ct_status status =
            weather->hourly && !house->held ? remember(&r, &sum) : settle(&r, h->hours, &sum);
        if (status != CT_OK) return status;
        const double rh = add(&r, i, &sum);
        if (trace && trace->rh) trace->rh[i] = rh;
        if (trace && trace->run) trace->run[i] = sum.run / h->hours;
        if (trace && trace->counted) trace->counted[i] = counts(&r, i);
    }
    total.rh_mean = total.counted > 0.0 ? r.rh_sum / total.counted : (double)NAN;
    if (total.counted <= 0.0) total.rh_max = (double)NAN;
    *out = total;
    return CT_OK;
}
