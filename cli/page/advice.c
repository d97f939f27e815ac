#include <ctype.h>
#include <math.h>
#include <string.h>

#include "base/html.h"
#include "judge/remedy.h"
#include "page/page.h"
#include "study/seasonal.h"

#define SHOW(q, v) page_show(p, q, v).text
#define ABOUT(q, v) page_about(p, q, v).text
#define DIFFERENCE(q, dv, more, less) page_difference(p, q, dv, more, less).text

/* ---- What to tell the customer -------------------------------------------- */

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

/* ", 120 Btu/h less cooling than the matched pair" */
static void against(FILE *out, const page *p, quantity q, double dv, const char *of)
{
    const page_value d = page_difference(p, q, dv, "more", "less");
    if (!p->has_matched) return;
    if (strcmp(d.text, "the same") == 0)
        html_say(out, ", as much%s as the matched pair", of);
    else
        html_say(out, ", %s%s than the matched pair", d.text, of);
}

static void tell_capacity(FILE *out, const page *p)
{
    const ct_balance *a = &p->p->balance, *b = &p->matched.at.point.balance;
    topic(out, "Cooling.");
    html_say(out, "On a %s day the house gains %s of heat. This system removes %s",
             ABOUT(Q_TEMPERATURE, p->at.T_out), SHOW(Q_HEAT, p->j->c->house.Q_sensible),
             page_show(p, Q_HEAT, a->Q_sens_net).text);
    against(out, p, Q_HEAT, a->Q_sens_net - b->Q_sens_net, " cooling");
    html_say(out, ". Cooling and drying together come to %s", SHOW(Q_HEAT, a->Q_net));
    against(out, p, Q_HEAT, a->Q_net - b->Q_net, "");
    html_say(out, ".");
    end_topic(out);
}

/* What the coil does by itself, apart from the slower air. */
static void tell_same_air(FILE *out, const page *p)
{
    const ct_point *same = &p->candidate[p->unit].row.at_rated.point;
    const double now = p->matched.at.point.balance.water;
    if (!p->has_matched || same->status != CT_OK) return;
    if (fabs(same->balance.water - now) < 0.005 * now) return;
    html_say(out, " At the matched pair's airflow this coil would remove %s.",
             DIFFERENCE(Q_WATER_RATE, same->balance.water - now, "more", "less"));
}

static void tell_drying(FILE *out, const page *p)
{
    const ct_balance *a = &p->p->balance, *b = &p->matched.at.point.balance;
    topic(out, "Drying.");
    html_say(out, "Running nonstop, the system removes %s of water from the air",
             SHOW(Q_WATER_RATE, a->water));
    against(out, p, Q_WATER_RATE, a->water - b->water, "");
    html_say(out, ".");
    tell_same_air(out, p);
    if (p->p->has_room)
        html_say(out, " In mild, damp weather the house settles at about %s relative humidity",
                 ABOUT(Q_FRACTION, p->p->room.rh));
    if (p->p->has_room && p->has_matched && p->matched.at.point.has_room)
        html_say(out, " (matched pair: %s)", ABOUT(Q_FRACTION, p->matched.at.point.room.rh));
    if (p->p->has_room)
        html_say(out, ". The system then runs %s of the time.", ABOUT(Q_FRACTION, p->p->room.run));
    end_topic(out);
}

static void tell_efficiency(FILE *out, const page *p)
{
    const ct_comparison *row = &p->candidate[p->unit].row;
    const ct_maybe *label = &page_indoor(p)->EER_label;
    topic(out, "Efficiency.");
    html_say(out, "The efficiency label on the new indoor unit does not apply to this pairing. A "
                  "label is valid only for two units that were tested or listed together.");
    if (label->has) html_say(out, " It claims an EER of %s.", SHOW(Q_EER, label->v));
    if (row->has_efficiency) {
        html_say(out, " The calculated EER of this pairing is %s",
                 SHOW(Q_EER, row->efficiency.EER_A));
        if (p->has_matched)
            html_say(out, "; for the matched pair it is %s",
                     SHOW(Q_EER, p->matched.efficiency.EER_A));
        html_say(out, ". This is not a rating. Do not promise a label, a rebate or a tax credit "
                      "based on it.");
    }
    end_topic(out);
}

static void tell_hottest(FILE *out, const page *p)
{
    const double share = p->p->balance.Q_sens_net / p->j->c->house.Q_sensible;
    topic(out, "The hottest days.");
    if (p->has_hottest)
        html_say(out, "This speed carries the load, with its margin, up to about %s outdoors.",
                 ABOUT(Q_TEMPERATURE, p->T_hottest));
    else if (share >= 1)
        html_say(out, "On the design day the system runs about %s of the time.",
                 ABOUT(Q_FRACTION, 1 / share));
    else
        html_say(out,
                 "On the design day the system carries only %s of the cooling load, and the house "
                 "gets warmer than it should.",
                 ABOUT(Q_FRACTION, share));
    if (share >= 1)
        html_say(out,
                 " %s it runs nonstop and the house slowly gets warmer. That is not a fault. Turn "
                 "the thermostat down before the heat of the day, not after.",
                 p->has_hottest ? "On hotter days"
                                : "The hotter it gets, the longer it runs. In the end");
    end_topic(out);
}

