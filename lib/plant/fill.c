#include "plant/fill.h"

#include <stddef.h>

#include "base/units.h"
#include "plant/balance.h"
#include "plant/charge.h"

ct_status ct_fill_piston(const ct_outdoor_unit *u, ct_system *sys, ct_fault *fault)
{
    ct_conditions at = {.T_out = CT_RATING_T_OUT,
                        .m_da = u->V_rated_std * CT_STD_DENSITY,
                        .P_blower = u->P_blower_rated};
    ct_solver *solver;
    ct_balance b;

    sys->charge = 0.0;
    if (sys->meter.kind != CT_METER_ORIFICE) return CT_OK;
    ct_status status = ct_solver_make(&solver, fault);
    if (status != CT_OK) return status;
    status = ct_air_from_wet_bulb(CT_RATING_T_IN, CT_RATING_T_WB, CT_ATM_PA, &at.in, fault);
    if (status == CT_OK) status = ct_balance_solve(solver, sys, &at, NULL, &b, fault);
    if (status == CT_OK) status = ct_charge_of(sys, &b, &sys->charge, fault);
    ct_solver_free(solver);
    return status;
}
