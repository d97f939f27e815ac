#include "study/close_call.h"

#include <math.h>
#include <stdlib.h>

enum { PICK, LOWER, SPEEDS };

typedef struct {
    ct_case varied;
    ct_sweep near, now; /* at most the two speeds */
    double square[SPEEDS][CT_LIMIT_COUNT];
} bench;

/* Among the airflows of a sweep the next slower is nearly as good by its nature. */
static bool has_beside(const ct_pick *pick)
{
    return pick->from_taps && pick->has_lower;
}

static void set_near(const ct_sweep *s, const ct_pick *pick, ct_sweep *near)
{
    ct_point *to = pick->from_taps ? near->tap : near->point;
    const int n = has_beside(pick) ? 2 : 1;

    to[PICK] = *ct_pick_candidate(pick, s, pick->index);
    if (has_beside(pick)) to[LOWER] = *ct_pick_candidate(pick, s, pick->lower);
    near->n_taps = pick->from_taps ? n : 0;
    near->n = pick->from_taps ? 0 : n;
}

/* A piston that floods is judged by its liquid, else by superheat; a valve by which of its two
 * bounds it is beyond. Slacks of two kinds have no difference. */
static bool same_kind(int limit, const ct_point *a, const ct_point *b)
{
    if (limit != CT_LIMIT_METER) return true;
    return (a->meter == CT_METER_FLOODS) == (b->meter == CT_METER_FLOODS) &&
           (a->meter == CT_METER_HUNTS) == (b->meter == CT_METER_HUNTS);
}

static void add_squares(bench *b)
{
    int n;
    const ct_point *before = ct_sweep_speeds(&b->near, &n), *now = ct_sweep_speeds(&b->now, NULL);

    for (int i = 0; i < n; i++)
        for (int k = 0; k < CT_LIMIT_FIRST_ADVICE; k++) {
            const ct_judgment *was = &before[i].limit[k], *is = &now[i].limit[k];
            const double d = is->slack - was->slack;
            if (was->verdict == CT_NOT_JUDGED || is->verdict == CT_NOT_JUDGED) continue;
            if (isfinite(d) && same_kind(k, &before[i], &now[i])) b->square[i][k] += d * d;
        }
}

/* Whether a point changes its verdict when each limit's slack moves by as much as it did, either
 * way. */
static bool turns(const ct_point *was, const ct_point *is)
{
    /* What no longer balances keeps no limit. */
    bool may_fail = is->status != CT_OK, may_pass = true;
    for (int k = 0; k < CT_LIMIT_FIRST_ADVICE; k++) {
        const ct_judgment *j = &was->limit[k];
        double d = fabs(is->limit[k].slack - j->slack);
        /* Then what it came to is all there is. */
        if (!same_kind(k, was, is)) d = is->limit[k].verdict == j->verdict ? 0.0 : (double)INFINITY;
        if (j->verdict == CT_PASSES && d > j->slack) may_fail = true;
        if (j->verdict == CT_FAILS && !(d >= -j->slack)) may_pass = false;
    }
    return was->passes ? may_fail : may_pass && was->status == CT_OK;
}

static bool moves_pick(const bench *b)
{
    int n;
    const ct_point *before = ct_sweep_speeds(&b->near, &n), *now = ct_sweep_speeds(&b->now, NULL);

    for (int i = 0; i < n; i++)
        if (turns(&before[i], &now[i])) return true;
    return false;
}

/* True when the step changes which speed is the pick. */
static bool step(const ct_setup *setup, ct_vary_input input, bench *b)
{
    double by[CT_VARY_COUNT] = {0.0};
    ct_sweep_job job;

    by[input] = ct_vary_sigma(&setup->c->uncertainty, input);
    if (!(by[input] > 0.0) || ct_vary_job(setup, by, &b->varied, &job, NULL) != CT_OK) return false;
    ct_sweep_pair_low(setup->solver, &job);
    ct_sweep_near(setup->solver, &job, &b->near, &b->now);
    add_squares(b);
    return moves_pick(b);
}

/* The limit with the least slack in its own doubts; `fails`: of those that fail. */
static ct_nearness nearest(const ct_point *p, const double *square, bool fails)
{
    ct_nearness best = {.has = false};

    for (int k = 0; k < CT_LIMIT_FIRST_ADVICE; k++) {
        const ct_judgment *j = &p->limit[k];
        const double doubt = sqrt(square[k]);
        const bool counts = k != CT_LIMIT_BALANCE && j->verdict == (fails ? CT_FAILS : CT_PASSES);
        if (!counts || (!fails && !(doubt > 0.0))) continue;
        if (best.has && !(j->slack * best.doubt < best.slack * doubt)) continue;
        best = (ct_nearness){true, (ct_limit)k, j->slack, doubt};
    }
    return best;
}

static bool within(const ct_nearness *n)
{
    return n->has && fabs(n->slack) < n->doubt;
}

/* Of the next slower: liquid at the compressor is never nearly as good. */
static bool ties(const ct_nearness *n, const ct_point *lower)
{
    return lower->status == CT_OK && lower->meter != CT_METER_FLOODS && within(n);
}

ct_status ct_close_call_run(const ct_setup *setup, const ct_sweep *s, const ct_pick *pick,
                            ct_close_call *out, ct_fault *fault)
{
    bench *b = calloc(1, sizeof *b);

    if (!b) return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    *out = (ct_close_call){.close = false};
    set_near(s, pick, &b->near);
    for (int i = 0; i < CT_VARY_COUNT; i++)
        out->moves[i] = step(setup, (ct_vary_input)i, b) && pick->from_taps;
    const ct_point *speed = ct_sweep_speeds(&b->near, NULL);
    out->pick = nearest(&speed[PICK], b->square[PICK], false);
    if (has_beside(pick)) out->lower = nearest(&speed[LOWER], b->square[LOWER], true);
    out->close = within(&out->pick);
    out->tie = has_beside(pick) && ties(&out->lower, ct_pick_candidate(pick, s, pick->lower));
    free(b);
    return CT_OK;
}
