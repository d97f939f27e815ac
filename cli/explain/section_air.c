#include "explain/sections.h"

#include "explain/terms.h"
#include "fluid/air.h"

static void say_humidity(sheet *s, const explained *e)
{
    const ct_air *a = &e->job->indoor;
    sheet_given(s, "return_dry_bulb", "Dry bulb", M_TEMPERATURE, a->T);
    sheet_given(s, "barometric_pressure", "Barometric pressure", M_PRESSURE, a->p);
    sheet_given(s, "relative_humidity", "Relative humidity", M_PERCENT, ct_air_rh(a));
    sheet_given(s, "saturation_pressure", "Vapor pressure of saturated air there (steam table)",
                M_VAPOR, e->p_sat);
    sheet_given(s, "dew_point", "Dew point: water starts to condense here", M_TEMPERATURE, e->T_dp);
    sheet_sum(s,
              &(sum_of){"vapor_pressure", "Vapor pressure", "humidity x saturation pressure",
                        M_VAPOR, e->p_vapor},
              "# x # / 100",
              TERMS(sheet_term(s, M_PERCENT, ct_air_rh(a)), sheet_term(s, M_VAPOR, e->p_sat)));
    sheet_sum(
        s,
        &(sum_of){"return_moisture", "Moisture per mass of dry air W",
                  sheet_metric(s) ? "1000 x 0.622 p_v / (p - p_v)" : "7000 x 0.622 p_v / (p - p_v)",
                  M_MOISTURE, a->W},
        "# x # x # / (# - #)",
        TERMS(terms_grains(s), sheet_constant(s, CT_AIR_EPS, CT_AIR_EPS, 3),
              sheet_term(s, M_VAPOR, e->p_vapor), sheet_term(s, M_PRESSURE, a->p),
              sheet_term(s, M_VAPOR, e->p_vapor)));
}

void section_air(sheet *s, const explained *e)
{
    sheet_numbered(s, "THE RETURN AIR");
    sheet_say(s, "Air carries two things to the coil: its warmth (sensible heat) and its water "
                 "(latent heat). The enthalpy counts both.");
    say_humidity(s, e);
    terms_enthalpy(s, "return_enthalpy", "Enthalpy h", &e->job->indoor);
}
