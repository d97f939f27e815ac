#include "study/tune_fit.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <string.h>

/* Central difference, in standard deviations of the prior. Wide, because the coil's integration
 * changes its number of steps here and there, which moves a prediction by up to a thousandth of its
 * uncertainty; third derivatives are small, so the slopes stay good to 1e-4. */
#define STEP 2e-2
/* Residual of a trial without a balance: large, finite, so that the search turns back. */
#define NO_BALANCE 1e3
#define MAX_ROUNDS 60
#define LEVEL 0.03 /* standard uncertainties from the level point: there */
#define GAIN 0.01  /* of chi-square: not worth another start */
#define STARTS 5
/* Standard deviations of a prior from which no search begins further out: the model ends at 8. */
#define FURTHEST_START 6.0

/* ---- For GSL: readings first, then one row for each prior ------------------------ */

static int residuals(const gsl_vector *z, void *context, gsl_vector *f)
{
    ct_tune_problem *p = context;
    double y[CT_TUNE_ROWS];
    bool good = ct_tune_model_residuals(p, z, y);

    for (int i = 0; i < p->n_y; i++)
        gsl_vector_set(f, (size_t)i, good ? y[i] : NO_BALANCE);
    for (int k = 0; k < p->n_x; k++)
        gsl_vector_set(f, (size_t)p->n_y + (size_t)k, gsl_vector_get(z, (size_t)k));
    return GSL_SUCCESS;
}

/* Central; one-sided where the model ends within a step. */
static bool slope_of(ct_tune_problem *p, gsl_vector *z, int k, gsl_matrix *J)
{
    double up[CT_TUNE_ROWS], down[CT_TUNE_ROWS];
    const double center = gsl_vector_get(z, (size_t)k);

    gsl_vector_set(z, (size_t)k, center + STEP);
    const bool above = ct_tune_model_residuals(p, z, up);
    gsl_vector_set(z, (size_t)k, center - STEP);
    const bool below = ct_tune_model_residuals(p, z, down);
    gsl_vector_set(z, (size_t)k, center);
    if (!above && !below) return false;
    if (!above && !ct_tune_model_residuals(p, z, up)) return false;
    if (!below && !ct_tune_model_residuals(p, z, down)) return false;
    const double apart = above && below ? 2.0 * STEP : STEP;
    for (int i = 0; i < p->n_y; i++)
        gsl_matrix_set(J, (size_t)i, (size_t)k, (up[i] - down[i]) / apart);
    return true;
}

static int slopes(const gsl_vector *z, void *context, gsl_matrix *J)
{
    ct_tune_problem *p = context;
    double copy[CT_TUNE_COUNT];
    gsl_vector_view moved = gsl_vector_view_array(copy, (size_t)p->n_x);

    gsl_vector_memcpy(&moved.vector, z);
    gsl_matrix_set_zero(J);
    for (int k = 0; k < p->n_x; k++) {
        gsl_matrix_set(J, (size_t)p->n_y + (size_t)k, (size_t)k, 1.0);
        if (!slope_of(p, &moved.vector, k, J)) return GSL_EFAILED;
    }
    return GSL_SUCCESS;
}
/* ---- The fit --------------------------------------------------------------------- */

static double leverage_of(const ct_tune_problem *p, const gsl_matrix *J, const ct_tune_solution *s,
                          int i)
{
    double sum = 0.0;

    for (int a = 0; a < p->n_x; a++)
        for (int b = 0; b < p->n_x; b++)
            sum += gsl_matrix_get(J, (size_t)i, (size_t)a) * s->C[a][b] *
                   gsl_matrix_get(J, (size_t)i, (size_t)b);
    return sum;
}

/* The Gauss-Newton step -C g, g = J'f, to the level point of the local quadratic, and its length in
 * standard uncertainties, sqrt(g' C g). */
static void find_level(const ct_tune_problem *p, const gsl_matrix *J, const gsl_vector *f,
                       ct_tune_solution *s)
{
    double g[CT_TUNE_COUNT] = {0}, sum = 0.0;

    for (int k = 0; k < p->n_x; k++)
        for (size_t i = 0; i < J->size1; i++)
            g[k] += gsl_matrix_get(J, i, (size_t)k) * gsl_vector_get(f, i);
    for (int a = 0; a < p->n_x; a++) {
        s->newton[a] = 0.0;
        for (int b = 0; b < p->n_x; b++)
            s->newton[a] -= s->C[a][b] * g[b];
        sum -= g[a] * s->newton[a];
    }
    s->away = sqrt(fmax(0.0, sum));
}

/* Laplace: the height of the posterior at its top times its width; widths of the instruments count
 * where a supposition changes them. */
