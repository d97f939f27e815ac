#include "explain/sections.h"

#include <math.h>
#include <stdio.h>

#include "explain/terms.h"

static const char *pound(const sheet *s)
{
    return sheet_metric(s) ? "kilogram" : "pound";
}

/* Changes smaller than this share of the value are called none. */
#define NOTHING 5e-4

/* The words follow the numbers: which way each thing goes is looked at, never taken for granted. */
static const char *way(double old, double new, const char *falls, const char *holds,
                       const char *rises)
{
    if (fabs(new - old) <= NOTHING * fabs(old)) return holds;
    return new < old ? falls : rises;
}

static void sum_change(sheet *s, const char *name, const char *label, measure m, double old,
                       double new)
{
    const measure difference = m == M_TEMPERATURE ? M_DIFFERENCE : m;
    sheet_sum(s, &(sum_of){name, label, "now - before", difference, new - old}, "# - #",
              TERMS(sheet_term(s, m, new), sheet_term(s, m, old)));
}

static void sum_percent(sheet *s, const char *name, const char *label, measure m, double old,
                        double new)
{
    sheet_sum(s, &(sum_of){name, label, "now / before, less one", M_PERCENT, new / old - 1.0},
              "100 x (# / # - 1)", TERMS(sheet_term(s, m, new), sheet_term(s, m, old)));
}

static void step_air(sheet *s, const explained *old, const explained *new)
{
    sheet_say(s, "(1) %s air passes the coil.",
              way(old->point->m_da, new->point->m_da, "Less", "As much", "More"));
    sum_percent(s, "change_air", "Mass of air", M_MASS_FLOW, old->point->m_da, new->point->m_da);
}

/* The coil of the new airflow at the old suction: what the air alone would do. */
static ct_status step_offer(sheet *s, const explained *old, const explained *new, ct_fault *fault)
{
    const ct_balance *b = &old->point->balance;
    ct_balance_trial t;
    ct_status status = ct_balance_try(new->solver, &new->system, &new->at, b->Te, &t, fault);
    if (status != CT_OK) return status;
    sheet_say(s,
              "(2) If the suction stayed at %s, the coil would %s, but the outdoor unit would "
              "take as much as before.",
              sheet_show(s, M_TEMPERATURE, b->Te),
              way(b->Q, t.Q_coil, "take less heat out of the smaller airflow", "take the same heat",
                  "take more heat out of the larger airflow"));
    if (!t.coil_can) {
        sheet_say(s, "At that suction this air could not make the superheat at all.");
        return CT_OK;
    }
    sheet_given(s, "offer_coil", "the coil would give", M_HEAT, t.Q_coil);
    sheet_given(s, "offer_unit", "the outdoor unit would take", M_HEAT, t.Q_unit);
    sheet_sum(s,
              &(sum_of){"offer_short", "left over (below zero: missing)", "gives - takes", M_HEAT,
                        t.Q_coil - t.Q_unit},
              "# - #", TERMS(sheet_term(s, M_HEAT, t.Q_coil), sheet_term(s, M_HEAT, t.Q_unit)));
    return CT_OK;
}

static void step_suction(sheet *s, const explained *old, const explained *new)
{
    const ct_balance *a = &old->point->balance, *b = &new->point->balance;
    sheet_say(s,
              "(3) So the suction %s until both are equal again. The %s coil takes %s heat out of "
              "each %s of air. The vapor is %s, and the compressor moves %s refrigerant.",
              way(a->Te, b->Te, "falls", "stays", "rises"),
              way(a->Te, b->Te, "colder", "unchanged", "warmer"),
              way(a->Te, b->Te, "more", "the same", "less"), pound(s),
              way(a->Te, b->Te, "thinner", "the same", "denser"),
              way(a->m_r, b->m_r, "less", "as much", "more"));
    sum_change(s, "change_suction", "Saturated suction", M_TEMPERATURE, a->Te, b->Te);
    sum_percent(s, "change_refrigerant", "Refrigerant moved", M_MASS_FLOW, a->m_r, b->m_r);
    sum_percent(s, "change_total", "Heat taken by the coil", M_HEAT, a->Q, b->Q);
    if (new->job->system.meter.kind == CT_METER_ORIFICE)
        sum_change(s, "change_superheat", "Superheat with the piston", M_DIFFERENCE, a->superheat,
                   b->superheat);
    sum_change(s, "change_condensing", "Saturated discharge", M_TEMPERATURE, a->Tc, b->Tc);
    sum_change(s, "change_power", "Compressor input", M_ELECTRIC, a->P_compressor, b->P_compressor);
}

