#include <math.h>

#include "base/units.h"
#include "judge/judge.h"
#include "judge/pick.h"
#include "judge/sweep.h"
#include "part/coil.h"

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

/* Past the model no speed balances, and that says nothing of the job: it is told as such, not as
 * speeds that fail. */
static ct_status within_model(const ct_sweep_job *job, ct_fault *fault)
{
    double T_dp;
    const ct_status status = ct_air_dew_point(&job->indoor, &T_dp, fault);

    if (status != CT_OK || !(T_dp > CT_COIL_DEW_MAX)) return status;
    return ct_fail(fault, CT_RANGE, T_dp, NAN, CT_COIL_DEW_MAX,
                   "return air of %.0f F dew point: the model holds to %.0f F; check "
                   "site.indoor_air",
                   ct_F_from_K(T_dp), ct_F_from_K(CT_COIL_DEW_MAX));
}

ct_status ct_sweep_prepare(const ct_setup *setup, ct_sweep_job *job, ct_fault *fault)
{
    ct_status status = ct_sweep_job_make(setup, job, fault);

    if (status == CT_OK) status = within_model(job, fault);
    if (status == CT_OK && setup->solver) ct_sweep_pair_low(setup->solver, job);
    return status;
}
