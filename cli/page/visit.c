#include <math.h>
#include <stdlib.h>

#include "base/html.h"
#include "case/readings.h"
#include "page/page.h"
#include "show/tap_words.h"
#include "tune/findings.h"

static void write_cause(html_table *table, const page *p, const tune_result *r, int i)
{
    const ct_tune_explanation *e = &r->t->explanation[i];
    char text[TUNE_CAUSE_SIZE];
    tune_explanation_words(text, sizeof text, r, e, p->metric);
    char *nice = page_nice(text);
    html_cell(table, "%s", nice ? nice : text);
    free(nice);
    html_cell(table, "%.0f%%", 100.0 * fmin(e->chance, 0.99));
    html_row_end(table);
}

/* Causes with their chances, as the terminal has them. */
static void write_causes(FILE *out, const page *p, const tune_result *r)
{
    static const char *const headings[] = {"Likely wrong", "Chance"};
    const ct_tune *t = r->t;
    const int n = tune_explanations_reported(t);
    html_table table;
    if (*tune_sign_words(t))
        html_element(out, "p", NULL, "No single cause explains these readings. First, %s.",
                     tune_sign_words(t));
    if (tune_first_told(t) < 0) {
        if (*tune_sign_words(t)) return;
        html_element(out, "p", NULL, "%s",
                     !t->agree  ? "The readings do not fit together, whatever is wrong with the "
                                  "system. Read again what is marked below."
                     : t->wrong ? "Something is wrong, but nothing that can be named; see the "
                                  "readings below."
                                : "Nothing wrong stands out, as far as these readings tell.");
        return;
    }
    char title[80];
    snprintf(title, sizeof title, "Worth checking, %s", tune_order_words(t));
    html_table_begin(
        &table, out, "causes",
        *tune_sign_words(t) ? "Besides, each with the chance it is there"
        : t->explained < 0
            ? "No single cause explains these readings; each with the chance it is there"
            : title,
        2, headings);
    for (int i = 0; i < n; i++) {
        if (tune_explanation_told(t, i)) write_cause(&table, p, r, i);
    }
    if (t->explained >= 0 && t->sound >= 0.01) {
        html_cell(&table, "nothing of this");
        html_cell(&table, "%.0f%%", 100.0 * t->sound);
        html_row_end(&table);
    }
    html_table_end(&table);
    if (*tune_tap_words(t)) html_element(out, "p", NULL, "%s", tune_tap_words(t));
    if (!t->alike) return;
    char text[TUNE_WORDS_SIZE];
    tune_alike_words(text, sizeof text, t);
    html_element(out, "p", NULL, "%s", text);
}

static void write_readings(FILE *out, const page *p, const ct_tune *t)
{
    static const char *const headings[] = {"Reading", "Measured", "Tuned model", "Note"};
    html_table table;
    html_table_begin(&table, out, "visit", "Readings", 4, headings);
    for (int i = 0; i < t->n; i++) {
        const ct_tune_reading *x = &t->reading[i];
        const quantity q = tune_quantity(x->kind);
        html_cell(&table, "%s", ct_reading_name(x->kind));
        html_cell(&table, "%s", page_show(p, q, x->given).text);
        html_cell(&table, "%s", x->used ? page_show(p, q, x->predicted).text : "not used");
        html_cell(&table, "%s", x->chance >= TUNE_SUSPECT ? "read again" : "");
        html_row_end(&table);
    }
    html_table_end(&table);
}

static void write_multipliers(FILE *out, const tune_result *r)
{
    const ct_tune *t = r->t;
    char airflow[TUNE_CAUSE_SIZE];
    static const char *const headings[] = {"Against the nameplate", "Times", "95% sure"};
    html_table table;
    html_table_begin(&table, out, "visit", "What the readings make of the parts", 3, headings);
    for (int i = 0; i < CT_TUNE_MULTIPLIERS; i++) {
        const ct_tune_value *v = &t->value[i];
        if (!ct_tune_value_told(t, i)) continue;
        html_cell(&table, "%s", ct_tune_name((ct_tune_unknown)i));
        html_cell(&table, "%.2f", v->value);
        html_cell(&table, "%.2f to %.2f", v->low, v->high);
        html_row_end(&table);
    }
    html_table_end(&table);
    if (tune_airflow_words(airflow, sizeof airflow, r))
        html_element(out, "p", NULL, "Here %s.", airflow);
    if (t->charge_first) html_element(out, "p", NULL, "%s", tune_charge_words(t));
}

static void write_suspects(FILE *out, const page *p, const tune_result *r)
{
    const int n = tune_suspects_reported(r->t);
    if (n == 0) return;
    static const char *const headings[] = {"An instrument that is off explains it", "Chance"};
    html_table table;
    html_table_begin(&table, out, "causes", "Which may be off", 2, headings);
    for (int i = 0; i < n; i++)
        write_cause(&table, p, r, i);
    html_table_end(&table);
}

static void write_impossible(FILE *out, const page *p, const tune_result *r)
{
    const ct_tune *t = r->t;
    char text[240];
    const bool swap = tune_swap_words(text, sizeof text, t);
    html_element(out, "p", NULL, "These readings cannot all be true; nothing was fitted:");
    fputs("<ul>\n", out);
    for (int i = 0; i < CT_IMPOSSIBLE_COUNT; i++)
        if (t->impossible[i].found)
            html_element(out, "li", NULL, "%s", ct_impossible_text((ct_impossible)i));
    fputs("</ul>\n", out);
    if (*tune_stopped_words(t)) html_element(out, "p", NULL, "%s", tune_stopped_words(t));
    if (swap && tune_swap_leads(t)) html_element(out, "p", NULL, "%s", text);
    write_suspects(out, p, r);
    if (swap && !tune_swap_leads(t)) html_element(out, "p", NULL, "%s", text);
}

void page_write_visit(FILE *out, const page *p)
{
    if (!p->visit) return;
    const tune_result r = visit_result(p->j, p->visit, p->metric);
    fputs("<section id=\"visit\">\n", out);
    html_element(out, "h2", NULL, "What the readings say");
    if (p->visit->readings.tap[0])
        html_element(out, "p", NULL, "Taken on %s%s.", tap_prefix(p->visit->readings.tap),
                     page_short(p->visit->readings.tap, 60).text);
    if (r.low_ran) html_element(out, "p", NULL, "Taken on the low stage; so is the model here.");
    if (r.t->fitted) {
        char text[TUNE_WORDS_SIZE];
        write_causes(out, p, &r);
        if (tune_valve_words(text, sizeof text, r.t, p->metric)) {
            char *nice = page_nice(text);
            html_element(out, "p", NULL, "%s", nice ? nice : text);
            free(nice);
        }
        write_readings(out, p, r.t);
        write_multipliers(out, &r);
        html_element(out, "p", "note",
                     "The other sheets are those of the case as it is. To have them with these "
                     "corrections, write a tuned case (coiltrim tune, -o) and make its page.");
    } else {
        write_impossible(out, p, &r);
    }
    fputs("</section>\n", out);
}
