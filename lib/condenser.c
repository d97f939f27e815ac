#include "condenser.h"

ct_status ct_condenser_state_at(const ct_condenser *condenser, const ct_refrigerant *refrigerant,
                                double Tc, ct_condenser_state *out, ct_fault *fault)
{
    ct_liquid liquid;
    double T_bubble = Tc;
    ct_status status;

    if (ct_refrigerant_is_blend(refrigerant)) {
        double p;
        status = ct_refrigerant_p_dew(refrigerant, Tc, &p, fault);
        if (status != CT_OK) return status;
        status = ct_refrigerant_T_bubble(refrigerant, p, &T_bubble, fault);
        if (status != CT_OK) return status;
    }
    status = ct_refrigerant_liquid(refrigerant, T_bubble, condenser->subcooling, &liquid, fault);
    if (status != CT_OK) return status;
    out->T_mid = 0.5 * (Tc + T_bubble);
    out->T_bubble = T_bubble;
    out->h_liquid = liquid.h;
    return CT_OK;
}
