#include "sweep/uncertain.h"

#include <math.h>
#include <string.h>

#include "base/paragraph.h"
#include "show/chance_words.h"
#include "show/csv.h"
#include "show/json_out.h"
#include "show/limit_words.h"
#include "show/quantity.h"
#include "show/tap_words.h"

enum { DIGITS = 9, KEY_SIZE = 80, ROWS_WITHOUT_TAPS = 6 };

static const struct {
    const char *name, *meaning;
    quantity q;
} bands[CT_BAND_COUNT] = {
    [CT_BAND_AIRFLOW] = {"airflow_standard", "standard airflow; varies at taps only", Q_AIRFLOW},
    [CT_BAND_TOTAL] = {"net_total", "total capacity, blower heat taken off", Q_HEAT},
    [CT_BAND_SENSIBLE] = {"net_sensible", "sensible capacity, blower heat taken off", Q_HEAT},
    [CT_BAND_LATENT] = {"net_latent", "latent capacity", Q_HEAT},
    [CT_BAND_SURFACE] = {"coil_surface", "coldest coil surface", Q_TEMPERATURE},
    [CT_BAND_SUCTION] = {"sat_suction", "saturated suction", Q_TEMPERATURE},
};

static const struct {
    const char *name, *meaning;
    size_t offset;
} statistics[] = {
    {"mean", "mean of the draws that balance", offsetof(ct_band, mean)},
    {"p05", "5% of them are below", offsetof(ct_band, q05)},
    {"p16", "16% of them are below", offsetof(ct_band, q16)},
    {"p50", "median", offsetof(ct_band, median)},
    {"p84", "84% of them are below", offsetof(ct_band, q84)},
    {"p95", "95% of them are below", offsetof(ct_band, q95)},
};
enum { STATISTICS = sizeof statistics / sizeof statistics[0] };

static double statistic(const ct_band *b, int i)
{
    double v;
    memcpy(&v, (const char *)b + statistics[i].offset, sizeof v);
    return v;
}

static void band_key(int band, int i, bool si, char key[KEY_SIZE])
{
    char name[KEY_SIZE];
    snprintf(name, sizeof name, "%s_%s", bands[band].name, statistics[i].name);
    quantity_key(key, KEY_SIZE, name, bands[band].q, si);
}

static const char *limit_token(int limit)
{
    return ct_limit_of((ct_limit)limit)->token;
}

static const char *tap_name(const uncertain_view *view, const ct_uncertain_point *p)
{
    return p->tap < 0 ? "" : view->job->unit->blower.tap[p->tap].name;
}

/* ---- CSV ------------------------------------------------------------------------- */

static void put_heading(csv_writer *csv, bool si)
{
    char key[KEY_SIZE];
    csv_text(csv, "tap");
    csv_text(csv, quantity_ending(Q_AIRFLOW_PER_TON, si));
    for (int b = 0; b < CT_BAND_COUNT; b++)
        for (int i = 0; i < STATISTICS; i++) {
            band_key(b, i, si, key);
            csv_text(csv, key);
        }
    for (int k = 0; k < CT_LIMIT_COUNT; k++) {
        snprintf(key, sizeof key, "share_%s", limit_token(k));
        csv_text(csv, key);
    }
    csv_text(csv, "share_all");
    csv_text(csv, "share_pick");
    csv_text(csv, "draws_balanced");
    csv_end_row(csv);
}

static void put_row(csv_writer *csv, const uncertain_view *view, const ct_uncertain_point *p,
                    bool si)
{
    csv_text(csv, tap_name(view, p));
    csv_quantity(csv, Q_AIRFLOW_PER_TON, p->V_std_per_ton > 0 ? p->V_std_per_ton : (double)NAN,
                 DIGITS, si);
    for (int b = 0; b < CT_BAND_COUNT; b++)
        for (int i = 0; i < STATISTICS; i++)
            csv_quantity(csv, bands[b].q, statistic(&p->band[b], i), DIGITS, si);
    for (int k = 0; k < CT_LIMIT_COUNT; k++)
        csv_quantity(csv, Q_PLAIN, p->limit[k], DIGITS, si);
    csv_quantity(csv, Q_PLAIN, p->all, DIGITS, si);
    csv_quantity(csv, Q_PLAIN, p->picked, DIGITS, si);
    csv_number(csv, p->band[CT_BAND_TOTAL].n, DIGITS);
    csv_end_row(csv);
}

