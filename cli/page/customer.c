#include <math.h>
#include <string.h>

#include "base/html.h"
#include "base/units.h"
#include "judge/heating.h"
#include "judge/notes.h"
#include "page/page.h"
#include "plant/seasonal.h"
#include "show/chance_words.h"
#include "tune/findings.h"

#define ABOUT(q, v) page_about(p, q, v).text

enum { NAME_LENGTH = 46, SPEED_LENGTH = 24 };
#define KG_PER_PINT 0.473176 /* of water: the US pint is 0.473176 L exactly to these digits */

/* ---- What is proposed, and why --------------------------------------------------- */

static const char *short_name(const page *p, page_name *room)
{
    *room = page_short(page_indoor(p)->name, NAME_LENGTH);
    return room->text;
}

static void propose(FILE *out, const page *p)
{
    page_name name;
    const bool two = p->j->c->outdoor.low.has && p->at.has_low;
    const bool named = job_unit_is_named(page_indoor(p));
    const page_value speed = page_speed(p, p->p);
    page_value low = {""};
    if (two) low = page_speed(p, &p->at.low);
    html_element(out, "p", "pick",
                 "A new indoor unit%s%s%s on your existing %.3g ton outdoor unit, with the blower "
                 "set to %s%s%s%s.",
                 named ? ", “" : "", named ? short_name(p, &name) : "", named ? "”," : "",
                 p->j->c->outdoor.tons, speed.text, two ? " for the high stage and to " : "",
                 low.text, two ? " for the low stage" : "");
}

/* What goes wrong at a slower speed, as a customer meets it. */
static const char *harm(ct_limit limit)
{
    switch (limit) {
    case CT_LIMIT_SENSIBLE: return "would not keep the house cool enough";
    case CT_LIMIT_FROST: return "could let ice build up on the indoor coil";
    case CT_LIMIT_SWEAT: return "could make the ducts drip";
    case CT_LIMIT_HUMIDITY: return "would leave the house too damp";
    default: return "is outside what the equipment allows";
    }
}

static void say_risk(FILE *out, const page *p)
{
    const bool now = p->p->notes & CT_NOTE_NEAR_FLOOD;
    if (!page_piston_risks(p->p)) return;
    html_element(out, "p", NULL,
                 "One risk is left: on a %s day liquid refrigerant may reach the compressor and "
                 "shorten its life. We check this at start-up; %s avoids it.",
                 ABOUT(Q_TEMPERATURE, now ? p->at.T_out : p->p->T_hot),
                 now ? "a smaller piston or a valve" : "a valve in place of the piston");
}

static void say_why(FILE *out, const page *p)
{
    const ct_pick *k = p->pick;
    fputs("<p>", out);
    html_say(out,
             "Slow air dries the house better. This is the slowest speed that still cools the "
             "house on a %s day and is %s.",
             ABOUT(Q_TEMPERATURE, p->at.T_out),
             page_piston_risks(p->p) ? "within the limits of the equipment"
                                     : "safe for the equipment");
    if (k->has_lower) html_say(out, " The next slower speed %s.", harm(k->binding));
    fputs("</p>\n", out);
    say_risk(out, p);
}

/* What the visit found is the technician's to explain; that it was found is not his to keep. */
static void say_visit(FILE *out, const page *p)
{
    const ct_tune *t = p->visit ? &p->visit->t : NULL;
    if (!t || !page_passes(p) || !t->fitted || (tune_first_told(t) < 0 && !t->wrong)) return;
    html_element(out, "p", NULL,
                 "First of all: the readings taken at the visit point to something that is wrong. "
                 "What follows holds once it is put right. Ask us what was found.");
}

static void write_proposal(FILE *out, const page *p)
{
    page_name name;
    const bool named = job_unit_is_named(page_indoor(p));
    fputs("<section class=\"answer\">\n", out);
    html_element(out, "h2", NULL, page_passes(p) ? "What we propose" : "Our advice");
    say_visit(out, p);
    if (p->candidate[p->unit].refused)
        html_element(out, "p", "pick",
                     "Do not install %s%s%s on your outdoor unit: it is not made for the "
                     "refrigerant or the pressure in it.",
                     named ? "“" : "the ", short_name(p, &name), named ? "”" : "");
    else if (!p->pick->found)
        page_write_advice(out, p);
    else
        propose(out, p);
    if (page_passes(p)) say_why(out, p);
    fputs("</section>\n", out);
}

