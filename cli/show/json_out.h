/* JSON answers: putting values in, and printing the whole.
 *
 * Each put gives false for want of memory (a NULL object counts as that), so that a caller can
 * write what it has as one row of `&&` and look once. */
#ifndef CLI_SHOW_JSON_OUT_H
#define CLI_SHOW_JSON_OUT_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "show/quantity.h"

/* A value that is not finite is absent, and left out. */
bool put_value(json_t *object, const char *name, quantity q, double v, bool si);
bool put_text(json_t *object, const char *name, const char *text);
/* NULL or "" is left out. */
bool put_some_text(json_t *object, const char *name, const char *text);
bool put_bool(json_t *object, const char *name, bool v);
bool put_integer(json_t *object, const char *name, int v);

/* New and empty, owned by what it is put into; NULL: out of memory. */
json_t *open_object(json_t *parent, const char *name);
json_t *open_array(json_t *parent, const char *name);
json_t *open_item(json_t *array); /* an object at the end of it */

/* Prints `root`, in ASCII (other letters as \uXXXX, so that no control character of a name reaches
 * a terminal), with so many digits and lets it go. NULL means an answer that could not be
 * made. False: the message is out. */
bool print_answer(FILE *out, json_t *root, size_t digits);

/* `root` when `good`, else NULL and it is let go: the end of a function that makes an object. */
json_t *json_when(bool good, json_t *root);

#endif
