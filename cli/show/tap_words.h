/* A blower tap in a sentence. */
#ifndef CLI_SHOW_TAP_WORDS_H
#define CLI_SHOW_TAP_WORDS_H

#include <stdio.h>

#include "part/blower.h"

/* "tap " before a name that is only a number: boards number their taps, and "5, 1,490 cfm" would
 * not be read as a name. Nothing before any other. */
const char *tap_prefix(const char *name);

/* "tap 3, " before an airflow; nothing for a tap below 0, an airflow of none. */
void tap_say(FILE *out, const ct_blower *, int tap);

#endif
