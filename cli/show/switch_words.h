/* Switches in words: 'set the switches so', each with the humidity it makes. */
#ifndef CLI_SHOW_SWITCH_WORDS_H
#define CLI_SHOW_SWITCH_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "study/switches.h"

/* Sentences, each ended. */
void switches_explain(FILE *out, const ct_switches *, const ct_case *, bool metric);

/* Object "switches": the humidity of each setting that settles. */
bool switches_put(json_t *object, const ct_switches *, bool si);

#endif
