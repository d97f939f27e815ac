#include "plant/curves.h"

#include <math.h>

ct_status ct_curves_run(ct_solver *solver, const ct_system *sys, const ct_conditions *at,
                        const ct_steps *Te, ct_curve *curve, ct_fault *fault)
{
    if (!(Te->n >= 2 && Te->n <= CT_MAX_CURVE_POINTS))
        return ct_fail(fault, CT_INPUT, Te->n, 2, CT_MAX_CURVE_POINTS,
                       "%d points of a curve: allowed 2 to %d", Te->n, CT_MAX_CURVE_POINTS);
    if (!(Te->low < Te->high))
        return ct_fail(fault, CT_INPUT, Te->low, NAN, Te->high,
                       "a curve must run from a lower to a higher suction temperature");
    ct_status status = CT_OK;
    curve->n = curve->n_left_out = 0;
    for (int i = 0; i < Te->n; i++) {
        ct_status here =
            ct_balance_try(solver, sys, at, ct_steps_at(Te, i), &curve->point[curve->n], fault);
        if (here == CT_OK) {
            curve->n++;
        } else {
            curve->n_left_out++;
            status = here;
        }
    }
    return curve->n > 0 ? CT_OK : status;
}
