/* Explain's pictures: a gnuplot script each, with the CSV files it reads. */
#ifndef CLI_EXPLAIN_PICTURE_H
#define CLI_EXPLAIN_PICTURE_H

#include <stddef.h>

#include "base/exit_codes.h"
#include "base/job.h"
#include "base/out_folder.h"
#include "base/write_file.h"
#include "show/csv.h"
#include "show/quantity.h"

typedef struct {
    job *j;
    out_request to;
    out_scripts scripts; /* written, to be drawn */
} picture;

typedef struct {
    const char *name;
    quantity q;
} picture_column;

enum { EXACT = 0 }; /* digits: as many as read back the same */

/* Each writes its files. Not EXIT_DONE: the message is out. */
exit_code picture_curves(picture *);
exit_code picture_psychro(picture *);
exit_code picture_taps(picture *); /* nothing without taps or ducts */

/* ---- For the pictures themselves ------------------------------------------------- */

void picture_headings(csv_writer *, const picture_column *, size_t n, bool si);

/* A value as its axis shows it. */
double picture_on_axis(quantity q, double v, bool si);

void picture_begin(FILE *out, const char *name, const char *reads, const char *title, bool si);

/* Ends the script and notes it for drawing. */
exit_code picture_end(picture *, const char *name, write_file *);

#endif
