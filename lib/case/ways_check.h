/* Ways, checked: a load and an airflow must be entered or must be to be found. Internal. */
#ifndef CT_CASE_WAYS_CHECK_H
#define CT_CASE_WAYS_CHECK_H

#include "case/case.h"
#include "case/fill.h"

void ct_ways_check(ct_reader *, const ct_case *);

/* What follows from the keys, and placeholders where load and airflow are still to be found. */
void ct_ways_defaults(ct_reader *, ct_case *);

#endif
