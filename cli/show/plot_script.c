#include "show/plot_script.h"

#include <string.h>

#include "base/gnuplot.h"
#include "base/number_text.h"
#include "base/utf8.h"
#include "show/embedded_plots.h"

/* What fits above a picture as wide as a phone: so many characters, unless they are wide ones. */
enum { TITLE_CHARACTERS = 44, TITLE_WIDTH = 320 };

/* Parts of scripts, and pictures of other verbs. */
static const char *const not_of_sweep[] = {"style",     "common",    "compare",
                                           "superheat", "crossing",  "psychro",
                                           "blower",    "season_rh", "heating"};

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
    {"col_mild", "mild_coil_surface", Q_TEMPERATURE},
    {"col_tap", "tap", Q_PLAIN},
    {"col_pick", "pick", Q_PLAIN},
};

void plot_script_text(FILE *out, const char *variable, const char *text)
{
    fprintf(out, "%s = ", variable);
    gnuplot_quote(out, text, 0);
    fputc('\n', out);
}

void plot_script_value(FILE *out, const char *variable, double v)
{
    char text[NUMBER_TEXT_SIZE];
    if (!number_text(text, v, 9)) strcpy(text, "NaN");
    fprintf(out, "%s = %s\n", variable, text);
}

void plot_script_column(FILE *out, const char *variable, const char *name, quantity q, bool si)
{
    char key[96];
    quantity_key(key, sizeof key, name, q, si);
    plot_script_text(out, variable, key);
}

/* Of sweep_uncertain.csv: "col_total_p05" is "net_total_p05_btuh". */
static void put_band_columns(FILE *out, bool si)
{
    static const char *const bands[] = {"total", "sensible", "latent"};
    static const char *const quantiles[] = {"p05", "p16", "p50", "p84", "p95"};
    char variable[48], name[48];
    for (size_t b = 0; b < sizeof bands / sizeof bands[0]; b++)
        for (size_t q = 0; q < sizeof quantiles / sizeof quantiles[0]; q++) {
            snprintf(variable, sizeof variable, "col_%s_%s", bands[b], quantiles[q]);
            snprintf(name, sizeof name, "net_%s_%s", bands[b], quantiles[q]);
            plot_script_column(out, variable, name, Q_HEAT, si);
        }
}

static void put_columns(FILE *out, bool si)
{
    plot_script_text(out, "col_flow", si ? "m3_per_s_per_ton" : "cfm_per_ton");
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
        plot_script_column(out, columns[i].variable, columns[i].name, columns[i].q, si);
}

/* A gnuplot function from the CSV's unit of a quantity to the axis's, `per` of what people read. */
static void put_conversion(FILE *out, const char *function, quantity q, double per, bool si)
{
    const quantity_form *from = quantity_for_programs(q, si), *to = quantity_for_people(q, si);
    const double factor = to->factor / from->factor;
    fprintf(out, "%s(v) = v * %.15g + %.15g\n", function, factor / per,
            (to->offset - from->offset * factor) / per);
}

const char *plot_script_degree(bool si)
{
    return si ? "\xc2\xb0"
                "C"
              : "\xc2\xb0"
                "F";
}

void plot_script_degrees(FILE *out, const char *variable, const char *of, bool si)
{
    char label[80];
    snprintf(label, sizeof label, "%s, %s", of, plot_script_degree(si));
    plot_script_text(out, variable, label);
}

/* From the CSV's unit to the axis's: gnuplot functions and the axis labels. */
void plot_script_units(FILE *out, bool si)
{
    put_conversion(out, "flow", Q_AIRFLOW_PER_TON, 1, si);
    put_conversion(out, "heat", Q_HEAT, si ? 1 : 1000, si); /* kW, or thousands of Btu/h */
    put_conversion(out, "temperature", Q_TEMPERATURE, 1, si);
    plot_script_text(out, "label_flow",
                     si ? "Airflow, L/s of standard air per ton" : "Airflow, standard cfm per ton");
    plot_script_text(out, "label_heat", si ? "Net capacity, kW" : "Net capacity, 1000 Btu/h");
    plot_script_degrees(out, "label_temperature", "Temperature", si);
    plot_script_text(out, "unit_temperature", plot_script_degree(si));
}

static double axis_heat(double Q, bool si)
{
    return quantity_show(quantity_for_programs(Q_HEAT, si), Q) / 1000.0;
}

/* Tenths of an em in the sans serif of the pictures, hardly ever less than it takes. */
static int width_of(const char *c, int length)
{
    if (length > 2) return 11; /* most of those that are wide, and those that are not */
    if (strchr("WMm@%&", *c)) return 10;
    return (*c >= 'A' && *c <= 'Z') || *c == 'w' || length > 1 ? 8 : 7;
}

