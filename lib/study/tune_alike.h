/* Tune, causes that give the same readings: a part that does wrong and an instrument that makes it
 * seem so. Internal. */
#ifndef CT_STUDY_TUNE_ALIKE_H
#define CT_STUDY_TUNE_ALIKE_H

#include "study/tune.h"

/* Of explanations in order of their chance, the first of them named: puts what looks like it in
 * second place and sets `alike`; flood-back, which does harm, comes first of the two. */
void ct_tune_alike(ct_tune *);

#endif
