#include "part/charge.h"

#include <math.h>

#include "base/units.h"

/* Integral of the void fraction x/(k + (1 - k) x) from 0 to x, but for a constant. */
static double void_sum(double x, double k)
{
    const double a = 1.0 - k;

    return x / a - k / (a * a) * log(k + a * x);
}

double ct_charge_two_phase(double rho_l, double rho_g, double x1, double x2)
{
    const double k = cbrt(rho_g / rho_l * (rho_g / rho_l));
    const double alpha = (void_sum(x2, k) - void_sum(x1, k)) / (x2 - x1);

    return alpha * rho_g + (1.0 - alpha) * rho_l;
}

ct_status ct_charge_measured(double F, double T_in, double T_out, double *capacity, double *power,
                             ct_fault *fault)
{
    static const double capacity_of[2][4] = {{-0.946, 0.0493, -0.00118, -1.15},
                                             {-0.163, 0.0114, -0.00021, -0.14}};
    static const double power_of[2][4] = {{-0.313, 0.0115, 0.00266, -0.116},
                                          {0.219, -0.00501, 0.000989, 0.284}};
    const double *q = capacity_of[F >= 0.0], *w = power_of[F >= 0.0];
    const double in = T_in - CT_ZERO_C, out = T_out - CT_ZERO_C;

    if (!(fabs(F) <= 0.3 + 1e-12))
        return ct_fail(fault, CT_RANGE, F, -0.3, 0.3,
                       "charge off by %.0f%%: measured from 30%% less to 30%% more", 100.0 * F);
    *capacity = 1.0 + (q[0] + q[1] * in + q[2] * out + q[3] * F) * F;
    *power = 1.0 + (w[0] + w[1] * in + w[2] * out + w[3] * F) * F;
    return CT_OK;
}
