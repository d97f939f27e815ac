#include "explain/picture.h"

#include <stdlib.h>

#include "base/complain.h"
#include "explain/taps.h"
#include "show/plot_script.h"

static void put_blower_point(csv_writer *csv, int series, const char *name,
                             const ct_blower_point *p, bool si)
{
    csv_number(csv, series, 0);
    csv_quantity(csv, Q_AIRFLOW, p->V, EXACT, si);
    csv_quantity(csv, Q_STATIC, p->dp, EXACT, si);
    csv_quantity(csv, Q_ELECTRIC, p->P, EXACT, si);
    csv_number(csv, p->over_limit, 0);
    csv_text(csv, name);
    csv_end_row(csv);
}

static void begin_blower(csv_writer *csv, FILE *stream, bool si)
{
    csv_begin(csv, stream);
    csv_text(csv, "series");
    csv_heading(csv, "airflow", Q_AIRFLOW, si);
    csv_heading(csv, "static", Q_STATIC, si);
    csv_heading(csv, "blower", Q_ELECTRIC, si);
    csv_text(csv, "past_table_or_limit");
    csv_text(csv, "name"); /* last: gnuplot loses count at a name with quotes */
    csv_end_row(csv);
}

/* Series 0 is the ducts, 1 and up the taps, -1 and down the same taps past their tables. */
static bool write_blower_curves(const picture *s, const explain_taps *b)
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
    for (int i = 0; i < blower->n_taps; i++)
        for (int k = 0; k < b->n_beyond[i]; k++)
            put_blower_point(&csv, -i - 1, blower->tap[i].name, &b->beyond[i][k], s->to.si);
    return write_file_end(&file, csv_good(&csv));
}

static bool write_blower_points(const picture *s, const explain_taps *b)
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

exit_code picture_taps(picture *s)
{
    write_file file;
    const ct_blower *blower = &s->j->sweep.blower;
    explain_taps *b;
    if (!s->j->sweep.has_duct || blower->n_taps == 0) return EXIT_DONE;
    b = calloc(1, sizeof *b);
    if (!b) {
        complain("out of memory");
        return EXIT_SYSTEM;
    }
    explain_taps_make(blower, &s->j->sweep.duct, b);
    int n_points = 0, n_beyond = 0;
    for (int i = 0; i < blower->n_taps; i++) {
        n_points += b->meets[i];
        n_beyond += b->n_beyond[i] > 0;
    }
    exit_code code = EXIT_DONE;
    if (!write_blower_curves(s, b) || !write_blower_points(s, b) ||
        !out_open(&file, s->to.dir, "blower", "gp"))
        code = EXIT_SYSTEM;
    free(b);
    if (code != EXIT_DONE) return code;
    picture_begin(file.stream, "blower", "blower.csv and blower_points.csv", s->j->c->job.title,
                  s->to.si);
    fprintf(file.stream, "n_taps = %d\nn_points = %d\nn_beyond = %d\n", blower->n_taps, n_points,
            n_beyond);
    plot_script_value(file.stream, "limit", picture_on_axis(Q_STATIC, blower->dp_max, s->to.si));
    for (int i = 0; i < blower->n_taps; i++) {
        char variable[24];
        snprintf(variable, sizeof variable, "name_%d", i + 1);
        plot_script_text(file.stream, variable, blower->tap[i].name);
    }
    plot_script_text(file.stream, "label_flow", s->to.si ? "Airflow, L/s" : "Airflow, cfm");
    return picture_end(s, "blower", &file);
}
