#include "plant/balance_low.h"

#include <math.h>

static ct_status outlet(ct_trial *t, const ct_phases *at)
{
    ct_vapor v;

    t->h_g = at->h_v;
    t->cp_g = at->cp_v;
    t->h_out = at->h_v + t->superheat * at->cp_v;
    if (t->superheat <= 0.0) return CT_OK;
    ct_status status =
        ct_refrigerant_vapor(t->sys->outdoor.refrigerant, t->T_coil, t->superheat, &v, &t->fault);
    if (status == CT_OK) t->h_out = v.h;
    return status;
}

/* Superheated, or wet with the enthalpy the extended superheat stands for. */
bool ct_balance_outlet(ct_trial *t)
{
    const ct_outdoor *o = &t->sys->outdoor;
    ct_phases at;

    t->T_coil = t->Te + o->suction_drop;
    if (ct_refrigerant_phases(o->refrigerant, t->T_coil, &at, &t->fault) == CT_OK &&
        outlet(t, &at) == CT_OK) {
        t->T_boil = ct_plant_boil_between(&at, t->T_coil, t->cond.h_liquid);
        t->glides = 0.5 * (t->T_coil - at.T_bubble) / (at.h_v - at.h_l);
        return true;
    }
    t->trouble = CT_NOT_COMPUTABLE;
    return false;
}

ct_coil_tubes ct_balance_tubes(const ct_trial *t)
{
    const double m = t->comp.m;
    ct_coil_tubes tubes = {.T_boil = t->T_boil,
                           .T_dew = t->T_coil,
                           .UAi = ct_coil_UAi(&t->sys->coil, m),
                           .superheat = fmax(0.0, t->superheat)};

    if (t->superheat > 0.0) tubes.C_r = m * (t->h_out - t->h_g) / t->superheat;
    return tubes;
}
