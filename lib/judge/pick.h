/* Pick: the lowest blower speed that passes, why not lower, and what would fix it when none does.
 * An indoor unit that must not be installed has no pick, whatever its speeds would do.
 *
 * Chooses among the real taps when they and the ducts are known, else among the airflows of the
 * sweep. It works nothing out anew. Public. */
#ifndef CT_JUDGE_PICK_H
#define CT_JUDGE_PICK_H

#include "base/status.h"
#include "judge/compatibility.h"
#include "judge/sweep.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    bool has_checks; /* else their pressure is outside the refrigerant's tables */
    ct_checks checks;
    bool refused;   /* the unit must not be installed (compatibility.h): no speed is the pick */
    bool from_taps; /* points are taps, else the airflow sweep */
    bool found;
    int index;                   /* of the pick in sweep->tap or sweep->point */
    bool has_lower;              /* a lower speed exists */
    int lower;                   /* its index */
    ct_limit binding;            /* the limit that fails there (the one short by most) */
    ct_judgment binding_at;      /* at the lower speed */
    int failing[CT_LIMIT_COUNT]; /* at how many points each deciding limit fails */
    int n_points;
    unsigned remedies; /* ct_remedy bits when none passes (remedy.h) */
    unsigned advice;   /* bit per advisory limit that fails at the pick */
} ct_pick;

/* For the low stage (ct_sweep_low_job): the speed that passes and lets the house settle driest; of
 * two alike the slower. Nothing is said of remedies. */
CT_API void ct_pick_driest(const ct_sweep_job *, const ct_sweep *, ct_pick *);

/* Of two speeds that pass, is the first the better one for the low stage? */
CT_API bool ct_pick_drier(const ct_point *, const ct_point *than);

CT_API void ct_pick_lowest(const ct_sweep_job *, const ct_sweep *, ct_pick *);

/* Point i of those the pick chooses among, 0 to n_points - 1. */
CT_API const ct_point *ct_pick_candidate(const ct_pick *, const ct_sweep *, int i);

/* The point a pick names. NULL when none was found. */
CT_API const ct_point *ct_pick_point(const ct_pick *, const ct_sweep *);

#ifdef __cplusplus
}
#endif
#endif
