#include "base/steady.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* Stretches begin and end on a grid of so many cells. */
#define CELLS 120

/* Sums of a series up to a cell, times and values counted from their first. */
typedef struct {
    double n, t, v, tt, tv;
} sums;

typedef struct {
    sums upto[CT_STEADY_SERIES][CELLS + 1];
    double first[CT_STEADY_SERIES];
    int n[CT_STEADY_SERIES], n_series;
    double t0, cell;
    const double *margin;
} grid;

static int cell_of(const grid *g, double t)
{
    const int i = (int)((t - g->t0) / g->cell);
    return i < 0 ? 0 : i >= CELLS ? CELLS - 1 : i;
}

static void fill(grid *g, const ct_steady_sample *s, int n)
{
    for (int i = 0; i < n; i++) {
        const int k = s[i].series;
        if (g->n[k]++ == 0) g->first[k] = s[i].v;
        sums *x = &g->upto[k][cell_of(g, s[i].t) + 1];
        const double t = s[i].t - g->t0, v = s[i].v - g->first[k];
        x->n += 1.0;
        x->t += t;
        x->v += v;
        x->tt += t * t;
        x->tv += t * v;
    }
    for (int k = 0; k < g->n_series; k++)
        for (int c = 0; c < CELLS; c++) {
            const sums *a = &g->upto[k][c];
            sums *b = &g->upto[k][c + 1];
            b->n += a->n;
            b->t += a->t;
            b->v += a->v;
            b->tt += a->tt;
            b->tv += a->tv;
        }
}

static bool within(const grid *g, int k, int a, int b)
{
    return g->upto[k][b].n > g->upto[k][a].n;
}

/* Drift of series k over the cells from a to b, in its margins; infinite with too few samples, or
 * none in the first or last quarter. */
static double drift(const grid *g, int k, int a, int b)
{
    const sums *x = &g->upto[k][a], *y = &g->upto[k][b];
    const double n = y->n - x->n, t = y->t - x->t;
    const int quarter = b - a < 4 ? 1 : (b - a) / 4;
    if (n < 3.0 || !within(g, k, a, a + quarter) || !within(g, k, b - quarter, b)) return HUGE_VAL;
    const double tt = y->tt - x->tt - t * t / n, tv = y->tv - x->tv - t * (y->v - x->v) / n;
    if (!(tt > 0.0)) return HUGE_VAL;
    return tv / tt * g->cell * (b - a) / g->margin[k];
}

/* The largest drift of any series, and whose. */
static double worst_drift(const grid *g, int a, int b, int *worst)
{
    double most = 0.0;
    *worst = -1;
    for (int k = 0; k < g->n_series; k++) {
        if (g->n[k] < CT_STEADY_FEW) continue;
        const double d = drift(g, k, a, b);
        if (*worst >= 0 && !(fabs(d) > fabs(most))) continue;
        most = d;
        *worst = k;
    }
    return most;
}

/* Longest first, the latest of those. */
static bool search(const grid *g, int least, int *from, int *to)
{
    int worst;
    for (int length = CELLS; length >= least; length--)
        for (int a = CELLS - length; a >= 0; a--)
            if (fabs(worst_drift(g, a, a + length, &worst)) <= 1.0) {
                *from = a;
                *to = a + length;
                return true;
            }
    return false;
}

static void find(grid *g, const ct_steady_log *log, double least, ct_steady *out)
{
    const ct_steady_sample *s = log->sample;
    double t1 = s[0].t;
    g->t0 = s[0].t;
    for (int i = 1; i < log->n; i++) {
        g->t0 = fmin(g->t0, s[i].t);
        t1 = fmax(t1, s[i].t);
    }
    *out = (ct_steady){.from = fmax(g->t0, t1 - least), .to = t1, .worst = -1};
    if (!(t1 - g->t0 >= least) || !(t1 > g->t0)) return;
    g->cell = (t1 - g->t0) / CELLS;
    fill(g, s, log->n);
    int from = 0, to = 0, need = (int)ceil(least / g->cell - 1e-9);
    if (need < 1) need = 1;
    out->found = search(g, need, &from, &to);
    if (out->found) {
        out->from = g->t0 + g->cell * from;
        out->to = to == CELLS ? t1 : g->t0 + g->cell * to;
        return;
    }
    const double by = worst_drift(g, CELLS - need, CELLS, &out->worst);
    if (out->worst >= 0) out->drift = by * g->margin[out->worst];
}

ct_status ct_steady_find(const ct_steady_log *log, double least, ct_steady *out, ct_fault *fault)
{
    assert(log->n_series <= CT_STEADY_SERIES && log->n > 0);
    grid *g = calloc(1, sizeof *g);
    if (!g) return ct_fault_say(fault, CT_SYSTEM, "out of memory for the log");
    g->n_series = log->n_series;
    g->margin = log->margin;
    find(g, log, least, out);
    free(g);
    return CT_OK;
}

ct_steady_mean ct_steady_average(const ct_steady_log *log, int series, double from, double to)
{
    const ct_steady_sample *s = log->sample;
    ct_steady_mean m = {0, 0.0, 0.0};
    double squares = 0.0; /* Welford: no difference of large sums */
    for (int i = 0; i < log->n; i++) {
        if (s[i].series != series || s[i].t < from || s[i].t > to) continue;
        const double off = s[i].v - m.mean;
        m.mean += off / ++m.n;
        squares += off * (s[i].v - m.mean);
    }
    m.sd = m.n > 1 ? sqrt(squares / (m.n - 1)) : 0.0;
    return m;
}
