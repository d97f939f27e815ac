/* Compatibility: do the refrigerant, the metering device and the pressures of old and new belong
 * together?
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

/* X(enum, bit, token, kind) */
/* clang-format off */
#define CT_CHECKS(X)                                                                               \
    X(COIL_REFRIGERANT, 0, "coil_refrigerant", CAUTION)                                            \
    X(METER_REFRIGERANT, 1, "valve_refrigerant", REFUSES)                                          \
    X(PRESSURE, 2, "design_pressure", REFUSES)                                                     \
    X(PRESSURE_UNSTATED, 3, "pressure_unstated", QUESTION)                                         \
    X(REFRIGERANT_UNSTATED, 4, "refrigerant_unstated", QUESTION)                                   \
    X(FLAMMABLE, 5, "flammable", CAUTION)             /* 2L, 2 or 3 of ISO 817, ASHRAE 34 */       \
    X(OIL, 6, "oil", CAUTION)                         /* the coil's refrigerant has another oil */ \
    X(PHASED_OUT, 7, "phased_out", CAUTION)                                                        \
    X(CORRELATION, 8, "correlation", CAUTION)         /* not a fluid of the orifice's equation */  \
    X(COIL_PRESSURE, 9, "coil_pressure", REFUSES)     /* made for one of lower pressure */         \
    X(COIL_FLAMMABLE, 10, "coil_flammable", REFUSES)  /* made for none that burns */               \
    X(SET_VALVE, 11, "set_valve", REMINDER)           /* the valve suits several: set its switch */

#define CT_CHECK_ENUM(id, bit, ...) CT_CHECK_##id = 1 << (bit),
typedef enum { CT_CHECKS(CT_CHECK_ENUM) } ct_check;
#undef CT_CHECK_ENUM
#define CT_CHECK_ONE(...) +1
enum { CT_CHECK_COUNT = 0 CT_CHECKS(CT_CHECK_ONE) };
#undef CT_CHECK_ONE
/* clang-format on */

/* What a finding calls for: a unit that is refused must not be installed; a question is something
 * to read off a plate; a caution and a reminder are for the one who does the work. */
typedef enum {
    CT_FINDING_REFUSES,
    CT_FINDING_QUESTION,
    CT_FINDING_REMINDER,
    CT_FINDING_CAUTION
} ct_finding;

/* Of one finding: a bit below 1 << CT_CHECK_COUNT. */
CT_API const char *ct_compatibility_token(unsigned check);
CT_API ct_finding ct_compatibility_kind(unsigned check);

typedef struct {
    unsigned found;  /* ct_check bits */
    bool refuse;     /* at least one finding forbids the pairing */
    double p_needed; /* Pa absolute, least design pressure of the low side */
    double T_needed; /* K, the temperature it is the saturation pressure of */
} ct_checks;

/* Least low-side design pressure: bubble pressure at 80 F (ASHRAE 15, design pressures; from
 * memory, unconfirmed) or at the air around the unit if hotter: a stopped system rises to it.
 * CT_RANGE. */
CT_API ct_status ct_compatibility_checks(const ct_case *, const ct_refrigerant *,
                                         const ct_indoor_unit *, ct_checks *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
