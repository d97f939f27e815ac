/* Fit report: the checklist of each indoor unit for the terminal. */
#ifndef CLI_FIT_TEXT_H
#define CLI_FIT_TEXT_H

#include <stdbool.h>
#include <stdio.h>

#include "show/fit_words.h"
#include "show/verdict.h"

/* What the answer assumes, a sentence or two below the lists. */
extern const char *const fit_basis;

/* `a` has one answer for each indoor unit, `v` whether it may be installed at all, which comes
 * first. */
bool fit_text_print(FILE *out, const ct_case *c, const fit_answer *a, const verdict *v,
                    bool metric);

#endif
