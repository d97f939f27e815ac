/* Balance, where a search without a neighbor begins: near the place where a rough coil balances.
 * Internal. */
#ifndef CT_PLANT_BALANCE_GUESS_H
#define CT_PLANT_BALANCE_GUESS_H

#include "plant/balance_record.h"

/* From the suction Te on: suction and slope; the high side goes on from the trial. False: no guess,
 * begin anywhere. */
bool ct_balance_guess(ct_trial *, double Te, ct_start *);

#endif
