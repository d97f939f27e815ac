#include "judge/sweep.h"

#include <math.h>
#include <stdio.h>

#include "judge/airflow.h"
#include "judge/judge.h"

const ct_point *ct_sweep_speeds(const ct_sweep *s, int *n)
{
    if (n) *n = s->n_taps > 0 ? s->n_taps : s->n;
    return s->n_taps > 0 ? s->tap : s->point;
}

/* ---- Points ---------------------------------------------------------------------- */

/* Where a search begins: a neighbor's balance, or nothing known. */
static ct_airflow begin(ct_solver *solver, const ct_sweep_job *job, const ct_start *start)
{
    ct_airflow a = {.solver = solver,
                    .system = &job->system,
                    .at = {.in = job->indoor, .T_out = job->T_out},
                    .v = ct_airflow_volume(&job->system, &job->indoor, NULL),
                    .warm = start != NULL};

    if (start) a.start = *start;
    return a;
}

static void keep(ct_point *p, ct_status status, const ct_fault *fault)
{
    p->status = status;
    snprintf(p->why, sizeof p->why, "%s", status == CT_OK ? "" : fault->what);
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
    ct_airflow a = begin(solver, job, start);
    ct_fault fault = {.what = ""};

    a.at.m_da = m_da;
    a.at.P_blower = P_blower;
    *point = (ct_point){.tap = -1, .m_da = m_da, .P_blower = P_blower};
    keep(point, ct_airflow_balance(&a, &point->balance, &fault), &fault);
    name_airflow(job, a.v, point);
    meet_ducts(job, point);
    ct_judge_point(a.solver, job, NULL, point);
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

/* A sweep point at the mass flow a->at.m_da. Its watts depend on the volume at the blower, that on
 * the air leaving the coil, and that, weakly, on the watts: a few rounds of substitution, the first
 * with V m3/s. */
static void sweep_at(ct_airflow *a, const ct_sweep_job *job, const ct_blower_line *line, double V,
                     const ct_near *near, ct_point *point)
{
    ct_fault fault = {.what = ""};
    double m_da = a->at.m_da;

    *point = (ct_point){.tap = -1, .m_da = m_da};
    for (int i = 0; i < CT_AIRFLOW_ROUNDS; i++) {
        a->at.P_blower = point->P_blower = watts_along(job, line, m_da, V);
        keep(point, ct_airflow_balance(a, &point->balance, &fault), &fault);
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
    sweep_at(&a, job, &line, a.at.m_da / CT_STD_DENSITY, NULL, point);
    return CT_OK;
}

static ct_status tap_at(ct_airflow *a, const ct_sweep_job *job, int i, const ct_near *near,
                        ct_point *point, ct_fault *fault)
{
    ct_blower_point meet;
    ct_point p = {.tap = i};
    ct_fault unsettled = {.what = ""};
    ct_status status = ct_blower_meet(&job->blower, i, &job->duct, &meet, fault);

    if (status != CT_OK) return status;
    a->at.P_blower = p.P_blower = meet.P;
    status = ct_airflow_settle(a, ct_sweep_job_delivered(job) * meet.V, &p.balance, &unsettled);
    keep(&p, status, &unsettled);
    p.m_da = a->at.m_da;
    name_airflow(job, a->v, &p);
    p.has_dp = true;
    p.dp = meet.dp;
    p.over_limit = meet.over_limit;
    p.below_table = meet.below_table;
    ct_judge_point(a->solver, job, near, &p);
    *point = p;
    return CT_OK;
}

ct_status ct_sweep_tap(ct_solver *solver, const ct_sweep_job *job, int i, ct_point *point,
                       ct_fault *fault)
{
    ct_airflow a = begin(solver, job, NULL);

    return tap_at(&a, job, i, NULL, point, fault);
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

static void run_taps(ct_solver *solver, const ct_sweep_job *job, ct_sweep *s)
{
    s->n_taps = ct_sweep_job_has_taps(job) ? job->blower.n_taps : 0;
    for (int i = 0; i < s->n_taps; i++) {
        ct_fault fault;
        ct_status status = ct_sweep_tap(solver, job, i, &s->tap[i], &fault);
        if (status != CT_OK) refuse_tap(i, status, &fault, &s->tap[i]);
    }
    sort_taps(s);
}

enum { BEFORE = CT_AHEAD_MOST }; /* points that say where the next one lies */

/* Along the sweep each balance begins where the last ones point to. */
static ct_start extrapolate(const ct_sweep *s, int i)
{
    ct_start last[BEFORE];
    int n = 0;

    while (n < BEFORE && n < i && s->point[i - 1 - n].status == CT_OK) {
        last[n] = ct_balance_start(&s->point[i - 1 - n].balance);
        n++;
    }
    return ct_balance_ahead(last, n);
}

static ct_near near_ahead(const ct_point *p, int i, int k)
{
    ct_start last[BEFORE];
    double W[BEFORE];
    ct_near next = p[i - 1].seen[k];
    int n = 0;

    while (n < BEFORE && n < i && p[i - 1 - n].seen[k].start.Te > 0.0) {
        last[n] = p[i - 1 - n].seen[k].start;
        W[n] = p[i - 1 - n].seen[k].W;
        n++;
    }
    if (n == 0) return next;
    next.W = fmax(0.0, ct_ahead(W, n));
    next.start = ct_balance_ahead(last, n);
    return next;
}

/* So do the searches for the house. */
static const ct_near *ahead(const ct_point *p, int i, ct_near out[CT_SEEN_COUNT])
{
    if (i == 0) return NULL;
    for (int k = 0; k < CT_SEEN_COUNT; k++)
        out[k] = near_ahead(p, i, k);
    return out;
}

/* The band only where the pick is made. */
static void all_humidity(ct_solver *solver, const ct_sweep_job *job, ct_sweep *s)
{
    const unsigned all = CT_ALSO_FAN_ON | CT_ALSO_BAND;
    const unsigned airflows = s->n_taps > 0 ? CT_ALSO_FAN_ON : all;

    ct_near near[CT_SEEN_COUNT];

    for (int i = 0; i < s->n; i++)
        ct_judge_humidity(solver, job, airflows, ahead(s->point, i, near), &s->point[i]);
    for (int i = 0; i < s->n_taps; i++)
        ct_judge_humidity(solver, job, all, i > 0 ? s->tap[i - 1].seen : NULL, &s->tap[i]);
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
        bool warm = i > 0 && s->point[i - 1].status == CT_OK;
        ct_start start = warm ? extrapolate(s, i) : (ct_start){0};
        ct_airflow a = begin(solver, job, warm ? &start : NULL);
        a.at.m_da = V_per_ton * tons * CT_STD_DENSITY;
        ct_near near[CT_SEEN_COUNT];
        sweep_at(&a, job, &line, a.at.m_da / CT_STD_DENSITY, ahead(s->point, i, near),
                 &s->point[i]);
    }
    run_taps(solver, job, s);
    all_humidity(solver, job, s);
    return CT_OK;
}

/* Each point begins at its neighbor, the tap of the same place in the table at its own airflow. */
static ct_airflow begin_at(ct_solver *solver, const ct_sweep_job *job, const ct_point *near)
{
    const ct_start start = ct_balance_start(&near->balance);
    ct_airflow a = begin(solver, job, near->status == CT_OK ? &start : NULL);

    a.at.m_da = near->m_da;
    if (near->status == CT_OK) a.v = near->V / near->m_da;
    return a;
}

static void tap_near(ct_solver *solver, const ct_sweep_job *job, const ct_point *near,
                     ct_point *tap)
{
    ct_airflow a = begin_at(solver, job, near);
    ct_fault fault;
    ct_status status = tap_at(&a, job, near->tap, near->seen, tap, &fault);

    if (status != CT_OK) refuse_tap(near->tap, status, &fault, tap);
}

void ct_sweep_near(ct_solver *solver, const ct_sweep_job *job, const ct_sweep *near, ct_sweep *s)
{
    bool humidity = job->c->house.rh_ceiling.has;
    const ct_blower_line line = near->n > 0 ? line_of(job) : (ct_blower_line){.n = 0};

    s->n = near->n;
    s->n_taps = near->n_taps;
    for (int i = 0; i < s->n; i++) {
        const ct_point *n = &near->point[i];
        ct_airflow a = begin_at(solver, job, n);
        double V = n->status == CT_OK ? n->V : n->m_da / CT_STD_DENSITY;
        sweep_at(&a, job, &line, V, n->seen, &s->point[i]);
        if (humidity && s->n_taps == 0) ct_judge_humidity(solver, job, 0, n->seen, &s->point[i]);
    }
    for (int i = 0; i < s->n_taps; i++) {
        tap_near(solver, job, &near->tap[i], &s->tap[i]);
        if (humidity) ct_judge_humidity(solver, job, 0, near->tap[i].seen, &s->tap[i]);
    }
}
