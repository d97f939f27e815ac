#include "metering/text.h"

#include <math.h>
#include <string.h>

#include "base/paragraph.h"
#include "base/units.h"
#include "plant/fill.h"
#include "show/limit_words.h"
#include "show/note_words.h"
#include "show/tap_words.h"
#include "show/title.h"
#include "show/tuned_words.h"
#include "show/verdict.h"
#include "show/ways_words.h"

static verdict verdict_of_unit(const metering_study *s)
{
    return verdict_of(s->j->c, s->j->refrigerant, &s->j->c->indoor[s->unit], s->metric);
}

static void print_title(FILE *out, const metering_study *s)
{
    const ct_case *c = s->j->c;
    const ct_point *p = &s->row.at.point;
    char air[SHOWN_SIZE], per_ton[SHOWN_SIZE];
    title_print(out, s->j);
    title_print_unit(out, &c->indoor[s->unit]);
    fputs(s->row.pick.found     ? "Pick: "
          : s->row.pick.refused ? "No pick; shown: "
                                : "No speed passes; shown: ",
          out);
    tap_say(out, &c->indoor[s->unit].blower, p->tap);
    fprintf(out, "%s (%s)\n", shown(air, Q_AIRFLOW, p->V, s->metric),
            shown(per_ton, Q_AIRFLOW_PER_TON, p->V_std_per_ton, s->metric));
    title_print_weather(out, s->at.T_out, &s->at.in, s->metric);
    if (c->outdoor.low.has) fputs("Two stages: all of this is for the high stage.\n", out);
    tuned_print(out, &c->tuning);
    ways_print_short(out, c, &s->j->ways, s->metric);
    fputc('\n', out);
}

/* ---- The device at the pick ------------------------------------------------------ */

static void say_valve(FILE *t, const metering_study *s)
{
    const ct_valve_out *v = &s->valve.out;
    char share[SHOWN_SIZE], dp[SHOWN_SIZE], sh[SHOWN_SIZE];
    if (!s->sweep.system.meter.has_valve) {
        fputs("the case file gives no rating, so the valve is assumed to hold its superheat. Give "
              "rated_capacity and rated_drop to have it checked.",
              t);
        return;
    }
    if (!s->valve.has) {
        fputs("no pressure is left across the valve: it cannot pass the flow.", t);
        return;
    }
    fprintf(t,
            "the compressor needs %s of the flow the valve passes at its rated opening, with %s "
            "across it. ",
            shown(share, Q_FRACTION, v->share, s->metric),
            shown(dp, Q_PRESSURE_DROP, s->valve.dp, s->metric));
    switch (v->state) {
    case CT_VALVE_HOLDS:
        fprintf(t, "It holds its superheat, %s.",
                shown(sh, Q_DELTA_T, s->row.at.point.balance.superheat, s->metric));
        break;
    case CT_VALVE_HUNTS:
        fprintf(t,
                "Below %.0f%% it hunts: it is too large for this coil and the superheat swings. "
                "Use a smaller valve.",
                100 * CT_VALVE_HUNTS_BELOW);
        break;
    case CT_VALVE_STARVES:
        fprintf(t,
                "Wide open it passes only %.0f%%, so the coil starves. Use a larger valve or more "
                "subcooling.",
                100 * s->sweep.system.meter.valve.reserve);
        break;
    }
}

static void say_piston(FILE *t, const metering_study *s)
{
    const ct_balance *b = &s->row.at.point.balance;
    char bore[SHOWN_SIZE], sh[SHOWN_SIZE];
    fprintf(t, "bore %s. ", shown(bore, Q_BORE, s->sweep.system.meter.orifice.bore, s->metric));
    if (b->superheat <= 0)
        fprintf(t,
                "The coil floods: %.1f%% of the refrigerant leaving it is still liquid. Liquid "
                "dilutes the compressor's oil.",
                100 * (1 - b->quality_out));
    else
        fprintf(t, "Superheat at the coil outlet comes to %s%s.",
                shown(sh, Q_DELTA_T, b->superheat, s->metric),
                b->superheat < CT_SUPERHEAT_LITTLE
                    ? ": a hotter day or a little more charge floods it"
                    : "");
}

