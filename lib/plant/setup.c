#include "plant/setup.h"

#include <math.h>

#include "fluid/catalog.h"
#include "part/orifice.h"
#include "part/valve.h"
#include "plant/grow_coil.h"
#include "plant/rate_coil.h"
#include "plant/rate_low.h"
#include "plant/rate_outdoor.h"

ct_status ct_setup_rate_near(const ct_setup *like, const ct_case *c, ct_outdoor *outdoor,
                             ct_coil *matched, ct_calibration *calibration, ct_fault *fault)
{
    const ct_outdoor_unit *u = &c->outdoor;
    ct_outdoor o = {.refrigerant = like->outdoor->refrigerant,
                    .tons = u->tons,
                    .suction_drop = u->suction_drop,
                    .P_fan = u->P_fan};
    ct_calibration cal = {
        .displacement = NAN, .map_flow = NAN, .map_power = NAN, .SHR_min = NAN, .SHR_max = NAN};
    ct_coil coil;
    ct_rating_point p;
    ct_status status = ct_rate_outdoor(u, &o, &p, &cal, fault);

    if (status == CT_OK) status = ct_rate_coil(c, &p, like->matched, &coil, &cal, fault);
    if (status == CT_OK) status = ct_rate_low(u, &coil, &o, &cal.eta_low, fault);
    if (status != CT_OK) return status;
    cal.m_rated = p.m;
    cal.P_rated = p.P_compressor;
    cal.Q_gross = p.Q_gross;
    *outdoor = o;
    *matched = coil;
    *calibration = cal;
    return CT_OK;
}

ct_status ct_setup_rate(const ct_case *c, const ct_refrigerant *refrigerant, ct_outdoor *outdoor,
                        ct_coil *matched, ct_calibration *calibration, ct_fault *fault)
{
    const ct_outdoor bare = {.refrigerant = refrigerant};
    const ct_setup none = {.c = c, .outdoor = &bare};

    return ct_setup_rate_near(&none, c, outdoor, matched, calibration, fault);
}

/* A valve made for another refrigerant has no rating on this one: it is refused where the parts are
 * judged (judge/compatibility.h), and here only taken to hold its superheat. */
static bool is_for(const ct_meter_spec *spec, const ct_refrigerant *r)
{
    return !spec->refrigerant[0] || ct_catalog_lists(spec->refrigerant, ct_refrigerant_name(r));
}

static ct_status make_meter(const ct_meter_spec *spec, const ct_refrigerant *r, ct_meter *meter,
                            ct_fault *fault)
{
    ct_meter m = {
        .kind = spec->kind, .superheat = spec->superheat, .dp_distributor = spec->dp_distributor};

    if (spec->kind == CT_METER_ORIFICE) {
        if (!spec->bore.has)
            return ct_fault_say(fault, CT_INPUT, "the piston has no bore: give it");
        m.orifice = (ct_orifice){spec->bore.v, spec->length};
    } else if (spec->Q_rated.has && spec->dp_rated.has && is_for(spec, r)) {
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

/* The laboratory's rating knows none: it comes in with the house. */
static ct_liquid_line line_of(const ct_outdoor_unit *u)
{
    if (!u->line_length.has) return (ct_liquid_line){0};
    return (ct_liquid_line){u->line_length.v, u->line_od.v - 2.0 * CT_LIQUID_LINE_WALL,
                            u->line_lift.v};
}

ct_status ct_setup_join(const ct_setup *setup, ct_system *system, ct_fault *fault)
{
    const ct_indoor_unit *unit = &setup->c->indoor[setup->unit];
    const ct_outdoor *outdoor = setup->outdoor;
    ct_tuning tuning = setup->c->tuning;
    ct_system s = {.outdoor = *outdoor, .before_coil = unit->blower.before_coil};
    ct_status status = ct_grow_coil(setup->c, setup->matched, &unit->coil, &s.coil, fault);

    s.outdoor.line = line_of(&setup->c->outdoor);
    if (status == CT_OK) status = make_meter(&unit->meter, outdoor->refrigerant, &s.meter, fault);
    if (status != CT_OK) return status;
    if (setup->unit > 0) tuning.coil_conductance.has = false; /* learnt on another coil */
    ct_plant_tune(&tuning, &s);
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
