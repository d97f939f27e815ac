#include "study/season_stage.h"

#include <math.h>
#include <string.h>

#include "base/monotone.h"
#include "fluid/air.h"
#include "judge/fan_control.h"

/* From a dry coil to a swamp, as RH at room temperature; closest where houses are. */
static const double humidities[CT_SEASON_HUMIDITIES] = {0.20, 0.27, 0.34, 0.40, 0.45, 0.50,
                                                        0.55, 0.60, 0.65, 0.70, 0.77, 0.86};

#define EDGE 1e-6 /* K, rounding */

typedef struct {
    ct_solver *solver;
    ct_humidity_job job;
    ct_season_stage *stage;
    ct_start start; /* of the balance before */
    bool warm;
    ct_fault *fault;
} builder;

static ct_status node(builder *b, int w, int t)
{
    ct_season_stage *s = b->stage;
    const ct_house_at at = {s->T[t], s->W[w], b->warm ? &b->start : NULL};
    ct_house_unit unit;
    ct_status status = ct_humidity_unit(b->solver, &b->job, &at, &unit, b->fault);

    s->balances++;
    b->warm = status == CT_OK;
    if (status != CT_OK) return status;
    if (!(unit.point.Q_net > 0.0))
        return ct_fault_say(b->fault, CT_NO_ROOT, "no sensible cooling reaches the rooms");
    b->start = ct_balance_start(&unit.balance);
    s->Q_house[w][t] = unit.point.Q_net;
    /* Damper air cannot give less; the last digits of two balances may say so. */
    s->water[w][t] = w > 0 ? fmax(unit.point.water, s->water[w - 1][t]) : unit.point.water;
    s->Q_net[w][t] = unit.balance.Q_net;
    s->P[w][t] = unit.balance.P_total;
    s->W_leak[t] = unit.W_leak;
    s->m_leak = unit.m_leak;
    return CT_OK;
}

/* What a running blower gives back is scaled from the water at 80/67 F. 0, where there is none, is
 * refused by part/room.h when it matters. */
static void rate_water(builder *b, int t)
{
    b->stage->balances++;
    b->stage->water_rated[t] =
        ct_humidity_water_rated(b->solver, &b->job, b->stage->T[t], &b->start, NULL);
}

static ct_status one_outdoors(builder *b, int t)
{
    ct_status status = CT_OK;

    for (int w = 0; status == CT_OK && w < CT_SEASON_HUMIDITIES; w++)
        status = node(b, w, t);
    if (status == CT_OK) rate_water(b, t);
    return status;
}

/* The grid's temperatures around the range, at least two. */
static void choose_outdoors(const ct_season_range *range, int *first, int *last)
{
    const double a = (range->low - CT_SEASON_T_FIRST) / CT_SEASON_T_STEP;
    const double z = (range->high - CT_SEASON_T_FIRST) / CT_SEASON_T_STEP;

    *first = (int)floor(fmin(fmax(a + 1e-9, 0.0), CT_SEASON_OUTDOORS - 2));
    *last = (int)ceil(fmin(fmax(z - 1e-9, *first + 1), CT_SEASON_OUTDOORS - 1));
}

static void move_down(ct_season_stage *s, int from, int to)
{
    ct_season_grid *const grids[] = {&s->Q_house, &s->water, &s->Q_net, &s->P};

    if (from == to) return;
    for (size_t g = 0; g < sizeof grids / sizeof grids[0]; g++)
        for (int w = 0; w < CT_SEASON_HUMIDITIES; w++)
            (*grids[g])[w][to] = (*grids[g])[w][from];
    s->water_rated[to] = s->water_rated[from];
    s->W_leak[to] = s->W_leak[from];
    s->T[to] = s->T[from];
}

/* The longest run of temperatures that balance; of two equal ones the hotter, where a nameplate
 * says most. */
static void keep_longest(ct_season_stage *s, const bool *good, int n)
{
    int best = 0, best_n = 0;

    for (int i = 0, from = 0; i <= n; i++) {
        if (i < n && good[i]) continue;
        if (i - from >= best_n) {
            best = from;
            best_n = i - from;
        }
        from = i + 1;
    }
    for (int i = 0; i < best_n; i++)
        move_down(s, best + i, i);
    s->n_T = best_n;
}

