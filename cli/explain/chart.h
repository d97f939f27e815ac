/* Explain's psychrometric chart: its lines from the air model at the site's pressure, and the way
 * of the air through the coil for up to three airflows. */
#ifndef CLI_EXPLAIN_CHART_H
#define CLI_EXPLAIN_CHART_H

#include "base/job.h"

enum { CHART_SERIES = 3, CHART_LINES = 12, CHART_LINE_POINTS = 81 };

typedef enum { CHART_SATURATION, CHART_RH, CHART_WET_BULB } chart_kind;

typedef struct {
    chart_kind kind;
    double value; /* 0..1, or the wet bulb in K */
    int n;
    double T[CHART_LINE_POINTS], W[CHART_LINE_POINTS];
} chart_line;

typedef struct {
    char name[64]; /* "350 cfm/ton" or the tap's name */
    ct_point point;
} chart_series;

typedef struct {
    double T_low, T_high, W_low, W_high; /* the frame */
    int n_lines;
    chart_line line[CHART_LINES];
    int n_series;
    chart_series series[CHART_SERIES];
} explain_chart;

/* The taps (slowest, one between, fastest) when blower and ducts are known, else 300, 350 and 400
 * cfm per ton. Fails when none balances, with the reason of the last. */
ct_status explain_chart_make(job *j, bool metric, explain_chart *, ct_fault *);

/* Where a line of constant humidity leaves the frame of height W_high, a little inside. */
void chart_label_place(const chart_line *, double W_high, double *T, double *W);

#endif
