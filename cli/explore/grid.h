/* Grid of the explore page: the library's balances and judgments at the nodes of four sliders, for
 * each indoor unit, worked out on all cores. Every point is judged by the
 * sweep's own functions, so the page judges nothing anew. The equipment, its charge and its blower
 * stay those of the case; airflow, outdoor temperature, humidity of the return air and sensible
 * load move.
 *
 * Figures of the equipment are tabulated over the weather, those of the house it settles in over
 * the loads, in the case's return air and at every other airflow. */
#ifndef CLI_EXPLORE_GRID_H
#define CLI_EXPLORE_GRID_H

#include "explore/figures.h"
#include "plant/balance.h"
#include "show/limit_words.h"

enum { AIR_NODES = 11, OUTDOOR_NODES = 6, HUMIDITY_NODES = 8, LOAD_NODES = 5, MAX_NODES = 11 };

typedef struct {
    int n;
    double at[MAX_NODES]; /* SI: m3/s standard air per ton, K, 0..1, W */
} grid_axis;

/* What a slack is measured against, from a point where it is judged. */
typedef struct {
    bool has, at_most;
    double bound;
    limit_words words;
} grid_bound;

typedef struct {
    const ct_sweep_job *job; /* borrowed */
    grid_axis axis[AXES];
    double *value[MAX_FIGURES]; /* of each figure, the last of its axes running fastest; owned */
    grid_bound bound[MAX_FIGURES];
    ct_outcome trouble; /* CT_BALANCED: the system settles at every node */
} grid;

/* Nodes of an axis that a figure on `axes` has; 1: it is not on this axis. */
int grid_nodes(const grid *, unsigned axes, int axis);

/* Nodes at equal distances, both ends among them. */
grid_axis grid_axis_even(double from, double to, int n);

/* The same, closer together towards `from`, the last distance nearly three times the first: for
 * the humidity, which bends most where the coil gets dry, and the load, where the house gets
 * damp. */
grid_axis grid_axis_crowded(double from, double to, int n);

/* Values of a figure: the product of the nodes of its axes. */
int grid_size(const grid *, int figure);

/* Fills n grids whose job and axes are set; grid_free for each in any case. CT_SYSTEM: memory. */
ct_status grid_fill(grid *grids, int n, ct_fault *fault);
void grid_free(grid *);

#endif
