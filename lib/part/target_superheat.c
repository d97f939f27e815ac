#include "part/target_superheat.h"

#include <math.h>

#include "base/units.h"

ct_status ct_target_superheat(double T_wet_bulb_indoor, double T_outdoor, double *superheat,
                              ct_fault *fault)
{
    double wb = ct_F_from_K(T_wet_bulb_indoor), db = ct_F_from_K(T_outdoor);
    double target = (3 * wb - 80 - db) / 2;
    if (!(target >= 5))
        return ct_fail(fault, CT_RANGE, target / CT_F_PER_K, 5 / CT_F_PER_K, NAN,
                       "target superheat at %.1f F wet bulb indoors and %.1f F outdoors is %.1f F, "
                       "under 5 F: charge by weight, or wait for other weather",
                       wb, db, target);
    *superheat = target / CT_F_PER_K;
    return CT_OK;
}
