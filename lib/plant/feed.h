/* Feed: what arrives at the metering device of a system that is in balance. Condenser, liquid line,
 * device: judge, notes, metering study and program all ask here. Public. */
#ifndef CT_PLANT_FEED_H
#define CT_PLANT_FEED_H

#include "part/inlet.h"
#include "plant/balance_answer.h"
#include "plant/plant.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Fails as ct_liquid_line_inlet. */
CT_API ct_status ct_feed_inlet(const ct_system *, const ct_balance *, ct_inlet *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
