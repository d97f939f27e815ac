/* Fixes: what would make a job pass, found by running it.
 *
 * When no speed passes, each remedy of judge/remedy.h is tried by itself on a copy of the case,
 * in steps: the fan on AUTO, another heating tap, less static in the ducts, another coil,
 * another valve or piston, a valve for a piston that fails, more insulation, a dehumidifier, a
 * larger outdoor unit, less load. Kept is the smallest step with which a speed passes, else the
 * one that leaves the least gap; of the pistons on the shelf with which one passes, the one
 * whose superheat there comes nearest to the target of the day. With two stages a step on which
 * the low one passes too goes before any other that closes the gap. A remedy that closes less
 * than a tenth of the gap is not kept. What is not enough by itself is tried once more with what
 * costs nothing, where that is at fault: the fan on AUTO, a heating tap that suits. The gap of a
 * case is that of its best speed: how far short it is of the limit it misses by most
 * (ct_limit_shortfall). SI. Public. */
#ifndef CT_STUDY_FIXES_H
#define CT_STUDY_FIXES_H

#include "base/status.h"
#include "judge/pick.h"
#include "judge/remedy.h"
#include "plant/setup.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    unsigned remedy;   /* one ct_remedy bit */
    double amount;     /* what it becomes, or how much is added: in SI, of `unit`; water as kg/s */
    ct_unit_kind unit; /* of amount; CT_UNIT_NONE: a number */
    unsigned also;     /* ct_remedy bits of what costs nothing and is done besides; mostly none */
    int heat_tap;      /* with CT_REMEDY_HEAT_TAP in also: which, counted from 1; 0: no taps */
    double V_heat;     /* then the airflow set for heating, m3/s */
    bool closes;       /* a speed passes every limit */
    bool low_fails; /* of two stages: no speed passes on the low one, whatever the high one does */
    bool closes_worst;   /* the limit the case misses by most is kept at the speed shown */
    double gap, gap_was; /* 0 when it closes */
    ct_point point;      /* the speed that passes, else the one that comes nearest */
    ct_limit worst;      /* the limit missed by most there, when it does not close */
} ct_fix;

typedef struct {
    bool has_gap;
    ct_limit worst; /* the limit missed by most at the best speed, before any remedy */
    double gap;
    int n;
    bool none_closes; /* do not do this job as planned */
    /* Those that close first, of them those on both stages, then by the gap that is left. A piston
     * and the valve instead of it are two of one remedy. */
    ct_fix fix[CT_REMEDY_COUNT];
} ct_fixes;

/* A US pint of water a day in kg/s: how dehumidifiers are sold. */
#define CT_KG_S_PER_PINT_DAY (0.473176473 / 86400.0)

/* `sweep` is that of the setup's case, on which no speed passes. CT_SYSTEM: out of memory. */
CT_API ct_status ct_fixes_run(const ct_setup *, const ct_sweep *, ct_fixes *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
