#include "explain/sections.h"

#include "explain/terms.h"
#include "fluid/air.h"

/* Dry up to where the surface of the boiling tubes meets the dew point; the formulas are
 * coil.c's. */
static void say_where_it_starts(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const ct_coil_air *a = &e->air;
    const double T_x = e->T_dp + e->UAi / a->UAo_dry * (e->T_dp - b->T_boil);
    const double ntu = 1.0 / ((1.0 / e->UAi + 1.0 / a->UAo_dry) * e->point->m_da * a->cp);
    const term UAo = sheet_term(s, M_CONDUCTANCE, a->UAo_dry),
               UAi = sheet_term(s, M_CONDUCTANCE, e->UAi),
               T_r = sheet_term(s, M_TEMPERATURE, b->T_boil),
               T_dp = sheet_term(s, M_TEMPERATURE, e->T_dp),
               T_b = sheet_term(s, M_TEMPERATURE, b->T_at_boil);
    sheet_sum(s,
              &(sum_of){"first_surface", "Surface of the first boiling tubes, if dry",
                        "(UA_a t_b + UA_r t_r) / (UA_a + UA_r)", M_TEMPERATURE,
                        (a->UAo_dry * b->T_at_boil + e->UAi * b->T_boil) / (a->UAo_dry + e->UAi)},
              "(# x # + # x #) / (# + #)", TERMS(UAo, T_b, UAi, T_r, UAo, UAi));
    sheet_sum(s,
              &(sum_of){"condensing_starts_at", "Water condenses where the air is down to",
                        "t_dew + UA_r / UA_a (t_dew - t_r)", M_TEMPERATURE, T_x},
              "# + # / # x (# - #)", TERMS(T_dp, UAi, UAo, T_dp, T_r));
    if (T_x >= b->T_at_boil) {
        sheet_given(s, "dry_share", "Share of the coil that stays dry: superheat alone", M_PERCENT,
                    b->dry_share);
        sheet_say(s, "The air is already cooler than that: the surface is below the dew point from "
                     "there on, and all of the boiling part of the coil is wet.");
        return;
    }
    if (T_x <= b->T_boil) {
        sheet_say(s, "No surface is that cold: the coil stays dry and removes no water.");
        return;
    }
    sheet_sum(s,
              &(sum_of){"transfer_units", "Transfer units (NTU) of the dry part",
                        "1 / ((1/UA_a + 1/UA_r) m_a c_p)", M_NUMBER, ntu},
              "1 / ((1 / # + 1 / #) x # x #)",
              TERMS(UAo, UAi, sheet_term(s, M_MASS_FLOW, e->point->m_da),
                    sheet_term(s, M_HEAT_CAPACITY, a->cp)));
    if (b->dry_share >= 1.0) {
        sheet_say(s, "The air leaves before it is that cool: the coil stays dry and removes no "
                     "water.");
        return;
    }
    sheet_sum(s,
              &(sum_of){"dry_share", "Share of the coil that stays dry, superheat included",
                        "superheat share + ln((t_b - t_r) / (t_x - t_r)) / transfer units",
                        M_PERCENT, b->dry_share},
              "# + 100 x ln((# - #) / (# - #)) / #",
              TERMS(sheet_term(s, M_PERCENT, b->superheat_area), T_b, T_r,
                    sheet_term(s, M_TEMPERATURE, T_x), T_r, sheet_term(s, M_NUMBER, ntu)));
}

static void given_coil(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    sheet_given(s, "tube_temperature", "Boiling temperature in the tubes t_r", M_TEMPERATURE,
                b->T_boil);
    sheet_given(s, "air_side_conductance", "Air to surface, dry: conductance UA_a", M_CONDUCTANCE,
                e->air.UAo_dry);
    sheet_given(s, "refrigerant_side_conductance", "Surface to refrigerant: conductance UA_r",
                M_CONDUCTANCE, e->UAi);
    sheet_given(s, "entering_heat_capacity", "Heat capacity of the entering air c_p",
                M_HEAT_CAPACITY, e->air.cp);
    sheet_given(s, "superheat", "Superheat at the coil outlet", M_DIFFERENCE, b->superheat);
    sheet_given(s, "superheat_area", "Share of the coil that only warms vapor", M_PERCENT,
                b->superheat_area);
    sheet_given(s, "air_at_boiling", "Air that reaches the boiling tubes t_b", M_TEMPERATURE,
                b->T_at_boil);
}

static void say_march(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    sheet_say(
        s, "From there the air is followed in small steps. At each step it gives up heat to a "
           "surface colder than itself, and water to a surface colder than its dew point. At the "
           "end of the coil:");
    sheet_given(s, "leaving_dry_bulb", "Air leaving the coil, dry bulb", M_TEMPERATURE, b->out.T);
    sheet_given(s, "leaving_moisture", "Air leaving the coil, moisture", M_MOISTURE, b->out.W);
    sheet_given(s, "coil_surface", "Coldest surface", M_TEMPERATURE, b->T_surface);
    sheet_given(s, "heat_in_water", "Heat that leaves with the water itself", M_HEAT, b->h_water);
    sheet_sum(
        s,
        &(sum_of){"surface_below_dew_point", "Coldest surface below the dew point", "t_dew - t_s",
                  M_DIFFERENCE, e->T_dp - b->T_surface},
        "# - #",
        TERMS(sheet_term(s, M_TEMPERATURE, e->T_dp), sheet_term(s, M_TEMPERATURE, b->T_surface)));
}

