/* Charge words: what a piston is charged to, beside the assumed subcooling it is not. */
#ifndef CLI_SHOW_CHARGE_WORDS_H
#define CLI_SHOW_CHARGE_WORDS_H

#include "case/case.h"

/* A sentence where unit `unit` has a piston and the subcooling is assumed, else NULL. */
const char *charge_words(const ct_case *, int unit);

#endif
