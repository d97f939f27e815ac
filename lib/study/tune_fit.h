/* Tune, the fit: regularised least squares over the unknowns, by GSL's trust region. Internal. */
#ifndef CT_STUDY_TUNE_FIT_H
#define CT_STUDY_TUNE_FIT_H

#include "study/tune_model.h"

typedef struct {
    double z[CT_TUNE_COUNT];                /* by place in of_x */
    double C[CT_TUNE_COUNT][CT_TUNE_COUNT]; /* covariance, in prior sigmas */
    double f[CT_TUNE_ROWS];                 /* residuals, by place in of_y */
    double J[CT_TUNE_ROWS][CT_TUNE_COUNT];  /* their slopes */
    double leverage[CT_TUNE_ROWS];
    double newton[CT_TUNE_COUNT]; /* step to the level point of the local quadratic */
    double chi2, p, away;         /* as in ct_tune */
    double log_det;               /* of J'J */
    double log_z;                 /* logarithm of the evidence, up to what all suppositions share */
    int dof, iterations;
} ct_tune_solution;

/* Of an arranged problem. CT_NO_CONV: no best fit; CT_RANGE, CT_NO_ROOT: no balance to begin from;
 * CT_SYSTEM. */
ct_status ct_tune_fit(ct_tune_problem *, ct_tune_solution *, ct_fault *);

/* C = A^-1 by Gauss and Jordan, without pivots, and the logarithm of A's determinant; A is spoilt.
 * For A = J'J with a row of one in J for each prior: it is then at least the unit matrix. Not
 * GSL's, which does not look whether its memory was there. */
double ct_tune_invert(int n, double A[CT_TUNE_COUNT][CT_TUNE_COUNT],
                      double C[CT_TUNE_COUNT][CT_TUNE_COUNT]);

#endif
