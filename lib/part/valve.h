/* Valve: how much liquid the thermostatic valve lets into the coil.
 *
 * It opens with superheat. Within its capacity it holds the superheat it is set to, far below it it
 * hunts, above it the coil starves. SI throughout; pressures absolute. Pure: allocates nothing,
 * keeps nothing. Public. */
#ifndef CT_PART_VALVE_H
#define CT_PART_VALVE_H

#include "base/status.h"
#include "fluid/refrigerant.h"
#include "part/inlet.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Zeros take the defaults named. */
typedef struct {
    double Q_rated;          /* W, capacity at the rating, > 0 */
    double dp_rated;         /* Pa across the valve at the rating, > 0 */
    double T_evap_rated;     /* K, default 277.594 (40 F) */
    double T_liquid_rated;   /* K, default 310.928 (100 F), free of vapor */
    double superheat;        /* K held at the rated opening, the setting, 1 to 15 */
    double span;             /* K from just open to the rated opening, default 3 */
    double reserve;          /* flow wide open over flow at the rated opening, default 1.15 */
    const char *refrigerant; /* the valve's own; NULL or "" if not stated */
} ct_valve_spec;

/* Load share under which a valve hunts; common practice, no source. */
#define CT_VALVE_HUNTS_BELOW 0.4

/* Made once from its rating. */
typedef struct {
    double C;         /* kg/s per sqrt(kg/m3 Pa), at the rated opening */
    double SH_static; /* K, superheat at which it begins to open */
    double SH_open;   /* K, superheat above SH_static at which it is wide open */
    double reserve;   /* as in the spec */
} ct_valve;

typedef enum { CT_VALVE_HOLDS, CT_VALVE_HUNTS, CT_VALVE_STARVES } ct_valve_state;

typedef struct {
    double share;     /* flow needed over flow at the rated opening, here and now */
    double opening;   /* 0 shut to 1 wide open, the A of Li, Braun & Shen */
    double superheat; /* K it settles at; the least it can be when it starves */
    double m_max;     /* kg/s, wide open */
    ct_valve_state state;
} ct_valve_out;

/* Flow coefficient from the rating: m = Q/(h_vapor - h_liquid) at the rating, C = m/sqrt(rho dp);
 * the vapor saturated at T_evap_rated. Rating state after AHRI 750 (from memory, unconfirmed: 40
 * F, 100 F, 100 psi for R-22 and R-407C, 160 psi for R-410A; dp must be given, it is not assumed).
 * CT_INPUT when the valve is made for another refrigerant, or a value is out of its range. */
CT_API ct_status ct_valve_make(const ct_valve_spec *, const ct_refrigerant *, ct_valve *,
                               ct_fault *);

/* Flow, kg/s, at a superheat: quadratic gain of Li, Braun & Shen 2004, m ~ (2A - A^2) sqrt(rho dp),
 * A = (superheat - static)/span held within 0..1: shut below, wide open above. dp is across the
 * valve, Pa, > 0 (CT_RANGE). With flash gas rho is the mixture's, and the flow falls with it.
 * For host programs. */
CT_API ct_status ct_valve_flow(const ct_valve *, const ct_inlet *, double dp, double superheat,
                               double *m, ct_fault *);

/* What the valve does when the compressor takes m kg/s (> 0). A share above the reserve: starves.
 */
CT_API ct_status ct_valve_meet(const ct_valve *, const ct_inlet *, double dp, double m,
                               ct_valve_out *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
