/* Fill: the charge of a piston system. SI. Public. */
#ifndef CT_PLANT_FILL_H
#define CT_PLANT_FILL_H

#include "plant/plant.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Most liquid a technician puts in for the sake of superheat, K of subcooling (20 F; common
 * practice, no source): a system that needs more has too small a piston. */
#define CT_FILL_SUBCOOLING_MOST (20.0 / 1.8)

/* The weather it is charged in. */
typedef struct {
    ct_air in;    /* return air */
    double T_out; /* K */
} ct_fill_day;

/* Fills a piston system as the trade does: the speed is set, then it is charged until the superheat
 * is the target for that day's weather (ct_target_superheat), with no more than
 * CT_FILL_SUBCOOLING_MOST. Where the rule has no target, and without a day (NULL), at the A test
 * (13 F). A subcooling that is stated, not assumed, is filled to instead, at the A test. From then
 * on the charge stays, whatever the weather; how it goes with the speed is in by_air. A valve's is
 * left to its subcooling. On failure the charge is 0. Fails as ct_balance_solve. */
CT_API ct_status ct_fill_piston(const ct_outdoor_unit *, const ct_fill_day *, ct_system *,
                                ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
