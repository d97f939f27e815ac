/* Take: one value from the text of a file, as its key says. Internal.
 *
 * Faults go to the report; a number that could not be read is NaN. */
#ifndef CT_CASE_TAKE_H
#define CT_CASE_TAKE_H

#include "case/key.h"
#include "case/report.h"
#include "case/tree.h"

/* A value in the file, its key, and its path as people see it. */
typedef struct {
    const ct_key *key;
    const char *shown;
    const ct_node *node;
    ct_case_report *report;
} ct_entry;

/* Notes a fault of this entry. */
#define ct_entry_fault(e, kind, ...)                                                               \
    ct_note_fault((e)->report, kind, (e)->node->line, (e)->shown,                                  \
                  (e)->node->text ? (e)->node->text : "", __VA_ARGS__)

/* Whether text, list or section is there as wanted, and not empty. */
bool ct_take_shape(const ct_entry *, ct_node_kind wanted);

/* Stores the value of a CT_NODE_TEXT at `to`, by the type of its key. */
void ct_take_value(const ct_entry *, char *to);

/* As ct_casefile_bore. */
bool ct_take_bore(const char *text, double *bore);

/* Stores the numbers of a CT_NODE_LIST. */
void ct_take_numbers(const ct_entry *, char *to);

/* The kind a margin of this kind is written in, "+/- 1 F" beside a temperature.
 */
ct_unit_kind ct_take_margin_kind(ct_unit_kind);

#endif
