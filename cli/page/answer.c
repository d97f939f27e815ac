#include <math.h>
#include <stdlib.h>

#include "base/html.h"
#include "base/paragraph.h"
#include "judge/remedy.h"
#include "page/page.h"
#include "page/style.h"
#include "show/note_words.h"

#define SHOW(q, v) page_show(p, q, v).text

/* ---- Head ------------------------------------------------------------------------ */

static void job_line(FILE *out, const char *name, const char *text)
{
    if (!text[0]) return;
    fputs("<div>", out);
    html_element(out, "dt", NULL, "%s", name);
    html_element(out, "dd", NULL, "%s", text);
    fputs("</div>\n", out);
}

static const char *title_of(const page *p)
{
    const char *title = p->j->c->job.title;
    return title[0] ? title : "Blower speed for a new indoor coil";
}

void page_write_head(FILE *out, const page *p)
{
    const ct_job *about = &p->j->c->job;
    fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
          "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
          "'unsafe-inline'; base-uri 'none'; form-action 'none'\"/>\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n",
          out);
    html_element(out, "title", NULL, "%s", title_of(p));
    fprintf(out, "<style>\n%s%s</style>\n</head>\n<body>\n<header>\n", page_style_screen,
            page_style_paper);
    html_element(out, "h1", NULL, "%s", title_of(p));
    fputs("<dl class=\"job\">\n", out);
    job_line(out, "Customer", about->customer);
    job_line(out, "Address", about->address);
    job_line(out, "Technician", about->technician);
    job_line(out, "Date", about->date);
    job_line(out, "Notes", about->notes);
    fputs("</dl>\n</header>\n<main>\n", out);
}

/* ---- Question and pick ----------------------------------------------------------- */

static void write_question(FILE *out, const page *p)
{
    const ct_case *c = p->j->c;
    html_element(out, "p", NULL,
                 "Which blower speed should the indoor unit “%s” use with the existing %.3g ton %s "
                 "outdoor unit, to cool the house on a %s day and dry its air as much as possible?",
                 page_indoor(p)->name, c->outdoor.tons, ct_refrigerant_name(p->j->refrigerant),
                 page_about(p, Q_TEMPERATURE, p->at.T_out).text);
}

/* limit_explain in a string of its own; free it. NULL: out of memory. */
static char *explain(const page *p, ct_limit limit, const ct_judgement *j, const ct_point *point)
{
    char *text = NULL, *nice = NULL;
    size_t size;
    FILE *stream = open_memstream(&text, &size);
    if (!stream) return NULL;
    limit_explain(stream, limit, j, point, p->metric);
    if (fclose(stream) == 0 && (nice = malloc(2 * size + 8)))
        page_degrees(nice, 2 * size + 8, text);
    free(text);
    return nice;
}

static void write_lower(FILE *out, const page *p)
{
    const ct_pick *k = p->pick;
    if (!k->has_lower) {
        html_element(out, "p", NULL, "%s",
                     k->from_taps ? "The blower has no slower speed."
                                  : "It is the lowest airflow checked.");
        return;
    }
    const ct_point *below = k->from_taps ? &p->sweep->tap[k->lower] : &p->sweep->point[k->lower];
    char *why = explain(p, k->binding, &k->binding_at, below);
    html_element(out, "p", NULL, "The next slower speed, %s, does not pass: %s.",
                 page_speed(p, below).text, why ? why : "");
    free(why);
}

static void write_pick(FILE *out, const page *p)
{
    const page_value air = page_show(p, Q_AIRFLOW, p->p->V);
    if (p->pick->from_taps)
        html_element(out, "p", "pick",
                     "Set the blower to %s: %s (%s of standard air), the slowest speed that meets "
                     "every limit.",
                     page_speed(p, p->p).text, air.text,
                     SHOW(Q_AIRFLOW_PER_TON, p->p->V_std_per_ton));
    else
        html_element(out, "p", "pick",
                     "Set the blower to move %s (%s of standard air), the lowest airflow that "
                     "meets every limit.",
                     air.text, SHOW(Q_AIRFLOW_PER_TON, p->p->V_std_per_ton));
    write_lower(out, p);
}

/* The limit that fails at most speeds. */
static ct_limit most_failing(const ct_pick *k)
{
    int worst = 0;
    for (int i = 1; i < CT_LIMIT_FIRST_ADVICE; i++)
        if (k->failing[i] > k->failing[worst]) worst = i;
    return (ct_limit)worst;
}

