/* Coil drop: the static pressure a wet coil takes from the air, where no data sheet says it.
 *
 * From the coil's geometry, or that of a typical coil, it gives the drop at an airflow. Good to a
 * third: fins and casing differ. SI, standard air. Pure functions. Public. */
#ifndef CT_PART_COIL_DROP_H
#define CT_PART_COIL_DROP_H

#include "base/status.h"
#include "part/finside.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Condensate bridges fins and narrows the way: friction of a wet coil over that of the same coil
 * dry. Common practice, no source; published tests of wet coils lie about 1.2 to 1.6 (from memory,
 * unconfirmed). */
#define CT_COIL_DROP_WET 1.35

/* The coil of a nameplate that states none, rated at V m3/s: three rows of such fins, 14 to the
 * inch, on 3/8 in tubes, faced at 1.5 m/s (300 ft/min). Common practice, no source. */
CT_API ct_coil_geometry ct_coil_typical(double V, ct_fin);

/* *dp, Pa, wet at V m3/s of standard air: core friction (finside.h) times CT_COIL_DROP_WET; turns
 * of the air in the casing are not counted. Fails as ct_finside_check and ct_finside do. */
CT_API ct_status ct_coil_drop_wet(const ct_coil_geometry *, double V, double *dp, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
