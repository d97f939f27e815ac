/* Another coil from the matched one: by its geometry, or by its relative size. SI. Public. */
#ifndef CT_PLANT_GROW_COIL_H
#define CT_PLANT_GROW_COIL_H

#include "base/status.h"
#include "case/case.h"
#include "part/coil.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The coil of an indoor unit, from the calibrated matched coil. CT_RANGE for a size or circuits
 * outside what the growth laws hold for; CT_INPUT when only the new coil has a geometry. */
CT_API ct_status ct_grow_coil(const ct_case *, const ct_coil *matched, const ct_coil_spec *,
                              ct_coil *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
