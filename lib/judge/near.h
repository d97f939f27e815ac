/* Near: where a search for the house's air may begin, from a neighbor that has settled. It saves
 * balances; it cannot change the answer. SI. Public. */
#ifndef CT_JUDGE_NEAR_H
#define CT_JUDGE_NEAR_H

#include "plant/balance_answer.h"

#ifdef __cplusplus
extern "C" {
#endif

/* How water and sensible capacity bend with the humidity of the air, as factors on what the coil's
 * surface alone would say, and how the balance moves with it. Nearly the same at all airflows and
 * hours. 0: not known. */
typedef struct {
    double water, sensible;
    double Te, Tc; /* K per kg/kg */
} ct_bend;

/* Where a neighbor's house settled, kg/kg, and its balance there: where a search may begin. W 0:
 * not known; start.Te 0: the balance is not. */
typedef struct {
    double W;
    ct_start start;
    ct_bend bend;
} ct_near;

#ifdef __cplusplus
}
#endif
#endif
