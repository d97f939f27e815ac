/* Balance, the high side: the discharge at which the condenser sheds what the compressor brings at
 * one suction. SI. Internal. */
#ifndef CT_PLANT_BALANCE_HIGH_H
#define CT_PLANT_BALANCE_HIGH_H

#include "plant/balance_record.h"

/* Where the first search begins; NULL for cold. */
void ct_balance_high_begin(ct_trial *, const ct_start *);

/* Finds the Tc of this Te, to the trial's inner_tol. False when there is none; its trouble says
 * why. */
bool ct_balance_high(ct_trial *, double Te);

/* Tc, K, is looked for between these. */
void ct_balance_high_ends(const ct_trial *, double Te, double *low, double *high);

/* The residual at this Te and Tc, no search. False: it cannot be worked out. */
bool ct_balance_high_at(ct_trial *, double Te, double Tc);

#endif