static void write_remedies(FILE *out, const page *p)
{
    const unsigned remedies = p->pick->remedies & ~(unsigned)CT_REMEDY_DO_NOT; /* said already */
    const char *between = "What would fix it: ";
    if (!remedies) return;
    fputs("<p>", out);
    for (int bit = 0; bit < CT_REMEDY_COUNT; bit++)
        if (remedies & 1u << bit) {
            html_say(out, "%s%s", between, ct_remedy_words(1u << bit));
            between = "; ";
        }
    fputs(".</p>\n", out);
}

static void write_refusal(FILE *out, const page *p)
{
    const ct_pick *k = p->pick;
    const ct_limit worst = most_failing(k);
    if (k->n_points == 1)
        html_element(
            out, "p", "pick",
            "Do not do this job as it stands: the blower's one speed does not meet every limit.");
    else
        html_element(
            out, "p", "pick",
            "Do not do this job as it stands: none of the %d %s looked at meets every limit.",
            k->n_points, k->from_taps ? "blower speeds" : "airflows");
    char *why = p->p->limit[worst].verdict == CT_FAILS
                    ? explain(p, worst, &p->p->limit[worst], p->p)
                    : NULL;
    html_element(out, "p", NULL, "“%s” fails at %d of %d. At %s, which carries most: %s.",
                 ct_limit_of(worst)->title, k->failing[worst], k->n_points,
                 page_speed(p, p->p).text, why ? why : "other limits fail");
    free(why);
    write_remedies(out, p);
}

void page_write_answer(FILE *out, const page *p)
{
    fputs("<section class=\"answer\">\n", out);
    html_element(out, "h2", NULL, "The question");
    write_question(out, p);
    html_element(out, "h2", NULL, "The answer");
    if (p->candidate[p->unit].refused)
        html_element(out, "p", "pick",
                     "Do not install this indoor unit: its refrigerant, valve or pressure rating "
                     "is wrong for this system. See Cautions for the reason. The numbers below are "
                     "only for comparison.");
    else if (!p->pick->found)
        write_refusal(out, p);
    else if (page_passes(p))
        write_pick(out, p);
    fputs("</section>\n", out);
}

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
        {"Net sensible capacity (cooling)", Q_HEAT, a->Q_sens_net, b->Q_sens_net},
        {"Latent capacity (drying)", Q_HEAT, a->Q_lat, b->Q_lat},
        {"Water removed, running nonstop", Q_WATER_RATE, a->water, b->water},
        {"Humidity the house settles at", Q_FRACTION, when(ap->has_room, ap->room.rh),
         when(bp->has_room, bp->room.rh)},
        {"Saturated suction", Q_TEMPERATURE, a->Te, b->Te},
        {"Total electric power", Q_ELECTRIC, a->P_total, b->P_total},
        {"EER, this house and day", Q_EER, a->EER, b->EER},
        {"EER at rating conditions", Q_EER, when(row->has_efficiency, ae->EER_A), be->EER_A},
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
    html_say(out, "Outdoors %s, return air %s at %s humidity. Net: after blower heat. ",
             SHOW(Q_TEMPERATURE, p->at.T_out), SHOW(Q_TEMPERATURE, p->at.indoor.T),
             SHOW(Q_FRACTION, ct_air_rh(&p->at.indoor)));
    html_say(out,
             "The house humidity is for %s of the design load, as in mild, damp weather. The "
             "matched pair is the pair as rated, at its rated airflow in this house. The last row "
             "is at rating conditions.",
             SHOW(Q_FRACTION, p->j->c->house.humidity_load));
    fputs("</p>\n", out);
}

/* ---- Limits ---------------------------------------------------------------------- */

static void write_verdict(html_table *t, const page *p, ct_limit limit)
{
    const ct_judgement *j = &p->p->limit[limit];
    const limit_words w = limit_words_of(limit, p->p);
    const bool advice = limit >= CT_LIMIT_FIRST_ADVICE;
    if (j->verdict == CT_NOT_JUDGED)
        html_cell(t, "– not checked");
    else if (j->verdict == CT_PASSES)
        html_cell(t, "✓ passes");
    else if (advice || limit == CT_LIMIT_BALANCE || !isfinite(j->slack))
        html_cell(t, advice ? "✗ advice" : "✗ fails");
    else
        html_cell(t, "✗ fails by %s", SHOW(w.slack, fabs(j->slack)));
}

