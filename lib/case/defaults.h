/* Defaults: values that follow from other keys when they are left out. Internal.
 *
 * A default that stands alone is in the key's row; here are those that are worked out. Their reason
 * is in the row too. */
#ifndef CT_CASE_DEFAULTS_H
#define CT_CASE_DEFAULTS_H

#include "case/case.h"
#include "case/fill.h"

/* Completes a case from a file without faults, and notes what was assumed. */
void ct_defaults(ct_reader *, ct_case *);

#endif
