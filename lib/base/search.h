/* Search: where a function of one number is zero. Internal.
 *
 * ct_search_root is for costly functions, a whole coil in each call; the others for cheap ones.
 *
 * ct_search_root finds one bracketed root of a monotone residual. It walks from a starting point
 * towards the root along secants, in strides of bounded length, and from three points on with the
 * bend of the inverse function; inside a bracket a step that gains little is a halving, and where
 * that does not get there GSL's Brent method closes in. Both bracket ends are evaluated and finite
 * before GSL sees them, and a residual that turns out NaN or infinite ends the search, so its error
 * handler is never called. No memory is allocated. A closed bracket is not a root: success is
 * judged on the residual. Where it is known how steep the residual can be, a bracket too narrow for
 * either end to come down to zero holds a jump, and the search ends there. */
#ifndef CT_BASE_SEARCH_H
#define CT_BASE_SEARCH_H

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
    double steepest;    /* no slope is above it where the residual is continuous, 0: not known */
    bool rising;        /* the residual rises with x */
    double tol;         /* |residual| at which x is a root */
} ct_root_job;

typedef struct {
    double x, f;  /* best point seen and its residual */
    double slope; /* of the latest secant between points far enough apart */
    int evaluations;
} ct_root_result;

ct_root_end ct_search_root(ct_residual f, void *context, const ct_root_job *job,
                           ct_root_result *result);

/* True: what is looked for is above x. */
typedef bool (*ct_search_above)(double x, void *context);

/* Halves [low, high] `times` times; the last point known to be below. For functions with corners,
 * and for yes or no. */
double ct_search_halve(ct_search_above, void *context, double low, double high, int times);

typedef struct {
    double low, f_low, high, f_high; /* finite, of opposite sign */
} ct_bracket;

/* Illinois false position (Dowell & Jarratt 1971), with every third step a halving so that a kink
 * or a jump cannot stall it. Ends where |f| is `tol` of the larger of the ends', or the bracket is
 * closed: a jump ends it too, so the caller looks at the residual. */
double ct_search_false_position(ct_residual, void *context, ct_bracket, double tol,
                                int *iterations);

/* The function, and through *slope its derivative. */
typedef double (*ct_search_slope)(double x, const void *context, double *slope);

/* Root of f in [low, high], f(low) and f(high) of opposite sign or one of them zero, from `start`.
 * Newton's step when it stays inside the shrinking bracket, half the bracket when it does not: at
 * most 200 steps close any bracket to the last bit, a dozen do in practice. Ends at a step of
 * `tol` or less. */
double ct_search_newton(ct_search_slope, const void *context, double low, double high, double start,
                        double tol);

#endif
