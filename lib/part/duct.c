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

static double clipped(double share)
{
    return fmin(1.0, fmax(0.25, share));
}

ct_duct_outside ct_duct_outside_warmer(const ct_duct_outside *outside, double by)
{
    ct_duct_outside d = *outside;

    d.around.T += by;
    d.around.W = fmin(d.around.W, ct_air_W_sat(d.around.T, d.around.p));
    return d;
}

void ct_duct_deliver(const ct_duct_outside *d, const ct_duct_feed *f, ct_duct_delivery *out)
{
    const double cp = CT_AIR_CPA + CT_AIR_CPV * f->room.W, C = f->m_da * cp;
    const double B_s = exp(-d->A_supply / (C * d->R)), B_r = exp(-d->A_return / (C * d->R));
    const double a_s = 1.0 - d->leak_supply, a_r = 1.0 - d->leak_return, F = d->regain;
    const double below = f->room.T - d->around.T, dT = -f->Q_sens / C;
    const double walls =
        C * (a_r * (B_r - 1.0) * below + (B_s - 1.0) * (f->T_supply - d->around.T));
    const double h_in = ct_air_h(f->room.T, f->room.W), h_out = ct_air_h(d->around.T, d->around.W);
    const double leak = f->m_da * (1.0 - a_r);
    const double back = B_r * (a_r * F - F) * below / dT;
    const double total = a_s * (1.0 - (leak * (h_out - h_in) + walls) / f->Q);
    const double sensible = a_s * (1.0 - (-leak * cp * below + walls) / f->Q_sens);

    *out = (ct_duct_delivery){B_s,
                              B_r,
                              total,
                              sensible,
                              total + F * (1.0 - total) + back,
                              sensible + F * (1.0 - sensible) + back};
    out->total_regained = clipped(out->total_regained);
    out->sensible_regained = clipped(out->sensible_regained);
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
        {"drop of the new coil beyond that in the blower's table (Pa)", duct->dp_coil_in,
         -0.5 * (duct->dp - duct->dp_coil_out), CT_DP_LIMIT},
        {"coil exponent", duct->coil_exponent, 1, 2.1},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++)
        if (!(row[i].value >= row[i].low && row[i].value <= row[i].high))
            return ct_fail(fault, CT_INPUT, row[i].value, row[i].low, row[i].high,
                           "ducts: %s %g is outside %g to %g", row[i].name, row[i].value,
                           row[i].low, row[i].high);
    return CT_OK;
}
