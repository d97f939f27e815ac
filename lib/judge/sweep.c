#include "judge/sweep.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/units.h"
#include "judge/humidity.h"

/* Inside-out film of still air on a duct jacket, m2 K/W: 0.65 h ft2 F/Btu, ASHRAE Handbook
 * Fundamentals, surface film resistances (from memory, unconfirmed: 0.6 to 0.7). */
#define R_FILM (0.65 * 0.1761101838)

/* Superheat past which an orifice system counts as starved, K (35 F; common practice, no source).
 */
#define ORIFICE_STARVED (35.0 / CT_F_PER_K)

/* Blower watts with airflow when there are no taps: a tap-changed PSC motor's efficiency falls as
 * it is slowed, so its watts follow the flow; electronic motors come close to the fan law. Common
 * practice, no source. */
#define PSC_WATTS_EXPONENT 1.0
#define ECM_WATTS_EXPONENT 2.5

#define DENSITY_ROUNDS 20
#define DENSITY_TOL 1e-11

/* ---- Job ------------------------------------------------------------------------- */

ct_status ct_sweep_air(const ct_air_reading *r, double p, ct_air *air, ct_fault *fault)
{
    if (r->rh.has) return ct_air_from_rh(r->T, r->rh.v, p, air, fault);
    if (r->T_wb.has) return ct_air_from_wet_bulb(r->T, r->T_wb.v, p, air, fault);
    if (r->T_dp.has) return ct_air_from_dew_point(r->T, r->T_dp.v, p, air, fault);
    return ct_fault_say(
        fault, CT_INPUT,
        "air at %.0f F has no humidity: give relative humidity, wet bulb or dew point",
        ct_F_from_K(r->T));
}

/* Pressure of the air here over that of standard air. */
static double thinness_of(const ct_sweep_job *job)
{
    return job->indoor.p / CT_ATM_PA;
}

/* The new coil's wet drop, moved from its sheet's standard air and airflow to the air here and the
 * duct's measured airflow, where the blower must overcome it: dp = const rho^(n-1) V^n, which is
 * friction as a power of the Reynolds number. The duct's own point was measured here. */
static void add_coil_drop(const ct_indoor_unit *u, double thinness, ct_duct *duct)
{
    duct->dp_coil_in = 0.0;
    if (u->blower.table_includes_coil || !u->coil.dp_wet.has || !u->coil.V_dp.has) return;
    duct->dp_coil_in = u->coil.dp_wet.v * pow(duct->V / u->coil.V_dp.v, duct->coil_exponent) *
                       pow(thinness, duct->coil_exponent - 1.0);
}

ct_status ct_sweep_site(const ct_case *c, ct_sweep_job *job, ct_fault *fault)
{
    ct_sweep_job j = {.c = c, .T_out = c->site.T_outdoor, .has_duct = c->has_duct, .duct = c->duct};
    double p;
    ct_status status = ct_air_pressure(c->site.altitude, &p, fault);

    if (status == CT_OK) status = ct_sweep_air(&c->site.indoor, p, &j.indoor, fault);
    if (status == CT_OK) *job = j;
    return status;
}

ct_status ct_sweep_prepare(const ct_setup *setup, ct_sweep_job *job, ct_fault *fault)
{
    ct_sweep_job j;
    double thinness;
    ct_status status = ct_sweep_site(setup->c, &j, fault);

    if (status == CT_OK) status = ct_setup_join(setup, &j.system, fault);
    if (status != CT_OK) return status;
    j.unit = &setup->c->indoor[setup->unit];
    thinness = thinness_of(&j);
    ct_blower_thin(&j.unit->blower, thinness, &j.blower);
    if (j.has_duct) add_coil_drop(j.unit, thinness, &j.duct);
    *job = j;
    return CT_OK;
}

static double rated_watts(const ct_sweep_job *job, double V_std)
{
    double exponent =
        job->unit->blower.motor == CT_MOTOR_PSC ? PSC_WATTS_EXPONENT : ECM_WATTS_EXPONENT;

    return job->unit->P_blower_default * pow(V_std / job->c->outdoor.V_rated_std, exponent);
}

