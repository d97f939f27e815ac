#include "judge/pick.h"

#include <gsl/gsl_roots.h>
#include <math.h>

#include "base/search.h"
#include "base/units.h"

static const ct_point *point_at(const ct_pick *pick, const ct_sweep *s, int i)
{
    return pick->from_taps ? &s->tap[i] : &s->point[i];
}

const ct_point *ct_pick_point(const ct_pick *pick, const ct_sweep *s)
{
    return pick->found ? point_at(pick, s, pick->index) : NULL;
}

/* How far short, on scales that can be compared: loads, statics and speeds against their bound,
 * temperatures against 10 K. A point without a balance is short by most. */
static double shortfall(ct_limit limit, const ct_judgement *j)
{
    if (j->verdict != CT_FAILS) return 0.0;
    switch (limit) {
    case CT_LIMIT_BALANCE: return INFINITY;
    case CT_LIMIT_FROST:
    case CT_LIMIT_SWEAT:
    case CT_LIMIT_HEAD:
    case CT_LIMIT_FURNACE: return fmax(-j->slack / 10.0, 1e-12);
    default: return fmax(-j->slack / fmax(fabs(j->bound), 1e-12), 1e-12);
    }
}

static ct_limit worst_limit(const ct_point *p)
{
    ct_limit worst = CT_LIMIT_BALANCE;
    double most = 0.0;

    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++) {
        double s = shortfall((ct_limit)i, &p->limit[i]);
        if (s > most) {
            most = s;
            worst = (ct_limit)i;
        }
    }
    return worst;
}

static bool fails(const ct_point *p, ct_limit limit)
{
    return p->limit[limit].verdict == CT_FAILS;
}

static void count_refusals(const ct_sweep *s, ct_pick *pick)
{
    for (int i = 0; i < pick->n_points; i++)
        for (int k = 0; k < CT_LIMIT_FIRST_ADVICE; k++)
            if (fails(point_at(pick, s, i), (ct_limit)k)) pick->killed[k]++;
}

/* Is the sensible load carried anywhere on the airflow sweep? If so, it is the speeds that are
 * wrong, not the outdoor unit. */
static bool sensible_somewhere(const ct_sweep *s)
{
    for (int i = 0; i < s->n; i++)
        if (s->point[i].limit[CT_LIMIT_SENSIBLE].verdict == CT_PASSES) return true;
    return false;
}

/* A piston that leaves far more superheat than the outdoor unit was rated with costs capacity: try
 * its bore before anything larger. Twice as much is far: common practice, no source. */
static bool bore_too_small(const ct_sweep_job *job, const ct_sweep *s, const ct_pick *pick)
{
    const ct_point *fastest = point_at(pick, s, pick->n_points - 1);

    return job->system.meter.kind == CT_METER_ORIFICE && fastest->status == CT_OK &&
           fastest->balance.superheat > 2.0 * job->c->outdoor.superheat_rated;
}

static unsigned mends_for(const ct_sweep_job *job, const ct_sweep *s, const ct_pick *pick)
{
    static const struct {
        ct_limit limit;
        unsigned mend;
    } table[] = {
        {CT_LIMIT_FROST, CT_MEND_MORE_AIR},        {CT_LIMIT_HEAT, CT_MEND_MORE_AIR},
        {CT_LIMIT_SWEAT, CT_MEND_INSULATION},      {CT_LIMIT_CARRYOVER, CT_MEND_LARGER_FACE},
        {CT_LIMIT_STATIC, CT_MEND_DUCTS},          {CT_LIMIT_HEAD, CT_MEND_LESS_HEAD},
        {CT_LIMIT_METER, CT_MEND_METERING},        {CT_LIMIT_FURNACE, CT_MEND_DUCTS},
        {CT_LIMIT_HUMIDITY, CT_MEND_DEHUMIDIFIER},
    };
    unsigned mends = 0;

    for (size_t i = 0; i < sizeof table / sizeof *table; i++)
        if (pick->killed[table[i].limit]) mends |= table[i].mend;
    if (pick->killed[CT_LIMIT_HUMIDITY] && job->unit->coil.size > 1.0)
        mends |= CT_MEND_SMALLER_COIL;
    if (pick->killed[CT_LIMIT_SENSIBLE] == pick->n_points)
        mends |= sensible_somewhere(s) ? CT_MEND_DUCTS : CT_MEND_LARGER_OUTDOOR | CT_MEND_LESS_LOAD;
    if (pick->killed[CT_LIMIT_SENSIBLE] == pick->n_points && bore_too_small(job, s, pick))
        mends |= CT_MEND_METERING;
    if (pick->killed[CT_LIMIT_BALANCE] == pick->n_points || (mends & CT_MEND_LARGER_OUTDOOR))
        mends |= CT_MEND_DO_NOT;
    return mends;
}

