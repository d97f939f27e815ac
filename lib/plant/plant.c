#include "plant/plant.h"

#include <math.h>

double ct_plant_boil_between(const ct_phases *at, double T_dew, double h_in)
{
    double quality = fmax(0.0, (h_in - at->h_l) / (at->h_v - at->h_l));

    return 0.5 * (T_dew + at->T_bubble + quality * (T_dew - at->T_bubble));
}

ct_status ct_plant_boil_temperature(const ct_refrigerant *r, double T_dew, double h_in,
                                    double *T_boil, ct_fault *fault)
{
    ct_phases at;
    ct_status status = ct_refrigerant_phases(r, T_dew, &at, fault);

    if (status == CT_OK) *T_boil = ct_plant_boil_between(&at, T_dew, h_in);
    return status;
}

ct_condenser_flow ct_plant_to_condenser(const ct_compressor_out *comp,
                                        const ct_condenser_state *cond)
{
    const double dh = comp->h2s - cond->h_dew;
    /* Next to dew a quotient of two small numbers. */
    const double cp = comp->dT_discharge > 0.1 && dh > 0.0 ? dh / comp->dT_discharge : 0.0;

    return (ct_condenser_flow){comp->m, comp->h2, cp};
}

double ct_plant_line_superheat(const ct_outdoor *o, double T_out, double Te)
{
    return o->suction_drop + o->suction_gain * fmax(0.0, T_out - Te);
}

void ct_plant_low_stage(const ct_system *high, ct_system *low)
{
    const ct_low_stage l = high->outdoor.low;

    *low = *high;
    if (!l.has) return;
    /* Charged on the high stage, at a speed of its own that is not known here: the rated one. */
    low->by_air = (ct_charge_air){0};
    ct_outdoor *o = &low->outdoor;
    o->tons = l.tons;
    o->compressor.flow *= l.flow;
    o->compressor.power *= l.power;
    o->suction_drop = l.suction_drop;
    o->suction_gain = l.suction_gain;
    o->P_fan = l.P_fan;
    o->low.has = false;
}

static double times(ct_maybe multiplier)
{
    return multiplier.has ? multiplier.v : 1.0;
}

/* A multiplier on area moves both of the coil's conductances and leaves the fin efficiency alone. A
 * displacement already takes its watts with it; a map keeps flow and watts apart. */
void ct_plant_tune(const ct_tuning *t, ct_system *s)
{
    ct_compressor *c = &s->outdoor.compressor;
    double flow = times(t->compressor_flow), power = times(t->compressor_power);

    s->coil.Ao *= times(t->coil_conductance);
    s->coil.UAi_ref *= times(t->coil_conductance);
    s->outdoor.condenser.eps_C *= times(t->condenser_conductance);
    c->flow *= flow;
    if (c->kind == CT_COMPRESSOR_MAP)
        c->power *= flow * power;
    else
        c->power /= power;
}
