/* Liquid line: what is lost between the condenser and the metering device.
 *
 * Friction of the liquid, and the weight of the column where the coil sits above the outdoor unit;
 * a coil below gains. The enthalpy stays, so pressure lost is subcooling lost, and past the last of
 * it gas comes with the liquid. Heat through the wall and the added friction of that gas are not
 * counted. SI. Pure: allocates nothing, keeps nothing. Public.
 *
 * Sources: dp = f L/D rho v^2/2 + rho g lift (Darcy-Weisbach); f by Churchill 1977
 * ("Friction-factor equation spans all fluid-flow regimes", Chem. Eng. 84(24):91-92), laminar to
 * turbulent in one; drawn tubing 0.0015 mm rough (Moody 1944, Trans. ASME 66:671-684); viscosity of
 * the liquid from the catalog, one number per refrigerant. */
#ifndef CT_PART_LIQUID_LINE_H
#define CT_PART_LIQUID_LINE_H

#include "base/status.h"
#include "part/inlet.h"
#include "part/orifice.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Lines are sold by their outside diameter. Copper of 1/4 to 5/8 in has 0.030 to 0.035 in of wall
 * (ASTM B280; from memory, unconfirmed). */
#define CT_LIQUID_LINE_WALL 0.8128e-3 /* m, 0.032 in */
#define CT_LIQUID_LINE_ROUGH 1.5e-6   /* m */

/* All 0: nothing is lost. */
typedef struct {
    double length; /* m, with what its fittings and drier are worth */
    double bore;   /* m, inside diameter */
    double lift;   /* m, metering device above the outdoor unit; negative below */
} ct_liquid_line;

typedef struct {
    double p;          /* Pa, at the condenser's outlet */
    double subcooling; /* K there */
    double m;          /* kg/s */
} ct_liquid_line_feed;

/* Darcy's friction factor; Re > 0, roughness over diameter >= 0. */
CT_API double ct_liquid_line_friction(double Re, double rough_over_bore);

/* Pressure lost, Pa; below 0 where the fall gives more than friction takes. */
CT_API ct_status ct_liquid_line_drop(const ct_liquid_line *, const ct_refrigerant *,
                                     const ct_liquid_line_feed *, double *dp, ct_fault *);

/* What arrives at the metering device. Fails as ct_inlet_after_line. */
CT_API ct_status ct_liquid_line_inlet(const ct_liquid_line *, const ct_refrigerant *,
                                      const ct_liquid_line_feed *, ct_inlet *, ct_fault *);

/* An orifice at the end of a line: its own flow makes the friction before it. */
typedef struct {
    const ct_liquid_line *line;
    const ct_refrigerant *refrigerant;
    const ct_orifice *orifice;
    double p_up, subcooling; /* Pa, K at the condenser's outlet */
    double p_down;           /* Pa, behind the orifice */
} ct_liquid_line_end;

/* Fails as ct_orifice_flow, and as ct_liquid_line_inlet would without flow. */
CT_API ct_status ct_liquid_line_flow(const ct_liquid_line_end *, ct_orifice_out *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
