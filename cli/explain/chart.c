#include "explain/chart.h"

#include <math.h>
#include <stdio.h>

#include "base/units.h"
#include "fluid/air.h"

/* ---- The ways through the coil --------------------------------------------------- */

static bool keep(explain_chart *c, ct_fault *fault)
{
    const ct_point *p = &c->series[c->n_series].point;
    if (p->status == CT_OK) {
        c->n_series++;
        return true;
    }
    ct_fault_say(fault, p->status, "%s", p->why);
    return false;
}

static void add_airflow(job *j, double cfm_per_ton, bool metric, explain_chart *c, ct_fault *fault)
{
    chart_series *s = &c->series[c->n_series];
    const double V = cfm_per_ton * CT_M3S_PER_CFM;
    if (metric)
        snprintf(s->name, sizeof s->name, "%.0f L/s per ton", V * 1e3);
    else
        snprintf(s->name, sizeof s->name, "%.0f cfm/ton", cfm_per_ton);
    if (ct_sweep_airflow(j->solver, &j->sweep, V, &s->point, fault) == CT_OK) keep(c, fault);
}

static void add_tap(job *j, int tap, explain_chart *c, ct_fault *fault)
{
    chart_series *s = &c->series[c->n_series];
    snprintf(s->name, sizeof s->name, "%s", j->sweep.unit->blower.tap[tap].name);
    if (ct_sweep_tap(j->solver, &j->sweep, tap, &s->point, fault) == CT_OK) keep(c, fault);
}

static ct_status add_series(job *j, bool metric, explain_chart *c, ct_fault *fault)
{
    const int n = j->sweep.has_duct ? j->sweep.unit->blower.n_taps : 0;
    *fault = (ct_fault){.status = CT_OK};
    if (n == 0) {
        for (int i = 0; i < CHART_SERIES; i++)
            add_airflow(j, 300 + 50 * i, metric, c, fault);
    } else {
        add_tap(j, 0, c, fault);
        if (n > 2) add_tap(j, n / 2, c, fault);
        if (n > 1) add_tap(j, n - 1, c, fault);
    }
    return c->n_series > 0 ? CT_OK : fault->status;
}

/* ---- The chart's lines ----------------------------------------------------------- */

static void set_frame(const job *j, explain_chart *c)
{
    double coldest = INFINITY, warmest = j->sweep.indoor.T, driest = j->sweep.indoor.W;
    for (int i = 0; i < c->n_series; i++) {
        const ct_balance *b = &c->series[i].point.balance;
        coldest = fmin(coldest, b->has_adp ? fmin(b->ADP, b->out.T) : b->out.T);
        warmest = fmax(warmest, b->in.T);
        driest = fmin(driest, b->out.W);
    }
    c->T_low = floor((coldest - CT_ZERO_C) / 5.0 - 0.2) * 5.0 + CT_ZERO_C;
    c->T_high = warmest + 4.0;
    c->W_low = 0.55 * driest;
    c->W_high = 1.25 * j->sweep.indoor.W;
}

static void add_rh_line(explain_chart *c, chart_kind kind, double rh, double p)
{
    chart_line *l = &c->line[c->n_lines++];
    *l = (chart_line){.kind = kind, .value = rh};
    for (int k = 0; k < CHART_LINE_POINTS; k++) {
        const double T = c->T_low + (c->T_high - c->T_low) * k / (CHART_LINE_POINTS - 1);
        ct_air a;
        if (ct_air_from_rh(T, rh, p, &a, NULL) != CT_OK) continue;
        l->T[l->n] = a.T;
        l->W[l->n++] = a.W;
    }
}

/* From saturation down to the frame's right edge. */
static void add_wet_bulb_line(explain_chart *c, double T_wb, double p)
{
    chart_line *l = &c->line[c->n_lines++];
    *l = (chart_line){.kind = CHART_WET_BULB, .value = T_wb};
    for (int k = 0; k < CHART_LINE_POINTS; k++) {
        const double T = T_wb + (c->T_high - T_wb) * k / (CHART_LINE_POINTS - 1);
        ct_air a;
        if (ct_air_from_wet_bulb(T, T_wb, p, &a, NULL) != CT_OK) break;
        l->T[l->n] = a.T;
        l->W[l->n++] = a.W;
    }
}

static void add_lines(const job *j, bool metric, explain_chart *c)
{
    const double p = j->sweep.indoor.p;
    add_rh_line(c, CHART_SATURATION, 1.0, p);
    for (int i = 1; i <= 4; i++)
        add_rh_line(c, CHART_RH, 0.2 * i, p);
    /* Whole tens of F, or fives of C, inside the frame. */
    for (int i = 0; i <= 20 && c->n_lines < CHART_LINES; i++) {
        const double T_wb = metric ? CT_ZERO_C + 5.0 * i : ct_K_from_F(30.0 + 10.0 * i);
        if (T_wb > c->T_low + 1.0 && ct_air_W_sat(T_wb, p) < 0.97 * c->W_high)
            add_wet_bulb_line(c, T_wb, p);
    }
}

void chart_label_place(const chart_line *l, double W_high, double *T, double *W)
{
    int k = 0;
    while (k + 1 < l->n && l->W[k + 1] <= 0.955 * W_high && k + 6 < l->n)
        k++;
    *T = l->T[k];
    *W = l->W[k];
}

ct_status explain_chart_make(job *j, bool metric, explain_chart *c, ct_fault *fault)
{
    c->n_series = c->n_lines = 0;
    const ct_status status = add_series(j, metric, c, fault);
    if (status != CT_OK) return status;
    set_frame(j, c);
    add_lines(j, metric, c);
    return CT_OK;
}
