#include "study/meterstudy.h"

#include <stdio.h>

static void study_point(ct_solver *solver, const ct_system *system, const ct_conditions *at,
                        double x, const ct_study_point *before, ct_study_point *p)
{
    ct_fault fault = {.what = ""};
    ct_start start;
    bool warm = before && before->status == CT_OK;

    if (warm) start = (ct_start){before->balance.Te, before->balance.Tc};
    p->x = x;
    p->status = ct_balance_solve(solver, system, at, warm ? &start : NULL, &p->balance, &fault);
    snprintf(p->why, sizeof p->why, "%s", p->status == CT_OK ? "" : fault.what);
}

static double step_to(double low, double high, int i, int n)
{
    return n > 1 ? low + (high - low) * i / (n - 1) : low;
}

void ct_study_outdoors(ct_solver *solver, const ct_system *system, const ct_conditions *at,
                       double low, double high, int n, ct_study_point *points)
{
    ct_conditions now = *at;

    for (int i = 0; i < n; i++) {
        now.T_out = step_to(low, high, i, n);
        study_point(solver, system, &now, now.T_out, i ? &points[i - 1] : NULL, &points[i]);
    }
}

void ct_study_subcooling(ct_solver *solver, const ct_system *system, const ct_conditions *at,
                         double low, double high, int n, ct_study_point *points)
{
    ct_system now = *system;

    for (int i = 0; i < n; i++) {
        double subcooling = step_to(low, high, i, n);
        now.outdoor.condenser.subcooling = subcooling;
        study_point(solver, &now, at, subcooling, i ? &points[i - 1] : NULL, &points[i]);
    }
}

ct_status ct_study_bore(ct_solver *solver, const ct_system *system, const ct_conditions *at,
                        double superheat, double length, ct_bore_choice *out, ct_fault *fault)
{
    const ct_refrigerant *r = system->outdoor.refrigerant;
    ct_system held = *system;
    ct_bore_choice choice;
    ct_inlet inlet;
    ct_balance b;
    double p_down;
    ct_status status;

    held.meter = (ct_meter){.kind = CT_METER_VALVE, .superheat = superheat};
    status = ct_balance_solve(solver, &held, at, NULL, &b, fault);
    if (status == CT_OK) status = ct_refrigerant_p_dew(r, b.T_coil, &p_down, fault);
    if (status == CT_OK)
        status = ct_inlet_after_line(r, b.p_discharge, b.subcooling, 0.0, &inlet, fault);
    if (status == CT_OK)
        status = ct_orifice_bore(b.m_r, length, &inlet, p_down, &choice.bore, fault);
    if (status != CT_OK) return status;
    choice.m = b.m_r;
    ct_orifice_nearest(choice.bore, &choice.below, &choice.above);
    *out = choice;
    return CT_OK;
}

ct_status ct_study_other(ct_solver *solver, const ct_system *system, const ct_conditions *at,
                         double superheat, double length, ct_system *other, ct_fault *fault)
{
    ct_system o = *system;
    ct_bore_choice choice;
    ct_status status = CT_OK;

    if (system->meter.kind == CT_METER_ORIFICE) {
        o.meter = (ct_meter){.kind = CT_METER_VALVE, .superheat = superheat};
    } else {
        status = ct_study_bore(solver, system, at, superheat, length, &choice, fault);
        if (status == CT_OK)
            o.meter = (ct_meter){.kind = CT_METER_ORIFICE, .orifice = {choice.bore, length}};
    }
    if (status == CT_OK) *other = o;
    return status;
}