static void print_device(FILE *out, const metering_study *s)
{
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return;
    if (s->kind == CT_METER_VALVE)
        say_valve(t, s);
    else
        say_piston(t, s);
    paragraph_print(&text, out, s->kind == CT_METER_VALVE ? "Valve: " : "Piston: ", 3);
    notes_print_sized(out, s->row.at.point.notes, s->n_steps > 0 ? " (see the pistons below)" : "",
                      s->metric);
    outlook_print(out, &s->outlook, 0, s->metric);
    const verdict v = verdict_of_unit(s);
    verdict_print_findings(out, &v, 0);
}

/* ---- The bore -------------------------------------------------------------------- */

static void say_nearest(FILE *t, const metering_study *s, const bore_showing *b)
{
    char bore[SHOWN_SIZE], sh[SHOWN_SIZE];
    if (!b->has) return;
    fprintf(t, " With %s at the same %s, ", shown(bore, Q_BORE, b->bore, s->metric),
            s->kind == CT_METER_VALVE ? "subcooling" : "charge");
    if (b->status != CT_OK)
        fprintf(t, "the system finds no steady point: %s.", b->why);
    else if (b->balance.superheat <= 0)
        fprintf(t, "it floods: %.1f%% of the refrigerant leaves as liquid.",
                100 * (1 - b->balance.quality_out));
    else
        fprintf(t, "superheat would be %s.", shown(sh, Q_DELTA_T, b->balance.superheat, s->metric));
}

/* How far the bore can be trusted. */
static void say_sure(FILE *t, const metering_study *s)
{
    const double bore = s->bore.bore;
    if (bore >= CT_ORIFICE_DATA_BORE_MIN && bore <= CT_ORIFICE_DATA_BORE_MAX) {
        fputs(" A real piston passes within 10% of the calculated flow.", t);
        return;
    }
    fputs(" This bore is outside the data of the flow equation, ", t);
    note_range(t, Q_BORE, CT_ORIFICE_DATA_BORE_MIN, CT_ORIFICE_DATA_BORE_MAX, s->metric);
    fputs(": a real piston may be off by more than 10%.", t);
}

static void print_bore(FILE *out, const metering_study *s)
{
    char sh[SHOWN_SIZE], bore[SHOWN_SIZE], target[SHOWN_SIZE];
    paragraph text;
    FILE *t = paragraph_open(&text);
    if (!t) return;
    if (s->has_bore) {
        char sc[SHOWN_SIZE];
        fprintf(t, "for %s of superheat with %s of subcooling, use a bore of %s.",
                shown(sh, Q_DELTA_T, s->wanted.superheat, s->metric),
                shown(sc, Q_DELTA_T, s->sweep.system.outdoor.condenser.subcooling, s->metric),
                shown(bore, Q_BORE, s->bore.bore, s->metric));
        say_nearest(t, s, &s->below);
        say_nearest(t, s, &s->above);
        say_sure(t, s);
        /* Both are asked for: what the flow equation gives, and what is bought and charged. */
        if (s->n_steps > 0)
            fputs(" On the job a piston is charged by superheat: choose from the pistons below.",
                  t);
    } else {
        fprintf(t, "no bore for %s of superheat: %s",
                shown(sh, Q_DELTA_T, s->wanted.superheat, s->metric), s->why_no_bore);
    }
    paragraph_print(&text, out, "Piston size: ", 3);
    if (!(t = paragraph_open(&text))) return;
    if (s->has_target)
        fprintf(t, "%s with a piston, from (3 x indoor wet bulb - %s - outdoor dry bulb)/2%s.",
                shown(target, Q_DELTA_T, s->target, s->metric), s->metric ? "8.9" : "80",
                s->metric ? ", all in C" : ", all in F");
    else
        fputs(s->why_no_target, t);
    paragraph_print(&text, out, "Target superheat (rule of thumb): ", 3);
}

/* ---- Series ---------------------------------------------------------------------- */

static double people(quantity q, double v, bool metric)
{
    return quantity_show(quantity_for_people(q, metric), v);
}

static const char *unit(quantity q, bool metric)
{
    return quantity_for_people(q, metric)->unit;
}

/* "10.0", or "floods 1.7%" with the liquid's share. */
static void put_superheat(FILE *out, const ct_study_point *p, int width, bool metric)
{
    char text[32];
    if (p->status != CT_OK)
        strcpy(text, "none");
    else if (p->balance.superheat > 0)
        snprintf(text, sizeof text, "%.*f", metric ? 1 : 0,
                 people(Q_DELTA_T, p->balance.superheat, metric));
    else
        snprintf(text, sizeof text, "floods %.0f%%", fmax(1, 100 * (1 - p->balance.quality_out)));
    fprintf(out, "%*s", width, text);
}

