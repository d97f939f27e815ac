/* Balance, the low side: what the refrigerant brings to the coil at the latest trial, and how it leaves.
 * SI. Internal. */
#ifndef CT_PLANT_BALANCE_LOW_H
#define CT_PLANT_BALANCE_LOW_H

#include "plant/balance_record.h"

/* State at the coil outlet that goes with the latest high side. False: it cannot be worked out. */
bool ct_balance_outlet(ct_trial *);

/* What a coil is given at the latest trial. */
ct_coil_tubes ct_balance_tubes(const ct_trial *);

#endif
