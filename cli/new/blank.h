/* Blank: every common key of a case, or of the readings of a visit, as a form to fill in, from the
 * table of keys. */
#ifndef CLI_NEW_BLANK_H
#define CLI_NEW_BLANK_H

#include <stdio.h>

#include "base/options.h"

/* Keys given as pairs are filled in; the others are there behind a '#', with an example. */
void blank_print(FILE *out, const arguments *given);

/* The same for the readings of a visit. */
void blank_print_readings(FILE *out);

#endif
