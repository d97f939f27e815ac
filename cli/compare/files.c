#include "compare/files.h"

#include <math.h>
#include <stdlib.h>

#include "base/gnuplot.h"
#include "show/csv.h"
#include "show/limit_words.h"
#include "show/plot_script.h"

enum { DIGITS = 9, KEY_SIZE = 64 };

/* ---- CSV ------------------------------------------------------------------------- */

static const char *verdict_word(const comparison *k, int unit)
{
    if (unit == MATCHED) return "";
    if (compare_unit_refused(&k->unit[unit])) return "refused";
    return compare_unit_passes(&k->unit[unit]) ? "passes" : "fails";
}

static void put_unit_row(csv_writer *csv, const comparison *k, int unit, bool si)
{
    const char letter[] = {compare_letter(unit), '\0'};
    const bool own = unit != MATCHED && k->unit[unit].good;
    const ct_point *p = own ? &k->unit[unit].row.at.point : NULL;
    csv_text(csv, letter);
    csv_text(csv, compare_name(k, unit));
    csv_text(csv, verdict_word(k, unit));
    csv_text(csv, p && p->tap >= 0 ? k->j->c->indoor[unit].blower.tap[p->tap].name : "");
    csv_text(csv, p ? meter_token(p->meter) : "");
    for (int i = 0; i < compare_facts_count(); i++)
        csv_quantity(csv, compare_fact_at(i)->q, compare_value(k, i, unit), DIGITS, si);
    csv_end_row(csv);
}

static bool write_units(FILE *out, const comparison *k, bool si)
{
    static const char *const texts[] = {"letter", "unit", "verdict", "tap", "metering"};
    csv_writer csv;
    csv_begin(&csv, out);
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++)
        csv_text(&csv, texts[i]);
    for (int i = 0; i < compare_facts_count(); i++)
        csv_heading(&csv, compare_fact_at(i)->name, compare_fact_at(i)->q, si);
    csv_end_row(&csv);
    for (int u = MATCHED; u < k->n; u++)
        put_unit_row(&csv, k, u, si);
    return csv_good(&csv);
}

static const ct_sweep *curve_of(const comparison *k, int unit)
{
    if (unit == MATCHED) return k->matched_sweep;
    return k->unit[unit].good ? k->unit[unit].sweep : NULL;
}

/* A point of a curve, or with `mark` the point shown in the table. */
static void put_point(csv_writer *csv, const ct_point *p, int unit, bool mark, bool si)
{
    const bool has = p->status == CT_OK;
    csv_number(csv, unit + 1, DIGITS);
    csv_number(csv, mark, DIGITS);
    csv_quantity(csv, Q_AIRFLOW_PER_TON, p->V_std_per_ton, DIGITS, si);
    csv_quantity(csv, Q_HEAT, has ? p->balance.Q_sens_net : (double)NAN, DIGITS, si);
    csv_quantity(csv, Q_HEAT, has ? limit_judged_sensible(p) : (double)NAN, DIGITS, si);
    csv_quantity(csv, Q_HEAT, has ? p->balance.Q_lat : (double)NAN, DIGITS, si);
    csv_quantity(csv, Q_FRACTION, p->has_room ? p->room.rh : (double)NAN, DIGITS, si);
    csv_end_row(csv);
}

static bool write_curves(FILE *out, const comparison *k, bool si)
{
    csv_writer csv;
    csv_begin(&csv, out);
    csv_text(&csv, "unit");
    csv_text(&csv, "pick");
    csv_text(&csv, quantity_ending(Q_AIRFLOW_PER_TON, si));
    csv_heading(&csv, "net_sensible", Q_HEAT, si);
    csv_heading(&csv, "carried_sensible", Q_HEAT, si);
    csv_heading(&csv, "net_latent", Q_HEAT, si);
    csv_heading(&csv, "rh_settled", Q_FRACTION, si);
    csv_end_row(&csv);
    for (int u = MATCHED; u < k->n; u++) {
        const ct_sweep *s = curve_of(k, u);
        for (int i = 0; s && i < s->n; i++)
            put_point(&csv, &s->point[i], u, false, si);
    }
    for (int u = MATCHED; u < k->n; u++)
        if (u == MATCHED || k->unit[u].good)
            put_point(&csv, u == MATCHED ? &k->matched.at.point : &k->unit[u].row.at.point, u, true,
                      si);
    return csv_good(&csv);
}

static bool write_csv(const out_request *to, const comparison *k, const char *name,
                      bool (*write)(FILE *, const comparison *, bool))
{
    write_file file;
    return out_open(&file, to->dir, name, "csv") &&
           write_file_end(&file, write(file.stream, k, to->si));
}

/* ---- Picture --------------------------------------------------------------------- */

/* Heights of the letters beside the right ends of the curves, so that none covers another: sorted
 * by the curve's end, each at least `gap` above the one below. In fractions of the axis. */
typedef struct {
    int unit;
    double at;
} beside;

static void spread(beside *b, int n, double gap)
{
    for (int i = 1; i < n; i++)
        for (int k = i; k > 0 && b[k].at < b[k - 1].at; k--) {
            const beside swap = b[k];
            b[k] = b[k - 1];
            b[k - 1] = swap;
        }
    for (int i = 1; i < n; i++)
        b[i].at = fmax(b[i].at, b[i - 1].at + gap);
    /* Pushed past the top: come down again. */
    for (int i = n - 1; i >= 0; i--)
        b[i].at = fmin(b[i].at, 1 - gap * (n - 1 - i));
}

