/* A coil for tests that take measured geometry: invented, ordinary. */
#ifndef GEOMETRY_H
#define GEOMETRY_H

#include "base/units.h"
#include "part/coil.h"

/* Three rows of plain fins on 3/8 in tubes: invented, ordinary. */
static inline ct_coil_geometry geometry(double face, int rows, int circuits)
{
    return (ct_coil_geometry){.face = face,
                              .rows = rows,
                              .fin_pitch = CT_M_PER_IN / 13,
                              .fin_thick = 0.115e-3,
                              .fin_k = 220,
                              .tube_od = 9.525e-3,
                              .tube_wall = 0.35e-3,
                              .pitch_t = 25.4e-3,
                              .pitch_l = 22e-3,
                              .circuits = circuits,
                              .fin = CT_FIN_WAVY};
}

#endif
