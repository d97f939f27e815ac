#include "explore/facts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/complain.h"
#include "base/text_stream.h"
#include "base/units.h"
#include "judge/pick.h"
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
    ct_sweep_job entered = u->job;
    ct_fault fault;
    ct_point p;
    entered.only_entered = true; /* the house is not looked at */
    tap.has = ct_sweep_tap(u->j->solver, &entered, i, &p, &fault) == CT_OK;
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

/* ---- The pick -------------------------------------------------------------------- */

/* A tap stands where its stop does. */
static double airflow_of(const explore_unit *u, const ct_point *p)
{
    for (int i = 0; p->tap >= 0 && i < u->n_taps; i++)
        if (u->tap[i].has && u->tap[i].name == u->job.blower.tap[p->tap].name)
            return u->tap[i].V_std_per_ton;
    return p->V_std_per_ton;
}

/* The same answer as sweep's, at the case's own weather and load: no speed is found for a unit that
 * must not be installed. */
static ct_status find_pick(explore_unit *u, ct_fault *fault)
{
    ct_pick pick = {.found = false};
    ct_sweep *s = calloc(1, sizeof *s);
    const ct_status status = s ? ct_sweep_speeds_only(u->j->solver, &u->job, s, fault)
                               : ct_fault_say(fault, CT_SYSTEM, "out of memory for the sweep");
    if (status == CT_OK) {
        ct_pick_lowest(&u->job, s, &pick);
        const ct_point *p = pick.found ? ct_pick_point(&pick, s) : ct_sweep_nearest(s);
        u->has_pick = pick.found;
        if (p) u->V_begin = (ct_maybe){true, airflow_of(u, p)};
        u->notes = p ? p->notes : 0;
        if (p && p->has_hot) u->T_hot = (ct_maybe){true, p->T_hot};
    }
    free(s);
    return status;
}

/* ---- Sliders --------------------------------------------------------------------- */

typedef struct {
    double low, high;
} range;

static range with(range r, double v)
{
    return (range){fmin(r.low, v), fmax(r.high, v)};
}

/* The range of the case's sweep, and every speed in it. */
static range airflows(const explore_unit *u)
{
    range r = {u->j->c->sweep.V_per_ton_min, u->j->c->sweep.V_per_ton_max};
    for (int i = 0; i < u->n_taps; i++)
        if (u->tap[i].has) r = with(r, u->tap[i].V_std_per_ton);
    return r;
}

/* So far that the lesson's places lie within. */
static range reach(const lesson *l, int axis, range r)
{
    if (l && l->before.has[axis]) r = with(r, l->before.at[axis]);
    if (l && l->after.has[axis]) r = with(r, l->after.at[axis]);
    return r;
}

static void set_axes(const explore_unit *u, const lesson *l, grid *g)
{
    const double load = u->j->c->house.Q_sensible;
    const range all[AXES] = {
        [AXIS_AIR] = airflows(u),
        [AXIS_OUTDOORS] = with((range){OUTDOORS_LOW, OUTDOORS_HIGH}, u->job.T_out),
        [AXIS_HUMIDITY] = with((range){HUMIDITY_LOW, HUMIDITY_HIGH}, ct_air_rh(&u->job.indoor)),
        [AXIS_LOAD] = {LOAD_LOW * load, LOAD_HIGH * load},
    };
    static const int nodes[AXES] = {AIR_NODES, OUTDOOR_NODES, HUMIDITY_NODES, LOAD_NODES};
    g->job = &u->job;
    for (int a = 0; a < AXES; a++) {
        const range r = reach(l, a, all[a]);
        const bool crowded = a == AXIS_HUMIDITY || a == AXIS_LOAD;
        g->axis[a] = crowded ? grid_axis_crowded(r.low, r.high, nodes[a])
                             : grid_axis_even(r.low, r.high, nodes[a]);
    }
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
    explore_unit *u = &f->unit[f->n++];
    const ct_setup setup = job_setup(j, i);
    ct_fault fault;
    *u = (explore_unit){.j = j, .name = j->c->indoor[i].name};
    u->refusal = refusal_of(u, i, f->metric);
    u->good = ct_sweep_prepare(&setup, &u->job, &fault) == CT_OK;
    if (u->good) {
        find_taps(u);
        u->good = find_pick(u, &fault) == CT_OK;
    }
    if (!u->good) {
        u->code = exit_code_of(fault.status);
        snprintf(u->why, sizeof u->why, "%s", fault.what);
        return;
    }
    u->grid = &f->grids[f->n_grids];
    set_axes(u, f->lesson, &f->grids[f->n_grids++]);
}

/* The lesson's second unit: the case once more, with the lesson's keys. */
static exit_code open_second(const arguments *args, explore_facts *f)
{
    const lesson *l = f->lesson;
    arguments changed = *args;
    changed.save.given = false;
    if (args->n_pairs + l->n_changes > MAX_PAIRS) {
        complain("more than %d changed keys with those of the lesson", MAX_PAIRS);
        return EXIT_USAGE;
    }
    for (int i = 0; i < l->n_changes; i++) {
        const int k = changed.n_pairs++;
        snprintf(changed.pair[k].key, sizeof changed.pair[k].key, "%s", l->change[i].key);
        changed.pair[k].text = l->change[i].value;
    }
    const exit_code code = job_open(&changed, &f->second);
    f->has_second = code == EXIT_DONE;
    if (!f->has_second) return code;
    join(&f->second, 0, f);
    f->unit[f->n - 1].name = l->unit;
    return EXIT_DONE;
}

/* A unit that does not settle has its place on the page; a system that fails leaves no page. */
static exit_code trouble(const explore_facts *f)
{
    for (int i = 0; i < f->n; i++) {
        if (f->unit[i].code != EXIT_SYSTEM) continue;
        complain("%s: %s", f->unit[i].name, f->unit[i].why);
        return EXIT_SYSTEM;
    }
    return EXIT_DONE;
}

exit_code explore_work_out(const arguments *args, job *j, const lesson *l, explore_facts *f)
{
    ct_fault fault;
    f->j = j;
    f->lesson = l;
    for (int i = 0; i < j->c->n_indoor; i++)
        join(j, i, f);
    exit_code code = l && l->unit ? open_second(args, f) : EXIT_DONE;
    if (code == EXIT_DONE) code = trouble(f);
    if (code != EXIT_DONE) return code;
    const ct_status status = grid_fill(f->grids, f->n_grids, &fault);
    return status == CT_OK ? EXIT_DONE : complain_fault(&fault);
}

void explore_free(explore_facts *f)
{
    for (int i = 0; i < f->n_grids; i++)
        grid_free(&f->grids[i]);
    for (int i = 0; i < f->n; i++)
        free(f->unit[i].refusal);
    if (f->has_second) job_close(&f->second);
}
