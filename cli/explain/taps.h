/* Explain's curves of the blower taps against the ducts. */
#ifndef CLI_EXPLAIN_TAPS_H
#define CLI_EXPLAIN_TAPS_H

#include "part/blower.h"

enum { TAP_CURVE_POINTS = 25, BEYOND_POINTS = 9, DUCT_POINTS = 61 };

typedef struct {
    int n_duct;
    ct_blower_point duct[DUCT_POINTS];
    int n_curve[CT_MAX_TAPS]; /* 0: the tap moves no air against any duct */
    ct_blower_point curve[CT_MAX_TAPS][TAP_CURVE_POINTS];
    int n_beyond[CT_MAX_TAPS]; /* from an end of its table to where it runs, 0: it runs within */
    ct_blower_point beyond[CT_MAX_TAPS][BEYOND_POINTS];
    bool meets[CT_MAX_TAPS];
    ct_blower_point meet[CT_MAX_TAPS];
} explain_taps;

void explain_taps_make(const ct_blower *, const ct_duct *, explain_taps *);

#endif
