/* Tune report: what the terminal shows and what programs read. What is likely wrong, readings
 * against the tuned model, the multipliers and how far to trust them. */
#ifndef CLI_TUNE_TEXT_H
#define CLI_TUNE_TEXT_H

#include <stdbool.h>
#include <stdio.h>

#include "tune/result.h"

/* Where the readings come from: the stage, the steady stretch of a log. `when` begins each
 * paragraph. */
void tune_source_print(FILE *out, const char *when, const tune_result *r);

void tune_text_print(FILE *out, const tune_result *r, bool metric);

/* `before`: the visit to compare with, or NULL. False: the message is out. */
bool tune_json_print(FILE *out, const tune_result *before, const tune_result *r, bool si);

#endif
