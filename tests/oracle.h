/* How often a fault could be named at all: the best anyone can do who knows the second model
 * itself, how its systems scatter, how far each instrument errs and every fault that may be there,
 * but not how large it is.
 *
 * Readings of each kind of visit are taken as normal about the second model's, with the scatter of
 * systems and weather through its slopes and the instruments' errors beside it; the likeliest kind
 * is then the best guess (Neyman & Pearson 1933). No method names more on the whole; it may name
 * more of one cause where it names fewer of another. For tests. */
#ifndef ORACLE_H
#define ORACLE_H

#include "visits.h"

typedef struct oracle oracle;

/* A kind of visit in one size, or about it. */
typedef struct {
    visit_kind kind;
    /* standard deviation of its level, of the logarithm for a multiplier; 0: one size */
    double spread;
    double weight; /* how often it is met, over a sound system */
} oracle_kind;

/* What is doubted beside that: nothing where all is 0 and 1. */
typedef struct {
    double of_row[CT_READING_COUNT]; /* SI, in what a system shows */
    double stretch[VISIT_FREE];      /* sound systems scatter so many times as far */
} oracle_doubt;

/* Of these kinds, the first a sound system; no doubt: NULL. Returns NULL: no memory, or the sound
 * system does not settle; another kind that does not settle is never guessed. */
oracle *oracle_make(const visit_house *, const oracle_kind *kinds, int n, const oracle_doubt *);
void oracle_free(oracle *);

/* Logarithm of the likelihood of each kind; -INFINITY for one that does not settle. */
void oracle_weigh(const oracle *, const ct_readings *, double *log_p);

/* What tune itself supposes: its causes and how often each is met, its sizes as wide, both ways for
 * an instrument, and the doubt it has in its model. The same bound then says what these
 * suppositions can tell at most, were the model right. Scatter of `scatter`. Number of kinds; 0:
 * the story is printed. */
enum { ORACLE_SUPPOSED = 160 };
int oracle_suppose(const visit_house *, double scatter, oracle_kind kinds[ORACLE_SUPPOSED],
                   oracle_doubt *);

#endif