/* Where the panels end, as fractions of the picture's height. */
#define ROW 0.037     /* one name of a unit */
#define TOP 0.855     /* of the sensible panel */
#define BETWEEN 0.055 /* the latent panel's name */
#define LINE 0.027    /* a letter beside a curve */

static double floor_of(const comparison *k)
{
    return 0.115 + ROW * (k->n + 1);
}

static double middle_of(const comparison *k)
{
    return floor_of(k) + 0.45 * (TOP - floor_of(k)) + 0.5 * BETWEEN;
}

typedef struct {
    const char *name; /* of the panel's variables */
    double (*of)(const ct_point *);
} panel;

static double latent_of(const ct_point *p)
{
    return p->balance.Q_lat;
}

static const panel panels[] = {{"sensible", limit_judged_sensible}, {"latent", latent_of}};
enum { N_PANELS = sizeof panels / sizeof panels[0] };

static const ct_point *last_balanced(const ct_sweep *s)
{
    for (int i = s ? s->n - 1 : -1; i >= 0; i--)
        if (s->point[i].status == CT_OK) return &s->point[i];
    return NULL;
}

static void range_of(const comparison *k, const panel *p, double *low, double *high)
{
    const bool loaded = p->of == limit_judged_sensible;
    const ct_house *h = &k->j->c->house;
    *low = *high = loaded ? h->Q_sensible * (1 + h->margin) : latent_of(&k->matched.at.point);
    for (int u = MATCHED; u < k->n; u++) {
        const ct_sweep *s = curve_of(k, u);
        for (int i = 0; s && i < s->n; i++) {
            if (s->point[i].status != CT_OK) continue;
            *low = fmin(*low, p->of(&s->point[i]));
            *high = fmax(*high, p->of(&s->point[i]));
        }
    }
    const double room = 0.08 * (*high - *low) + 10;
    *low -= room;
    *high += room;
}

static double axis(double Q, bool si)
{
    return quantity_show(quantity_for_programs(Q_HEAT, si), Q) / 1000.0;
}

static void put_list(FILE *out, const char *name, const double *v, int n)
{
    fprintf(out, "array %s[%d]\n", name, n);
    for (int i = 0; i < n; i++) {
        char element[KEY_SIZE + 16];
        snprintf(element, sizeof element, "%s[%d]", name, i + 1);
        plot_script_value(out, element, v[i]);
    }
}

static void put_panel(FILE *out, const comparison *k, const panel *p, bool si)
{
    beside b[CT_MAX_INDOOR + 1];
    double low, high, at[CT_MAX_INDOOR + 1];
    char name[KEY_SIZE];
    int n = 0;
    range_of(k, p, &low, &high);
    for (int u = MATCHED; u < k->n; u++) {
        const ct_point *last = last_balanced(curve_of(k, u));
        at[u + 1] = NAN;
        if (last) b[n++] = (beside){u, (p->of(last) - low) / (high - low)};
    }
    const double height =
        p->of == limit_judged_sensible ? TOP - middle_of(k) : middle_of(k) - BETWEEN - floor_of(k);
    spread(b, n, LINE / height);
    for (int i = 0; i < n; i++)
        at[b[i].unit + 1] = axis(low + b[i].at * (high - low), si);
    snprintf(name, sizeof name, "low_%s", p->name);
    plot_script_value(out, name, axis(low, si));
    snprintf(name, sizeof name, "high_%s", p->name);
    plot_script_value(out, name, axis(high, si));
    snprintf(name, sizeof name, "beside_%s", p->name);
    put_list(out, name, at, k->n + 1);
}

static void put_names(FILE *out, const comparison *k)
{
    fprintf(out, "units = %d\narray unit_name[%d]\n", k->n + 1, k->n + 1);
    for (int u = MATCHED; u < k->n; u++) {
        char text[CT_NAME_SIZE + 8];
        snprintf(text, sizeof text, "%c  %s", compare_letter(u), compare_name(k, u));
        fprintf(out, "unit_name[%d] = ", u + 2);
        gnuplot_quote(out, text, 44);
        fputc('\n', out);
    }
}

static bool write_script(FILE *out, const comparison *k, bool si)
{
    const ct_house *h = &k->j->c->house;
    plot_script_begin(out, "compare", "compare_curves.csv", k->j->c->job.title);
    plot_script_units(out, si);
    plot_script_text(out, "col_flow", quantity_ending(Q_AIRFLOW_PER_TON, si));
    plot_script_column(out, "col_sensible", "carried_sensible", Q_HEAT, si);
    plot_script_column(out, "col_latent", "net_latent", Q_HEAT, si);
    plot_script_value(out, "load_sensible", axis(h->Q_sensible * (1 + h->margin), si));
    plot_script_value(out, "load_latent", axis(h->Q_latent, si));
    put_names(out, k);
    plot_script_value(out, "row", ROW);
    plot_script_value(out, "floor", floor_of(k));
    plot_script_value(out, "middle", middle_of(k));
    plot_script_value(out, "top", TOP);
    for (int i = 0; i < N_PANELS; i++)
        put_panel(out, k, &panels[i], si);
    return plot_script_end(out, "compare");
}

exit_code compare_files_write(const out_request *to, const comparison *k)
{
    write_file file;
    bool render = to->render;
    if (!out_folder(to->dir) || !out_remove_pictures(to->dir, "compare") ||
        !write_csv(to, k, "compare", write_units) ||
        !write_csv(to, k, "compare_curves", write_curves) ||
        !out_open(&file, to->dir, "compare", "gp") ||
        !write_file_end(&file, write_script(file.stream, k, to->si)))
        return EXIT_SYSTEM;
    return out_draw(to->dir, "compare", to->format, &render);
}
