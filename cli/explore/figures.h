/* Figures of the explore page: one table gives, for each value the page moves, its name, its
 * quantity, the sliders it depends on, and where it comes from in a judged point. A figure of a
 * limit is its slack, as the library judged it: 0 or more passes. To show another value, add a
 * row. */
#ifndef CLI_EXPLORE_FIGURES_H
#define CLI_EXPLORE_FIGURES_H

#include <stdbool.h>

#include "judge/point.h"
#include "judge/sweep_job.h"
#include "show/quantity.h"

/* The sliders, in the order in which a figure's values follow each other. */
typedef enum { AXIS_AIR, AXIS_OUTDOORS, AXIS_HUMIDITY, AXIS_LOAD, AXES } explore_axis;

/* THINNED: of the settled house, which takes several balances and bends little: every other node of
 * airflow. */
enum { ON_AIR = 1, ON_OUTDOORS = 2, ON_HUMIDITY = 4, ON_LOAD = 8, THINNED = 16 };

typedef struct {
    const char *name; /* "sensible", for the script */
    quantity q;
    unsigned axes;         /* ON_ bits, the load judged in the air the house settles at */
    unsigned axes_entered; /* the same, judged in the air entered */
    /* SI, NaN when the point has no such value. */
    double (*of)(const ct_sweep_job *, const ct_point *);
    /* The rest for the slack of a limit. */
    bool is_slack, at_most; /* value = bound + slack, or bound - slack */
    ct_limit limit;
    const char *measured, *bound; /* words; NULL: those of the limit */
    quantity value;               /* of value and bound where not as the limit's */
    bool moves_with_load;         /* the bound is a load with its margin */
    double (*bound_of)(const ct_sweep_job *, const ct_point *); /* NULL: as judged */
} figure_row;

enum { MAX_FIGURES = 48 }; /* room for the table's rows */

int figures_count(void);
const figure_row *figure_at(int i);

/* ON_ bits and THINNED for this case. */
unsigned figure_axes(const figure_row *, const ct_case *);

/* What bounds a slack at a point where it has a value. */
double figure_bound(const figure_row *, const ct_sweep_job *, const ct_point *);

#endif
