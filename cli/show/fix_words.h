/* Fixes in words: what a remedy means for this job, and what it gives. */
#ifndef CLI_SHOW_FIX_WORDS_H
#define CLI_SHOW_FIX_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "study/fixes.h"

/* "a coil of 1.45 times the matched one: high, 1,210 cfm passes every limit"; of one that does not
 * close the gap: what it comes nearest to. */
void fix_explain(FILE *out, const ct_fix *, const ct_case *, const ct_indoor_unit *, bool metric);

/* The same in less room: of one that is not enough only what is still missing, and of which
 * limit. */
void fix_explain_briefly(FILE *out, const ct_fix *, const ct_case *, const ct_indoor_unit *,
                         bool metric);

/* A line for each, the best first; before them 'do not do this job as planned' when none is
 * enough. */
void fixes_print(FILE *out, const ct_fixes *, const ct_case *, const ct_indoor_unit *, bool metric);

/* The best three, in a line or two each. */
void fixes_print_best(FILE *out, const ct_fixes *, const ct_case *, const ct_indoor_unit *,
                      bool metric);

/* Array "remedies". */
bool fixes_put(json_t *object, const ct_fixes *, const ct_case *, const ct_indoor_unit *, bool si);

#endif