static void sum_split(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    const term m = sheet_term(s, M_MASS_FLOW, e->point->m_da), Q = sheet_term(s, M_HEAT, b->Q),
               Qs = sheet_term(s, M_HEAT, b->Q_sens);
    sheet_sum(s, &(sum_of){"water", "Water off the coil", "m_a (W_in - W_out)", M_WATER, b->water},
              sheet_metric(s) ? "# x (# - #)" : "# x (# - #) / 7000",
              TERMS(m, sheet_term(s, M_MOISTURE, b->in.W), sheet_term(s, M_MOISTURE, b->out.W)));
    terms_enthalpy(s, "leaving_enthalpy", "Enthalpy of the leaving air h_out", &b->out);
    sheet_sum(s,
              &(sum_of){"coil_heat", "Total heat the coil removes",
                        "m_a (h_in - h_out) - heat in the water", M_HEAT, b->Q},
              "# x (# - #) - #",
              TERMS(m, sheet_term(s, M_AIR_ENTHALPY, ct_air_h(b->in.T, b->in.W)),
                    sheet_term(s, M_AIR_ENTHALPY, ct_air_h(b->out.T, b->out.W)),
                    sheet_term(s, M_HEAT, b->h_water)));
    sheet_sum(s,
              &(sum_of){"coil_sensible", "of it sensible", "m_a (c_a + c_v W_out) (t_in - t_out)",
                        M_HEAT, b->Q_sens},
              "# x (# + # x # / #) x (# - #)",
              TERMS(m, terms_c_pa(s), terms_c_pv(s), sheet_term(s, M_MOISTURE, b->out.W),
                    terms_grains(s), sheet_term(s, M_TEMPERATURE, b->in.T),
                    sheet_term(s, M_TEMPERATURE, b->out.T)));
    sheet_sum(s, &(sum_of){"coil_latent", "of it latent", "the rest", M_HEAT, b->Q_lat}, "# - #",
              TERMS(Q, Qs));
    sheet_sum(s,
              &(sum_of){"coil_sensible_ratio", "Sensible heat ratio of the coil",
                        "sensible / total", M_NUMBER, b->SHR},
              "# / #", TERMS(Qs, Q));
}

static void sum_bypass(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    if (!b->has_adp) return;
    const double h_adp = ct_air_h(b->ADP, ct_air_W_sat(b->ADP, b->in.p));
    const term h_out = sheet_term(s, M_AIR_ENTHALPY, ct_air_h(b->out.T, b->out.W)),
               h_in = sheet_term(s, M_AIR_ENTHALPY, ct_air_h(b->in.T, b->in.W)),
               adp = sheet_term(s, M_AIR_ENTHALPY, h_adp);
    sheet_say(s,
              "On the chart, draw a line from the entering air to the leaving air and carry it on: "
              "it meets saturation at the apparatus dew point. It is as if part of the air had "
              "touched a surface of that temperature and the rest had bypassed it.");
    sheet_given(s, "apparatus_dew_point", "Apparatus dew point", M_TEMPERATURE, b->ADP);
    sheet_given(s, "apparatus_enthalpy", "Enthalpy of saturated air there h_adp", M_AIR_ENTHALPY,
                h_adp);
    sheet_sum(s,
              &(sum_of){"bypass", "Bypass factor", "(h_out - h_adp) / (h_in - h_adp)", M_NUMBER,
                        b->bypass},
              "(# - #) / (# - #)", TERMS(h_out, adp, h_in, adp));
}

void section_coil(sheet *s, const explained *e)
{
    const ct_balance *b = &e->point->balance;
    sheet_numbered(s, "THE COIL");
    sheet_say(s, "Heat goes from the air to the surface and on to the refrigerant boiling in the "
                 "tubes. The surface lies between the two; it is nearer to the side that "
                 "passes heat better. The air meets the tubes that only warm vapor first, then the "
                 "boiling ones.");
    given_coil(s, e);
    if (b->vapor_wet)
        sheet_say(s, "Even the tubes that only warm vapor are below the dew point: water condenses "
                     "from the first row on.");
    else
        say_where_it_starts(s, e);
    if (b->dry_share < 1.0)
        say_march(s, e);
    else {
        sheet_given(s, "leaving_dry_bulb", "Air leaving the coil, dry bulb", M_TEMPERATURE,
                    b->out.T);
        sheet_given(s, "leaving_moisture", "Air leaving the coil, moisture", M_MOISTURE, b->out.W);
        sheet_given(s, "coil_surface", "Coldest surface", M_TEMPERATURE, b->T_surface);
        sheet_given(s, "heat_in_water", "Heat that leaves with the water itself", M_HEAT,
                    b->h_water);
    }
    sum_split(s, e);
    sum_bypass(s, e);
}
