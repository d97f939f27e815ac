#include "plant/balance_record.h"

#include <math.h>

#include "base/units.h"
#include "plant/balance_blower.h"

static void fill_refrigerant_side(const ct_trial *t, ct_balance *b)
{
    const ct_refrigerant *r = t->sys->outdoor.refrigerant;
    double m = t->comp.m;
    double h1 = t->comp.h1;

    b->Te = t->Te;
    b->Tc = t->Tc;
    b->T_coil = t->T_coil;
    b->T_boil = t->T_boil;
    ct_refrigerant_p_dew(r, t->Te, &b->p_suction, NULL);
    ct_refrigerant_p_dew(r, t->Tc, &b->p_discharge, NULL);
    b->T_bubble = t->cond.T_bubble;
    b->m_r = m;
    b->superheat = fmax(0.0, t->superheat);
    b->superheat_area = t->path.superheat_area;
    b->T_at_boil = t->path.T_at_boil;
    b->vapor_wet = t->path.vapor_wet;
    b->subcooling = t->sys->outdoor.condenser.subcooling;
    b->T_suction = t->Te + fmax(0.0, t->superheat + ct_trial_line_superheat(t));
    b->P_compressor = t->comp.P;
    b->Q_condenser = m * (t->comp.h2 - t->cond.h_liquid);
    b->desuperheat_share = t->zones.vapor;
    b->subcool_share = t->zones.liquid;
    b->Q_line = m * (h1 - t->h_out);
    b->quality_out = 1.0;
    if (t->superheat < 0.0) {
        ct_liquid f;
        if (ct_compressor_suction_liquid(r, t->T_coil, &f, NULL) == CT_OK)
            b->quality_out = (t->h_out - f.h) / (t->h_g - f.h);
    }
}

static void fill_air_side(const ct_trial *t, ct_balance *b)
{
    ct_coil_total total;

    ct_coil_leave(&t->air, &t->path, &total);
    b->in = t->air.in;
    b->out = total.out;
    b->Q = total.Q;
    b->Q_sens = total.Q_sens;
    b->Q_lat = total.Q_lat;
    b->water = total.water;
    b->h_water = total.h_water;
    b->SHR = total.Q_sens / total.Q;
    b->dry_share = t->path.dry_share;
    b->T_surface = t->path.Ts_out;
    b->fogged = total.fogged;
    b->air_side_in_range = t->air.in_range;
    ct_balance_blower(t->sys, t->at->m_da, t->at->P_blower, b);
}

void ct_balance_record(const ct_trial *t, ct_balance *b)
{
    b->outcome = CT_BALANCED;
    b->evaluations = t->evaluations;
    b->residual_low = t->residual_low;
    b->residual_high = t->residual_high;
    b->slope = t->slope;
    b->slope_high = t->slope_high;
    b->Tc_per_Te = t->dTc_dTe;
    fill_refrigerant_side(t, b);
    fill_air_side(t, b);
}

ct_status ct_balance_record_failure(const ct_trial *t, ct_outcome outcome, ct_balance *b,
                                    ct_fault *fault)
{
    ct_status status = outcome == CT_NOT_COMPUTABLE                        ? CT_RANGE
                       : outcome == CT_UNCONVERGED || outcome == CT_JUMPED ? CT_NO_CONV
                                                                           : CT_NO_ROOT;

    b->outcome = outcome;
    b->evaluations = t->evaluations;
    return ct_fault_say(fault, status, "no balance at %.0f standard cfm: %s%s%.90s",
                        t->at->m_da / CT_STD_DENSITY / CT_M3S_PER_CFM, ct_outcome_text(outcome),
                        outcome == CT_NOT_COMPUTABLE ? ": " : "",
                        outcome == CT_NOT_COMPUTABLE ? t->fault.what : "");
}

void ct_balance_record_trial(const ct_trial *t, ct_balance_trial *out)
{
    ct_coil_total total;

    *out = (ct_balance_trial){.Te = t->Te,
                              .Tc = t->Tc,
                              .T_coil = t->T_coil,
                              .T_boil = t->T_boil,
                              .m_r = t->comp.m,
                              .P_compressor = t->comp.P,
                              .superheat = t->superheat,
                              .Q_unit = t->comp.m * (t->h_out - t->cond.h_liquid),
                              .coil_can = t->trouble == CT_BALANCED,
                              .Q_coil = NAN,
                              .Q_coil_sens = NAN,
                              .T_surface = NAN};
    if (!out->coil_can) return;
    ct_coil_leave(&t->air, &t->path, &total);
    out->Q_coil = total.Q;
    out->Q_coil_sens = total.Q_sens;
    out->T_surface = t->path.Ts_out;
}
