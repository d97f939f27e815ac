#include "plant/balance_scan.h"

#include <math.h>

#define STEP 1.5       /* K */
#define EDGE_ROUNDS 24 /* halvings: to a ten-millionth of a kelvin */

/* A trial that was worked out, or a coil that cannot make its superheat: too warm for certain. */
static bool is_known(const ct_trial *t)
{
    return t->trouble == CT_BALANCED || t->trouble == CT_SUPERHEAT_LOST;
}

/* Between a suction that is known and one that is not: looks for one of the other sign close to the
 * edge. True: it lies at *unknown, which is known then. */
static bool turns_at_edge(const ct_scan *s, double known, double f_known, double *unknown)
{
    for (int i = 0; i < EDGE_ROUNDS; i++) {
        const double middle = 0.5 * (known + *unknown);
        const double f = s->low_side(middle, s->trial);
        if (!is_known(s->trial)) {
            *unknown = middle;
        } else if ((f >= 0.0) != (f_known >= 0.0)) {
            *unknown = middle;
            return true;
        } else {
            known = middle;
        }
    }
    return false;
}

typedef struct {
    double Te, f; /* f NaN: not known */
} suction;

/* From one step to the next, lower one: true when the balance lies between, *low and *high then. */
static bool crossed(const ct_scan *s, const suction *above, const suction *here, double *low,
                    double *high)
{
    *low = here->Te;
    *high = above->Te;
    if (isnan(above->f)) return here->f >= 0.0 && turns_at_edge(s, here->Te, here->f, high);
    if (isnan(here->f)) return turns_at_edge(s, above->Te, above->f, low);
    return above->f < 0.0 && here->f >= 0.0;
}

bool ct_balance_scan(const ct_scan *s, double *low, double *high)
{
    const int n = (int)ceil((s->high - s->low) / STEP);
    ct_trial *t = s->trial;
    ct_outcome trouble = CT_NO_BALANCE; /* of the suctions passed since the last known */
    ct_fault fault = t->fault;
    suction above = {s->high, NAN};

    for (int i = 0; i <= n; i++) {
        suction here = {fmax(s->high - i * STEP, s->low), NAN};
        const double f = s->low_side(here.Te, t);
        const ct_outcome met = t->trouble;
        if (is_known(t))
            here.f = f;
        else
            fault = t->fault;
        if (i > 0 && crossed(s, &above, &here, low, high)) return true;
        if (here.f >= 0.0) break;
        trouble = isnan(here.f) ? met : CT_NO_BALANCE;
        above = here;
    }
    t->trouble = trouble;
    t->fault = fault;
    return false;
}
