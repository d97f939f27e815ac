#include "explain/sections.h"

#include "explain/terms.h"

void section_condenser(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const double eps_C = ct_condenser_eps_C(&e->job->system.outdoor.condenser, e->job->indoor.p);
    sheet_section(s, "5  THE CONDENSER");
    sheet_say(s, "The condenser must reject the heat of the coil, the heat the suction line picked "
                 "up and the heat of the compressor. It can do so only by being hotter than the "
                 "outdoor air. That sets the discharge pressure.");
    sheet_given(s, "line_heat", "Heat picked up by the suction line", M_HEAT, b->Q_line);
    sheet_given(s, "shell_heat", "Heat lost from the compressor's shell", M_HEAT, b->Q_shell);
    sheet_given(s, "outdoor_dry_bulb", "Outdoor air", M_TEMPERATURE, e->job->T_out);
    sheet_given(s, "condenser_conductance", "Condenser: heat per degree", M_CONDUCTANCE, eps_C);
    sheet_given(s, "condensing_temperature", "Mean condensing temperature", M_TEMPERATURE,
                e->cond.T_mid);
    sheet_sum(s,
              &(sum_of){"heat_to_shed", "Heat to reject", "coil + line + compressor - shell",
                        M_HEAT, b->Q_condenser},
              "# + # + # x # - #",
              TERMS(sheet_term(s, M_HEAT, b->Q), sheet_term(s, M_HEAT, b->Q_line),
                    sheet_term(s, M_ELECTRIC, b->W), terms_per_watt(s),
                    sheet_term(s, M_HEAT, b->Q_shell)));
    sheet_sum(s,
              &(sum_of){"heat_shed", "Heat the condenser rejects",
                        "heat per degree x (t_cond - t_outdoor)", M_HEAT, b->Q_condenser},
              "# x (# - #)",
              TERMS(sheet_term(s, M_CONDUCTANCE, eps_C),
                    sheet_term(s, M_TEMPERATURE, e->cond.T_mid),
                    sheet_term(s, M_TEMPERATURE, e->job->T_out)));
}
