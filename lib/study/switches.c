#include "study/switches.h"

#include <math.h>

#include "case/no_load.h"
#include "judge/fan_control.h"
#include "study/season_stage.h"

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

/* A blower that stops with the compressor, to begin with. */
static ct_status set_house(hour *o, ct_fault *fault)
{
    const ct_humidity_job job = {.c = o->job->c, .indoor = o->job->indoor};
    const ct_status status = ct_humidity_house(&job, o->out->T_out, o->out->load, &o->house, fault);

    o->house.fan_on = false;
    o->house.fan_delay = 0.0;
    return status;
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
    const ct_start start = ct_balance_start(&o->point->balance);
    ct_sweep_job job;
    ct_point cut = *o->point;

    ct_fan_control_cut_job(o->job, &cut, &job);
    ct_fan_control_cut(o->job, &cut);
    ct_sweep_point(o->solver, &job, cut.m_da, cut.P_blower, &start, &o->out->slow);
    o->out->slow_fails = forbidding(&o->out->slow);
    o->has_slow = equipment(o, &job, &o->out->slow, &o->slow, NULL) == CT_OK;
}

/* ---- Settling -------------------------------------------------------------------- */

static void settle_fan(const hour *o, bool fan_on, double delay, ct_switched *out)
{
    hour other = *o;

    other.house.fan_on = fan_on;
    other.house.fan_delay = fan_on ? 0.0 : delay;
    out->T = o->house.T;
    out->slowed = 0.0;
    out->status = ct_room_settle(&other.house, &o->full.equipment, &out->room, NULL);
}

/* The controls of the case, with only one of them on. */
static void settle_control(const hour *o, ct_switch which, ct_switched *out)
{
    ct_fan_control only = o->job->c->control;
    const ct_fan_run run = {&only, &o->house, &o->full.equipment, &o->slow.equipment};
    ct_fan_settled at;

    only.slow_start = which == CT_SWITCH_STARTS;
    only.cut_when_damp = which == CT_SWITCH_HUMIDITY;
    out->status = ct_fan_control_settle(&run, &at, NULL);
    if (out->status != CT_OK) return;
    *out = (ct_switched){.T = o->house.T, .room = at.room, .slowed = at.slowed};
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
    other.house.T = out->T = cooler.indoor.T;
    other.house.Q_sensible += c->house.Q_sensible / (o->job->T_out - T_none) * c->control.overcool;
    out->slowed = 1.0;
    out->status = ct_room_settle(&other.house, &other.slow.equipment, &out->room, NULL);
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
    if (job->c->outdoor.low.has)
        return ct_fault_say(fault, CT_INPUT, "the settings are not worked out for two stages");
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
        settle_control(&o, CT_SWITCH_STARTS, &w.at[CT_SWITCH_STARTS]);
        settle_control(&o, CT_SWITCH_HUMIDITY, &w.at[CT_SWITCH_HUMIDITY]);
        settle_overcool(&o, &w.at[CT_SWITCH_OVERCOOL]);
    }
    *out = w;
    return CT_OK;
}
