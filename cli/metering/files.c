#include "metering/files.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#include "base/complain.h"
#include "show/csv.h"
#include "show/json_out.h"
#include "show/limit_words.h"
#include "show/note_words.h"
#include "show/plot_script.h"
#include "show/verdict.h"

enum { DIGITS = 9, KEY_SIZE = 64 };

/* ---- Columns --------------------------------------------------------------------- */

/* What is given of each balance of a series. */
static const struct {
    const char *name;
    quantity q;
    size_t offset;
} columns[] = {
    {"superheat", Q_DELTA_T, offsetof(ct_balance, superheat)},
    {"quality_out", Q_FRACTION, offsetof(ct_balance, quality_out)},
    {"net_total", Q_HEAT, offsetof(ct_balance, Q_net)},
    {"net_sensible", Q_HEAT, offsetof(ct_balance, Q_sens_net)},
    {"net_latent", Q_HEAT, offsetof(ct_balance, Q_lat)},
    {"sat_suction", Q_TEMPERATURE, offsetof(ct_balance, Te)},
    {"sat_discharge", Q_TEMPERATURE, offsetof(ct_balance, Tc)},
    {"eer", Q_EER, offsetof(ct_balance, EER)},
};
enum { COLUMNS = sizeof columns / sizeof columns[0] };

static const char *const kind_name[KINDS] = {[VALVE] = "valve", [PISTON] = "piston"};

static double column_value(int i, const ct_study_point *p)
{
    double v = NAN;
    if (p->status == CT_OK) memcpy(&v, (const char *)&p->balance + columns[i].offset, sizeof v);
    return v;
}

static void put_point(csv_writer *csv, const ct_study_point *p, bool si)
{
    for (int i = 0; i < COLUMNS; i++)
        csv_quantity(csv, columns[i].q, column_value(i, p), DIGITS, si);
}

static void put_column_keys(csv_writer *csv, const char *before, bool si)
{
    char name[KEY_SIZE];
    for (int i = 0; i < COLUMNS; i++) {
        snprintf(name, sizeof name, "%s%s", before, columns[i].name);
        csv_heading(csv, name, columns[i].q, si);
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
    plot_script_text(out, "unit_superheat",
                     si ? "K"
                        : "\xc2\xb0"
                          "F");
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

/* ---- JSON ------------------------------------------------------------------------ */

/* The points of a study by what was stepped. */
typedef struct {
    const char *name, *x; /* of the list, and of what was stepped */
    quantity q;           /* of x */
    const ct_study_point *points;
    int n;
} series;

static bool put_series(json_t *root, const series *s, bool si)
{
    json_t *list = open_array(root, s->name);
    if (!list) return false;
    for (int k = 0; k < s->n; k++) {
        const ct_study_point *p = &s->points[k];
        json_t *one = open_item(list);
        if (!one || !put_value(one, s->x, s->q, p->x, si) || !put_some_text(one, "why", p->why))
            return false;
        for (int i = 0; i < COLUMNS; i++)
            if (!put_value(one, columns[i].name, columns[i].q, column_value(i, p), si))
                return false;
    }
    return true;
}

static bool put_device(json_t *root, const metering_study *s, bool si)
{
    const ct_balance *b = &s->row.at.point.balance;
    json_t *o = open_object(root, "device");
    if (!o || !put_some_text(o, "kind", kind_name[s->kind]) ||
        !put_some_text(o, "state", meter_token(s->row.at.point.meter)) ||
        !put_value(o, "superheat", Q_DELTA_T, b->superheat, si) ||
        !put_value(o, "quality_out", Q_FRACTION, b->quality_out, si) ||
        !put_value(o, "flow", Q_WATER_RATE, b->m_r, si) ||
        !put_value(o, "target_superheat", Q_DELTA_T, s->has_target ? s->target : (double)NAN, si))
        return false;
    if (s->kind == CT_METER_ORIFICE)
        return put_value(o, "bore", Q_BORE, s->sweep.system.meter.orifice.bore, si);
    return !s->valve.has || (put_value(o, "valve_share", Q_FRACTION, s->valve.out.share, si) &&
                             put_value(o, "pressure_drop", Q_PRESSURE_DROP, s->valve.dp, si) &&
                             put_value(o, "opening", Q_FRACTION, s->valve.out.opening, si));
}

static bool put_nearest(json_t *o, const char *name, const bore_showing *b, bool si)
{
    if (!b->has) return true;
    json_t *n = open_object(o, name);
    return n && put_value(n, "bore", Q_BORE, b->bore, si) && put_some_text(n, "why", b->why) &&
           (b->status != CT_OK ||
            (put_value(n, "superheat", Q_DELTA_T, b->balance.superheat, si) &&
             put_value(n, "quality_out", Q_FRACTION, b->balance.quality_out, si)));
}

static bool put_bore(json_t *root, const metering_study *s, bool si)
{
    json_t *o = open_object(root, "piston_size");
    if (!o || !put_value(o, "superheat", Q_DELTA_T, s->wanted.superheat, si) ||
        !put_value(o, "length", Q_BORE, s->wanted.length, si))
        return false;
    if (!s->has_bore) return put_some_text(o, "why", s->why_no_bore);
    return put_value(o, "bore", Q_BORE, s->bore.bore, si) &&
           put_nearest(o, "below", &s->below, si) && put_nearest(o, "above", &s->above, si);
}

static bool put_one_off(json_t *list, const ct_charge_point *p, bool si)
{
    json_t *o = json_object();
    bool good = o && json_array_append_new(list, o) == 0 &&
                put_value(o, "off", Q_FRACTION, p->off, si) &&
                put_value(o, "measured_capacity", Q_FRACTION, p->measured_capacity, si) &&
                put_value(o, "measured_power", Q_FRACTION, p->measured_power, si);
    return good && (!p->has || (put_value(o, "subcooling", Q_DELTA_T, p->subcooling, si) &&
                                put_value(o, "capacity", Q_FRACTION, p->capacity, si) &&
                                put_value(o, "power", Q_FRACTION, p->power, si)));
}

static bool put_off(json_t *root, const metering_study *s, bool si)
{
    json_t *list = s->has_off ? open_array(root, "charge_off") : NULL;
    bool good = !s->has_off || list;
    for (int i = 0; good && s->has_off && i < OFF; i++)
        good = put_one_off(list, &s->off[i], si);
    return good;
}

json_t *metering_json(const metering_study *s, bool si)
{
    const verdict v = verdict_of(s->j->c, s->j->refrigerant, &s->j->c->indoor[s->unit], si);
    json_t *root = json_object();
    bool good =
        root && put_some_text(root, "unit", s->j->c->indoor[s->unit].name) &&
        put_device(root, s, si) && put_bore(root, s, si) && verdict_put(root, &v) &&
        put_notes(root, s->row.at.point.notes, si) && outlook_put(root, &s->outlook, si) &&
        put_series(root, &(series){"charge", "subcooling", Q_DELTA_T, s->charge, CHARGES}, si) &&
        put_off(root, s, si);
    for (int kind = 0; good && kind < KINDS; kind++)
        if (metering_has_kind(s, kind))
            good = put_series(root,
                              &(series){kind_name[kind], "outdoor_dry_bulb", Q_TEMPERATURE,
                                        s->outdoors[kind], OUTDOORS},
                              si);
    return json_when(good, root);
}
