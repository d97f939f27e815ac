/* Tune, the weighing: how likely each supposition is, given the readings. Internal.
 *
 * All are first worked out on straight lines through the sound system's fit; those that come out
 * likeliest are then fitted themselves. */
#ifndef CT_STUDY_TUNE_WEIGH_H
#define CT_STUDY_TUNE_WEIGH_H

#include "study/tune_fit.h"
#include "study/tune_suppose.h"

#define CT_TUNE_REFITS 6

typedef struct {
    double log_z, chance;
    double x[CT_TUNE_COUNT]; /* of all unknowns */
    double size, u_size;
    int fit; /* place among the fits, -1: on straight lines only */
} ct_tune_weight;

typedef struct {
    int n, best;
    ct_tune_supposition list[CT_TUNE_SUPPOSITIONS];
    ct_tune_weight weight[CT_TUNE_SUPPOSITIONS];
    int n_fits;
    ct_tune_solution
        fit[CT_TUNE_REFITS + 1]; /* [0]: of a system as they are found, for the lines */
} ct_tune_weighing;

/* Of an arranged problem with the sound system's fit in fit[0]. Fails: CT_SYSTEM, out of memory. */
ct_status ct_tune_weigh(ct_tune_problem *, ct_tune_weighing *, ct_fault *);

#endif
