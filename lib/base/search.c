#include "base/search.h"

#include <gsl/gsl_errno.h>
#include <math.h>

#define ROUNDS 100

/* The residual with a memory: GSL evaluates the bracket ends again when a solver is set, and each
 * evaluation is a whole coil. */
typedef struct {
    ct_residual f;
    void *context;
    double a, fa, b, fb;
    bool finite; /* no residual has been NaN or infinite so far */
    ct_root_result *best;
} remembered;

/* GSL calls its error handler on a residual that is not finite; it must not see one. */
static double evaluate(double x, remembered *r)
{
    double f = r->f(x, r->context);

    r->best->evaluations++;
    if (!isfinite(f)) {
        r->finite = false;
        return 1e300;
    }
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

/* Next stride: along the secant where it points the right way, but never further than `most`, which
 * doubles each time so that a flat stretch cannot hold the walk up. */
static double stride(double f, double slope, bool rising, double most)
{
    bool up = (f < 0.0) == rising;
    double along = rising == (slope > 0.0) && slope != 0.0 ? fabs(f / slope) : most;

    return up ? fmin(along, most) : -fmin(along, most);
}

/* Walks from the start towards the root until it is found (CT_ROOT_FOUND), the sign has changed
 * (CT_ROOT_LIMIT: to be closed in on), or there is no way on (CT_ROOT_NO_BRACKET). */
static ct_root_end walk(const ct_root_job *job, remembered *r)
{
    double x = fmin(fmax(job->start, job->low), job->high);
    double f = evaluate(x, r), most = job->step, slope = job->slope;

    for (int i = 0; i < ROUNDS && r->finite; i++) {
        double next, f_next;
        if (fabs(f) <= job->tol) return CT_ROOT_FOUND;
        next = fmin(fmax(x + stride(f, slope, job->rising, most), job->low), job->high);
        if (next == x) return CT_ROOT_NO_BRACKET;
        f_next = evaluate(next, r);
        r->best->slope = slope = (f_next - f) / (next - x);
        if ((f_next > 0.0) != (f > 0.0) && fabs(f_next) > job->tol) {
            r->a = fmin(x, next);
            r->fa = next > x ? f : f_next;
            r->b = fmax(x, next);
            r->fb = next > x ? f_next : f;
            return CT_ROOT_LIMIT;
        }
        x = next;
        f = f_next;
        most *= 2.0;
    }
    return CT_ROOT_NO_BRACKET;
}

ct_root_end ct_root_find(gsl_root_fsolver *solver, ct_residual f, void *context,
                         const ct_root_job *job, ct_root_result *result)
{
    remembered r = {.f = f, .context = context, .a = NAN, .b = NAN, .finite = true, .best = result};
    gsl_function function = {recall, &r};
    ct_root_end end;

    *result = (ct_root_result){.x = job->start, .f = INFINITY, .slope = job->slope};
    end = walk(job, &r);
    if (!r.finite) return CT_ROOT_NO_BRACKET;
    if (end != CT_ROOT_LIMIT) return end;
    if (gsl_root_fsolver_set(solver, &function, r.a, r.b) != GSL_SUCCESS) return CT_ROOT_NO_BRACKET;
    for (int i = 0; i < ROUNDS; i++) {
        if (gsl_root_fsolver_iterate(solver) != GSL_SUCCESS || !r.finite) return CT_ROOT_LIMIT;
        if (fabs(result->f) <= job->tol) return CT_ROOT_FOUND;
        if (nextafter(gsl_root_fsolver_x_lower(solver), INFINITY) >=
            gsl_root_fsolver_x_upper(solver))
            return CT_ROOT_JUMP;
    }
    return CT_ROOT_LIMIT;
}

double ct_search_halve(ct_search_above above, void *context, double low, double high, int times)
{
    for (int i = 0; i < times; i++) {
        const double middle = 0.5 * (low + high);
        if (above(middle, context))
            low = middle;
        else
            high = middle;
    }
    return low;
}

double ct_search_false_position(ct_residual f, void *context, ct_bracket b, double tol,
                                int *iterations)
{
    double x = b.low;
    const double enough = tol * fmax(fabs(b.f_low), fabs(b.f_high));
    for (int i = 1; i <= 200; i++) {
        x = b.high - b.f_high * (b.high - b.low) / (b.f_high - b.f_low);
        const bool inside = x > fmin(b.low, b.high) && x < fmax(b.low, b.high);
        if (i % 3 == 0 || !inside) x = 0.5 * (b.low + b.high);
        const double y = f(x, context);
        *iterations = i;
        if (fabs(y) <= enough || fabs(b.high - b.low) <= 4e-16 * fabs(x)) break;
        if ((y < 0.0) != (b.f_high < 0.0)) {
            b.low = b.high;
            b.f_low = b.f_high;
        } else
            b.f_low *= 0.5;
        b.high = x;
        b.f_high = y;
    }
    return x;
}

double ct_search_newton(ct_search_slope f, const void *context, double low, double high,
                        double start, double tol)
{
    double slope, x = start;
    const bool rising = f(high, context, &slope) >= 0;
    for (int i = 0; i < 200; i++) {
        const double r = f(x, context, &slope);
        if (r == 0) break;
        if ((r > 0) == rising)
            high = x;
        else
            low = x;
        double next = x - r / slope;
        if (!(next >= low && next <= high)) next = 0.5 * (low + high);
        const double moved = fabs(next - x);
        x = next;
        if (moved <= tol) break;
    }
    return x;
}