/* To 10 Btu/h or 0.01 kW: more digits than anybody knows. */
static void put_heat(FILE *out, const ct_study_point *p, double Q, int width, bool metric)
{
    if (p->status == CT_OK)
        fprintf(out, "%*.*f", width, metric ? 2 : 0,
                metric ? people(Q_HEAT, Q, metric) : 10 * round(people(Q_HEAT, Q, metric) / 10));
    else
        fprintf(out, "%*s", width, "-");
}

static void put_step(FILE *out, const metering_study *s, const bore_step *p)
{
    const bool m = s->metric, own = s->kind == CT_METER_ORIFICE &&
                                    !(fabs(p->bore - s->sweep.system.meter.orifice.bore) > 1e-6);
    fprintf(out, "%c%8.*f", own ? '>' : ' ', m ? 3 : 4, people(Q_BORE, p->bore, m));
    if (p->charged.status == CT_OK)
        fprintf(out, "%11.1f", people(Q_DELTA_T, p->charged.balance.subcooling, m));
    else
        fprintf(out, "%11s", "-");
    put_superheat(out, &p->charged, 13, m);
    put_superheat(out, &p->less, 14, m);
    put_superheat(out, &p->more, 14, m);
    put_heat(out, &p->charged, p->charged.balance.Q_net, 11, m);
    fputc('\n', out);
}

/* Then the unit is charged to it (plant/fill.h), not to a superheat. */
static bool subcooling_is_stated(const metering_study *s)
{
    return !(s->j->c->outdoor.assumed & CT_ASSUMED_SUBCOOLING);
}

/* The flow of a real piston is known to a tenth; a shelf has a size each few percent. */
static void print_steps(FILE *out, const metering_study *s)
{
    const bool m = s->metric, stated = subcooling_is_stated(s);
    if (s->n_steps == 0) return;
    fprintf(out, "\nPistons, each charged to %s\n",
            stated          ? "the subcooling stated, on the rating day"
            : s->has_target ? "the target superheat of this day"
                            : "the rating day's target superheat; this day has none");
    fprintf(out, "%9s%11s%13s%14s%14s%11s\n", "bore", "subcooled", "superheat", "10% less flow",
            "10% more flow", "net total");
    fprintf(out, "%9s%11s%13s%14s%14s%11s\n", unit(Q_BORE, m), unit(Q_DELTA_T, m),
            unit(Q_DELTA_T, m), unit(Q_DELTA_T, m), unit(Q_DELTA_T, m), unit(Q_HEAT, m));
    for (int i = 0; i < s->n_steps; i++)
        put_step(out, s, &s->step[i]);
    char most[SHOWN_SIZE], ends[160] = "";
    if (!stated)
        snprintf(ends, sizeof ends,
                 "Where the target would take more than %s of subcooling, or less than none, the "
                 "charge stops there. ",
                 shown(most, Q_DELTA_T, CT_FILL_SUBCOOLING_MOST, m));
    paragraph_wrap_text(
        out, "", 0,
        "%sLess and more flow: superheat when the piston passes 10%% less or more than calculated, "
        "at the same charge. Charging brings it back, at another subcooling: watch the superheat "
        "at start-up.",
        ends);
}

static void put_charge(FILE *out, const ct_study_point *p, bool m)
{
    const ct_balance *b = &p->balance;
    fprintf(out, "%9.1f", people(Q_DELTA_T, p->x, m));
    put_superheat(out, p, 15, m);
    put_heat(out, p, b->Q_net, 11, m);
    put_heat(out, p, b->Q_lat, 11, m);
    if (p->status == CT_OK)
        fprintf(out, "%10.1f%11.1f%8.*f\n", people(Q_TEMPERATURE, b->Te, m),
                people(Q_TEMPERATURE, b->Tc, m), quantity_for_people(Q_EER, m)->decimals,
                people(Q_EER, b->EER, m));
    else
        fprintf(out, "\n");
}

static void print_why(FILE *out, const ct_study_point *points, int n)
{
    for (int i = 0; i < n; i++) {
        if (points[i].status == CT_OK) continue;
        paragraph_wrap(out, points[i].why, "none: ", 3);
        return;
    }
}

/* Least and most superheat over the charges tried, K. */
static void charge_span(const metering_study *s, double *least, double *most)
{
    *least = INFINITY;
    *most = -INFINITY;
    for (int i = 0; i < CHARGES; i++) {
        if (s->charge[i].status != CT_OK) continue;
        *least = fmin(*least, s->charge[i].balance.superheat);
        *most = fmax(*most, s->charge[i].balance.superheat);
    }
}

