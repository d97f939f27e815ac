/* Batch journal: rows of results kept safe while a batch runs.
 *
 * RESULTS.part begins with the header and takes each finished row in one write. A run that is
 * cut off leaves whole rows and at most one torn one at the end, which the next run cuts off. Two
 * runs cannot write one journal. A file of that name that is not a journal, or a link, is left
 * alone and refused. A row is taken over only when its stamp is right: it holds a hash of all the
 * row came from and one of the row itself. */
#ifndef CLI_BATCH_JOURNAL_H
#define CLI_BATCH_JOURNAL_H

#include <stdbool.h>
#include <stddef.h>

#include "base/exit_codes.h"
#include "batch/items.h"

typedef struct journal journal;

typedef struct {
    const char *results; /* "-": standard output; there is no file of rows then */
    const char *heading; /* the header row with its line end */
    bool headed;         /* the results begin with it */
    bool fresh;          /* nothing is taken over */
} journal_plan;

/* Takes over what earlier runs left for these items, in the journal and in the results, unless
 * fresh. The texts of the plan are borrowed. On failure the message is out. */
exit_code journal_open(journal **, const journal_plan *, const batch_items *items);

/* The stamp of a row, its check still open: journal_add puts it in. */
enum { JOURNAL_STAMP_SIZE = 33 };
void journal_stamp(char stamp[JOURNAL_STAMP_SIZE], const batch_item *item);

bool journal_has(const journal *, int item);

/* Adds a row, from any thread; takes over `text`, which was allocated. NULL text: the row could not
 * be made, a failure of the run. */
void journal_add(journal *, int item, char *text, size_t size);

/* Rows with an answer that is no: no_pick or does_not_fit. */
int journal_said_no(const journal *);

/* Rows that memory or another part of the machine failed for. */
int journal_failed(const journal *);

/* Rows without an answer: what is wrong with them is in their column `fault`. */
int journal_wrong(const journal *);

/* Writes all rows in the order of the items to the results, in one step, and takes the journal
 * away. False: the message is out, the journal stays. */
bool journal_finish(journal *);

/* Ends with what there is; NULL is fine. */
void journal_close(journal *);

#endif