/* The next speed below the pick and what stops it. */
static void look_below(const ct_sweep *s, ct_pick *pick)
{
    const ct_point *below;

    if (pick->index == 0) return;
    pick->has_lower = true;
    pick->lower = pick->index - 1;
    below = point_at(pick, s, pick->lower);
    pick->binding = worst_limit(below);
    pick->binding_at = below->limit[pick->binding];
}

void ct_pick_lowest(const ct_sweep_job *job, const ct_sweep *s, ct_pick *out)
{
    ct_pick pick = {.from_taps = s->n_taps > 0};

    pick.n_points = pick.from_taps ? s->n_taps : s->n;
    count_refusals(s, &pick);
    for (int i = 0; i < pick.n_points && !pick.found; i++)
        if (point_at(&pick, s, i)->passes) {
            pick.found = true;
            pick.index = i;
        }
    if (pick.found) {
        const ct_point *p = ct_pick_point(&pick, s);
        look_below(s, &pick);
        for (int i = CT_LIMIT_FIRST_ADVICE; i < CT_LIMIT_COUNT; i++)
            if (fails(p, (ct_limit)i)) pick.advice |= 1u << i;
    } else {
        pick.mends = mends_for(job, s, &pick);
    }
    *out = pick;
}

/* ---- Hottest day ----------------------------------------------------------------- */

typedef struct {
    ct_solver *solver;
    const ct_sweep_job *job;
    const ct_point *point;
} hot_day;

/* Sensible capacity over load less one, at an outdoor temperature; falls as it gets hotter. A day
 * too hot to balance is one on which the load is not carried. */
static double spare(double T_out, void *context)
{
    const hot_day *d = context;
    const ct_house *h = &d->job->c->house;
    ct_conditions at = {d->job->indoor, T_out, d->point->m_da, d->point->P_blower};
    ct_start start = {d->point->balance.Te, d->point->balance.Tc + T_out - d->job->T_out};
    double load = h->Q_sensible * (1.0 + h->margin) * (T_out - h->T_balance.v) /
                  (d->job->T_out - h->T_balance.v);
    ct_balance b;

    if (ct_balance_solve(d->solver, &d->job->system, &at, &start, &b, NULL) != CT_OK) return -1.0;
    return b.Q_sens_net / load - 1.0;
}

ct_status ct_pick_hottest_day(ct_solver *solver, const ct_sweep_job *job, const ct_point *point,
                              double *T_out, ct_fault *fault)
{
    const ct_house *h = &job->c->house;
    hot_day day = {solver, job, point};
    ct_root_job search = {.start = job->T_out, .step = 2.0, .rising = false, .tol = 1e-7};
    ct_root_result r;
    gsl_root_fsolver *outer;
    ct_root_end end;

    if (!h->T_balance.has || !(job->T_out > h->T_balance.v + 1.0))
        return ct_fail(
            fault, CT_INPUT, NAN, NAN, NAN,
            "the hottest day needs a balance temperature of the house below the design day");
    if (point->status != CT_OK)
        return ct_fail(fault, CT_NO_ROOT, NAN, NAN, NAN, "no balance at this speed");
    search.low = fmax(job->T_out - 30.0, h->T_balance.v + 1.0);
    search.high = 330.0;
    outer = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!outer) return ct_fail(fault, CT_SYSTEM, NAN, NAN, NAN, "out of memory");
    end = ct_root_find(outer, spare, &day, &search, &r);
    gsl_root_fsolver_free(outer);
    /* A jump is the day on which the head pressure ends the balance: the hottest it still runs. */
    if (end == CT_ROOT_NO_BRACKET || end == CT_ROOT_LIMIT)
        return ct_fail(fault, CT_NO_ROOT, NAN, search.low, search.high,
                       "the load is %s carried between %.0f and %.0f F outdoors",
                       r.f > 0.0 ? "always" : "never", ct_F_from_K(search.low),
                       ct_F_from_K(search.high));
    *T_out = r.x;
    return CT_OK;
}
