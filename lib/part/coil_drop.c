#include "part/coil_drop.h"

#include "base/units.h"
#include "fluid/air.h"

#define TYPICAL_FACE_VELOCITY 1.5
#define T_STANDARD 294.26 /* K, 70 F dry: 0.075 lb/ft3 */

ct_coil_geometry ct_coil_typical(double V, ct_fin fin)
{
    return (ct_coil_geometry){.face = V / TYPICAL_FACE_VELOCITY,
                              .rows = 3,
                              .fin_pitch = CT_M_PER_IN / 14.0,
                              .fin_thick = 0.115e-3,
                              .fin_k = 220.0,
                              .tube_od = 9.525e-3,
                              .tube_wall = 0.35e-3,
                              .pitch_t = 25.4e-3,
                              .pitch_l = 22.0e-3,
                              .circuits = 4,
                              .fin = fin};
}

ct_status ct_coil_drop_wet(const ct_coil_geometry *g, double V, double *dp, ct_fault *fault)
{
    const ct_fin_air air = ct_finside_air(T_STANDARD, 0.0, CT_ATM_PA, V / g->face);
    ct_fin_areas areas;
    ct_finside_out out;
    ct_status status = ct_finside_areas(g, &areas, fault);

    if (status == CT_OK) status = ct_finside(g, &areas, &air, &out, fault);
    if (status == CT_OK) *dp = CT_COIL_DROP_WET * out.dp;
    return status;
}
