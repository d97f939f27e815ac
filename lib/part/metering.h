/* Metering device: how much liquid the piston or the thermostatic valve lets into the coil.
 *
 * A piston is a short tube of fixed bore: its flow follows from the liquid line, and the superheat
 * ends up where compressor and piston agree. A thermostatic valve opens with superheat: within its
 * capacity it holds the superheat it is set to, far below it it hunts, above it the coil starves.
 * Both are fed from the same inlet state, which may be liquid or, with a long line or a low charge,
 * liquid with flash gas.
 * SI throughout; pressures absolute. Pure: allocates nothing, keeps nothing. */
#ifndef CT_PART_METERING_H
#define CT_PART_METERING_H

#include <stdbool.h>

#include "base/status.h"
#include "fluid/refrigerant.h"

#ifdef __cplusplus
extern "C" {
#endif

/* ---- what arrives at the device ---- */

typedef struct {
    double p;          /* Pa, at the device inlet */
    double T;          /* K, of the liquid there */
    double subcooling; /* K below the bubble temperature of p; 0 with flash gas */
    double quality;    /* kg of vapour per kg; 0 for liquid */
    double p_sat;      /* Pa, bubble pressure of T; equals p with flash gas */
    double rho_f;      /* kg/m3, saturated liquid at T */
    double rho_g;      /* kg/m3, saturated vapour at T (dew) */
    double rho;        /* kg/m3, of what arrives: liquid, or the homogeneous mixture */
    double h;          /* J/kg */
    double p_crit;     /* Pa, of the refrigerant */
    double T_crit;     /* K */
} ct_meter_inlet;

/* From pressure (Pa) and enthalpy (J/kg) at the device. Liquid up to 30 K subcooled, or up to
 * quality 0.5; continuous where the first bubble appears. CT_RANGE outside that or the
 * refrigerant's tables. */
CT_API ct_status ct_meter_inlet_at(const ct_refrigerant *, double p, double h, ct_meter_inlet *,
                                   ct_fault *);

/* From what leaves the condenser (pressure, Pa; subcooling, K, 0 to 30) and the pressure lost in
 * the liquid line and drier (dp_line, Pa, >= 0). The enthalpy is kept: too much drop makes flash
 * gas. */
CT_API ct_status ct_meter_inlet_after_line(const ct_refrigerant *, double p_condenser,
                                           double subcooling, double dp_line, ct_meter_inlet *,
                                           ct_fault *);

/* ---- fixed orifice (piston) ---- */

#define CT_ORIFICE_BORE_MIN 0.5e-3 /* m; the search for a bore runs between these two */
#define CT_ORIFICE_BORE_MAX 3.5e-3

typedef struct {
    double bore;   /* m, 0.5e-3 to 3.5e-3 */
    double length; /* m, 3e-3 to 40e-3 */
} ct_orifice;

/* Where a result lies outside the data behind the correlation: length 9.5 to 25.4 mm, bore 1.1 to
 * 1.7 mm, subcooling to 14 K (from memory, unconfirmed). Residential pistons above 0.067 in do. */
enum { CT_ORIFICE_BORE = 1, CT_ORIFICE_LENGTH = 2, CT_ORIFICE_SUBCOOLING = 4 };

typedef struct {
    double m;         /* kg/s */
    bool flash;       /* flash gas at the inlet */
    unsigned outside; /* CT_ORIFICE_... bits: extrapolated in these */
} ct_orifice_out;

/* Mass flow through a sharp-edged short tube, Payne & O'Neal 2004, HVAC&R Research 10(1):73-87, one
 * set for, R-134a, R-407C, R-410A, R-502; R-32 is outside the fluids it was fitted to.
 * The flow is choked: the pressure after the piston (p_down, Pa) does not enter, and must be below
 * the saturation pressure of the arriving liquid. The two-phase factor is divided by its own value
 * at quality zero, so that there is no step where flash gas begins. Expect +/-10 % against a real
 * part. CT_RANGE: not choked, dimensions, subcooling above 20 K or quality above 0.5. */
CT_API ct_status ct_orifice_flow(const ct_orifice *, const ct_meter_inlet *, double p_down,
                                 ct_orifice_out *, ct_fault *);

/* Bore, m, that passes m kg/s with a tube of this length. CT_NO_ROOT when no bore between
 * CT_ORIFICE_BORE_MIN and _MAX does; else fails as ct_orifice_flow. */
CT_API ct_status ct_orifice_bore(double m, double length, const ct_meter_inlet *, double p_down,
                                 double *bore, ct_fault *);

/* Nearest pistons on the shelf below and above a bore, m: named by the bore in thousandths of an
 * inch, 49 to 110 (common practice, no source). NaN where there is none on that side. */
CT_API void ct_orifice_nearest(double bore, double *below, double *above);

/* Superheat, K, to charge a piston system to: (3 indoor wet bulb - 80 - outdoor dry bulb)/2 in F,
 * trade rule (common practice, no source). CT_RANGE below 5 F: charge by weight then. */
CT_API ct_status ct_target_superheat(double T_wet_bulb_indoor, double T_outdoor, double *superheat,
                                     ct_fault *);

/* ---- thermostatic valve ---- */

/* Zeros take the defaults named. */
typedef struct {
    double Q_rated;          /* W, capacity at the rating, > 0 */
    double dp_rated;         /* Pa across the valve at the rating, > 0 */
    double T_evap_rated;     /* K, default 277.594 (40 F) */
    double T_liquid_rated;   /* K, default 310.928 (100 F), free of vapour */
    double superheat;        /* K held at the rated opening, the setting, 1 to 15 */
    double span;             /* K from just open to the rated opening, default 3 */
    double reserve;          /* flow wide open over flow at the rated opening, default 1.15 */
    const char *refrigerant; /* the valve's own; NULL or "" if not stated */
} ct_valve_spec;

#define CT_VALVE_HUNTS_BELOW                                                                       \
    0.4 /* load share under which a valve hunts; common practice, no source */

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

/* Flow coefficient from the rating: m = Q/(h_vapour - h_liquid) at the rating, C = m/sqrt(rho dp);
 * the vapour saturated at T_evap_rated. Rating state after AHRI 750 (from memory, unconfirmed: 40
 * F, 100 F, 100 psi for R-22 and R-407C, 160 psi for R-410A; dp is asked, not assumed). CT_INPUT
 * when the valve is made for another refrigerant, or a value is out of its range. */
CT_API ct_status ct_valve_make(const ct_valve_spec *, const ct_refrigerant *, ct_valve *,
                               ct_fault *);

/* Flow, kg/s, at a superheat: quadratic gain of Li, Braun & Shen 2004, m ~ (2A - A^2) sqrt(rho dp),
 * A = (superheat - static)/span held within 0..1: shut below, wide open above. dp is across the
 * valve, Pa, > 0 (CT_RANGE). With flash gas rho is the mixture's, and the flow falls with it. */
CT_API ct_status ct_valve_flow(const ct_valve *, const ct_meter_inlet *, double dp,
                               double superheat, double *m, ct_fault *);

/* What the valve does when the compressor takes m kg/s (> 0). A share above the reserve: starves.
 */
CT_API ct_status ct_valve_meet(const ct_valve *, const ct_meter_inlet *, double dp, double m,
                               ct_valve_out *, ct_fault *);

/* Pressure left across a device: inlet less distributor and nozzle less evaporator, Pa. CT_RANGE
 * when nothing is left. */
CT_API ct_status ct_meter_dp(const ct_meter_inlet *, double dp_distributor, double p_evaporator,
                             double *dp, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
