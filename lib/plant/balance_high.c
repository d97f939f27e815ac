#include "plant/balance_high.h"

#include <math.h>

#include "base/search.h"

/* Search range and strides, K. */
#define AT_AIR 1e-4           /* K */
#define LEAST_CONDENSING 1e-3 /* of the face */
#define TC_MARGIN 1.0         /* discharge above suction and above outdoors */
#define TABLE_MARGIN 0.01     /* and below the end of the refrigerant's table */
#define COLD_TC_ABOVE_OUT 12.0
#define COLD_STRIDE_TC 3.0
#define WARM_STRIDE_TC 0.25
#define TE_APART 1e-6 /* K, nearer trials say nothing of how Tc goes with Te */

/* Slope of the residual, 1/K, where none is known: heat to shed falls by 1/200 per K of discharge,
 * which adds to the condenser's own 1/(Tc - T_out). Discharge follows suction at about 0.3 K/K. */
#define SLOPE_SHED 0.005
#define TC_PER_TE 0.3

/* What the orifice passes at this Te and Tc, kg/s. */
static ct_status orifice_flow(ct_trial *t, double p_up, double *m, ct_fault *fault)
{
    const ct_outdoor *o = &t->sys->outdoor;
    const ct_liquid_line_end end = {.line = &o->line,
                                    .refrigerant = o->refrigerant,
                                    .orifice = &t->sys->meter.orifice,
                                    .p_up = p_up,
                                    .subcooling = o->condenser.subcooling,
                                    .p_down = t->p_coil};
    ct_orifice_out out = {0};
    ct_status status = ct_liquid_line_flow(&end, &out, fault);

    /* No flow is worked out where liquid is colder than it boils after the piston. */
    t->high_wrong_way = status != CT_OK;
    *m = out.m;
    return status;
}

static ct_status suction_at(ct_trial *t, double superheat, ct_fault *fault)
{
    const ct_outdoor *o = &t->sys->outdoor;

    t->superheat = superheat - ct_trial_line_superheat(t);
    return ct_compressor_suction_at(&o->compressor, o->refrigerant, t->Te, superheat, &t->suction,
                                    fault);
}

/* Suction with the superheat at which the compressor moves so many times its flow at the reference
 * one. */
static ct_status orifice_suction(ct_trial *t, double flow, ct_fault *fault)
{
    ct_suction_found found = {t->suction_superheat, 0};
    ct_status status =
        ct_suction_of_flow(t->sys->outdoor.refrigerant, &t->line, flow, &found, &t->suction, fault);

    t->suction_superheat = found.superheat;
    t->held = found.held;
    t->superheat = found.superheat - ct_trial_line_superheat(t);
    return status;
}

static ct_status high_side_states(ct_trial *t, double Tc, ct_fault *fault)
{
    const ct_outdoor *o = &t->sys->outdoor;
    const bool orifice = t->sys->meter.kind == CT_METER_ORIFICE;
    ct_phases *at = &t->at_discharge;
    double m = 0.0;

    *at = (ct_phases){0};
    ct_status status = ct_refrigerant_phases(o->refrigerant, Tc, at, fault);
    ct_compressor_reference ref = {.Tc = Tc, .p = at->p};

    t->Tc = Tc;
    t->held = 0;
    t->high_wrong_way = false;
    if (status == CT_OK)
        status = ct_condenser_state_of(&o->condenser, o->refrigerant, Tc, at, &t->cond, fault);
    if (status == CT_OK && orifice) status = orifice_flow(t, at->p, &m, fault);
    if (status == CT_OK)
        status = ct_compressor_reference_at(&o->compressor, o->refrigerant,
                                            orifice ? &t->line.ref : &t->suction, &ref, fault);
    if (status == CT_OK && orifice) status = orifice_suction(t, m / ref.m, fault);
    if (status != CT_OK) return status;
    /* A piston that feeds too little at a low head: gas too warm to be worked out. */
    t->high_wrong_way = orifice && t->suction_superheat > o->compressor.superheat_ref;
    return ct_compressor_actual(o->refrigerant, &t->suction, &ref, &t->comp, fault);
}

/* Condenser heat less heat to shed, over heat to shed; rises with Tc. A state that cannot be
 * computed is one with the discharge too far from the suction: say 'too high', finite, and note it;
 * before a piston too near it: 'too low'. */
static double high_side(double Tc, void *context)
{
    ct_trial *t = context;
    ct_condenser_flow flow;

    t->high_computable = high_side_states(t, Tc, &t->high_fault) == CT_OK;
    if (!t->high_computable) return t->high_wrong_way ? -1e3 : 1e3;
    flow = ct_plant_to_condenser(&t->comp, &t->cond);
    t->zones = ct_condenser_shares(&t->cond, &flow, t->eps_C, t->at->T_out);
    t->residual_high = ct_condenser_residual(&t->cond, &t->zones, t->at->T_out);
    return t->residual_high;
}

