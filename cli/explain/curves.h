/* Explain's curves of the outdoor unit and the coil over the suction. */
#ifndef CLI_EXPLAIN_CURVES_H
#define CLI_EXPLAIN_CURVES_H

#include "base/job.h"
#include "plant/curves.h"

enum { CURVES = 5, CURVE_POINTS = 41 };

/* A coil curve for each airflow that balances, and the balance: where it crosses. */
typedef struct {
    int n;
    ct_point point[CURVES];
    ct_curve curve[CURVES];
} explain_curves;

/* Fails when no airflow balances, with the reason of the last. */
ct_status explain_curves_make(job *j, explain_curves *, ct_fault *);

#endif
