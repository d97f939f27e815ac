#include "study/tune_next.h"

#include <math.h>

#include "study/visit_derive.h"

/* Central difference, in standard deviations of the prior. */
#define STEP 2e-2
/* Readings that would take off less than this share of the doubt are not worth the way. */
#define WORTH 0.03

typedef struct {
    double y[CT_READING_COUNT][CT_TUNE_COUNT]; /* slopes of all readings, by unknown in z */
    double Q[CT_TUNE_COUNT];                   /* of the logarithm of the sensible capacity */
    double at[CT_READING_COUNT];
} slopes;

static bool predict_at(ct_tune_problem *p, const ct_tune_solution *s, int k, double step,
                       ct_tune_prediction *out)
{
    double x[CT_TUNE_COUNT], z[CT_TUNE_COUNT];
    for (int i = 0; i < p->n_x; i++)
        z[i] = s->z[i] + (i == k ? step : 0.0);
    gsl_vector_const_view view = gsl_vector_const_view_array(z, (size_t)p->n_x);
    ct_tune_model_values(p, &view.vector, x);
    return ct_tune_model_predict(p, x, out) == CT_OK && out->balance.Q_sens_net > 0.0;
}

static bool find_slopes(ct_tune_problem *p, const ct_tune_solution *s, slopes *g)
{
    ct_tune_prediction here, up, down;
    if (!predict_at(p, s, -1, 0.0, &here)) return false;
    for (int i = 0; i < CT_READING_COUNT; i++)
        g->at[i] = here.y[i];
    for (int k = 0; k < p->n_x; k++) {
        if (!predict_at(p, s, k, STEP, &up) || !predict_at(p, s, k, -STEP, &down)) return false;
        g->Q[k] = log(up.balance.Q_sens_net / down.balance.Q_sens_net) / (2.0 * STEP);
        for (int i = 0; i < CT_READING_COUNT; i++)
            g->y[i][k] = (up.y[i] - down.y[i]) / (2.0 * STEP);
    }
    return true;
}

/* A condition is an unknown itself. */
static void set_condition(const ct_tune_problem *p, ct_reading_kind kind, slopes *g)
{
    const int unknown = ct_tune_problem_unknown_of(kind);
    g->at[kind] = p->prior[unknown].prior;
    for (int k = 0; k < p->n_x; k++)
        g->y[kind][k] = p->of_x[k] == unknown ? p->prior[unknown].sigma : 0.0;
}

static bool offered(const ct_tune_problem *p, ct_reading_kind kind)
{
    const ct_reading *r = p->readings.r;
    if (ct_visit_derive_for(kind) != CT_READING_COUNT) return false;
    switch (kind) {
    case CT_RETURN_RH:
    case CT_SUPPLY_RH:
    case CT_BLOWER_POWER:
    case CT_STATIC: return false; /* a wet bulb, the watts and the static have their own place */
    case CT_RETURN_WET_BULB: return !r[CT_RETURN_RH].has && r[CT_RETURN_WET_BULB].has;
    case CT_SUPPLY_WET_BULB: return r[kind].has; /* only then it is predicted */
    case CT_COMPRESSOR_POWER: return !r[CT_OUTDOOR_POWER].has;
    case CT_OUTDOOR_POWER: return !r[CT_COMPRESSOR_POWER].has;
    default: return true;
    }
}

static double product(const ct_tune_problem *p, const ct_tune_solution *s, const double a[],
                      const double b[])
{
    double sum = 0.0;
    for (int i = 0; i < p->n_x; i++)
        for (int k = 0; k < p->n_x; k++)
            sum += a[i] * s->C[i][k] * b[k];
    return sum;
}

static void offer(ct_tune_next next, ct_tune *out)
{
    int i = out->n_next < CT_TUNE_NEXT ? out->n_next++ : CT_TUNE_NEXT;
    for (; i > 0 && out->next[i - 1].u > next.u; i--)
        if (i < CT_TUNE_NEXT) out->next[i] = out->next[i - 1];
    if (i < CT_TUNE_NEXT) out->next[i] = next;
}

/* One more reading with row r and doubt u takes (g'Cr)^2/(u^2 + r'Cr) off the variance g'Cg. */
void ct_tune_next_find(ct_tune_problem *p, const ct_tune_solution *s, ct_tune *out)
{
    slopes g = {{{0}}, {0}, {0}};
    out->n_next = 0;
    if (!find_slopes(p, s, &g)) return;
    const double variance = product(p, s, g.Q, g.Q);
    out->u_capacity = sqrt(variance);
    for (int i = 0; i < CT_READING_COUNT; i++) {
        const ct_reading_kind kind = (ct_reading_kind)i;
        if (!offered(p, kind)) continue;
        if (ct_tune_problem_is_condition(kind)) set_condition(p, kind, &g);
        const double u =
            hypot(ct_reading_margin(kind, g.at[i]), ct_tune_doubt_of_row(p, i, g.at[i]));
        const double with = product(p, s, g.Q, g.y[i]);
        const double off = with * with / (u * u + product(p, s, g.y[i], g.y[i]));
        const double left = sqrt(fmax(0.0, variance - off));
        if (left <= (1.0 - WORTH) * out->u_capacity)
            offer((ct_tune_next){kind, p->readings.r[i].has, left}, out);
    }
}
