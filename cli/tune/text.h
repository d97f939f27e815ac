/* Tune report: what the terminal shows and what programs read. Readings against the tuned model,
 * the multipliers and how far to trust them, what does not add up, possible causes. */
#ifndef CLI_TUNE_TEXT_H
#define CLI_TUNE_TEXT_H

#include <stdbool.h>
#include <stdio.h>

#include "base/job.h"
#include "show/quantity.h"
#include "show/verdict.h"
#include "study/tune.h"

typedef struct {
    const job *j;
    verdict verdict; /* of the unit */
    const ct_tune *t;
    const char *tap; /* "" when not given */
} tune_result;

void tune_text_print(FILE *out, const tune_result *r, bool metric);

/* False: the message is out. */
bool tune_json_print(FILE *out, const tune_result *r, bool si);

/* How a reading is shown. */
quantity tune_quantity(ct_reading_kind kind);

/* A cause as a sentence a technician can act on. */
const char *tune_cause_words(ct_cause cause);

/* A cause is reported from this probability on. */
#define TUNE_CAUSE_REPORTED 0.5

#endif
