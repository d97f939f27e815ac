/* Ways in words: how load and airflow were found, how far each may be off, whether the ways agree;
 * and what each part of the ducts takes of the static. */
#ifndef CLI_SHOW_WAYS_WORDS_H
#define CLI_SHOW_WAYS_WORDS_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "study/ways.h"

/* Paragraphs "Load: ", "Airflow: " and "Ducts: "; each only when the case gives more than a value
 * entered. */
void ways_print(FILE *out, const ct_case *, const ct_ways *, bool metric);

typedef enum { WAYS_LOAD, WAYS_AIRFLOW, WAYS_DUCTS, WAYS_TOPICS } ways_topic;

const char *ways_heading(ways_topic); /* "Load: " */

/* One topic in short: the way taken, its range, whether another way contradicts it; false, and
 * nothing written, when there is only a value entered. */
bool ways_explain(FILE *out, ways_topic, const ct_case *, const ct_ways *, bool metric);

/* Load and airflow in short, for verbs that are not about them. */
void ways_print_short(FILE *out, const ct_case *, const ct_ways *, bool metric);

/* Object "found", left out when all was entered; object "static", when the two sides were read. */
bool ways_put(json_t *object, const ct_case *, const ct_ways *, bool si);

#endif
