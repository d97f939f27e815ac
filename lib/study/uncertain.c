#include "study/uncertain.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/parallel.h"

/* What one draw says of one speed: a bit per limit. */
typedef struct {
    uint16_t judged, failed;
    bool balanced, picked;
} verdicts;

_Static_assert(CT_LIMIT_COUNT <= 16, "a bit per limit");

/* What each thread works in. */
typedef struct {
    ct_solver *solver;
    ct_case varied;
    ct_sweep sweep;
} bench;

typedef struct {
    const ct_setup *setup;
    const ct_sweep *nominal;
    int samples, points; /* points: airflows, then taps */
    bool from_taps;
    double *z;         /* samples x CT_VARY_COUNT, standard normal */
    double *value;     /* [point][band][sample], NaN: none */
    verdicts *verdict; /* [point][sample] */
    bool *possible;    /* [sample] */
    bench **benches;
    ct_uncertain *out;
} study;

/* ---- Drawing --------------------------------------------------------------------- */

static bool draw(const ct_uncertain_plan *plan, double *z)
{
    /* GSL's own allocation would end a host program when memory fails. */
    gsl_qrng q = {.type = plan->sequence == CT_SEQUENCE_HALTON ? gsl_qrng_halton : gsl_qrng_sobol,
                  .dimension = CT_VARY_COUNT};
    q.state_size = q.type->state_size(q.dimension);
    q.state = calloc(1, q.state_size);
    if (!q.state || q.type->init_state(q.state, q.dimension) != GSL_SUCCESS) {
        free(q.state);
        return false;
    }
    for (int i = 0; i < plan->samples; i++, z += CT_VARY_COUNT) {
        gsl_qrng_get(&q, z);
        for (int k = 0; k < CT_VARY_COUNT; k++)
            z[k] = gsl_cdf_ugaussian_Pinv(z[k]);
    }
    free(q.state);
    return true;
}

static double *cell(const study *s, int point, ct_band_of band)
{
    return s->value + ((size_t)point * CT_BAND_COUNT + band) * (size_t)s->samples;
}

static verdicts *verdict_row(const study *s, int point)
{
    return s->verdict + (size_t)point * (size_t)s->samples;
}

static void note_values(const study *s, int sample, int point, const ct_point *p)
{
    const ct_balance *b = &p->balance;
    bool ok = p->status == CT_OK;
    const double v[CT_BAND_COUNT] = {
        [CT_BAND_AIRFLOW] = p->V_std,       [CT_BAND_TOTAL] = b->Q_net,
        [CT_BAND_SENSIBLE] = b->Q_sens_net, [CT_BAND_LATENT] = b->Q_lat,
        [CT_BAND_SURFACE] = b->T_surface,   [CT_BAND_SUCTION] = b->Te,
    };

    for (int k = 0; k < CT_BAND_COUNT; k++)
        cell(s, point, (ct_band_of)k)[sample] = ok ? v[k] : (double)NAN;
}

static void note_verdicts(const study *s, int sample, int point, const ct_point *p)
{
    verdicts v = {.balanced = p->status == CT_OK};

    for (int k = 0; k < CT_LIMIT_COUNT; k++) {
        if (p->limit[k].verdict != CT_NOT_JUDGED) v.judged |= (uint16_t)(1u << k);
        if (p->limit[k].verdict == CT_FAILS) v.failed |= (uint16_t)(1u << k);
    }
    verdict_row(s, point)[sample] = v;
}

/* The lowest speed that passes in this draw; taps may have changed places. */
static void note_pick(const study *s, int sample, const ct_sweep *sweep)
{
    const ct_point *list = s->from_taps ? sweep->tap : sweep->point;
    int n = s->from_taps ? sweep->n_taps : sweep->n;
    int first = s->from_taps ? sweep->n : 0;
    int best = -1;

    for (int i = 0; i < n; i++)
        if (list[i].passes && (best < 0 || list[i].m_da < list[best].m_da)) best = i;
    if (best >= 0) verdict_row(s, first + best)[sample].picked = true;
}

static void set_aside(const study *s, int sample)
{
    s->possible[sample] = false;
    for (int p = 0; p < s->points; p++)
        for (int k = 0; k < CT_BAND_COUNT; k++)
            cell(s, p, (ct_band_of)k)[sample] = NAN;
}

