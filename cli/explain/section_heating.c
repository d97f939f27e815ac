#include "explain/sections.h"

#include <math.h>

#include "explain/terms.h"
#include "judge/heating.h"

static void given_day(sheet *s, const explained *e, const ct_heating_balance *b)
{
    sheet_say(s,
              "In winter the refrigerant goes the other way: this coil is the condenser, and the "
              "outdoor coil boils. The same sums as for the condenser, with this airflow, hold "
              "at the rating of heat pumps.");
    sheet_given(s, "heating_outdoors", "Outdoor air", M_TEMPERATURE, CT_HEATING_T_OUT);
    sheet_given(s, "heating_return", "Return air", M_TEMPERATURE, CT_HEATING_T_IN);
    if (e->job->heat_pump.before_coil)
        sheet_given(s, "heating_air", "Air entering the coil, behind the blower", M_TEMPERATURE,
                    b->T_air);
    sheet_given(s, "heating_flow", "Refrigerant flow m_r", M_MASS_FLOW, b->m_r);
    sheet_given(s, "heating_saturated_discharge", "Saturated discharge", M_TEMPERATURE, b->Tc);
    sheet_given(s, "heating_condensing", "Mean condensing temperature t_cond", M_TEMPERATURE,
                b->cond.T_mid);
    sheet_given(s, "heating_ua", "Coil, condensing: conductance UA", M_CONDUCTANCE, b->UA);
}

static void sum_conductance(sheet *s, const explained *e, const ct_heating_balance *b)
{
    const term C = sheet_term(s, M_CONDUCTANCE, b->C);
    sheet_sum(s,
              &(sum_of){"heating_air_capacity", "Heat per degree that the air takes, C", "m_a c_p",
                        M_CONDUCTANCE, b->C},
              "# x #",
              TERMS(sheet_term(s, M_MASS_FLOW, e->point->m_da),
                    sheet_term(s, M_HEAT_CAPACITY, b->C / e->point->m_da)));
    sheet_sum(s,
              &(sum_of){"heating_conductance", "The whole coil condensing: heat per degree",
                        "C (1 - exp(-UA / C))", M_CONDUCTANCE, b->eps_C},
              "# x (1 - exp(-# / #))", TERMS(C, sheet_term(s, M_CONDUCTANCE, b->UA), C));
}

static void sum_zones(sheet *s, const ct_heating_balance *b)
{
    const ct_condenser_state *c = &b->cond;
    const double condensing = 1.0 - b->vapor_share - b->liquid_share;
    const double h_hot = fmax(b->h_hot, c->h_dew);
    const double Q_vapor = b->m_r * (h_hot - c->h_dew);
    const double Q_condensing = condensing * b->eps_C * (c->T_mid - b->T_air);
    const double Q_liquid = b->m_r * (c->h_bubble - c->h_liquid);
    const term m_r = sheet_term(s, M_MASS_FLOW, b->m_r);
    sheet_given(s, "heating_vapor_share", "Share of the coil that cools hot vapor", M_PERCENT,
                b->vapor_share);
    sheet_given(s, "heating_liquid_share", "Share of the coil that subcools liquid", M_PERCENT,
                b->liquid_share);
    sheet_sum(s,
              &(sum_of){"heating_desuperheat", "Cooling the hot vapor", "m_r (h_hot - h_dew)",
                        M_HEAT, Q_vapor},
              "# x (# - #)",
              TERMS(m_r, sheet_term(s, M_ENTHALPY, h_hot), sheet_term(s, M_ENTHALPY, c->h_dew)));
    sheet_sum(s,
              &(sum_of){"heating_condense", "Condensing, on the rest of the coil",
                        "share x heat per degree x (t_cond - t_air)", M_HEAT, Q_condensing},
              "# / 100 x # x (# - #)",
              TERMS(sheet_term(s, M_PERCENT, condensing), sheet_term(s, M_CONDUCTANCE, b->eps_C),
                    sheet_term(s, M_TEMPERATURE, c->T_mid),
                    sheet_term(s, M_TEMPERATURE, b->T_air)));
    sheet_sum(
        s,
        &(sum_of){"heating_subcool", "Subcooling the liquid", "m_r (h_bubble - h_l)", M_HEAT,
                  Q_liquid},
        "# x (# - #)",
        TERMS(m_r, sheet_term(s, M_ENTHALPY, c->h_bubble), sheet_term(s, M_ENTHALPY, c->h_liquid)));
    sheet_sum(s,
              &(sum_of){"heating_coil", "Heat the coil gives", "the three together", M_HEAT, b->Q},
              "# + # + #",
              TERMS(sheet_term(s, M_HEAT, Q_vapor), sheet_term(s, M_HEAT, Q_condensing),
                    sheet_term(s, M_HEAT, Q_liquid)));
}

