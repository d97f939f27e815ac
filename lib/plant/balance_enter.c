#include "plant/balance_enter.h"

#include <math.h>

#include "base/units.h"

ct_status ct_balance_check(const ct_conditions *at, ct_fault *fault)
{
    if (!(at->T_out >= 255.0 && at->T_out <= 330.0))
        return ct_fail(fault, CT_RANGE, at->T_out, 255.0, 330.0,
                       "outdoor air %.0f F: the model holds from 0 to 134 F",
                       ct_F_from_K(at->T_out));
    if (!(at->in.T >= 255.0 && at->in.T <= 330.0))
        return ct_fail(fault, CT_RANGE, at->in.T, 255.0, 330.0,
                       "return air %.0f F: the model holds from 0 to 134 F", ct_F_from_K(at->in.T));
    if (!(at->P_blower >= 0.0 && at->P_blower <= 1e4))
        return ct_fail(fault, CT_RANGE, at->P_blower, 0.0, 1e4,
                       "blower input %.4g W: allowed 0 to 10000 W", at->P_blower);
    if (!(at->in.W > 0.0 && at->in.W < 0.1 && at->in.p > 5e4 && at->in.p < 1.2e5))
        return ct_fail(fault, CT_RANGE, at->in.W, 0.0, 0.1,
                       "return air of humidity ratio %.4g at %.0f Pa is outside the model",
                       at->in.W, at->in.p);
    if (!(ct_air_rh(&at->in) <= 1.0 + 1e-6))
        return ct_fail(fault, CT_INPUT, ct_air_rh(&at->in), 0.0, 1.0,
                       "return air of %.0f%% relative humidity: allowed up to 100",
                       100.0 * ct_air_rh(&at->in));
    return CT_OK;
}

ct_status ct_balance_enter(ct_trial *t, ct_fault *fault)
{
    const ct_system *sys = t->sys;
    const ct_conditions *at = t->at;
    ct_air in = at->in;

    if (!(at->m_da > 0.0))
        return ct_fail(fault, CT_RANGE, at->m_da, 0.0, NAN, "air flow %.4g kg/s must be above 0",
                       at->m_da);
    t->eps_C = ct_condenser_eps_C(&sys->outdoor.condenser, at->in.p);
    if (sys->before_coil) in.T += at->P_blower / (at->m_da * ct_air_cp(in.W));
    return ct_coil_at_air(&sys->coil, &in, at->m_da, &t->air, fault);
}
