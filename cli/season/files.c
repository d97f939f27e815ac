#include "season/files.h"

#include <math.h>
#include <stdio.h>

#include "base/complain.h"
#include "season/columns.h"
#include "show/csv.h"
#include "show/plot_script.h"

enum { DIGITS = 9, CURVE = 201, KEY_SIZE = 48 };

/* ---- A row for each speed -------------------------------------------------------- */

static bool write_speeds(FILE *out, const season_result *r)
{
    csv_writer csv;
    csv_begin(&csv, out);
    csv_text(&csv, "speed");
    csv_text(&csv, "pick");
    for (int k = 0; k < SEASON_COLUMNS; k++)
        csv_heading(&csv, season_columns[k].name, season_columns[k].q, r->si);
    csv_end_row(&csv);
    for (int i = 0; i < r->n; i++) {
        csv_text(&csv, r->speed[i].name);
        csv_number(&csv, i == r->picked, 1);
        for (int k = 0; k < SEASON_COLUMNS; k++)
            csv_quantity(&csv, season_columns[k].q, season_column_value(r, &r->speed[i], k), DIGITS,
                         r->si);
        csv_end_row(&csv);
    }
    return csv_good(&csv);
}

/* ---- A row for each hour --------------------------------------------------------- */

static void put_speed_heading(csv_writer *csv, const char *name, int i)
{
    char key[KEY_SIZE];
    snprintf(key, sizeof key, "%s_%d", name, i + 1);
    csv_text(csv, key);
}

static void put_hour(csv_writer *csv, const season_result *r, int k)
{
    const ct_weather_hour *h = &r->weather.hour[k];
    csv_number(csv, k + 1, DIGITS);
    csv_number(csv, h->hours, DIGITS);
    csv_quantity(csv, Q_TEMPERATURE, h->T, DIGITS, r->si);
    csv_quantity(csv, Q_MOISTURE, h->W, DIGITS, r->si);
    csv_number(csv, r->counted[k], 1);
    for (int i = 0; i < r->n; i++) {
        const bool good = r->speed[i].status == CT_OK;
        csv_quantity(csv, Q_FRACTION,
                     good && season_knows_humidity(r) ? r->speed[i].rh[k] : (double)NAN, 6, r->si);
        csv_quantity(csv, Q_FRACTION, good ? r->speed[i].run[k] : (double)NAN, 6, r->si);
    }
    csv_end_row(csv);
}

static bool write_hours(FILE *out, const season_result *r)
{
    csv_writer csv;
    csv_begin(&csv, out);
    csv_text(&csv, "line");
    csv_text(&csv, "hours");
    csv_heading(&csv, "outdoor_dry_bulb", Q_TEMPERATURE, r->si);
    csv_heading(&csv, "outdoor_moisture", Q_MOISTURE, r->si);
    csv_text(&csv, "counted");
    for (int i = 0; i < r->n; i++) {
        put_speed_heading(&csv, "rh", i);
        put_speed_heading(&csv, "run", i);
    }
    csv_end_row(&csv);
    for (int k = 0; k < r->weather.n; k++)
        put_hour(&csv, r, k);
    return csv_good(&csv);
}

/* ---- How long it is damper than that --------------------------------------------- */

typedef struct {
    double rh[SEASON_SPEEDS][CURVE];
    bool has[SEASON_SPEEDS];
} durations;

/* False: memory, the message is out. */
static bool work_out_durations(const season_result *r, durations *d)
{
    for (int i = 0; i < r->n; i++) {
        ct_fault fault;
        const ct_season_trace trace = {r->speed[i].rh, r->speed[i].run, r->counted};
        d->has[i] = r->speed[i].status == CT_OK && season_knows_humidity(r);
        if (!d->has[i]) continue;
        const ct_status status = ct_season_duration(&r->weather, &trace, CURVE, d->rh[i], &fault);
        d->has[i] = status == CT_OK;
        if (status == CT_SYSTEM) {
            complain_fault(&fault);
            return false;
        }
    }
    return true;
}

