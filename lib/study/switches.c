#include "study/switches.h"

#include <math.h>

#include "case/no_load.h"
#include "study/season_stage.h"

#define HALVINGS 40 /* of the share slowed, to 1e-12 */
#define ROUNDS 12   /* of a slow start and the run share it depends on */

typedef struct {
    ct_solver *solver;
    const ct_sweep_job *job;
    const ct_point *point;
    ct_switches *out;
    ct_room_house house;
    ct_season_now full, slow; /* the equipment at the hour, at both airflows */
    bool has_slow;
} hour;

/* ---- The hour -------------------------------------------------------------------- */

static ct_status set_house(hour *o, ct_fault *fault)
{
    const ct_case *c = o->job->c;
    const ct_house *h = &c->house;
    const double p = o->job->indoor.p;

    o->house = (ct_room_house){.T = o->job->indoor.T,
                               .p = p,
                               .Q_sensible = o->out->load,
                               .Q_latent = h->Q_latent,
                               .coil = CT_REEVAPORATION_USUAL};
    if (!h->infiltration.has || h->infiltration.v <= 0.0) return CT_OK;
    ct_air out;
    const ct_status status = ct_humidity_outdoor_air(c, p, o->out->T_out, &out, fault);
    if (status != CT_OK) return status;
    o->house.W_outdoor = out.W;
    o->house.m_outdoor = h->infiltration.v / ct_air_v(out.T, out.W, p);
    return CT_OK;
}

static ct_status equipment(const hour *o, const ct_sweep_job *job, const ct_point *point,
                           ct_season_now *now, ct_fault *fault)
{
    const ct_season_range range = {o->out->T_out, o->out->T_out};
    ct_season_stage stage;
    const ct_status status = ct_season_tabulate(o->solver, job, point, &range, &stage, fault);

    if (status == CT_OK) ct_season_at(&stage, o->out->T_out, now);
    return status;
}

static int forbidding(const ct_point *p)
{
    static const ct_limit limits[] = {CT_LIMIT_BALANCE, CT_LIMIT_FLOOR, CT_LIMIT_FROST,
                                      CT_LIMIT_SWEAT,   CT_LIMIT_HEAD,  CT_LIMIT_METER};

    for (size_t i = 0; i < sizeof limits / sizeof *limits; i++)
        if (p->limit[limits[i]].verdict == CT_FAILS) return (int)limits[i];
    return -1;
}

static void balance_slow(hour *o)
{
    const double left = 1.0 - o->job->c->control.cut;
    const ct_balance *b = &o->point->balance;
    const ct_start start = ct_balance_start(b);
    double P;

    if (ct_sweep_watts(o->job, o->point->V * left, &P, NULL) != CT_OK)
        P = o->point->P_blower * left;
    ct_sweep_point(o->solver, o->job, o->point->m_da * left, P, &start, &o->out->slow);
    o->out->slow_fails = forbidding(&o->out->slow);
    o->has_slow = equipment(o, o->job, &o->out->slow, &o->slow, NULL) == CT_OK;
}

/* ---- Settling -------------------------------------------------------------------- */

static double between(double a, double b, double share)
{
    return a + share * (b - a);
}

static ct_room_equipment mixed(const ct_room_equipment *full, const ct_room_equipment *slow,
                               double s)
{
    ct_room_equipment equipment = *full;
    double least = 0.0;

    for (int i = 0; i < equipment.n; i++) {
        least = fmax(least, between(full->point[i].water, slow->point[i].water, s));
        equipment.point[i].Q_net = between(full->point[i].Q_net, slow->point[i].Q_net, s);
        equipment.point[i].water = least;
    }
    equipment.m_leak = between(full->m_leak, slow->m_leak, s);
    equipment.P_blower = between(full->P_blower, slow->P_blower, s);
    equipment.water_rated = between(full->water_rated, slow->water_rated, s);
    return equipment;
}

static bool settle_at(const hour *o, double s, ct_switched *out)
{
    const ct_room_equipment equipment = mixed(&o->full.equipment, &o->slow.equipment, s);

    out->T = o->house.T;
    out->slowed = s;
    out->status = ct_room_settle(&o->house, &equipment, &out->room, NULL);
    return out->status == CT_OK;
}

