/* Batch: many cases over all cores, one row of results for each.
 *
 * While it runs, finished rows go one by one to a journal beside the results, RESULTS.part; at the
 * end all rows, in the order of the cases, replace the results file in one step and the journal
 * goes. A run that was stopped is taken up where it was: rows of the journal and of an earlier
 * results file are kept when case and stamp agree. The stamp is a hash of everything the case was
 * read from, of the form of the results and of the version, and one of the row itself: a row that
 * was edited is computed again. A case that cannot be worked out has a row that says why. Of the
 * shares of a table only the first has the header, so that they join by concatenation. */
#ifndef CLI_BATCH_RUN_H
#define CLI_BATCH_RUN_H

#include <stdbool.h>

#include "base/exit_codes.h"
#include "case/casefile.h"

typedef struct {
    const char *source;  /* a folder of case files, or a table of overrides */
    const char *base;    /* case file under the table's rows, NULL for none */
    const char *results; /* path of the results; "-": standard output, and nothing is kept */
    ct_overrides pairs;  /* change every case */
    int part, parts;     /* share `part` of `parts`, from 1; 0 0: all */
    int threads;         /* 0: one per core */
    bool si;
    bool remedies; /* run what would fix a case without a pick */
    bool fresh;    /* keep nothing of earlier runs */
    bool quiet;    /* no progress */
} batch_plan;

/* EXIT_DONE: every case has its answer. EXIT_INPUT: results written, but some cases are wrong, or,
 * with nothing written, the table is. EXIT_SYSTEM: a file failed. Messages are out. */
exit_code batch_run(const batch_plan *plan);

#endif
