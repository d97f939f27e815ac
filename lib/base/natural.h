/* Natural: a number as people write it on a job sheet. Internal.
 *
 * "36,000", "$1,850", "22-1/2", "22 1/2", "3/8", "3-ton", and for a length "1'10\"" or
 * "1 ft 10 in". What can mean two numbers is left to the caller to refuse: a comma before three
 * digits is a thousand in one country and a decimal sign in another. */
#ifndef CT_BASE_NATURAL_H
#define CT_BASE_NATURAL_H

#include <stdbool.h>

typedef struct {
    double v;
    const char *rest; /* what follows, from its first letter or mark; "in" after feet and inches */
    bool one_comma;   /* there was one comma, and three digits after it */
} ct_natural;

/* False when no number begins there. `feet` allows feet and inches. */
bool ct_natural_read(const char *text, bool feet, ct_natural *out);

#endif
