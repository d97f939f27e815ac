/* Meter keys: what only a valve has beside it, and what only a piston.
 *
 * A pair that changes the kind of a case file puts the file's keys of the other kind aside: they
 * say nothing of the new device. Internal. */
#ifndef CT_CASE_METER_KEYS_H
#define CT_CASE_METER_KEYS_H

#include "case/case.h"
#include "case/tree.h"

/* Key i that only this kind has, from 0; NULL past the last. */
const char *ct_meter_key(ct_meter_kind, int i);

/* `path` was given as a pair with `text`: when it is the kind of a metering device, the keys of the
 * other kind that came with the file are taken out of the tree and noted in the report. Those given
 * as pairs stay, for they contradict it. */
void ct_meter_keys_set_aside(ct_node *root, const char *path, const char *text, ct_case_report *);

#endif
