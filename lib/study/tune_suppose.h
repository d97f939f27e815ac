/* Tune, what may be wrong: each cause as a supposition, that is as priors of its own. A sound
 * system is one of them. Internal. */
#ifndef CT_STUDY_TUNE_SUPPOSE_H
#define CT_STUDY_TUNE_SUPPOSE_H

#include "study/tune_problem.h"

#define CT_TUNE_SUPPOSITIONS (CT_TUNE_EXPLANATIONS + 1)

typedef struct {
    ct_cause cause;       /* CT_CAUSE_COUNT: sound */
    ct_reading_kind kind; /* CT_CAUSE_READING */
    int tap;              /* CT_CAUSE_TAP */
    double odds;          /* before any reading, over those of a sound system */
    int subject;          /* the unknown that gives its size; -1: the reading's shift */
    int n_moves, n_held;  /* the last n_held: what is not wrong, held near its plate */
    struct {
        int unknown;
        double mean, sigma; /* its prior, as in ct_tune_prior */
    } move[CT_TUNE_MULTIPLIERS + 3];
    double slack[CT_TUNE_ROWS]; /* SI, added to the doubt of a row */
    double share[CT_TUNE_ROWS]; /* of what a row shows that is there then; 0 counts as 1 */
    ct_tune_tap on;             /* CT_CAUSE_TAP: what that tap's table says */
    double far;                 /* CT_CAUSE_READING: SI, how far it may be off */
    bool meets;                 /* static tells nothing: the table meets the ducts of the case */
    double u_meets;             /* m3/s, doubt of the airflow there */
    bool charge_stays;          /* the piston went wrong after it was charged by superheat */
    double times;               /* density of what was read over that of the rows compared */
} ct_tune_supposition;

/* All that can be told apart with these readings, the sound one first. Of a prepared problem. */
int ct_tune_suppose_all(const ct_tune_problem *, ct_tune_supposition list[CT_TUNE_SUPPOSITIONS]);

/* An arranged problem under it. */
void ct_tune_suppose(ct_tune_problem *, const ct_tune_supposition *);

/* The same to find sizes: what is not wrong has the spread of the prior again. */
void ct_tune_suppose_loosely(ct_tune_problem *, const ct_tune_supposition *);

/* An arranged problem with the equipment free: anything a system could do. */
void ct_tune_suppose_anything(ct_tune_problem *);

#endif
