/* Codes: numbers as short text. Each is a whole number of steps above the lowest, in two characters
 * of the 64 that need no escape anywhere; one of them says that there is no value. */
#ifndef CLI_EXPLORE_CODES_H
#define CLI_EXPLORE_CODES_H

#include <stdbool.h>

enum { CODES = 4096, CODE_NONE = CODES - 1 };

typedef struct {
    double low, step; /* value = low + code * step */
    char *text;       /* to be freed */
} codes;

/* Rounds to the nearest step: off by half a step at most, the range over 8188. False: memory. */
bool codes_make(const double *v, int n, codes *out);

#endif