/* ---- What it will feel like ------------------------------------------------------ */

static void topic(FILE *out, const char *name)
{
    fputs("<li>", out);
    html_element(out, "b", NULL, "%s", name);
    fputc(' ', out);
}

static void end_topic(FILE *out)
{
    fputs("</li>\n", out);
}

static double load_share(const page *p)
{
    /* As judged: in the air the house settles at, when the load is judged there. */
    return limit_judged_sensible(p->p) / p->j->c->house.Q_sensible;
}

static void write_cooling(FILE *out, const page *p)
{
    const double share = load_share(p);
    topic(out, "Cooling.");
    html_say(out, "On a %s day this system can remove ", ABOUT(Q_TEMPERATURE, p->at.T_out));
    if (share >= 1.015)
        html_say(out, "all the heat the house gains, with %.0f%% to spare.", 100 * (share - 1));
    else if (share >= 0.995)
        html_say(out, "the heat the house gains, with nothing to spare.");
    else
        html_say(out,
                 "only %.0f%% of the heat the house gains. The house gets warmer than it "
                 "should.",
                 100 * share);
    end_topic(out);
}

static void write_humidity(FILE *out, const page *p)
{
    const double liters = 3600 * p->p->balance.water;
    topic(out, "Humidity.");
    if (p->p->has_room)
        html_say(out,
                 "In mild, damp weather the air in the house settles at about %s relative "
                 "humidity. ",
                 ABOUT(Q_FRACTION, p->p->room.rh));
    html_say(out, "Running nonstop it takes about %.*f %s of water an hour out of the air.",
             p->metric && liters < 3, p->metric ? liters : liters / KG_PER_PINT,
             p->metric ? "liters" : "pints");
    end_topic(out);
}

static void write_hottest(FILE *out, const page *p)
{
    const bool spare = load_share(p) >= 1.05;
    if (!page_passes(p)) return; /* a house it never cools has no hottest day */
    topic(out, "The hottest days.");
    if (p->has_hottest)
        html_say(out, "It keeps up to about %s outdoors. ", ABOUT(Q_TEMPERATURE, p->T_hottest));
    html_say(out,
             "On %s days it runs nonstop and the house slowly gets warmer. That is not a fault. "
             "Turn the thermostat down before the heat of the day, not after.",
             p->has_hottest || !spare ? "hotter" : "much hotter");
    end_topic(out);
}

static void write_fan(FILE *out, const page *p)
{
    const ct_point *q = p->p;
    topic(out, "Fan switch.");
    html_say(out, "Leave it at AUTO. At ON, water left on the coil goes back into the air between "
                  "runs");
    if (p->j->c->house.fan_on && q->has_room)
        html_say(out, ". The humidity above is for ON; AUTO is drier.");
    else if (q->has_room && q->has_room_fan_on && q->room_fan_on.rh - q->room.rh >= 0.01)
        html_say(out, ": %s instead of %s.", ABOUT(Q_FRACTION, q->room_fan_on.rh),
                 ABOUT(Q_FRACTION, q->room.rh));
    else
        html_say(out, ".");
    end_topic(out);
}

static double heating_cop(const page *p, int tap)
{
    ct_heating_balance b;
    const double V = ct_sweep_job_tap_airflow(&p->at, tap);
    return ct_sweep_job_heats(&p->at, V, CT_HEATING_T_OUT, CT_HEATING_T_IN, &b, NULL) == CT_OK
               ? b.COP
               : (double)NAN;
}

