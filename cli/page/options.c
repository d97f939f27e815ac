#include <math.h>

#include "base/html.h"
#include "page/page.h"

enum { NAME_LENGTH = 46 };

static void price_cell(html_table *t, const page *p, double price)
{
    html_cell(t, "%s", isfinite(price) ? page_price(p, price).text : "not stated");
}

static void write_unit_option(html_table *t, const page *p, int i)
{
    const page_candidate *k = &p->candidate[i];
    const ct_point *q = &k->row.at.point;
    const bool passes = k->has && !k->refused && k->row.pick.found;
    html_cell(t, "%s", page_short(p->j->c->indoor[i].name, NAME_LENGTH).text);
    html_cell(t, "%s",
              !k->has                          ? "not known"
              : k->refused                     ? "✗ must not be installed"
              : passes && page_piston_risks(q) ? "✓ yes; a valve would be safer"
              : passes                         ? "✓ yes"
                                               : "✗ no");
    html_cell(t, "%s",
              k->has && q->has_room ? page_about(p, Q_FRACTION, q->room.rh).text : "not known");
    price_cell(t, p, k->has ? k->row.cost : (double)NAN);
    html_row_end(t);
}

static bool any_price(const page *p)
{
    for (int i = 0; i < p->j->c->n_indoor; i++)
        if (p->j->c->indoor[i].price.has) return true;
    return false;
}

void page_write_options(FILE *out, const page *p)
{
    static const char *const headings[] = {"Choice", "Does the job", "Humidity indoors", "Price"};
    const ct_job *about = &p->j->c->job;
    html_table t;
    if (p->j->c->n_indoor < 2 && about->n_options == 0 && !any_price(p)) return;
    html_element(out, "h2", NULL, "Your options");
    html_table_begin(&t, out, "options", "", 4, headings);
    for (int i = 0; i < p->j->c->n_indoor; i++)
        write_unit_option(&t, p, i);
    for (int i = 0; i < about->n_options; i++) {
        html_cell(&t, "%s", page_short(about->option[i].name, NAME_LENGTH).text);
        html_cell(&t, "–");
        html_cell(&t, "–");
        price_cell(&t, p, about->option[i].price.has ? about->option[i].price.v : (double)NAN);
        html_row_end(&t);
    }
    html_table_end(&t);
}
