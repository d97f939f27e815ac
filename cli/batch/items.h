/* Batch items: the cases of a batch, from a folder of case files or from a table.
 *
 * The table's first row holds case keys ("outdoor.rated_capacity", "candidates[1].coil.size"), each
 * further row the values of one case, written as in a case file, with a decimal comma where columns
 * are parted by semicolons. An empty cell leaves what the base case has; a dash takes the key out.
 * A column `case` names the rows; else they are "row 1" on. Pairs change all of them. */
#ifndef CLI_BATCH_ITEMS_H
#define CLI_BATCH_ITEMS_H

#include <stddef.h>
#include <stdint.h>

#include "base/exit_codes.h"
#include "base/table.h"
#include "case/casefile.h"

typedef struct {
    char *name;     /* path below the folder, or the row's name */
    char *text;     /* of the case file; NULL: the base */
    size_t size;    /* of text */
    char *unread;   /* why the file could not be read, NULL if it was */
    char *wrong;    /* what is wrong with the row itself, NULL if nothing is */
    int row;        /* of the table */
    uint64_t stamp; /* of all it was read from */
} batch_item;

typedef struct {
    batch_item *item;
    int n;
    ct_table *table; /* NULL for a folder */
    char *base;
    size_t base_size;
    ct_overrides pairs; /* change every case, borrowed */
} batch_items;

/* On failure the message is out and nothing is left to free. */
exit_code batch_items_read(const char *source, const char *base, const ct_overrides *pairs,
                           batch_items *);
void batch_items_free(batch_items *);

/* Keeps share `part` (from 1) of `parts` nearly equal shares, in order; may be empty. */
void batch_items_share(batch_items *, int part, int parts);

/* Reads the case of item i; as ct_casefile_parse. */
ct_status batch_items_case(const batch_items *, int i, ct_case *, ct_case_report *, ct_fault *);

/* FNV-1a, 64 bits (Fowler, Noll & Vo 1991), continued from `hash`; begin with BATCH_HASH. */
#define BATCH_HASH UINT64_C(0xcbf29ce484222325)
uint64_t batch_items_hash(uint64_t hash, const char *text, size_t size);

#endif