static void say_heating_tap(FILE *out, const page *p, const ct_heating *h)
{
    const ct_tap *tap = p->at.blower.tap;
    if (h->best < 0) {
        html_say(out, "No blower speed suits this heat pump in heating. Do not heat with it until "
                      "that is fixed.");
        return;
    }
    html_say(out,
             "For heating the blower is set to “%s”. That was checked: even on the warmest day it "
             "heats, the pressure stays within what is allowed.",
             page_short(tap[h->best].name, SPEED_LENGTH).text);
    if (h->tap < 0 || h->tap == h->best) return;
    html_say(out, " At “%s” ", page_short(tap[h->tap].name, SPEED_LENGTH).text);
    if (ct_heating_fails(h)) {
        html_say(out, "heating is outside what the equipment allows.");
        return;
    }
    const double more = 100 * (heating_cop(p, h->best) / heating_cop(p, h->tap) - 1);
    if (isfinite(more) && more >= 1.5)
        html_say(out, "the same heat takes about %.0f%% more electricity.", more);
    else
        html_say(out, "the same heat takes about as much electricity.");
}

/* A heat pump heats with a blower speed of its own. */
static void write_heating(FILE *out, const page *p)
{
    ct_heating h;
    if (!p->at.has_heat_pump || !page_passes(p)) return;
    ct_heating_of(&p->at, &h);
    topic(out, "Heating.");
    if (ct_sweep_job_has_taps(&p->at))
        say_heating_tap(out, p, &h);
    else if (!h.known)
        html_say(out, "The blower speed for heating is still to be checked.");
    else if (ct_heating_fails(&h))
        html_say(out, "With the air it moves now, heating is outside what the equipment allows.");
    else
        html_say(out, "The airflow for heating was checked. It is within what is allowed.");
    end_topic(out);
}

static void write_feel(FILE *out, const page *p)
{
    html_element(out, "h2", NULL, "What it will feel like");
    if (p->p->status != CT_OK) {
        html_element(out, "p", NULL, "This pairing does not run steadily at any blower speed.");
        return;
    }
    fputs("<ul>\n", out);
    write_cooling(out, p);
    write_humidity(out, p);
    write_hottest(out, p);
    write_fan(out, p);
    write_heating(out, p);
    fputs("</ul>\n", out);
}

/* ---- What is given up, and how sure ---------------------------------------------- */

/* "about 3% less cooling" */
static void say_change(FILE *out, const char *before, double ratio, const char *what)
{
    const double percent = 100 * (ratio - 1);
    if (!isfinite(ratio)) return;
    if (fabs(percent) < 1.5)
        html_say(out, "%sabout as much %s", before, what);
    else if (ratio >= 2.5)
        html_say(out, "%sabout %.0f times the %s", before, ratio, what);
    else if (ratio >= 1.9)
        html_say(out, "%sabout twice the %s", before, what);
    else
        html_say(out, "%sabout %.0f%% %s %s", before, fabs(percent), percent > 0 ? "more" : "less",
                 what);
}

static double efficiency_ratio(const page *p)
{
    const ct_comparison *row = &p->candidate[p->unit].row;
    return row->has_efficiency ? row->efficiency.EER_A / p->matched.efficiency.EER_A : (double)NAN;
}

static void write_matched(FILE *out, const page *p)
{
    const ct_balance *a = &p->p->balance, *b = &p->matched.at.point.balance;
    if (!p->has_matched || p->p->status != CT_OK || p->matched.at.point.status != CT_OK) return;
    topic(out, "Beside a matched pair.");
    html_say(out, "Against the indoor unit the outdoor unit was sold with, expect ");
    say_change(out, "", limit_judged_sensible(p->p) / limit_judged_sensible(&p->matched.at.point),
               "cooling");
    say_change(out, " and ", a->water / b->water, "drying");
    say_change(out, ", with ", efficiency_ratio(p), "cooling for the same electricity");
    html_say(out, ".");
    end_topic(out);
}

