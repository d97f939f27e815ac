#include <gsl/gsl_cdf.h>
#include <math.h>

#include "study/tune.h"
#include "study/tune_fit.h"
#include "study/visit.h"

/* A multiplier past these makes a technician look; common practice, no source. */
#define AIRFLOW_LOW 0.90
#define COIL_LOW 0.85
#define CONDENSER_LOW 0.90
#define COMPRESSOR_LOW 0.93

#define NORMAL_95 1.959963984540054 /* two-sided 95 % of the normal distribution */

const char *ct_tune_name(ct_tune_unknown i)
{
    switch (i) {
    case CT_TUNE_COIL: return "coil conductance";
    case CT_TUNE_FLOW: return "compressor flow";
    case CT_TUNE_POWER: return "compressor power";
    case CT_TUNE_CONDENSER: return "condenser conductance";
    case CT_TUNE_AIRFLOW: return "airflow";
    case CT_TUNE_RETURN_T: return "return air dry bulb";
    case CT_TUNE_RETURN_MOISTURE: return "return air moisture";
    case CT_TUNE_OUTDOOR_T: return "outdoor air dry bulb";
    case CT_TUNE_SUBCOOLING: return "subcooling";
    case CT_TUNE_SUPERHEAT: return "superheat";
    case CT_TUNE_COUNT: break;
    }
    return "unknown";
}
static void fill_value(const ct_tune_problem *p, const ct_tune_solution *s, int k, ct_tune_value *v)
{
    int i = p->of_x[k];
    const ct_tune_prior *u = &p->prior[i];
    double x = u->prior + u->sigma * s->z[k];
    double dx = u->sigma * sqrt(s->C[k][k]);

    *v = (ct_tune_value){.fitted = true,
                         .read = u->read,
                         .prior = ct_tune_model_physical(i, u->prior),
                         .u_prior = u->sigma,
                         .value = ct_tune_model_physical(i, x),
                         .low = ct_tune_model_physical(i, x - NORMAL_95 * dx),
                         .high = ct_tune_model_physical(i, x + NORMAL_95 * dx),
                         .narrowed = 1.0 - dx / u->sigma};
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
                            .p_without = (double)NAN};
    return to;
}

/* Residual over the standard deviation it has when the reading itself is left out of the fit; exact
 * for a linear model (Cook & Weisberg 1982, Residuals and Influence in Regression, ch. 2). */
static double left_out(double f, double leverage)
{
    return f / sqrt(fmax(1e-9, 1.0 - leverage));
}

static void fill_compared(const ct_tune_problem *p, const ct_tune_solution *s,
                          const ct_tune_prediction *at, int i, ct_tune *out)
{
    ct_reading_kind kind = p->of_y[i];
    ct_tune_reading *r = add_reading(p, kind, out);

    r->used = true;
    r->predicted = at->y[kind];
    r->z = left_out(-s->f[i], s->leverage[i]);
    if (kind != CT_STATIC) return;
    r->predicted = r->given + (at->V - p->V_static) / p->slope;
    r->u = p->u_V_static / fabs(p->slope);
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
        if (!p->readings.r[i].has || ct_tune_problem_is_condition(kind) ||
            ct_tune_problem_compares(p, kind))
            continue;
        ct_tune_reading *r = add_reading(p, kind, out);
        r->used = kind == CT_BLOWER_POWER;
        if (r->used) r->predicted = at->y[kind];
    }
}

static ct_status fill(ct_tune_problem *p, const ct_tune_solution *s, ct_tune *out, ct_fault *fault)
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

static void fill_tuning(ct_tune *out)
{
    const ct_tune_value *v = out->value;

    out->tuning = (ct_tuning){.coil_conductance = {true, v[CT_TUNE_COIL].value},
                              .compressor_flow = {true, v[CT_TUNE_FLOW].value},
                              .compressor_power = {true, v[CT_TUNE_POWER].value},
                              .condenser_conductance = {true, v[CT_TUNE_CONDENSER].value},
                              .airflow = {out->tap >= 0, v[CT_TUNE_AIRFLOW].value}};
}

static double chance_below(const ct_tune_value *v, double limit)
{
    return gsl_cdf_ugaussian_P(log(limit / v->value) / v->u);
}

static void fill_causes(ct_tune *out)
{
    const ct_tune_value *v = out->value;

    out->cause[CT_CAUSE_LOW_AIRFLOW] = chance_below(&v[CT_TUNE_AIRFLOW], AIRFLOW_LOW);
    out->cause[CT_CAUSE_COIL] = chance_below(&v[CT_TUNE_COIL], COIL_LOW);
    out->cause[CT_CAUSE_CONDENSER] = chance_below(&v[CT_TUNE_CONDENSER], CONDENSER_LOW);
    out->cause[CT_CAUSE_COMPRESSOR] = chance_below(&v[CT_TUNE_FLOW], COMPRESSOR_LOW);
}

/* When the set does not fit, each odd reading is left out in turn. One whose absence
 * makes the rest fit is suspect; there may be several such, and then the readings cannot tell which
 * of them it is. */
static void cross_examine(ct_tune_problem *p, const ct_readings *all, ct_tune *out)
{
    for (int i = 0; i < out->n; i++) {
        ct_tune_reading *r = &out->reading[i];
        ct_readings rest = *all;
        ct_tune_solution s;
        if (!r->used || !(fabs(r->z) > NORMAL_95)) continue;
        rest.r[r->kind].has = false;
        ct_tune_problem_arrange(p, &rest);
        if (ct_tune_fit(p, &s, NULL) != CT_OK) continue;
        r->p_without = s.p;
        r->suspect = s.p >= CT_TUNE_P_LOW;
    }
}

ct_status ct_tune_run(const ct_setup *setup, const ct_readings *readings, ct_tune *out,
                      ct_fault *fault)
{
    ct_tune_problem p;
    ct_tune t = {0};
    ct_tune_solution s;
    ct_status status = ct_tune_problem_prepare(&p, setup, readings, fault);

    if (status != CT_OK) return status;
    t.tap = p.tap;
    ct_visit_impossible(&p.visit, &t);
    ct_visit_heat(&p.visit, &t.heat);
    ct_visit_charge(&p.visit, t.cause);
    if (t.n_impossible == 0) {
        ct_tune_problem_arrange(&p, readings);
        status = ct_tune_fit(&p, &s, fault);
        if (status == CT_OK) status = fill(&p, &s, &t, fault);
        if (status != CT_OK) return status;
        fill_tuning(&t);
        if (t.fits)
            fill_causes(&t);
        else
            cross_examine(&p, readings, &t);
    }
    t.evaluations = p.evaluations;
    *out = t;
    return CT_OK;
}
