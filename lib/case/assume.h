/* Assume: a value that the file leaves out, noted with its reason. Internal. */
#ifndef CT_CASE_ASSUME_H
#define CT_CASE_ASSUME_H

#include "base/units.h"
#include "case/report.h"

/* Notes `v` (SI), written in `unit`, as the value of `key`. A key already noted takes the new value
 * and reason. */
void ct_assume_number(ct_case_report *, const char *key, double v, ct_unit_kind kind,
                      const char *unit, const char *why);

/* The table's reason, for a row that is worked out elsewhere. */
const char *ct_assume_why(const char *key);

/* The table's value in SI, for a row whose default holds only beside certain others. */
double ct_assume_usual(const char *key);

#endif