bool uncertain_csv(FILE *out, const uncertain_view *view, const ct_uncertain_point *points, int n,
                   bool si)
{
    csv_writer csv;
    csv_begin(&csv, out);
    put_heading(&csv, si);
    for (int i = 0; i < n; i++)
        put_row(&csv, view, &points[i], si);
    return csv_good(&csv);
}

void uncertain_columns_print(FILE *out)
{
    fputs("\nColumns of sweep_uncertain.csv and taps_uncertain.csv (--uncertain), besides tap and\n"
          "the airflow of the case as written. Each name takes each ending, then the unit:\n",
          out);
    for (int b = 0; b < CT_BAND_COUNT; b++)
        fprintf(out, "%s\n    %s\n", bands[b].name, bands[b].meaning);
    for (int i = 0; i < STATISTICS; i++)
        fprintf(out, "  _%s\n    %s\n", statistics[i].name, statistics[i].meaning);
    fputs("share_LIMIT\n    share of the possible draws that pass the limit; empty when it is not "
          "checked\n"
          "share_all\n    share that passes every deciding limit\n"
          "share_pick\n    share in which this is the lowest speed that passes\n"
          "draws_balanced\n    how many draws balance here\n",
          out);
}

/* ---- JSON ------------------------------------------------------------------------ */

static bool put_band(json_t *o, int band, const ct_band *b, bool si)
{
    char name[KEY_SIZE];
    bool good = true;
    for (int i = 0; good && i < STATISTICS; i++) {
        snprintf(name, sizeof name, "%s_%s", bands[band].name, statistics[i].name);
        good = put_value(o, name, bands[band].q, statistic(b, i), si);
    }
    return good;
}

static json_t *point_json(const uncertain_view *view, const ct_uncertain_point *p, bool si)
{
    json_t *o = json_object(), *shares = open_object(o, "shares");
    bool good = shares && (p->tap < 0 || put_text(o, "tap", tap_name(view, p))) &&
                put_value(o, "airflow_standard", Q_AIRFLOW, p->V_std, si) &&
                put_value(shares, "all", Q_PLAIN, p->all, si) &&
                put_value(shares, "pick", Q_PLAIN, p->picked, si) &&
                put_integer(o, "draws_balanced", p->band[CT_BAND_TOTAL].n);
    for (int b = 0; good && b < CT_BAND_COUNT; b++)
        good = put_band(o, b, &p->band[b], si);
    for (int k = 0; good && k < CT_LIMIT_COUNT; k++)
        good = put_value(shares, limit_token(k), Q_PLAIN, p->limit[k], si);
    return json_when(good, o);
}

static bool put_points(json_t *root, const char *name, const uncertain_view *view,
                       const ct_uncertain_point *points, int n, bool si)
{
    json_t *list = open_array(root, name);
    bool good = list != NULL;
    for (int i = 0; good && i < n; i++)
        good = json_array_append_new(list, point_json(view, &points[i], si)) == 0;
    return good;
}

static bool put_sigmas(json_t *root, const uncertain_view *view, bool si)
{
    json_t *o = open_object(root, "standard_deviations");
    bool good = o != NULL;
    for (int i = 0; good && i < CT_VARY_COUNT; i++) {
        const ct_vary_input input = (ct_vary_input)i;
        char name[KEY_SIZE];
        snprintf(name, sizeof name, "%s", ct_vary_name(input));
        for (char *c = name; (c = strchr(c, ' '));)
            *c = '_';
        good = put_value(o, name, quantity_of_kind(ct_vary_unit(input)),
                         ct_vary_sigma(&view->job->c->uncertainty, input), si);
    }
    return good;
}

json_t *uncertain_json(const uncertain_view *view, bool si)
{
    const ct_uncertain *u = view->u;
    json_t *root = json_object();
    const bool good =
        put_integer(root, "draws", u->samples) && put_integer(root, "impossible", u->impossible) &&
        put_integer(root, "unsettled", u->unsettled) &&
        put_value(root, "share_no_pick", Q_PLAIN, u->none, si) && put_sigmas(root, view, si) &&
        put_points(root, "taps", view, u->tap, u->n_taps, si) &&
        put_points(root, "points", view, u->point, u->n, si);
    return json_when(good, root);
}

/* ---- Report ---------------------------------------------------------------------- */

static void say_share(FILE *out, const char *what, double share)
{
    if (isfinite(share)) fprintf(out, "%s%.0f%%", what, 100 * share);
}

static void say_spread(FILE *out, const char *what, quantity q, const ct_band *b, bool metric)
{
    char low[SHOWN_SIZE], high[SHOWN_SIZE];
    if (b->n > 0)
        fprintf(out, "%s%s to %s", what, shown(low, q, b->q05, metric),
                shown(high, q, b->q95, metric));
}

