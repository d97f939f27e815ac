#include "study/tune.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

#include "study/tune_alike.h"
#include "study/tune_next.h"
#include "study/tune_record.h"
#include "study/tune_weigh.h"
#include "study/visit.h"

/* Where no single cause explains the readings, a multiplier below its limit is one of several;
 * common practice, no source. */
static const struct {
    ct_cause cause;
    ct_tune_unknown i;
    double limit;
} low[] = {{CT_CAUSE_LOW_AIRFLOW, CT_TUNE_AIRFLOW, 0.90},
           {CT_CAUSE_COIL, CT_TUNE_COIL, 0.85},
           {CT_CAUSE_CONDENSER, CT_TUNE_CONDENSER, 0.90},
           {CT_CAUSE_COMPRESSOR, CT_TUNE_FLOW, 0.93}};

/* An explanation less likely than this is not kept. */
#define KEPT 0.005

/* ---- What is said of causes -------------------------------------------------------- */

static int likelier_first(const void *a, const void *b)
{
    const ct_tune_explanation *x = a, *y = b;
    return (x->chance < y->chance) - (x->chance > y->chance);
}

/* Each tap and each reading is a cause of its own. */
static bool has_forms(ct_cause c)
{
    return c != CT_CAUSE_TAP && c != CT_CAUSE_READING;
}

/* Of one cause in two forms the likelier one is kept, with the chance of both. */
static bool joined(const ct_tune_explanation *e, ct_tune *out)
{
    if (!has_forms(e->cause)) return false;
    for (int i = 0; i < out->n_explanations; i++) {
        ct_tune_explanation *have = &out->explanation[i];
        if (have->cause != e->cause) continue;
        const double both = have->chance + e->chance;
        if (e->chance > have->chance) *have = *e;
        have->chance = both;
        return true;
    }
    return false;
}

static void add_explanation(const ct_tune_explanation *e, ct_tune *out)
{
    out->cause[e->cause] += e->chance;
    if (joined(e, out)) return;
    if (e->chance >= KEPT && out->n_explanations < CT_TUNE_EXPLANATIONS)
        out->explanation[out->n_explanations++] = *e;
}

static void explain(const ct_tune_problem *p, const ct_tune_weighing *w, ct_tune *out)
{
    out->sound = w->weight[0].chance;
    for (int i = 1; i < w->n; i++) {
        const ct_tune_supposition *s = &w->list[i];
        const ct_tune_weight *x = &w->weight[i];
        const double size = s->cause == CT_CAUSE_TAP ? x->size * p->V_nominal / s->on.V : x->size;
        const bool times = s->subject >= 0 && s->subject < CT_TUNE_MULTIPLIERS;
        add_explanation(
            &(ct_tune_explanation){s->cause, s->kind, s->tap, x->chance, times, size, x->u_size},
            out);
    }
    qsort(out->explanation, (size_t)out->n_explanations, sizeof out->explanation[0],
          likelier_first);
}

/* Several things at once: each by what the fit of a free system says of it. `airflow` is what the
 * static makes of low airflow. */
static void explain_freely(ct_cause airflow, ct_tune *out)
{
    out->n_explanations = 0;
    for (int i = 0; i < CT_CAUSE_COUNT; i++)
        out->cause[i] = 0.0;
    for (size_t k = 0; k < sizeof low / sizeof low[0]; k++) {
        const ct_tune_value *v = &out->value[low[k].i];
        const double chance = gsl_cdf_ugaussian_P(log(low[k].limit / v->value) / v->u);
        const bool air = low[k].i == CT_TUNE_AIRFLOW;
        add_explanation(&(ct_tune_explanation){.cause = air ? airflow : low[k].cause,
                                               .chance = chance,
                                               .is_multiplier = true,
                                               .size = v->value,
                                               .u = v->u},
                        out);
    }
    qsort(out->explanation, (size_t)out->n_explanations, sizeof out->explanation[0],
          likelier_first);
}

