/* Root: one bracketed root of a monotone residual, on GSL's Brent solver (internal).
 *
 * Walks from a starting point towards the root along secants, in strides of bounded length. On a
 * nearly straight residual that alone gets there; else, once the sign has changed, GSL's Brent
 * method closes in. Both bracket ends are evaluated and finite before GSL sees them, and a residual
 * that turns out NaN or infinite ends the search, so its error handler is never called. A closed
 * bracket is not a root: success is judged on the residual. */
#ifndef CT_BASE_SEARCH_H
#define CT_BASE_SEARCH_H

#include <gsl/gsl_roots.h>
#include <stdbool.h>

typedef double (*ct_residual)(double x, void *context);

typedef enum {
    CT_ROOT_FOUND,
    CT_ROOT_NO_BRACKET, /* no sign change between low and high */
    CT_ROOT_JUMP,       /* the bracket closed on a step, not on a root */
    CT_ROOT_LIMIT       /* too many rounds */
} ct_root_end;

typedef struct {
    double start, step; /* first point and longest first stride, step > 0 */
    double low, high;   /* never evaluated outside */
    double slope;       /* of the residual near the start, 0 when not known */
    bool rising;        /* the residual rises with x */
    double tol;         /* |residual| at which x is a root */
} ct_root_job;

typedef struct {
    double x, f;  /* best point seen and its residual */
    double slope; /* of the walk's last secant */
    int evaluations;
} ct_root_result;

ct_root_end ct_root_find(gsl_root_fsolver *solver, ct_residual f, void *context,
                         const ct_root_job *job, ct_root_result *result);

#endif
