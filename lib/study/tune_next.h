/* Tune, what to read next: the readings that would narrow the sensible capacity most. Internal. */
#ifndef CT_STUDY_TUNE_NEXT_H
#define CT_STUDY_TUNE_NEXT_H

#include "study/tune_fit.h"

/* Of the problem as it is arranged and supposed, and its fit. Leaves n_next 0 where the slopes
 * cannot be had. */
void ct_tune_next_find(ct_tune_problem *, const ct_tune_solution *, ct_tune *);

#endif
