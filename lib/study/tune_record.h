/* Tune, the record: a fit turned into what people read. Internal. */
#ifndef CT_STUDY_TUNE_RECORD_H
#define CT_STUDY_TUNE_RECORD_H

#include "study/tune_fit.h"

/* Values, readings and balance of a fit of the problem as it is arranged and supposed now. Fails as
 * the balance. */
ct_status ct_tune_record(ct_tune_problem *, const ct_tune_solution *, ct_tune *, ct_fault *);

#endif
