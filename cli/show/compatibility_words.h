/* Checks in words: what was found about refrigerant, valve and pressures of one indoor unit. */
#ifndef CLI_SHOW_COMPATIBILITY_WORDS_H
#define CLI_SHOW_COMPATIBILITY_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include "judge/compatibility.h"

enum { CHECKS = CT_CHECK_COUNT };

/* By bit, 0 to CHECKS - 1. */
const char *compatibility_token(int bit);
bool compatibility_refuses(int bit);

/* The sentence for a bit that was found, without "refuse" or "caution" before it. */
void compatibility_explain(FILE *out, int bit, const ct_checks *k, const ct_indoor_unit *u,
                           const ct_refrigerant *r, bool metric);

#endif