static void step_surface(sheet *s, const explained *old, const explained *new)
{
    const ct_balance *a = &old->point->balance, *b = &new->point->balance;
    const double before = old->T_dp - a->T_surface, now = new->T_dp - b->T_surface;
    const char *moves = way(a->T_surface, b->T_surface, "falls", "stays", "rises");
    if (now > 0.0)
        sheet_say(s, "(4) The coldest surface %s with it. It is now %s the dew point of the air%s.",
                  moves,
                  before <= 0.0
                      ? "below"
                      : way(before, now, "less far below", "as far below", "farther below"),
                  before <= 0.0 ? "; it was above before, so water starts to condense" : "");
    else
        sheet_say(
            s,
            "(4) The coldest surface %s with it. It is %s above the dew point of the air (the "
            "differences are below zero), so the coil removes no water.",
            moves, before > 0.0 ? "now" : "still");
    sheet_sum(
        s,
        &(sum_of){"below_dew_before", "Surface below the dew point before", "t_dew - t_s",
                  M_DIFFERENCE, before},
        "# - #",
        TERMS(sheet_term(s, M_TEMPERATURE, old->T_dp), sheet_term(s, M_TEMPERATURE, a->T_surface)));
    sheet_sum(
        s,
        &(sum_of){"below_dew_now", "Surface below the dew point now", "t_dew - t_s", M_DIFFERENCE,
                  now},
        "# - #",
        TERMS(sheet_term(s, M_TEMPERATURE, new->T_dp), sheet_term(s, M_TEMPERATURE, b->T_surface)));
}

/* Water lost per degree lost, from entering to leaving air: how steep the line is on the chart. */
static void sum_slope(sheet *s, const char *name, const char *label, const ct_balance *b)
{
    const double slope = (b->in.W - b->out.W) / (b->in.T - b->out.T);
    const double shown = sheet_metric(s) ? slope * 1e3 : slope * 7000.0 / 1.8;
    sheet_sum(s, &(sum_of){name, label, "(W_in - W_out) / (t_in - t_out)", M_NUMBER, shown},
              "(# - #) / (# - #)",
              TERMS(sheet_term(s, M_MOISTURE, b->in.W), sheet_term(s, M_MOISTURE, b->out.W),
                    sheet_term(s, M_TEMPERATURE, b->in.T), sheet_term(s, M_TEMPERATURE, b->out.T)));
}

static void step_split(sheet *s, const explained *old, const explained *new)
{
    const ct_balance *a = &old->point->balance, *b = &new->point->balance;
    sheet_say(s,
              "(5) Each %s of air stays %s in the coil and leaves %s and %s. For every "
              "degree it cools, it loses %s water:",
              pound(s), way(old->point->m_da, new->point->m_da, "longer", "as long", "less long"),
              way(a->out.T, b->out.T, "colder", "as cold", "warmer"),
              way(a->out.W, b->out.W, "drier", "as dry", "damper"),
              way((a->in.W - a->out.W) / (a->in.T - a->out.T),
                  (b->in.W - b->out.W) / (b->in.T - b->out.T), "less", "as much", "more"));
    sum_slope(s, "slope_before", "Moisture per degree before", a);
    sum_slope(s, "slope_now", "Moisture per degree now", b);
    sum_change(s, "change_leaving", "Leaving dry bulb", M_TEMPERATURE, a->out.T, b->out.T);
    sum_change(s, "change_moisture", "Leaving moisture", M_MOISTURE, a->out.W, b->out.W);
    sum_change(s, "change_ratio", "Sensible heat ratio of the coil", M_NUMBER, a->SHR, b->SHR);
}

