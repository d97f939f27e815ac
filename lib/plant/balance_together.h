/* Balance, all at once: with a piston discharge, suction and, where the charge stays, subcooling
 * hang together closely, and from a neighbor they are found together instead of one inside the
 * other.
 *
 * Newton's method on the two or three residuals, its matrix from the neighbor and bettered from
 * step to step by what the step brought (Broyden 1965, Math. Comp. 19:577-593); where the neighbor
 * has none it is measured. It goes on only while each step is much shorter than the one before and
 * the balance ahead is one that a system keeps to. Whatever is in its way is left to the searches
 * that look everywhere. SI. Internal. */
#ifndef CT_PLANT_BALANCE_TOGETHER_H
#define CT_PLANT_BALANCE_TOGETHER_H

#include "plant/balance_record.h"

/* For the trial of a piston's system, entered (balance_enter.h), the subcooling held. True: the
 * trial is the balance, and *out has its slopes. */
bool ct_balance_together(ct_trial *, const ct_start *, ct_balance *out);

/* What the subcooling is found for. */
typedef enum { CT_FOR_CHARGE, CT_FOR_SUPERHEAT } ct_together_for;

typedef struct {
    ct_together_for what;
    double wanted; /* kg per m3 of condenser; K of superheat, > 0 */
} ct_together_aim;

/* The same with the subcooling found too; that of `sys`, which is the trial's system, is moved to
 * it. Where even without subcooling there is more charge in the system, *out says so
 * (ct_charge_search). The third row of the slopes is that of the aim. */
bool ct_balance_together_for(ct_trial *, ct_system *sys, const ct_together_aim *, const ct_start *,
                             ct_balance *out);

#endif
