#include "case/no_load.h"

#include "base/units.h"

#define BELOW_ROOM (5.0 / CT_F_PER_K)

double ct_case_no_load(const ct_house *h, double T_room)
{
    return h->T_balance.has ? h->T_balance.v : T_room - BELOW_ROOM;
}
