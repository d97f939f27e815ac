/* Cells of a table in text: numbers to the right, names to the left, a dash for what is not
 * there. */
#ifndef CLI_SHOW_CELLS_H
#define CLI_SHOW_CELLS_H

#include <stdbool.h>
#include <stdio.h>

#include "show/quantity.h"

/* As people read it; not a number when it is not there. */
double cell_value(quantity q, bool there, double v, bool metric);

/* A value as shown; a dash when it is not finite. */
void cell_number(FILE *out, int width, int decimals, double shown);

/* Text cut to the width, counted in characters of UTF-8: to the left, or to the right with a blank
 * before it. */
void cell_left(FILE *out, int width, const char *text);
void cell_right(FILE *out, int width, const char *text);

#endif