/* What charging can do for a piston: it cannot bring back what another bore has to. */
static const char *charge_advice(const metering_study *s)
{
    double least, most;
    charge_span(s, &least, &most);
    const bool any = least <= most;
    if (any && most < CT_SUPERHEAT_LITTLE)
        return "It floods, or nearly, at any of these charges: less charge is no remedy, a smaller "
               "piston or a valve is.";
    if (any && (s->has_target ? least > s->target + CT_SUPERHEAT_OVER_TARGET
                              : s->row.at.point.meter == CT_METER_STARVES))
        return s->sweep.low_floods
                   ? "Even with the most subcooling the coil stays starved, and on the low stage "
                     "it "
                     "floods: neither charge nor another piston is a remedy, a valve is."
                   : "Even with the most subcooling the coil stays starved: more charge is no "
                     "remedy, a larger piston is.";
    return s->has_target ? "Charge to the target superheat above."
                         : "On this day charge by weight.";
}

static void print_charge(FILE *out, const metering_study *s)
{
    const bool m = s->metric, valve = s->kind == CT_METER_VALVE;
    fprintf(out, "\nCharge with this %s: the effect of subcooling\n", metering_kind_name(s->kind));
    fprintf(out, "%9s%15s%11s%11s%10s%11s%8s\n", "subcooled", "superheat", "net total", "latent",
            "suction", "discharge", "EER");
    fprintf(out, "%9s%15s%11s%11s%10s%11s\n", unit(Q_DELTA_T, m), unit(Q_DELTA_T, m),
            unit(Q_HEAT, m), unit(Q_HEAT, m), unit(Q_TEMPERATURE, m), unit(Q_TEMPERATURE, m));
    for (int i = 0; i < CHARGES; i++)
        put_charge(out, &s->charge[i], m);
    print_why(out, s->charge, CHARGES);
    if (valve)
        paragraph_wrap(out,
                       "A valve holds its superheat at any charge. Charge to the subcooling on the "
                       "outdoor unit's plate.",
                       "", 0);
    else
        paragraph_wrap_text(
            out, "", 0,
            "With a piston, more charge means more subcooling, more flow and less superheat. %s",
            charge_advice(s));
}

static void put_off(FILE *out, const ct_charge_point *p, bool m)
{
    fprintf(out, "%+7.0f%%", 100 * p->off);
    if (p->has)
        fprintf(out, "%12.1f%9.2f%10.2f%9.2f%10.2f\n", people(Q_DELTA_T, p->subcooling, m),
                p->capacity, p->measured_capacity, p->power, p->measured_power);
    else
        fprintf(out, "%12s%9s%10.2f%9s%10.2f\n", "-", "-", p->measured_capacity, "-",
                p->measured_power);
}

static void print_off(FILE *out, const metering_study *s)
{
    if (!s->has_off) return;
    fprintf(out, "\nA wrong charge, over the right one\n");
    fprintf(out, "%8s%12s%19s%19s\n", "charge", "subcooled", "total capacity", "compressor power");
    fprintf(out, "%8s%12s%9s%10s%9s%10s\n", "off", unit(Q_DELTA_T, s->metric), "here", "measured",
            "here", "measured");
    for (int i = 0; i < OFF; i++)
        put_off(out, &s->off[i], s->metric);
    paragraph_wrap(
        out,
        "Measured: a split system with a valve, NIST TN 1848. Where there is no figure of this "
        "system, gas comes with the liquid and the model cannot follow: take the measured one. "
        "Inner volumes are assumed.",
        "", 0);
}

static void put_outdoor(FILE *out, const metering_study *s, int i)
{
    const bool m = s->metric;
    fprintf(out, "%9.1f", people(Q_TEMPERATURE, s->outdoors[s->kind][i].x, m));
    for (int kind = 0; kind < KINDS; kind++) {
        const ct_study_point *p = &s->outdoors[kind][i];
        if (!metering_has_kind(s, kind)) continue;
        put_superheat(out, p, 16, m);
        put_heat(out, p, p->balance.Q_net, 11, m);
    }
    const ct_study_point *own = &s->outdoors[VALVE][i];
    if (s->kind == CT_METER_VALVE && own->status == CT_OK) {
        const valve_showing v = valve_at(&s->system[VALVE], &own->balance);
        if (v.has) fprintf(out, "%13.0f", 100 * v.out.share);
    }
    fputc('\n', out);
}

