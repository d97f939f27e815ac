/* Fit as JSON: for each indoor unit whether it may be installed, the verdict on its size, each way
 * in, the space and the checklist. */
#ifndef CLI_FIT_JSON_H
#define CLI_FIT_JSON_H

#include <stdbool.h>
#include <stdio.h>

#include "show/fit_words.h"
#include "show/verdict.h"

/* False: the message is out. */
bool fit_json_print(FILE *out, const ct_case *c, const fit_answer *a, const verdict *v, bool si);

#endif