static ct_status try_draw(const study *s, int sample, bench *b, ct_sweep_job *job, ct_fault *fault)
{
    double step[CT_VARY_COUNT];

    for (int k = 0; k < CT_VARY_COUNT; k++)
        step[k] = s->z[(size_t)sample * CT_VARY_COUNT + (size_t)k] *
                  ct_vary_sigma(&s->setup->c->uncertainty, (ct_vary_input)k);
    return ct_vary_job(s->setup, step, &b->varied, job, fault);
}

static void work_sample(int sample, int worker, void *context)
{
    const study *s = context;
    bench *b = s->benches[worker];
    ct_sweep_job job;

    if (try_draw(s, sample, b, &job, NULL) != CT_OK) {
        set_aside(s, sample);
        return;
    }
    s->possible[sample] = true;
    ct_sweep_pair_low(b->solver, &job);
    ct_sweep_near(b->solver, &job, s->nominal, &b->sweep);
    for (int p = 0; p < s->points; p++) {
        const ct_point *point = p < b->sweep.n ? &b->sweep.point[p] : &b->sweep.tap[p - b->sweep.n];
        note_values(s, sample, p, point);
        note_verdicts(s, sample, p, point);
    }
    note_pick(s, sample, &b->sweep);
}

/* ---- Summing up ------------------------------------------------------------------ */

/* Leaves the finite values first and in order; they are not needed by draw any more. */
static int sort_finite(double *v, int n)
{
    int m = 0;

    for (int i = 0; i < n; i++)
        if (isfinite(v[i])) v[m++] = v[i];
    gsl_sort(v, 1, (size_t)m);
    return m;
}

static void sum_band(double *v, int samples, ct_band *band)
{
    int n = sort_finite(v, samples);

    *band = (ct_band){n, NAN, NAN, NAN, NAN, NAN, NAN};
    if (n == 0) return;
    band->mean = gsl_stats_mean(v, 1, (size_t)n);
    band->q05 = gsl_stats_quantile_from_sorted_data(v, 1, (size_t)n, 0.05);
    band->q16 = gsl_stats_quantile_from_sorted_data(v, 1, (size_t)n, 0.16);
    band->median = gsl_stats_quantile_from_sorted_data(v, 1, (size_t)n, 0.5);
    band->q84 = gsl_stats_quantile_from_sorted_data(v, 1, (size_t)n, 0.84);
    band->q95 = gsl_stats_quantile_from_sorted_data(v, 1, (size_t)n, 0.95);
}

/* A draw without a balance judges nothing and fails everything. */
static void sum_verdicts(const study *s, int point, ct_uncertain_point *u)
{
    const verdicts *v = verdict_row(s, point);
    const uint16_t deciding = (uint16_t)((1u << CT_LIMIT_FIRST_ADVICE) - 1u);
    int possible = 0, all = 0, picked = 0, failed[CT_LIMIT_COUNT] = {0};
    unsigned judged = 0;

    for (int i = 0; i < s->samples; i++) {
        if (!s->possible[i]) continue;
        possible++;
        judged |= v[i].judged;
        all += v[i].balanced && !(v[i].failed & deciding);
        picked += v[i].picked;
        for (int k = 0; k < CT_LIMIT_COUNT; k++)
            failed[k] += !v[i].balanced || (v[i].failed & (1u << k));
    }
    for (int k = 0; k < CT_LIMIT_COUNT; k++)
        u->limit[k] = judged & (1u << k) ? 1.0 - (double)failed[k] / possible : (double)NAN;
    u->all = (double)all / possible;
    u->picked = s->from_taps && u->tap < 0 ? (double)NAN : (double)picked / possible;
}

static void work_point(int point, int worker, void *context)
{
    const study *s = context;
    int n = s->nominal->n;
    const ct_point *p = point < n ? &s->nominal->point[point] : &s->nominal->tap[point - n];
    ct_uncertain_point *u = point < n ? &s->out->point[point] : &s->out->tap[point - n];

    (void)worker;
    u->tap = p->tap;
    u->V_std = p->V_std;
    u->V_std_per_ton = p->V_std_per_ton;
    for (int k = 0; k < CT_BAND_COUNT; k++)
        sum_band(cell(s, point, (ct_band_of)k), s->samples, &u->band[k]);
    sum_verdicts(s, point, u);
}

static void count_draws(const study *s, ct_uncertain *out)
{
    int none = 0;

    for (int i = 0; i < s->samples; i++) {
        bool settled = true, picked = false;
        if (!s->possible[i]) {
            out->impossible++;
            continue;
        }
        for (int p = 0; p < s->points; p++) {
            settled = settled && verdict_row(s, p)[i].balanced;
            picked = picked || verdict_row(s, p)[i].picked;
        }
        out->unsettled += !settled;
        none += !picked;
    }
    out->none = (double)none / (s->samples - out->impossible);
}

