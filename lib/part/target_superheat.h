/* Target superheat: what a system with a piston is charged to on a day like this. SI. Pure.
 * Public. */
#ifndef CT_PART_TARGET_SUPERHEAT_H
#define CT_PART_TARGET_SUPERHEAT_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Superheat, K, to charge a piston system to: (3 indoor wet bulb - 80 - outdoor dry bulb)/2 in F,
 * trade rule (common practice, no source). CT_RANGE below 5 F: charge by weight then. */
CT_API ct_status ct_target_superheat(double T_wet_bulb_indoor, double T_outdoor, double *superheat,
                                     ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
