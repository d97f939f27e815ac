/* Number: text to number and back, the same in every locale.
 *
 * A host program may have set any locale, in which the C library reads and writes a comma. Here the
 * decimal sign is always '.'. Public. */
#ifndef CT_BASE_NUMBER_H
#define CT_BASE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Reads [+-]digits[.digits][e[+-]digits] and nothing looser, the same in every locale. *end is the
 * first character after the number. False when there is no such number, or none that a double holds
 * (overflow, underflow to zero, more than 60 digits); *v and *end are then untouched. */
CT_API bool ct_number_read(const char *text, double *v, const char **end);

/* Writes v in `digits` significant digits (1..17) with '.', in every locale; returns text. Safe for
 * any size > 0; 32 bytes hold every double. */
CT_API const char *ct_number_write(double v, int digits, char *text, size_t size);

#ifdef __cplusplus
}
#endif
#endif
