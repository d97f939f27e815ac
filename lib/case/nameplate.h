/* Nameplate: what a nameplate leaves out, taken from what it says.
 *
 * The values here are first guesses of the ordinary unit of that efficiency. Where they do not go
 * together, plant/settle.h moves those that nobody stated. Internal. */
#ifndef CT_CASE_NAMEPLATE_H
#define CT_CASE_NAMEPLATE_H

#include "case/case.h"
#include "case/place.h"
#include "case/tree.h"

void ct_nameplate_defaults(ct_reader *, ct_outdoor_unit *);

#endif
