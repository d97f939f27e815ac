/* Fill: a struct from the tree of a file, by a table of keys. Internal.
 *
 * Values, defaults and the faults of single keys; it knows no case. Keys beside each other are for
 * conflicts.h, what follows from others for defaults.h. */
#ifndef CT_CASE_FILL_H
#define CT_CASE_FILL_H

#include "case/key_index.h"
#include "case/report.h"
#include "case/tree.h"

typedef struct {
    const ct_key_table *keys;
    const ct_key_index *index; /* of the keys; made by ct_fill */
    const ct_node *root;       /* NULL: an empty file */
    ct_case_report *report;
} ct_reader;

/* Lets every node written under another name of its key be found by the key's own. */
void ct_fill_names(const ct_key_table *, ct_node *root);

/* Fills `base`, the struct the offsets of r->keys count from. */
void ct_fill(ct_reader *r, void *base);

#endif
