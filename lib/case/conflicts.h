/* Conflicts: faults from keys that contradict or need each other.
 *
 * Internal. */
#ifndef CT_CASE_CONFLICTS_H
#define CT_CASE_CONFLICTS_H

#include "case/case.h"
#include "case/fill.h"

/* Looks at a case just filled, with faults in it or not. */
void ct_conflicts(ct_reader *, ct_case *);

#endif
