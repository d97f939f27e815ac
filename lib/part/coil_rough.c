#include "part/coil_rough.h"

#include <math.h>

#include "fluid/moist.h"
#include "part/coil_surface.h"

/* Share of the area that superheats, air of capacity rate C. */
static double vapor_area(const ct_coil *coil, const ct_coil_air *a, const ct_coil_tubes *t,
                         double C)
{
    const double Q = t->C_r * t->superheat,
                 U = 1.0 / a->UAo_dry + 1.0 / (coil->vapor_ratio * t->UAi);
    const double hot = a->in.T - t->T_dew - t->superheat, cold = a->in.T - Q / C - t->T_dew;

    if (!(t->superheat > 0.0)) return 0.0;
    if (!(hot > 0.0 && cold > 0.0)) return 1.0;
    /* Of two differences the log mean is close to the mean of geometric (twice) and arithmetic. */
    return Q * U * 3.0 / (2.0 * sqrt(hot * cold) + 0.5 * (hot + cold));
}

double ct_coil_rough_boil(const ct_coil *coil, const ct_coil_air *a, const ct_coil_tubes *t)
{
    const double C = a->m_da * a->cp, lift = CT_AIR_HG0 / a->cp, over = a->in.T - t->T_boil;
    const double area = 1.0 - vapor_area(coil, a, t, C);
    const double T = a->in.T - t->C_r * fmax(0.0, t->superheat) / C;
    double slope, W = ct_moist_W_sat(t->T_boil, a->in.p, &slope);

    if (!(area > 0.0 && over > 0.0)) return 0.0;
    slope = 1.0 + CT_COIL_STEEPER * slope * lift;
    const double fins = a->hA / a->UAo_dry - 1.0;
    const double wet = 1.0 / ((1.0 + fins * slope) / a->hA + slope / t->UAi) / C * area;
    const double dry = 1.0 / (1.0 / a->UAo_dry + 1.0 / t->UAi) / C * area;
    const double Q_wet = (T - t->T_boil + (a->in.W - W) * lift) * -expm1(-wet);

    return C * fmax(Q_wet, (T - t->T_boil) * -expm1(-dry));
}
