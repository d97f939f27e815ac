#include "study/meterstudy.h"

#include <math.h>
#include <stdio.h>

#include "part/charge.h"
#include "plant/charge.h"
#include "plant/feed.h"

static void study_point(ct_solver *solver, const ct_system *system, const ct_conditions *at,
                        double x, const ct_study_point *before, ct_study_point *p)
{
    ct_fault fault = {.what = ""};
    bool warm = before && before->status == CT_OK;

    ct_start start = {0};
    if (warm) start = ct_balance_start(&before->balance);
    p->x = x;
    p->status = ct_balance_solve(solver, system, at, warm ? &start : NULL, &p->balance, &fault);
    snprintf(p->why, sizeof p->why, "%s", p->status == CT_OK ? "" : fault.what);
}

/* A piston system is filled once, if not yet then at `at`: its charge stays when the day
 * changes. */
static void fill_here(ct_solver *solver, const ct_conditions *at, ct_system *system)
{
    ct_balance filled;
    if (system->meter.kind != CT_METER_ORIFICE || system->charge > 0.0) return;
    if (ct_balance_solve(solver, system, at, NULL, &filled, NULL) == CT_OK)
        ct_charge_of(system, &filled, &system->charge, NULL);
}

void ct_meterstudy_outdoors(ct_solver *solver, const ct_system *system, const ct_conditions *at,
                            const ct_steps *T_out, ct_study_point *points)
{
    ct_conditions now = *at;
    ct_system own = *system;
    fill_here(solver, at, &own);
    for (int i = 0; i < T_out->n; i++) {
        now.T_out = ct_steps_at(T_out, i);
        study_point(solver, &own, &now, now.T_out, i ? &points[i - 1] : NULL, &points[i]);
    }
}

void ct_meterstudy_subcooling(ct_solver *solver, const ct_system *system, const ct_conditions *at,
                              const ct_steps *steps, ct_study_point *points)
{
    ct_system now = *system;
    now.charge = 0.0;
    for (int i = 0; i < steps->n; i++) {
        double subcooling = ct_steps_at(steps, i);
        now.outdoor.condenser.subcooling = subcooling;
        study_point(solver, &now, at, subcooling, i ? &points[i - 1] : NULL, &points[i]);
    }
}

static ct_charge_point charge_point(ct_solver *solver, const ct_system *system,
                                    const ct_conditions *at, const ct_balance *plate, double off)
{
    ct_charge_point p = {.off = off, .measured_capacity = NAN, .measured_power = NAN};
    ct_system now = *system;
    ct_balance b;
    now.by_air = (ct_charge_air){0};
    ct_charge_measured(off, at->in.T, at->T_out, &p.measured_capacity, &p.measured_power, NULL);
    p.has = ct_charge_of(system, plate, &now.charge, NULL) == CT_OK;
    now.charge *= 1.0 + off;
    p.has = p.has && ct_balance_solve(solver, &now, at, NULL, &b, NULL) == CT_OK &&
            b.charge_beyond == 0;
    if (!p.has) return p;
    p.subcooling = b.subcooling;
    p.capacity = b.Q / plate->Q;
    p.power = b.P_compressor / plate->P_compressor;
    return p;
}

ct_status ct_meterstudy_charge(ct_solver *solver, const ct_system *system, const ct_conditions *at,
                               const ct_steps *off, ct_charge_point *points, ct_fault *fault)
{
    ct_balance plate;
    ct_status status = ct_balance_solve(solver, system, at, NULL, &plate, fault);
    for (int i = 0; status == CT_OK && i < off->n; i++)
        points[i] = charge_point(solver, system, at, &plate, ct_steps_at(off, i));
    return status;
}

ct_status ct_meterstudy_bore(ct_solver *solver, const ct_system *system, const ct_conditions *at,
                             const ct_meter_wanted *wanted, ct_bore_choice *out, ct_fault *fault)
{
    const ct_refrigerant *r = system->outdoor.refrigerant;
    ct_system held = *system;
    held.charge = 0.0;
    held.meter = (ct_meter){.kind = CT_METER_VALVE, .superheat = wanted->superheat};
    ct_balance b;
    ct_inlet inlet;
    ct_bore_choice choice;
    ct_status status = ct_balance_solve(solver, &held, at, NULL, &b, fault);
    double p_down;
    if (status == CT_OK) status = ct_refrigerant_p_dew(r, b.T_coil, &p_down, fault);
    if (status == CT_OK) status = ct_feed_inlet(&held, &b, &inlet, fault);
    if (status == CT_OK)
        status = ct_orifice_bore(b.m_r, wanted->length, &inlet, p_down, &choice.bore, fault);
    if (status != CT_OK) return status;
    choice.m = b.m_r;
    ct_orifice_nearest(choice.bore, &choice.below, &choice.above);
    *out = choice;
    return CT_OK;
}

ct_status ct_meterstudy_other(ct_solver *solver, const ct_system *system, const ct_conditions *at,
                              const ct_meter_wanted *wanted, ct_system *other, ct_fault *fault)
{
    ct_meter meter = {.kind = CT_METER_VALVE, .superheat = wanted->superheat};
    if (system->meter.kind != CT_METER_ORIFICE) {
        ct_bore_choice choice;
        ct_status status = ct_meterstudy_bore(solver, system, at, wanted, &choice, fault);
        if (status != CT_OK) return status;
        meter = (ct_meter){.kind = CT_METER_ORIFICE, .orifice = {choice.bore, wanted->length}};
    }
    *other = *system;
    other->meter = meter;
    other->charge = 0.0;
    return CT_OK;
}
