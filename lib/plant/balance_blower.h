/* Balance, the blower's share: what its watts make of a balance that coil and outdoor unit have
 * come to. SI. Internal. */
#ifndef CT_PLANT_BALANCE_BLOWER_H
#define CT_PLANT_BALANCE_BLOWER_H

#include "plant/balance_answer.h"
#include "plant/plant.h"

/* The blower draws P W: supply air, net heat and total power of the balance follow. After the coil
 * its watts change nothing else; before it they are in the air that enters. */
void ct_balance_blower(const ct_system *, double m_da, double P, ct_balance *);

#endif
