#include "judge/judge.h"
#include "judge/pick.h"
#include "judge/sweep.h"

bool ct_sweep_low_job(const ct_sweep_job *high, ct_sweep_job *low)
{
    if (!high->system.outdoor.low.has) return false;
    *low = *high;
    ct_plant_low_stage(&high->system, &low->system);
    low->is_low = true;
    low->has_low = low->low_fails = low->low_floods = false;
    return true;
}

/* Candidate i of the speeds the low stage can have; false when it is none. */
static bool candidate(ct_solver *solver, const ct_sweep_job *low, int i, ct_point *p)
{
    const ct_sweep_range *r = &low->c->sweep;
    const double share = (double)i / (r->points - 1);
    const double V = r->V_per_ton_min + share * (r->V_per_ton_max - r->V_per_ton_min);
    const ct_status status = ct_sweep_job_has_taps(low) ? ct_sweep_tap(solver, low, i, p, NULL)
                                                        : ct_sweep_airflow(solver, low, V, p, NULL);

    if (status != CT_OK || !p->passes) return false;
    /* Only the damp hour decides between them. */
    ct_judge_humidity(solver, low, 0, NULL, p);
    return true;
}

void ct_sweep_pair_low(ct_solver *solver, ct_sweep_job *job)
{
    ct_sweep_job low;
    ct_point p = {.passes = false}, best = p;
    bool floods = false;

    if (!ct_sweep_low_job(job, &low)) return;
    const int n = ct_sweep_job_has_taps(&low) ? low.blower.n_taps : low.c->sweep.points;
    for (int i = 0; i < n; i++) {
        if (candidate(solver, &low, i, &p) && (!best.passes || ct_pick_drier(&p, &best))) best = p;
        floods = floods || p.meter == CT_METER_FLOODS;
    }
    job->has_low = best.passes;
    job->low_fails = !best.passes;
    job->low_floods = !best.passes && floods;
    job->low_system = low.system;
    job->low = best;
}

ct_status ct_sweep_prepare(const ct_setup *setup, ct_sweep_job *job, ct_fault *fault)
{
    const ct_status status = ct_sweep_job_make(setup, job, fault);

    if (status == CT_OK && setup->solver) ct_sweep_pair_low(setup->solver, job);
    return status;
}
