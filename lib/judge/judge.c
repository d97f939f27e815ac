#include "judge/judge.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "judge/fan_control.h"
#include "judge/heating.h"
#include "judge/humidity_control.h"
#include "judge/limits_check.h"
#include "judge/notes.h"
#include "part/target_superheat.h"

/* What reaches the rooms at the return air entered. */
static void deliver(const ct_sweep_job *job, double T_out, ct_point *p)
{
    const ct_balance *b = &p->balance;
    const ct_duct_feed feed = {p->m_da, job->indoor, b->supply.T, b->Q_net, b->Q_sens_net};

    p->ducts = (ct_duct_delivery){1.0, 1.0, 1.0, 1.0, 1.0, 1.0};
    if (job->has_outside && b->Q_net > 0.0 && b->Q_sens_net > 0.0) {
        const ct_duct_outside outside =
            ct_duct_outside_warmer(&job->outside, T_out - job->c->site.T_outdoor);
        ct_duct_deliver(&outside, &feed, &p->ducts);
    }
    p->Q_house = b->Q_sens_net * p->ducts.sensible_regained;
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
                             .low = ct_sweep_job_low(job),
                             .near = near};
}

/* What the controls leave of the airflow, where they cut it. */
static void cut_airflow(const ct_sweep_job *job, const ct_point *p, ct_humidity_job *humidity)
{
    ct_point cut = *p;

    /* Not worked out for two stages: low_stage_words.c says so. */
    if (job->c->outdoor.low.has || !ct_fan_control_cuts(&job->c->control)) return;
    ct_fan_control_cut(job, &cut);
    humidity->m_cut = cut.m_da;
    humidity->P_cut = cut.P_blower;
}

/* The hour whose load it must carry; the low stage, which has none to carry, runs at the damp
 * one. */
static ct_house_day day_of(const ct_sweep_job *job)
{
    const ct_house *h = &job->c->house;
    const double share = h->humidity_load;

    if (job->is_low)
        return (ct_house_day){ct_humidity_outdoor(job->c, share), share * h->Q_sensible};
    return (ct_house_day){job->T_out, h->Q_sensible * (1.0 + h->margin)};
}

/* The design hour, in the air the house then has. */
static void settle_design(ct_solver *solver, const ct_sweep_job *job, const ct_near *near,
                          ct_point *p)
{
    ct_humidity_job humidity = humidity_job(job, p, seen(near, CT_SEEN_DESIGN));
    const ct_house *h = &job->c->house;
    const ct_house_day day = day_of(job);

    if (!job->is_low) humidity.known = &p->balance;
    humidity.near_whole = seen(near, CT_SEEN_WHOLE);
    humidity.near_rated = seen(near, CT_SEEN_DESIGN_RATED);
    double Q_max = NAN;
    p->has_design = ct_humidity_day(solver, &humidity, &day, &p->design,
                                    job->no_reach ? NULL : &Q_max, NULL) == CT_OK;
    if (!p->has_design) return;
    p->seen[CT_SEEN_DESIGN] = p->design.seen;
    p->seen[CT_SEEN_DESIGN_RATED] = p->design.seen_rated;
    if (job->no_reach) return;
    /* A house that does not settle running the whole hour: what it carries in the air it has. */
    if (isnan(Q_max)) Q_max = p->design.Q_house;
    p->Q_load_max = fmax(0.0, Q_max / (1.0 + h->margin));
    p->seen[CT_SEEN_WHOLE] = p->design.seen_whole;
}

/* For verdicts alone the house's hour counts where the load is judged in its air. */
static bool reads_design(const ct_sweep_job *job)
{
    return !job->no_reach || job->c->house.judge_load_at == CT_LOAD_SETTLED;
}

