/* Saturation of water over liquid in short pieces, for the places that need it most: the surfaces
 * of a coil. Each piece is 1 K long and the quintic with value, slope and bend of the formula
 * (air.h) at both its ends, so nothing steps where pieces meet; within 1e-11 of the formula.
 * Internal. */
#ifndef CT_FLUID_WATER_TABLES_H
#define CT_FLUID_WATER_TABLES_H

#include <stdbool.h>

#define CT_WATER_FIRST 173.15 /* K; to 373.15 */
enum { CT_WATER_PIECES = 200, CT_WATER_TERMS = 6 };

/* Made when the project is built (models/tables). */
extern const double ct_made_water[CT_WATER_PIECES][CT_WATER_TERMS];

/* Pa, and Pa/K through *slope; false outside the pieces. */
static inline bool ct_water_psat(double T, double *psat, double *slope)
{
    const double x = T - CT_WATER_FIRST;

    if (!(x >= 0.0 && x < CT_WATER_PIECES)) return false;
    const int i = (int)x;
    const double t = x - i, *c = ct_made_water[i];
    *psat = c[0] + t * (c[1] + t * (c[2] + t * (c[3] + t * (c[4] + t * c[5]))));
    *slope = c[1] + t * (2.0 * c[2] + t * (3.0 * c[3] + t * (4.0 * c[4] + t * 5.0 * c[5])));
    return true;
}

#endif
