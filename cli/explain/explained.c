#include "explain/explained.h"

#include <math.h>
#include <stdio.h>

#include "fluid/air.h"
#include "plant/charge.h"

static ct_status refrigerant_states(explained *e, ct_fault *fault)
{
    const ct_outdoor *o = &e->system.outdoor;
    const ct_balance *b = &e->point->balance;
    ct_compressor_in in = {b->Te, b->Tc, 0.0};
    ct_status status = ct_condenser_state_at(&o->condenser, o->refrigerant, b->Tc, &e->cond, fault);
    if (status == CT_OK)
        status = ct_balance_try(e->solver, &e->system, &e->at, b->Te, &e->here, fault);
    if (status != CT_OK) return status;
    e->h_out = e->cond.h_liquid + e->here.Q_unit / e->here.m_r;
    e->h1 = e->h_out + b->Q_line / b->m_r;
    in.superheat = e->here.superheat + ct_plant_line_superheat(o, e->at.T_out, b->Te);
    status = ct_compressor_run(&o->compressor, o->refrigerant, &in, &e->comp, fault);
    in.superheat = o->compressor.superheat_ref;
    if (status == CT_OK)
        status = ct_compressor_run(&o->compressor, o->refrigerant, &in, &e->nominal, fault);
    return status;
}

ct_status explained_point(ct_solver *solver, const ct_sweep_job *job, const ct_point *point,
                          explained *e, ct_fault *fault)
{
    const ct_air *air = &job->indoor;
    if (point->status != CT_OK) return ct_fault_say(fault, point->status, "%s", point->why);
    *e = (explained){.job = job,
                     .point = point,
                     .solver = solver,
                     .system = ct_charge_as_found(&job->system, &point->balance),
                     .at = {*air, job->T_out, point->m_da, point->P_blower}};
    e->p_sat = ct_air_psat(air->T);
    e->p_vapor = air->p * air->W / (CT_AIR_EPS + air->W);
    const ct_status status =
        ct_coil_at_air(&job->system.coil, &point->balance.in, point->m_da, &e->air, fault);
    if (status != CT_OK) return status;
    e->T_dp = e->air.T_dp;
    e->UAi = ct_coil_UAi(&job->system.coil, point->balance.m_r);
    return refrigerant_states(e, fault);
}

void explained_name(const sheet *s, const explained *e, char *name, size_t size)
{
    if (e->point->tap >= 0)
        snprintf(name, size, "tap '%s'", e->job->unit->blower.tap[e->point->tap].name);
    else
        snprintf(name, size, "%s", sheet_show(s, M_PER_TON, e->point->V_std_per_ton));
}
