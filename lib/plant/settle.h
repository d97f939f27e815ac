/* Settle: a nameplate made whole.
 *
 * A file rarely says everything. What it leaves out was first taken from the ordinary unit of that
 * efficiency (case/defaults_outdoor.h), and such values do not always go together. Here those that
 * nobody stated give way: the saturated discharge until the compressor's efficiency lies in its
 * usual band, the sensible heat ratio and then the saturated suction until a coil can have both,
 * and the EER until the unit's own SEER is that of its label. What was stated is never moved. SI.
 * Public. */
#ifndef CT_PLANT_SETTLE_H
#define CT_PLANT_SETTLE_H

#include "case/report.h"
#include "plant/balance.h"
#include "plant/setup.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Isentropic work over electrical input of a sound hermetic compressor at the rating: 0.59 to 0.73
 * in openly published R-22 and R-410A maps and a laboratory unit (NISTIR 7350); older and small
 * ones less. Common practice, no source. Assumed values are moved until it lies in the band. */
#define CT_ETA_LOW 0.45
#define CT_ETA_HIGH 0.75

/* Most that one stage, and two, usually reach; above, the label says nothing about the rating
 * tests. Common practice, no source. */
#define CT_SEER_ONE_STAGE (18.0 * CT_W_PER_BTUH)
#define CT_SEER_TWO_STAGES (22.0 * CT_W_PER_BTUH)

/* Where the rated equipment goes: borrowed, all three filled or none. */
typedef struct {
    ct_outdoor *outdoor;
    ct_coil *matched; /* the coil it was rated with */
    ct_calibration *calibration;
} ct_settled;

/* Moves the assumed values of c->outdoor, rates it as ct_setup_rate does, and notes in the report
 * (may be NULL) what became of each. A case without assumed values is rated as it is. The solver
 * runs the rating tests. Fails as ct_setup_rate, when what was stated cannot be; *c is then
 * untouched. */
CT_API ct_status ct_settle(ct_case *c, const ct_refrigerant *, ct_solver *, ct_case_report *,
                           const ct_settled *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
