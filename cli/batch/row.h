/* A row of a batch's results: what one case came to. Columns of the outcome and of the pick first,
 * then those of the speed picked (sweep/columns.h). */
#ifndef CLI_BATCH_ROW_H
#define CLI_BATCH_ROW_H

#include <stdbool.h>

#include "batch/items.h"
#include "show/csv.h"
#include "show/outlook.h"

typedef struct {
    const char *outcome; /* "pick", "no_pick", "does_not_fit", or the kind of fault */
    char fault[700];
    int n_faults;
    const outlook *outlook; /* NULL with a fault */
} batch_result;

void batch_row_heading(csv_writer *, bool si);

/* False: a number is not finite. */
bool batch_row(csv_writer *, const batch_item *, const batch_result *, bool si);

#endif
