/* Static budget: what each part takes of the static the blower is made for, and which takes too
 * much.
 *
 * With the return and the supply static read apart, the filter and the old coil apart where they
 * are between the probes. Each has its customary part of the budget: ducts one share on each side,
 * the filter one, a coil two, counted over the parts there are. SI. Public. */
#ifndef CT_JUDGE_STATIC_BUDGET_H
#define CT_JUDGE_STATIC_BUDGET_H

#include <stdbool.h>

#include "base/status.h"
#include "case/case.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    CT_STATIC_RETURN = 0, /* ducts; with the filter when that was not read apart */
    CT_STATIC_FILTER,
    CT_STATIC_COIL,
    CT_STATIC_SUPPLY,
    CT_STATIC_PARTS
} ct_static_part;

/* Usual external static where the blower's limit is not given, Pa: 0.5 inwc, most nameplates. */
#define CT_STATIC_USUAL_LIMIT 124.544455

typedef struct {
    bool has;                      /* the two sides were read apart; else nothing below holds */
    bool limit_assumed;            /* CT_STATIC_USUAL_LIMIT */
    bool filter_inside;            /* the return holds the filter */
    double total, limit;           /* Pa */
    double dp[CT_STATIC_PARTS];    /* Pa; 0: not there, or in another */
    double share[CT_STATIC_PARTS]; /* of the limit */
    double usual[CT_STATIC_PARTS]; /* customary share; common practice, no source */
    int worst;                     /* the part most over its share; -1: none is over */
    bool too_small;                /* it is over by half, or the total is over the limit */
} ct_static_budget;

CT_API void ct_static_budget_of(const ct_case *, ct_static_budget *);

#ifdef __cplusplus
}
#endif
#endif
