/* Found: each way of ways.h by itself. Internal. */
#ifndef CT_STUDY_FOUND_H
#define CT_STUDY_FOUND_H

#include "judge/sweep_job.h"
#include "study/ways.h"

/* The system that was watched: the matched pair, or indoor[0] on the outdoor unit, in the air of
 * the case. CT_INPUT as ct_sweep_site. */
ct_status ct_found_system(const ct_setup *, ct_watched_coil, ct_sweep_job *, ct_fault *);

/* All airflows that the case gives a way to. */
void ct_found_airflow(const ct_setup *, ct_found flow[CT_FLOW_COUNT]);

/* All loads; `V_doubt` of the airflow of the ducts. *at_least: it ran the whole time. */
void ct_found_load(const ct_setup *, double V_doubt, ct_found load[CT_HOUSE_COUNT], bool *at_least);

/* Root of squares of n shares. */
double ct_found_together(const double *share, int n);

#endif
