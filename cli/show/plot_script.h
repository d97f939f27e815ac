/* Plot scripts: a header of variables written here, then templates from plots/, make one gnuplot
 * file that stands alone beside its CSV files and can be re-run by hand:
 *
 *   gnuplot capacity.gp                      PNG
 *   gnuplot -e "format='svg'" capacity.gp    SVG (or pdf)
 *
 * A template names no column and no unit itself: the header carries the column names, the axis
 * labels and the conversions from the CSV's unit to the axis's, so that one template serves
 * inch-pound and metric. plots/README says which variables there are. */
#ifndef CLI_SHOW_PLOT_SCRIPT_H
#define CLI_SHOW_PLOT_SCRIPT_H

#include <stdbool.h>
#include <stdio.h>

#include "show/quantity.h"

typedef struct {
    const char *title;   /* the job's title: data, escaped here */
    bool si;             /* the CSV is in SI, the axes metric */
    bool has_taps;       /* taps.csv is there */
    bool has_load;       /* a sensible load is known */
    double Q_sensible;   /* W, load with its margin */
    bool fan_on;         /* left on, as the case has it */
    bool has_ceiling;    /* a highest humidity is set */
    double rh_ceiling;   /* 0..1 */
    double load_sigma;   /* of 1, how far off the load may be; for the band */
    double T_frost;      /* K, the coldest surface allowed, for the frost line */
    const char *taps;    /* the taps' table, without quotes in it; NULL: it is read from taps.csv */
    const char *carried; /* the column compared with the load; NULL: net_sensible */
    double rh_entered;   /* 0..1, of the air net_sensible is for */
    bool has_mild;       /* mild_coil_surface is there */
    bool two_stages;     /* the CSV is of the high one */
} plot_facts;

/* Writes the script of template `name` ("capacity"). False: no such template. */
bool plot_script_write(FILE *out, const char *name, const plot_facts *facts);

/* Names of the sweep's templates, in order; NULL past the end. */
const char *plot_template_name(int i);

/* A picture that is not the sweep's: plot_script_begin, what variables its template needs, then
 * plot_script_end with the template's name. `reads` names its CSV files. */
void plot_script_begin(FILE *out, const char *name, const char *reads, const char *title);
void plot_script_text(FILE *out, const char *variable, const char *text);
void plot_script_value(FILE *out, const char *variable, double v); /* NaN allowed */
/* The CSV column "net_total" as it is called in its file, "net_total_btuh". */
void plot_script_column(FILE *out, const char *variable, const char *name, quantity q, bool si);

/* The degree sign and letter of an axis; and a label in degrees, "Dry bulb, " before them. */
const char *plot_script_degree(bool si);
void plot_script_degrees(FILE *out, const char *variable, const char *of, bool si);

/* The functions and labels that turn the CSV's units into the axes'. */
void plot_script_units(FILE *out, bool si);

/* False: no such template. */
bool plot_script_end(FILE *out, const char *name);

#endif
