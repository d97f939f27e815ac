#include "explain/taps.h"

#include <math.h>
#include <stddef.h>

/* A tap's own curve, from where it meets ducts of every resistance between its first and its last
 * point: so the curve drawn is the one the operating point is found on. */
static int trace_tap(const ct_blower *blower, int i, ct_blower_point *curve)
{
    const ct_tap *tap = &blower->tap[i];
    const ct_tap_point *first = &tap->point[0], *last = &tap->point[tap->n - 1];
    const double dp_last = tap->n == 1 && blower->dp_max > last->dp ? blower->dp_max : last->dp;
    const double low = fmax(1.0, first->dp) / (first->V * first->V);
    const double high = dp_last / (last->V * last->V);
    int n = 0;
    for (int k = 0; k < TAP_CURVE_POINTS; k++) {
        const double share = (double)k / (TAP_CURVE_POINTS - 1);
        const double resistance = low * pow(high / low, share);
        const ct_duct duct = {.dp = resistance * last->V * last->V,
                              .V = last->V,
                              .exponent = 2.0,
                              .coil_exponent = 1.7};
        if (ct_blower_meet(blower, i, &duct, &curve[n], NULL) == CT_OK) n++;
    }
    return n;
}

static void trace_duct(const ct_duct *duct, double V_high, explain_taps *b)
{
    b->n_duct = DUCT_POINTS;
    for (int k = 0; k < DUCT_POINTS; k++) {
        const double V = V_high * k / (DUCT_POINTS - 1);
        b->duct[k] = (ct_blower_point){.V = V, .dp = ct_duct_dp(duct, V), .P = NAN};
    }
}

void explain_taps_make(const ct_blower *blower, const ct_duct *duct, explain_taps *b)
{
    double V_high = duct->V;
    for (int i = 0; i < blower->n_taps; i++) {
        b->n_curve[i] = trace_tap(blower, i, b->curve[i]);
        for (int k = 0; k < b->n_curve[i]; k++)
            V_high = fmax(V_high, b->curve[i][k].V);
        b->meets[i] = ct_blower_meet(blower, i, duct, &b->meet[i], NULL) == CT_OK;
    }
    trace_duct(duct, V_high, b);
}
