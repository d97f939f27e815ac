#include "study/tune_record.h"

#include <math.h>

#include "study/visit_derive.h"

#define NORMAL_95 1.959963984540054 /* two-sided 95 % of the normal distribution */

const char *ct_tune_name(ct_tune_unknown i)
{
    switch (i) {
    case CT_TUNE_COIL: return "coil conductance";
    case CT_TUNE_FLOW: return "compressor flow";
    case CT_TUNE_POWER: return "compressor power";
    case CT_TUNE_CONDENSER: return "condenser conductance";
    case CT_TUNE_AIRFLOW: return "airflow";
    case CT_TUNE_PISTON: return "piston flow";
    case CT_TUNE_RETURN_T: return "return air dry bulb";
    case CT_TUNE_RETURN_MOISTURE: return "return air moisture";
    case CT_TUNE_OUTDOOR_T: return "outdoor air dry bulb";
    case CT_TUNE_SUBCOOLING: return "subcooling";
    case CT_TUNE_SUPERHEAT: return "superheat";
    case CT_TUNE_COUNT: break;
    }
    return "unknown";
}

bool ct_tune_value_told(const ct_tune *t, int unknown)
{
    if (!t->value[unknown].fitted) return false;
    if (!t->charge_first || unknown >= CT_TUNE_MULTIPLIERS || unknown == CT_TUNE_AIRFLOW)
        return true;
    return unknown != CT_TUNE_COIL && t->explained >= 0;
}

static int place_of(const ct_tune_problem *p, int unknown)
{
    int k = 0;
    while (k < p->n_x && p->of_x[k] != unknown)
        k++;
    return k < p->n_x ? k : -1;
}

/* The subcooling of a charge by superheat has the piston in it: K more at the answer, and its
 * variance with that. */
static double with_piston(const ct_tune_problem *p, const ct_tune_solution *s, int k,
                          double *variance)
{
    const int n = place_of(p, CT_TUNE_PISTON);
    if (p->of_x[k] != CT_TUNE_SUBCOOLING || n < 0) return 0.0;
    const ct_tune_prior *own = &p->prior[CT_TUNE_SUBCOOLING], *piston = &p->prior[CT_TUNE_PISTON];
    double slope;
    const double more = ct_tune_model_filled(p, piston->prior + piston->sigma * s->z[n], &slope);
    const double by = slope * piston->sigma;
    *variance += 2.0 * by * own->sigma * s->C[k][n] + by * by * s->C[n][n];
    return more;
}

static void fill_value(const ct_tune_problem *p, const ct_tune_solution *s, int k, ct_tune_value *v)
{
    int i = p->of_x[k];
    const ct_tune_prior *u = &p->prior[i];
    double variance = u->sigma * u->sigma * s->C[k][k];
    double x = u->prior + u->sigma * s->z[k] + with_piston(p, s, k, &variance);
    double dx = hypot(sqrt(fmax(0.0, variance)), p->doubt * ct_tune_doubt_of(p, i));

    *v = (ct_tune_value){.fitted = true,
                         .read = u->read,
                         .prior = ct_tune_model_physical(i, u->prior),
                         .u_prior = u->sigma,
                         .value = ct_tune_model_physical(i, x),
                         .low = ct_tune_model_physical(i, x - NORMAL_95 * dx),
                         .high = ct_tune_model_physical(i, x + NORMAL_95 * dx),
                         .narrowed = fmax(0.0, 1.0 - dx / u->sigma)};
    v->u = i < CT_TUNE_MULTIPLIERS
               ? dx
               : 0.5 * (ct_tune_model_physical(i, x + dx) - ct_tune_model_physical(i, x - dx));
}

static ct_tune_reading *add_reading(const ct_tune_problem *p, ct_reading_kind kind, ct_tune *out)
{
    const ct_reading *r = &p->readings.r[kind];
    ct_tune_reading *to = &out->reading[out->n++];

    *to = (ct_tune_reading){.kind = kind,
                            .given = r->v,
                            .u = r->u,
                            .predicted = (double)NAN,
                            .z = (double)NAN,
                            .shift = (double)NAN};
    return to;
}

/* Residual over the standard deviation it has when the reading itself is left out of the fit; exact
 * for a linear model (Cook & Weisberg 1982, Residuals and Influence in Regression, ch. 2). */
static double left_out(double f, double leverage)
{
    return f / sqrt(fmax(1e-9, 1.0 - leverage));
}

