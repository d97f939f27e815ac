/* Tune, the fit: regularised least squares over the unknowns, by GSL's trust region. Internal. */
#ifndef CT_STUDY_TUNE_FIT_H
#define CT_STUDY_TUNE_FIT_H

#include "study/tune_model.h"

typedef struct {
    double z[CT_TUNE_COUNT];                /* by place in of_x */
    double C[CT_TUNE_COUNT][CT_TUNE_COUNT]; /* covariance, in prior sigmas */
    double f[CT_READING_COUNT];             /* residuals, by place in of_y */
    double leverage[CT_READING_COUNT];
    double newton[CT_TUNE_COUNT]; /* step to the level point of the local quadratic */
    double chi2, p, away;         /* as in ct_tune */
    int dof, iterations;
} ct_tune_solution;

/* Of an arranged problem. CT_NO_CONV: no best fit; CT_RANGE, CT_NO_ROOT: no balance to begin from;
 * CT_SYSTEM. */
ct_status ct_tune_fit(ct_tune_problem *, ct_tune_solution *, ct_fault *);

#endif
