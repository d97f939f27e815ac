/* Fill: the charge of a piston system. Public. */
#ifndef CT_PLANT_FILL_H
#define CT_PLANT_FILL_H

#include "plant/plant.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Fills a piston system to the subcooling of its condenser at the A test and the rated airflow: from
 * then on its charge stays, whatever the speed and the weather. A valve's is left to its subcooling.
 * On failure the charge is 0. Fails as ct_balance_solve. */
CT_API ct_status ct_fill_piston(const ct_outdoor_unit *, ct_system *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
