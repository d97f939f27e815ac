/* Coil in a few lines: what boils, good to a few per cent, for the place where a search begins.
 * Internal. */
#ifndef CT_PART_COIL_ROUGH_H
#define CT_PART_COIL_ROUGH_H

#include "part/coil.h"

/* W that the boiling tubes take. The superheat takes its area first, at the log-mean difference of
 * a dry surface; the rest is all dry or all wet, whichever takes more (Braun, Klein & Mitchell
 * 1989), wet by the potential of enthalpy with saturation a straight line (Threlkeld 1970). 0 or
 * less where no area is left. */
double ct_coil_rough_boil(const ct_coil *, const ct_coil_air *, const ct_coil_tubes *);

#endif