static bool put_durations(FILE *out, const season_result *r, const durations *d)
{
    csv_writer csv;
    csv_begin(&csv, out);
    csv_text(&csv, "share_of_hours");
    for (int i = 0; i < r->n; i++)
        put_speed_heading(&csv, "rh", i);
    csv_end_row(&csv);
    for (int k = 0; k < CURVE; k++) {
        csv_number(&csv, k / (CURVE - 1.0), DIGITS);
        for (int i = 0; i < r->n; i++)
            csv_quantity(&csv, Q_FRACTION, d->has[i] ? d->rh[i][k] : (double)NAN, 6, r->si);
        csv_end_row(&csv);
    }
    return csv_good(&csv);
}

static bool write_durations(FILE *out, const season_result *r)
{
    static const durations none;
    durations d = none;
    return work_out_durations(r, &d) && put_durations(out, r, &d);
}

/* ---- Picture --------------------------------------------------------------------- */

static void put_drawn(FILE *out, const season_result *r, int k)
{
    static const char *const which[] = {"a", "b"};
    char variable[KEY_SIZE], column[KEY_SIZE], name[SHOWN_SIZE + KEY_SIZE] = "";
    const int i = r->drawn[k];
    if (i >= 0)
        snprintf(name, sizeof name, "%s%s", r->speed[i].name, i == r->picked ? ", the pick" : "");
    snprintf(variable, sizeof variable, "name_%s", which[k]);
    plot_script_text(out, variable, name);
    snprintf(variable, sizeof variable, "col_%s", which[k]);
    snprintf(column, sizeof column, "rh_%d", i + 1);
    plot_script_text(out, variable, column);
}

static bool write_script(FILE *out, const season_result *r)
{
    const ct_maybe ceiling = r->j->c->house.rh_ceiling;
    plot_script_begin(out, "season_rh", "season_hours.csv and season_duration.csv",
                      r->j->c->job.title);
    plot_script_units(out, r->si);
    fprintf(out, "hourly = %d\nhas_b = %d\nhas_ceiling = %d\n", r->weather.hourly, r->drawn[1] >= 0,
            ceiling.has);
    plot_script_value(out, "ceiling", ceiling.has ? 100 * ceiling.v : 0);
    plot_script_column(out, "col_outdoor", "outdoor_dry_bulb", Q_TEMPERATURE, r->si);
    put_drawn(out, r, 0);
    put_drawn(out, r, 1);
    return plot_script_end(out, "season_rh");
}

static bool write_one(const out_request *to, const season_result *r, const char *name,
                      const char *ending, bool (*write)(FILE *, const season_result *))
{
    write_file file;
    return out_open(&file, to->dir, name, ending) && write_file_end(&file, write(file.stream, r));
}

/* Two hours that count make a curve. */
static bool can_draw(const season_result *r)
{
    int n = 0;
    for (int k = 0; season_knows_humidity(r) && r->drawn[0] >= 0 && k < r->weather.n; k++)
        n += r->counted[k];
    return n >= 2;
}

exit_code season_files_write(const out_request *to, const season_result *r)
{
    bool render = to->render;
    if (!out_folder(to->dir) || !out_remove_pictures(to->dir, "season_rh") ||
        !write_one(to, r, "season", "csv", write_speeds) ||
        !write_one(to, r, "season_hours", "csv", write_hours) ||
        !write_one(to, r, "season_duration", "csv", write_durations))
        return EXIT_SYSTEM;
    if (can_draw(r))
        return write_one(to, r, "season_rh", "gp", write_script)
                   ? out_draw(to->dir, "season_rh", to->format, &render)
                   : EXIT_SYSTEM;
    complain("%s: no season plot: %s", to->dir,
             season_knows_humidity(r) ? "fewer than two hours of the season need cooling"
                                      : "the humidity of the house needs house.infiltration");
    return out_remove(to->dir, "season_rh", "gp") ? EXIT_DONE : EXIT_SYSTEM;
}
