#include "root.h"

#include <gsl/gsl_errno.h>
#include <math.h>

#define ROUNDS 100

/* The residual with a memory: GSL evaluates the bracket ends again when a solver is set, and each
 * evaluation is a whole coil. */
typedef struct {
    ct_residual f;
    void *context;
    double a, fa, b, fb;
    ct_root_result *best;
} remembered;

static double evaluate(double x, remembered *r)
{
    double f = r->f(x, r->context);

    r->best->evaluations++;
    if (fabs(f) < fabs(r->best->f)) {
        r->best->x = x;
        r->best->f = f;
    }
    return f;
}

static double recall(double x, void *context)
{
    remembered *r = context;

    if (x == r->a) return r->fa;
    if (x == r->b) return r->fb;
    return evaluate(x, r);
}

/* Strides from the start towards the sign change. */
static bool bracket(const ct_root_job *job, remembered *r)
{
    double x = fmin(fmax(job->start, job->low), job->high);
    double f = evaluate(x, r);
    double stride = job->step;
    bool up = (f < 0.0) == job->rising;

    for (int i = 0; i < ROUNDS; i++) {
        double limit = up ? job->high : job->low;
        double next = up ? fmin(x + stride, limit) : fmax(x - stride, limit);
        double f_next;
        if (next == x) return false;
        f_next = evaluate(next, r);
        if ((f_next > 0.0) != (f > 0.0) || fabs(f_next) <= job->tol) {
            r->a = up ? x : next;
            r->fa = up ? f : f_next;
            r->b = up ? next : x;
            r->fb = up ? f_next : f;
            return true;
        }
        x = next;
        f = f_next;
        stride *= 2.0;
    }
    return false;
}

ct_root_end ct_root_find(gsl_root_fsolver *solver, ct_residual f, void *context,
                         const ct_root_job *job, ct_root_result *result)
{
    remembered r = {.f = f, .context = context, .a = NAN, .b = NAN, .best = result};
    gsl_function function = {recall, &r};

    *result = (ct_root_result){.x = job->start, .f = INFINITY};
    if (!bracket(job, &r)) return fabs(result->f) <= job->tol ? CT_ROOT_FOUND : CT_ROOT_NO_BRACKET;
    if (fabs(result->f) <= job->tol) return CT_ROOT_FOUND;
    if (gsl_root_fsolver_set(solver, &function, r.a, r.b) != GSL_SUCCESS) return CT_ROOT_NO_BRACKET;
    for (int i = 0; i < ROUNDS; i++) {
        if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS) return CT_ROOT_LIMIT;
        if (fabs(result->f) <= job->tol) return CT_ROOT_FOUND;
        if (nextafter(gsl_root_fsolver_x_lower(solver), INFINITY) >=
            gsl_root_fsolver_x_upper(solver))
            return CT_ROOT_JUMP;
    }
    return CT_ROOT_LIMIT;
}
