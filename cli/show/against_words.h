/* Two shares against each other in words, so that two that differ are not written alike. */
#ifndef CLI_SHOW_AGAINST_WORDS_H
#define CLI_SHOW_AGAINST_WORDS_H

#include <stdio.h>

/* Decimals of a percent: none, or one where the two would round alike. */
int against_decimals(double a, double b);

/* "47% instead of 49%"; "46.8% instead of 47.2%" where whole percents are alike; "47% at both"
 * where a decimal is too. */
void against_words(FILE *out, double now, double then);

#endif