/* How many characters of a title fit. */
static int fitting(const char *title)
{
    int n = 0, width = 0;
    for (const char *c = title; *c && n < TITLE_CHARACTERS; n++) {
        const int length = utf8_length(c) > 0 ? utf8_length(c) : 1;
        width += width_of(c, length);
        if (width > TITLE_WIDTH) break;
        c += length;
    }
    return n;
}

void plot_script_begin(FILE *out, const char *name, const char *reads, const char *title)
{
    fprintf(out,
            "# Made by coiltrim; reads %s beside this file. Draw it again with\n"
            "#   gnuplot %s.gp\n#   gnuplot -e \"format='svg'\" %s.gp    (png, svg or pdf)\n",
            reads, name, name);
    plot_script_text(out, "plot_name", name);
    fputs("job_title = ", out);
    gnuplot_quote(out, title, fitting(title));
    fputc('\n', out);
}

/* The sensible capacity is a curve, and so is what is compared with the load, where it is
 * another. */
static void put_carried(FILE *out, const plot_facts *facts)
{
    char title[40];
    plot_script_column(out, "col_carried", facts->carried ? facts->carried : "net_sensible", Q_HEAT,
                       facts->si);
    snprintf(title, sizeof title, facts->carried ? "sensible at %.0f%% RH" : "sensible",
             100 * facts->rh_entered);
    plot_script_text(out, "sensible_title", title);
    const bool settled = facts->carried && strncmp(facts->carried, "design", 6) == 0;
    plot_script_text(out, "carried_title", settled ? "sensible, settled" : "sensible, delivered");
    fprintf(out, "has_carried = %d\nhas_mild = %d\n", facts->carried != NULL, facts->has_mild);
}

static void put_taps(FILE *out, const plot_facts *facts)
{
    if (facts->has_taps && facts->taps)
        fprintf(out, "taps_inside = 1\n$taps << END\n%sEND\n", facts->taps);
}

static void put_header(FILE *out, const char *name, const plot_facts *facts)
{
    const bool beside = facts->has_taps && !facts->taps;
    plot_script_begin(out, name, beside ? "sweep.csv and taps.csv" : "sweep.csv", facts->title);
    put_taps(out, facts);
    fprintf(out, "has_taps = %d\nhas_load = %d\n", facts->has_taps, facts->has_load);
    plot_script_value(out, "load_sensible",
                      facts->has_load ? axis_heat(facts->Q_sensible, facts->si) : 0);
    fprintf(out, "has_ceiling = %d\nfan_on = %d\n", facts->has_ceiling, facts->fan_on);
    plot_script_value(out, "ceiling", facts->has_ceiling ? 100 * facts->rh_ceiling : 0);
    plot_script_value(out, "frost",
                      quantity_show(quantity_for_people(Q_TEMPERATURE, facts->si), facts->T_frost));
    plot_script_value(out, "load_sigma", facts->load_sigma);
    put_columns(out, facts->si);
    put_carried(out, facts);
    put_band_columns(out, facts->si);
    plot_script_units(out, facts->si);
    if (facts->two_stages)
        plot_script_text(out, "label_flow",
                         facts->si ? "High stage's airflow, L/s of standard air per ton"
                                   : "High stage's airflow, standard cfm per ton");
    fputc('\n', out);
}

static bool put_template(FILE *out, const char *name)
{
    for (const embedded_plot *plot = embedded_plots; plot->name; plot++)
        if (strcmp(plot->name, name) == 0)
            return fwrite(plot->text, 1, plot->size, out) == plot->size;
    return false;
}

bool plot_script_end(FILE *out, const char *name)
{
    fputc('\n', out);
    return put_template(out, "style") && put_template(out, name);
}

static bool is_sweep_template(const char *name)
{
    for (size_t i = 0; i < sizeof not_of_sweep / sizeof not_of_sweep[0]; i++)
        if (strcmp(name, not_of_sweep[i]) == 0) return false;
    return true;
}

bool plot_script_write(FILE *out, const char *name, const plot_facts *facts)
{
    for (int i = 0; plot_template_name(i); i++)
        if (strcmp(plot_template_name(i), name) == 0) {
            put_header(out, name, facts);
            return put_template(out, "style") && put_template(out, "common") &&
                   put_template(out, name);
        }
    return false;
}

const char *plot_template_name(int i)
{
    for (const embedded_plot *plot = embedded_plots; plot->name; plot++)
        if (is_sweep_template(plot->name) && i-- == 0) return plot->name;
    return NULL;
}