/* Readings that no system explains say nothing of the system. */
static void explain_instruments(ct_tune *out)
{
    const double all = out->cause[CT_CAUSE_READING];
    int n = 0;
    for (int i = 0; i < out->n_explanations; i++) {
        ct_tune_explanation e = out->explanation[i];
        if (e.cause != CT_CAUSE_READING || !(all > 0.0)) continue;
        e.chance /= all;
        out->explanation[n++] = e;
    }
    for (int i = 0; i < CT_CAUSE_COUNT; i++)
        out->cause[i] = i == CT_CAUSE_READING ? 1.0 : 0.0;
    out->n_explanations = n;
    out->sound = 0.0;
}

/* ---- The fit that is reported ---------------------------------------------------------- */

/* Do the readings agree with one another, whatever the system? What is left of each reading when
 * the equipment is free, against the degrees of freedom the fit has left: the sum of 1 - leverage.
 */
static double agreement(const ct_tune_problem *p, const ct_tune_solution *s)
{
    double sum = 0.0, dof = 0.0;
    for (int i = 0; i < p->n_y; i++) {
        sum += s->f[i] * s->f[i];
        dof += 1.0 - s->leverage[i];
    }
    for (int k = 0; k < p->n_x; k++) {
        if (!p->prior[p->of_x[k]].read) continue;
        sum += s->z[k] * s->z[k];
        dof += 1.0 - s->C[k][k];
    }
    return dof > 0.3 ? gsl_cdf_chisq_Q(sum, dof) : (double)NAN;
}

static ct_status fit_anything(ct_tune_problem *p, const ct_readings *all,
                              const ct_tune_weight *near, ct_tune_solution *s, ct_fault *fault)
{
    ct_tune_problem_arrange(p, all);
    ct_tune_suppose_anything(p);
    for (int k = 0; k < CT_TUNE_COUNT; k++)
        p->prior[k].start = near->x[k];
    return ct_tune_fit(p, s, fault);
}

static bool of_charge(ct_cause c)
{
    return c == CT_CAUSE_LOW_CHARGE || c == CT_CAUSE_OVERCHARGE || c == CT_CAUSE_STARVED ||
           c == CT_CAUSE_FLOODED;
}

/* Charge or metering is likely wrong, is named first, or looks like what is. */
static bool charge_in_doubt(const ct_tune *t)
{
    double all = 0.0;
    for (int i = 0; i < CT_CAUSE_COUNT; i++)
        all += of_charge((ct_cause)i) ? t->cause[i] : 0.0;
    return all >= CT_TUNE_LIKELY || t->valve.low || t->valve.high ||
           (t->wrong && t->n_explanations > 0 && of_charge(t->explanation[0].cause)) ||
           (t->alike && of_charge(t->explanation[1].cause));
}

static ct_maybe told(const ct_tune *t, int unknown)
{
    return (ct_maybe){ct_tune_value_told(t, unknown), t->value[unknown].value};
}

int ct_tune_runs_on(const ct_tune *t)
{
    return t->explained == 1 && t->explanation[0].cause == CT_CAUSE_TAP ? t->explanation[0].tap
                                                                        : -1;
}

static void find_tuning(const ct_tune_problem *p, ct_tune *out)
{
    ct_tune_value *v = out->value;

    if (ct_tune_runs_on(out) >= 0) {
        const double over = p->V_nominal / p->of_tap.V;
        v[CT_TUNE_AIRFLOW].value *= over;
        v[CT_TUNE_AIRFLOW].low *= over;
        v[CT_TUNE_AIRFLOW].high *= over;
        v[CT_TUNE_AIRFLOW].prior *= over;
    }
    out->charge_first = charge_in_doubt(out);
    out->tuning = (ct_tuning){.coil_conductance = told(out, CT_TUNE_COIL),
                              .compressor_flow = told(out, CT_TUNE_FLOW),
                              .compressor_power = told(out, CT_TUNE_POWER),
                              .condenser_conductance = told(out, CT_TUNE_CONDENSER),
                              .airflow = {out->tap >= 0, v[CT_TUNE_AIRFLOW].value}};
}

