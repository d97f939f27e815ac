/* Pick: the lowest blower speed that passes, why not lower, and what to do when none does.
 *
 * Chooses among the real taps when they and the ducts are known, else among the airflows of the
 * sweep. No numbers are made here except the reverse questions: the largest load and the hottest
 * day a speed still carries. */
#ifndef CT_JUDGE_PICK_H
#define CT_JUDGE_PICK_H

#include "base/status.h"
#include "judge/sweep.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    CT_MEND_SMALLER_COIL = 1 << 0,   /* humidity or latent short, sensible ample */
    CT_MEND_DEHUMIDIFIER = 1 << 1,   /* sensible needs air that leaves the house damp */
    CT_MEND_DUCTS = 1 << 2,          /* static stops the taps that would pass */
    CT_MEND_LARGER_OUTDOOR = 1 << 3, /* no airflow in range carries the sensible load */
    CT_MEND_INSULATION = 1 << 4,     /* ducts sweat */
    CT_MEND_METERING = 1 << 5,       /* valve or orifice does not cope, or starves the coil */
    CT_MEND_MORE_AIR = 1 << 6,       /* frost or heat minimum at every tap */
    CT_MEND_LESS_HEAD = 1 << 7,      /* condensing too hot: clean or enlarge the outdoor coil */
    CT_MEND_LARGER_FACE = 1 << 8,    /* carry-over at the air the load needs */
    CT_MEND_LESS_LOAD = 1 << 9,      /* shade, seal, insulate: cut the load */
    CT_MEND_DO_NOT = 1 << 10         /* do not do this job with this pairing */
} ct_mend;

typedef struct {
    bool from_taps; /* points are taps, else the airflow sweep */
    bool found;
    int index;                  /* of the pick in sweep->tap or sweep->point */
    bool has_lower;             /* a lower speed exists */
    int lower;                  /* its index */
    ct_limit binding;           /* the limit that fails there (the one short by most) */
    ct_judgement binding_at;    /* at the lower speed */
    int killed[CT_LIMIT_COUNT]; /* how many points each deciding limit refuses */
    int n_points;
    unsigned mends;  /* ct_mend bits when none passes */
    unsigned advice; /* bit per advisory limit that fails at the pick */
} ct_pick;

CT_API void ct_pick_lowest(const ct_sweep_job *, const ct_sweep *, ct_pick *);

/* The point a pick names. NULL when none was found. */
CT_API const ct_point *ct_pick_point(const ct_pick *, const ct_sweep *);

/* Hottest outdoor temperature, K, at which this point's airflow still carries the sensible load,
 * the load taken as a straight line from zero at the house's balance temperature to the design load
 * at the case's outdoor temperature. Between the design temperature - 30 K and 330 K. CT_NO_ROOT
 * when the load is never or always carried in that range; CT_INPUT without a balance temperature.
 */
CT_API ct_status ct_pick_hottest_day(ct_solver *, const ct_sweep_job *, const ct_point *,
                                     double *T_out, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
