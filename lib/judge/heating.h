/* Heating: the air the heating tap moves against what a heat pump, electric heat and a furnace
 * need.
 *
 * Heat has a speed of its own: what a cooling speed moves says nothing of it. The airflow judged is
 * that of the tap the case names (or the blower's only one) on these ducts, or the one read in
 * place. When nobody said which tap heats, nothing is judged; what is needed and which taps give it
 * is still given. SI. Public. */
#ifndef CT_JUDGE_HEATING_H
#define CT_JUDGE_HEATING_H

#include "base/status.h"
#include "judge/limits.h"
#include "judge/sweep_job.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    bool asked; /* a heat pump, electric heat or a furnace is given; else nothing below holds */
    bool known; /* how much air moves while it heats; else tap and V do not hold */
    int tap;    /* that heats, -1: the airflow was read in place */
    double V;   /* m3/s actual at the blower; 0: the tap cannot move air against these ducts */
    double V_electric_min;               /* m3/s the electric heat needs; 0: none given */
    double V_furnace_min, V_furnace_max; /* m3/s at the ends of its rise; 0: no furnace */
    double V_pump_min; /* m3/s that keeps the heat pump's head under the ceiling; 0: no heat pump,
                          INFINITY: none does */
    double rise_electric, rise_furnace; /* K at V; NaN when not known */
    ct_judgment electric, furnace;      /* CT_NOT_JUDGED when not asked or not known */
    ct_judgment head; /* saturated discharge, K, on the warmest day the heat pump runs */
    unsigned suits;   /* bit i: tap i gives what is needed */
    int best; /* heat pump: of those the slowest with CT_HEATING_USUAL_FLOW, else the fastest; -1 */
} ct_heating;

/* What heats needs other air than its tap gives. */
static inline bool ct_heating_fails(const ct_heating *h)
{
    return h->electric.verdict == CT_FAILS || h->furnace.verdict == CT_FAILS ||
           h->head.verdict == CT_FAILS;
}

/* Rise = Q / (V rho cp), rho cp that of standard air times the pressure here over the standard one:
 * the trade's 1.08 Btu/h per cfm and F at sea level, 0.90 at 5000 ft. */
CT_API void ct_heating_of(const ct_sweep_job *, ct_heating *);

/* Airflow of a heat pump that heats, m3/s of standard air per ton: 350 cfm, common practice, no
 * source. More air than that moves the head little and makes the supply air feel cool. */
#define CT_HEATING_USUAL_FLOW (350.0 * CT_M3S_PER_CFM)

/* The heat pump at one airflow, m3/s actual: at 47 F outdoors, 70 F indoors; on the warmest day it
 * heats; at 17 F outdoors. `warm` and `cold` hold with their status CT_OK. */
typedef struct {
    double V;
    ct_heating_balance rated, warm, cold;
    ct_status warm_status, cold_status;
} ct_heating_pump_point;

/* Fails as ct_heating_solve at 47 F. */
CT_API ct_status ct_heating_pump(const ct_sweep_job *, double V, ct_heating_pump_point *,
                                 ct_fault *);

/* CT_LIMIT_HEAT, CT_LIMIT_FURNACE and CT_LIMIT_HEAT_HEAD of any point of the job. */
void ct_heating_judge(const ct_sweep_job *, ct_judgment limit[]);

#ifdef __cplusplus
}
#endif
#endif