/* The trade of the whole job. With two stages most hours are the low one's, at its own speed. */
static void write_slow(FILE *out, const page *p)
{
    const ct_point *fast = &p->sweep->tap[p->sweep->n_taps > 0 ? p->sweep->n_taps - 1 : 0];
    if (!page_passes(p) || !p->pick->from_taps || p->j->c->outdoor.low.has ||
        fast->tap == p->p->tap || fast->status != CT_OK)
        return;
    topic(out, "The slow speed.");
    html_say(out, "Against the fastest speed, %s, expect ", page_speed(p, fast).text);
    say_change(out, "", limit_judged_sensible(p->p) / limit_judged_sensible(fast), "cooling");
    if (p->p->has_room && fast->has_room)
        html_say(out,
                 ". In mild, damp weather the house settles at %s relative humidity instead of %s",
                 ABOUT(Q_FRACTION, p->p->room.rh), ABOUT(Q_FRACTION, fast->room.rh));
    html_say(out, ".");
    end_topic(out);
}

static void write_given_up(FILE *out, const page *p)
{
    html_element(out, "h2", NULL, "What you give up");
    fputs("<ul>\n", out);
    write_slow(out, p);
    write_matched(out, p);
    topic(out, "The label.");
    html_say(
        out,
        "Unless the manufacturer lists this pairing, the efficiency label on the new unit does not "
        "apply to it, and neither does a rebate or tax credit that depends on it.");
    end_topic(out);
    topic(out, "What would be better.");
    html_say(out,
             "A coil the manufacturer lists for this outdoor unit, or a new indoor and outdoor "
             "unit listed together. Their numbers are tested, ours are calculated.");
    end_topic(out);
    fputs("</ul>\n", out);
}

static void write_sure(FILE *out, const page *p)
{
    char all[CHANCE_SIZE], cool[CHANCE_SIZE];
    if (!p->has_sure || !page_passes(p)) return;
    html_element(out, "h2", NULL, "How sure we are");
    fputs("<p>", out);
    html_element(out, "b", NULL, "%s.", chance_word(p->sure_all));
    html_say(
        out,
        " Loads, nameplates and measurements are never exact. Counting how far off they "
        "usually are, there are %s that this speed does all of the above, and %s that it keeps "
        "the house cool.",
        chance_in_ten(all, p->sure_all), chance_in_ten(cool, p->sure_cool));
    fputs("</p>\n", out);
}

/* ---- Cautions, signatures -------------------------------------------------------- */

static void write_cautions(FILE *out, const page *p)
{
    const bool flammable = strcmp(ct_refrigerant_safety(p->j->refrigerant), "A1") != 0;
    html_element(out, "h2", NULL, "Please note");
    fputs("<ul>\n", out);
    html_element(out, "li", NULL,
                 "Refrigerant and electric work is for licensed people, under local codes and the "
                 "manufacturers' instructions. Never open a panel yourself.");
    html_element(
        out, "li", NULL,
        "Keep the filter clean and the registers open. Call us if you see ice on the coil, "
        "water at a duct or ceiling, or if the house does not keep up on a normal day.");
    if (flammable)
        html_element(
            out, "li", NULL,
            "The refrigerant is flammable. If you think it leaks: no flames, open windows, "
            "call us.");
    if (p->has_checks && p->checks.found & CT_CHECK_PHASED_OUT)
        html_element(
            out, "li", NULL,
            "%s is no longer made or imported in many countries. A leak in the old unit can be "
            "costly.",
            ct_refrigerant_name(p->j->refrigerant));
    fputs("</ul>\n", out);
}

static void write_signatures(FILE *out, const page *p)
{
    static const char *const who[] = {"Customer", "Contractor"};
    if (!p->j->c->job.signatures) return;
    fputs("<div class=\"sign\">\n", out);
    for (int i = 0; i < 2; i++) {
        html_element(out, "p", NULL, "%s", who[i]);
        html_element(out, "p", NULL, "Date");
    }
    fputs("</div>\n", out);
}

void page_write_customer(FILE *out, const page *p)
{
    write_proposal(out, p);
    fputs("<section>\n", out);
    write_feel(out, p);
    write_given_up(out, p);
    write_sure(out, p);
    page_write_options(out, p);
    write_cautions(out, p);
    write_signatures(out, p);
    fputs("</section>\n", out);
}