/* Static is compared as airflow, by table or, where that says nothing, by the ducts. */
static void fill_static(const ct_tune_problem *p, const ct_tune_prediction *at, bool by_ducts,
                        ct_tune_reading *r)
{
    const double slope = by_ducts ? p->V_ducts / (2.0 * r->given) : p->of_tap.slope;
    const double V = by_ducts ? p->V_ducts : p->of_tap.V_static;
    r->predicted = r->given + (at->V - V) / slope;
    r->u = p->u_row[by_ducts ? CT_TUNE_ROW_DUCTS : CT_STATIC] / fabs(slope);
    r->z = slope < 0.0 ? -r->z : r->z;
}

static void fill_compared(const ct_tune_problem *p, const ct_tune_solution *s,
                          const ct_tune_prediction *at, int i, ct_tune *out)
{
    const int row = p->of_y[i];
    const bool ducts = row == CT_TUNE_ROW_DUCTS;
    if (ducts && ct_tune_problem_compares(p, CT_STATIC)) return;
    const ct_reading_kind kind = ducts ? CT_STATIC : (ct_reading_kind)row;
    ct_tune_reading *r = add_reading(p, kind, out);

    r->used = true;
    r->predicted = at->y[row];
    r->u = p->u_row[row];
    r->z = left_out(-s->f[i], s->leverage[i]);
    if (kind == CT_STATIC) fill_static(p, at, ducts, r);
}

static void fill_condition(const ct_tune_problem *p, const ct_tune_solution *s, int k, ct_tune *out)
{
    static const ct_reading_kind kinds[CT_TUNE_COUNT] = {
        [CT_TUNE_RETURN_T] = CT_RETURN_DRY_BULB, [CT_TUNE_OUTDOOR_T] = CT_OUTDOOR_DRY_BULB};
    int i = p->of_x[k];
    if (!p->prior[i].read) return;
    ct_reading_kind kind = i != CT_TUNE_RETURN_MOISTURE            ? kinds[i]
                           : p->readings.r[CT_RETURN_WET_BULB].has ? CT_RETURN_WET_BULB
                                                                   : CT_RETURN_RH;
    ct_tune_reading *r = add_reading(p, kind, out);

    r->used = true;
    r->predicted = p->prior[i].prior + p->prior[i].sigma * s->z[k];
    r->z = left_out(-s->z[k], s->C[k][k]);
}

static void fill_rest(const ct_tune_problem *p, const ct_tune_prediction *at, ct_tune *out)
{
    for (int i = 0; i < CT_READING_COUNT; i++) {
        ct_reading_kind kind = (ct_reading_kind)i;
        const bool ducts = kind == CT_STATIC && ct_tune_problem_compares(p, CT_TUNE_ROW_DUCTS);
        const bool stands_in = ct_visit_derive_for(kind) != CT_READING_COUNT;
        if (!p->readings.r[i].has || stands_in || ct_tune_problem_is_condition(kind) || ducts ||
            ct_tune_problem_compares(p, i))
            continue;
        ct_tune_reading *r = add_reading(p, kind, out);
        r->used = kind == CT_BLOWER_POWER;
        if (r->used) r->predicted = at->y[kind];
    }
}

ct_status ct_tune_record(ct_tune_problem *p, const ct_tune_solution *s, ct_tune *out,
                         ct_fault *fault)
{
    double x[CT_TUNE_COUNT];
    ct_tune_prediction at;
    gsl_vector_const_view z = gsl_vector_const_view_array(s->z, (size_t)p->n_x);

    ct_tune_model_values(p, &z.vector, x);
    ct_status status = ct_tune_model_predict(p, x, &at);
    if (status != CT_OK) {
        if (fault) *fault = p->fault;
        return status;
    }
    for (int k = 0; k < p->n_x; k++)
        fill_value(p, s, k, &out->value[p->of_x[k]]);
    for (int k = 0; k < p->n_x; k++)
        fill_condition(p, s, k, out);
    for (int i = 0; i < p->n_y; i++)
        fill_compared(p, s, &at, i, out);
    fill_rest(p, &at, out);
    out->fitted = true;
    out->chi2 = s->chi2;
    out->dof = s->dof;
    out->p = s->p;
    out->fits = !(s->p < CT_TUNE_P_LOW);
    out->away = s->away;
    out->iterations = s->iterations;
    out->V = at.V;
    out->balance = at.balance;
    return CT_OK;
}
