/* Tune, before and after: what changed between two visits to one system, and whether what was wrong
 * is gone. SI. Public. */
#ifndef CT_STUDY_TUNE_CHANGE_H
#define CT_STUDY_TUNE_CHANGE_H

#include "study/tune.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    CT_CHANGE_UNCLEAR = 0, /* a visit contradicts itself, cannot be, or points to no cause */
    CT_CHANGE_SOUND,       /* nothing was wrong and nothing is */
    CT_CHANGE_FIXED,       /* something was wrong, nothing is */
    CT_CHANGE_BETTER,      /* the same is wrong, by clearly less */
    CT_CHANGE_SAME, /* the same is wrong, or may be: of causes that look alike one is named twice */
    CT_CHANGE_OTHER,  /* something else is wrong than was */
    CT_CHANGE_BROKEN, /* nothing was wrong, something is */
    CT_CHANGE_COUNT
} ct_change_kind;

CT_API const char *ct_change_name(ct_change_kind); /* "fixed"; never NULL */

typedef struct {
    double before, after;
    double
        z; /* their difference over its standard uncertainty; of a multiplier, of its logarithm */
} ct_change_value;

typedef struct {
    ct_change_kind kind;
    bool has[CT_TUNE_MULTIPLIERS]; /* the coil's not where a visit says charge_first */
    ct_change_value value[CT_TUNE_MULTIPLIERS];
    bool has_capacity;
    ct_change_value
        capacity; /* net sensible over that of the nameplate's model in the same weather */
} ct_tune_change;

/* Both of the same case. */
CT_API void ct_tune_compare(const ct_tune *before, const ct_tune *after, ct_tune_change *);

#ifdef __cplusplus
}
#endif
#endif
