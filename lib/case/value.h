/* Value: a number that may be absent, and a reading with its doubt. Public.
 *
 * An absent number is a flag, never a special value. SI throughout. */
#ifndef CT_CASE_VALUE_H
#define CT_CASE_VALUE_H

#include <stdbool.h>

/* A value that may be absent. */
typedef struct {
    bool has;
    double v;
} ct_maybe;

/* What an instrument showed. */
typedef struct {
    bool has;
    double v; /* SI */
    double u; /* standard uncertainty, > 0, same unit */
} ct_reading;

#endif
