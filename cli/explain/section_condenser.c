#include "explain/sections.h"

#include <math.h>

#include "explain/terms.h"

/* What each of the three zones takes of the heat, and of the face. */
static void sum_zones(sheet *s, const explained *e, double eps_C)
{
    const ct_balance *b = &e->point->balance;
    const ct_condenser_state *c = &e->cond;
    const double h2 = c->h_liquid + b->Q_condenser / b->m_r;
    const double two_phase = 1.0 - b->desuperheat_share - b->subcool_share;
    const double Q_two_phase = eps_C * two_phase * (c->T_mid - e->job->T_out);
    sheet_sum(s,
              &(sum_of){"heat_desuperheat", "Cooling the hot vapor to saturation",
                        "m_r (h_hot - h_dew)", M_HEAT, b->m_r * fmax(h2 - c->h_dew, 0.0)},
              "# x (# - #)",
              TERMS(sheet_term(s, M_MASS_FLOW, b->m_r),
                    sheet_term(s, M_ENTHALPY, fmax(h2, c->h_dew)),
                    sheet_term(s, M_ENTHALPY, c->h_dew)));
    sheet_sum(s,
              &(sum_of){"heat_condense", "Condensing, on its share of the face",
                        "share x heat per degree x (t_cond - t_outdoor)", M_HEAT, Q_two_phase},
              "# / 100 x # x (# - #)",
              TERMS(sheet_term(s, M_PERCENT, two_phase), sheet_term(s, M_CONDUCTANCE, eps_C),
                    sheet_term(s, M_TEMPERATURE, c->T_mid),
                    sheet_term(s, M_TEMPERATURE, e->job->T_out)));
    sheet_sum(s,
              &(sum_of){"heat_subcool", "Subcooling the liquid", "m_r (h_bubble - h_l)", M_HEAT,
                        b->m_r * (c->h_bubble - c->h_liquid)},
              "# x (# - #)",
              TERMS(sheet_term(s, M_MASS_FLOW, b->m_r), sheet_term(s, M_ENTHALPY, c->h_bubble),
                    sheet_term(s, M_ENTHALPY, c->h_liquid)));
    sheet_sum(s,
              &(sum_of){"heat_shed", "Heat the condenser rejects", "the three together", M_HEAT,
                        b->Q_condenser},
              "# + # + #",
              TERMS(sheet_term(s, M_HEAT, b->m_r * fmax(h2 - c->h_dew, 0.0)),
                    sheet_term(s, M_HEAT, Q_two_phase),
                    sheet_term(s, M_HEAT, b->m_r * (c->h_bubble - c->h_liquid))));
}

void section_condenser(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const double eps_C = ct_condenser_eps_C(&e->job->system.outdoor.condenser, e->job->indoor.p);
    sheet_numbered(s, "THE CONDENSER");
    sheet_say(s, "The condenser must reject the heat of the coil, the heat the suction line picked "
                 "up and the heat of the compressor. It can do so only by being hotter than the "
                 "outdoor air. That sets the discharge pressure.");
    sheet_given(s, "line_heat", "Heat picked up by the suction line", M_HEAT, b->Q_line);
    sheet_given(s, "outdoor_dry_bulb", "Outdoor air", M_TEMPERATURE, e->job->T_out);
    sheet_given(s, "condenser_conductance", "Condenser: heat per degree, all of it condensing",
                M_CONDUCTANCE, eps_C);
    sheet_given(s, "condensing_temperature", "Mean condensing temperature", M_TEMPERATURE,
                e->cond.T_mid);
    sheet_sum(s,
              &(sum_of){"heat_to_shed", "Heat to reject", "coil + line + compressor", M_HEAT,
                        b->Q_condenser},
              "# + # + # x #",
              TERMS(sheet_term(s, M_HEAT, b->Q), sheet_term(s, M_HEAT, b->Q_line),
                    sheet_term(s, M_ELECTRIC, b->P_compressor), terms_per_watt(s)));
    sheet_say(s, "Three things share the face of the condenser: the hot vapor cools to saturation, "
                 "it condenses, and the liquid is subcooled. What the first and the last take, "
                 "condensing does not have.");
    sheet_given(s, "desuperheat_share", "Share of the face that cools hot vapor", M_PERCENT,
                b->desuperheat_share);
    sheet_given(s, "subcool_share", "Share of the face that subcools liquid", M_PERCENT,
                b->subcool_share);
    sum_zones(s, e, eps_C);
}
