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

/* Rates the outdoor unit and the matched coil from the nameplate. CT_INPUT when the nameplate
 * contradicts itself (EER that leaves no compressor power, SHR or suction temperature no coil can
 * give: the fault has the possible range). CT_RANGE from the tables. For host programs that state
 * the whole nameplate; ct_settle moves what nobody stated. */
CT_API ct_status ct_setup_rate(const ct_case *, const ct_refrigerant *, ct_outdoor *,
                               ct_coil *matched, ct_calibration *, ct_fault *);

/* The same for a case that differs little from that of `like`, begun at its matched coil (NULL for
 * none): about ten times quicker, and it cannot change the answer beyond the solver's tolerance.
 * The refrigerant is that of `like`. The range of rated SHR is then not worked out and is NaN. */
CT_API ct_status ct_setup_rate_near(const ct_setup *like, const ct_case *, ct_outdoor *,
                                    ct_coil *matched, ct_calibration *, ct_fault *);

/* Outdoor unit with indoor[unit] of the case, tuned as the case says; the coil's multiplier was
 * learnt on indoor[0] and holds for it alone. */
CT_API ct_status ct_setup_join(const ct_setup *, ct_system *, ct_fault *);

/* The matched pair itself at the rating metering, for comparison and for tests. */
CT_API void ct_setup_matched(const ct_setup *, ct_system *);

#ifdef __cplusplus
}
#endif
#endif
