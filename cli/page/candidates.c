#include <math.h>

#include "base/html.h"
#include "page/page.h"

#define SHOW(q, v) page_show(p, q, v).text
#define ABOUT(q, v) page_about(p, q, v).text

static void write_candidate(html_table *t, const page *p, int i)
{
    const page_candidate *candidate = &p->candidate[i];
    const ct_comparison *row = &candidate->row;
    html_cell(t, "%s%s", page_short(p->j->c->indoor[i].name, 60).text,
              i == p->unit ? " (this page)" : "");
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
    html_cell(t, "%s", SHOW(Q_HEAT, limit_judged_sensible(q)));
    html_cell(t, "%s", SHOW(Q_HEAT, q->balance.Q_lat));
    html_cell(t, "%s", q->has_room ? ABOUT(Q_FRACTION, q->room.rh) : "not known");
    if (row->has_efficiency)
        html_cell(t, "%.1f",
                  quantity_show(quantity_for_people(Q_EER, p->metric), row->efficiency.EER_A));
    else
        html_cell(t, "not known");
    html_cell(t, "%s", isfinite(row->cost) ? page_price(p, row->cost).text : "not stated");
    html_row_end(t);
}

void page_write_candidates(FILE *out, const page *p)
{
    const char *const headings[] = {"Indoor unit",
                                    "Speed",
                                    "Airflow",
                                    "Net total",
                                    "Sensible, judged",
                                    "Latent",
                                    "Settled humidity",
                                    p->metric ? "EER at rating, W/W" : "EER at rating, Btu/Wh",
                                    "Cost"};
    html_table t;
    if (p->j->c->n_indoor < 2) return;
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "The indoor units side by side");
    html_table_begin(&t, out, "candidates",
                     "Each at its own pick on the design day. Where no speed passes: at the speed "
                     "that comes nearest. Sensible is as it is judged against the load; "
                     "total and latent are in the return air entered",
                     9, headings);
    for (int i = 0; i < p->j->c->n_indoor; i++)
        write_candidate(&t, p, i);
    html_table_end(&t);
    fputs("</section>\n", out);
}
