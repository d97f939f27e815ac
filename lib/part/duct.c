#include "part/duct.h"

#include <math.h>
#include <stddef.h>

/* The old coil comes off before the ducts are scaled, not after: the other way round the sum turns
 * negative at low airflow, where the coil's smaller exponent outweighs the ducts'. */
double ct_duct_dp(const ct_duct *duct, double V)
{
    const double r = V / duct->V;
    return (duct->dp - duct->dp_coil_out) * pow(r, duct->exponent) +
           duct->dp_coil_in * pow(r, duct->coil_exponent);
}

ct_status ct_duct_check(const ct_duct *duct, ct_fault *fault)
{
    const struct {
        const char *name;
        double value, low, high;
    } row[] = {
        {"measured static (Pa)", duct->dp, 1, CT_DP_LIMIT},
        {"measured airflow (m3/s)", duct->V, 0.02, CT_V_LIMIT},
        {"duct exponent", duct->exponent, 1.7, 2.1},
        {"drop of the old coil (Pa), which must stay below the measured static,", duct->dp_coil_out,
         0, 0.95 * duct->dp},
        {"drop of the new coil (Pa)", duct->dp_coil_in, 0, CT_DP_LIMIT},
        {"coil exponent", duct->coil_exponent, 1, 2.1},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++)
        if (!(row[i].value >= row[i].low && row[i].value <= row[i].high))
            return ct_fail(fault, CT_INPUT, row[i].value, row[i].low, row[i].high,
                           "ducts: %s %g is outside %g to %g", row[i].name, row[i].value,
                           row[i].low, row[i].high);
    return CT_OK;
}
