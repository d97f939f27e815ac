/* Questions: what `coiltrim new` asks, in order, one key each. */
#ifndef CLI_NEW_QUESTIONS_H
#define CLI_NEW_QUESTIONS_H

#include <stdbool.h>

#include "base/units.h"

typedef struct {
    const char *key;     /* full path */
    const char *asks;    /* the question, without its usual answer */
    const char *unit[2]; /* put behind a bare number: inch-pound, metric; NULL for none */
    ct_unit_kind kind;   /* of those units */
    const char *usual;   /* NULL: from the usual answers of the case, or none */
    const char *after;   /* asked only when one of these was answered, "a|b" (NULL: always) */
    const char *as;      /* and only with this word in its answer (NULL: with any) */
    const char *unless;  /* not asked when one of these was answered */
} question;

#define MAX_QUESTIONS 50
#define TAPS_KEY "indoor.blower.taps" /* its answer is a table, asked for line by line */

extern const question questions[];
extern const int n_questions;

#endif
