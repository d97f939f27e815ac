/* No load: the outdoor temperature at which the house needs no cooling. SI. Internal. */
#ifndef CT_CASE_NO_LOAD_H
#define CT_CASE_NO_LOAD_H

#include "case/case.h"

/* K: balance_temperature of the case; without it, 5 F below the room at T_room, which sun and
 * people make up for. Common practice, no source. */
double ct_case_no_load(const ct_house *, double T_room);

#endif
