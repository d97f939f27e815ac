#include "study/tune_weigh.h"

#include <math.h>
#include <string.h>

/* A supposition this far behind the best in logarithm is not fitted itself. */
#define BEHIND 9.0

/* Straight lines through a fit: rows y0 + G (x - x0), all in SI. Where a piston's charge goes with
 * what it passes, `subcooling` and `piston` are those unknowns' places, `filled` is what that put
 * into the subcooling at x0, and `slope` how it goes on. */
typedef struct {
    double x0[CT_TUNE_COUNT], y0[CT_TUNE_ROWS], G[CT_TUNE_ROWS][CT_TUNE_COUNT];
    int subcooling, piston;
    double filled, slope;
} lines;

/* Place of a row or an unknown; -1. */
static int place(const int *list, int n, int wanted)
{
    for (int i = 0; i < n; i++)
        if (list[i] == wanted) return i;
    return -1;
}

static void draw_lines(const ct_tune_problem *p, const ct_tune_solution *s, lines *l)
{
    for (int k = 0; k < p->n_x; k++) {
        const ct_tune_prior *u = &p->prior[p->of_x[k]];
        l->x0[k] = u->prior + u->sigma * s->z[k];
    }
    for (int i = 0; i < p->n_y; i++) {
        const int row = p->of_y[i];
        l->y0[i] = p->seen[row] + s->f[i] * p->u_row[row];
        for (int k = 0; k < p->n_x; k++)
            l->G[i][k] = s->J[i][k] * p->u_row[row] / p->prior[p->of_x[k]].sigma;
    }
    l->subcooling = place(p->of_x, p->n_x, CT_TUNE_SUBCOOLING);
    l->piston = place(p->of_x, p->n_x, CT_TUNE_PISTON);
    l->filled = l->slope = 0.0;
    if (l->piston >= 0) l->filled = ct_tune_model_filled(p, l->x0[l->piston], &l->slope);
}

/* One supposition on those lines: residuals b + A z of the problem p under it, and where they are
 * least. */
typedef struct {
    const ct_tune_problem *p;
    const lines *l;
    double A[CT_TUNE_ROWS][CT_TUNE_COUNT], b[CT_TUNE_ROWS]; /* residual b + A z */
    double C[CT_TUNE_COUNT][CT_TUNE_COUNT], z[CT_TUNE_COUNT];
} straight;

/* The lines of a charge that stays whatever the piston passes: the subcooling is then all its own.
 */
static const lines *cut_loose(const lines *l, int n_y, lines *loose)
{
    if (l->piston < 0 || l->subcooling < 0) return l;
    *loose = *l;
    loose->x0[l->subcooling] += l->filled;
    for (int i = 0; i < n_y; i++)
        loose->G[i][l->piston] -= l->slope * l->G[i][l->subcooling];
    return loose;
}

static void set_rows(straight *w)
{
    const ct_tune_problem *p = w->p;
    for (int i = 0; i < p->n_y; i++) {
        const int row = p->of_y[i];
        const double y0 = row == CT_BLOWER_POWER ? p->of_tap.P_static : w->l->y0[i];
        double y = y0;
        for (int k = 0; k < p->n_x; k++) {
            const ct_tune_prior *u = &p->prior[p->of_x[k]];
            y += w->l->G[i][k] * (u->prior - w->l->x0[k]);
            w->A[i][k] = w->l->G[i][k] * u->sigma / p->u_row[row];
        }
        w->b[i] = (y - p->seen[row]) / p->u_row[row];
    }
}