static void judge(const ct_tune_problem *p, const gsl_vector *f, ct_tune_solution *s)
{
    s->chi2 = 0.0;
    s->dof = p->n_y;
    for (size_t i = 0; i < f->size; i++)
        s->chi2 += gsl_vector_get(f, i) * gsl_vector_get(f, i);
    s->p = s->dof > 0 ? gsl_cdf_chisq_Q(s->chi2, s->dof) : (double)NAN;
    s->log_z = -0.5 * s->chi2 - 0.5 * s->log_det;
    for (int i = 0; i < p->n_y; i++)
        s->log_z -= log(p->u_row[p->of_y[i]]);
}

double ct_tune_invert(int n, double A[CT_TUNE_COUNT][CT_TUNE_COUNT],
                      double C[CT_TUNE_COUNT][CT_TUNE_COUNT])
{
    double log_det = 0.0;
    for (int a = 0; a < n; a++)
        for (int b = 0; b < n; b++)
            C[a][b] = a == b ? 1.0 : 0.0;
    for (int k = 0; k < n; k++) {
        const double pivot = A[k][k];
        log_det += log(pivot);
        for (int b = 0; b < n; b++) {
            A[k][b] /= pivot;
            C[k][b] /= pivot;
        }
        for (int a = 0; a < n; a++) {
            const double share = a == k ? 0.0 : A[a][k];
            for (int b = 0; b < n; b++) {
                A[a][b] -= share * A[k][b];
                C[a][b] -= share * C[k][b];
            }
        }
    }
    return log_det;
}

static void find_covariance(const gsl_matrix *J, int n, ct_tune_solution *s)
{
    double A[CT_TUNE_COUNT][CT_TUNE_COUNT] = {{0}};
    for (int a = 0; a < n; a++)
        for (int b = 0; b < n; b++)
            for (size_t i = 0; i < J->size1; i++)
                A[a][b] += gsl_matrix_get(J, i, (size_t)a) * gsl_matrix_get(J, i, (size_t)b);
    s->log_det = ct_tune_invert(n, A, s->C);
}

static void take_solution(const ct_tune_problem *p, const gsl_multifit_nlinear_workspace *w,
                          ct_tune_solution *s)
{
    const gsl_vector *z = gsl_multifit_nlinear_position(w);
    const gsl_vector *f = gsl_multifit_nlinear_residual(w);
    const gsl_matrix *J = gsl_multifit_nlinear_jac(w);

    find_covariance(J, p->n_x, s);
    for (int a = 0; a < p->n_x; a++)
        s->z[a] = gsl_vector_get(z, (size_t)a);
    for (int i = 0; i < p->n_y; i++) {
        s->f[i] = gsl_vector_get(f, (size_t)i);
        for (int k = 0; k < p->n_x; k++)
            s->J[i][k] = gsl_matrix_get(J, (size_t)i, (size_t)k);
        s->leverage[i] = leverage_of(p, J, s, i);
    }
    find_level(p, J, f, s);
    s->iterations += (int)gsl_multifit_nlinear_niter(w);
    judge(p, f, s);
}

static double sum_of_squares(ct_tune_problem *p, const gsl_vector *z)
{
    double y[CT_TUNE_ROWS], sum = 0.0;

    if (!ct_tune_model_residuals(p, z, y)) return INFINITY;
    for (int i = 0; i < p->n_y; i++)
        sum += y[i] * y[i];
    for (int k = 0; k < p->n_x; k++)
        sum += gsl_vector_get(z, (size_t)k) * gsl_vector_get(z, (size_t)k);
    return sum;
}

/* A piston's superheat falls fast with what it passes and then, flooded, no more: a search begun on
 * the flooded side may end there though the suction line is warm. So it is begun where the readings
 * fit best. */
#define DRIEST 3
static void begin_dry(ct_tune_problem *p, gsl_vector *z)
{
    int k = 0;
    while (k < p->n_x && p->of_x[k] != CT_TUNE_PISTON)
        k++;
    if (k == p->n_x) return;
    const double from = gsl_vector_get(z, (size_t)k);
    double best = from, lowest = sum_of_squares(p, z);
    for (int drier = 1; drier <= DRIEST; drier++) {
        gsl_vector_set(z, (size_t)k, fmax(from - drier, -FURTHEST_START));
        const double sum = sum_of_squares(p, z);
        if (!(sum < lowest)) continue;
        lowest = sum;
        best = gsl_vector_get(z, (size_t)k);
    }
    gsl_vector_set(z, (size_t)k, best);
}