/* The piston's superheat over the series, K; flooding is none. */
typedef struct {
    double first, last; /* on the coolest and the hottest day that balances; NaN: none does */
    double floods_from; /* K outdoors; NaN: on no day */
    bool floods_always;
} trend;

static trend trend_of(const metering_study *s)
{
    trend t = {NAN, NAN, NAN, true};
    for (int i = 0; i < OUTDOORS; i++) {
        const ct_study_point *p = &s->outdoors[PISTON][i];
        if (p->status != CT_OK) continue;
        const double superheat = fmax(0.0, p->balance.superheat);
        if (isnan(t.first)) t.first = superheat;
        t.last = superheat;
        if (superheat > 0)
            t.floods_always = false;
        else if (isnan(t.floods_from))
            t.floods_from = p->x;
    }
    return t;
}

/* Less than a thermometer shows. */
#define HARDLY (2.0 / CT_F_PER_K)

static void say_trend(FILE *out, const metering_study *s, const trend *t)
{
    char T[SHOWN_SIZE];
    if (t->floods_always) {
        fputs(" The piston floods on all of these days.", out);
        return;
    }
    fprintf(out, " The piston's superheat %s as it gets hotter outdoors.",
            t->first - t->last > HARDLY   ? "falls"
            : t->last - t->first > HARDLY ? "rises"
                                          : "hardly changes");
    if (isfinite(t->floods_from))
        fprintf(out, " From %s it floods.", shown(T, Q_TEMPERATURE, t->floods_from, s->metric));
    else
        fputs(" In this range it does not flood.", out);
}

static void print_outdoor_words(FILE *out, const metering_study *s)
{
    const trend t = trend_of(s);
    paragraph text;
    FILE *stream;
    if (!s->has_other) {
        paragraph_wrap(out, s->why_no_other, "The other kind could not be calculated: ", 3);
        return;
    }
    if (!(stream = paragraph_open(&text))) return;
    fputs("The valve holds its superheat.", stream);
    if (isfinite(t.first)) say_trend(stream, s, &t);
    paragraph_print(&text, out, "", 0);
}

static void print_outdoors(FILE *out, const metering_study *s)
{
    const bool m = s->metric;
    char head[32], bore[SHOWN_SIZE];
    fputs("\nOutdoor temperature, the same airflow and charge\n", out);
    fprintf(out, "%9s", "outdoors");
    for (int kind = 0; kind < KINDS; kind++)
        if (metering_has_kind(s, kind)) {
            snprintf(head, sizeof head, "%s%s", metering_kind_name((ct_meter_kind)kind),
                     kind == (int)s->kind ? "" : "*");
            fprintf(out, "%16s%11s", head, "net total");
        }
    fprintf(out, "%s\n", s->valve.has ? "  valve share" : "");
    fprintf(out, "%9s", unit(Q_TEMPERATURE, m));
    for (int kind = 0; kind < KINDS; kind++)
        if (metering_has_kind(s, kind))
            fprintf(out, "%16s%11s", unit(Q_DELTA_T, m), unit(Q_HEAT, m));
    fprintf(out, "%s\n", s->valve.has ? "            %" : "");
    for (int i = 0; i < OUTDOORS; i += OUTDOORS_SHOWN_EACH)
        put_outdoor(out, s, i);
    print_why(out, s->outdoors[VALVE], metering_has_kind(s, VALVE) ? OUTDOORS : 0);
    print_why(out, s->outdoors[PISTON], metering_has_kind(s, PISTON) ? OUTDOORS : 0);
    if (s->has_other && s->kind == CT_METER_VALVE)
        fprintf(out, "* a piston of %s, sized to the valve's superheat on the design day\n",
                shown(bore, Q_BORE, s->system[PISTON].meter.orifice.bore, m));
    else if (s->has_other)
        fprintf(out, "* a valve set to %s\n",
                shown(bore, Q_DELTA_T, s->system[VALVE].meter.superheat, m));
    print_outdoor_words(out, s);
}

void metering_text_print(FILE *out, const metering_study *s)
{
    const verdict v = verdict_of_unit(s);
    verdict_print(out, &v, 0);
    print_title(out, s);
    print_device(out, s);
    print_bore(out, s);
    print_steps(out, s);
    print_charge(out, s);
    print_off(out, s);
    print_outdoors(out, s);
    fputs("\nRefrigerant work is for licensed people. Local codes and the manufacturers'\n"
          "instructions come before these numbers.\n",
          out);
}
