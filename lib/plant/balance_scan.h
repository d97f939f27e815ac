/* Scan: the balance a system at rest comes to, where the short search met trouble on its way or may
 * have met another balance.
 *
 * At rest the coil is as warm as its air; the compressor then draws the suction down until the coil
 * gives what it takes. So the balance is the first suction from above at which the coil gives as
 * much. The scan walks down in equal steps from the air, by itself the same for every start.
 * Internal.
 */
#ifndef CT_PLANT_BALANCE_SCAN_H
#define CT_PLANT_BALANCE_SCAN_H

#include "base/search.h"
#include "plant/balance_record.h"

typedef struct {
    ct_residual low_side; /* of suction, K; falls with it; leaves its trouble in the trial */
    ct_trial *trial;
    double high, low; /* K */
} ct_scan;

/* True: the balance lies between *low and *high. False: there is none, and the trial's trouble and
 * fault say why; CT_NO_BALANCE when the coil gives less than the compressor takes at every
 * suction. */
bool ct_balance_scan(const ct_scan *, double *low, double *high);

#endif