/* Of the supposition's cause, in all its forms. */
static double chance_of_cause(const ct_tune_weighing *w, int i)
{
    double sum = 0.0;
    if (!has_forms(w->list[i].cause)) return w->weight[i].chance;
    for (int k = 1; k < w->n; k++)
        if (w->list[k].cause == w->list[i].cause) sum += w->weight[k].chance;
    return sum;
}

/* The likelier cause, or of one cause the likelier form. */
static bool likelier(const ct_tune_weighing *w, int i, int than)
{
    const double a = chance_of_cause(w, i), b = chance_of_cause(w, than);
    return a != b ? a > b : w->weight[i].chance > w->weight[than].chance;
}

/* The likeliest explanation, or the sound system while that is likelier than all others together.
 */
static int chosen(const ct_tune_weighing *w)
{
    int best = 0;
    if (w->weight[0].chance >= CT_TUNE_LIKELY) return 0;
    for (int i = 1; i < w->n; i++)
        if (w->weight[i].fit >= 0 && (best == 0 || likelier(w, i, best))) best = i;
    return best;
}

/* Blocked or weak, whichever is the likelier; without a static neither. */
static ct_cause side_of_airflow(const ct_tune_weighing *w)
{
    int best = 0;
    for (int i = 1; i < w->n; i++) {
        const ct_cause c = w->list[i].cause;
        if (c != CT_CAUSE_LOW_AIRFLOW && c != CT_CAUSE_RESTRICTED && c != CT_CAUSE_BLOWER) continue;
        if (best == 0 || w->weight[i].log_z > w->weight[best].log_z) best = i;
    }
    return best > 0 ? w->list[best].cause : CT_CAUSE_LOW_AIRFLOW;
}

/* Of a sound system the one that leaves its parts the spread of systems as they are found. */
static const ct_tune_solution *fit_of(const ct_tune_weighing *w, int i)
{
    return &w->fit[i > 0 ? w->weight[i].fit : 0];
}

/* Its multipliers: weighed with all else near the plate, sized with all else as free as systems are
 * found. */
static ct_status record_fit(ct_tune_problem *p, const ct_readings *all, const ct_tune_weighing *w,
                            int best, ct_tune *out, ct_fault *fault)
{
    const ct_tune_solution *fit = fit_of(w, best);
    ct_tune_solution loose;
    ct_tune_problem_arrange(p, all);
    if (best > 0) {
        ct_tune_suppose_loosely(p, &w->list[best]);
        for (int k = 0; k < CT_TUNE_COUNT; k++)
            p->prior[k].start = w->weight[best].x[k];
        const ct_status status = ct_tune_fit(p, &loose, fault);
        if (status == CT_SYSTEM) return status;
        if (status == CT_OK) {
            fit = &loose;
        } else {
            ct_tune_problem_arrange(p, all);
            ct_tune_suppose(p, &w->list[best]);
        }
    }
    ct_tune_next_find(p, fit, out);
    return ct_tune_record(p, fit, out, fault);
}

static ct_status record_chosen(ct_tune_problem *p, const ct_readings *all,
                               const ct_tune_weighing *w, ct_tune *out, ct_fault *fault)
{
    const int best = chosen(w);
    ct_tune_solution free_one;
    ct_status status;

    explain(p, w, out);
    out->p_agree = fit_of(w, best)->p;
    out->agree = !(out->p_agree < CT_TUNE_P_LOW);
    const bool reading = best > 0 && w->list[best].cause == CT_CAUSE_READING;
    const bool poor = out->p_agree < CT_TUNE_P_ODD;
    const bool look = !out->agree || reading;
    status = look ? fit_anything(p, all, &w->weight[best], &free_one, fault) : CT_OK;
    if (status == CT_SYSTEM) return status;
    if (look && status == CT_OK) {
        out->p_agree = agreement(p, &free_one);
        out->agree = !(out->p_agree < CT_TUNE_P_ODD);
        if (out->agree && !reading && poor) {
            status = ct_tune_record(p, &free_one, out, fault);
            ct_tune_next_find(p, &free_one, out);
            out->explained = -1;
            explain_freely(side_of_airflow(w), out);
            return status;
        }
        if (!out->agree && poor) explain_instruments(out);
    }
    out->explained = best > 0;
    return record_fit(p, all, w, best, out, fault);
}