static void step_net(sheet *s, const ct_balance *a, const ct_balance *b)
{
    if ((b->Q - a->Q) * (b->Q_net - a->Q_net) >= 0.0) return;
    sheet_say(s,
              "Net of the blower, the total goes the other way than at the coil, because the "
              "blower heats the air %s.",
              b->Q_net > a->Q_net ? "less" : "more");
}

static void step_sum_up(sheet *s, const explained *old, const explained *new)
{
    const ct_balance *a = &old->point->balance, *b = &new->point->balance;
    sheet_say(s,
              "(6) The result, net of the blower. Total heat %s, sensible heat %s, and the "
              "water off the coil %s.",
              way(a->Q_net, b->Q_net, "falls", "stays", "rises"),
              way(a->Q_sens_net, b->Q_sens_net, "falls", "stays", "rises"),
              way(a->water, b->water, "falls", "stays", "rises"));
    step_net(s, a, b);
    sum_change(s, "change_net_total", "Net total", M_HEAT, a->Q_net, b->Q_net);
    sum_change(s, "change_net_sensible", "Net sensible", M_HEAT, a->Q_sens_net, b->Q_sens_net);
    sum_change(s, "change_latent", "Latent", M_HEAT, a->Q_lat, b->Q_lat);
    sum_change(s, "change_water", "Water off the coil, while it runs", M_WATER, a->water, b->water);
}

/* The trade-off in words, when it is one: seen from the faster air to the slower. */
static void say_trade(sheet *s, const explained *old, const explained *new)
{
    const bool slower = new->point->m_da < old->point->m_da;
    const ct_balance *fast = slower ? &old->point->balance : &new->point->balance,
                     *slow = slower ? &new->point->balance : &old->point->balance;
    const double lost = fast->Q_sens_net - slow->Q_sens_net;
    const double dried = slow->Q_lat - fast->Q_lat;
    if (lost > 0.0 && dried > 0.0) {
        sheet_say(s,
                  "That is the trade-off. The outdoor unit takes nearly the same heat at either "
                  "airflow, and capacity used to condense water cannot cool the air. So the "
                  "slower air loses in sensible heat what it gains in latent heat, plus what the "
                  "colder suction costs in total heat:");
        sheet_sum(
            s,
            &(sum_of){"trade", "Sensible lost by the slower air", "total lost + latent gained",
                      M_HEAT, lost},
            "# + #",
            TERMS(sheet_term(s, M_HEAT, fast->Q_net - slow->Q_net), sheet_term(s, M_HEAT, dried)));
    } else if (lost > 0.0) {
        sheet_say(s, "Here the slower air removes no more water; it only loses capacity. Slower is "
                     "not always drier.");
    }
}

static void say_settled(sheet *s, const explained *old, const explained *new)
{
    const ct_point *a = old->point, *b = new->point;
    if (!a->has_room || !b->has_room) return;
    sheet_say(s, "%s The relative humidity the house settles at %s:",
              b->room.always_on
                  ? "At the load where humidity is judged the system already runs the whole hour."
                  : "The sensible capacity decides how long it runs for the same load, and it "
                    "removes water only while it runs.",
              way(a->room.rh, b->room.rh, "falls", "stays", "rises"));
    sum_change(s, "change_run", "Share of the hour it runs", M_PERCENT, a->room.run, b->room.run);
    sum_change(s, "change_humidity", "Settled relative humidity", M_PERCENT, a->room.rh,
               b->room.rh);
}

ct_status section_change(sheet *s, const explained *old, const explained *new, ct_fault *fault)
{
    char name_old[80], name_new[80], heading[200];
    explained_name(s, old, name_old, sizeof name_old);
    explained_name(s, new, name_new, sizeof name_new);
    snprintf(heading, sizeof heading, "FROM %s TO %s: WHAT MOVED, AND WHY", name_old, name_new);
    sheet_numbered(s, heading);
    step_air(s, old, new);
    ct_status status = step_offer(s, old, new, fault);
    if (status != CT_OK) return status;
    step_suction(s, old, new);
    step_surface(s, old, new);
    step_split(s, old, new);
    step_sum_up(s, old, new);
    say_trade(s, old, new);
    say_settled(s, old, new);
    return CT_OK;
}
