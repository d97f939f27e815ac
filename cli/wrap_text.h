/* Sentences wrapped for the terminal. */
#ifndef WRAP_TEXT_H
#define WRAP_TEXT_H

#include <stdio.h>

/* `first`, then the words of a text made by printf, wrapped at column 79; further lines begin with
 * `indent` blanks. */
void wrap_text(FILE *out, const char *first, int indent, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

#endif
