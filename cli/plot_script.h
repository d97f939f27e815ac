/* Plot scripts: a header of variables written here, then a template from plots/, make one gnuplot
 * file that stands alone beside its CSV files and can be re-run by hand:
 *
 *   gnuplot capacity.gp                      PNG
 *   gnuplot -e "format='svg'" capacity.gp    SVG (or pdf)
 *
 * A template names no column and no unit itself: the header carries the column names, the axis
 * labels and the conversions from the CSV's unit to the axis's, so that one template serves
 * inch-pound and metric. plots/README says which variables there are. */
#ifndef PLOT_SCRIPT_H
#define PLOT_SCRIPT_H

#include <stdbool.h>
#include <stdio.h>

typedef struct {
    const char *title; /* the job's title: data, escaped here               */
    bool si;           /* the CSV is in SI, the axes metric                 */
    bool has_taps;     /* taps.csv is there                                 */
    bool has_load;     /* a sensible load is known                          */
    double Q_sensible; /* W, load with its margin                           */
    bool has_ceiling;  /* a highest humidity is asked for                   */
    double rh_ceiling; /* 0..1                                              */
    double T_frost;    /* K, the coldest surface allowed, for the frost line */
} plot_facts;

/* Writes the script of template `name` ("capacity"). False: no such template. */
bool plot_script_write(FILE *out, const char *name, const plot_facts *facts);

/* Names of all templates, in order; NULL past the end. */
const char *plot_template_name(int i);

#endif