static bool has_taps(const ct_sweep_job *job)
{
    return job->has_duct && job->blower.n_taps > 0;
}

/* What a tap really delivers over what its table says, learnt on the unit in question. */
static double delivered(const ct_sweep_job *job)
{
    const ct_maybe *airflow = &job->c->tuning.airflow;

    return airflow->has && job->unit == &job->c->indoor[0] ? airflow->v : 1.0;
}

ct_status ct_sweep_watts(const ct_sweep_job *job, double V, double *P, ct_fault *fault)
{
    if (has_taps(job))
        return ct_blower_watts(&job->blower, &job->duct, V / delivered(job), P, fault);
    *P = rated_watts(job, V * thinness_of(job));
    return CT_OK;
}

/* Specific volume of the air the blower breathes: the return's, or the coil's leaving air. */
static double volume_at_blower(const ct_sweep_job *job, const ct_balance *b)
{
    const ct_air *a = job->system.before_coil || b->outcome != CT_BALANCED ? &job->indoor : &b->out;

    return ct_air_v(a->T, a->W, a->p);
}

/* ---- Judging --------------------------------------------------------------------- */

static void at_least(ct_point *p, ct_limit limit, double value, double bound)
{
    double slack = value - bound;

    p->limit[limit] = (ct_judgement){slack >= 0.0 ? CT_PASSES : CT_FAILS, value, bound, slack};
}

static void at_most(ct_point *p, ct_limit limit, double value, double bound)
{
    double slack = bound - value;

    p->limit[limit] = (ct_judgement){slack >= 0.0 ? CT_PASSES : CT_FAILS, value, bound, slack};
}

static void judge_loads(const ct_sweep_job *job, ct_point *p)
{
    const ct_house *h = &job->c->house;
    double sensible = h->Q_sensible * (1.0 + h->margin);

    at_least(p, CT_LIMIT_SENSIBLE, p->balance.Q_sens_net, sensible);
    at_least(p, CT_LIMIT_LATENT, p->balance.Q_lat, h->Q_latent);
    at_least(p, CT_LIMIT_TOTAL, p->balance.Q_net, sensible + h->Q_latent);
    p->Q_load_max = fmax(0.0, p->balance.Q_sens_net / (1.0 + h->margin));
}

static void judge_sweat(const ct_sweep_job *job, ct_point *p)
{
    const ct_site *site = &job->c->site;
    ct_air around;
    double T_dp, T = site->around_duct.T;

    p->T_jacket = NAN;
    if (!site->has_around_duct) return;
    if (ct_sweep_air(&site->around_duct, job->indoor.p, &around, NULL) != CT_OK ||
        ct_air_dew_point(&around, &T_dp, NULL) != CT_OK)
        return;
    p->T_jacket = T - (T - p->balance.supply.T) * R_FILM / (site->duct_R + R_FILM);
    at_least(p, CT_LIMIT_SWEAT, p->T_jacket, T_dp + job->c->limits.sweat_guard);
}

static void judge_face(const ct_sweep_job *job, ct_point *p)
{
    const ct_coil_spec *coil = &job->unit->coil;
    const ct_air *in = &p->balance.in;
    double face = coil->has_geometry ? coil->geometry.face : coil->face.has ? coil->face.v : 0.0;

    p->V_face = NAN;
    if (!(face > 0.0)) return;
    p->V_face = p->m_da * ct_air_v(in->T, in->W, in->p) / face;
    at_most(p, CT_LIMIT_CARRYOVER, p->V_face, job->c->limits.V_face_max);
}

static double end_of_table(const ct_sweep_job *job, const ct_point *p)
{
    const ct_tap *tap = &job->blower.tap[p->tap];

    return tap->point[tap->n - 1].dp;
}