static void settle_fan(const hour *o, bool fan_on, double delay, ct_switched *out)
{
    hour other = *o;

    other.house.fan_on = fan_on;
    other.house.fan_delay = fan_on ? 0.0 : delay;
    out->T = o->house.T;
    out->slowed = 0.0;
    out->status = ct_room_settle(&other.house, &o->full.equipment, &out->room, NULL);
}

static void settle_start(const hour *o, ct_switched *out)
{
    const double time = o->job->c->control.start_time, N = o->house.coil.N_max;
    double s = 0.0;

    for (int i = 0; i < ROUNDS; i++) {
        if (!settle_at(o, s, out)) return;
        /* A run without end starts once. */
        s = fmin(1.0, time * 4.0 * N * (1.0 - out->room.run) / 3600.0);
    }
}

/* Share the control wants at a humidity. */
static double wanted(const ct_fan_control *k, double rh)
{
    return fmin(1.0, fmax(0.0, (rh - k->rh_off) / (k->rh_on - k->rh_off)));
}

/* More of the cut dries the house, which then needs less of it: there is one share that agrees. Where a
 * cut makes the house damper, none of it is the end of the search. */
static void settle_humidity(const hour *o, ct_switched *out)
{
    const ct_fan_control *k = &o->job->c->control;
    double low = 0.0, high = 1.0;

    if (!settle_at(o, 1.0, out) || wanted(k, out->room.rh) >= 1.0) return;
    for (int i = 0; i < HALVINGS; i++) {
        const double s = 0.5 * (low + high);
        if (!settle_at(o, s, out)) return;
        *(wanted(k, out->room.rh) > s ? &low : &high) = s;
    }
}

/* The cut airflow with the room at the lowest temperature allowed. */
static void settle_overcool(const hour *o, ct_switched *out)
{
    const ct_case *c = o->job->c;
    const double T_none = ct_case_no_load(&c->house, o->job->indoor.T);
    ct_sweep_job cooler = *o->job;
    hour other = *o;

    cooler.indoor.T -= c->control.overcool;
    if (!(o->job->T_out > T_none) ||
        equipment(o, &cooler, &o->out->slow, &other.slow, NULL) != CT_OK)
        return;
    other.full = other.slow;
    other.house.T = cooler.indoor.T;
    other.house.Q_sensible += c->house.Q_sensible / (o->job->T_out - T_none) * c->control.overcool;
    settle_at(&other, 1.0, out);
}

ct_status ct_switches_run(ct_solver *solver, const ct_sweep_job *job, const ct_point *point,
                          ct_switches *out, ct_fault *fault)
{
    const ct_house *h = &job->c->house;
    const bool has_delay = h->fan_off_delay.has && h->fan_off_delay.v > 0.0;
    ct_switches w = {.T_out = ct_humidity_outdoor(job->c, h->humidity_load),
                     .load = h->humidity_load * h->Q_sensible,
                     .run_on = has_delay ? h->fan_off_delay.v : CT_SWITCH_RUN_ON};
    hour o = {.solver = solver, .job = job, .point = point, .out = &w};
    ct_status status = set_house(&o, fault);

    if (status == CT_OK) status = equipment(&o, job, point, &o.full, fault);
    if (status != CT_OK) return status;
    for (int i = 0; i < CT_SWITCH_COUNT; i++)
        w.at[i].status = CT_NO_ROOT;
    settle_fan(&o, false, 0.0, &w.at[CT_SWITCH_STOPS]);
    settle_fan(&o, false, w.run_on, &w.at[CT_SWITCH_RUNS_ON]);
    settle_fan(&o, true, 0.0, &w.at[CT_SWITCH_FAN_ON]);
    balance_slow(&o);
    if (o.has_slow) {
        settle_start(&o, &w.at[CT_SWITCH_STARTS]);
        settle_humidity(&o, &w.at[CT_SWITCH_HUMIDITY]);
        settle_overcool(&o, &w.at[CT_SWITCH_OVERCOOL]);
    }
    *out = w;
    return CT_OK;
}
