/* Compare: several indoor units on the one outdoor unit, each at its own pick, beside the matched
 * pair.
 *
 * For each unit: its sweep, its pick, what it costs installed, and what it gives up against the
 * pair the outdoor unit was rated as: capacity, drying, humidity of the house, efficiency.
 * Efficiency is worked out at the A and B tests of AHRI 210/240 and, by that standard's
 * single-speed formula, over the season, so that nobody promises the indoor unit's own label on the
 * old outdoor unit. SI. A ct_sweep is large: the caller owns it. */
#ifndef CT_COMPARE_H
#define CT_COMPARE_H

#include "pick.h"
#include "status.h"
#include "sweep.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Net efficiency at 80/67 F indoors and 95 (A) or 82 F (B) outdoors, W/W, with this airflow and
 * blower input; and SEER = EER_B (1 - 0.5 CD), seasonal.h. */
typedef struct {
    double Q_A, EER_A; /* W, W/W */
    double Q_B, EER_B;
    double SEER; /* W/W    */
} ct_efficiency;

CT_API ct_status ct_compare_efficiency(ct_solver *, const ct_system *, double m_da, double P_blower,
                                       double CD, ct_efficiency *, ct_fault *);

/* The matched pair on this house: rated airflow and blower watts, the case's air and outdoors. */
typedef struct {
    ct_point point;
    ct_efficiency efficiency;
} ct_matched_pair;

CT_API ct_status ct_compare_matched(ct_solver *, const ct_case *, const ct_outdoor *,
                                    const ct_coil *matched, ct_matched_pair *, ct_fault *);

typedef struct {
    int unit; /* index in the case                                             */
    ct_pick pick;
    ct_point point; /* at the pick; when none passes, the point that carries most      */
    bool has_efficiency;
    ct_efficiency efficiency;
    double cost; /* price, labour and duct work as entered; NaN when no price       */
} ct_comparison;

/* Fills one row. `sweep` holds the unit's whole sweep afterwards, for overlaid plots. */
CT_API ct_status ct_compare_unit(ct_solver *, const ct_case *, const ct_outdoor *,
                                 const ct_coil *matched, int unit, ct_sweep *sweep, ct_comparison *,
                                 ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
