#include "explain/picture.h"

#include <stdlib.h>

#include "base/complain.h"
#include "base/gnuplot.h"
#include "explain/chart.h"
#include "fluid/air.h"
#include "show/plot_script.h"

static bool write_lines(const picture *s, const explain_chart *c)
{
    static const picture_column columns[] = {{"kind", Q_PLAIN},
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
    csv_text(csv, state);
    csv_quantity(csv, Q_TEMPERATURE, a->T, EXACT, si);
    csv_quantity(csv, Q_MOISTURE, a->W, EXACT, si);
    csv_quantity(csv, Q_FRACTION, ct_air_rh(a), EXACT, si);
    csv_quantity(csv, Q_ENTHALPY_AIR, ct_air_h(a->T, a->W), EXACT, si);
    csv_text(csv, name);
    csv_end_row(csv);
}

static bool write_process(const picture *s, const explain_chart *c)
{
    write_file file;
    csv_writer csv;
    if (!out_open(&file, s->to.dir, "psychro_process", "csv")) return false;
    csv_begin(&csv, file.stream);
    csv_text(&csv, "series");
    csv_text(&csv, "state");
    csv_heading(&csv, "dry_bulb", Q_TEMPERATURE, s->to.si);
    csv_heading(&csv, "moisture", Q_MOISTURE, s->to.si);
    csv_heading(&csv, "relative_humidity", Q_FRACTION, s->to.si);
    csv_heading(&csv, "enthalpy", Q_ENTHALPY_AIR, s->to.si);
    csv_text(&csv, "name"); /* last: gnuplot loses count at a name with quotes */
    csv_end_row(&csv);
    for (int i = 0; i < c->n_series; i++) {
        const ct_balance *b = &c->series[i].point.balance;
        const char *name = c->series[i].name;
        put_state(&csv, i + 1, name, "return", &s->j->sweep.indoor, s->to.si);
        put_state(&csv, i + 1, name, "entering", &b->in, s->to.si);
        put_state(&csv, i + 1, name, "leaving", &b->out, s->to.si);
        put_state(&csv, i + 1, name, "supply", &b->supply, s->to.si);
        if (!b->has_adp) continue;
        const ct_air adp = {b->ADP, ct_air_W_sat(b->ADP, b->in.p), b->in.p};
        put_state(&csv, i + 1, name, "apparatus", &adp, s->to.si);
    }
    return write_file_end(&file, csv_good(&csv));
}

static void put_chart_name(FILE *out, int i, const chart_line *l, const explain_chart *c, bool si)
{
    char text[32];
    const double value =
        l->kind == CHART_WET_BULB ? picture_on_axis(Q_TEMPERATURE, l->value, si) : 100.0 * l->value;
    double T = l->T[0], W = l->W[0];
    if (l->kind != CHART_WET_BULB) chart_label_place(l, c->W_high, &T, &W);
    snprintf(text, sizeof text, l->kind == CHART_WET_BULB ? "%.0f\xc2\xb0" : "%.0f%%", value);
    if (l->kind == CHART_SATURATION || W < c->W_low + 0.08 * (c->W_high - c->W_low)) return;
    fprintf(out, "set label %d ", 200 + i);
    gnuplot_quote(out, text, 0);
    fprintf(out,
            " at first %.4f,second %.4f %s offset %s textcolor rgb '#505050' font chart_font\n",
            picture_on_axis(Q_TEMPERATURE, T, si), picture_on_axis(Q_MOISTURE, W, si),
            l->kind == CHART_WET_BULB ? "right" : "center",
            l->kind == CHART_WET_BULB ? "-0.6,0.8" : "0,0 boxed front");
}

/* Its name, and where its path points to. */
static void put_series(FILE *out, int i, const chart_series *series, bool si)
{
    const ct_balance *b = &series->point.balance;
    char variable[24];
    snprintf(variable, sizeof variable, "name_%d", i + 1);
    plot_script_text(out, variable, series->name);
    if (!b->has_adp) return;
    fprintf(out, "onward_%d = 'from first %.4f,second %.4f to first %.4f,second %.4f'\n", i + 1,
            picture_on_axis(Q_TEMPERATURE, b->out.T, si), picture_on_axis(Q_MOISTURE, b->out.W, si),
            picture_on_axis(Q_TEMPERATURE, b->ADP, si),
            picture_on_axis(Q_MOISTURE, ct_air_W_sat(b->ADP, b->in.p), si));
}

/* `before_coil`: the blower, whose heat moves the air along a level. */
static void put_chart(FILE *out, const explain_chart *c, bool before_coil, bool si)
{
    plot_script_text(out, "past_blower", before_coil ? "entering" : "supply");
    fprintf(out, "n_series = %d\nn_lines = %d\n", c->n_series, c->n_lines);
    plot_script_value(out, "x_low", picture_on_axis(Q_TEMPERATURE, c->T_low, si));
    plot_script_value(out, "x_high", picture_on_axis(Q_TEMPERATURE, c->T_high, si));
    plot_script_value(out, "y_low", picture_on_axis(Q_MOISTURE, c->W_low, si));
    plot_script_value(out, "y_high", picture_on_axis(Q_MOISTURE, c->W_high, si));
    plot_script_degrees(out, "label_flow", "Dry bulb", si);
    fputs("chart_font = exists('format') && format eq 'pdf' ? ',8' : "
          "exists('format') && format eq 'svg' ? ',20.5' : ',14.5'\n",
          out);
    for (int i = 0; i < c->n_lines; i++)
        put_chart_name(out, i, &c->line[i], c, si);
    for (int i = 0; i < c->n_series; i++)
        put_series(out, i, &c->series[i], si);
}

exit_code picture_psychro(picture *s)
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
        picture_begin(file.stream, "psychro", "psychro_lines.csv and psychro_process.csv",
                      s->j->c->job.title, s->to.si);
        put_chart(file.stream, c, s->j->sweep.system.before_coil, s->to.si);
        code = picture_end(s, "psychro", &file);
    }
    free(c);
    return code;
}
