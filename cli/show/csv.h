/* CSV after RFC 4180: one header line, comma, CR LF, quotes only where needed.
 *
 * Numbers are written with '.', whatever the locale. An absent value is an empty field. The writer
 * counts fields, so that a row of the wrong length cannot go unnoticed. */
#ifndef CLI_SHOW_CSV_H
#define CLI_SHOW_CSV_H

#include <stdbool.h>
#include <stdio.h>

#include "show/quantity.h"

typedef struct {
    FILE *stream;  /* borrowed */
    int n_columns; /* fields of the first row, 0 until it has ended */
    int n_fields;  /* in the current row */
    bool fault;    /* a row of another length, or a number that is not finite */
} csv_writer;

void csv_begin(csv_writer *csv, FILE *stream);
/* Control characters, letters that turn the direction of writing and bytes that are not UTF-8 come
 * out as '?' (line ends as blanks); what a spreadsheet would run has an apostrophe in front. */
void csv_text(csv_writer *csv, const char *text);
void csv_number(csv_writer *csv, double v, int digits); /* digits as in number_text */
void csv_absent(csv_writer *csv);

/* A value of a quantity, in the unit programs read; one that is not finite is absent. */
void csv_quantity(csv_writer *csv, quantity q, double v, int digits, bool si);
/* Its heading: "wet_bulb_f". */
void csv_heading(csv_writer *csv, const char *name, quantity q, bool si);

void csv_end_row(csv_writer *csv);

/* False when a row or a number was wrong (a bug of the caller) or the stream has failed. */
bool csv_good(const csv_writer *csv);

#endif
