#include "explain/taps.h"

#include <math.h>
#include <stddef.h>

#define MIDDLE_DP 100.0 /* Pa, at which a duct of any resistance is one that can be */

/* Where the tap meets ducts of every resistance from one to the other, Pa s2/m6: so the curve drawn
 * is the one the operating point is found on. */
static int trace(const ct_blower *blower, int i, double from, double to, int n_points,
                 ct_blower_point *curve)
{
    int n = 0;
    for (int k = 0; k < n_points; k++) {
        const double resistance = from * pow(to / from, (double)k / (n_points - 1));
        const ct_duct duct = {.dp = MIDDLE_DP,
                              .V = sqrt(MIDDLE_DP / resistance),
                              .exponent = 2.0,
                              .coil_exponent = 1.7};
        if (ct_blower_meet(blower, i, &duct, &curve[n], NULL) == CT_OK) n++;
    }
    return n;
}

static double resistance_at(double dp, double V)
{
    return fmax(1.0, dp) / (V * V);
}

/* Between the first and the last point of its table, and on to where it runs. */
static void trace_tap(const ct_blower *blower, int i, explain_taps *b)
{
    const ct_tap *tap = &blower->tap[i];
    const ct_tap_point *first = &tap->point[0], *last = &tap->point[tap->n - 1];
    const double dp_last = tap->n == 1 && blower->dp_max > last->dp ? blower->dp_max : last->dp;
    const double low = resistance_at(first->dp, first->V), high = resistance_at(dp_last, last->V);
    b->n_curve[i] = trace(blower, i, low, high, TAP_CURVE_POINTS, b->curve[i]);
    if (!b->meets[i] || !(b->meet[i].V > 0)) return;
    const double here = resistance_at(b->meet[i].dp, b->meet[i].V);
    if (here > high) b->n_beyond[i] = trace(blower, i, high, here, BEYOND_POINTS, b->beyond[i]);
    if (here < low) b->n_beyond[i] = trace(blower, i, here, low, BEYOND_POINTS, b->beyond[i]);
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
        b->meets[i] = ct_blower_meet(blower, i, duct, &b->meet[i], NULL) == CT_OK;
        trace_tap(blower, i, b);
        for (int k = 0; k < b->n_curve[i]; k++)
            V_high = fmax(V_high, b->curve[i][k].V);
    }
    trace_duct(duct, V_high, b);
}
