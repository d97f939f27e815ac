#include "explain/files.h"

#include <stdlib.h>

#include "base/complain.h"
#include "base/gnuplot.h"
#include "base/out_folder.h"
#include "base/write_file.h"
#include "explain/chart.h"
#include "explain/crossing.h"
#include "fluid/air.h"
#include "plant/curves.h"
#include "show/csv.h"
#include "show/plot_script.h"
#include "show/quantity.h"

enum { EXACT = 0 }; /* digits: as many as read back the same */

/* ---- Columns --------------------------------------------------------------------- */

typedef struct {
    const char *name;
    quantity q;
} column;

static void put_headings(csv_writer *csv, const column *columns, size_t n, bool si)
{
    for (size_t i = 0; i < n; i++)
        csv_heading(csv, columns[i].name, columns[i].q, si);
    csv_end_row(csv);
}

/* ---- Scripts --------------------------------------------------------------------- */

static double on_axis(quantity q, double v, bool si)
{
    return quantity_show(quantity_for_people(q, si), v);
}

/* gnuplot functions from a column's unit to the axis's, and the axes' labels. */
static void put_units(FILE *out, bool si)
{
    fputs(si ? "flow(v) = v * 1000.0\nheat(v) = v / 1000.0\ntemperature(v) = v - 273.15\n"
               "moisture(v) = v * 1000.0\nstatic(v) = v * 1.0\n"
             : "flow(v) = v * 1.0\nheat(v) = v / 1000.0\ntemperature(v) = v * 1.0\n"
               "moisture(v) = v * 7000.0\nstatic(v) = v * 1.0\n",
          out);
    fputs(si ? "heat_key = 'w'\ntemperature_key = 'k'\nper_ton_key = 'm3_per_s_per_ton'\n"
               "airflow_key = 'm3_per_s'\nmoisture_key = 'kg_per_kg'\nstatic_key = 'pa'\n"
             : "heat_key = 'btuh'\ntemperature_key = 'f'\nper_ton_key = 'cfm_per_ton'\n"
               "airflow_key = 'cfm'\nmoisture_key = 'lb_per_lb'\nstatic_key = 'inwc'\n",
          out);
    plot_script_text(out, "label_heat", si ? "Heat, kW" : "Heat, 1000 Btu/h");
    plot_script_text(out, "unit_per_ton", si ? "L/s per ton" : "cfm per ton");
    plot_script_text(out, "label_static", si ? "External static, Pa" : "External static, inwc");
    plot_script_text(out, "label_moisture",
                     si ? "Moisture, g per kg dry air" : "Moisture, grains per lb dry air");
    plot_script_text(out, "unit_temperature",
                     si ? "\xc2\xb0"
                          "C"
                        : "\xc2\xb0"
                          "F");
}

static void put_header(FILE *out, const char *name, const char *reads, const char *title, bool si)
{
    plot_script_begin(out, name, reads, title);
    put_units(out, si);
}

typedef struct {
    job *j;
    out_request to; /* render: and gnuplot is there as far as we know */
} setting;

/* Ends the script and draws it. */
static exit_code finish(setting *s, const char *name, write_file *file)
{
    const bool good = plot_script_end(file->stream, name);
    if (!write_file_end(file, good) || !out_remove_pictures(s->to.dir, name)) return EXIT_SYSTEM;
    return out_draw(s->to.dir, name, s->to.format, &s->to.render);
}

/* ---- Curves crossing ------------------------------------------------------------- */

static bool write_curves(const setting *s, const explain_curves *c)
{
    static const column columns[] = {{"curve", Q_PLAIN},
                                     {"per_ton_airflow", Q_AIRFLOW_PER_TON},
                                     {"sat_suction", Q_TEMPERATURE},
                                     {"sat_discharge", Q_TEMPERATURE},
                                     {"tube", Q_TEMPERATURE},
                                     {"unit_takes", Q_HEAT},
                                     {"coil_gives", Q_HEAT},
                                     {"coil_sensible", Q_HEAT},
                                     {"coil_surface", Q_TEMPERATURE}};
    write_file file;
    csv_writer csv;
    if (!out_open(&file, s->to.dir, "crossing", "csv")) return false;
    csv_begin(&csv, file.stream);
    put_headings(&csv, columns, sizeof columns / sizeof columns[0], s->to.si);
    for (int i = 0; i < c->n; i++)
        for (int k = 0; k < c->curve[i].n; k++) {
            const ct_balance_trial *t = &c->curve[i].point[k];
            const double v[] = {i + 1,       c->point[i].V_std_per_ton,
                                t->Te,       t->Tc,
                                t->T_coil,   t->Q_unit,
                                t->Q_coil,   t->Q_coil_sens,
                                t->T_surface};
            for (size_t m = 0; m < sizeof v / sizeof v[0]; m++)
                csv_quantity(&csv, columns[m].q, v[m], EXACT, s->to.si);
            csv_end_row(&csv);
        }
    return write_file_end(&file, csv_good(&csv));
}

