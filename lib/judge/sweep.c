#include "judge/sweep.h"

#include <math.h>
#include <stdio.h>

#include "judge/airflow.h"
#include "judge/judge.h"
#include "judge/sweep_ahead.h"
#include "plant/balance_blower.h"

const ct_point *ct_sweep_speeds(const ct_sweep *s, int *n)
{
    if (n) *n = s->n_taps > 0 ? s->n_taps : s->n;
    return s->n_taps > 0 ? s->tap : s->point;
}

/* All that it is short of: decides between speeds that fail alike, as all do on a heating tap. */
static double shortfalls(const ct_point *p)
{
    double sum = 0.0;

    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++)
        sum += ct_limit_shortfall((ct_limit)i, &p->limit[i]);
    return sum;
}

const ct_point *ct_sweep_nearest(const ct_sweep *s)
{
    int n;
    const ct_point *points = ct_sweep_speeds(s, &n), *best = NULL;
    double least = INFINITY, least_sum = INFINITY;

    for (int i = 0; i < n; i++) {
        const ct_limit worst = ct_limit_worst(points[i].limit);
        const double gap =
            points[i].passes ? 0.0 : ct_limit_shortfall(worst, &points[i].limit[worst]);
        const double sum = shortfalls(&points[i]);
        if (points[i].status != CT_OK || gap > least || !(gap < least || sum < least_sum)) continue;
        best = &points[i];
        least = gap;
        least_sum = sum;
    }
    return best;
}

/* ---- Points ---------------------------------------------------------------------- */

/* Where a search begins: a neighbor's balance, with the volume of its air, or nothing known. */
static ct_airflow begin(ct_solver *solver, const ct_sweep_job *job, const ct_near *near)
{
    ct_airflow a = {.solver = solver,
                    .system = &job->system,
                    .at = {.in = job->indoor, .T_out = job->T_out},
                    .v = ct_airflow_volume(&job->system, &job->indoor, NULL)};

    if (!near || !(near->start.Te > 0.0)) return a;
    a.warm = true;
    a.start = near->start;
    if (near->W > 0.0 && !job->system.before_coil) a.v = near->W;
    return a;
}

static void keep(ct_point *p, ct_status status, const ct_fault *fault)
{
    p->status = status;
    snprintf(p->why, sizeof p->why, "%s", status == CT_OK ? "" : fault->what);
}

/* What people see of a point beyond its judgment. */
static void show(ct_point *p)
{
    if (p->status == CT_OK) ct_balance_find_adp(&p->balance);
}

static void name_airflow(const ct_sweep_job *job, double v, ct_point *p)
{
    p->V_std = p->m_da / CT_STD_DENSITY;
    p->V_std_per_ton = p->V_std / job->system.outdoor.tons;
    p->V = p->m_da * v;
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
    const ct_near near = {.start = start ? *start : (ct_start){0}};
    ct_airflow a = begin(solver, job, &near);
    ct_fault fault = {.what = ""};

    a.at.m_da = m_da;
    a.at.P_blower = P_blower;
    *point = (ct_point){.tap = -1, .m_da = m_da, .P_blower = P_blower};
    keep(point, ct_airflow_balance(&a, &point->balance, &fault), &fault);
    name_airflow(job, a.v, point);
    meet_ducts(job, point);
    ct_judge_point(a.solver, job, NULL, point);
    show(point);
}

/* Taps on this job's ducts; n is 0 when there are none that move air. */
static ct_blower_line line_of(const ct_sweep_job *job)
{
    ct_blower_line line = {.n = 0};

    if (ct_sweep_job_has_taps(job)) ct_blower_line_make(&job->blower, &job->duct, &line, NULL);
    return line;
}

static double watts_along(const ct_sweep_job *job, const ct_blower_line *line, double m_da,
                          double V)
{
    double P;

    if (line->n > 0 &&
        ct_blower_line_watts(line, V / ct_sweep_job_delivered(job), &P, NULL) == CT_OK)
        return P;
    return ct_sweep_job_rated_watts(job, m_da / CT_STD_DENSITY);
}

/* The balance at the mass flow a->at.m_da with P W. A blower after the coil leaves coil and outdoor
 * unit alone: they balance once. */
static void balance_with(ct_airflow *a, double P, bool again, ct_point *point)
{
    ct_fault fault = {.what = ""};

    a->at.P_blower = point->P_blower = P;
    if (again && !a->system->before_coil)
        ct_balance_blower(a->system, a->at.m_da, P, &point->balance);
    else
        keep(point, ct_airflow_balance(a, &point->balance, &fault), &fault);
}