/* Where the readings put what they set free; at the priors, if no balance is there. */
static ct_status first_point(ct_tune_problem *p, gsl_vector *z, ct_fault *fault)
{
    double f[CT_TUNE_ROWS];

    for (int k = 0; k < p->n_x; k++) {
        const ct_tune_prior *u = &p->prior[p->of_x[k]];
        const double from = (u->start - u->prior) / u->sigma;
        gsl_vector_set(z, (size_t)k, fmin(fmax(from, -FURTHEST_START), FURTHEST_START));
    }
    if (ct_tune_model_residuals(p, z, f)) return CT_OK;
    gsl_vector_set_zero(z);
    if (ct_tune_model_residuals(p, z, f)) return CT_OK;
    return ct_fail(fault, p->fault.status, p->fault.value, p->fault.low, p->fault.high,
                   "the nameplate's model does not settle at the conditions read: %.120s",
                   p->fault.what);
}

/* Looks along the Gauss-Newton step for a sum lower by more than GAIN; *z moves there. False: there
 * is none, and where the search ended is as good as it gets: at a kink (a piston that begins to
 * flood) or a step of the coil's integration the best point keeps a slope. */
static bool better_place(ct_tune_problem *p, const ct_tune_solution *s, gsl_vector *z)
{
    double here[CT_TUNE_COUNT], lowest, best = 0.0;

    memcpy(here, s->z, sizeof here);
    for (int k = 0; k < p->n_x; k++)
        gsl_vector_set(z, (size_t)k, here[k]);
    lowest = sum_of_squares(p, z) - GAIN;
    for (double share = 1.0; share > 1e-3; share *= 0.5) {
        for (int k = 0; k < p->n_x; k++)
            gsl_vector_set(z, (size_t)k, here[k] + share * s->newton[k]);
        double sum = sum_of_squares(p, z);
        if (!(sum < lowest)) continue;
        lowest = sum;
        best = share;
    }
    for (int k = 0; k < p->n_x; k++)
        gsl_vector_set(z, (size_t)k, here[k] + best * s->newton[k]);
    return best > 0.0;
}

/* GSL ends where its steps become small, which a kink can make them anywhere; so the end is
 * examined, and the search begun again from a better place if there is one. */
static ct_status iterate(ct_tune_problem *p, gsl_multifit_nlinear_fdf *fdf, gsl_vector *z,
                         gsl_multifit_nlinear_workspace *w, ct_tune_solution *s, ct_fault *fault)
{
    s->iterations = 0;
    for (int start = 0; start < STARTS; start++) {
        int info;
        if (gsl_multifit_nlinear_init(z, fdf, w) != GSL_SUCCESS)
            return ct_fault_say(fault, CT_NO_CONV,
                                "the model does not settle around the conditions read: %.120s",
                                p->fault.what);
        int end = gsl_multifit_nlinear_driver(MAX_ROUNDS, 1e-7, 1e-7, 0.0, NULL, NULL, &info, w);
        take_solution(p, w, s);
        if (end != GSL_SUCCESS && end != GSL_ENOPROG && end != GSL_EMAXITER) break;
        if (s->away <= LEVEL || !better_place(p, s, z)) return CT_OK;
    }
    return ct_fault_say(
        fault, CT_NO_CONV,
        "no best fit was reached in %d rounds; readings may be far outside what this "
        "system can do: check units and the largest of them",
        s->iterations);
}

ct_status ct_tune_fit(ct_tune_problem *p, ct_tune_solution *s, ct_fault *fault)
{
    gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
    gsl_multifit_nlinear_fdf fdf = {.f = residuals,
                                    .df = slopes,
                                    .n = (size_t)(p->n_y + p->n_x),
                                    .p = (size_t)p->n_x,
                                    .params = p};
    double store[CT_TUNE_COUNT];
    gsl_vector_view z = gsl_vector_view_array(store, (size_t)p->n_x);

    how.scale = gsl_multifit_nlinear_scale_levenberg; /* all unknowns are in one unit already */
    /* GSL's QR allocates in every step and does not look whether it got the memory; Cholesky works
     * in what it got at the start. The priors keep J'J well away from singular. */
    how.solver = gsl_multifit_nlinear_solver_cholesky;
    ct_status status = first_point(p, &z.vector, fault);
    if (status != CT_OK) return status;
    begin_dry(p, &z.vector);
    gsl_multifit_nlinear_workspace *w =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, fdf.n, fdf.p);
    if (!w) return ct_fault_say(fault, CT_SYSTEM, "out of memory for the fit");
    status = iterate(p, &fdf, &z.vector, w, s, fault);
    gsl_multifit_nlinear_free(w);
    return status;
}
