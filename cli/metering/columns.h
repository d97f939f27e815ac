/* What is given of each balance of a metering study, in CSV and JSON alike. */
#ifndef CLI_METERING_COLUMNS_H
#define CLI_METERING_COLUMNS_H

#include <stddef.h>

#include "metering/facts.h"
#include "show/quantity.h"

enum { METERING_COLUMNS = 8 };

typedef struct {
    const char *name;
    quantity q;
    size_t offset; /* in ct_balance */
} metering_column;

/* i 0 to METERING_COLUMNS - 1. */
const metering_column *metering_column_at(int i);

/* NaN where there is no balance. */
double metering_value(int i, const ct_study_point *p);

#endif
