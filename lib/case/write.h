/* Write: a tree as the text of a case file. Internal.
 *
 * Values are quoted where YAML would read them otherwise. A value that came from a command line or
 * a table gets a remark: where it was assumed from, or what its key means. */
#ifndef CT_CASE_WRITE_H
#define CT_CASE_WRITE_H

#include "case/report.h"
#include "case/tree.h"

/* To be freed; NULL: memory. `report` (may be NULL) lists the values that were assumed. */
char *ct_write_tree(const ct_node *root, const ct_case_report *report);

#endif
