/* Explain's sections, in the order they are printed. Each writes its sums to the sheet. */
#ifndef CLI_EXPLAIN_SECTIONS_H
#define CLI_EXPLAIN_SECTIONS_H

#include "explain/explained.h"

/* All of one balance; the sheet numbers them. */
void sections_balance(sheet *, const explained *);

void section_air(sheet *, const explained *);
void section_airflow(sheet *, const explained *);
void section_coil(sheet *, const explained *);
void section_refrigerant(sheet *, const explained *);
void section_condenser(sheet *, const explained *);
void section_crossing(sheet *, const explained *);
void section_net(sheet *, const explained *);
void section_load(sheet *, const explained *);
void section_heating(sheet *, const explained *); /* of a heat pump */

/* What moved from `old` to `new`, and why. */
ct_status section_change(sheet *, const explained *old, const explained *new, ct_fault *);

#endif