/* Solves it; the logarithm of the evidence as ct_tune_fit has it. */
static double solve(straight *w)
{
    const ct_tune_problem *p = w->p;
    double N[CT_TUNE_COUNT][CT_TUNE_COUNT] = {{0}}, g[CT_TUNE_COUNT] = {0}, sum = 0.0;
    for (int a = 0; a < p->n_x; a++) {
        N[a][a] = 1.0;
        for (int i = 0; i < p->n_y; i++) {
            g[a] += w->A[i][a] * w->b[i];
            for (int b = 0; b < p->n_x; b++)
                N[a][b] += w->A[i][a] * w->A[i][b];
        }
    }
    sum = -0.5 * ct_tune_invert(p->n_x, N, w->C);
    for (int a = 0; a < p->n_x; a++) {
        w->z[a] = 0.0;
        for (int b = 0; b < p->n_x; b++)
            w->z[a] -= w->C[a][b] * g[b];
        sum -= 0.5 * w->z[a] * w->z[a];
    }
    for (int i = 0; i < p->n_y; i++) {
        double r = w->b[i];
        for (int k = 0; k < p->n_x; k++)
            r += w->A[i][k] * w->z[k];
        sum -= 0.5 * r * r + log(p->u_row[p->of_y[i]]);
    }
    return sum;
}

/* Either way it was solved. */
typedef struct {
    const double (*C)[CT_TUNE_COUNT], (*A)[CT_TUNE_COUNT], *f, *z;
} solved;

/* Shift of the reading: what was read less what the system showed, from the residual and its
 * slopes. */
static void size_shift(const ct_tune_problem *p, const ct_tune_supposition *s, const solved *w,
                       ct_tune_weight *out)
{
    const ct_reading *r = &p->readings.r[s->kind];
    const int row = s->kind == CT_STATIC && place(p->of_y, p->n_y, CT_TUNE_ROW_DUCTS) >= 0
                        ? CT_TUNE_ROW_DUCTS
                        : (int)s->kind;
    const int i = place(p->of_y, p->n_y, row);
    if (ct_tune_problem_is_condition(s->kind)) {
        const int k = place(p->of_x, p->n_x, ct_tune_problem_unknown_of(s->kind));
        const double sigma = p->prior[p->of_x[k]].sigma;
        out->size = -sigma * w->z[k];
        out->u_size = hypot(r->u, sigma * sqrt(w->C[k][k]));
        return;
    }
    double variance = 0.0;
    for (int a = 0; a < p->n_x; a++)
        for (int b = 0; b < p->n_x; b++)
            variance += w->A[i][a] * w->C[a][b] * w->A[i][b];
    const double unit = s->kind != CT_STATIC ? p->u_row[row]
                        : row == CT_STATIC   ? p->u_row[row] / fabs(p->of_tap.slope)
                                             : 2.0 * p->u_row[row] * r->v / p->V_ducts;
    const double sign = s->kind == CT_STATIC && row == CT_STATIC ? 1.0 : -1.0;
    out->size = sign * w->f[i] * unit;
    out->u_size = hypot(r->u, unit * sqrt(variance));
}

static void size_up(const ct_tune_problem *p, const ct_tune_supposition *s, const solved *w,
                    ct_tune_weight *out)
{
    for (int i = 0; i < CT_TUNE_COUNT; i++)
        out->x[i] = p->prior[i].prior;
    for (int k = 0; k < p->n_x; k++)
        out->x[p->of_x[k]] += p->prior[p->of_x[k]].sigma * w->z[k];
    out->size = out->u_size = (double)NAN;
    if (s->cause == CT_CAUSE_READING) size_shift(p, s, w, out);
    if (s->subject < 0) return;
    const int k = place(p->of_x, p->n_x, s->subject);
    out->size = ct_tune_model_physical(s->subject, out->x[s->subject]);
    out->u_size = p->prior[s->subject].sigma * sqrt(w->C[k][k]);
}

static void weigh_straight(ct_tune_problem *p, const ct_readings *all, const lines *l,
                           const ct_tune_supposition *s, ct_tune_weight *out)
{
    ct_tune_problem_arrange(p, all);
    ct_tune_suppose(p, s);
    lines loose;
    if (p->charge_stays) l = cut_loose(l, p->n_y, &loose);
    straight w = {.p = p, .l = l};
    set_rows(&w);
    out->log_z = solve(&w) + log(s->odds * s->times);
    out->fit = -1;
    double f[CT_TUNE_ROWS];
    for (int i = 0; i < p->n_y; i++) {
        f[i] = w.b[i];
        for (int k = 0; k < p->n_x; k++)
            f[i] += w.A[i][k] * w.z[k];
    }
    const solved done = {(const double(*)[CT_TUNE_COUNT])w.C, (const double(*)[CT_TUNE_COUNT])w.A,
                         f, w.z};
    size_up(p, s, &done, out);
}