static void tell_fan(FILE *out, const page *p)
{
    const ct_point *q = p->p;
    topic(out, "Fan switch to AUTO.");
    html_say(
        out,
        "With the fan switch at ON, water left on the coil goes back into the air between runs.");
    if (p->j->c->house.fan_on && q->has_room)
        html_say(out,
                 " The numbers here are for ON, as the case file says: the house settles at %s. "
                 "AUTO is drier.",
                 ABOUT(Q_FRACTION, q->room.rh));
    else if (q->has_room && q->has_room_fan_on && q->room_fan_on.rh - q->room.rh < 0.005)
        html_say(out, " Here the system hardly ever stops, so it makes little difference. AUTO "
                      "still saves fan electricity.");
    else if (q->has_room && q->has_room_fan_on)
        html_say(out, " The house would settle at %s humidity instead of %s.",
                 ABOUT(Q_FRACTION, q->room_fan_on.rh), ABOUT(Q_FRACTION, q->room.rh));
    end_topic(out);
}

static bool grown(const page *p)
{
    const ct_coil_spec *coil = &page_indoor(p)->coil;
    return coil->has_geometry || coil->size < 0.995 || coil->size > 1.005;
}

static void tell_better(FILE *out, const page *p)
{
    topic(out, "What would be better.");
    if (!p->pick->found) html_say(out, "What would fix it is in the answer. ");
    if (grown(p))
        html_say(out, "A coil listed as a match for this outdoor unit, or a new indoor and outdoor "
                      "unit listed together. Capacity, drying and the label then come from the "
                      "manufacturer, not from a calculation.");
    else
        html_say(out, "This coil is taken as the size the outdoor unit was rated with. If it is "
                      "listed as a match, use the manufacturer's numbers instead of these.");
    if (p->j->c->house.rh_ceiling.has && p->p->limit[CT_LIMIT_HUMIDITY].verdict == CT_FAILS)
        html_say(out, " For the humidity: %s.", ct_remedy_words(CT_REMEDY_DEHUMIDIFIER));
    end_topic(out);
}

void page_write_customer(FILE *out, const page *p)
{
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "What to tell the customer");
    if (p->p->status != CT_OK)
        html_element(out, "p", NULL,
                     "The system finds no steady operating point at any airflow: %s", p->p->why);
    fputs("<ul class=\"flow\">\n", out);
    tell_capacity(out, p);
    tell_drying(out, p);
    tell_efficiency(out, p);
    tell_hottest(out, p);
    tell_fan(out, p);
    tell_better(out, p);
    fputs("</ul>\n</section>\n", out);
}

/* ---- Candidates ------------------------------------------------------------------ */

static void write_candidate(html_table *t, const page *p, int i)
{
    const page_candidate *candidate = &p->candidate[i];
    const ct_comparison *row = &candidate->row;
    html_cell(t, "%s%s", p->j->c->indoor[i].name, i == p->unit ? " (this page)" : "");
    if (!candidate->has) {
        html_cell(t, "could not be calculated: %s", candidate->why);
        html_row_end(t);
        return;
    }
    const ct_point *q = &row->at.point;
    const ct_tap *tap = p->j->c->indoor[i].blower.tap;
    if (candidate->refused)
        html_cell(t, "✗ do not install");
    else if (row->pick.found && q->tap >= 0)
        html_cell(t, "✓ %s", tap[q->tap].name);
    else
        html_cell(t, "%s", row->pick.found ? "✓ passes" : "✗ none passes");
    html_cell(t, "%s", SHOW(Q_AIRFLOW, q->V));
    html_cell(t, "%s", SHOW(Q_HEAT, q->balance.Q_net));
    html_cell(t, "%s", SHOW(Q_HEAT, q->balance.Q_sens_net));
    html_cell(t, "%s", SHOW(Q_HEAT, q->balance.Q_lat));
    html_cell(t, "%s", q->has_room ? ABOUT(Q_FRACTION, q->room.rh) : "not known");
    html_cell(t, "%s", row->has_efficiency ? SHOW(Q_EER, row->efficiency.EER_A) : "not known");
    if (isfinite(row->cost))
        html_cell(t, "%.0f", row->cost);
    else
        html_cell(t, "not stated");
    html_row_end(t);
}

void page_write_candidates(FILE *out, const page *p)
{
    static const char *const headings[] = {
        "Indoor unit",  "Speed",  "Airflow",          "Net total",
        "Net sensible", "Latent", "Settled humidity", "EER, rating test",
        "Cost"};
    html_table t;
    if (p->j->c->n_indoor < 2) return;
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "The indoor units side by side");
    html_table_begin(&t, out, "candidates",
                     "Each at its own pick on the design day. Where no speed passes: at the speed "
                     "that carries the most load",
                     9, headings);
    for (int i = 0; i < p->j->c->n_indoor; i++)
        write_candidate(&t, p, i);
    html_table_end(&t);
    fputs("</section>\n", out);
}

/* ---- Fit ------------------------------------------------------------------------- */

static const char *mark_symbol(fit_mark mark)
{
    return mark == FIT_GOOD ? "✓" : mark == FIT_BAD ? "✗ No:" : "? Find out:";
}

static void write_checklist(FILE *out, const page *p)
{
    fit_line line[FIT_MAX_LINES];
    const int n = fit_checklist(p->j->c, p->unit, &p->fit, p->metric, line);
    fputs("<ul class=\"flow\">\n", out);
    for (int i = 0; i < n; i++)
        html_element(out, "li", NULL, "%s %s", mark_symbol(line[i].mark), line[i].text);
    fputs("</ul>\n", out);
}

void page_write_fit(FILE *out, const page *p)
{
    char headline[FIT_TEXT_SIZE];
    if (!p->fit.judged) return;
    fit_headline(p->j->c, p->unit, &p->fit, p->metric, headline);
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "Will it fit?");
    html_element(out, "p", NULL, "%c%s.", toupper((unsigned char)headline[0]), headline + 1);
    write_checklist(out, p);
    fputs("</section>\n", out);
}