static void judge_static(const ct_sweep_job *job, ct_point *p)
{
    double allowed = job->blower.dp_max;

    if (!p->has_dp || !(allowed > 0.0)) return;
    /* A table that ends below the limit: past it airflow and watts are guesses. */
    if (p->over_limit && p->dp <= allowed) allowed = end_of_table(job, p);
    at_most(p, CT_LIMIT_STATIC, p->dp, allowed);
    if (p->over_limit) p->limit[CT_LIMIT_STATIC].verdict = CT_FAILS;
}

static void judge_valve(const ct_sweep_job *job, ct_point *p)
{
    const ct_meter *meter = &job->system.meter;
    const ct_refrigerant *r = job->system.outdoor.refrigerant;
    const ct_balance *b = &p->balance;
    ct_inlet inlet;
    ct_valve_out valve;
    double dp, p_evaporator;

    if (!meter->has_valve) return;
    if (ct_refrigerant_p_dew(r, b->T_coil, &p_evaporator, NULL) != CT_OK ||
        ct_inlet_after_line(r, b->p_discharge, b->subcooling, 0.0, &inlet, NULL) != CT_OK)
        return;
    if (ct_inlet_dp(&inlet, meter->dp_distributor, p_evaporator, &dp, NULL) != CT_OK ||
        ct_valve_meet(&meter->valve, &inlet, dp, b->m_r, &valve, NULL) != CT_OK) {
        p->meter = CT_METER_STARVES;
        at_most(p, CT_LIMIT_METER, INFINITY, meter->valve.reserve);
        return;
    }
    p->valve_share = valve.share;
    p->meter = valve.state == CT_VALVE_HUNTS     ? CT_METER_HUNTS
               : valve.state == CT_VALVE_STARVES ? CT_METER_STARVES
                                                 : CT_METER_COPES;
    if (p->meter == CT_METER_HUNTS)
        at_least(p, CT_LIMIT_METER, valve.share, CT_VALVE_HUNTS_BELOW);
    else
        at_most(p, CT_LIMIT_METER, valve.share, meter->valve.reserve);
}

static void judge_orifice(ct_point *p)
{
    const ct_balance *b = &p->balance;

    p->meter = b->superheat <= 0.0                  ? CT_METER_FLOODS
               : b->superheat > ORIFICE_STARVED     ? CT_METER_STARVES
               : b->superheat < CT_SUPERHEAT_LITTLE ? CT_METER_NEARLY_FLOODS
                                                    : CT_METER_COPES;
    if (p->meter == CT_METER_FLOODS)
        at_least(p, CT_LIMIT_METER, b->quality_out, 1.0);
    else
        at_most(p, CT_LIMIT_METER, b->superheat, ORIFICE_STARVED);
    if (p->meter == CT_METER_FLOODS) p->limit[CT_LIMIT_METER].verdict = CT_FAILS;
}

static void judge_heating(const ct_sweep_job *job, ct_point *p)
{
    const ct_limits *l = &job->c->limits;
    double rise;

    if (l->V_heat_min.has) at_least(p, CT_LIMIT_HEAT, p->V, l->V_heat_min.v);
    if (!l->Q_furnace.has) return;
    rise = l->Q_furnace.v / (p->V * CT_STD_DENSITY * thinness_of(job) * CT_AIR_CPA);
    if (l->dT_furnace_max.has) at_most(p, CT_LIMIT_FURNACE, rise, l->dT_furnace_max.v);
    if (l->dT_furnace_min.has && rise < l->dT_furnace_min.v)
        at_least(p, CT_LIMIT_FURNACE, rise, l->dT_furnace_min.v);
}

static void conclude(ct_point *p)
{
    p->passes = true;
    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++)
        if (p->limit[i].verdict == CT_FAILS) p->passes = false;
}

