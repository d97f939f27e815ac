/* Comparison files: what `coiltrim compare -o DIR` leaves in DIR.
 *
 * compare.csv with a row for each unit, the matched pair first; compare_curves.csv with every
 * airflow of every unit, one below the other; plots/compare.gp drawn from the curves. */
#ifndef CLI_COMPARE_FILES_H
#define CLI_COMPARE_FILES_H

#include <jansson.h>

#include "base/out_folder.h"
#include "compare/facts.h"

/* On failure the message is out. A missing gnuplot is reported, but no failure. */
exit_code compare_files_write(const out_request *to, const comparison *k);

/* The comparison as JSON; NULL: out of memory. */
json_t *compare_json(const comparison *k, bool si);

#endif
