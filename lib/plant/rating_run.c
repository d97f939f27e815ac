#include "plant/rating_run.h"

#include <math.h>
#include <stddef.h>

#include "base/units.h"

ct_status ct_rating_run_test(ct_solver *solver, const ct_stage_run *stage, double T_out,
                             ct_balance *b, ct_fault *fault)
{
    ct_conditions at = {.T_out = T_out, .m_da = stage->m_da, .P_blower = stage->P_blower};
    ct_status status =
        ct_air_from_wet_bulb(CT_RATING_T_IN, CT_RATING_T_WB, CT_ATM_PA, &at.in, fault);

    return status == CT_OK ? ct_balance_solve(solver, stage->system, &at, NULL, b, fault) : status;
}

static ct_status run(ct_solver *solver, const ct_stage_run *stage, double T_out, ct_rating_test *t,
                     ct_fault *fault)
{
    ct_balance b;
    const ct_status status = ct_rating_run_test(solver, stage, T_out, &b, fault);

    if (status == CT_OK) *t = (ct_rating_test){b.Q_net, b.P_total};
    return status;
}

/* From the high stage's tests, of which a single stage needs B2 only. */
static ct_status seer_from(ct_solver *solver, const ct_rating_run *r, ct_two_capacity *u,
                           double *SEER, ct_fault *fault)
{
    if (!r->low.system) return ct_seasonal_seer(&u->B2, r->CD, SEER, fault);
    ct_status status = run(solver, &r->low, CT_RATING_B_T_OUT, &u->B1, fault);
    if (status == CT_OK) status = run(solver, &r->low, CT_SEASONAL_T_F1, &u->F1, fault);
    return status == CT_OK ? ct_seasonal_seer_two(u, SEER, fault) : status;
}

static ct_two_capacity untested(const ct_rating_run *r)
{
    return (ct_two_capacity){.CD_low = r->CD, .CD_high = r->CD, .T_lockout = INFINITY};
}

ct_status ct_rating_run_seer(ct_solver *solver, const ct_rating_run *r, double *SEER,
                             ct_fault *fault)
{
    ct_two_capacity u = untested(r);
    ct_status status = run(solver, &r->high, CT_RATING_B_T_OUT, &u.B2, fault);

    if (status == CT_OK && r->low.system)
        status = run(solver, &r->high, CT_RATING_T_OUT, &u.A2, fault);
    return status == CT_OK ? seer_from(solver, r, &u, SEER, fault) : status;
}

ct_status ct_rating_run_whole(ct_solver *solver, const ct_rating_run *r, ct_rated *out,
                              ct_fault *fault)
{
    ct_two_capacity u = untested(r);
    double SEER;
    ct_status status = run(solver, &r->high, CT_RATING_T_OUT, &u.A2, fault);

    if (status == CT_OK) status = run(solver, &r->high, CT_RATING_B_T_OUT, &u.B2, fault);
    if (status == CT_OK) status = seer_from(solver, r, &u, &SEER, fault);
    if (status == CT_OK) *out = (ct_rated){u.A2, u.B2, SEER};
    return status;
}
