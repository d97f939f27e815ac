/* The numbers of one published equation of state, as its paper prints them: constants of the ideal
 * part, terms of the residual part, and the curves that give saturation pressures and densities.
 * lib/fluid/helmholtz.c evaluates it; models/<refrigerant>.c holds the numbers; what is known of a
 * refrigerant beside its equation is in lib/fluid/catalog.h. Internal: not installed. */
#ifndef HELMHOLTZ_MODEL_H
#define HELMHOLTZ_MODEL_H

#include <stdbool.h>

#include "fluid/catalog.h"

/* n * delta^d * tau^t * exp(-delta^l), the exponential only where l > 0; l is at most 4. */
typedef struct {
    double n, t;
    int d, l;
} ct_residual_term;

/* n * delta^d * tau^t * exp(-eta (delta - epsilon)^2 - beta (tau - gamma)^2). */
typedef struct {
    double n, t;
    int d;
    double eta, beta, gamma, epsilon;
} ct_gaussian_term;

/* A coefficient and its exponent. */
typedef struct {
    double n, t;
} ct_pair;

/* Saturation curve in theta = 1 - T/T_r with S = sum n theta^t. */
typedef enum {
    CT_CURVE_EXP_TAU, /* reducing * exp(T_r/T * S): pressures and vapor density */
    CT_CURVE_LINEAR   /* reducing * (1 + S): liquid density */
} ct_curve_kind;

typedef struct {
    ct_curve_kind kind;
    double reducing; /* Pa or mol/m3 */
    double T_r;      /* K */
    ct_pair term[6];
    int terms;
} ct_curve;

typedef struct ct_helmholtz_model {
    double M;         /* kg/mol */
    double R;         /* J/mol K, the paper's own value */
    double T_red;     /* K, reducing (critical) temperature */
    double T_crit;    /* K, where it is not the critical one; else 0 */
    double p_crit;    /* Pa */
    double rho_red;   /* mol/m3, reducing (critical) density */
    double T_top;     /* K, upper temperature limit of the equation */
    bool pseudo_pure; /* a blend: the curves below ARE its bubble and dew pressures */

    /* Ideal part: ln(delta) + lead1 + lead2 tau + log_tau ln(tau) + sum n tau^t (power)
     * + sum n ln(1 - exp(-t tau)) (einstein) + what cp0/R = cp0 + sum n T^t (cp0_poly) gives when
     * integrated from cp0_T0. */
    double lead1, lead2, log_tau;
    double cp0, cp0_T0;
    const ct_pair *cp0_poly;
    int cp0_polys;
    const ct_pair *power;
    int powers;
    const ct_pair *einstein;
    int einsteins;

    const ct_residual_term *residual;
    int residuals; /* at most CT_RESIDUAL_MAX */
    const ct_gaussian_term *gaussian;
    int gaussians; /* at most CT_GAUSSIAN_MAX */

    ct_curve p_bubble, p_dew; /* start values only for a pure fluid */
    ct_curve rho_liquid, rho_vapor;
} ct_helmholtz_model;

enum { CT_RESIDUAL_MAX = 40, CT_GAUSSIAN_MAX = 8 };

/* One for each modeled row of the catalog. */
#define CT_MODEL_DECLARE(model, ...) extern const ct_helmholtz_model ct_model_##model
CT_CATALOG_MODELS(CT_MODEL_DECLARE, ;);
#undef CT_MODEL_DECLARE

#endif
