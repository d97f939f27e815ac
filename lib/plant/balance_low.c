#include "plant/balance_low.h"

#include <math.h>

#define NEAR_AIR 8.0         /* K */
#define FAR_TOO_WET (-60.0)  /* superheat used for a suction far too wet to be an answer */
#define VAPOR_MEETS_AIR 0.02 /* K */
#define BOILS_LEAST 0.01     /* of what could boil */

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
    ct_phases *at = &t->at_coil;

    t->T_coil = t->Te + o->suction_drop;
    if (ct_refrigerant_phases(o->refrigerant, t->T_coil, at, &t->fault) == CT_OK &&
        outlet(t, at) == CT_OK) {
        t->T_boil = ct_plant_boil_between(at, t->T_coil, t->cond.h_liquid);
        t->glides = 0.5 * (t->T_coil - at->T_bubble) / (at->h_v - at->h_l);
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

/* A trial that cannot be computed gets the sign that sends the search back. Near the air's own
 * temperature the coil has no heat to give: down. With a valve that is up from very low suction
 * (clearance, tables) and down from very high (head). With an orifice the superheat decides: too
 * high for the tables at high suction, mostly liquid at low. */
double ct_balance_way_back(const ct_trial *t)
{
    bool orifice = t->sys->meter.kind == CT_METER_ORIFICE;

    if (t->Te > t->air.in.T - NEAR_AIR || (orifice && t->held > 0)) return -1e3;
    if (orifice && (t->held < 0 || t->superheat < FAR_TOO_WET)) return 1e3;
    return t->trouble == CT_NOT_COMPUTABLE ? 1e3 : -1e3;
}

/* The tubes that superheat grow with the logarithm of what is left between vapor and air, so before
 * a piston the residual is steeper the nearer the two are: 5/K over what is left. From
 * VAPOR_MEETS_AIR on a suction has too few digits to bring it below the tolerance, and the coil
 * counts as starved. */
static bool vapor_meets_air(const ct_trial *t)
{
    return t->sys->meter.kind == CT_METER_ORIFICE && t->superheat > 0.0 &&
           t->T_coil + t->superheat > t->air.in.T - VAPOR_MEETS_AIR;
}

static double coil_residual(ct_trial *t)
{
    const ct_coil *coil = &t->sys->coil;
    double m = t->comp.m;
    double h_end = fmin(t->h_out, t->h_g);
    double Q_boil = m * (h_end - t->cond.h_liquid);
    const ct_coil_tubes tubes = ct_balance_tubes(t);

    t->evaluations++;
    ct_coil_run(coil, &t->air, &tubes, &t->path);
    if (!(t->path.superheat_area < 1.0) || vapor_meets_air(t)) {
        t->trouble = CT_SUPERHEAT_LOST;
        /* Keeps falling with Te so that the search still knows where to go. */
        return -1.0 - fmax(0.0, t->T_coil + t->superheat - t->air.in.T);
    }
    if (!isfinite(t->path.Q_boil)) {
        t->trouble = CT_NOT_COMPUTABLE;
        ct_fault_say(&t->fault, CT_RANGE,
                     "the fins of this coil are outside what the model covers");
        return ct_balance_way_back(t);
    }
    /* A trial far too wet takes next to no heat, or less than none; the sign must stay that of a
     * coil with more heat than the refrigerant takes. */
    return (t->path.Q_boil - Q_boil) / fmax(Q_boil, 0.05 * m * (t->h_g - t->cond.h_liquid));
}

bool ct_balance_boils(const ct_trial *t)
{
    return t->path.Q_boil > BOILS_LEAST * t->comp.m * (t->h_g - t->cond.h_liquid);
}

double ct_balance_low(ct_trial *t)
{
    return ct_balance_outlet(t) ? coil_residual(t) : ct_balance_way_back(t);
}