static bool write_crossings(const setting *s, const explain_curves *c)
{
    static const column columns[] = {{"curve", Q_PLAIN},
                                     {"per_ton_airflow", Q_AIRFLOW_PER_TON},
                                     {"sat_suction", Q_TEMPERATURE},
                                     {"sat_discharge", Q_TEMPERATURE},
                                     {"coil_total", Q_HEAT},
                                     {"coil_sensible", Q_HEAT},
                                     {"coil_latent", Q_HEAT},
                                     {"coil_surface", Q_TEMPERATURE}};
    write_file file;
    csv_writer csv;
    if (!out_open(&file, s->to.dir, "crossing_points", "csv")) return false;
    csv_begin(&csv, file.stream);
    put_headings(&csv, columns, sizeof columns / sizeof columns[0], s->to.si);
    for (int i = 0; i < c->n; i++) {
        const ct_balance *b = &c->point[i].balance;
        const double v[] = {
            i + 1,       c->point[i].V_std_per_ton, b->Te, b->Tc, b->Q, b->Q_sens, b->Q_lat,
            b->T_surface};
        for (size_t m = 0; m < sizeof v / sizeof v[0]; m++)
            csv_quantity(&csv, columns[m].q, v[m], EXACT, s->to.si);
        csv_end_row(&csv);
    }
    return write_file_end(&file, csv_good(&csv));
}

static exit_code draw_crossing(setting *s)
{
    write_file file;
    ct_fault fault;
    explain_curves *c = calloc(1, sizeof *c);
    if (!c) {
        complain("out of memory");
        return EXIT_SYSTEM;
    }
    exit_code code = EXIT_DONE;
    if (explain_curves_make(s->j, c, &fault) != CT_OK) code = complain_fault(&fault);
    if (code == EXIT_DONE && (!write_curves(s, c) || !write_crossings(s, c) ||
                              !out_open(&file, s->to.dir, "crossing", "gp")))
        code = EXIT_SYSTEM;
    if (code == EXIT_DONE) {
        put_header(file.stream, "crossing", "crossing.csv and crossing_points.csv",
                   s->j->c->job.title, s->to.si);
        fprintf(file.stream, "n_curves = %d\n", c->n);
        plot_script_text(file.stream, "label_flow",
                         s->to.si ? "Saturated suction, \xc2\xb0"
                                    "C"
                                  : "Saturated suction, \xc2\xb0"
                                    "F");
        code = finish(s, "crossing", &file);
    }
    free(c);
    return code;
}

/* ---- Psychrometric chart --------------------------------------------------------- */

static bool write_lines(const setting *s, const explain_chart *c)
{
    static const column columns[] = {{"kind", Q_PLAIN},
                                     {"value", Q_PLAIN},
                                     {"dry_bulb", Q_TEMPERATURE},
                                     {"moisture", Q_MOISTURE}};
    static const char *const kinds[] = {"saturation", "relative humidity", "wet bulb"};
    write_file file;
    csv_writer csv;
    if (!out_open(&file, s->to.dir, "psychro_lines", "csv")) return false;
    csv_begin(&csv, file.stream);
    csv_text(&csv, "line");
    csv_text(&csv, "kind");
    csv_text(&csv, s->to.si ? "rh_or_wet_bulb_k" : "rh_or_wet_bulb_f");
    csv_heading(&csv, columns[2].name, columns[2].q, s->to.si);
    csv_heading(&csv, columns[3].name, columns[3].q, s->to.si);
    csv_end_row(&csv);
    for (int i = 0; i < c->n_lines; i++)
        for (int k = 0; k < c->line[i].n; k++) {
            const chart_line *l = &c->line[i];
            csv_number(&csv, i, 0);
            csv_text(&csv, kinds[l->kind]);
            csv_quantity(&csv, l->kind == CHART_WET_BULB ? Q_TEMPERATURE : Q_FRACTION, l->value,
                         EXACT, s->to.si);
            csv_quantity(&csv, Q_TEMPERATURE, l->T[k], EXACT, s->to.si);
            csv_quantity(&csv, Q_MOISTURE, l->W[k], EXACT, s->to.si);
            csv_end_row(&csv);
        }
    return write_file_end(&file, csv_good(&csv));
}

