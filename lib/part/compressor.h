/* Compressor: how much refrigerant it moves and what it draws, between a suction and a discharge.
 *
 * Two interchangeable forms. A map of AHRI Standard 540 coefficients, when somebody has them; else
 * a physical curve of displacement, clearance and efficiency, scaled to the nameplate
 * (plant/rate_outdoor).
 * SI: K, W, kg/s, J/kg. Saturated temperatures are dew temperatures. Pure functions. Public. */
#ifndef CT_PART_COMPRESSOR_H
#define CT_PART_COMPRESSOR_H

#include "base/status.h"
#include "fluid/refrigerant.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum { CT_COMPRESSOR_PHYSICAL, CT_COMPRESSOR_MAP } ct_compressor_kind;

typedef struct {
    ct_compressor_kind kind;
    double superheat_ref; /* K, suction superheat the flow figure holds at (map or rating) */
    double flow;          /* physical: m3/s displacement; map: multiplier of the map's mass flow */
    double power;         /* physical: peak efficiency, 0..1; map: multiplier of the map's watts */
    double map_m[10];     /* AHRI 540, lbm/h of F */
    double map_P[10];     /* AHRI 540, W of F */
} ct_compressor;

typedef struct {
    double Te, Tc;    /* K, saturated suction and discharge, at the compressor */
    double superheat; /* K at the suction port; below 0 the suction is wet by -superheat*cp J/kg */
} ct_compressor_in;

typedef struct {
    double m;            /* kg/s */
    double P;            /* W, electrical input */
    double h1;           /* J/kg, suction port */
    double rho1;         /* kg/m3 */
    double h2;           /* J/kg, discharge: all the input is in the gas */
    double h2s;          /* J/kg, of the isentropic path */
    double dT_discharge; /* K, discharge superheat of the isentropic path (a lower bound) */
    double eta;          /* isentropic work over electrical input */
    double eta_v;        /* volumetric efficiency; NaN for a map */
} ct_compressor_out;

/* Effective clearance of the physical curve and its polytropic re-expansion exponent. The exponent
 * is that of the vapor, near 1.15; the clearance is the least-squares slope of flow over suction
 * density in the openly published R-410A map (see compressor.c). */
#define CT_COMPRESSOR_CLEARANCE 0.049
#define CT_COMPRESSOR_REEXPANSION 1.15

/* Volumetric efficiency 1 - c ((p2/p1)^(1/n) - 1), re-expansion of the clearance gas; any
 * thermodynamics text, e.g. ASHRAE Handbook Systems, positive-displacement compressors. May be
 * negative at absurd pressure ratios: callers treat that as no flow. */
CT_API double ct_compressor_eta_v(double pressure_ratio);

/* Efficiency relative to its peak at a pressure ratio: a parabola in ln(pressure ratio), peak 1.
 * Shape read off the openly published R-410A map (see compressor.c). Never below 0.2. */
CT_API double ct_compressor_eta_shape(double pressure_ratio);

/* One compressor point. Flow is corrected to the actual suction density and power to the actual
 * isentropic work after Dabiri & Rice 1981 (ASHRAE Trans. 87(2):771-782), F = 0.75:
 *   m = [1 + F (rho/rho_ref - 1)] m_ref,   P = P_ref (m/m_ref) (dh_s)/(dh_s,ref).
 * Te, Tc inside the refrigerant's tables, Tc > Te, superheat -60..60 K.
 * Fails: CT_RANGE (tables, or a map or clearance that gives no flow). */
CT_API ct_status ct_compressor_run(const ct_compressor *, const ct_refrigerant *,
                                   const ct_compressor_in *, ct_compressor_out *, ct_fault *);

/* The compressor point in two steps, for a search in Tc at a fixed suction: everything that does
 * not depend on the discharge is worked out once. Fail as ct_compressor_run, which is one after the
 * other. */
