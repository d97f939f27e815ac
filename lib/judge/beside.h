/* Beside the pick: the other speeds that pass, each for what it is best at.
 *
 * The pick is the lowest speed that passes. A customer may want another: the driest, the one that
 * costs least for the same load, the one with most reserve on a hotter day, or, where the humidity
 * is right at a faster speed too, that one. Works nothing out anew. SI. Public. */
#ifndef CT_JUDGE_BESIDE_H
#define CT_JUDGE_BESIDE_H

#include "base/status.h"
#include "judge/pick.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Humidity right without a ceiling of the customer's, at most (common practice, no source). */
#define CT_HUMIDITY_RIGHT 0.55

/* Differences nobody notices: points of humidity, and of the energy and load. */
#define CT_BESIDE_RH 0.005
#define CT_BESIDE_SHARE 0.005
/* What a faster speed must carry more, or take less electricity, to be worth a word. */
#define CT_BESIDE_FASTER 0.03

typedef struct {
    int driest, cheapest,
        reserve;  /* speeds as in ct_pick.index; the pick itself when none differs */
    int faster;   /* the next speed above worth a word that passes, its humidity right; -1: none */
    bool too_dry; /* the house settles under its humidity floor at the pick */
    int less_dry; /* the lowest speed that passes and is not too dry; -1: none, or not asked */
    double rh;    /* 0..1, the drier of the hours looked at, at the pick; NaN when not known */
} ct_beside;

/* Electricity of an hour of the design load, J/s: the whole system's, for the part of the hour it
 * takes this speed to carry the load, in the air that is judged; more than an hour's when it does
 * not. NaN without a balance. */
CT_API double ct_beside_power(const ct_sweep_job *, const ct_point *);

/* For a pick that was found. */
CT_API void ct_beside_pick(const ct_sweep_job *, const ct_sweep *, const ct_pick *, ct_beside *);

#ifdef __cplusplus
}
#endif
#endif
