/* Checks: do the refrigerant, the metering device and the pressures of old and new belong together?
 *
 * Findings only; wording and cautions are the program's. SI. Public. */
#ifndef CT_JUDGE_COMPATIBILITY_H
#define CT_JUDGE_COMPATIBILITY_H

#include "base/status.h"
#include "case/case.h"
#include "fluid/refrigerant.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    CT_CHECK_COIL_REFRIGERANT = 1 << 0,  /* the coil is made for another refrigerant */
    CT_CHECK_METER_REFRIGERANT = 1 << 1, /* so is the valve: refuse */
    CT_CHECK_PRESSURE = 1 << 2,          /* the coil's stated design pressure is too low: refuse */
    CT_CHECK_PRESSURE_UNSTATED = 1 << 3, /* not stated: read it off the coil's plate */
    CT_CHECK_REFRIGERANT_UNSTATED = 1 << 4, /* coil or valve: not stated */
    CT_CHECK_FLAMMABLE = 1 << 5,            /* class 2L, 2 or 3 of ISO 817 / ASHRAE 34 */
    CT_CHECK_OIL = 1 << 6,                  /* the coil's refrigerant goes with another oil */
    CT_CHECK_PHASED_OUT = 1 << 7,           /* no longer made or imported: recover, do not top up */
    CT_CHECK_CORRELATION = 1 << 8           /* orifice flow outside the fluids of its correlation */
} ct_check;

typedef struct {
    unsigned found;  /* ct_check bits */
    bool refuse;     /* at least one finding forbids the pairing */
    double p_needed; /* Pa absolute, least design pressure of the low side */
    double T_needed; /* K, the temperature it is the saturation pressure of */
} ct_checks;

/* Least low-side design pressure: bubble pressure at 80 F (ASHRAE 15, design pressures; from
 * memory, unconfirmed) or at the air around the unit if hotter: a stopped system rises to it.
 * CT_RANGE. */
CT_API ct_status ct_checks_unit(const ct_case *, const ct_refrigerant *, int unit, ct_checks *,
                                ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
