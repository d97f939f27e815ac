/* Sweep: the same house and equipment at every airflow, and at each real blower speed, each judged
 * against every limit.
 *
 * A point is one airflow: the balance there, and for each limit what it came to, what is allowed
 * and by how much it holds. SI; airflow as kg/s of dry air, as standard m3/s per nominal ton (0.075
 * lb/ft3) and as actual m3/s at the blower. */
#ifndef CT_JUDGE_SWEEP_H
#define CT_JUDGE_SWEEP_H

#include "base/status.h"
#include "case/case.h"
#include "judge/limits.h"
#include "part/room.h"
#include "plant/balance.h"
#include "plant/setup.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    CT_METER_UNKNOWN = 0, /* a valve without rating: superheat taken as held */
    CT_METER_COPES,
    CT_METER_HUNTS,
    CT_METER_STARVES,
    CT_METER_FLOODS,
    CT_METER_NEARLY_FLOODS /* a piston with little superheat left: passes, but a hotter day floods
                              it */
} ct_meter_state;

typedef struct {
    int tap;              /* index of the blower tap, -1 for a point of the airflow sweep */
    double V_std_per_ton; /* m3/s of standard air per nominal ton */
    double V_std;         /* m3/s of standard air */
    double V;             /* m3/s actual at the blower */
    double m_da;          /* kg/s */
    double P_blower;      /* W */
    bool has_dp;
    double dp;        /* Pa, external static */
    bool over_limit;  /* static beyond the blower's table or maximum */
    ct_status status; /* CT_OK when balance holds */
    ct_balance balance;
    char why[200]; /* when it does not */
    ct_meter_state meter;
    double valve_share; /* valve: flow needed over flow at the rated opening; NaN if unknown */
    double T_jacket;    /* K, outside of the supply duct; NaN when the surroundings are unknown */
    double V_face;      /* m/s; NaN when the face is unknown */
    ct_judgement limit[CT_LIMIT_COUNT];
    bool passes; /* no deciding limit fails */
    bool has_room;
    ct_room_out room; /* where the house settles at the stated share of its sensible load */
    bool has_room_fan_on;
    ct_room_out room_fan_on; /* the same were the blower left on all the time */
    double Q_load_max;       /* W, largest sensible load this speed carries with the margin */
} ct_point;

#define CT_MAX_SWEEP_POINTS 501

typedef struct {
    int n; /* airflow sweep */
    ct_point point[CT_MAX_SWEEP_POINTS];
    int n_taps;                /* 0 when the blower or the ducts are not known */
    ct_point tap[CT_MAX_TAPS]; /* in order of rising airflow */
} ct_sweep;

/* Everything a sweep needs, made once per case and indoor unit. */
typedef struct {
    const ct_case *c;
    const ct_indoor_unit *unit;
    ct_system system;
    ct_air indoor; /* return air */
    double T_out;  /* K */
    bool has_duct;
    ct_duct duct;     /* with the coil terms of this unit filled in */
    ct_blower blower; /* the unit's, its tables for the air at this altitude */
} ct_sweep_job;

/* The state of air as it was read, at p Pa. CT_INPUT when its moisture is not given. */
CT_API ct_status ct_sweep_air(const ct_air_reading *, double p, ct_air *, ct_fault *);
/* Only what does not depend on the indoor unit: the air, the outdoors, the ducts without a coil. */
CT_API ct_status ct_sweep_site(const ct_case *, ct_sweep_job *, ct_fault *);

CT_API ct_status ct_sweep_prepare(const ct_setup *, ct_sweep_job *, ct_fault *);

/* One airflow of m_da kg/s with blower input P_blower W, judged. A point that does not balance is
 * not an error: point->status and why tell. start may be NULL. */
CT_API void ct_sweep_point(ct_solver *, const ct_sweep_job *, double m_da, double P_blower,
                           const ct_start *start, ct_point *point);

/* One airflow as the sweep takes it: V_per_ton standard m3/s per nominal ton, blower input after
 * ct_sweep_watts at the volume the balance decides. An unbalanced point is not an error. CT_RANGE
 * when V_per_ton is not positive. */
CT_API ct_status ct_sweep_airflow(ct_solver *, const ct_sweep_job *, double V_per_ton,
                                  ct_point *point, ct_fault *);

/* One tap: airflow where tap i meets the ducts, times the case's tuned airflow, at the density of
 * the air at the blower, which the balance decides. Fails as ct_blower_meet; an unbalanced point is
 * not an error. */
CT_API ct_status ct_sweep_tap(ct_solver *, const ct_sweep_job *, int i, ct_point *point,
                              ct_fault *);

/* Blower input, W, at V m3/s actual: along the taps when known, else from the rated figure by the
 * family's power law (blower.h), V counted as standard air by the pressure alone. */
CT_API ct_status ct_sweep_watts(const ct_sweep_job *, double V, double *P, ct_fault *);

/* Fills the settled humidity of a point that balances and judges it against the ceiling, if any. A
 * house that settles nowhere leaves has_room false. ct_sweep_run does this for every point. */
CT_API void ct_sweep_humidity(ct_solver *, const ct_sweep_job *, ct_point *point);

/* All airflows of the case's range and all taps. */
CT_API ct_status ct_sweep_run(ct_solver *, const ct_sweep_job *, ct_sweep *, ct_fault *);

/* The airflows and taps of `near`, in its order, for a job that differs little from the one it was
 * swept with: every balance begins at its neighbour, which saves time and cannot change an answer.
 * The settled humidity is worked out only when the house has a ceiling, and only where the pick is
 * made: at the taps, without taps at the airflows; the fan-on case never. Taps keep the order of
 * `near` even when their airflows change places. */
CT_API void ct_sweep_near(ct_solver *, const ct_sweep_job *, const ct_sweep *near, ct_sweep *);

#ifdef __cplusplus
}
#endif
#endif
