/* Tuned words: the corrections a case carries from the readings of a visit. */
#ifndef CLI_SHOW_TUNED_WORDS_H
#define CLI_SHOW_TUNED_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include "case/case.h"

/* "coil conductance 0.93, airflow 0.98 times the model's (12 readings of a.yaml)", no end of line.
 * False, and nothing: the case has none. */
bool tuned_say(FILE *, const ct_tuning *);

/* The same as a line of a report's heading. */
void tuned_print(FILE *, const ct_tuning *);

#endif