static void mark_readings(const ct_tune_weighing *w, ct_tune *out)
{
    double all = 0.0;
    for (int k = 1; k < w->n; k++)
        if (w->list[k].cause == CT_CAUSE_READING) all += w->weight[k].chance;
    const double scale = out->cause[CT_CAUSE_READING] < 1.0 || all <= 0.0 ? 1.0 : 1.0 / all;
    for (int i = 0; i < out->n; i++)
        for (int k = 1; k < w->n; k++) {
            if (w->list[k].cause != CT_CAUSE_READING || w->list[k].kind != out->reading[i].kind)
                continue;
            out->reading[i].chance = w->weight[k].chance * scale;
            out->reading[i].shift = w->weight[k].size;
        }
}

static ct_status weigh(ct_tune_problem *p, const ct_readings *all, ct_tune_weighing *w,
                       ct_tune_how how, ct_tune *out, ct_fault *fault)
{
    ct_tune_problem_arrange(p, all);
    ct_visit_signs(p, out);
    ct_status status = ct_tune_fit(p, &w->fit[0], fault);
    if (status != CT_OK) return status;
    out->p_sound = w->fit[0].p;
    out->sound = 1.0;
    out->agree = true;
    if (how.plain) {
        out->p_agree = w->fit[0].p;
        status = ct_tune_record(p, &w->fit[0], out, fault);
    } else {
        status = ct_tune_weigh(p, w, fault);
        if (status == CT_OK) status = record_chosen(p, all, w, out, fault);
    }
    if (status != CT_OK) return status;
    if (!how.plain) mark_readings(w, out);
    out->wrong =
        out->explained < 0 || out->valve.low || out->valve.high ||
        (out->n_explanations > 0 && out->explanation[0].chance >= CT_TUNE_NAMED * out->sound);
    if (out->wrong && out->agree && out->explained >= 0) ct_tune_alike(out);
    find_tuning(p, out);
    return CT_OK;
}

/* ---- Readings that cannot all be true ---------------------------------------------- */

/* How often two probes or hoses are exchanged, for one sound visit. Judgment, no source. */
#define SWAP_ODDS 0.03

/* Logarithm of the evidence for these readings of a sound system; -INFINITY where none fits.
 * `near`: its parts held near their plate, as everything is weighed (w->list is spoilt). */
static ct_status evidence(ct_tune_problem *p, const ct_readings *readings, bool near,
                          ct_tune_weighing *w, double *log_z, ct_fault *fault)
{
    ct_tune_solution *s = &w->fit[0];
    ct_tune_problem_arrange(p, readings);
    if (near) {
        ct_tune_suppose_all(p, w->list);
        ct_tune_suppose(p, &w->list[0]);
    }
    const ct_status status = ct_tune_fit(p, s, fault);
    *log_z = status == CT_OK ? s->log_z : (double)-INFINITY;
    return status == CT_SYSTEM ? status : CT_OK;
}

/* Each instrument that may be off, weighed as where the readings can all be true. */
static ct_status suspect_readings(ct_tune_problem *p, ct_tune_weighing *w, ct_tune *out,
                                  double *log_z, ct_fault *fault)
{
    ct_status status = evidence(p, &p->given, false, w, log_z, fault);
    if (status != CT_OK || !isfinite(*log_z)) return status;
    status = ct_tune_weigh(p, w, fault);
    if (status != CT_OK) return status;
    explain(p, w, out);
    const double of_all = w->weight[w->best].log_z - log(w->weight[w->best].chance);
    *log_z = of_all + log(out->cause[CT_CAUSE_READING]);
    explain_instruments(out);
    out->wrong = out->n_explanations > 0;
    return CT_OK;
}

