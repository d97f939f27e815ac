#include "part/drop_curve.h"

#include <math.h>

#include "base/units.h"

/* How far past its table a part is still taken to follow its law. */
#define BELOW 0.5
#define ABOVE 1.5

static ct_status check(const ct_drop_point *p, int n, ct_fault *fault)
{
    if (n < 1) return ct_fault_say(fault, CT_INPUT, "the table of drops has no point");
    for (int i = 0; i < n; i++) {
        const bool good = p[i].dp > 0.0 && p[i].V > 0.0;
        if (good && (i == 0 || (p[i].dp > p[i - 1].dp && p[i].V > p[i - 1].V))) continue;
        return ct_fault_say(fault, CT_INPUT,
                            "point %d of the table of drops: airflow and drop must both be above "
                            "those of the point before; list them from low to high",
                            i + 1);
    }
    return CT_OK;
}

ct_status ct_drop_curve_flow(const ct_drop_point *p, int n, double exponent, double dp, double *V,
                             ct_fault *fault)
{
    ct_status status = check(p, n, fault);
    int i = 1;

    if (status != CT_OK) return status;
    while (i + 1 < n && dp > p[i].dp)
        i++;
    const double law = n == 1 ? exponent : log(p[i].dp / p[i - 1].dp) / log(p[i].V / p[i - 1].V);
    const double flow = p[0].V > 0.0 && dp > 0.0 ? p[n == 1 ? 0 : i - 1].V *
                                                       pow(dp / p[n == 1 ? 0 : i - 1].dp, 1.0 / law)
                                                 : 0.0;
    if (!(flow >= BELOW * p[0].V && flow <= ABOVE * p[n - 1].V))
        return ct_fail(fault, CT_RANGE, dp, p[0].dp, p[n - 1].dp,
                       "a drop of %.3g inwc is too far from its table, %.3g to %.3g inwc",
                       dp / CT_PA_PER_INWC, p[0].dp / CT_PA_PER_INWC, p[n - 1].dp / CT_PA_PER_INWC);
    *V = flow;
    return CT_OK;
}

double ct_drop_curve_thin(double exponent, double thinness)
{
    return pow(thinness, exponent - 1.0);
}

double ct_drop_curve_heated(double Q, double dT, const ct_air *air)
{
    return Q / (ct_air_cp(air->W) * dT) * ct_air_v(air->T, air->W, air->p);
}
