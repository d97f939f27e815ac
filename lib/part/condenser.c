#include "part/condenser.h"

#include <math.h>

#include "base/units.h"

/* d ln(C (1 - exp(-NTU)))/d ln p = 1 - (1 - m) NTU/(exp(NTU) - 1), with C ~ p and UA ~ p^m:
 * m = 0.5 and NTU = 1.3 give 0.757; NTU 1 to 1.6 gives 0.71 to 0.80. */
#define PRESSURE_EXPONENT 0.75

double ct_condenser_eps_C(const ct_condenser *condenser, double p)
{
    return condenser->eps_C * pow(p / CT_ATM_PA, PRESSURE_EXPONENT);
}

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