ct_status ct_season_tabulate(ct_solver *solver, const ct_sweep_job *job, const ct_point *point,
                             const ct_season_range *range, ct_season_stage *out, ct_fault *fault)
{
    const double W_sat = ct_air_W_sat(job->indoor.T, job->indoor.p);
    ct_fault why = {.what = ""};
    builder b = {.solver = solver,
                 .job = {.c = job->c,
                         .system = &job->system,
                         .outside = job->has_outside ? &job->outside : NULL,
                         .indoor = job->indoor,
                         .m_da = point->m_da,
                         .P_blower = point->P_blower},
                 .stage = out,
                 .fault = &why};
    bool good[CT_SEASON_OUTDOORS];
    int first, last;

    if (point->status != CT_OK)
        return ct_fault_say(fault, CT_NO_ROOT, "no balance at this speed: %s", point->why);
    *out = (ct_season_stage){.P_blower = point->P_blower};
    for (int w = 0; w < CT_SEASON_HUMIDITIES; w++)
        out->W[w] = humidities[w] * W_sat;
    choose_outdoors(range, &first, &last);
    for (int t = 0; t <= last - first; t++) {
        out->T[t] = CT_SEASON_T_FIRST + (first + t) * CT_SEASON_T_STEP;
        good[t] = one_outdoors(&b, t) == CT_OK;
    }
    keep_longest(out, good, last - first + 1);
    if (out->n_T >= 2) return CT_OK;
    return ct_fault_say(fault, CT_NO_ROOT,
                        "the equipment balances at fewer than two outdoor temperatures of the "
                        "season: %s",
                        why.what);
}

ct_status ct_season_tabulate_cut(ct_solver *solver, const ct_sweep_job *job, const ct_point *point,
                                 const ct_season_range *range, ct_season_stage *out,
                                 ct_fault *fault)
{
    ct_sweep_job job_cut;
    ct_point cut = *point;

    ct_fan_control_cut_job(job, point, &job_cut);
    if (point->status == CT_OK) ct_fan_control_cut(job, &cut);
    return ct_season_tabulate(solver, &job_cut, &cut, range, out, fault);
}

/* ---- Reading --------------------------------------------------------------------- */

static double over_T(const ct_season_stage *s, const double *row, double T)
{
    const ct_monotone m = {s->T, row, s->n_T, 1};

    return ct_monotone_at(&m, T);
}

void ct_season_at(const ct_season_stage *s, double T, ct_season_now *now)
{
    const double at = fmin(fmax(T, s->T[0]), s->T[s->n_T - 1]);

    now->held = fabs(at - T) > EDGE;
    now->equipment.high = NULL;
    now->equipment.n = CT_SEASON_HUMIDITIES;
    now->equipment.P_blower = s->P_blower;
    now->equipment.water_rated = over_T(s, s->water_rated, at);
    now->equipment.m_leak = s->m_leak;
    now->equipment.W_leak = over_T(s, s->W_leak, at);
    double least = 0.0; /* rounding of a cubic must not make damper air give less water */
    for (int w = 0; w < CT_SEASON_HUMIDITIES; w++) {
        least = fmax(least, over_T(s, s->water[w], at));
        now->equipment.point[w] = (ct_room_point){s->W[w], over_T(s, s->Q_house[w], at), least};
        now->Q_net[w] = over_T(s, s->Q_net[w], at);
        now->P[w] = over_T(s, s->P[w], at);
    }
}

double ct_season_read(const ct_season_now *now, const double *row, double W)
{
    double x[CT_SEASON_HUMIDITIES];
    const ct_monotone m = {x, row, CT_SEASON_HUMIDITIES, 1};

    for (int w = 0; w < CT_SEASON_HUMIDITIES; w++)
        x[w] = now->equipment.point[w].W;
    return ct_monotone_at(&m, fmin(fmax(W, x[0]), x[CT_SEASON_HUMIDITIES - 1]));
}
