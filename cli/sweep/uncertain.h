/* Spread of a sweep, told: what `coiltrim sweep --uncertain N` adds to report, JSON and files.
 *
 * One table of columns makes sweep_uncertain.csv, taps_uncertain.csv and the JSON: for each
 * capacity and temperature the mean, the median and the 5, 16, 84 and 95 % quantiles; for each
 * limit the share of draws that keep it. */
#ifndef CLI_SWEEP_UNCERTAIN_H
#define CLI_SWEEP_UNCERTAIN_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "judge/sweep.h"
#include "study/uncertain.h"

typedef struct {
    const ct_sweep_job *job; /* of the nominal case */
    const ct_sweep *sweep;
    ct_uncertain *u;
    double seconds; /* what the draws took */
} uncertain_view;

/* For each tap, or for the pick alone, or without taps for some airflows: how often it carries the
 * load, keeps all limits and is the pick, and how far it spreads. */
void uncertain_print(FILE *out, const uncertain_view *view, const ct_point *pick, bool quiet,
                     bool metric);

/* Header and one row for each point. False: the stream failed or a number is not finite. */
bool uncertain_csv(FILE *out, const uncertain_view *view, const ct_uncertain_point *points, int n,
                   bool si);

/* Names and meanings of the columns, for people. */
void uncertain_columns_print(FILE *out);

/* "uncertain" in the JSON of the sweep; NULL: out of memory. */
json_t *uncertain_json(const uncertain_view *view, bool si);

#endif
