#include "explain/sections.h"

#include "explain/terms.h"

void section_net(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const term P = sheet_term(s, M_ELECTRIC, e->point->P_blower),
               Qn = sheet_term(s, M_HEAT, b->Q_net), Qsn = sheet_term(s, M_HEAT, b->Q_sens_net);
    sheet_numbered(s, "NET OF THE BLOWER");
    sheet_say(s, "All of the blower's watts become heat in the same air, so the house gets less "
                 "than the coil removes. The water removed stays the same.");
    sheet_given(s, "blower_power", "Blower input P", M_ELECTRIC, e->point->P_blower);
    sheet_given(s, "fan_power", "Outdoor fan input", M_ELECTRIC, e->job->system.outdoor.P_fan);
    sheet_sum(s,
              &(sum_of){"net_total", "Net total", "total - heat of the blower", M_HEAT, b->Q_net},
              "# - # x #", TERMS(sheet_term(s, M_HEAT, b->Q), P, terms_per_watt(s)));
    sheet_sum(s,
              &(sum_of){"net_sensible", "Net sensible", "sensible - heat of the blower", M_HEAT,
                        b->Q_sens_net},
              "# - # x #", TERMS(sheet_term(s, M_HEAT, b->Q_sens), P, terms_per_watt(s)));
    sheet_sum(s,
              &(sum_of){"net_sensible_ratio", "Net sensible heat ratio", "net sensible / net total",
                        M_NUMBER, b->SHR_net},
              "# / #", TERMS(Qsn, Qn));
    if (!e->job->system.before_coil)
        sheet_sum(s,
                  &(sum_of){"supply_dry_bulb", "Supply air",
                            "t_out + heat of the blower / (m_a c_p)", M_TEMPERATURE, b->supply.T},
                  "# + # x # / (# x (# + # x # / #))",
                  TERMS(sheet_term(s, M_TEMPERATURE, b->out.T), P, terms_per_watt(s),
                        sheet_term(s, M_MASS_FLOW, e->point->m_da), terms_c_pa(s), terms_c_pv(s),
                        sheet_term(s, M_MOISTURE, b->out.W), terms_grains(s)));
    sheet_sum(s,
              &(sum_of){"eer", "Net cooling per watt",
                        "net total / (compressor + blower + outdoor fan)", M_EER, b->EER},
              sheet_metric(s) ? "1000 x # / (# + # + #)" : "# / (# + # + #)",
              TERMS(Qn, sheet_term(s, M_ELECTRIC, b->P_compressor), P,
                    sheet_term(s, M_ELECTRIC, e->job->system.outdoor.P_fan)));
}