static void judge(const ct_sweep_job *job, ct_point *p)
{
    const ct_limits *l = &job->c->limits;

    memset(p->limit, 0, sizeof p->limit);
    p->limit[CT_LIMIT_BALANCE].verdict = p->status == CT_OK ? CT_PASSES : CT_FAILS;
    p->valve_share = p->T_jacket = p->V_face = NAN;
    p->meter = CT_METER_UNKNOWN;
    p->Q_load_max = 0.0;
    judge_static(job, p);
    judge_heating(job, p);
    if (p->status == CT_OK) {
        judge_loads(job, p);
        at_least(p, CT_LIMIT_FROST, p->balance.T_surface, CT_FROST_LINE + l->frost_guard);
        at_most(p, CT_LIMIT_HEAD, p->balance.Tc, l->T_discharge_max);
        judge_sweat(job, p);
        judge_face(job, p);
        if (job->system.meter.kind == CT_METER_ORIFICE)
            judge_orifice(p);
        else
            judge_valve(job, p);
    }
    conclude(p);
}

static void judge_humidity(ct_solver *solver, const ct_sweep_job *job, bool also_fan_on,
                           ct_point *p)
{
    const ct_house *h = &job->c->house;
    ct_status always_on = CT_NO_ROOT;
    ct_humidity_job humidity = {job->c, &job->system, job->indoor, p->m_da, p->P_blower};

    if (p->status != CT_OK) return;
    p->has_room = ct_humidity_settle(solver, &humidity, h->humidity_load, &p->room,
                                     also_fan_on ? &p->room_fan_on : NULL,
                                     also_fan_on ? &always_on : NULL, NULL) == CT_OK;
    p->has_room_fan_on = always_on == CT_OK;
    if (p->has_room && h->rh_ceiling.has)
        at_most(p, CT_LIMIT_HUMIDITY, p->room.rh, h->rh_ceiling.v);
    conclude(p);
}

void ct_sweep_humidity(ct_solver *solver, const ct_sweep_job *job, ct_point *p)
{
    judge_humidity(solver, job, true, p);
}

/* ---- Points ---------------------------------------------------------------------- */

static void settle(ct_solver *solver, const ct_sweep_job *job, const ct_start *start, ct_point *p)
{
    ct_conditions at = {job->indoor, job->T_out, p->m_da, p->P_blower};
    ct_fault fault = {.what = ""};

    p->status = ct_balance_solve(solver, &job->system, &at, start, &p->balance, &fault);
    snprintf(p->why, sizeof p->why, "%s", p->status == CT_OK ? "" : fault.what);
}

static void name_airflow(const ct_sweep_job *job, ct_point *p)
{
    p->V_std = p->m_da / CT_STD_DENSITY;
    p->V_std_per_ton = p->V_std / job->system.outdoor.tons;
    p->V = p->m_da * volume_at_blower(job, &p->balance);
}

static void meet_ducts(const ct_sweep_job *job, ct_point *p)
{
    if (!job->has_duct) return;
    p->has_dp = true;
    p->dp = ct_duct_dp(&job->duct, p->V);
}

void ct_sweep_point(ct_solver *solver, const ct_sweep_job *job, double m_da, double P_blower,
                    const ct_start *start, ct_point *point)
{
    *point = (ct_point){.tap = -1, .m_da = m_da, .P_blower = P_blower};
    settle(solver, job, start, point);
    name_airflow(job, point);
    meet_ducts(job, point);
    judge(job, point);
}

/* Taps on this job's ducts; n is 0 when there are none that move air. */
static ct_blower_line line_of(const ct_sweep_job *job)
{
    ct_blower_line line = {.n = 0};

    if (has_taps(job)) ct_blower_line_make(&job->blower, &job->duct, &line, NULL);
    return line;
}

/* A sweep point's watts depend on the volume at the blower, that on the air leaving the coil, and
 * that, weakly, on the watts: a few rounds of substitution. */
