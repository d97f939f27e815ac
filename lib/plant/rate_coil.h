/* Matched coil from the nameplate: the two conductances, air side and refrigerant side, that give
 * the rated total capacity and the rated sensible heat ratio at the rating point. SI. Internal. */
#ifndef CT_PLANT_RATE_COIL_H
#define CT_PLANT_RATE_COIL_H

#include "base/status.h"
#include "part/coil.h"
#include "plant/rate_outdoor.h"

/* `near`: the matched coil of a nameplate that differs little, to begin at; NULL for none. CT_INPUT
 * when no coil gives the rated capacity or the rated ratio: the fault has the possible range. */
ct_status ct_rate_coil(const ct_case *, const ct_rating_point *, const ct_coil *near,
                       ct_coil *matched, ct_calibration *, ct_fault *);

#endif
