/* Balance, the low side: what the refrigerant brings to the coil at the latest trial, how it
 * leaves, and what the coil gives less what it takes. SI. Internal. */
#ifndef CT_PLANT_BALANCE_LOW_H
#define CT_PLANT_BALANCE_LOW_H

#include "plant/balance_record.h"

/* State at the coil outlet that goes with the latest high side. False: it cannot be worked out. */
bool ct_balance_outlet(ct_trial *);

/* What a coil is given at the latest trial. */
ct_coil_tubes ct_balance_tubes(const ct_trial *);

/* Coil heat less refrigerant heat over the boiling share, over refrigerant heat, for the trial's
 * latest high side; falls with Te. What cannot be computed is noted as the trial's trouble, and the
 * sign then sends a search back. */
double ct_balance_low(ct_trial *);

/* The same where the high side already has no answer. */
double ct_balance_way_back(const ct_trial *);

/* False: next to nothing of what comes boils, for the coil is as warm as its air. The piston is far
 * too large: the two sides agree there, but on no heat. */
bool ct_balance_boils(const ct_trial *);

#endif
