/* Curves: the two lines that cross at the balance.
 *
 * At every saturated suction the outdoor unit can take some heat from the coil: more, the warmer
 * the suction, since denser gas fills the cylinder. At every saturated suction the coil gives some
 * heat: less, the warmer its tubes, since the air has less to fall. They settle where the lines
 * cross. Another airflow moves the coil's line and leaves the outdoor unit's almost where it was.
 * SI. Reads a system, keeps nothing. Public. */
#ifndef CT_PLANT_CURVES_H
#define CT_PLANT_CURVES_H

#include "base/status.h"
#include "base/steps.h"
#include "plant/balance.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The outdoor unit's line depends on the metering device but not on the airflow. The coil's line is
 * what the coil gives with the flow the compressor moves at that suction through its tubes, and
 * ends where it can no longer make the superheat. */
#define CT_MAX_CURVE_POINTS 401

typedef struct {
    int n;          /* points that could be computed, in order of rising Te */
    int n_left_out; /* points that could not: outside tables, or no discharge pressure balances */
    ct_balance_trial point[CT_MAX_CURVE_POINTS];
} ct_curve;

/* Both lines at even steps of Te, K, 2 to CT_MAX_CURVE_POINTS of them. Points without a solution
 * are left out and counted. CT_INPUT for their number or an empty range; CT_NO_ROOT when no point
 * could be computed (the fault is the last point's). */
CT_API ct_status ct_curves_run(ct_solver *, const ct_system *, const ct_conditions *,
                               const ct_steps *Te, ct_curve *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
