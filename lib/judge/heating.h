/* Heating: the air the heating tap moves against what electric heat and a furnace need.
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
    bool asked; /* electric heat or a furnace is given; else nothing below holds */
    bool known; /* how much air moves while it heats; else tap and V do not hold */
    int tap;    /* that heats, -1: the airflow was read in place */
    double V;   /* m3/s actual at the blower; 0: the tap cannot move air against these ducts */
    double V_electric_min;               /* m3/s the electric heat needs; 0: none given */
    double V_furnace_min, V_furnace_max; /* m3/s at the ends of its rise; 0: no furnace */
    double rise_electric, rise_furnace;  /* K at V; NaN when not known */
    ct_judgement electric, furnace;      /* CT_NOT_JUDGED when not asked or not known */
    unsigned suits;                      /* bit i: tap i gives what is needed */
} ct_heating;

/* Rise = Q / (V rho cp), rho cp that of standard air times the pressure here over the standard one:
 * the trade's 1.08 Btu/h per cfm and F at sea level, 0.90 at 5000 ft. */
CT_API void ct_heating_of(const ct_sweep_job *, ct_heating *);

/* CT_LIMIT_HEAT and CT_LIMIT_FURNACE of any point of the job. */
void ct_heating_judge(const ct_sweep_job *, ct_judgement limit[]);

#ifdef __cplusplus
}
#endif
#endif
