#include "explore/grid.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/parallel.h"
#include "judge/sweep.h"

grid_axis grid_axis_even(double from, double to, int n)
{
    grid_axis a = {.n = n};
    for (int i = 0; i < n; i++)
        a.at[i] = from + (to - from) * i / (n - 1);
    return a;
}

grid_axis grid_axis_crowded(double from, double to, int n)
{
    grid_axis a = {.n = n};
    for (int i = 0; i < n; i++) {
        const double share = (double)i / (n - 1);
        a.at[i] = from + (to - from) * share * (1.0 + share) / 2.0;
    }
    return a;
}

/* The ends of an axis stay: its nodes are odd in number. */
static int step_of(unsigned axes, int axis)
{
    return (axes & THINNED) && axis == AXIS_AIR ? 2 : 1;
}

int grid_nodes(const grid *g, unsigned axes, int axis)
{
    return axes & 1u << axis ? (g->axis[axis].n - 1) / step_of(axes, axis) + 1 : 1;
}

int grid_size(const grid *g, int figure)
{
    const unsigned axes = figure_axes(figure_at(figure), g->job->c);
    int n = 1;
    for (int a = 0; a < AXES; a++)
        n *= grid_nodes(g, axes, a);
    return n;
}

/* ---- One worker ------------------------------------------------------------------ */

/* The sweeps of a slab take turns: each begins where the two before it lead. */
typedef struct {
    ct_solver *solver;
    ct_case *c; /* the case with the sliders in it */
    ct_sweep *at, *before, *older, *near;
} worker;

static bool worker_make(worker *w)
{
    w->c = malloc(sizeof *w->c);
    w->at = calloc(1, sizeof *w->at);
    w->before = calloc(1, sizeof *w->before);
    w->older = calloc(1, sizeof *w->older);
    w->near = calloc(1, sizeof *w->near);
    return w->c && w->at && w->before && w->older && w->near &&
           ct_solver_make(&w->solver, NULL) == CT_OK;
}

static void worker_free(worker *w)
{
    ct_solver_free(w->solver);
    free(w->near);
    free(w->older);
    free(w->before);
    free(w->at);
    free(w->c);
}

/* The airflows to work at, every `step` of them, no neighbor known. */
static void begin(const grid *g, int step, ct_sweep *near)
{
    const grid_axis *air = &g->axis[AXIS_AIR];
    const double tons = g->job->system.outdoor.tons;
    near->n = (air->n - 1) / step + 1;
    near->n_taps = 0;
    for (int i = 0; i < near->n; i++)
        near->point[i] =
            (ct_point){.status = CT_NO_ROOT, .m_da = air->at[step * i] * tons * CT_STD_DENSITY};
}

/* ---- One outdoor temperature ----------------------------------------------------- */

typedef struct {
    grid *g;
    bool house; /* over the loads, else over the humidities */
    int outdoors;
} slab;

typedef struct {
    grid *grids;
    worker *workers;
    grid_bound (*bound)[MAX_FIGURES]; /* of each slab */
    ct_outcome *trouble;
} fill;

/* Of one grid: the weather's, then the house's. */
enum { SLABS = 2 * OUTDOOR_NODES };

static slab slab_of(grid *grids, int i)
{
    const int k = i % SLABS;
    const bool house = k >= OUTDOOR_NODES;
    return (slab){&grids[i / SLABS], house, k % OUTDOOR_NODES};
}

/* Air of the humidity wanted, at the temperature and pressure of the case's. */
static ct_air return_air(const ct_air *now, double rh)
{
    ct_air air = *now;
    if (ct_air_from_rh(now->T, rh, now->p, &air, NULL) != CT_OK) air.W = (double)NAN;
    return air;
}

/* The case with the sliders of a slab at `step` of its other axis. */
static ct_sweep_job job_at(const slab *s, int step, ct_case *c)
{
    ct_sweep_job job = *s->g->job;
    *c = *job.c;
    job.c = c;
    job.T_out = c->site.T_outdoor = s->g->axis[AXIS_OUTDOORS].at[s->outdoors];
    if (s->house) {
        /* A sweep that begins at a neighbor settles the humidity of houses with a ceiling. */
        if (!c->house.rh_ceiling.has) c->house.rh_ceiling = (ct_maybe){true, 1.0};
        c->house.Q_sensible = s->g->axis[AXIS_LOAD].at[step];
        return job;
    }
    c->house.rh_ceiling.has = false;
    job.only_entered = c->house.judge_load_at == CT_LOAD_SETTLED;
    job.indoor = return_air(&job.indoor, s->g->axis[AXIS_HUMIDITY].at[step]);
    return job;
}

/* Where a figure keeps this node; -1: it belongs to another. */
static int place_of(const slab *s, const figure_row *row, const int node[AXES])
{
    const unsigned axes = figure_axes(row, s->g->job->c);
    int at = 0;
    if (((axes & THINNED) != 0) != s->house) return -1;
    for (int a = 0; a < AXES; a++) {
        if (axes & 1u << a)
            at = at * grid_nodes(s->g, axes, a) + node[a] / step_of(axes, a);
        else if (node[a] != 0)
            return -1;
    }
    return at;
}

