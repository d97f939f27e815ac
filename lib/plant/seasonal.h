/* Seasonal: from the energy efficiency ratio of two test days to the number on the yellow label.
 *
 * A single-speed unit is tested at 95 F (A) and 82 F (B) outdoors, indoors 80 F with 67 F wet bulb,
 * and net of the blower's heat. Its seasonal ratio follows from the B test alone and from how much
 * it loses by cycling; the A test is the rated EER. The arithmetic can be run both ways, so that a
 * job with only a SEER on its nameplate can be given a B-test EER.
 *
 * Source: AHRI 210/240, single-speed units, SEER = EER_B (1 - 0.5 CD): the part-load factor
 * 1 - CD (1 - load factor) at a load factor of one half (from memory, unconfirmed). This is not
 * SEER2, whose tests have more duct resistance. EER and SEER in W/W (1 W/W is 3.412 Btu/Wh). Pure.
 * Public. */
#ifndef CT_PLANT_SEASONAL_H
#define CT_PLANT_SEASONAL_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Defaults where no cyclic test was made (from memory, unconfirmed). */
#define CT_CD_SINCE_2017 0.20
#define CT_CD_OLDER 0.25

typedef struct {
    double Q; /* W, net total capacity, > 0 */
    double P; /* W, compressor, outdoor fan and blower */
} ct_rating_test;

/* Net capacity over total input, W/W. CT_INPUT when either is not positive, or the result is above
 * 20 (a mix-up of units). */
CT_API ct_status ct_seasonal_eer(const ct_rating_test *, double *EER, ct_fault *);

/* SEER, W/W, from the B test and the cyclic degradation CD, 0 to 0.5. */
CT_API ct_status ct_seasonal_seer(const ct_rating_test *B, double CD, double *SEER, ct_fault *);

/* B-test EER, W/W, that goes with a SEER, W/W, above 0, up to 20. For host programs. */
CT_API ct_status ct_seasonal_eer_b(double SEER, double CD, double *EER_B, ct_fault *);

/* The cyclic degradation, from a cyclic test D and the steady dry test C beside it: CD = (1 -
 * EER_D/EER_C)/(1 - CLF), CLF = heat moved in a whole cycle D over Q_C times the cycle's length.
 * The standard lets no CD be below 0; neither does this (CT_INPUT instead of a clamp).
 * For host programs. */
CT_API ct_status ct_seasonal_cd(double EER_C, double EER_D, double CLF, double *CD, ct_fault *);

/* The season of the rating procedure: how its cooling hours spread over outdoor temperature.
 * Source: 10 CFR 430 subpart B appendix M, section 4.1; the same in AHRI 210/240 (fractional hours
 * of eight bins, and the load line through none at 65 F). */
#define CT_SEASONAL_BINS 8
#define CT_SEASONAL_T_NO_LOAD 291.48333333333335 /* K, 65 F */
#define CT_SEASONAL_OVERSIZE 1.1                 /* capacity at the A test over load at 95 F */
typedef struct {
    double T;     /* K, middle of the bin */
    double share; /* of the cooling hours; all together 1 */
} ct_seasonal_bin;
CT_API const ct_seasonal_bin *ct_seasonal_bins(void);

/* SEER, W/W, of a single-speed unit summed over those bins: load (T - 65 F)/30 F Q_A/1.1, capacity
 * and input straight lines through the A and the B test, cycling loss CD (1 - load factor). It
 * comes out within 1 % of the one-line form, which takes a load factor of one half.
 * For host programs. */
CT_API ct_status ct_seasonal_seer_bins(const ct_rating_test *A, const ct_rating_test *B, double CD,
                                       double *SEER, ct_fault *);

/* A unit of two capacities, tested on the low one at 82 F and 67 F outdoors (B1, F1), on the high
 * one at 95 F and 82 F (A2, B2); indoors as above. */
#define CT_SEASONAL_T_F1 292.59444444444443 /* K, 67 F */
typedef struct {
    ct_rating_test A2, B2, B1, F1;
    double CD_low, CD_high; /* cyclic degradation, 0 to 0.5; the standard allows 0.20 at most */
    double T_lockout; /* K, outdoors at and above which the low stage does not run; INFINITY */
} ct_two_capacity;

/* SEER, W/W, summed over the bins: up to its capacity the low stage cycles, X = BL/q1 and
 * e = X e1/(1 - CD (1 - X)); between the two they take turns, X1 = (q2 - BL)/(q2 - q1); where the
 * low one is locked out the high one cycles; above, the high one runs. Capacities and inputs are
 * straight lines through the tests. Source: AHRI 210/240 (2017), 10 CFR 430 subpart B appendix M,
 * two-capacity units. */
CT_API ct_status ct_seasonal_seer_two(const ct_two_capacity *, double *SEER, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
