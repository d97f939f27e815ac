/* Explain's curves: outdoor unit and coil over the suction, and blower taps against the ducts. */
#ifndef CLI_EXPLAIN_CROSSING_H
#define CLI_EXPLAIN_CROSSING_H

#include "base/job.h"
#include "plant/curves.h"

enum { CURVES = 5, CURVE_POINTS = 41, TAP_CURVE_POINTS = 25, DUCT_POINTS = 61 };

/* A coil curve for each airflow that balances, and the balance: where it crosses. */
typedef struct {
    int n;
    ct_point point[CURVES];
    ct_curve curve[CURVES];
} explain_curves;

/* Fails when no airflow balances, with the reason of the last. */
ct_status explain_curves_make(job *j, explain_curves *, ct_fault *);

typedef struct {
    int n_duct;
    ct_blower_point duct[DUCT_POINTS];
    int n_curve[CT_MAX_TAPS]; /* 0: the tap moves no air against any duct */
    ct_blower_point curve[CT_MAX_TAPS][TAP_CURVE_POINTS];
    bool meets[CT_MAX_TAPS];
    ct_blower_point meet[CT_MAX_TAPS];
} explain_blower;

void explain_blower_make(const ct_blower *, const ct_duct *, explain_blower *);

#endif
