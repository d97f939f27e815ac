#include "plot_script.h"

#include <string.h>

#include "embedded_plots.h"
#include "gnuplot.h"
#include "number_text.h"
#include "quantity.h"

enum { TITLE_CHARACTERS = 44 }; /* what fits above a picture as wide as a phone */

/* Columns the templates read: variable, the column's name without unit, its quantity. */
static const struct {
    const char *variable, *name;
    quantity q;
} columns[] = {
    {"col_total", "net_total", Q_HEAT},
    {"col_sensible", "net_sensible", Q_HEAT},
    {"col_latent", "net_latent", Q_HEAT},
    {"col_suction", "sat_suction", Q_TEMPERATURE},
    {"col_surface", "coil_surface", Q_TEMPERATURE},
    {"col_adp", "adp", Q_TEMPERATURE},
    {"col_shr", "shr_net", Q_FRACTION},
    {"col_rh", "rh_settled", Q_FRACTION},
    {"col_rh_fan", "rh_settled_fan_on", Q_FRACTION},
    {"col_tap", "tap", Q_PLAIN},
    {"col_pick", "pick", Q_PLAIN},
};

static void put_text(FILE *out, const char *variable, const char *text)
{
    fprintf(out, "%s = ", variable);
    gnuplot_quote(out, text, 0);
    fputc('\n', out);
}

static void put_value(FILE *out, const char *variable, double v)
{
    char text[NUMBER_TEXT_SIZE];
    if (!number_text(text, v, 9)) strcpy(text, "NaN");
    fprintf(out, "%s = %s\n", variable, text);
}

static void put_columns(FILE *out, bool si)
{
    char name[96];
    put_text(out, "col_flow", si ? "m3_per_s_per_ton" : "cfm_per_ton");
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++) {
        quantity_key(name, sizeof name, columns[i].name, columns[i].q, si);
        put_text(out, columns[i].variable, name);
    }
}

/* From the CSV's unit to the axis's: gnuplot functions and the axis labels. */
static void put_units(FILE *out, bool si)
{
    fputs(si ? "flow(v) = v * 1000.0\nheat(v) = v / 1000.0\ntemperature(v) = v - 273.15\n"
             : "flow(v) = v * 1.0\nheat(v) = v / 1000.0\ntemperature(v) = v * 1.0\n",
          out);
    put_text(out, "label_flow", si ? "Airflow, L/s per ton" : "Airflow, cfm per ton");
    put_text(out, "label_heat", si ? "Net capacity, kW" : "Net capacity, 1000 Btu/h");
    put_text(out, "label_temperature",
             si ? "Temperature, \xc2\xb0"
                  "C"
                : "Temperature, \xc2\xb0"
                  "F");
    put_text(out, "unit_temperature",
             si ? "\xc2\xb0"
                  "C"
                : "\xc2\xb0"
                  "F");
}

static double axis_heat(double Q, bool si)
{
    return quantity_show(quantity_for_programs(Q_HEAT, si), Q) / 1000.0;
}

static void put_header(FILE *out, const char *name, const plot_facts *facts)
{
    fprintf(out,
            "# Made by coiltrim; reads sweep.csv%s beside this file. Draw it again with\n"
            "#   gnuplot %s.gp\n#   gnuplot -e \"format='svg'\" %s.gp    (png, svg or pdf)\n",
            facts->has_taps ? " and taps.csv" : "", name, name);
    put_text(out, "plot_name", name);
    fputs("job_title = ", out);
    gnuplot_quote(out, facts->title, TITLE_CHARACTERS);
    fprintf(out, "\nhas_taps = %d\nhas_load = %d\n", facts->has_taps, facts->has_load);
    put_value(out, "load_sensible", facts->has_load ? axis_heat(facts->Q_sensible, facts->si) : 0);
    fprintf(out, "has_ceiling = %d\n", facts->has_ceiling);
    put_value(out, "ceiling", facts->has_ceiling ? 100 * facts->rh_ceiling : 0);
    put_value(out, "frost",
              quantity_show(quantity_for_people(Q_TEMPERATURE, facts->si), facts->T_frost));
    put_columns(out, facts->si);
    put_units(out, facts->si);
    fputc('\n', out);
}

static const embedded_plot *find_plot(const char *name)
{
    for (const embedded_plot *plot = embedded_plots; plot->name; plot++)
        if (strcmp(plot->name, name) == 0) return plot;
    return NULL;
}

bool plot_script_write(FILE *out, const char *name, const plot_facts *facts)
{
    const embedded_plot *common = find_plot("common"), *body = find_plot(name);
    if (!common || !body) return false;
    put_header(out, name, facts);
    fwrite(common->text, 1, common->size, out);
    fwrite(body->text, 1, body->size, out);
    return true;
}

const char *plot_template_name(int i)
{
    for (const embedded_plot *plot = embedded_plots; plot->name; plot++)
        if (strcmp(plot->name, "common") != 0 && i-- == 0) return plot->name;
    return NULL;
}
