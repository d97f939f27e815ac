/* Compare: several indoor units on the one outdoor unit, each at its own pick, beside the matched
 * pair.
 *
 * For each unit: its sweep, its pick, what it costs installed, and what it gives up against the
 * pair the outdoor unit was rated as: capacity, drying, humidity of the house, efficiency.
 * Efficiency is worked out at the A and B tests of AHRI 210/240 and, by that standard's
 * formula for its stages, over the season, so that nobody promises the indoor unit's own label on
 * the old outdoor unit. SI. A ct_sweep is large: the caller owns it. Public. */
#ifndef CT_STUDY_COMPARE_H
#define CT_STUDY_COMPARE_H

#include "base/status.h"
#include "judge/pick.h"
#include "judge/sweep.h"
#include "plant/rating_run.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Net efficiency at 80/67 F indoors and 95 (A) or 82 F (B) outdoors, W/W; and SEER by rating_run.h,
 * of both stages where there are two. */
typedef struct {
    double Q_A, EER_A; /* W, W/W */
    double Q_B, EER_B;
    double SEER; /* W/W */
} ct_efficiency;

CT_API ct_status ct_compare_efficiency(ct_solver *, const ct_rating_run *, ct_efficiency *,
                                       ct_fault *);

/* One airflow, and an hour at the stated share of the design load with the room held at the case's
 * own humidity: the run and the water that separate one coil from another (humidity.h). */
typedef struct {
    ct_point point;
    bool has_hour;
    ct_room_out hour;
} ct_showing;

/* The matched pair on this house: rated airflow and blower watts, the case's air and outdoors. */
typedef struct {
    ct_showing at;
    ct_efficiency efficiency;
} ct_matched_pair;

/* The matched pair as a job for ct_sweep_run and ct_sweep_point: no duct, rated blower watts.
 * `unit` is filled too and must outlive the job. Fails as ct_sweep_prepare. */
CT_API ct_status ct_compare_matched_job(const ct_setup *, ct_indoor_unit *unit, ct_sweep_job *,
                                        ct_fault *);

CT_API ct_status ct_compare_matched(const ct_setup *, ct_matched_pair *, ct_fault *);

typedef struct {
    int unit; /* index in the case */
    ct_pick pick;
    ct_showing at;       /* at the pick; when none passes, at the speed that comes nearest */
    ct_showing at_rated; /* this coil at the matched pair's airflow and blower watts; has no
                           balance when point.status says so */
    bool has_efficiency;
    ct_efficiency efficiency;
    double cost; /* price, labor and duct work as entered; NaN when no price */
} ct_comparison;

/* Fills the row of the setup's unit. `sweep` holds the unit's whole sweep afterwards, for overlaid
 * plots. */
CT_API ct_status ct_compare_unit(const ct_setup *, ct_sweep *sweep, ct_comparison *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
