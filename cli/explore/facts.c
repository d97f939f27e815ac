#include "explore/facts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/text_stream.h"
#include "base/units.h"
#include "show/verdict.h"

/* How far the sliders go, unless the case is beyond. */
#define OUTDOORS_LOW ct_K_from_F(70)
#define OUTDOORS_HIGH ct_K_from_F(115)
#define HUMIDITY_LOW 0.30
#define HUMIDITY_HIGH 0.70
#define LOAD_LOW 0.5 /* of the case's */
#define LOAD_HIGH 1.4

/* ---- Blower speeds --------------------------------------------------------------- */

static explore_tap tap_of(const explore_unit *u, int i)
{
    explore_tap tap = {.name = u->job.blower.tap[i].name};
    ct_fault fault;
    ct_point p;
    tap.has = ct_sweep_tap(u->j->solver, &u->job, i, &p, &fault) == CT_OK;
    if (tap.has) {
        tap.V_std_per_ton = p.V_std_per_ton;
        tap.dp = p.limit[CT_LIMIT_STATIC];
    } else {
        snprintf(tap.why, sizeof tap.why, "%s", fault.what);
    }
    return tap;
}

static int by_airflow(const void *a, const void *b)
{
    const double x = ((const explore_tap *)a)->V_std_per_ton;
    const double y = ((const explore_tap *)b)->V_std_per_ton;
    return (x > y) - (x < y);
}

static void find_taps(explore_unit *u)
{
    u->n_taps = ct_sweep_job_has_taps(&u->job) ? u->job.blower.n_taps : 0;
    for (int i = 0; i < u->n_taps; i++)
        u->tap[i] = tap_of(u, i);
    qsort(u->tap, (size_t)u->n_taps, sizeof *u->tap, by_airflow);
}

/* ---- Sliders --------------------------------------------------------------------- */

/* The range of the case's sweep, and every speed in it. */
static grid_axis airflows(const explore_unit *u)
{
    const ct_sweep_range *r = &u->j->c->sweep;
    double low = r->V_per_ton_min, high = r->V_per_ton_max;
    for (int i = 0; i < u->n_taps; i++) {
        if (!u->tap[i].has) continue;
        low = fmin(low, u->tap[i].V_std_per_ton);
        high = fmax(high, u->tap[i].V_std_per_ton);
    }
    return grid_axis_even(low, high, AIR_NODES);
}

static void set_axes(const explore_unit *u, grid *g)
{
    const double T_out = u->job.T_out, rh = ct_air_rh(&u->job.indoor);
    const double load = u->j->c->house.Q_sensible;
    g->job = &u->job;
    g->axis[AXIS_AIR] = airflows(u);
    g->axis[AXIS_OUTDOORS] =
        grid_axis_even(fmin(OUTDOORS_LOW, T_out), fmax(OUTDOORS_HIGH, T_out), OUTDOOR_NODES);
    g->axis[AXIS_HUMIDITY] =
        grid_axis_crowded(fmin(HUMIDITY_LOW, rh), fmax(HUMIDITY_HIGH, rh), HUMIDITY_NODES);
    g->axis[AXIS_LOAD] = grid_axis_crowded(LOAD_LOW * load, LOAD_HIGH * load, LOAD_NODES);
}

/* ---- Units ----------------------------------------------------------------------- */

static char *refusal_of(const explore_unit *u, int i, bool metric)
{
    const verdict v = verdict_of(u->j->c, u->j->refrigerant, &u->j->c->indoor[i], metric);
    char *text = NULL;
    size_t size;
    if (!verdict_refuses(&v)) return NULL;
    FILE *stream = text_stream(&text, &size);
    if (!stream) return NULL;
    verdict_print(stream, &v, 0);
    return fclose(stream) == 0 ? text : NULL;
}

static void join(const job *j, int i, explore_facts *f)
{
    explore_unit *u = &f->unit[i];
    const ct_setup setup = job_setup(j, i);
    ct_fault fault;
    *u = (explore_unit){.j = j, .name = j->c->indoor[i].name};
    u->refusal = refusal_of(u, i, f->metric);
    u->good = ct_sweep_prepare(&setup, &u->job, &fault) == CT_OK;
    if (!u->good) {
        snprintf(u->why, sizeof u->why, "%s", fault.what);
        return;
    }
    find_taps(u);
    u->grid = &f->grids[f->n_grids];
    set_axes(u, &f->grids[f->n_grids++]);
}

exit_code explore_work_out(job *j, bool metric, explore_facts *f)
{
    ct_fault fault;
    *f = (explore_facts){.j = j, .metric = metric, .n = j->c->n_indoor};
    for (int i = 0; i < f->n; i++)
        join(j, i, f);
    const ct_status status = grid_fill(f->grids, f->n_grids, &fault);
    return status == CT_OK ? EXIT_DONE : complain_fault(&fault);
}

void explore_free(explore_facts *f)
{
    for (int i = 0; i < f->n_grids; i++)
        grid_free(&f->grids[i]);
    for (int i = 0; i < f->n; i++)
        free(f->unit[i].refusal);
}
