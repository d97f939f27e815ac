/* Defaults of the outdoor unit: what its nameplate leaves out, taken from what it says. The
 * compressor and condenser that follow from it are plant/rate_outdoor.h's.
 *
 * The values here are first guesses of the ordinary unit of that efficiency. Where they do not go
 * together, plant/settle.h moves those that nobody stated. Internal. */
#ifndef CT_CASE_DEFAULTS_OUTDOOR_H
#define CT_CASE_DEFAULTS_OUTDOOR_H

#include "case/case.h"
#include "case/place.h"
#include "case/tree.h"

void ct_defaults_outdoor(ct_reader *, ct_outdoor_unit *);

#endif
