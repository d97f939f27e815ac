/* Tune, the problem: what is unknown on this visit, how far it may move, and which readings it is
 * compared with.
 *
 * Unknowns are counted in z, standard deviations of their priors. Multipliers move in their
 * logarithm. Internal. */
#ifndef CT_STUDY_TUNE_PROBLEM_H
#define CT_STUDY_TUNE_PROBLEM_H

#include "judge/sweep.h"
#include "study/tune.h"
#include "study/visit.h"

typedef struct {
    bool fitted, read, fence;   /* fence: the prior only keeps the search in bounds */
    double prior, sigma, start; /* the logarithm for multipliers, else SI */
} ct_tune_prior;

typedef struct {
    ct_case c; /* untuned copy; the job points to it */
    ct_sweep_job job;
    ct_solver *solver;
    ct_visit visit;
    int tap;          /* -1: not given */
    double V_nominal; /* m3/s by the tap's table; without a tap the rated, standard */
    double P_blower;  /* W */
    double V_static, u_V_static, slope; /* m3/s by table and static; dV/ddp; u 0: says nothing */

    ct_readings readings; /* those this fit may see */
    ct_tune_prior prior[CT_TUNE_COUNT];
    int n_x, of_x[CT_TUNE_COUNT]; /* those fitted */
    int n_y;
    ct_reading_kind of_y[CT_READING_COUNT]; /* those compared with predictions */

    ct_start start; /* the latest balance */
    bool warm;
    int evaluations;
    ct_fault fault; /* of the latest failed balance */
} ct_tune_problem;

/* Checks the readings, prepares the sweep without the multipliers of the case, and finds the
 * airflow of the tap and of the static. */
ct_status ct_tune_problem_prepare(ct_tune_problem *, const ct_setup *, const ct_readings *,
                                  ct_fault *);

/* Unknowns, priors and comparisons as they are with these readings. */
void ct_tune_problem_arrange(ct_tune_problem *, const ct_readings *);

/* Return and outdoor air: unknowns with a reading as prior. */
bool ct_tune_problem_is_condition(ct_reading_kind);

/* Is this reading compared with what the model predicts? */
bool ct_tune_problem_compares(const ct_tune_problem *, ct_reading_kind);

#endif
