/* A heat pump in heating, in words: what each tap makes of it. */
#ifndef CLI_SHOW_HEAT_PUMP_WORDS_H
#define CLI_SHOW_HEAT_PUMP_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "judge/heating.h"

/* Part of the sentence on heating; nothing without a heat pump. */
void heat_pump_explain(FILE *out, const ct_heating *, const ct_sweep_job *, bool metric);

/* A table of the taps, or of usual airflows where no taps are known, and of 250 cfm per ton for
 * comparison; then what is left out. Nothing without a heat pump. */
void heat_pump_print(FILE *out, const ct_sweep_job *, bool metric);

/* Array "heat_pump" of the same rows, left out without a heat pump. */
bool heat_pump_put(json_t *object, const ct_sweep_job *, bool si);

#endif
