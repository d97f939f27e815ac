#include "judge/pick.h"

#include <math.h>

#include "judge/remedy.h"

#define RH_ALIKE 1e-6 /* of relative humidity: rounding */

const ct_point *ct_pick_candidate(const ct_pick *pick, const ct_sweep *s, int i)
{
    return pick->from_taps ? &s->tap[i] : &s->point[i];
}

const ct_point *ct_pick_point(const ct_pick *pick, const ct_sweep *s)
{
    return pick->found ? ct_pick_candidate(pick, s, pick->index) : NULL;
}

static bool fails(const ct_point *p, ct_limit limit)
{
    return p->limit[limit].verdict == CT_FAILS;
}

static void count_failing(const ct_sweep *s, ct_pick *pick)
{
    for (int i = 0; i < pick->n_points; i++)
        for (int k = 0; k < CT_LIMIT_FIRST_ADVICE; k++)
            if (fails(ct_pick_candidate(pick, s, i), (ct_limit)k)) pick->failing[k]++;
}

/* The next speed below the pick and what stops it. */
static void look_below(const ct_sweep *s, ct_pick *pick)
{
    const ct_point *below;

    if (pick->index == 0) return;
    pick->has_lower = true;
    pick->lower = pick->index - 1;
    below = ct_pick_candidate(pick, s, pick->lower);
    pick->binding = ct_limit_worst(below->limit);
    pick->binding_at = below->limit[pick->binding];
}

bool ct_pick_drier(const ct_point *p, const ct_point *than)
{
    const double rh = p->has_room ? p->room.rh : 1.0;
    const double rh_than = than->has_room ? than->room.rh : 1.0;

    if (fabs(rh - rh_than) > RH_ALIKE) return rh < rh_than;
    return p->m_da < than->m_da;
}

static ct_pick begin(const ct_sweep_job *job, const ct_sweep *s)
{
    ct_pick pick = {.from_taps = s->n_taps > 0};

    pick.n_points = pick.from_taps ? s->n_taps : s->n;
    count_failing(s, &pick);
    pick.has_checks = job->system.outdoor.refrigerant &&
                      ct_compatibility_checks(job->c, job->system.outdoor.refrigerant, job->unit,
                                              &pick.checks, NULL) == CT_OK;
    pick.refused = pick.has_checks && pick.checks.refuse;
    return pick;
}

void ct_pick_driest(const ct_sweep_job *job, const ct_sweep *s, ct_pick *out)
{
    ct_pick pick = begin(job, s);

    for (int i = 0; i < pick.n_points && !pick.refused; i++) {
        const ct_point *p = ct_pick_candidate(&pick, s, i);
        const ct_point *best = ct_pick_point(&pick, s);
        if (!p->passes || (best && !ct_pick_drier(p, best))) continue;
        pick.found = true;
        pick.index = i;
    }
    if (pick.found) look_below(s, &pick);
    *out = pick;
}

void ct_pick_lowest(const ct_sweep_job *job, const ct_sweep *s, ct_pick *out)
{
    ct_pick pick = begin(job, s);

    for (int i = 0; i < pick.n_points && !pick.found && !pick.refused; i++)
        if (ct_pick_candidate(&pick, s, i)->passes) {
            pick.found = true;
            pick.index = i;
        }
    if (pick.found) {
        const ct_point *p = ct_pick_point(&pick, s);
        look_below(s, &pick);
        for (int i = CT_LIMIT_FIRST_ADVICE; i < CT_LIMIT_COUNT; i++)
            if (fails(p, (ct_limit)i)) pick.advice |= 1u << i;
    } else if (!pick.refused) {
        pick.remedies = ct_remedies_for(job, s, pick.failing, pick.n_points);
    }
    *out = pick;
}