static void write_limit(html_table *t, const page *p, ct_limit limit)
{
    const ct_judgement *j = &p->p->limit[limit];
    const limit_words w = limit_words_of(limit, p->p);
    const bool numbers = limit != CT_LIMIT_BALANCE && j->verdict != CT_NOT_JUDGED;
    const bool at_most = (j->bound >= j->value) == (j->slack >= 0);
    html_cell(t, "%s", ct_limit_of(limit)->title);
    html_cell(t, "%s", numbers ? SHOW(w.value, j->value) : "");
    html_cell(t, "%s%s", numbers ? at_most ? "at most " : "at least " : "",
              numbers ? SHOW(w.value, j->bound) : "");
    write_verdict(t, p, limit);
    html_row_end(t);
}

/* What goes beyond its data at the speed shown. */
static void write_notes(FILE *out, const page *p)
{
    for (int bit = 0; bit < CT_NOTE_COUNT; bit++) {
        paragraph text;
        FILE *t;
        if (!(p->p->notes & 1u << bit) || !(t = paragraph_open(&text))) continue;
        note_explain(t, 1u << bit, p->metric);
        fclose(t);
        char nice[2 * sizeof text.text];
        page_degrees(nice, sizeof nice, text.text);
        html_element(out, "p", "note", "Note: %s", nice);
    }
}

static void write_limits(FILE *out, const page *p)
{
    const char *const headings[] = {"Limit", "Value", "Allowed", "Verdict"};
    html_table t;
    html_table_begin(&t, out, "limits",
                     p->pick->found ? "Limits at the pick" : "Limits at the best speed", 4,
                     headings);
    for (int i = 0; i < CT_LIMIT_COUNT; i++)
        write_limit(&t, p, (ct_limit)i);
    html_table_end(&t);
    html_element(out, "p", "note",
                 "✓ passes, ✗ fails, – not checked: the case file gives no value for it. The last "
                 "two are advice only.");
    write_notes(out, p);
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

/* ---- Pictures -------------------------------------------------------------------- */

static const struct {
    const char *prefix, *title, *description;
} pictures[PICTURE_COUNT] = {
    {"pc-", "Capacity by airflow",
     "Net total, sensible and latent capacity by airflow, with the sensible load, the blower "
     "speeds and the pick."},
    {"pt-", "Coil temperature by airflow",
     "Apparatus dew point, coldest surface and saturated suction by airflow, with the frost line."},
    {"ph-", "Humidity the house settles at",
     "Relative humidity the house settles at by airflow, with the fan switch at AUTO and at ON, "
     "and the highest humidity allowed."},
    {"ps-", "Superheat by outdoor temperature",
     "Superheat at the coil by outdoor temperature, for the metering device installed and for the "
     "other kind."},
};

static void write_speeds(FILE *out, const page *p)
{
    const ct_tap *tap = page_indoor(p)->blower.tap;
    fputs("<p class=\"note\">", out);
    html_say(out, "Load: the sensible load plus its margin.");
    if (p->sweep->n_taps > 0) html_say(out, " The numbers above the plots are blower speeds: ");
    for (int i = 0; i < p->sweep->n_taps; i++)
        html_say(out, "%s%d %s", i ? ", " : "", p->sweep->tap[i].tap + 1,
                 tap[p->sweep->tap[i].tap].name);
    if (p->sweep->n_taps > 0) html_say(out, ".");
    fputs("</p>\n", out);
}

static void write_picture(FILE *out, const page *p, page_picture i)
{
    if (!p->pictures.svg[i]) return;
    fputs("<figure>", out);
    html_element(out, "figcaption", NULL, "%s", pictures[i].title);
    if (!svg_inline(out, p->pictures.svg[i], pictures[i].prefix, pictures[i].title,
                    pictures[i].description))
        html_element(out, "p", "note", "This plot could not be added to the page.");
    fputs("</figure>\n", out);
}

void page_write_pictures(FILE *out, const page *p)
{
    fputs("<section>\n", out);
    html_element(out, "h2", NULL, "Plots");
    if (p->pictures.why[0])
        html_element(out, "p", NULL, "There are no plots: %s.", p->pictures.why);
    fputs("<div class=\"two\">\n", out);
    for (int i = 0; i < PICTURE_COUNT; i++)
        write_picture(out, p, (page_picture)i);
    fputs("</div>\n", out);
    if (!p->pictures.why[0]) write_speeds(out, p);
    fputs("</section>\n", out);
}
