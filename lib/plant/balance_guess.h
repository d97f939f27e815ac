/* Balance, where a search without a neighbor begins: near the place where a rough coil balances.
 * Internal. */
#ifndef CT_PLANT_BALANCE_GUESS_H
#define CT_PLANT_BALANCE_GUESS_H

#include "plant/balance_record.h"

/* State at the coil outlet that goes with the latest high side. False: it cannot be worked out. */
bool ct_balance_outlet(ct_trial *);

/* What a coil is given at the latest trial. */
ct_coil_tubes ct_balance_tubes(const ct_trial *);

/* From the suction Te on: suction and slope; the high side goes on from the trial. False: no guess,
 * begin anywhere. */
bool ct_balance_guess(ct_trial *, double Te, ct_start *);

#endif