/* Which instrument is off, or which two are exchanged, if the readings cannot all be true. */
static ct_status suspect(ct_tune_problem *p, ct_tune_weighing *w, ct_tune_how how, ct_tune *out,
                         ct_fault *fault)
{
    double off = (double)-INFINITY, swapped = (double)-INFINITY;
    ct_visit_charge(&p->visit, out->cause);
    ct_visit_swap(&p->visit, out);
    if (how.plain) return CT_OK;
    ct_status status = suspect_readings(p, w, out, &off, fault);
    if (status != CT_OK || !out->swap.has) return status;
    ct_readings other = p->given;
    ct_visit_exchange(&other, out->swap.a, out->swap.b);
    status = evidence(p, &other, true, w, &swapped, fault);
    if (status != CT_OK) return status;
    if (!isfinite(swapped) && !isfinite(off)) return CT_OK;
    out->swap.chance = 1.0 / (1.0 + exp(off - swapped - log(SWAP_ODDS)));
    for (int i = 0; i < out->n_explanations; i++)
        out->explanation[i].chance *= 1.0 - out->swap.chance;
    return CT_OK;
}

/* Straight from the readings, with the airflow of the tap it runs on by them. */
static void find_heat(ct_tune_problem *p, ct_tune *out)
{
    if (ct_tune_runs_on(out) >= 0) ct_tune_problem_runs_on(p, ct_tune_runs_on(out));
    ct_visit_heat(&p->visit, &out->heat);
}

ct_status ct_tune_run_how(const ct_setup *setup, const ct_readings *readings, ct_tune_how how,
                          ct_tune *out, ct_fault *fault)
{
    ct_tune_problem p;
    ct_tune t = {0};
    ct_tune_weighing *w;
    ct_status status = ct_tune_problem_prepare(&p, setup, readings, fault);

    if (status != CT_OK) return status;
    p.doubt = how.doubt;
    t.tap = p.tap;
    t.V_without_tap = p.tap < 0 ? p.V_nominal : 0.0;
    t.V_without_tap_per_ton = t.V_without_tap / p.job.system.outdoor.tons;
    t.as_picked = p.as_picked;
    ct_visit_impossible(&p.visit, &t);
    ct_visit_valve(&p.visit, &p.job.system.meter, &t.valve);
    w = malloc(sizeof *w);
    if (!w) return ct_fault_say(fault, CT_SYSTEM, "out of memory for the fit");
    if (t.n_impossible > 0)
        status = suspect(&p, w, how, &t, fault);
    else
        status = weigh(&p, &p.given, w, how, &t, fault);
    free(w);
    if (status != CT_OK) return status;
    find_heat(&p, &t);
    t.evaluations = p.evaluations;
    *out = t;
    return CT_OK;
}

ct_status ct_tune_run(const ct_setup *setup, const ct_readings *readings, ct_tune *out,
                      ct_fault *fault)
{
    return ct_tune_run_how(setup, readings, (ct_tune_how){.doubt = 1.0}, out, fault);
}

const char *ct_cause_name(ct_cause cause)
{
    switch (cause) {
    case CT_CAUSE_LOW_AIRFLOW: return "low_airflow";
    case CT_CAUSE_RESTRICTED: return "restricted_airflow";
    case CT_CAUSE_BLOWER: return "blower";
    case CT_CAUSE_TAP: return "other_tap";
    case CT_CAUSE_COIL: return "coil";
    case CT_CAUSE_CONDENSER: return "condenser";
    case CT_CAUSE_COMPRESSOR: return "compressor";
    case CT_CAUSE_LOW_CHARGE: return "low_charge";
    case CT_CAUSE_OVERCHARGE: return "overcharge";
    case CT_CAUSE_STARVED: return "starved";
    case CT_CAUSE_FLOODED: return "flooded";
    case CT_CAUSE_READING: return "reading";
    case CT_CAUSE_COUNT: break;
    }
    return "unknown";
}
