/* Usual: an answer to each required question that somebody with only a few facts leaves open.
 *
 * A case file must say these itself. Where a case is made of single facts (a nameplate and a
 * static), the rest is taken from here, and every one of them is listed as an assumption.
 * Public. */
#ifndef CT_CASE_USUAL_H
#define CT_CASE_USUAL_H

#include "case/casefile.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_USUAL_MAX 24

/* How `why` of a guess begins. */
#define CT_USUAL_GUESS "a guess"

typedef struct {
    const char *key; /* full path */
    char text[48];   /* as it would be in a file */
    char why[160];   /* where it comes from */
    bool guess;      /* the pick depends on it: better a question than a guess */
} ct_usual;

/* Fills `out` for the required keys that `given` leaves out, and returns how many. What can be
 * worked out from the texts given is: tons from a capacity, the load from the size. A text that
 * does not read counts as given; its fault is the reader's business. */
CT_API int ct_usual_answers(const ct_overrides *given, ct_usual out[CT_USUAL_MAX]);

/* A case made of `given` and the usual answers alone. The same contract as ct_casefile_parse_over;
 * report->assumed begins with the usual answers. */
CT_API ct_status ct_usual_case(const ct_overrides *given, ct_case *c, ct_case_report *report,
                               ct_fault *fault);

#ifdef __cplusplus
}
#endif
#endif