static void sum_house(sheet *s, const explained *e, const ct_heating_balance *b)
{
    const double P_blower = b->Q_net - b->Q;
    sheet_say(s, "It comes from outdoors and from the compressor; the blower adds its own.");
    sheet_given(s, "heating_compressor", "Compressor", M_ELECTRIC, b->P_compressor);
    sheet_sum(s,
              &(sum_of){"heating_sources", "The same heat, by where it comes from",
                        "outdoor coil + compressor", M_HEAT, b->Q},
              "# + # x #",
              TERMS(sheet_term(s, M_HEAT, b->Q_outdoor), sheet_term(s, M_ELECTRIC, b->P_compressor),
                    terms_per_watt(s)));
    sheet_sum(
        s, &(sum_of){"heating_net", "Net heating capacity", "coil + blower", M_HEAT, b->Q_net},
        "# + # x #",
        TERMS(sheet_term(s, M_HEAT, b->Q), sheet_term(s, M_ELECTRIC, P_blower), terms_per_watt(s)));
    sheet_sum(s,
              &(sum_of){"heating_supply", "Supply air", "return air + net / C", M_TEMPERATURE,
                        b->T_supply},
              "# + # / #",
              TERMS(sheet_term(s, M_TEMPERATURE, CT_HEATING_T_IN), sheet_term(s, M_HEAT, b->Q_net),
                    sheet_term(s, M_CONDUCTANCE, b->C)));
    sheet_sum(s,
              &(sum_of){"heating_cop", "COP, net heat over all watts",
                        "net / (compressor + outdoor fan + blower)", M_NUMBER, b->COP},
              "# / ((# + # + #) x #)",
              TERMS(sheet_term(s, M_HEAT, b->Q_net), sheet_term(s, M_ELECTRIC, b->P_compressor),
                    sheet_term(s, M_ELECTRIC, e->job->heat_pump.P_fan),
                    sheet_term(s, M_ELECTRIC, P_blower), terms_per_watt(s)));
}

static void sum_head(sheet *s, const explained *e, const ct_heating_pump_point *p)
{
    const ct_heat_pump_spec *h = &e->job->c->outdoor.heat_pump;
    const double most = e->job->c->limits.T_discharge_max;
    sheet_say(s, "The head is highest on the warmest day that anybody heats:");
    sheet_given(s, "heating_warmest_outdoors", "Outdoor air then", M_TEMPERATURE, h->T_out_max);
    sheet_given(s, "heating_warmest_return", "Return air then", M_TEMPERATURE, h->T_in_max);
    if (p->warm_status != CT_OK) {
        sheet_say(s, "It is beyond the refrigerant's table then: far too little air.");
        return;
    }
    sheet_sum(
        s,
        &(sum_of){"heating_head_room",
                  p->warm.Tc <= most ? "Saturated discharge, passes" : "Saturated discharge, FAILS",
                  "what is allowed - saturated discharge", M_DIFFERENCE, most - p->warm.Tc},
        "# - #",
        TERMS(sheet_term(s, M_TEMPERATURE, most), sheet_term(s, M_TEMPERATURE, p->warm.Tc)));
}

void section_heating(sheet *s, const explained *e)
{
    ct_heating_pump_point p;
    ct_fault why = {.what = ""};
    const double V = e->point->V_std / ct_sweep_job_thinness(e->job);
    if (!e->job->has_heat_pump) return;
    sheet_numbered(s, "WHEN IT HEATS");
    if (ct_heating_pump(e->job, V, &p, &why) != CT_OK) {
        sheet_say(s, "With this airflow it does not: %s.", why.what);
        return;
    }
    given_day(s, e, &p.rated);
    sum_conductance(s, e, &p.rated);
    sum_zones(s, &p.rated);
    sum_house(s, e, &p.rated);
    sum_head(s, e, &p);
}
