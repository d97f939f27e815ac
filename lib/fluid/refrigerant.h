/* Refrigerant: pressures for the gauge, enthalpies for the balance.
 *
 * Its tables are worked out from the published equation of state when the project is built, and are
 * read-only: any number of threads may use one. All look-ups are table interpolations (no equation
 * of state is evaluated), allocate nothing and keep nothing. SI: K, Pa, J/kg, J/kg K, kg/m3.
 *
 * Blends have two saturation pressures at one temperature: bubble (liquid, for subcooling) and dew
 * (vapor, for superheat). Saturated suction and discharge temperatures in this library are dew
 * temperatures; for the two are one.
 *
 * Sources: the equations cited in models/<refrigerant>.c. Tables agree with them to 0.02 %.
 * Public. */
#ifndef CT_FLUID_REFRIGERANT_H
#define CT_FLUID_REFRIGERANT_H

#include <stdbool.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct ct_refrigerant ct_refrigerant;

typedef struct {
    double rho; /* kg/m3 */
    double h;   /* J/kg */
    double s;   /* J/kg K */
    double cp;  /* J/kg K */
} ct_vapor;

typedef struct {
    double h;   /* J/kg */
    double rho; /* kg/m3 */
    double cp;  /* J/kg K */
} ct_liquid;

/* name: "R-22", "R-410A", "R-407C", "R-32", "R-454B", spelled as ct_catalog_find takes it.
 * Fails: CT_INPUT (unknown name; the fault lists the known), CT_SYSTEM (memory). Free with
 * ct_refrigerant_free (NULL is fine). */
CT_API ct_status ct_refrigerant_make(const char *name, ct_refrigerant **out, ct_fault *fault);
CT_API void ct_refrigerant_free(ct_refrigerant *);

CT_API const char *ct_refrigerant_name(const ct_refrigerant *); /* "R-410A" */
CT_API const char *
ct_refrigerant_safety(const ct_refrigerant *); /* "A1", "A2L": ISO 817/ASHRAE 34 */
CT_API double ct_refrigerant_liquid_viscosity(const ct_refrigerant *); /* Pa s, catalog.h */
CT_API bool ct_refrigerant_is_blend(const ct_refrigerant *);           /* dew and bubble differ */
CT_API double ct_refrigerant_T_min(const ct_refrigerant *); /* K, lowest saturation in the tables */
CT_API double ct_refrigerant_T_max(const ct_refrigerant *); /* K, highest */
CT_API double ct_refrigerant_T_crit(const ct_refrigerant *); /* K */
CT_API double ct_refrigerant_p_crit(const ct_refrigerant *); /* Pa */
/* K, the most superheat ct_refrigerant_vapor takes. For host programs. */
CT_API double ct_refrigerant_superheat_max(const ct_refrigerant *);

/* Saturation. Temperature T_min..T_max or the pressures that go with it; else CT_RANGE. */
CT_API ct_status ct_refrigerant_p_dew(const ct_refrigerant *, double T, double *p, ct_fault *);
CT_API ct_status ct_refrigerant_p_bubble(const ct_refrigerant *, double T, double *p, ct_fault *);
CT_API ct_status ct_refrigerant_T_dew(const ct_refrigerant *, double p, double *T, ct_fault *);
CT_API ct_status ct_refrigerant_T_bubble(const ct_refrigerant *, double p, double *T, ct_fault *);

/* Both phases at the dew pressure of T_dew: vapor at dew, liquid at bubble. */
typedef struct {
    double p;                /* Pa */
    double T_bubble;         /* K */
    double h_v, cp_v, rho_v; /* J/kg, J/kg K, kg/m3 */
    double h_l, rho_l;       /* J/kg, kg/m3 */
} ct_phases;

/* CT_RANGE where T_dew is outside T_min..T_max. */
CT_API ct_status ct_refrigerant_phases(const ct_refrigerant *, double T_dew, ct_phases *,
                                       ct_fault *);

/* Vapor at the dew pressure of T_dew, superheated by `superheat` K (0..superheat_max). */
CT_API ct_status ct_refrigerant_vapor(const ct_refrigerant *, double T_dew, double superheat,
                                      ct_vapor *out, ct_fault *);

/* Vapor at the dew pressure of T_dew with entropy s: enthalpy and superheat there. For the
 * isentropic work of compression. CT_RANGE when s is below saturation or beyond the table. */
CT_API ct_status ct_refrigerant_isentropic(const ct_refrigerant *, double T_dew, double s,
                                           double *h, double *superheat, ct_fault *);

/* Liquid at the bubble pressure of T_bubble, subcooled by `subcooling` K (0..30). */
CT_API ct_status ct_refrigerant_liquid(const ct_refrigerant *, double T_bubble, double subcooling,
                                       ct_liquid *out, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
