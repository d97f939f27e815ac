/* Usual size: tons and capacity guessed from the rated load amps, where neither is known.
 * Internal. */
#ifndef CT_CASE_USUAL_SIZE_H
#define CT_CASE_USUAL_SIZE_H

#include "base/status.h"
#include "case/report.h"
#include "case/tree.h"

/* Btu/h a unit is rated at for each nominal ton. Common practice, no source. */
#define CT_USUAL_PER_TON 11700.0
#define CT_USUAL_TONS_OF_CAPACITY_WHY                                                              \
    "rated capacity over 11700 Btu/h, to the half ton; common practice, no source"
#define CT_USUAL_CAPACITY_WHY "11700 Btu/h per nominal ton; within 5%; common practice, no source"
#define CT_USUAL_TONS_WHY                                                                          \
    "a guess from the rated load amps, 5.7 A a ton at 230 V, to the half ton; it may be a half "   \
    "or "                                                                                          \
    "a whole ton off"

/* Nominal tons, to the half ton: of the amps, of a rated capacity in W. */
double ct_usual_tons(double amps, double volts);
double ct_usual_tons_of(double Q);

/* Puts what is missing of the two into the tree of a case file that has the amps, and notes it as
 * assumed: where one is known it gives the other, and the amps do not count. CT_SYSTEM: no
 * memory. */
ct_status ct_usual_size(ct_node *root, ct_case_report *);

#endif