static void put_state(csv_writer *csv, int series, const char *name, const char *state,
                      const ct_air *a, bool si)
{
    csv_number(csv, series, 0);
    csv_text(csv, name);
    csv_text(csv, state);
    csv_quantity(csv, Q_TEMPERATURE, a->T, EXACT, si);
    csv_quantity(csv, Q_MOISTURE, a->W, EXACT, si);
    csv_quantity(csv, Q_FRACTION, ct_air_rh(a), EXACT, si);
    csv_quantity(csv, Q_ENTHALPY_AIR, ct_air_h(a->T, a->W), EXACT, si);
    csv_end_row(csv);
}

static bool write_process(const setting *s, const explain_chart *c)
{
    write_file file;
    csv_writer csv;
    if (!out_open(&file, s->to.dir, "psychro_process", "csv")) return false;
    csv_begin(&csv, file.stream);
    csv_text(&csv, "series");
    csv_text(&csv, "name");
    csv_text(&csv, "state");
    csv_heading(&csv, "dry_bulb", Q_TEMPERATURE, s->to.si);
    csv_heading(&csv, "moisture", Q_MOISTURE, s->to.si);
    csv_heading(&csv, "relative_humidity", Q_FRACTION, s->to.si);
    csv_heading(&csv, "enthalpy", Q_ENTHALPY_AIR, s->to.si);
    csv_end_row(&csv);
    for (int i = 0; i < c->n_series; i++) {
        const ct_balance *b = &c->series[i].point.balance;
        const char *name = c->series[i].name;
        const ct_air adp = {b->ADP, ct_air_W_sat(b->ADP, b->in.p), b->in.p};
        put_state(&csv, i + 1, name, "return", &s->j->sweep.indoor, s->to.si);
        put_state(&csv, i + 1, name, "entering", &b->in, s->to.si);
        put_state(&csv, i + 1, name, "leaving", &b->out, s->to.si);
        put_state(&csv, i + 1, name, "supply", &b->supply, s->to.si);
        if (b->has_adp) put_state(&csv, i + 1, name, "apparatus", &adp, s->to.si);
    }
    return write_file_end(&file, csv_good(&csv));
}

static void put_chart_name(FILE *out, int i, const chart_line *l, const explain_chart *c, bool si)
{
    char text[32];
    const double value =
        l->kind == CHART_WET_BULB ? on_axis(Q_TEMPERATURE, l->value, si) : 100.0 * l->value;
    double T = l->T[0], W = l->W[0];
    if (l->kind != CHART_WET_BULB) chart_label_place(l, c->W_high, &T, &W);
    snprintf(text, sizeof text, l->kind == CHART_WET_BULB ? "%.0f\xc2\xb0" : "%.0f %%", value);
    if (l->kind == CHART_SATURATION || W < c->W_low + 0.08 * (c->W_high - c->W_low)) return;
    fprintf(out, "set label %d ", 200 + i);
    gnuplot_quote(out, text, 0);
    fprintf(out,
            " at first %.4f,second %.4f %s offset %s textcolor rgb '#505050' font chart_font\n",
            on_axis(Q_TEMPERATURE, T, si), on_axis(Q_MOISTURE, W, si),
            l->kind == CHART_WET_BULB ? "right" : "center",
            l->kind == CHART_WET_BULB ? "-0.6,0.8" : "0,0 boxed front");
}

static void put_chart(FILE *out, const explain_chart *c, bool si)
{
    fprintf(out, "n_series = %d\nn_lines = %d\n", c->n_series, c->n_lines);
    plot_script_value(out, "x_low", on_axis(Q_TEMPERATURE, c->T_low, si));
    plot_script_value(out, "x_high", on_axis(Q_TEMPERATURE, c->T_high, si));
    plot_script_value(out, "y_low", on_axis(Q_MOISTURE, c->W_low, si));
    plot_script_value(out, "y_high", on_axis(Q_MOISTURE, c->W_high, si));
    plot_script_text(out, "label_flow",
                     si ? "Dry bulb, \xc2\xb0"
                          "C"
                        : "Dry bulb, \xc2\xb0"
                          "F");
    fputs("chart_font = exists('format') && format eq 'pdf' ? ',8' : "
          "exists('format') && format eq 'svg' ? ',19' : ',14.5'\n",
          out);
    for (int i = 0; i < c->n_lines; i++)
        put_chart_name(out, i, &c->line[i], c, si);
    for (int i = 0; i < c->n_series; i++) {
        char variable[24];
        snprintf(variable, sizeof variable, "name_%d", i + 1);
        plot_script_text(out, variable, c->series[i].name);
    }
}

