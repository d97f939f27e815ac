/* The verbs of the program. A new one: write NAME/verb.c with its option table and its run
 * function, declare it here and add it to the table in main.c; the help, the usage errors and the
 * suggestion of the nearest verb follow from that. */
#ifndef CLI_VERBS_H
#define CLI_VERBS_H

#include "base/options.h"

extern const verb verb_air;
extern const verb verb_explain;
extern const verb verb_page;
extern const verb verb_compare;
extern const verb verb_metering;
extern const verb verb_refrigerant;
extern const verb verb_fit;
extern const verb verb_sweep;
extern const verb verb_whatif;
extern const verb verb_batch;
extern const verb verb_tune;
extern const verb verb_keys;

#endif
