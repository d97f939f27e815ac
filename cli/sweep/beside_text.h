/* Beside the pick, in sentences: whether it is a close call, which other speeds that pass are worth
 * a thought and for what, and whether the air gets too dry. Part of the sweep report. */
#ifndef CLI_SWEEP_BESIDE_TEXT_H
#define CLI_SWEEP_BESIDE_TEXT_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "sweep/facts.h"

void beside_print(FILE *out, const sweep_result *r, const ct_point *pick);

/* "close_call", "near_tie" and "beside"; the pick was found. */
bool beside_put(json_t *o, const sweep_result *r);

#endif
