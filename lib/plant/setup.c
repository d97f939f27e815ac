#include "plant/setup.h"

#include <math.h>

#include "part/metering.h"

static ct_status make_meter(const ct_meter_spec *spec, const ct_refrigerant *r, ct_meter *meter,
                            ct_fault *fault)
{
    ct_meter m = {
        .kind = spec->kind, .superheat = spec->superheat, .dp_distributor = spec->dp_distributor};

    if (spec->kind == CT_METER_ORIFICE) {
        if (!spec->bore.has)
            return ct_fail(fault, CT_INPUT, NAN, NAN, NAN, "the orifice has no bore: give it");
        m.orifice = (ct_orifice){spec->bore.v, spec->length};
    } else if (spec->Q_rated.has && spec->dp_rated.has) {
        ct_valve_spec v = {.Q_rated = spec->Q_rated.v,
                           .dp_rated = spec->dp_rated.v,
                           .superheat = spec->superheat,
                           .refrigerant = spec->refrigerant};
        ct_status status = ct_valve_make(&v, r, &m.valve, fault);
        if (status != CT_OK) return status;
        m.has_valve = true;
    }
    *meter = m;
    return CT_OK;
}

static double times(ct_maybe multiplier)
{
    return multiplier.has ? multiplier.v : 1.0;
}

/* A multiplier on area moves both of the coil's conductances and leaves the fin efficiency alone. A
 * displacement already takes its watts with it; a map keeps flow and watts apart. */
void ct_system_tune(const ct_tuning *t, ct_system *s)
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

ct_status ct_setup_join(const ct_setup *setup, ct_system *system, ct_fault *fault)
{
    const ct_indoor_unit *unit = &setup->c->indoor[setup->unit];
    const ct_outdoor *outdoor = setup->outdoor;
    ct_tuning tuning = setup->c->tuning;
    ct_system s = {.outdoor = *outdoor, .before_coil = unit->blower.before_coil};
    ct_status status = ct_system_coil(setup->c, setup->matched, &unit->coil, &s.coil, fault);

    if (status == CT_OK) status = make_meter(&unit->meter, outdoor->refrigerant, &s.meter, fault);
    if (status != CT_OK) return status;
    if (setup->unit > 0) tuning.coil_conductance.has = false; /* learnt on another coil */
    ct_system_tune(&tuning, &s);
    *system = s;
    return CT_OK;
}

void ct_setup_matched(const ct_setup *setup, ct_system *system)
{
    *system = (ct_system){
        .outdoor = *setup->outdoor,
        .coil = *setup->matched,
        .meter = {.kind = CT_METER_VALVE, .superheat = setup->c->outdoor.superheat_rated}};
}
