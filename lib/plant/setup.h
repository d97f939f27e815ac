/* Setup: the equipment of a case, with one of its indoor units and the solver that works on it.
 *
 * Whatever joins, sweeps, compares or varies a case starts from these five. Everything is borrowed
 * and must outlive the setup; the refrigerant is the outdoor unit's. One per thread, as the solver
 * is. Public. */
#ifndef CT_PLANT_SETUP_H
#define CT_PLANT_SETUP_H

#include "case/case.h"
#include "plant/balance.h"
#include "plant/plant.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    ct_solver *solver; /* NULL where nothing is solved: joining, preparing */
    const ct_case *c;
    const ct_outdoor *outdoor; /* sized from the nameplate, not tuned */
    const ct_coil *matched;    /* the coil it was rated with */
    int unit;                  /* index of the indoor unit in the case, 0 to n_indoor - 1 */
} ct_setup;

/* Outdoor unit with indoor[unit] of the case, tuned as the case says; the coil's multiplier was
 * learnt on indoor[0] and holds for it alone. */
CT_API ct_status ct_setup_join(const ct_setup *, ct_system *, ct_fault *);

/* The matched pair itself at the rating metering, for comparison and for tests. */
CT_API void ct_setup_matched(const ct_setup *, ct_system *);

#ifdef __cplusplus
}
#endif
#endif
