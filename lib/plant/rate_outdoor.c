#include "plant/rate_outdoor.h"

#include <math.h>
#include <string.h>

#include "base/units.h"

static ct_status rating_air(ct_air *air, ct_fault *fault)
{
    return ct_air_from_wet_bulb(CT_RATING_T_IN, CT_RATING_T_WB, CT_ATM_PA, air, fault);
}

static ct_status rating_states(const ct_outdoor *o, const ct_outdoor_unit *u, ct_rating_point *p,
                               ct_fault *fault)
{
    ct_vapor v;
    ct_condenser_state cond;
    ct_status status = rating_air(&p->air, fault);

    p->superheat_in = u->superheat_rated + u->suction_drop + u->suction_gain;
    p->T_suction = u->T_suction_rated;
    p->T_coil = u->T_suction_rated + u->suction_drop;
    if (status == CT_OK)
        status = ct_condenser_state_at(&o->condenser, o->refrigerant, u->T_discharge_rated, &cond,
                                       fault);
    if (status == CT_OK)
        status = ct_refrigerant_vapor(o->refrigerant, p->T_coil, u->superheat_rated, &v, fault);
    if (status != CT_OK) return status;
    p->h_out = v.h;
    p->h_liquid = cond.h_liquid;
    status = ct_refrigerant_vapor(o->refrigerant, p->T_coil, 0.0, &v, fault);
    if (status != CT_OK) return status;
    p->h_g = v.h;
    p->Q_gross = u->Q_net + u->P_blower_rated;
    p->P_compressor = u->Q_net / u->EER - u->P_blower_rated - u->P_fan;
    p->m = p->Q_gross / (p->h_out - p->h_liquid);
    p->m_da = u->V_rated_std * CT_STD_DENSITY;
    return ct_plant_boil_temperature(o->refrigerant, p->T_coil, p->h_liquid, &p->T_boil, fault);
}

/* Sizes the compressor so that it moves m and draws W at the rating point: run it at unit size,
 * then scale. */
static ct_status size_compressor(const ct_outdoor_unit *u, const ct_rating_point *p, ct_outdoor *o,
                                 ct_calibration *cal, ct_fault *fault)
{
    ct_compressor *c = &o->compressor;
    ct_compressor_in in = {u->T_suction_rated, u->T_discharge_rated, p->superheat_in};
    ct_compressor_out out;

    *c = (ct_compressor){.kind = u->compressor, .flow = 1.0, .power = 1.0};
    c->superheat_ref = u->compressor == CT_COMPRESSOR_MAP ? u->map_superheat : p->superheat_in;
    memcpy(c->map_m, u->map_m, sizeof c->map_m);
    memcpy(c->map_P, u->map_P, sizeof c->map_P);
    ct_status status = ct_compressor_run(c, o->refrigerant, &in, &out, fault);
    if (status != CT_OK) return status;
    c->flow = p->m / out.m;
    if (c->kind == CT_COMPRESSOR_MAP) {
        c->power = p->P_compressor / out.P;
        cal->map_flow = c->flow;
        cal->map_power = c->power;
    } else {
        c->power = out.P * c->flow / p->P_compressor;
        cal->displacement = c->flow;
    }
    cal->eta_rated = p->m * (out.eta * out.P / out.m) / p->P_compressor;
    return CT_OK;
}

static ct_status check_power(const ct_outdoor_unit *u, const ct_rating_point *p, ct_fault *fault)
{
    if (!(p->P_compressor > 0.0))
        return ct_fail(
            fault, CT_INPUT, u->EER, NAN, NAN,
            "EER %.1f Btu/Wh leaves no power for the compressor after blower %.0f W and fan "
            "%.0f W: check EER, rated capacity, blower watts and fan watts",
            u->EER / CT_W_PER_BTUH, u->P_blower_rated, u->P_fan);
    return CT_OK;
}

static ct_status check_efficiency(const ct_outdoor_unit *u, double eta, ct_fault *fault)
{
    if (!(eta > 0.15 && eta < 0.95))
        return ct_fail(
            fault, CT_INPUT, u->EER, NAN, NAN,
            "EER %.1f Btu/Wh needs a compressor of %.0f%% isentropic efficiency (15 to 95 "
            "possible): check EER, rated capacity, rated saturated discharge, blower watts and fan "
            "watts",
            u->EER / CT_W_PER_BTUH, 100.0 * eta);
    return CT_OK;
}

/* The shares go as 1/eps_C: at 1 W/K their sum is the eps_C that makes them fill the face. */
static ct_status size_condenser(ct_outdoor *o, const ct_outdoor_unit *u, const ct_rating_point *p,
                                ct_fault *fault)
{
    const ct_compressor_in in = {u->T_suction_rated, u->T_discharge_rated, p->superheat_in};
    ct_compressor_out comp;
    ct_condenser_state state;
    ct_condenser_flow flow;
    ct_condenser_zones w;
    ct_status status =
        ct_condenser_state_at(&o->condenser, o->refrigerant, u->T_discharge_rated, &state, fault);

    if (status == CT_OK)
        status = ct_compressor_run(&o->compressor, o->refrigerant, &in, &comp, fault);
    if (status != CT_OK) return status;
    if (!(state.T_bubble - u->subcooling > CT_RATING_T_OUT + 0.5 / CT_F_PER_K))
        return ct_fail(fault, CT_INPUT, u->T_discharge_rated,
                       u->T_discharge_rated + CT_RATING_T_OUT + 1.0 / CT_F_PER_K -
                           (state.T_bubble - u->subcooling),
                       NAN,
                       "rated saturated discharge %.0f F with %.0f F of subcooling: the liquid "
                       "would leave at %.0f F, no warmer than the 95 F outdoors of the rating; "
                       "raise rated_saturated_discharge (115 to 125 F usual) or lower subcooling",
                       ct_F_from_K(u->T_discharge_rated), u->subcooling * CT_F_PER_K,
                       ct_F_from_K(state.T_bubble - u->subcooling));
    flow = ct_plant_to_condenser(&comp, &state);
    w = ct_condenser_shares(&state, &flow, 1.0, CT_RATING_T_OUT);
    o->condenser.eps_C = w.vapor + w.two_phase + w.liquid;
    return CT_OK;
}

ct_status ct_rate_outdoor(const ct_outdoor_unit *u, ct_outdoor *o, ct_rating_point *p,
                          ct_calibration *cal, ct_fault *fault)
{
    o->condenser = (ct_condenser){.subcooling = u->subcooling};
    o->suction_gain = u->suction_gain / (CT_RATING_T_OUT - u->T_suction_rated);
    ct_status status = rating_states(o, u, p, fault);
    if (status == CT_OK) status = check_power(u, p, fault);
    if (status == CT_OK) status = size_compressor(u, p, o, cal, fault);
    if (status == CT_OK) status = check_efficiency(u, cal->eta_rated, fault);
    return status == CT_OK ? size_condenser(o, u, p, fault) : status;
}
