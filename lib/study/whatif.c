#include "study/whatif.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "judge/hottest.h"

#define GRID 0.25
#define CLOSE 1e-3
/* Airflows worked out for all inputs together before the search gives up: about three seconds, with
 * a piston, whose every airflow is balanced at its charge, a fourth of the number for about as long
 * again. Ten taps need at most a fifth of it. */
#define MOST_AIRFLOWS 25000
#define CHARGED_SHARE 4

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
    int nominal; /* the pick of the case as written */
    int allowed; /* picks for each input and direction */
    int left;    /* of these, with what the searches before did not need */
} search;

#define NONE (-1)
#define IMPOSSIBLE (-2)

/* The answer at one step of an input: the pick, and what fails at each speed. */
typedef struct {
    double at; /* standard deviations */
    int pick;
    unsigned fails[CT_MAX_SWEEP_POINTS]; /* deciding limits, a bit each */
} place;

static void note_failures(const ct_sweep *s, place *p)
{
    int n;
    const ct_point *points = ct_sweep_speeds(s, &n);

    for (int i = 0; i < n; i++) {
        p->fails[i] = 0;
        for (unsigned k = 0; k < CT_LIMIT_FIRST_ADVICE; k++)
            p->fails[i] |= points[i].limit[k].verdict == CT_FAILS ? 1u << k : 0u;
    }
}

static void look_at(const search *s, ct_vary_input input, double sigmas, place *p)
{
    double step[CT_VARY_COUNT] = {0};
    ct_sweep_job job;
    ct_pick pick;

    *p = (place){.at = sigmas, .pick = IMPOSSIBLE};
    step[input] = sigmas * ct_vary_sigma(&s->setup->c->uncertainty, input);
    if (ct_vary_job(s->setup, step, s->varied, &job, NULL) != CT_OK) return;
    ct_sweep_pair_low(s->setup->solver, &job);
    ct_sweep_near(s->setup->solver, &job, s->speeds, s->sweep);
    ct_pick_lowest(&job, s->sweep, &pick);
    p->pick = pick.found ? pick.index : NONE;
    note_failures(s->sweep, p);
}

/* Between two steps with the same pick, each slower speed failing at both on the same limit: one
 * input alone moves a limit's slack one way, so it fails between them too. */
static bool steady(const search *s, const place *a, const place *b)
{
    int n;
    ct_sweep_speeds(s->speeds, &n);
    const int slower = s->nominal == NONE ? n : s->nominal;

    if (a->pick != s->nominal || b->pick != s->nominal) return false;
    for (int i = 0; i < slower; i++)
        if (!(a->fails[i] & b->fails[i])) return false;
    return true;
}

typedef struct {
    bool found, ends, cut;
    double at; /* signed standard deviations */
    int to;
} first_change;

/* Closes in on the change between a step with the nominal pick and one without. */
static first_change close_in(const search *s, ct_vary_input input, double same, const place *other)
{
    double at = other->at;
    int to = other->pick;
    place mid;

    while (fabs(at - same) > CLOSE) {
        look_at(s, input, 0.5 * (same + at), &mid);
        if (mid.pick == s->nominal) {
            same = mid.at;
        } else {
            at = mid.at;
            to = mid.pick;
        }
    }
    return (first_change){.found = to != IMPOSSIBLE, .ends = to == IMPOSSIBLE, .at = at, .to = to};
}

/* The first change from a, with the nominal pick, to b: halved until it is steady, or as fine as
 * the grid. */
static first_change between(search *s, ct_vary_input input, const place *a, const place *b)
{
    first_change first = {.at = b->at, .to = s->nominal};
    place mid;

    if (steady(s, a, b)) return first;
    if (fabs(b->at - a->at) <= 1.5 * GRID)
        return b->pick == s->nominal ? first : close_in(s, input, a->at, b);
    if (s->left-- <= 0) return (first_change){.cut = true, .at = a->at, .to = s->nominal};
    look_at(s, input, 0.5 * (a->at + b->at), &mid);
    first = between(s, input, a, &mid);
    return first.found || first.ends || first.cut ? first : between(s, input, &mid, b);
}

static first_change look(search *s, ct_vary_input input, const place *nominal, double direction)
{
    place end;

    s->left += s->allowed;
    if (s->left-- <= 0) return (first_change){.cut = true, .to = s->nominal};
    look_at(s, input, direction * CT_WHATIF_REACH, &end);
    return between(s, input, nominal, &end);
}

static ct_tipping tip(search *s, ct_vary_input input, const place *nominal)
{
    first_change up = look(s, input, nominal, 1.0), down = look(s, input, nominal, -1.0);
    ct_tipping t = {.input = input,
                    .sigma = ct_vary_sigma(&s->setup->c->uncertainty, input),
                    .changes = up.found || down.found,
                    .change = NAN,
                    .sigmas = INFINITY,
                    .to = nominal->pick,
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
static int picks_allowed(const ct_sweep *speeds, const ct_uncertainty *u, bool charged)
{
    int searches = 0;

    for (int k = 0; k < CT_VARY_COUNT; k++)
        searches += ct_vary_sigma(u, (ct_vary_input)k) > 0.0 ? 2 : 0;
    const int most = charged ? MOST_AIRFLOWS / CHARGED_SHARE : MOST_AIRFLOWS;
    return most / ((speeds->n + speeds->n_taps + 1) * (searches + 1));
}

ct_status ct_whatif_run(const ct_setup *setup, const ct_sweep *nominal, ct_whatif *out,
                        ct_fault *fault)
{
    const ct_uncertainty *uncertainty = &setup->c->uncertainty;
    ct_whatif w = {.from_taps = nominal->n_taps > 0};
    search s = {.setup = setup};
    place written;
    ct_status status = ct_vary_check(uncertainty, fault);

    if (status != CT_OK) return status;
    s.speeds = malloc(sizeof *s.speeds);
    s.sweep = calloc(1, sizeof *s.sweep);
    s.varied = malloc(sizeof *s.varied);
    if (!s.speeds || !s.sweep || !s.varied) {
        status = ct_fault_say(fault, CT_SYSTEM, "out of memory");
    } else {
        keep_speeds(nominal, s.speeds);
        s.allowed = picks_allowed(s.speeds, uncertainty,
                                  setup->c->indoor[setup->unit].meter.kind == CT_METER_ORIFICE);
        look_at(&s, CT_VARY_LOAD, 0.0, &written);
        w.pick = s.nominal = written.pick;
        for (int k = 0; k < CT_VARY_COUNT; k++)
            if (ct_vary_sigma(uncertainty, (ct_vary_input)k) > 0.0)
                w.tipping[w.n++] = tip(&s, (ct_vary_input)k, &written);
        qsort(w.tipping, (size_t)w.n, sizeof w.tipping[0], by_sigmas);
        *out = w;
    }
    free(s.speeds);
    free(s.sweep);
    free(s.varied);
    return status;
}
