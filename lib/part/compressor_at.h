/* Compressor, taken apart: for a search that asks for many discharges at one suction, or for the
 * suction that goes with a flow, so that nothing is worked out twice. Internal. */
#ifndef CT_PART_COMPRESSOR_AT_H
#define CT_PART_COMPRESSOR_AT_H

#include "part/compressor.h"

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

/* Suction at which the compressor moves `flow` times what it does at the reference superheat; begins
 * at found->superheat. */
ct_status ct_suction_of_flow(const ct_refrigerant *, ct_suction_line *, double flow,
                             ct_suction_found *found, ct_compressor_suction *, ct_fault *);

#endif
