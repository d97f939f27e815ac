/* The wet stretch of the indoor coil: how air cools and dries over boiling tubes below its dew
 * point, by steps along its way (the model: coil.h). Internal. */
#ifndef CT_PART_COIL_WET_H
#define CT_PART_COIL_WET_H

#include "part/coil_surface.h"

typedef struct {
    double area;     /* share of the coil, all of it below the dew point of the air that meets it */
    int steps;       /* 2 or more */
    double hA, m_da; /* W/K before efficiency, kg/s dry air; of the whole coil */
    double T_dp;     /* K, dew point of that air */
} ct_coil_wet_way;

typedef struct {
    double first, last; /* K, fin base where the air comes and where it leaves */
} ct_coil_wet_base;

/* Moves the air on. The surface is that of a search which has no neighbor. */
ct_coil_wet_base ct_coil_wet_cross(ct_coil_surface *, const ct_coil_wet_way *, ct_coil_along *);

#endif
