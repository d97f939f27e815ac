/* Comparison report: what `coiltrim compare` shows. A table with a column for each unit, what was
 * found about refrigerant and pressures, and the figures behind two claims: that a larger coil
 * leaves the house damper at the same load, and that a label does not follow the coil. */
#ifndef CLI_COMPARE_TEXT_H
#define CLI_COMPARE_TEXT_H

#include <stdio.h>

#include "compare/facts.h"

void compare_text_print(FILE *out, const comparison *k);

#endif
