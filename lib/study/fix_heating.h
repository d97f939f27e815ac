/* Fix heating: the air with which the heat on this blower is as it should be.
 *
 * Where it is not, a tap or, without a table, a set airflow puts it right and costs nothing. SI.
 * Internal. */
#ifndef CT_STUDY_FIX_HEATING_H
#define CT_STUDY_FIX_HEATING_H

#include "judge/sweep_job.h"

typedef struct {
    int tap;  /* that does, counted from 1; 0: none, or there are no taps */
    double V; /* without taps: m3/s at the blower, the nearest that does, in tens of cfm; else 0 */
} ct_fix_heating;

ct_fix_heating ct_fix_heating_of(const ct_sweep_job *);

#endif