/* The next inner search begins where the last two answers point. */
static void remember_high_side(ct_trial *t, double Te, double Tc)
{
    if (isfinite(t->Te_last) && fabs(Te - t->Te_last) > TE_APART)
        t->dTc_dTe = fmin(fmax((Tc - t->Tc_last) / (Te - t->Te_last), -1.0), 2.0);
    t->Te_last = Te;
    t->Tc_last = Tc;
    t->Tc_stride = WARM_STRIDE_TC;
}

void ct_balance_high_ends(const ct_trial *t, double Te, double *low, double *high)
{
    *low = fmax(t->at->T_out, Te) + TC_MARGIN;
    *high = ct_refrigerant_T_max(t->sys->outdoor.refrigerant) - TABLE_MARGIN;
}

static ct_root_job high_side_job(const ct_trial *t, double Te)
{
    double ahead = isfinite(t->Te_last) ? t->dTc_dTe * (Te - t->Te_last) : 0.0;
    double low, high;

    ct_balance_high_ends(t, Te, &low, &high);
    const double start = fmax(t->Tc_last + ahead, low);

    return (ct_root_job){.start = start,
                         .step = t->Tc_stride,
                         .slope = t->slope_high > 0.0 ? t->slope_high
                                                      : SLOPE_SHED + 1.0 / (start - t->at->T_out),
                         .low = low,
                         .high = high,
                         .rising = true,
                         .tol = t->inner_tol};
}

/* What does not depend on Tc. */
static ct_status low_pressure_states(ct_trial *t, ct_fault *fault)
{
    const ct_outdoor *o = &t->sys->outdoor;
    ct_status status;

    if (t->sys->meter.kind == CT_METER_VALVE)
        return suction_at(t, t->sys->meter.superheat + ct_trial_line_superheat(t), fault);
    status = ct_refrigerant_p_dew(o->refrigerant, t->Te + o->suction_drop, &t->p_coil, fault);
    return status != CT_OK
               ? status
               : ct_suction_line_at(&o->compressor, o->refrigerant, t->Te, &t->line, fault);
}

/* With little flow through a large condenser the liquid leaves as warm as the air, to more digits
 * than there are: the discharge is then known, and the face left over is the liquid's. */
static bool liquid_meets_air(ct_trial *t)
{
    const ct_condenser_state *c = &t->cond;

    if (!t->high_computable || !(fabs(c->T_bubble - t->at->T_out - c->subcooling) < AT_AIR))
        return false;
    t->zones.liquid = 1.0 - t->zones.vapor - t->zones.two_phase;
    t->residual_high = 0.0;
    return t->zones.liquid > 0.0 && t->zones.liquid < 1.0 - LEAST_CONDENSING;
}

bool ct_balance_high(ct_trial *t, double Te)
{
    ct_root_job job = high_side_job(t, Te);
    ct_root_result result;
    ct_root_end end;

    t->Te = Te;
    if (low_pressure_states(t, &t->fault) != CT_OK) {
        t->trouble = CT_NOT_COMPUTABLE;
        return false;
    }
    end = ct_search_root(high_side, t, &job, &result);
    /* The latest evaluation may not be the best one: make the state that of the answer. */
    if (t->Tc != result.x) high_side(result.x, t);
    if (end == CT_ROOT_FOUND || fabs(result.f) <= CT_BALANCE_TOL || liquid_meets_air(t)) {
        t->slope_high = result.slope;
        remember_high_side(t, Te, result.x - (result.slope > 0.0 ? result.f / result.slope : 0.0));
        return t->high_computable;
    }
    t->trouble = !t->high_computable || end != CT_ROOT_NO_BRACKET ? CT_NOT_COMPUTABLE
                 : result.f < 0.0                                 ? CT_HEAD_TOO_HIGH
                                                                  : CT_HEAD_TOO_LOW;
    t->fault = t->high_fault;
    return false;
}

bool ct_balance_high_at(ct_trial *t, double Te, double Tc)
{
    t->Te = Te;
    if (low_pressure_states(t, &t->fault) != CT_OK) return false;
    high_side(Tc, t);
    return t->high_computable;
}

void ct_balance_high_begin(ct_trial *t, const ct_start *start)
{
    double T_out = t->at->T_out;

    t->Te_last = start ? start->Te : (double)NAN;
    t->Tc_last = start && start->Tc > T_out ? start->Tc : T_out + COLD_TC_ABOVE_OUT;
    t->dTc_dTe = start && start->Tc_per_Te != 0.0 ? start->Tc_per_Te : TC_PER_TE;
    t->slope_high = start ? start->slope_high : 0.0;
    t->Tc_stride = start ? WARM_STRIDE_TC : COLD_STRIDE_TC;
}
