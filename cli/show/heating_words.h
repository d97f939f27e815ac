/* Heating in words: what the heating tap moves, the rise, and which taps would do. */
#ifndef CLI_SHOW_HEATING_WORDS_H
#define CLI_SHOW_HEATING_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "judge/heating.h"

/* Sentences, the last one ended; nothing when neither electric heat nor a furnace is given. */
void heating_explain(FILE *out, const ct_heating *, const ct_sweep_job *, bool metric);

/* The same as a paragraph that begins with "Heating: ", after the unit's letter when not 0. */
void heating_print(FILE *out, const ct_sweep_job *, char letter, bool metric);

/* Object "heating", left out when nothing heats. */
bool heating_put(json_t *object, const ct_sweep_job *, bool si);

#endif
