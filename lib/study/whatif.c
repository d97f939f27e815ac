#include "study/whatif.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "judge/hottest.h"

#define GRID 0.25
#define CLOSE 1e-3
/* Airflows worked out for all inputs together before the search gives up: about three seconds. Ten
 * taps need at most a fifth of it; a sweep of 501 airflows would need ten times as many. */
#define MOST_AIRFLOWS 25000

void ct_whatif_reach(ct_solver *solver, const ct_sweep_job *job, const ct_point *p, ct_reach *out)
{
    ct_fault fault = {.what = ""};

    *out = (ct_reach){.T_hottest = NAN};
    out->Q_load_max = p->status == CT_OK ? p->Q_load_max : 0.0;
    out->hot_status = ct_hottest_day(solver, job, p, &out->T_hottest, &fault);
    if (out->hot_status == CT_OK) return;
    out->T_hottest = NAN;
    snprintf(out->why, sizeof out->why, "%s", fault.what);
}

typedef struct {
    const ct_setup *setup;
    ct_sweep *speeds; /* nominal, the points the pick is made among only */
    ct_case *varied;
    ct_sweep *sweep;
    int allowed; /* picks for each input and direction */
} search;

#define NONE (-1)
#define IMPOSSIBLE (-2)

/* The pick with one input off by so many standard deviations. */
static int pick_at(const search *s, ct_vary_input input, double sigmas)
{
    double step[CT_VARY_COUNT] = {0};
    ct_sweep_job job;
    ct_pick pick;

    step[input] = sigmas * ct_vary_sigma(&s->setup->c->uncertainty, input);
    if (ct_vary_job(s->setup, step, s->varied, &job, NULL) != CT_OK) return IMPOSSIBLE;
    ct_sweep_near(s->setup->solver, &job, s->speeds, s->sweep);
    ct_pick_lowest(&job, s->sweep, &pick);
    return pick.found ? pick.index : NONE;
}

typedef struct {
    bool found, ends, cut;
    double at; /* signed standard deviations */
    int to;
} first_change;

static first_change look(const search *s, ct_vary_input input, int nominal, double direction)
{
    double same = 0.0;
    int left = s->allowed;

    for (double k = GRID; k <= CT_WHATIF_REACH + 0.5 * GRID; k += GRID) {
        if (left-- <= 0) return (first_change){.cut = true, .at = direction * same, .to = nominal};
        int pick = pick_at(s, input, direction * k);
        double other = k;
        if (pick == nominal) {
            same = k;
            continue;
        }
        while (other - same > CLOSE) {
            double mid = 0.5 * (same + other);
            int at_mid = pick_at(s, input, direction * mid);
            if (at_mid == nominal) {
                same = mid;
            } else {
                other = mid;
                pick = at_mid;
            }
        }
        return (first_change){.found = pick != IMPOSSIBLE,
                              .ends = pick == IMPOSSIBLE,
                              .at = direction * other,
                              .to = pick};
    }
    return (first_change){.at = direction * CT_WHATIF_REACH, .to = nominal};
}

static ct_tipping tip(const search *s, ct_vary_input input, int nominal)
{
    first_change up = look(s, input, nominal, 1.0), down = look(s, input, nominal, -1.0);
    ct_tipping t = {.input = input,
                    .sigma = ct_vary_sigma(&s->setup->c->uncertainty, input),
                    .changes = up.found || down.found,
                    .change = NAN,
                    .sigmas = INFINITY,
                    .to = nominal,
                    .cut = up.cut || down.cut,
                    .ends_up = up.ends,
                    .ends_down = down.ends,
                    .up = fabs(up.at),
                    .down = fabs(down.at)};
    first_change first = !down.found || (up.found && fabs(up.at) <= fabs(down.at)) ? up : down;

    if (!t.changes) return t;
    t.sigmas = fabs(first.at);
    t.change = first.at * t.sigma;
    t.to = first.to;
    return t;
}

static int by_sigmas(const void *a, const void *b)
{
    const ct_tipping *x = a, *y = b;

    if (x->sigmas != y->sigmas) return x->sigmas < y->sigmas ? -1 : 1;
    return (int)x->input - (int)y->input;
}

static void keep_speeds(const ct_sweep *nominal, ct_sweep *speeds)
{
    *speeds = *nominal;
    if (speeds->n_taps > 0) speeds->n = 0;
}

/* Shared by the inputs and their two directions; a change once found is always closed in on. */
static int picks_allowed(const ct_sweep *speeds, const ct_uncertainty *u)
{
    int searches = 0;

    for (int k = 0; k < CT_VARY_COUNT; k++)
        searches += ct_vary_sigma(u, (ct_vary_input)k) > 0.0 ? 2 : 0;
    return MOST_AIRFLOWS / ((speeds->n + speeds->n_taps + 1) * (searches + 1));
}

ct_status ct_whatif_run(const ct_setup *setup, const ct_sweep *nominal, ct_whatif *out,
                        ct_fault *fault)
{
    const ct_uncertainty *uncertainty = &setup->c->uncertainty;
    ct_whatif w = {.from_taps = nominal->n_taps > 0};
    search s = {.setup = setup};
    ct_status status = ct_vary_check(uncertainty, fault);

    if (status != CT_OK) return status;
    s.speeds = malloc(sizeof *s.speeds);
    s.sweep = calloc(1, sizeof *s.sweep);
    s.varied = malloc(sizeof *s.varied);
    if (!s.speeds || !s.sweep || !s.varied) {
        status = ct_fault_say(fault, CT_SYSTEM, "out of memory");
    } else {
        keep_speeds(nominal, s.speeds);
        s.allowed = picks_allowed(s.speeds, uncertainty);
        w.pick = pick_at(&s, CT_VARY_LOAD, 0.0);
        for (int k = 0; k < CT_VARY_COUNT; k++)
            if (ct_vary_sigma(uncertainty, (ct_vary_input)k) > 0.0)
                w.tipping[w.n++] = tip(&s, (ct_vary_input)k, w.pick);
        qsort(w.tipping, (size_t)w.n, sizeof w.tipping[0], by_sigmas);
        *out = w;
    }
    free(s.speeds);
    free(s.sweep);
    free(s.varied);
    return status;
}