/* Works the first impossible draw out again for its story: threads may meet it in any order. */
static void note_impossible(const study *s, ct_uncertain *out)
{
    ct_sweep_job job;
    ct_fault fault;

    for (int i = 0; i < s->samples; i++) {
        if (s->possible[i]) continue;
        if (try_draw(s, i, s->benches[0], &job, &fault) != CT_OK)
            snprintf(out->why, sizeof out->why, "%s", fault.what);
        return;
    }
}

/* ---- All together ---------------------------------------------------------------- */

static void free_benches(bench **b, int n)
{
    if (!b) return;
    for (int i = 0; i < n; i++) {
        if (b[i]) ct_solver_free(b[i]->solver);
        free(b[i]);
    }
    free(b);
}

static bench **make_benches(int n)
{
    bench **b = calloc((size_t)n, sizeof *b);

    for (int i = 0; b && i < n; i++) {
        b[i] = calloc(1, sizeof *b[i]);
        if (!b[i] || ct_solver_make(&b[i]->solver, NULL) != CT_OK) {
            free_benches(b, n);
            return NULL;
        }
    }
    return b;
}

static ct_status check_plan(const ct_uncertain_plan *plan, int points, ct_fault *fault)
{
    if (!(plan->samples >= 1 && plan->samples <= CT_UNCERTAIN_SAMPLES_MAX))
        return ct_fail(fault, CT_RANGE, plan->samples, 1, CT_UNCERTAIN_SAMPLES_MAX,
                       "%d samples: allowed 1 to %d", plan->samples, CT_UNCERTAIN_SAMPLES_MAX);
    const int most = CT_UNCERTAIN_CELLS_MAX / points;
    if (plan->samples > most)
        return ct_fail(fault, CT_RANGE, plan->samples, 1, most,
                       "%d samples of %d airflows and taps: at most %d samples of so many; take "
                       "fewer samples or fewer sweep points",
                       plan->samples, points, most);
    return CT_OK;
}

static void free_study(study *s, int workers)
{
    free_benches(s->benches, workers);
    free(s->z);
    free(s->possible);
    free(s->verdict);
    free(s->value);
}

static bool make_study(study *s, int workers)
{
    size_t n = (size_t)s->samples, cells = n * (size_t)s->points;

    s->value = malloc(cells * CT_BAND_COUNT * sizeof *s->value);
    s->verdict = calloc(cells, sizeof *s->verdict);
    s->possible = calloc(n, sizeof *s->possible);
    s->z = malloc(n * CT_VARY_COUNT * sizeof *s->z);
    s->benches = make_benches(workers);
    return s->value && s->verdict && s->possible && s->z && s->benches;
}

static ct_status run(study *s, const ct_uncertain_plan *plan, int workers, ct_fault *fault)
{
    ct_uncertain *out = s->out;

    if (!make_study(s, workers) || !draw(plan, s->z))
        return ct_fault_say(fault, CT_SYSTEM, "out of memory for %d samples", s->samples);
    ct_parallel(workers, s->samples, work_sample, s);
    count_draws(s, out);
    note_impossible(s, out);
    if (out->impossible == s->samples)
        return ct_fault_say(fault, CT_NO_ROOT, "no draw is possible: %.160s", out->why);
    ct_parallel(workers, s->points, work_point, s);
    return CT_OK;
}

ct_status ct_uncertain_run(const ct_setup *setup, const ct_sweep *nominal,
                           const ct_uncertain_plan *plan, ct_uncertain *out, ct_fault *fault)
{
    int workers = ct_parallel_workers(plan->threads);
    study s = {.setup = setup,
               .nominal = nominal,
               .samples = plan->samples,
               .points = nominal->n + nominal->n_taps,
               .from_taps = nominal->n_taps > 0,
               .out = out};
    ct_status status = check_plan(plan, s.points, fault);

    if (status == CT_OK) status = ct_vary_check(&setup->c->uncertainty, fault);
    if (status != CT_OK) return status;
    memset(out, 0, sizeof *out);
    out->samples = plan->samples;
    out->n = nominal->n;
    out->n_taps = nominal->n_taps;
    status = run(&s, plan, workers, fault);
    free_study(&s, workers);
    return status;
}
