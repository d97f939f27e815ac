/* The tables of one refrigerant and how they are laid out. Internal.
 *
 * The coordinates suit the shape of the properties, which grow steep towards the critical point
 * (for R-410A at 71.3 C, just past what a condenser works at):
 *   saturation   x = sqrt(T_crit - T), uniform steps: 3 K apart when cold, 0.3 K near critical
 *   superheat    y = ln(1 + superheat / L), L in proportion to the distance from critical
 *   entropy      w = (s - s_dew) / (s at the superheat limit - s_dew): h is smooth in it */
#ifndef CT_FLUID_REFRIGERANT_TABLES_H
#define CT_FLUID_REFRIGERANT_TABLES_H

#include <math.h>

#include "base/spline.h"
#include "fluid/catalog.h"
#include "helmholtz_model.h"

enum { CT_N_SAT = 64, CT_N_SUPER = 32, CT_N_ENTROPY = 20, CT_N_SUB = 20, CT_N_LNP = 64 };

/* Columns of the saturation table. The first, in the order of ct_phases, are both phases at the dew
 * pressure. The last two stretch the axes of superheat and subcooling to their number of intervals:
 * n / ln(1 + limit / L). */
enum {
    CT_P_DEW,
    CT_T_BUBBLE,
    CT_H_VAPOR,
    CT_CP_VAPOR,
    CT_RHO_VAPOR,
    CT_H_LIQUID,
    CT_RHO_LIQUID,
    CT_P_BUBBLE,
    CT_S_DEW,
    CT_S_SPAN,
    CT_SUPER_STRETCH,
    CT_SUB_STRETCH,
    CT_SAT_WIDTH
};

/* Saturation temperature against ln p. */
typedef struct {
    double ln_first, per_ln;
    double T[CT_N_LNP + 3];
} ct_inverse;

typedef struct {
    double T_crit, T_min, T_max, superheat_max, subcooling_max;
    double x_first, dx, per_dx;
    ct_inverse dew, bubble;
    double sat[CT_N_SAT + 3][CT_SAT_WIDTH];
    double vapor[CT_N_SAT + 3][CT_N_SUPER + 3][4];     /* rho h s cp */
    double entropy[CT_N_SAT + 3][CT_N_ENTROPY + 3][2]; /* h superheat */
    double liquid[CT_N_SAT + 3][CT_N_SUB + 3][4];      /* h rho cp T */
} ct_refrigerant_tables;

/* refrigerant.h hides what is inside. */
typedef struct ct_refrigerant ct_refrigerant;

struct ct_refrigerant {
    const ct_catalog_row *row;
    const ct_helmholtz_model *model;
    const ct_refrigerant_tables *tables;
};

/* Grid coordinate of a saturation temperature, and back. */
static inline double ct_u_from_T(const ct_refrigerant_tables *r, double T)
{
    return (r->x_first - sqrt(r->T_crit - T)) * r->per_dx;
}

static inline double ct_T_from_u(const ct_refrigerant_tables *r, double u)
{
    double x = r->x_first - u * r->dx;
    return r->T_crit - x * x;
}

/* Length that scales superheat and subcooling at one saturation temperature, K. */
static inline double ct_scale(const ct_refrigerant_tables *r, double T)
{
    return 0.05 + 0.1 * (r->T_crit - T);
}

/* One saturation quantity at a place, and at grid coordinate u. */
static inline double ct_sat_here(const ct_refrigerant_tables *r, int which, const ct_place *x)
{
    const double(*c)[CT_SAT_WIDTH] = &r->sat[x->i];
    return x->w[0] * c[0][which] + x->w[1] * c[1][which] + x->w[2] * c[2][which] +
           x->w[3] * c[3][which];
}

static inline double ct_sat_at(const ct_refrigerant_tables *r, int which, double u)
{
    ct_place x = ct_place_at(u, CT_N_SAT);
    return ct_sat_here(r, which, &x);
}

/* One Newton step on pressure(u) = p. */
static inline double ct_newton_u(const ct_refrigerant_tables *r, int which, double p, double u)
{
    ct_place x = ct_place_at(u, CT_N_SAT);
    const double(*c)[CT_SAT_WIDTH] = &r->sat[x.i];
    double t = u - x.i, s = 1 - t, value = ct_sat_here(r, which, &x);
    double a = c[1][which] - c[0][which], b = c[2][which] - c[1][which];
    double slope = 0.5 * s * s * a + (0.5 + t * s) * b + 0.5 * t * t * (c[3][which] - c[2][which]);
    return u - (value - p) / slope;
}

/* Works the tables out; the row has a model. CT_NO_CONV names the point where its equation
 * failed. */
ct_status ct_refrigerant_tables_build(const ct_catalog_row *, ct_refrigerant_tables *,
                                      ct_fault *fault);

/* The same, worked out when the project is built (models/tables); NULL for a row without a
 * model. */
const ct_refrigerant_tables *ct_refrigerant_tables_of(const ct_catalog_row *);

/* What that makes: in the order of the catalog. */
extern const ct_refrigerant_tables ct_made_tables[];

#endif
