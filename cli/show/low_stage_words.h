/* The low stage of a two-stage unit in words: the speed picked for it and what it makes of the
 * house. Nothing where there is one stage. */
#ifndef CLI_SHOW_LOW_STAGE_WORDS_H
#define CLI_SHOW_LOW_STAGE_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include "judge/sweep_job.h"

/* " tap 1, 790 cfm (369 cfm/ton)" of a point without its blank; for the low stage per ton of it. */
void low_stage_speed(FILE *out, const ct_sweep_job *, bool metric);

/* A paragraph. */
void low_stage_print(FILE *out, const ct_sweep_job *, bool metric);

/* "two-stage ", "" with one; before "outdoor unit". */
const char *low_stage_kind(const ct_case *);

#endif
