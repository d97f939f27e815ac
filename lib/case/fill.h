/* Fill: a struct from the tree of a file, by a table of keys.
 *
 * Values, defaults and the faults of single keys; it knows no case. Keys beside each other are for
 * conflicts.h, what follows from others for defaults.h. Internal. */
#ifndef CT_CASE_FILL_H
#define CT_CASE_FILL_H

#include "case/key.h"
#include "case/report.h"
#include "case/tree.h"

typedef struct {
    const ct_key_table *keys;
    ct_node *root; /* NULL: an empty file */
    ct_case_report *report;
} ct_reader;

/* Fills `base`, the struct the offsets of r->keys count from. Nodes written under another name of
 * their key are found by the key's own afterwards. */
void ct_fill(ct_reader *r, void *base);

#endif
