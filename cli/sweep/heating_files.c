#include "sweep/heating_files.h"

#include <math.h>

#include "judge/heating.h"
#include "show/csv.h"
#include "show/plot_script.h"

enum { DAYS = 4, AIRFLOWS = 26, DIGITS = 9, NAME_SIZE = 64 };

#define FIRST_PER_TON (250.0 * CT_M3S_PER_CFM)
#define LAST_PER_TON (500.0 * CT_M3S_PER_CFM)

typedef struct {
    double T_out, T_in; /* K */
} day;

/* The two ratings' outdoors, one between, and the warmest day it heats. */
static void days_of(const ct_sweep_job *job, day days[DAYS])
{
    const ct_heat_pump_spec *h = &job->c->outdoor.heat_pump;
    days[0] = (day){CT_HEATING_T_COLD, CT_HEATING_T_IN};
    days[1] = (day){ct_K_from_F(35.0), CT_HEATING_T_IN};
    days[2] = (day){CT_HEATING_T_OUT, CT_HEATING_T_IN};
    days[3] = (day){h->T_out_max, h->T_in_max};
}

/* ---- Table ----------------------------------------------------------------------- */

static void put_headings(csv_writer *csv, bool si)
{
    csv_text(csv, "day");
    csv_heading(csv, "outdoor_dry_bulb", Q_TEMPERATURE, si);
    csv_heading(csv, "return_dry_bulb", Q_TEMPERATURE, si);
    csv_heading(csv, "airflow", Q_AIRFLOW_PER_TON, si);
    csv_text(csv, "tap");
    csv_text(csv, "heats");
    csv_heading(csv, "heating_capacity", Q_HEAT, si);
    csv_heading(csv, "saturated_discharge", Q_TEMPERATURE, si);
    csv_heading(csv, "supply", Q_TEMPERATURE, si);
    csv_heading(csv, "total_power", Q_ELECTRIC, si);
    csv_text(csv, "cop");
    csv_end_row(csv);
}

typedef struct {
    int tap; /* from 1; 0: an airflow */
    bool heats;
    double V; /* m3/s actual */
} speed;

/* A point that does not balance has empty cells. */
static void put_row(csv_writer *csv, const ct_sweep_job *job, const day *d, const speed *at,
                    bool si)
{
    ct_heating_balance b = {.Q_net = NAN, .Tc = NAN, .T_supply = NAN, .P_total = NAN, .COP = NAN};
    const double V_per_ton = at->V * ct_sweep_job_thinness(job) / job->c->outdoor.tons;
    (void)ct_sweep_job_heats(job, at->V, d->T_out, d->T_in, &b, NULL);
    csv_quantity(csv, Q_TEMPERATURE, d->T_out, DIGITS, si);
    csv_quantity(csv, Q_TEMPERATURE, d->T_in, DIGITS, si);
    csv_quantity(csv, Q_AIRFLOW_PER_TON, V_per_ton, DIGITS, si);
    csv_number(csv, at->tap, DIGITS);
    csv_number(csv, at->heats, DIGITS);
    csv_quantity(csv, Q_HEAT, b.Q_net, DIGITS, si);
    csv_quantity(csv, Q_TEMPERATURE, b.Tc, DIGITS, si);
    csv_quantity(csv, Q_TEMPERATURE, b.T_supply, DIGITS, si);
    csv_quantity(csv, Q_ELECTRIC, b.P_total, DIGITS, si);
    csv_quantity(csv, Q_PLAIN, b.COP, DIGITS, si);
    csv_end_row(csv);
}

