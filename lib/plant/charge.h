/* Charge of the plant: the refrigerant in it, and the balance at a charge that stays.
 *
 * With a valve the superheat is held and the charge shows as subcooling. With a piston neither is
 * held: what stays when the day changes is the charge, and superheat and subcooling follow. The
 * inventory counts condenser (hot vapor, condensing, liquid, by their shares of the face), liquid
 * line and evaporator (boiling and dry). Inner volumes are rarely known; they are taken relative to
 * the condenser's, and only ratios of charges are used. SI. Public. */
#ifndef CT_PLANT_CHARGE_H
#define CT_PLANT_CHARGE_H

#include "plant/balance.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Inner volumes over the condenser's: common practice, no source (a 3 ton split: condenser about 5
 * l, coil 3 l, 25 ft of 3/8 in liquid line 0.5 l). */
#define CT_CHARGE_COIL_VOLUME 0.6
#define CT_CHARGE_LINE_VOLUME 0.1

/* kg per m3 of condenser volume at a balance of this system. CT_RANGE from the tables. */
CT_API ct_status ct_charge_of(const ct_system *, const ct_balance *, double *charge, ct_fault *);

/* The balance at which the charge is `charge`, found over the subcooling; out->subcooling has it.
 * *held: -1 when even without subcooling there is more in the system (the liquid line would carry
 * gas: the balance is that without subcooling), +1 when CT_CHARGE_SUBCOOLING_MAX holds less. Fails
 * as ct_balance_solve. */
#define CT_CHARGE_SUBCOOLING_MAX 16.0 /* K */
CT_API ct_status ct_charge_balance(ct_solver *, const ct_system *, const ct_conditions *,
                                   double charge, ct_balance *out, int *held, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
