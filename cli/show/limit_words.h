/* Limits in words: what a limit measures at a point, against what, and in which units people read
 * it. The words themselves are in judge/limits.h. */
#ifndef CLI_SHOW_LIMIT_WORDS_H
#define CLI_SHOW_LIMIT_WORDS_H

#include <stdio.h>

#include "judge/pick.h"
#include "show/quantity.h"

typedef struct {
    const char *brief;    /* "sensible", nine letters at most, for a table */
    const char *measured; /* "net sensible capacity": what the value is */
    const char *bound;    /* "the load needs": what the bound is */
    quantity value, slack;
} limit_words;

/* Sensible heat, W, as it is compared with the load: what reaches the rooms, in the air the house
 * settles at when the load is judged there; net where it is not judged. */
double limit_judged_sensible(const ct_point *);

/* Why the largest load a speed carries is not the heat it gives at the load entered; "" where it
 * is. */
const char *limit_largest_load_words(const ct_house *);

limit_words limit_words_of(ct_limit limit, const ct_point *p);

/* "net sensible capacity 22,100 Btu/h, the load needs 23,500 Btu/h: short by 1,400 Btu/h". */
void limit_explain(FILE *out, ct_limit limit, const ct_judgment *j, const ct_point *p, bool metric);

/* The end of it: "sensible load short by 1,400 Btu/h". */
void limit_explain_gap(FILE *out, ct_limit limit, const ct_judgment *j, const ct_point *p,
                       bool metric);

const char *outcome_token(ct_outcome outcome); /* "balanced", "head_too_high" */
const char *meter_token(ct_meter_state state); /* "copes", "hunts" */

/* 23500 Btu/h as "23,500 Btu/h"; the value as people read it, with its unit. */
enum { SHOWN_SIZE = 48 };
const char *shown(char text[SHOWN_SIZE], quantity q, double v, bool metric);

/* A difference: of shares in points, for a share of a share would be another number. */
const char *shown_gap(char text[SHOWN_SIZE], quantity q, double v, bool metric);

/* That number, in the unit people read. */
double shown_number(quantity q, double v, bool metric);

#endif
