/* Status: how a call ended, and the story behind it.
 *
 * Every function that can fail returns a ct_status and, through a fault the caller passes in (NULL
 * is allowed), what was wrong, the value given and what is allowed. There is no hidden last error.
 * On failure the outputs of a call are untouched unless its header says otherwise.
 *
 * What a caller owes: no pointer but the fault is NULL where a header does not say so, an array is
 * as long as its count, an index or enumerator is one there is, and what is passed in was filled by
 * the call that makes it. This is not checked, except where text or a name of the outside world
 * comes in (a file, a quantity, a refrigerant, a case as text): there NULL is CT_INPUT. Public. */
#ifndef CT_BASE_STATUS_H
#define CT_BASE_STATUS_H

#ifdef __cplusplus
extern "C" {
#endif

#define CT_API __attribute__((visibility("default")))

typedef enum {
    CT_OK = 0,
    CT_INPUT,   /* what the user gave is wrong: unknown key, wrong unit, contradictory pair */
    CT_RANGE,   /* outside the range of the model, a table or a correlation */
    CT_NO_ROOT, /* the equations have no solution in the range searched */
    CT_NO_CONV, /* a solution was bracketed but not reached to tolerance */
    CT_SYSTEM   /* memory, file or thread */
} ct_status;

typedef struct {
    ct_status status;
    char what[200]; /* one sentence: what is wrong, the value given, what is allowed, what to do */
    double value;   /* the offending value in SI, NaN when there is none */
    double low, high; /* allowed range in SI, NaN when there is none */
} ct_fault;

/* A short name for a status, for example "outside the range of the model". Never NULL. */
CT_API const char *ct_status_text(ct_status status);

/* Fills *fault (if not NULL) from a printf format and returns `status`, so that a failing function
 * can end in `return ct_fault_say(...)`. There is no value and no range. */
CT_API ct_status ct_fault_say(ct_fault *fault, ct_status status, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* The same with the offending value and what is allowed, SI; each may be NaN. */
CT_API ct_status ct_fail(ct_fault *fault, ct_status status, double value, double low, double high,
                         const char *format, ...) __attribute__((format(printf, 6, 7)));

#ifdef __cplusplus
}
#endif
#endif
