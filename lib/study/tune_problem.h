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

/* Rows that are compared: a reading each, and static a second time, through the ducts. */
enum { CT_TUNE_ROW_DUCTS = CT_READING_COUNT, CT_TUNE_ROWS };

typedef struct {
    bool fitted, read;
    double prior, sigma, start; /* the logarithm for multipliers, else SI */
} ct_tune_prior;

/* What a tap's table says. */
typedef struct {
    bool has;
    double V, P;                        /* m3/s and W against the ducts of the case */
    double V_static, u_V_static, slope; /* m3/s at the static read; dV/ddp; u 0: says nothing */
    double P_static;                    /* W there, or against the ducts without a static */
    double u_P_static;                  /* W, doubt of the table */
    double past; /* 0..1, how far the static lies past the table, over its last point */
} ct_tune_tap;

typedef struct {
    ct_case c; /* untuned copy; the job points to it */
    ct_sweep_job job;
    ct_solver *solver;
    ct_visit visit;
    int tap;           /* -1: not given */
    double V_nominal;  /* m3/s by the tap's table; without a tap as picked or rated, standard */
    bool as_picked;    /* no tap was given, and V_nominal is what the sweep picks */
    double P_blower;   /* W */
    double subcooling; /* K, a sound charge's on this visit */
    /* Where a piston was charged by superheat, else 0: doubt of that, K; K less of it that a piston
     * took which passes more, over the logarithm; K up to the most that is put in. */
    double u_filled, less_filled, room_filled;
    bool charge_stays;         /* supposed: the piston went wrong after it was charged */
    double doubt;              /* share of the model's own doubt that counts */
    ct_tune_tap told, of_tap;  /* the one given; the one supposed */
    double V_ducts, u_V_ducts; /* m3/s by the ducts and static; u 0: says nothing */

    ct_readings given;    /* what was read, with what it means */
    ct_readings readings; /* those this fit may see */
    ct_tune_prior prior[CT_TUNE_COUNT];
    int n_x, of_x[CT_TUNE_COUNT];                   /* those fitted */
    int n_y, of_y[CT_TUNE_ROWS];                    /* rows compared with predictions */
    double seen[CT_TUNE_ROWS], u_row[CT_TUNE_ROWS]; /* SI, by row; u with the model's doubt */

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
int ct_tune_problem_unknown_of(ct_reading_kind); /* of a condition */

/* What a multiplier found by one model is worth in another: standard deviation of its logarithm,
 * beside what the readings leave open. */
double ct_tune_doubt_of(const ct_tune_problem *, int unknown);

/* What the model makes of a reading v besides, SI: ct_tune_doubt, as far as it counts here, and
 * more with a piston. */
double ct_tune_doubt_of_row(const ct_tune_problem *, int row, double v);

/* Airflow and watts are as the table has them, within `share` of the spread of their priors. */
void ct_tune_problem_near(ct_tune_problem *, double share);

/* Is this row compared with what the model predicts? */
bool ct_tune_problem_compares(const ct_tune_problem *, int row);

/* Tap i at the static read; has false where it cannot move air against these ducts. */
void ct_tune_problem_tap(const ct_tune_problem *, int i, ct_tune_tap *);

/* The visit's airflow and watts are those of this tap, whatever tap was given; what was measured of
 * them stays. */
void ct_tune_problem_runs_on(ct_tune_problem *, int tap);

#endif
