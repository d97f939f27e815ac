/* Switches in words: 'set the switches so', each with the humidity it makes. */
#ifndef CLI_SHOW_SWITCH_WORDS_H
#define CLI_SHOW_SWITCH_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include "study/switches.h"

/* Sentences, each ended. */
void switches_explain(FILE *out, const ct_switches *, const ct_case *, bool metric);

#endif