/* A sweep point at the mass flow a->at.m_da. Its watts depend on the volume at the blower, and that
 * on the air leaving the coil, which the watts leave alone, or, before it, on the return air alone:
 * the volume of the first round is that of the second. */
static void sweep_at(ct_airflow *a, const ct_sweep_job *job, const ct_blower_line *line,
                     const ct_near *near, ct_point *point)
{
    const double m_da = a->at.m_da;
    double V = m_da * a->v;

    *point = (ct_point){.tap = -1, .m_da = m_da};
    for (int i = 0; i < 2; i++) {
        balance_with(a, watts_along(job, line, m_da, V), i > 0, point);
        name_airflow(job, a->v, point);
        if (!ct_sweep_job_has_taps(job) || point->status != CT_OK) break;
        if (fabs(point->V - V) <= CT_AIRFLOW_TOL * V) break;
        V = point->V;
    }
    meet_ducts(job, point);
    ct_judge_point(a->solver, job, near, point);
}

ct_status ct_sweep_airflow(ct_solver *solver, const ct_sweep_job *job, double V_per_ton,
                           ct_point *point, ct_fault *fault)
{
    ct_blower_line line = line_of(job);
    ct_airflow a = begin(solver, job, NULL);

    if (!(V_per_ton > 0.0))
        return ct_fail(fault, CT_RANGE, V_per_ton, 0.0, NAN, "airflow per ton must be above 0");
    a.at.m_da = V_per_ton * job->system.outdoor.tons * CT_STD_DENSITY;
    sweep_at(&a, job, &line, NULL, point);
    show(point);
    return CT_OK;
}

static ct_status meet_tap(const ct_sweep_job *job, int i, ct_blower_point *meet, ct_fault *fault)
{
    return ct_blower_meet(&job->blower, i, &job->duct, meet, fault);
}

/* Tap i at the place where it meets the ducts. */
static void tap_at(ct_airflow *a, const ct_sweep_job *job, int i, const ct_blower_point *meet,
                   const ct_near *near, ct_point *point)
{
    ct_point p = {.tap = i};
    ct_fault unsettled = {.what = ""};

    a->at.P_blower = p.P_blower = meet->P;
    const ct_status status =
        ct_airflow_settle(a, ct_sweep_job_delivered(job) * meet->V, &p.balance, &unsettled);
    keep(&p, status, &unsettled);
    p.m_da = a->at.m_da;
    name_airflow(job, a->v, &p);
    p.has_dp = true;
    p.dp = meet->dp;
    p.over_limit = meet->over_limit;
    p.below_table = meet->below_table;
    ct_judge_point(a->solver, job, near, &p);
    *point = p;
}

ct_status ct_sweep_tap(ct_solver *solver, const ct_sweep_job *job, int i, ct_point *point,
                       ct_fault *fault)
{
    ct_airflow a = begin(solver, job, NULL);
    ct_blower_point meet;
    const ct_status status = meet_tap(job, i, &meet, fault);

    if (status != CT_OK) return status;
    tap_at(&a, job, i, &meet, NULL, point);
    show(point);
    return CT_OK;
}

void ct_sweep_humidity(ct_solver *solver, const ct_sweep_job *job, ct_point *p)
{
    ct_judge_humidity(solver, job, CT_ALSO_FAN_ON | CT_ALSO_BAND, NULL, p);
}

/* ---- Loops ----------------------------------------------------------------------- */

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

static ct_sweep_rows rows_of(const ct_sweep *s)
{
    return (ct_sweep_rows){s->point, s->n, s->tap};
}

/* Between the airflows of the sweep; how dense the air is at the blower is seen in the middle
 * one. */
static ct_sweep_start amid(const ct_sweep_job *job, const ct_blower_point *meet, const ct_sweep *s)
{
    const ct_point *middle = &s->point[s->n / 2];
    const ct_sweep_rows rows = rows_of(s);
    const double per_V =
        s->n > 0 && middle->status == CT_OK ? middle->m_da / middle->V : CT_STD_DENSITY;

    return ct_sweep_between(&rows, ct_sweep_job_delivered(job) * meet->V * per_V);
}

