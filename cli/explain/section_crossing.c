#include "explain/sections.h"

#include <math.h>
#include <stdio.h>

#include "base/units.h"
#include "explain/terms.h"

/* How far from the balance the two trial suctions lie that show why it is there. */
#define TRIAL_STEP (4.0 / CT_F_PER_K)

static void sum_trial(sheet *s, const explained *e, double Te, const char *name, const char *label)
{
    ct_balance_trial t;
    char unit_name[48], coil_name[48], text[80];
    ct_fault fault;
    if (ct_balance_try(e->solver, &e->system, &e->at, Te, &t, &fault) != CT_OK || !t.coil_can) {
        sheet_say(s, "At a suction of %s the system cannot run at all: %s.",
                  sheet_show(s, M_TEMPERATURE, Te),
                  "the coil cannot make the superheat, or a table ends");
        return;
    }
    sheet_say(s, "%s, at a saturated suction of %s:", label, sheet_show(s, M_TEMPERATURE, Te));
    snprintf(unit_name, sizeof unit_name, "%s_unit", name);
    snprintf(coil_name, sizeof coil_name, "%s_coil", name);
    snprintf(text, sizeof text, "%s_excess", name);
    sheet_given(s, coil_name, "the coil gives", M_HEAT, t.Q_coil);
    sheet_given(s, unit_name, "the outdoor unit takes", M_HEAT, t.Q_unit);
    sheet_sum(s,
              &(sum_of){text, "coil more than outdoor unit by", "gives - takes", M_HEAT,
                        fabs(t.Q_coil - t.Q_unit) < 0.01 ? 0.0 : t.Q_coil - t.Q_unit},
              "# - #", TERMS(sheet_term(s, M_HEAT, t.Q_coil), sheet_term(s, M_HEAT, t.Q_unit)));
}

void section_crossing(sheet *s, const explained *e)
{
    const double Te = e->point->balance.Te;
    sheet_numbered(s, "WHERE THE CURVES CROSS");
    sheet_say(s, "Both sides have been worked out at one suction temperature. Why that one? Try a "
                 "colder and a warmer one.");
    sum_trial(s, e, Te - TRIAL_STEP, "colder", "Colder");
    sum_trial(s, e, Te, "settled", "Where it settles");
    sum_trial(s, e, Te + TRIAL_STEP, "warmer", "Warmer");
    sheet_say(s,
              "If the suction is too cold, the coil boils off more than the compressor takes away: "
              "vapor builds up and the suction rises. If it is too warm, the compressor takes "
              "more than the coil boils off and pulls the suction down. It settles where both "
              "are equal.");
}
