/* Drop curve: the airflow at which a filter or coil loses the pressure that was read, and the
 * airflow that a heat of known size warms by so much.
 *
 * Two ways to an airflow with a manometer or a thermometer alone. SI; airflow at the density of the
 * air at hand. Pure functions. Public. */
#ifndef CT_PART_DROP_CURVE_H
#define CT_PART_DROP_CURVE_H

#include "base/status.h"
#include "fluid/air.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_MAX_DROP_POINTS 12

typedef struct {
    double dp; /* Pa */
    double V;  /* m3/s */
} ct_drop_point;

/* Airflow at which a part drops dp, Pa. Between points of its table, airflow rising, and past its
 * ends to half the first and one and a half times the last, dp = C V^n through the two nearest: the
 * usual law of filters and coils. A single point takes `exponent`, 1 to 2.1. CT_INPUT: a table that
 * does not rise; CT_RANGE: dp beyond that. */
CT_API ct_status ct_drop_curve_flow(const ct_drop_point *, int n, double exponent, double dp,
                                    double *V, ct_fault *);

/* What a drop that goes with V^exponent becomes in air of `thinness` (its density over that of
 * standard air) at the same airflow, as a factor: dp = const rho^(exponent - 1) V^exponent, which
 * is friction as a power of the Reynolds number. */
CT_API double ct_drop_curve_thin(double exponent, double thinness);

/* Airflow of air that Q W warm by dT K, both above 0: m = Q/(cp dT), counted at the state given.
 * At 70 F and a humidity ratio of 0.005 that is the trade's Q = 1.08 cfm dT. */
CT_API double ct_drop_curve_heated(double Q, double dT, const ct_air *);

#ifdef __cplusplus
}
#endif
#endif