static void run_taps(ct_solver *solver, const ct_sweep_job *job, ct_sweep *s)
{
    s->n_taps = ct_sweep_job_has_taps(job) ? job->blower.n_taps : 0;
    for (int i = 0; i < s->n_taps; i++) {
        ct_fault fault;
        ct_blower_point meet;
        const ct_status status = meet_tap(job, i, &meet, &fault);
        if (status != CT_OK) {
            refuse_tap(i, status, &fault, &s->tap[i]);
            continue;
        }
        const ct_sweep_start near = amid(job, &meet, s);
        ct_airflow a = begin(solver, job, &near.balance);
        tap_at(&a, job, i, &meet, near.seen, &s->tap[i]);
        show(&s->tap[i]);
    }
    sort_taps(s);
}

/* The band only where the pick is made. */
static void all_humidity(ct_solver *solver, const ct_sweep_job *job, ct_sweep *s)
{
    const unsigned all = CT_ALSO_FAN_ON | CT_ALSO_BAND;
    const unsigned airflows = s->n_taps > 0 ? CT_ALSO_FAN_ON : all;
    const ct_sweep_rows rows = rows_of(s);

    for (int i = 0; i < s->n; i++) {
        const ct_sweep_start near = ct_sweep_ahead(s->point, i);
        ct_judge_humidity(solver, job, airflows, near.seen, &s->point[i]);
    }
    for (int i = 0; i < s->n_taps; i++) {
        const ct_sweep_start near = ct_sweep_between(&rows, s->tap[i].m_da);
        ct_judge_humidity(solver, job, all, near.seen, &s->tap[i]);
    }
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
        const ct_sweep_start near = ct_sweep_ahead(s->point, i);
        ct_airflow a = begin(solver, job, &near.balance);
        a.at.m_da = V_per_ton * tons * CT_STD_DENSITY;
        sweep_at(&a, job, &line, near.seen, &s->point[i]);
        show(&s->point[i]);
    }
    run_taps(solver, job, s);
    all_humidity(solver, job, s);
    return CT_OK;
}

ct_status ct_sweep_speeds_only(ct_solver *solver, const ct_sweep_job *job, ct_sweep *s,
                               ct_fault *fault)
{
    if (!ct_sweep_job_has_taps(job)) return ct_sweep_run(solver, job, s, fault);
    s->n = 0;
    run_taps(solver, job, s);
    for (int i = 0; i < s->n_taps && job->c->house.rh_ceiling.has; i++)
        ct_judge_humidity(solver, job, 0, NULL, &s->tap[i]);
    return CT_OK;
}

/* The tap of the same place in the table at its own airflow. */
static void tap_near(ct_solver *solver, const ct_sweep_job *job, const ct_sweep *near, int i,
                     ct_sweep *s)
{
    const ct_sweep_rows there = rows_of(near), here = rows_of(s);
    const ct_sweep_start at = ct_sweep_ahead_tap(&there, &here, i);
    ct_airflow a = begin(solver, job, &at.balance);
    ct_fault fault;
    ct_blower_point meet;
    const int tap = near->tap[i].tap;
    const ct_status status = meet_tap(job, tap, &meet, &fault);

    if (status == CT_OK)
        tap_at(&a, job, tap, &meet, at.seen, &s->tap[i]);
    else
        refuse_tap(tap, status, &fault, &s->tap[i]);
    if (job->c->house.rh_ceiling.has) ct_judge_humidity(solver, job, 0, at.seen, &s->tap[i]);
}

void ct_sweep_near(ct_solver *solver, const ct_sweep_job *job, const ct_sweep *near, ct_sweep *s)
{
    const bool humidity = job->c->house.rh_ceiling.has && near->n_taps == 0;
    const ct_blower_line line = near->n > 0 ? line_of(job) : (ct_blower_line){.n = 0};

    s->n = near->n;
    s->n_taps = near->n_taps;
    for (int i = 0; i < s->n; i++) {
        const ct_sweep_start at = ct_sweep_ahead_near(near->point, s->point, i);
        ct_airflow a = begin(solver, job, &at.balance);
        a.at.m_da = near->point[i].m_da;
        sweep_at(&a, job, &line, at.seen, &s->point[i]);
        if (humidity) ct_judge_humidity(solver, job, 0, at.seen, &s->point[i]);
    }
    for (int i = 0; i < s->n_taps; i++)
        tap_near(solver, job, near, i, s);
}

void ct_sweep_onward(const ct_sweep *from, const ct_sweep *to, double share, ct_sweep *near)
{
    near->n = to->n;
    near->n_taps = to->n_taps;
    for (int i = 0; i < to->n; i++)
        ct_sweep_point_onward(&from->point[i], &to->point[i], share, &near->point[i]);
    for (int i = 0; i < to->n_taps; i++)
        ct_sweep_point_onward(&from->tap[i], &to->tap[i], share, &near->tap[i]);
}