static exit_code draw_psychro(setting *s)
{
    write_file file;
    ct_fault fault;
    explain_chart *c = calloc(1, sizeof *c);
    if (!c) {
        complain("out of memory");
        return EXIT_SYSTEM;
    }
    exit_code code = EXIT_DONE;
    if (explain_chart_make(s->j, s->to.si, c, &fault) != CT_OK) code = complain_fault(&fault);
    if (code == EXIT_DONE && (!write_lines(s, c) || !write_process(s, c) ||
                              !out_open(&file, s->to.dir, "psychro", "gp")))
        code = EXIT_SYSTEM;
    if (code == EXIT_DONE) {
        put_header(file.stream, "psychro", "psychro_lines.csv and psychro_process.csv",
                   s->j->c->job.title, s->to.si);
        put_chart(file.stream, c, s->to.si);
        code = finish(s, "psychro", &file);
    }
    free(c);
    return code;
}

/* ---- Blower against the ducts ---------------------------------------------------- */

static void put_blower_point(csv_writer *csv, int series, const char *name,
                             const ct_blower_point *p, bool si)
{
    csv_number(csv, series, 0);
    csv_text(csv, name);
    csv_quantity(csv, Q_AIRFLOW, p->V, EXACT, si);
    csv_quantity(csv, Q_STATIC, p->dp, EXACT, si);
    csv_quantity(csv, Q_ELECTRIC, p->P, EXACT, si);
    csv_number(csv, p->over_limit, 0);
    csv_end_row(csv);
}

static void begin_blower(csv_writer *csv, FILE *stream, bool si)
{
    csv_begin(csv, stream);
    csv_text(csv, "series");
    csv_text(csv, "name");
    csv_heading(csv, "airflow", Q_AIRFLOW, si);
    csv_heading(csv, "static", Q_STATIC, si);
    csv_heading(csv, "blower", Q_ELECTRIC, si);
    csv_text(csv, "past_table_or_limit");
    csv_end_row(csv);
}

/* Series 0 is the ducts, 1 and up the taps. */
static bool write_blower_curves(const setting *s, const explain_blower *b)
{
    write_file file;
    csv_writer csv;
    const ct_blower *blower = &s->j->sweep.blower;
    if (!out_open(&file, s->to.dir, "blower", "csv")) return false;
    begin_blower(&csv, file.stream, s->to.si);
    for (int k = 0; k < b->n_duct; k++)
        put_blower_point(&csv, 0, "ducts", &b->duct[k], s->to.si);
    for (int i = 0; i < blower->n_taps; i++)
        for (int k = 0; k < b->n_curve[i]; k++)
            put_blower_point(&csv, i + 1, blower->tap[i].name, &b->curve[i][k], s->to.si);
    return write_file_end(&file, csv_good(&csv));
}

static bool write_blower_points(const setting *s, const explain_blower *b)
{
    write_file file;
    csv_writer csv;
    const ct_blower *blower = &s->j->sweep.blower;
    if (!out_open(&file, s->to.dir, "blower_points", "csv")) return false;
    begin_blower(&csv, file.stream, s->to.si);
    for (int i = 0; i < blower->n_taps; i++)
        if (b->meets[i]) put_blower_point(&csv, i + 1, blower->tap[i].name, &b->meet[i], s->to.si);
    return write_file_end(&file, csv_good(&csv));
}

static exit_code draw_blower(setting *s)
{
    write_file file;
    const ct_blower *blower = &s->j->sweep.blower;
    explain_blower *b;
    if (!s->j->sweep.has_duct || blower->n_taps == 0) return EXIT_DONE;
    b = calloc(1, sizeof *b);
    if (!b) {
        complain("out of memory");
        return EXIT_SYSTEM;
    }
    explain_blower_make(blower, &s->j->sweep.duct, b);
    int n_points = 0;
    for (int i = 0; i < blower->n_taps; i++)
        n_points += b->meets[i];
    exit_code code = EXIT_DONE;
    if (!write_blower_curves(s, b) || !write_blower_points(s, b) ||
        !out_open(&file, s->to.dir, "blower", "gp"))
        code = EXIT_SYSTEM;
    free(b);
    if (code != EXIT_DONE) return code;
    put_header(file.stream, "blower", "blower.csv and blower_points.csv", s->j->c->job.title,
               s->to.si);
    fprintf(file.stream, "n_taps = %d\nn_points = %d\n", blower->n_taps, n_points);
    plot_script_value(file.stream, "limit", on_axis(Q_STATIC, blower->dp_max, s->to.si));
    plot_script_text(file.stream, "label_flow", s->to.si ? "Airflow, L/s" : "Airflow, cfm");
    return finish(s, "blower", &file);
}

exit_code explain_files(job *j, const out_request *to)
{
    setting s = {j, *to};
    if (!out_folder(to->dir)) return EXIT_SYSTEM;
    exit_code code = draw_crossing(&s);
    if (code == EXIT_DONE) code = draw_psychro(&s);
    return code == EXIT_DONE ? draw_blower(&s) : code;
}