/* A supposition that cannot be fitted describes no system and is left with no weight; memory that
 * fails says nothing about it and ends the weighing. */
static ct_status weigh_fitted(ct_tune_problem *p, const ct_readings *all, ct_tune_weighing *w,
                              int i, ct_fault *fault)
{
    ct_tune_solution *fit = &w->fit[w->n_fits];
    ct_tune_weight *out = &w->weight[i];
    ct_tune_problem_arrange(p, all);
    ct_tune_suppose(p, &w->list[i]);
    for (int k = 0; k < CT_TUNE_COUNT; k++)
        p->prior[k].start = out->x[k];
    const ct_status status = ct_tune_fit(p, fit, fault);
    if (status == CT_SYSTEM) return status;
    if (status != CT_OK) {
        out->log_z = -INFINITY;
        out->fit = 0;
        return CT_OK;
    }
    out->log_z = fit->log_z + log(w->list[i].odds * w->list[i].times);
    out->fit = w->n_fits++;
    const solved done = {(const double(*)[CT_TUNE_COUNT])fit->C,
                         (const double(*)[CT_TUNE_COUNT])fit->J, fit->f, fit->z};
    size_up(p, &w->list[i], &done, out);
    return CT_OK;
}

static int likeliest(const ct_tune_weighing *w, bool unfitted)
{
    int best = -1;
    for (int i = 0; i < w->n; i++)
        if (!(unfitted && w->weight[i].fit >= 0) &&
            (best < 0 || w->weight[i].log_z > w->weight[best].log_z))
            best = i;
    return best;
}

static void share_out(ct_tune_weighing *w)
{
    double sum = 0.0;
    w->best = likeliest(w, false);
    for (int i = 0; i < w->n; i++)
        sum += w->weight[i].chance = exp(w->weight[i].log_z - w->weight[w->best].log_z);
    for (int i = 0; i < w->n; i++)
        w->weight[i].chance /= sum;
}

/* The lines go through the sound system's fit with its parts held near their plate: the one that
 * leaves them free may lie where a piston has begun to flood, and there the slopes are others. */
static ct_status draw(ct_tune_problem *p, const ct_readings *all, ct_tune_weighing *w, lines *l,
                      ct_fault *fault)
{
    draw_lines(p, &w->fit[0], l);
    w->n_fits = 1;
    weigh_straight(p, all, l, &w->list[0], &w->weight[0]);
    const double log_z = w->weight[0].log_z;
    const ct_status status = weigh_fitted(p, all, w, 0, fault);
    if (status != CT_OK) return status;
    if (w->n_fits > 1)
        draw_lines(p, &w->fit[1], l);
    else
        w->weight[0].log_z = log_z;
    return CT_OK;
}

ct_status ct_tune_weigh(ct_tune_problem *p, ct_tune_weighing *w, ct_fault *fault)
{
    const ct_readings all = p->readings;
    lines l = {0};
    w->n = ct_tune_suppose_all(p, w->list);
    const ct_status drawn = draw(p, &all, w, &l, fault);
    if (drawn != CT_OK) return drawn;
    for (int i = 1; i < w->n; i++)
        weigh_straight(p, &all, &l, &w->list[i], &w->weight[i]);
    for (int round = 1; round < CT_TUNE_REFITS; round++) {
        const int next = likeliest(w, true), best = likeliest(w, false);
        if (next < 0 || w->weight[next].log_z < w->weight[best].log_z - BEHIND) break;
        const ct_status status = weigh_fitted(p, &all, w, next, fault);
        if (status != CT_OK) return status;
    }
    share_out(w);
    return CT_OK;
}
