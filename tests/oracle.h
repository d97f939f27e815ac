/* How often a fault could be named at all: the best anyone can do who knows the second model itself,
 * how its systems scatter, how far each instrument errs and every fault that may be there, but not how
 * large it is.
 *
 * Readings of each kind of visit are taken as normal about the second model's, with the scatter of
 * systems and weather through its slopes and the instruments' errors beside it; the likeliest kind is
 * then the best guess (Neyman & Pearson 1933). No method names more on the whole; it may name more of
 * one cause where it names fewer of another. For tests. */
#ifndef ORACLE_H
#define ORACLE_H

#include "visits.h"

typedef struct oracle oracle;

/* Of these kinds, the first a sound system. NULL: no memory, or the sound system does not settle;
 * another kind that does not settle is never guessed. */
oracle *oracle_make(const visit_house *, const visit_kind *kinds, int n);
void oracle_free(oracle *);

/* Logarithm of the likelihood of each kind; -INFINITY for one that does not settle. */
void oracle_weigh(const oracle *, const ct_readings *, double *log_p);

#endif
