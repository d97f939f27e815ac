#include "metering/files.h"

#include "base/complain.h"
#include "metering/columns.h"
#include "show/csv.h"
#include "show/plot_script.h"

enum { DIGITS = 9, KEY_SIZE = 64 };

/* ---- Columns --------------------------------------------------------------------- */

static void put_point(csv_writer *csv, const ct_study_point *p, bool si)
{
    for (int i = 0; i < METERING_COLUMNS; i++)
        csv_quantity(csv, metering_column_at(i)->q, metering_value(i, p), DIGITS, si);
}

static void put_column_keys(csv_writer *csv, const char *before, bool si)
{
    char name[KEY_SIZE];
    for (int i = 0; i < METERING_COLUMNS; i++) {
        snprintf(name, sizeof name, "%s%s", before, metering_column_at(i)->name);
        csv_heading(csv, name, metering_column_at(i)->q, si);
    }
}

static bool write_outdoors(FILE *out, const metering_study *s, bool si)
{
    csv_writer csv;
    csv_begin(&csv, out);
    csv_heading(&csv, "outdoor_dry_bulb", Q_TEMPERATURE, si);
    put_column_keys(&csv, "valve_", si);
    put_column_keys(&csv, "piston_", si);
    csv_end_row(&csv);
    for (int i = 0; i < OUTDOORS; i++) {
        csv_quantity(&csv, Q_TEMPERATURE, s->outdoors[s->kind][i].x, DIGITS, si);
        for (int kind = 0; kind < KINDS; kind++) {
            const ct_study_point absent = {.status = CT_NO_ROOT};
            put_point(&csv, metering_has_kind(s, kind) ? &s->outdoors[kind][i] : &absent, si);
        }
        csv_end_row(&csv);
    }
    return csv_good(&csv);
}

static bool write_charge(FILE *out, const metering_study *s, bool si)
{
    csv_writer csv;
    csv_begin(&csv, out);
    csv_heading(&csv, "subcooling", Q_DELTA_T, si);
    put_column_keys(&csv, "", si);
    csv_end_row(&csv);
    for (int i = 0; i < CHARGES; i++) {
        csv_quantity(&csv, Q_DELTA_T, s->charge[i].x, DIGITS, si);
        put_point(&csv, &s->charge[i], si);
        csv_end_row(&csv);
    }
    return csv_good(&csv);
}

static bool write_csv(const out_request *to, const metering_study *s, const char *name,
                      bool (*write)(FILE *, const metering_study *, bool))
{
    write_file file;
    return out_open(&file, to->dir, name, "csv") &&
           write_file_end(&file, write(file.stream, s, to->si));
}

/* ---- Picture --------------------------------------------------------------------- */

static bool write_script(FILE *out, const metering_study *s, bool si)
{
    plot_script_begin(out, "superheat", "metering.csv", s->j->c->job.title);
    plot_script_units(out, si);
    plot_script_column(out, "col_outdoor", "outdoor_dry_bulb", Q_TEMPERATURE, si);
    plot_script_column(out, "col_valve", "valve_superheat", Q_DELTA_T, si);
    plot_script_column(out, "col_piston", "piston_superheat", Q_DELTA_T, si);
    plot_script_text(out, "col_valve_quality", "valve_quality_out");
    plot_script_text(out, "col_piston_quality", "piston_quality_out");
    plot_script_text(out, "unit_superheat", si ? "K" : plot_script_degree(si));
    plot_script_value(out, "design_day",
                      quantity_show(quantity_for_people(Q_TEMPERATURE, si), s->at.T_out));
    return plot_script_end(out, "superheat");
}

/* A picture needs both lines; else an earlier one must not stay. */
static bool has_both_lines(const metering_study *s)
{
    for (int kind = 0; kind < KINDS; kind++) {
        int n = 0;
        for (int i = 0; metering_has_kind(s, kind) && i < OUTDOORS; i++)
            n += s->outdoors[kind][i].status == CT_OK;
        if (n < 2) return false;
    }
    return true;
}

static exit_code draw(const out_request *to, const metering_study *s)
{
    write_file file;
    bool render = to->render;
    if (!out_open(&file, to->dir, "superheat", "gp") ||
        !write_file_end(&file, write_script(file.stream, s, to->si)))
        return EXIT_SYSTEM;
    return out_draw(to->dir, "superheat", to->format, &render);
}

exit_code metering_files_write(const out_request *to, const metering_study *s)
{
    if (!out_folder(to->dir) || !out_remove_pictures(to->dir, "superheat") ||
        !write_csv(to, s, "metering", write_outdoors) ||
        !write_csv(to, s, "subcooling", write_charge))
        return EXIT_SYSTEM;
    if (has_both_lines(s)) return draw(to, s);
    complain("%s: no superheat plot: fewer than two outdoor temperatures balance with each device",
             to->dir);
    return out_remove(to->dir, "superheat", "gp") ? EXIT_DONE : EXIT_SYSTEM;
}
