#include "explain/sections.h"

#include "explain/terms.h"

static void sum_flow(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const ct_compressor *c = &e->job->system.outdoor.compressor;
    const double ratio = b->p_discharge / b->p_suction;
    const term nominal = sheet_term(s, M_MASS_FLOW, e->nominal.m);
    sheet_sum(
        s,
        &(sum_of){"pressure_ratio", "Pressure ratio", "p_discharge / p_suction", M_NUMBER, ratio},
        "# / #",
        TERMS(sheet_term(s, M_PRESSURE, b->p_discharge), sheet_term(s, M_PRESSURE, b->p_suction)));
    if (c->kind == CT_COMPRESSOR_PHYSICAL) {
        sheet_sum(
            s,
            &(sum_of){"volumetric_efficiency", "Share of the stroke that fills",
                      "1 - clearance (ratio^(1/n) - 1)", M_NUMBER, e->comp.eta_v},
            "1 - # x (#^(1 / #) - 1)",
            TERMS(sheet_constant(s, CT_COMPRESSOR_CLEARANCE, CT_COMPRESSOR_CLEARANCE, 2),
                  sheet_term(s, M_NUMBER, ratio),
                  sheet_constant(s, CT_COMPRESSOR_REEXPANSION, CT_COMPRESSOR_REEXPANSION, 2)));
        sheet_sum(s,
                  &(sum_of){"flow_at_stated_superheat", "Flow at the superheat of its rating",
                            "swept volume x share x density", M_MASS_FLOW, e->nominal.m},
                  "# x # x #",
                  TERMS(sheet_term(s, M_DISPLACEMENT, c->flow),
                        sheet_term(s, M_NUMBER, e->comp.eta_v),
                        sheet_term(s, M_DENSITY, e->nominal.rho1)));
    } else {
        sheet_given(s, "flow_at_stated_superheat", "Flow at the superheat of its map", M_MASS_FLOW,
                    e->nominal.m);
    }
    sheet_sum(s,
              &(sum_of){"refrigerant_flow", "Flow as it runs m_r",
                        "flow x (1 + 0.75 (density / density at the rating - 1))", M_MASS_FLOW,
                        b->m_r},
              "# x (1 + 0.75 x (# / # - 1))",
              TERMS(nominal, sheet_term(s, M_DENSITY, e->comp.rho1),
                    sheet_term(s, M_DENSITY, e->nominal.rho1)));
}

static void given_refrigerant(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const ct_compressor *c = &e->job->system.outdoor.compressor;
    sheet_given(s, "sat_suction", "Saturated suction at the compressor", M_TEMPERATURE, b->Te);
    sheet_given(s, "suction_pressure", "its pressure (refrigerant table)", M_PRESSURE,
                b->p_suction);
    sheet_given(s, "sat_discharge", "Saturated discharge", M_TEMPERATURE, b->Tc);
    sheet_given(s, "discharge_pressure", "its pressure (refrigerant table)", M_PRESSURE,
                b->p_discharge);
    if (c->kind == CT_COMPRESSOR_PHYSICAL)
        sheet_given(s, "swept_volume", "Volume the compressor sweeps", M_DISPLACEMENT, c->flow);
    sheet_given(s, "suction_density", "Density of the suction vapor", M_DENSITY, e->comp.rho1);
    sheet_given(s, "rated_density", "Density if it had the superheat of the rating", M_DENSITY,
                e->nominal.rho1);
    sheet_given(s, "coil_out_enthalpy", "Enthalpy leaving the coil h_r", M_ENTHALPY, e->h_out);
    sheet_given(s, "liquid_enthalpy", "Enthalpy of the liquid into the metering device h_l",
                M_ENTHALPY, e->cond.h_liquid);
    sheet_given(s, "isentropic_rise", "Ideal work of compression, per mass", M_ENTHALPY,
                e->comp.eta * b->P_compressor / b->m_r);
    sheet_given(s, "compressor_efficiency", "Efficiency at this pressure ratio", M_NUMBER,
                e->comp.eta);
}

void section_refrigerant(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const ct_outdoor *o = &e->job->system.outdoor;
    sheet_numbered(s, "THE REFRIGERANT");
    sheet_say(s,
              "The compressor takes in the same volume at every turn. How much refrigerant is in "
              "that volume depends on the suction: the warmer the suction, the denser the vapor "
              "and the more refrigerant moves.");
    given_refrigerant(s, e);
    sum_flow(s, e);
    sheet_sum(
        s,
        &(sum_of){"tube_saturation", "Saturation at the coil outlet",
                  "saturated suction + drop of the suction line", M_TEMPERATURE, b->T_coil},
        "# + #",
        TERMS(sheet_term(s, M_TEMPERATURE, b->Te), sheet_term(s, M_DIFFERENCE, o->suction_drop)));
    sheet_sum(s,
              &(sum_of){"refrigerant_heat", "Heat the refrigerant takes in the coil",
                        "m_r (h_r - h_l)", M_HEAT, b->Q},
              "# x (# - #)",
              TERMS(sheet_term(s, M_MASS_FLOW, b->m_r), sheet_term(s, M_ENTHALPY, e->h_out),
                    sheet_term(s, M_ENTHALPY, e->cond.h_liquid)));
    sheet_sum(s,
              &(sum_of){"compressor_power", "Compressor input",
                        "m_r x ideal work / efficiency, in watts", M_ELECTRIC, b->P_compressor},
              "# x # / # / #",
              TERMS(sheet_term(s, M_MASS_FLOW, b->m_r),
                    sheet_term(s, M_ENTHALPY, e->comp.eta * b->P_compressor / b->m_r),
                    sheet_term(s, M_NUMBER, e->comp.eta), terms_per_watt(s)));
    if (e->job->system.meter.kind != CT_METER_ORIFICE) return;
    if (b->quality_out < 1.0) {
        sheet_given(s, "vapor_share_out", "Vapor leaving the coil, share by mass", M_PERCENT,
                    b->quality_out);
        sheet_say(s, "The metering device is a piston, and it floods the coil: liquid leaves "
                     "with the vapor. That makes the suction denser, until the compressor moves "
                     "exactly what the piston passes.");
    } else {
        sheet_say(s, "The metering device is a piston: the superheat is the one at which it "
                     "passes exactly what the compressor moves.");
    }
}
