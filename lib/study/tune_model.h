/* Tune, the model: what every instrument would show for given unknowns.
 *
 * One evaluation is one balance at the conditions of the visit (a few, where the tap's volume waits
 * for the density of the leaving air). Internal. */
#ifndef CT_STUDY_TUNE_MODEL_H
#define CT_STUDY_TUNE_MODEL_H

#include <gsl/gsl_vector.h>

#include "study/tune_problem.h"

typedef struct {
    double y[CT_TUNE_ROWS]; /* SI; NaN for conditions, and for what is not compared */
    double V;               /* m3/s at the blower */
    ct_balance balance;
} ct_tune_prediction;

/* From x, all unknowns with multipliers as logarithms. Not CT_OK: the story is in p->fault. */
ct_status ct_tune_model_predict(ct_tune_problem *p, const double x[CT_TUNE_COUNT],
                                ct_tune_prediction *);

/* x from the fitted unknowns' z; the others keep their priors. */
void ct_tune_model_values(const ct_tune_problem *, const gsl_vector *z, double x[CT_TUNE_COUNT]);

/* Predicted less read, over the uncertainty of the reading: the first n_y of f. False: no balance
 * there, or z is far out. */
bool ct_tune_model_residuals(ct_tune_problem *, const gsl_vector *z, double f[CT_TUNE_ROWS]);

/* x as people count it: the multiplier; superheat and subcooling inside their bounds. */
double ct_tune_model_physical(int i, double x);

/* K more of subcooling that was put in where the piston passes exp(x) of what its bore says; its
 * slope over x. 0 where the charge does not follow the superheat. */
double ct_tune_model_filled(const ct_tune_problem *, double x, double *slope);

/* The textbook signs, and the capacity: readings against the sound system in this weather. Of an
 * arranged problem. */
void ct_visit_signs(ct_tune_problem *, ct_tune *);

#endif
