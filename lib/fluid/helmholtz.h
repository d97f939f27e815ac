/* Evaluates a published equation of state: Helmholtz energy as a function of temperature and
 * density, everything else by derivatives of it. Used to build tables and by tests; too slow for a
 * balance. Internal. SI, per kilogram.
 *
 * Source of the relations: Span, R., "Multiparameter Equations of State", Springer 2000, table 3.1;
 * the numbers of each fluid: models/<refrigerant>.c. */
#ifndef CT_FLUID_HELMHOLTZ_H
#define CT_FLUID_HELMHOLTZ_H

#include "helmholtz_model.h"

/* All that depends on temperature only; make one, then evaluate many densities. */
typedef struct {
    const ct_helmholtz_model *model;
    double T, tau;
    double term[CT_RESIDUAL_MAX];    /* n tau^t of each residual term */
    double bell[CT_GAUSSIAN_MAX];    /* n tau^t exp(-beta (tau - gamma)^2) of each Gaussian one */
    double ideal, ideal_t, ideal_tt; /* ideal part without ln(delta); tau d/dtau; tau2 d2/dtau2 */
} ct_isotherm;

typedef struct {
    double rho;     /* kg/m3 */
    double p;       /* Pa */
    double h;       /* J/kg */
    double s;       /* J/kg K */
    double cp;      /* J/kg K */
    double dp_drho; /* Pa m3/kg at constant T */
    double drho_dT; /* kg/m3 K at constant p */
} ct_state;

typedef struct {
    double p_bubble, p_dew;       /* Pa; equal for a pure fluid */
    double rho_liquid, rho_vapor; /* kg/m3 at those pressures */
} ct_saturation;

ct_isotherm ct_helmholtz_isotherm(const ct_helmholtz_model *model, double T);
ct_state ct_helmholtz_state(const ct_isotherm *iso, double rho);

/* Density at pressure p, by Newton from `guess` (kg/m3), which must lie on the wanted side of the
 * dome: below the vapor spinodal or above the liquid one. NaN when it does not converge. */
double ct_helmholtz_density(const ct_isotherm *iso, double p, double guess);

/* Vapor density at p with no guess: from the ideal gas upwards. NaN when p is past the spinodal.
 */
double ct_helmholtz_density_vapor(const ct_isotherm *iso, double p);

/* Liquid density at p with no guess: from above, starting at the model's fitted curve. */
double ct_helmholtz_density_liquid(const ct_isotherm *iso, double p);

/* Saturation at the temperature of `iso`. Pure fluid: equal pressure and fugacity of both phases;
 * blend: the model's bubble and dew curves. Densities NaN when not converged. */
ct_saturation ct_helmholtz_saturation(const ct_isotherm *iso);

/* The model's saturation curve at T. */
double ct_helmholtz_curve(const ct_curve *curve, double T);

#endif
