/* Meter keys: what only a valve has beside it, and what only a piston.
 *
 * A pair, or a cell of a table, that changes the kind of a case file puts the file's keys of the
 * other kind aside: they say nothing of the new device. Internal. */
#ifndef CT_CASE_METER_KEYS_H
#define CT_CASE_METER_KEYS_H

#include "case/case.h"
#include "case/tree.h"

/* Key i that only this kind has, from 0; NULL past the last. */
const char *ct_meter_key(ct_meter_kind, int i);

/* `path` was given with `text` in a table or as a pair: when it is the kind of a metering device,
 * the keys of the other kind that were there before are taken out of the tree and noted in the
 * report. Those given in the same place stay, for they contradict it. */
void ct_meter_keys_set_aside(ct_node *root, const char *path, const char *text, ct_node_from from,
                             ct_case_report *);

#endif
