/* Balance, the way in: are the conditions inside the model, and what comes to coil and condenser.
 * SI. Internal. */
#ifndef CT_PLANT_BALANCE_ENTER_H
#define CT_PLANT_BALANCE_ENTER_H

#include "plant/balance_record.h"

/* CT_RANGE, CT_INPUT: the fault names what is outside. */
ct_status ct_balance_check(const ct_conditions *, ct_fault *);

/* Fills the trial's coil and condenser for its system and conditions. Fails as ct_coil_at_air. */
ct_status ct_balance_enter(ct_trial *, ct_fault *);

#endif
