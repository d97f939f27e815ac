/* The verbs of the program, in the order of the help. A new one: write NAME/verb.c with its option
 * table and its run function and add a row here; the help, the usage errors and the suggestion of
 * the nearest verb follow from that. */
#ifndef CLI_VERBS_H
#define CLI_VERBS_H

#include "base/options.h"

/* clang-format off */
#define VERB_LIST(X)                                                                               \
    X(new) X(sweep) X(page) X(compare) X(metering) X(fit) X(explain) X(explore) X(whatif)          \
    X(season) X(batch) X(tune) X(keys) X(air) X(refrigerant)
/* clang-format on */

#define VERB_DECLARE(NAME) extern const verb verb_##NAME;
VERB_LIST(VERB_DECLARE)
#undef VERB_DECLARE

#endif