static void put_day(csv_writer *csv, const ct_sweep_job *job, const day days[DAYS], int i, bool si)
{
    const double tons = job->c->outdoor.tons / ct_sweep_job_thinness(job);
    for (int k = 0; k < AIRFLOWS; k++) {
        const double V = FIRST_PER_TON + (LAST_PER_TON - FIRST_PER_TON) * k / (AIRFLOWS - 1.0);
        csv_number(csv, i + 1, DIGITS);
        put_row(csv, job, &days[i], &(speed){.V = V * tons}, si);
    }
    for (int k = 0; ct_sweep_job_has_taps(job) && k < job->blower.n_taps; k++) {
        const speed at = {k + 1, k == job->heat_tap, ct_sweep_job_tap_airflow(job, k)};
        if (!(at.V > 0.0)) continue;
        csv_number(csv, i + 1, DIGITS);
        put_row(csv, job, &days[i], &at, si);
    }
}

static bool write_table(const heating_files *files, const ct_sweep_job *job)
{
    write_file file;
    csv_writer csv;
    day days[DAYS];
    days_of(job, days);
    if (!out_open(&file, files->dir, "heating", "csv")) return false;
    csv_begin(&csv, file.stream);
    put_headings(&csv, files->si);
    for (int i = 0; i < DAYS; i++)
        put_day(&csv, job, days, i, files->si);
    return write_file_end(&file, csv_good(&csv));
}

/* ---- Picture --------------------------------------------------------------------- */

static void put_name(FILE *out, int i, const day *d, bool si)
{
    char variable[NAME_SIZE], name[NAME_SIZE];
    const quantity_form *T = quantity_for_people(Q_TEMPERATURE, si);
    snprintf(variable, sizeof variable, "name_%d", i + 1);
    snprintf(name, sizeof name, "%.0f %s out, %.0f in", quantity_show(T, d->T_out),
             plot_script_degree(si), quantity_show(T, d->T_in));
    plot_script_text(out, variable, name);
}

/* The blower's speeds, and the one that is advised where another heats or none is known. */
static void put_taps(FILE *out, const ct_sweep_job *job)
{
    const bool has = ct_sweep_job_has_taps(job);
    ct_heating h;
    ct_heating_of(job, &h);
    fprintf(out, "has_taps = %d\nhas_heat_tap = %d\nn_taps = %d\nadvised = %d\n", has,
            job->heat_tap >= 0 && job->V_heat.v > 0.0, has ? job->blower.n_taps : 0,
            has && h.best != job->heat_tap ? h.best + 1 : 0);
    for (int i = 0; has && i < job->blower.n_taps; i++) {
        char variable[NAME_SIZE];
        snprintf(variable, sizeof variable, "tap_name_%d", i + 1);
        plot_script_text(out, variable, job->blower.tap[i].name);
    }
}

static bool write_script(const heating_files *files, const ct_sweep_job *job)
{
    write_file file;
    day days[DAYS];
    days_of(job, days);
    if (!out_open(&file, files->dir, "heating", "gp")) return false;
    FILE *out = file.stream;
    plot_script_begin(out, "heating", "heating.csv", files->title);
    plot_script_units(out, files->si);
    plot_script_column(out, "col_flow", "airflow", Q_AIRFLOW_PER_TON, files->si);
    plot_script_column(out, "col_heat", "heating_capacity", Q_HEAT, files->si);
    plot_script_column(out, "col_head", "saturated_discharge", Q_TEMPERATURE, files->si);
    plot_script_value(out, "limit",
                      quantity_show(quantity_for_people(Q_TEMPERATURE, files->si),
                                    job->c->limits.T_discharge_max));
    fprintf(out, "days = %d\n", DAYS);
    put_taps(out, job);
    for (int i = 0; i < DAYS; i++)
        put_name(out, i, &days[i], files->si);
    return write_file_end(&file, plot_script_end(out, "heating"));
}

bool heating_files_write(const heating_files *files, const ct_sweep_job *job, out_scripts *scripts)
{
    if (!out_remove_pictures(files->dir, "heating")) return false;
    if (!job->has_heat_pump)
        return out_remove(files->dir, "heating", "csv") && out_remove(files->dir, "heating", "gp");
    if (!write_table(files, job) || !write_script(files, job)) return false;
    out_scripts_add(scripts, "heating");
    return true;
}