static void print_point(FILE *out, const uncertain_view *view, const ct_uncertain_point *p,
                        bool metric)
{
    char name[SHOWN_SIZE];
    if (p->tap >= 0)
        fprintf(out, "  %s%s: ", tap_prefix(tap_name(view, p)), tap_name(view, p));
    else
        fprintf(out, "  %s: ", shown(name, Q_AIRFLOW_PER_TON, p->V_std_per_ton, metric));
    say_share(out, "carries the load: ", p->limit[CT_LIMIT_SENSIBLE]);
    say_share(out, "; all limits: ", p->all);
    say_share(out, "; the pick: ", p->picked);
    fputs("\n   ", out);
    say_share(out, " above frost: ", p->limit[CT_LIMIT_FROST]);
    say_share(out, "; humidity: ", p->limit[CT_LIMIT_HUMIDITY]);
    say_spread(out, "; sensible ", Q_HEAT, &p->band[CT_BAND_SENSIBLE], metric);
    fputc('\n', out);
}

static void print_sigmas(FILE *out, const uncertain_view *view, bool metric)
{
    for (int i = 0, column = fprintf(out, "  Usual doubt (one standard deviation):");
         i < CT_VARY_COUNT; i++) {
        const ct_vary_input input = (ct_vary_input)i;
        const quantity q = quantity_of_kind(ct_vary_unit(input));
        char value[SHOWN_SIZE], text[2 * SHOWN_SIZE];
        const int length =
            snprintf(text, sizeof text, " %s %s%s", ct_vary_name(input),
                     shown(value, q, ct_vary_sigma(&view->job->c->uncertainty, input), metric),
                     i + 1 < CT_VARY_COUNT ? "," : ".");
        if (column + length > 79) column = fprintf(out, "\n   ") - 1;
        fputs(text, out);
        column += length;
    }
    fputc('\n', out);
}

static void print_draws(FILE *out, const uncertain_view *view)
{
    const ct_uncertain *u = view->u;
    fprintf(out, "\nHow sure: %d draws of %d airflows", u->samples, u->n);
    if (u->n_taps > 0) fprintf(out, " and %d speeds", u->n_taps);
    fprintf(out, " in %.1f s", view->seconds);
    if (u->impossible > 0)
        fprintf(out,
                ";\n  %d of them are impossible (a nameplate no coil can have) and not counted",
                u->impossible);
    fputs(".\n", out);
}

/* The pick in the words of the job page; the shares behind them follow. */
static void print_chances(FILE *out, const uncertain_view *view, const ct_uncertain_point *p,
                          bool metric)
{
    char it[160], text[CHANCE_SENTENCE];
    if (!isfinite(p->all)) return;
    if (p->tap >= 0) {
        const char *name = tap_name(view, p);
        snprintf(it, sizeof it, "%s%s", tap_prefix(name), name);
    } else {
        shown(it, Q_AIRFLOW_PER_TON, p->V_std_per_ton, metric);
    }
    chance_sentence(text, it, p->all, p->limit[CT_LIMIT_SENSIBLE]);
    paragraph_wrap(out, text, "  ", 2);
}

void uncertain_print(FILE *out, const uncertain_view *view, const ct_point *pick, bool quiet,
                     bool metric)
{
    const ct_uncertain *u = view->u;
    const bool taps = u->n_taps > 0;
    const ct_uncertain_point *list = taps ? u->tap : u->point;
    const ct_point *nominal = taps ? view->sweep->tap : view->sweep->point;
    const int n = taps ? u->n_taps : u->n;
    const int rows = taps || n < ROWS_WITHOUT_TAPS ? n : ROWS_WITHOUT_TAPS;
    int shown_to = -1;
    if (!quiet) print_draws(out, view);
    for (int i = 0; !quiet && i < n; i++)
        if (&nominal[i] == pick) print_chances(out, view, &list[i], metric);
    for (int k = 0; k < rows; k++) {
        const int to = rows > 1 ? k * (n - 1) / (rows - 1) : 0;
        for (int i = shown_to + 1; i <= to; i++)
            if (&nominal[i] == pick || (i == to && !quiet))
                print_point(out, view, &list[i], metric);
        shown_to = to;
    }
    fprintf(out, "  %s passes: %.0f%%\n", taps ? "no speed" : "no airflow", 100 * u->none);
    if (!quiet) print_sigmas(out, view, metric);
}