typedef struct {
    double Te, superheat; /* K */
    double p;             /* Pa, suction */
    double h, rho;        /* J/kg, kg/m3 at the suction port */
    double h_v, s_v;      /* J/kg, J/kg K of the vapor that goes into the cylinder */
    double rho_ref;       /* kg/m3, h and s at the reference superheat */
    double h_ref, s_ref;
} ct_compressor_suction;

CT_API ct_status ct_compressor_suction_at(const ct_compressor *, const ct_refrigerant *, double Te,
                                          double superheat, ct_compressor_suction *, ct_fault *);
CT_API ct_status ct_compressor_discharge(const ct_compressor *, const ct_refrigerant *,
                                         const ct_compressor_suction *, double Tc,
                                         ct_compressor_out *, ct_fault *);

/* Suction superheat at which this compressor moves a given flow: the inverse of the flow above, for
 * a metering device that sets the flow. */
typedef struct {
    double Tc; /* K, saturated discharge */
    double m;  /* kg/s */
} ct_suction_wanted;

typedef struct {
    double superheat; /* K; below 0 the suction is wet, as in ct_compressor_in */
    int held;         /* 0; -1: held at CT_SUCTION_DRYNESS_MIN, too wet; +1: held at
                         CT_SUCTION_SUPERHEAT_MAX, too warm; the flow is then not m */
} ct_suction_found;

#define CT_SUCTION_DRYNESS_MIN 0.6
#define CT_SUCTION_SUPERHEAT_MAX 60.0

/* `ref` is the suction at this Te and the compressor's reference superheat; the search begins at
 * the superheat in `found`. CT_RANGE from the tables or the map. For host programs; the balance
 * takes its parts, below. */
CT_API ct_status ct_compressor_superheat(const ct_compressor *, const ct_refrigerant *,
                                         const ct_compressor_suction *ref,
                                         const ct_suction_wanted *, ct_suction_found *, ct_fault *);

/* ---- Taken apart, for a search inside the library that works nothing out twice ---- */

/* A discharge with the suction at the reference superheat. */
typedef struct {
    double Tc, p; /* K, Pa, given: where it is */
    double m, P;  /* kg/s, W */
    double eta_v; /* NaN for a map */
    double h2s;   /* J/kg, of the isentropic path */
    double dT;    /* K, discharge superheat of that */
} ct_compressor_reference;

/* At the Tc and p of the record. */
ct_status ct_compressor_reference_at(const ct_compressor *, const ct_refrigerant *,
                                     const ct_compressor_suction *, ct_compressor_reference *,
                                     ct_fault *);

/* The same discharge at the suction's own superheat. */
ct_status ct_compressor_actual(const ct_refrigerant *, const ct_compressor_suction *,
                               const ct_compressor_reference *, ct_compressor_out *, ct_fault *);

/* One suction temperature at which the superheat follows from a flow. */
typedef struct {
    ct_compressor_suction ref; /* at the reference superheat */
    ct_vapor dry;              /* at dew */
    double grows;              /* 1/K, of the vapor's volume, as found last; 0: not known */
} ct_suction_line;

ct_status ct_suction_line_at(const ct_compressor *, const ct_refrigerant *, double Te,
                             ct_suction_line *, ct_fault *);

/* Suction at which the compressor moves `flow` times what it does at the reference superheat;
 * begins at found->superheat. */
ct_status ct_suction_of_flow(const ct_refrigerant *, ct_suction_line *, double flow,
                             ct_suction_found *found, ct_compressor_suction *, ct_fault *);

/* Saturated liquid at the suction pressure whose dew temperature is T_dew (a blend's liquid is
 * colder than its dew). CT_RANGE. */
CT_API ct_status ct_compressor_suction_liquid(const ct_refrigerant *, double T_dew, ct_liquid *,
                                              ct_fault *);

/* AHRI Standard 540 polynomial, S and D in F, in the map's own units. */
CT_API double ct_compressor_ahri540(const double c[10], double S, double D);

#ifdef __cplusplus
}
#endif
#endif
