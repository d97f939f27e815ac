#include "base/search.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdbool.h>

#define ROUNDS 100
#define QUICK_ROUNDS 12  /* inside a bracket; then GSL's Brent method */
#define QUICK_TO_JUMP 40 /* the same where a jump is told from a root */
#define BEND_MOST 0.5    /* of a secant's step, what the bend may add to it */
#define SLOPE_LEAST 1e-9 /* nearer points, relative, say little of a slope */

/* The residual with a memory: the latest three points, newest first, and what is known to lie on
 * either side of the root. */
typedef struct {
    ct_residual f;
    void *context;
    double x[3], y[3];
    int n;
    double a, fa, b, fb; /* NaN while there is no bracket */
    bool finite;         /* no residual has been NaN or infinite so far */
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

static void remember(remembered *r, double x, double y)
{
    r->x[2] = r->x[1];
    r->y[2] = r->y[1];
    r->x[1] = r->x[0];
    r->y[1] = r->y[0];
    r->x[0] = x;
    r->y[0] = y;
    if (r->n < 3) r->n++;
}

/* The new point with the nearest known one on the other side of the root. */
static void narrow(remembered *r)
{
    bool bracketed = !isnan(r->a), above = r->y[0] > 0.0;

    if (!bracketed && above == (r->y[1] > 0.0)) return;
    double x = r->x[0], y = r->y[0], other = r->x[1], f_other = r->y[1];
    if (bracketed && above == (f_other > 0.0)) {
        bool keep_a = above != (r->fa > 0.0);
        other = keep_a ? r->a : r->b;
        f_other = keep_a ? r->fa : r->fb;
    }
    r->a = fmin(x, other);
    r->fa = x < other ? y : f_other;
    r->b = fmax(x, other);
    r->fb = x < other ? f_other : y;
}

/* Step to the root by the secant of the latest two points, or `slope` with only one, and the bend
 * of the inverse function through three (Brent 1973, ch. 4; in Newton's form, which keeps its
 * digits when the points run together). */
static double quick_step(const remembered *r, double slope)
{
    if (r->n < 2) return -r->y[0] / slope;
    const double *x = r->x, *y = r->y;
    double per = (x[1] - x[0]) / (y[1] - y[0]), step = -y[0] * per, bend;
    if (r->n < 3) return step;
    bend = ((x[2] - x[1]) / (y[2] - y[1]) - per) / (y[2] - y[0]) * y[0] * y[1];
    return fabs(bend) <= BEND_MOST * fabs(step) ? step + bend : step;
}

/* Next point while there is no bracket: along the quick step where it points the right way, but
 * never further than `most`, which doubles each time so that a flat stretch cannot hold the walk
 * up. */
static double stride(const ct_root_job *job, const remembered *r, double most)
{
    bool up = (r->y[0] < 0.0) == job->rising;
    double step = quick_step(r, job->slope);
    double long_enough = isfinite(step) && step != 0.0 && (step > 0.0) == up ? fabs(step) : most;
    double most_here = fmin(long_enough, most);

    return fmin(fmax(r->x[0] + (up ? most_here : -most_here), job->low), job->high);
}

static double between(const remembered *r)
{
    double next = r->x[0] + quick_step(r, 0.0);

    /* A round that gained little: the function is not as smooth as the step takes it for. The first
     * step says nothing of that, it was made with a slope somebody guessed. */
    const bool smooth = r->n < 3 || fabs(r->y[0]) <= 0.5 * fabs(r->y[1]);
    if (!(next > r->a && next < r->b) || !smooth) next = 0.5 * (r->a + r->b);
    /* Between neighbors that is one of them, and it is evaluated again on purpose: a residual that
     * is a search itself is worked out more closely the nearer it was the last time, so the second
     * look may be the answer. Stopping there left a balance short of its last digits. */
    return next;
}

/* Neither end of the bracket can come down to zero inside it. */
static bool is_jump(const ct_root_job *job, const remembered *r)
{
    return fmin(fabs(r->fa), fabs(r->fb)) > job->steepest * (r->b - r->a);
}

/* Walks from the start towards the root, and on inside the bracket once the sign has changed, until
 * it is found, there is no way on (CT_ROOT_NO_BRACKET), or it is better closed in on
 * (CT_ROOT_LIMIT). */
static ct_root_end walk(const ct_root_job *job, remembered *r)
{
    const bool tells_jump = job->steepest > 0.0;
    const int quick = tells_jump ? QUICK_TO_JUMP : QUICK_ROUNDS;
    double most = job->step;
    int inside = 0;

    remember(r, fmin(fmax(job->start, job->low), job->high), 0.0);
    r->y[0] = evaluate(r->x[0], r);
    for (int i = 0; i < ROUNDS && r->finite; i++) {
        bool bracketed = !isnan(r->a);
        if (fabs(r->y[0]) <= job->tol) return CT_ROOT_FOUND;
        if (bracketed && tells_jump && is_jump(job, r)) return CT_ROOT_JUMP;
        if (bracketed && inside++ >= quick) return CT_ROOT_LIMIT;
        double next = bracketed ? between(r) : stride(job, r, most);
        if (next == r->x[0]) return bracketed ? CT_ROOT_LIMIT : CT_ROOT_NO_BRACKET;
        remember(r, next, evaluate(next, r));
        if (fabs(r->x[0] - r->x[1]) > SLOPE_LEAST * fabs(r->x[0]))
            r->best->slope = (r->y[0] - r->y[1]) / (r->x[0] - r->x[1]);
        if (fabs(r->y[0]) > job->tol) narrow(r);
        most *= 2.0;
    }
    return CT_ROOT_NO_BRACKET;
}

/* GSL allocates its solvers; this one keeps its state here, so that a search needs no memory. */
static ct_root_end close_in(const ct_root_job *job, remembered *r)
{
    double state[32];
    gsl_function function = {recall, r};
    gsl_root_fsolver solver = {.type = gsl_root_fsolver_brent, .state = state};

    /* Neighbors, one of them evaluated again (see `between`), need not be of opposite sign any
     * more: the sign changes within what the residual can tell. The best look says how near that
     * is. */
    if (!(r->a < r->b) || (r->fa > 0.0) == (r->fb > 0.0)) return CT_ROOT_JUMP;
    if (solver.type->size > sizeof state ||
        gsl_root_fsolver_set(&solver, &function, r->a, r->b) != GSL_SUCCESS)
        return CT_ROOT_NO_BRACKET;
    for (int i = 0; i < ROUNDS; i++) {
        if (gsl_root_fsolver_iterate(&solver) != GSL_SUCCESS || !r->finite) return CT_ROOT_LIMIT;
        if (fabs(r->best->f) <= job->tol) return CT_ROOT_FOUND;
        if (nextafter(gsl_root_fsolver_x_lower(&solver), INFINITY) >=
            gsl_root_fsolver_x_upper(&solver))
            return CT_ROOT_JUMP;
    }
    return CT_ROOT_LIMIT;
}

ct_root_end ct_search_root(ct_residual f, void *context, const ct_root_job *job,
                           ct_root_result *result)
{
    remembered r = {.f = f, .context = context, .a = NAN, .b = NAN, .finite = true, .best = result};
    ct_root_end end;

    *result = (ct_root_result){.x = job->start, .f = INFINITY, .slope = job->slope};
    end = walk(job, &r);
    if (!r.finite) return CT_ROOT_NO_BRACKET;
    return end == CT_ROOT_LIMIT ? close_in(job, &r) : end;
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