static void sweep_at(ct_solver *solver, const ct_sweep_job *job, const ct_blower_line *line,
                     double m_da, double V, const ct_start *start, ct_point *point)
{
    ct_start next;

    *point = (ct_point){.tap = -1, .m_da = m_da};
    for (int i = 0; i < DENSITY_ROUNDS; i++) {
        double *P = &point->P_blower;
        if (line->n == 0 || ct_blower_line_watts(line, V / delivered(job), P, NULL) != CT_OK)
            *P = rated_watts(job, m_da / CT_STD_DENSITY);
        settle(solver, job, start, point);
        name_airflow(job, point);
        if (!has_taps(job) || point->status != CT_OK) break;
        if (fabs(point->V - V) <= DENSITY_TOL * V) break;
        V = point->V;
        next = (ct_start){point->balance.Te, point->balance.Tc};
        start = &next;
    }
    meet_ducts(job, point);
    judge(job, point);
}

ct_status ct_sweep_airflow(ct_solver *solver, const ct_sweep_job *job, double V_per_ton,
                           ct_point *point, ct_fault *fault)
{
    ct_blower_line line = line_of(job);
    double m_da;

    if (!(V_per_ton > 0.0))
        return ct_fail(fault, CT_RANGE, V_per_ton, 0.0, NAN, "airflow per ton must be above 0");
    m_da = V_per_ton * job->system.outdoor.tons * CT_STD_DENSITY;
    sweep_at(solver, job, &line, m_da, m_da / CT_STD_DENSITY, NULL, point);
    return CT_OK;
}

static ct_status tap_at(ct_solver *solver, const ct_sweep_job *job, int i, double v,
                        const ct_start *from, ct_point *point, ct_fault *fault)
{
    ct_blower_point meet;
    ct_point p = {.tap = i};
    ct_start start;
    ct_status status = ct_blower_meet(&job->blower, i, &job->duct, &meet, fault);

    if (status != CT_OK) return status;
    p.P_blower = meet.P;
    for (int round = 0; round < DENSITY_ROUNDS; round++) {
        double v_before = v;
        p.m_da = delivered(job) * meet.V / v;
        settle(solver, job, from, &p);
        v = volume_at_blower(job, &p.balance);
        if (p.status != CT_OK || fabs(v - v_before) <= DENSITY_TOL * v) break;
        start = (ct_start){p.balance.Te, p.balance.Tc};
        from = &start;
    }
    name_airflow(job, &p);
    p.has_dp = true;
    p.dp = meet.dp;
    p.over_limit = meet.over_limit;
    judge(job, &p);
    *point = p;
    return CT_OK;
}

ct_status ct_sweep_tap(ct_solver *solver, const ct_sweep_job *job, int i, ct_point *point,
                       ct_fault *fault)
{
    double v = ct_air_v(job->indoor.T, job->indoor.W, job->indoor.p);

    return tap_at(solver, job, i, v, NULL, point, fault);
}

static void sort_taps(ct_sweep *s)
{
    for (int i = 1; i < s->n_taps; i++) {
        ct_point p = s->tap[i];
        int k = i;
        for (; k > 0 && s->tap[k - 1].m_da > p.m_da; k--)
            s->tap[k] = s->tap[k - 1];
        s->tap[k] = p;
    }
}

/* A tap that cannot move air against these ducts stays in the list, refused, with the reason. */
static void refuse_tap(int i, ct_status status, const ct_fault *fault, ct_point *tap)
{
    *tap = (ct_point){.tap = i, .status = status};
    tap->balance.outcome = CT_NO_BALANCE;
    tap->limit[CT_LIMIT_BALANCE].verdict = CT_FAILS;
    snprintf(tap->why, sizeof tap->why, "%s", fault->what);
}

static void run_taps(ct_solver *solver, const ct_sweep_job *job, ct_sweep *s)
{
    s->n_taps = has_taps(job) ? job->blower.n_taps : 0;
    for (int i = 0; i < s->n_taps; i++) {
        ct_fault fault;
        ct_status status = ct_sweep_tap(solver, job, i, &s->tap[i], &fault);
        if (status != CT_OK) refuse_tap(i, status, &fault, &s->tap[i]);
    }
    sort_taps(s);
}