ct_status ct_judge_carried(ct_solver *solver, const ct_sweep_job *job, const ct_point *p,
                           const ct_house_day *day, double *Q)
{
    const ct_conditions at = {job->indoor, day->T_out, p->m_da, p->P_blower};
    ct_start start = ct_balance_start(&p->balance);
    ct_point other = *p;
    ct_status status;

    start.Tc += day->T_out - job->T_out;
    if (ct_limits_check_settled(job, p)) {
        const ct_humidity_job humidity = humidity_job(job, p, (ct_near){.W = p->design.room.W});
        ct_house_hour hour;
        status = ct_humidity_day(solver, &humidity, day, &hour, NULL, NULL);
        if (status == CT_OK) *Q = hour.Q_house;
        return status;
    }
    status = ct_balance_solve(solver, &job->system, &at, &start, &other.balance, NULL);
    if (status != CT_OK) return status;
    deliver(job, day->T_out, &other);
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
    if (ct_limits_check_settled(job, p)) at.in.W = fmin(p->design.room.W, W_sat);
    p->has_mild = ct_balance_solve(solver, &job->system, &at, &start, &b, NULL) == CT_OK;
    if (!p->has_mild) return;
    p->Te_mild = b.Te;
    p->T_surface_mild = b.T_surface;
    p->seen[CT_SEEN_MILD] = (ct_near){.W = at.in.W, .start = ct_balance_start(&b)};
}

/* A hotter day than the design day, on which a piston leaves less superheat: the house sees a few
 * each year, and any house may see 105 F. Common practice, no source. */
#define HOT_OVER_DESIGN (10.0 / CT_F_PER_K)
#define HOT_AT_LEAST ct_K_from_F(105.0)

/* A coil that floods so far that nothing balances has no superheat either. */
static void try_hot(ct_solver *solver, const ct_sweep_job *job, ct_point *p)
{
    const ct_conditions at = {job->indoor, fmax(job->T_out + HOT_OVER_DESIGN, HOT_AT_LEAST),
                              p->m_da, p->P_blower};
    ct_start start = ct_balance_start(&p->balance);
    ct_balance b;

    if (job->system.meter.kind != CT_METER_ORIFICE || p->meter == CT_METER_FLOODS) return;
    start.Tc += at.T_out - job->T_out;
    const bool balances = ct_balance_solve(solver, &job->system, &at, &start, &b, NULL) == CT_OK;
    p->has_hot = balances || b.outcome == CT_FLOODED_OUT;
    p->T_hot = at.T_out;
    p->superheat_hot = balances ? b.superheat : 0.0;
}

/* In weather without a target superheat there is nothing to be above of. Where the low stage floods
 * with this piston a larger one is no answer. */
static bool starved(const ct_sweep_job *job, const ct_point *p)
{
    double wet_bulb, target;

    if (job->system.meter.kind != CT_METER_ORIFICE || p->status != CT_OK || job->low_floods)
        return false;
    return ct_air_wet_bulb(&job->indoor, &wet_bulb, NULL) == CT_OK &&
           ct_target_superheat(wet_bulb, job->T_out, &target, NULL) == CT_OK &&
           p->balance.superheat > target + CT_SUPERHEAT_OVER_TARGET;
}

static void conclude(const ct_sweep_job *job, ct_point *p)
{
    p->notes = p->below_table ? CT_NOTE_BLOWER_TABLE : 0;
    if (p->meter == CT_METER_NEARLY_FLOODS || p->meter == CT_METER_FLOODS)
        p->notes |= CT_NOTE_NEAR_FLOOD;
    if (p->meter == CT_METER_COPES && p->has_hot && p->superheat_hot < CT_SUPERHEAT_LITTLE)
        p->notes |= CT_NOTE_HOT_FLOOD;
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
    memset(p->limit, 0, sizeof p->limit);
    p->limit[CT_LIMIT_BALANCE].verdict = p->status == CT_OK ? CT_PASSES : CT_FAILS;
    p->valve_share = p->T_jacket = p->V_face = NAN;
    p->meter = CT_METER_UNKNOWN;
    p->Q_load_max = 0.0;
    p->has_design = p->has_mild = p->has_hot = false;
    memset(p->seen, 0, sizeof p->seen);
    ct_limits_check_air(job, p);
    if (!job->is_low) ct_heating_judge(job, p->limit);
    if (p->status == CT_OK) {
        deliver(job, job->T_out, p);
        if (!job->only_entered) {
            if (reads_design(job)) settle_design(solver, job, near, p);
            try_mild(solver, job, near, p);
        }
        ct_limits_check_balance(job, p);
        if (!job->only_entered && !job->no_reach) try_hot(solver, job, p);
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
    cut_airflow(job, p, &humidity);
    p->has_room = ct_humidity_controlled(solver, &humidity, h->humidity_load, &a, NULL) == CT_OK;
    p->has_room_fan_on = a.fan_on == CT_OK;
    if (p->has_room) {
        p->room = a.room;
        p->slowed = a.slowed;
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
    ct_limits_check_humidity(job, p);
    conclude(job, p);
}