static void note_bound(const slab *s, int figure, const ct_point *p, grid_bound *bound)
{
    const figure_row *row = figure_at(figure);
    const ct_judgment *j = &p->limit[row->limit];
    *bound = (grid_bound){true, row->at_most, figure_bound(row, s->g->job, p),
                          limit_words_of(row->limit, p)};
    /* The range of a furnace has two ends. */
    if (row->axes == 0) bound->at_most = (j->bound > j->value) == (j->slack >= 0);
}

static void keep(const slab *s, const int node[AXES], const ct_point *p, grid_bound *bound)
{
    for (int i = 0; i < figures_count(); i++) {
        const figure_row *row = figure_at(i);
        const int at = place_of(s, row, node);
        if (at < 0) continue;
        const double v = row->of(s->g->job, p);
        s->g->value[i][at] = v;
        if (row->is_slack && isfinite(v) && !bound[i].has) note_bound(s, i, p, &bound[i]);
    }
}

/* The sweep at a node of the other axis, from the nodes before it. */
static void sweep_node(worker *w, const ct_sweep_job *job, const grid_axis *other, int node)
{
    const double *at = other->at;
    ct_sweep *spare = w->older;
    w->older = w->before;
    w->before = w->at;
    w->at = spare;
    if (node == 1) ct_sweep_onward(w->before, w->before, 1.0, w->near);
    if (node > 1)
        ct_sweep_onward(w->older, w->before,
                        (at[node] - at[node - 2]) / (at[node - 1] - at[node - 2]), w->near);
    ct_sweep_near(w->solver, job, w->near, w->at);
}

static void work(int i, int k, void *context)
{
    fill *f = context;
    const slab s = slab_of(f->grids, i);
    worker *w = &f->workers[k];
    const explore_axis other = s.house ? AXIS_LOAD : AXIS_HUMIDITY;
    const int stride = s.house ? 2 : 1;
    begin(s.g, stride, w->near);
    for (int step = 0; step < s.g->axis[other].n; step++) {
        const ct_sweep_job job = job_at(&s, step, w->c);
        sweep_node(w, &job, &s.g->axis[other], step);
        for (int air = 0; air < w->at->n; air++) {
            int node[AXES] = {[AXIS_AIR] = stride * air, [AXIS_OUTDOORS] = s.outdoors};
            node[other] = step;
            keep(&s, node, &w->at->point[air], f->bound[i]);
            if (w->at->point[air].status != CT_OK)
                f->trouble[i] = w->at->point[air].balance.outcome;
        }
    }
}

/* ---- All of them ----------------------------------------------------------------- */

static bool make_values(grid *g)
{
    bool good = true;
    for (int i = 0; good && i < figures_count(); i++) {
        const int n = grid_size(g, i);
        g->value[i] = malloc((size_t)n * sizeof(double));
        good = g->value[i] != NULL;
        for (int k = 0; good && k < n; k++)
            g->value[i][k] = (double)NAN;
    }
    return good;
}

/* The first slab that knows a bound says it, whoever worked it out first. */
static void gather(fill *f, int n_slabs)
{
    for (int i = n_slabs - 1; i >= 0; i--) {
        grid *g = slab_of(f->grids, i).g;
        if (f->trouble[i] != CT_BALANCED) g->trouble = f->trouble[i];
        for (int k = 0; k < figures_count(); k++)
            if (f->bound[i][k].has) g->bound[k] = f->bound[i][k];
    }
}

static bool fill_all(fill *f, int n, int n_workers)
{
    const int n_slabs = n * SLABS;
    bool good = true;
    f->bound = calloc((size_t)n_slabs, sizeof *f->bound);
    f->trouble = calloc((size_t)n_slabs, sizeof *f->trouble);
    for (int i = 0; good && i < n; i++)
        good = make_values(&f->grids[i]);
    for (int i = 0; good && i < n_workers; i++)
        good = worker_make(&f->workers[i]);
    good = good && f->bound && f->trouble;
    if (good) {
        ct_parallel(n_workers, n_slabs, work, f);
        gather(f, n_slabs);
    }
    free(f->trouble);
    free(f->bound);
    return good;
}

ct_status grid_fill(grid *grids, int n, ct_fault *fault)
{
    const int n_workers = ct_parallel_workers(0);
    fill f = {.grids = grids, .workers = calloc((size_t)n_workers, sizeof *f.workers)};
    const bool good = f.workers && fill_all(&f, n, n_workers);
    for (int i = 0; f.workers && i < n_workers; i++)
        worker_free(&f.workers[i]);
    free(f.workers);
    return good ? CT_OK : ct_fault_say(fault, CT_SYSTEM, "out of memory for the balances");
}

void grid_free(grid *g)
{
    for (int i = 0; i < MAX_FIGURES; i++)
        free(g->value[i]);
}