/* Along the sweep each balance begins where the last two point to. */
static ct_start extrapolate(const ct_sweep *s, int i)
{
    const ct_balance *a = &s->point[i - 1].balance, *b = &s->point[i > 1 ? i - 2 : 0].balance;
    bool two = i > 1 && s->point[i - 2].status == CT_OK;

    return two ? (ct_start){2.0 * a->Te - b->Te, 2.0 * a->Tc - b->Tc} : (ct_start){a->Te, a->Tc};
}

ct_status ct_sweep_run(ct_solver *solver, const ct_sweep_job *job, ct_sweep *s, ct_fault *fault)
{
    const ct_sweep_range *r = &job->c->sweep;
    double tons = job->system.outdoor.tons;
    ct_blower_line line = line_of(job);

    if (!(r->points >= 2 && r->points <= CT_MAX_SWEEP_POINTS))
        return ct_fail(fault, CT_RANGE, r->points, 2, CT_MAX_SWEEP_POINTS,
                       "%d sweep points: allowed 2 to %d", r->points, CT_MAX_SWEEP_POINTS);
    if (!(r->V_per_ton_min > 0.0 && r->V_per_ton_max > r->V_per_ton_min))
        return ct_fail(fault, CT_INPUT, r->V_per_ton_min, NAN, NAN,
                       "the sweep must run from a lower to a higher airflow per ton");
    s->n = r->points;
    for (int i = 0; i < s->n; i++) {
        double share = (double)i / (s->n - 1);
        double V_per_ton = r->V_per_ton_min + share * (r->V_per_ton_max - r->V_per_ton_min);
        double m_da = V_per_ton * tons * CT_STD_DENSITY;
        bool warm = i > 0 && s->point[i - 1].status == CT_OK;
        ct_start start = warm ? extrapolate(s, i) : (ct_start){0};
        sweep_at(solver, job, &line, m_da, m_da / CT_STD_DENSITY, warm ? &start : NULL,
                 &s->point[i]);
    }
    run_taps(solver, job, s);
    for (int i = 0; i < s->n; i++)
        ct_sweep_humidity(solver, job, &s->point[i]);
    for (int i = 0; i < s->n_taps; i++)
        ct_sweep_humidity(solver, job, &s->tap[i]);
    return CT_OK;
}

/* Each point begins at its neighbour, the tap of the same place in the table at its own airflow. */
static const ct_start *start_at(const ct_point *near, ct_start *start)
{
    *start = (ct_start){near->balance.Te, near->balance.Tc};
    return near->status == CT_OK ? start : NULL;
}

static void tap_near(ct_solver *solver, const ct_sweep_job *job, const ct_point *near,
                     ct_point *tap)
{
    ct_start start;
    ct_fault fault;
    double v = near->status == CT_OK ? near->V / near->m_da
                                     : ct_air_v(job->indoor.T, job->indoor.W, job->indoor.p);
    ct_status status = tap_at(solver, job, near->tap, v, start_at(near, &start), tap, &fault);

    if (status != CT_OK) refuse_tap(near->tap, status, &fault, tap);
}

void ct_sweep_near(ct_solver *solver, const ct_sweep_job *job, const ct_sweep *near, ct_sweep *s)
{
    bool humidity = job->c->house.rh_ceiling.has;
    ct_blower_line line = line_of(job);

    s->n = near->n;
    s->n_taps = near->n_taps;
    for (int i = 0; i < s->n; i++) {
        const ct_point *n = &near->point[i];
        ct_start start;
        double V = n->status == CT_OK ? n->V : n->m_da / CT_STD_DENSITY;
        sweep_at(solver, job, &line, n->m_da, V, start_at(n, &start), &s->point[i]);
        if (humidity && s->n_taps == 0) judge_humidity(solver, job, false, &s->point[i]);
    }
    for (int i = 0; i < s->n_taps; i++) {
        tap_near(solver, job, &near->tap[i], &s->tap[i]);
        if (humidity) judge_humidity(solver, job, false, &s->tap[i]);
    }
}
