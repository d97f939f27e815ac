#include <math.h>

#include "base/html.h"
#include "page/page.h"

#define SHOW(q, v) page_show(p, q, v).text

/* ---- Capacities ------------------------------------------------------------------ */

typedef struct {
    const char *name;
    quantity q;
    double pick, matched;
} figure_row;

static double when(bool there, double v)
{
    return there ? v : (double)NAN;
}

static void write_figure(html_table *t, const page *p, const figure_row *row)
{
    html_cell(t, "%s", row->name);
    html_cell(t, "%s", SHOW(row->q, row->pick));
    html_cell(t, "%s", p->has_matched ? SHOW(row->q, row->matched) : "not known");
    html_row_end(t);
}

static void write_capacities(FILE *out, const page *p)
{
    const ct_balance *a = &p->p->balance, *b = &p->matched.at.point.balance;
    const ct_comparison *row = &p->candidate[p->unit].row;
    const ct_point *ap = p->p, *bp = &p->matched.at.point;
    const ct_efficiency *ae = &row->efficiency, *be = &p->matched.efficiency;
    const figure_row rows[] = {
        {"Airflow at the blower", Q_AIRFLOW, ap->V, bp->V},
        {"Standard air per ton", Q_AIRFLOW_PER_TON, ap->V_std_per_ton, bp->V_std_per_ton},
        {"Net total capacity", Q_HEAT, a->Q_net, b->Q_net},
        {"Net sensible (cooling)", Q_HEAT, a->Q_sens_net, b->Q_sens_net},
        {"Sensible, as judged", Q_HEAT, limit_judged_sensible(ap), limit_judged_sensible(bp)},
        {"Latent (drying)", Q_HEAT, a->Q_lat, b->Q_lat},
        {"Water removed, nonstop", Q_WATER_RATE, a->water, b->water},
        {"Humidity, settled", Q_FRACTION, when(ap->has_room, ap->room.rh),
         when(bp->has_room, bp->room.rh)},
        {"Saturated suction", Q_TEMPERATURE, a->Te, b->Te},
        {"Total electric power", Q_ELECTRIC, a->P_total, b->P_total},
        {"EER, this house and day", Q_EER, a->EER, b->EER},
        {"EER, rating test", Q_EER, when(row->has_efficiency, ae->EER_A), be->EER_A},
    };
    const char *const headings[] = {"", p->pick->found ? "At the pick" : "At the best speed",
                                    "Matched pair"};
    html_table t;
    html_table_begin(&t, out, "figures", "Capacity, humidity, efficiency", 3, headings);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        write_figure(&t, p, &rows[i]);
    html_table_end(&t);
    if (!p->has_matched)
        html_element(out, "p", "note", "The matched pair could not be calculated: %s",
                     p->matched_why);
    fputs("<p class=\"note\">", out);
    html_say(out, "Outdoors %s, return air %s at %s. Net: blower heat taken off. As judged: %s. ",
             SHOW(Q_TEMPERATURE, p->at.T_out), SHOW(Q_TEMPERATURE, p->at.indoor.T),
             page_about(p, Q_FRACTION, ct_air_rh(&p->at.indoor)).text,
             p->j->c->house.judge_load_at == CT_LOAD_SETTLED ? "in the air the house settles at"
                                                             : "in that return air");
    html_say(out,
             "Humidity: at %s of the design load. Matched pair: as rated, at its rated airflow.",
             page_about(p, Q_FRACTION, p->j->c->house.humidity_load).text);
    fputs("</p>\n", out);
}

/* ---- Limits ---------------------------------------------------------------------- */

static void write_verdict(html_table *t, const page *p, ct_limit limit)
{
    const ct_judgment *j = &p->p->limit[limit];
    const bool advice = limit >= CT_LIMIT_FIRST_ADVICE;
    if (j->verdict == CT_NOT_JUDGED)
        html_cell(t, "– not checked");
    else if (j->verdict == CT_PASSES)
        html_cell(t, "✓ passes");
    else
        html_cell(t, advice ? "✗ advice" : "✗ fails");
}

static void write_limit(html_table *t, const page *p, ct_limit limit)
{
    const ct_judgment *j = &p->p->limit[limit];
    const limit_words w = limit_words_of(limit, p->p);
    const bool numbers = limit != CT_LIMIT_BALANCE;
    /* At the bound itself neither sign shows: an airflow of the sweep on the least allowed. */
    const bool at_most = (j->bound > j->value) == (j->slack >= 0);
    html_cell(t, "%s", ct_limit_of(limit)->title);
    html_cell(t, "%s", numbers ? SHOW(w.value, j->value) : "");
    html_cell(t, "%s%s", numbers ? at_most ? "≤ " : "≥ " : "",
              numbers ? SHOW(w.value, j->bound) : "");
    write_verdict(t, p, limit);
    html_row_end(t);
}

/* Limits the case gives no value for, or does not say which tap they are for. */
static void write_unchecked(FILE *out, const page *p)
{
    const char *between = ". Not checked, for the case does not say enough: ";
    fputs("<p class=\"note\">", out);
    html_say(out, "The last two limits are advice only");
    for (int i = 0; i < CT_LIMIT_COUNT; i++)
        if (p->p->limit[i].verdict == CT_NOT_JUDGED) {
            html_say(out, "%s%s", between, ct_limit_of((ct_limit)i)->title);
            between = "; ";
        }
    fputs(".</p>\n", out);
}

static void write_limits(FILE *out, const page *p)
{
    const char *const headings[] = {"Limit", "Value", "Allowed", "Verdict"};
    html_table t;
    html_table_begin(&t, out, "limits",
                     p->pick->found ? "Limits at the pick" : "Limits at the best speed", 4,
                     headings);
    for (int i = 0; i < CT_LIMIT_COUNT; i++)
        if (p->p->limit[i].verdict != CT_NOT_JUDGED) write_limit(&t, p, (ct_limit)i);
    html_table_end(&t);
    write_unchecked(out, p);
}

void page_write_figures(FILE *out, const page *p)
{
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "Results");
    fputs("<div class=\"two figs\">\n<div>\n", out);
    write_capacities(out, p);
    fputs("</div>\n<div>\n", out);
    write_limits(out, p);
    fputs("</div>\n</div>\n</section>\n", out);
}
