/* Uncertain: how sure the answer is, given how sure the inputs are.
 *
 * Draws many cases around the one written down, each input off by its own standard deviation
 * (vary.h), works out every airflow and every tap for each, and gives the spread of capacities and
 * temperatures, and how often a speed carries the load, stays clear of frost, keeps every limit,
 * and would be the pick. Inputs vary independently and normally; the draws are a quasi-random
 * sequence (GSL's Sobol after Antonov & Saleev 1979, or Halton 1960) through the inverse normal
 * distribution, so that few of them go far. The same plan gives the same numbers on any machine and
 * with any number of threads.
 *
 * A draw that cannot be (a nameplate no coil can have, air that does not exist: vary.h) is set
 * aside and counted; all shares are of the draws that are left. Among these, a draw in which a
 * speed does not balance counts against every limit of that speed. What is uncertain in the model
 * itself is not in these numbers. SI. Public. */
#ifndef CT_STUDY_UNCERTAIN_H
#define CT_STUDY_UNCERTAIN_H

#include "base/status.h"
#include "judge/sweep.h"
#include "study/vary.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_UNCERTAIN_SAMPLES_MAX 100000
#define CT_UNCERTAIN_CELLS_MAX 4000000 /* samples times (airflows + taps) */

typedef enum { CT_SEQUENCE_SOBOL = 0, CT_SEQUENCE_HALTON } ct_sequence;

typedef struct {
    int samples; /* 1..CT_UNCERTAIN_SAMPLES_MAX */
    int threads; /* 0: one per core */
    ct_sequence sequence;
} ct_uncertain_plan;

typedef enum {
    CT_BAND_AIRFLOW = 0, /* m3/s standard: spreads at taps only */
    CT_BAND_TOTAL,       /* W net */
    CT_BAND_SENSIBLE,    /* W net */
    CT_BAND_LATENT,      /* W */
    CT_BAND_SURFACE,     /* K, coldest surface */
    CT_BAND_SUCTION,     /* K, saturated suction */
    CT_BAND_COUNT
} ct_band_of;

/* Over the draws that balance. Quantiles interpolate between the two nearest draws (GSL's rule).
 * All NaN when n is 0. */
typedef struct {
    int n;
    double mean, q05, q16, median, q84, q95;
} ct_band;

typedef struct {
    int tap;                     /* index in the blower's table, -1 for an airflow of the sweep */
    double V_std, V_std_per_ton; /* m3/s standard, of the case as written */
    ct_band band[CT_BAND_COUNT];
    double limit[CT_LIMIT_COUNT]; /* share of draws that pass it; NaN when it is never judged */
    double all;                   /* share that passes every deciding limit */
    /* Share in which this is the lowest speed that does, whether or not the unit may be
     * installed at all; NaN at airflows when there are taps, for the pick is made there. */
    double picked;
} ct_uncertain_point;

typedef struct {
    int samples;    /* drawn */
    int impossible; /* of these set aside */
    int unsettled;  /* of the others: some speed does not balance */
    double none;    /* share of the possible draws in which no speed passes */
    char why[200];  /* the first impossible draw's story, "" for none */
    int n, n_taps;
    ct_uncertain_point point[CT_MAX_SWEEP_POINTS];
    ct_uncertain_point tap[CT_MAX_TAPS]; /* in the order of the nominal sweep */
} ct_uncertain;

/* Around the case and unit of the setup, whose matched coil only says where to begin; its solver is
 * not used, for every thread has its own. nominal: the unit's sweep, for the airflows. CT_RANGE:
 * plan or standard deviations outside what is allowed. CT_NO_ROOT: no draw is possible. CT_SYSTEM:
 * memory. */
CT_API ct_status ct_uncertain_run(const ct_setup *, const ct_sweep *nominal,
                                  const ct_uncertain_plan *, ct_uncertain *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
