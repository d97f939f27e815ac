/* Orifice: how much liquid a piston, a short tube of fixed bore, lets into the coil.
 *
 * Its flow follows from what arrives at its inlet. The superheat ends up where compressor and
 * piston agree. SI throughout; pressures absolute. Pure: allocates nothing, keeps nothing. Public.
 */
#ifndef CT_PART_ORIFICE_H
#define CT_PART_ORIFICE_H

#include <stdbool.h>

#include "base/status.h"
#include "part/inlet.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_ORIFICE_BORE_MIN 0.5e-3 /* m; the search for a bore runs between these two */
#define CT_ORIFICE_BORE_MAX 3.5e-3

typedef struct {
    double bore;   /* m, 0.5e-3 to 3.5e-3 */
    double length; /* m, 3e-3 to 40e-3 */
} ct_orifice;

/* The data behind the correlation (from memory, unconfirmed; bores to a tenth of a mm, so 0.067 in
 * is inside). Residential pistons above that lie outside. */
#define CT_ORIFICE_DATA_BORE_MIN 1.1e-3 /* m */
#define CT_ORIFICE_DATA_BORE_MAX 1.702e-3
#define CT_ORIFICE_DATA_LENGTH_MIN 9.5e-3 /* m */
#define CT_ORIFICE_DATA_LENGTH_MAX 25.4e-3
#define CT_ORIFICE_DATA_SUBCOOLING_MAX 14.0 /* K */

/* In what a result lies outside those data. */
enum { CT_ORIFICE_BORE = 1, CT_ORIFICE_LENGTH = 2, CT_ORIFICE_SUBCOOLING = 4 };

typedef struct {
    double m;         /* kg/s */
    bool flash;       /* flash gas at the inlet */
    unsigned outside; /* CT_ORIFICE_... bits: extrapolated in these */
} ct_orifice_out;

/* Mass flow through a sharp-edged short tube, Payne & O'Neal 2004, HVAC&R Research 10(1):73-87, one
 * set for, R-134a, R-407C, R-410A, R-502; R-32 and R-454B are outside the fluids it was
 * fitted to. The flow is choked: the pressure after the piston (p_down, Pa) does not enter, and
 * must be below the saturation pressure of the arriving liquid. The two-phase factor is divided by
 * its own value at quality zero, so that there is no step where flash gas begins. Expect +/-10 %
 * against a real part. CT_RANGE: not choked, dimensions, subcooling above 20 K or quality above
 * 0.5. */
CT_API ct_status ct_orifice_flow(const ct_orifice *, const ct_inlet *, double p_down,
                                 ct_orifice_out *, ct_fault *);

/* Bore, m, that passes m kg/s with a tube of this length. CT_NO_ROOT when no bore between
 * CT_ORIFICE_BORE_MIN and _MAX does; else fails as ct_orifice_flow. */
CT_API ct_status ct_orifice_bore(double m, double length, const ct_inlet *, double p_down,
                                 double *bore, ct_fault *);

/* Nearest pistons on the shelf below and above a bore, m: named by the bore in thousandths of an
 * inch, 49 to 110 (common practice, no source). NaN where there is none on that side. */
CT_API void ct_orifice_nearest(double bore, double *below, double *above);

#ifdef __cplusplus
}
#endif
#endif
