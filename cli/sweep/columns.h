/* Columns of sweep.csv and taps.csv: one table gives each column's name, its quantity, where the
 * value comes from and what it means. The CSV files, `coiltrim sweep --columns` and the JSON points
 * are made from it. To add a column, add a row. */
#ifndef CLI_SWEEP_COLUMNS_H
#define CLI_SWEEP_COLUMNS_H

#include <stdbool.h>
#include <stdio.h>

#include <jansson.h>

#include "judge/pick.h"
#include "judge/sweep.h"
#include "show/csv.h"
#include "show/quantity.h"

/* What a column may look at besides its point. */
typedef struct {
    const ct_sweep_job *job;
    const ct_sweep *sweep;
    const ct_pick *pick;
} sweep_view;

enum { COLUMN_TEXT_SIZE = 320, COLUMN_KEY_SIZE = 64 };

int sweep_columns_count(void);

/* Name with its unit's ending, "net_total_btuh". */
void sweep_column_key(int i, bool si, char key[COLUMN_KEY_SIZE]);
const char *sweep_column_meaning(int i);

/* One file: the header line and a row for each of the n points. False: the stream failed, or a
 * number was not finite (a bug). */
bool sweep_columns_csv(FILE *out, const sweep_view *view, const ct_point *points, int n, bool si);

/* The same columns within another table's row; p NULL: all empty. */
void sweep_columns_heading(csv_writer *csv, bool si);
void sweep_columns_cells(csv_writer *csv, const sweep_view *view, const ct_point *p, bool si);

/* The same as a JSON object for one point; absent values are null. NULL: out of memory. */
json_t *sweep_columns_json(const sweep_view *view, const ct_point *p, bool si);

/* The list of columns for people, in both unit systems. */
void sweep_columns_print(FILE *out);

#endif
