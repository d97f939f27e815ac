/* Airflow: a blower moves volume, the coil feels mass, and the density between them is that of the
 * air the blower breathes: the return air, or what leaves the coil. So the balance and the airflow
 * settle together. SI. Internal. */
#ifndef CT_JUDGE_AIRFLOW_H
#define CT_JUDGE_AIRFLOW_H

#include "base/status.h"
#include "plant/balance.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_AIRFLOW_ROUNDS 20
#define CT_AIRFLOW_TOL 1e-11

typedef struct {
    ct_solver *solver;
    const ct_system *system;
    ct_conditions at; /* m_da is filled in */
    double v;         /* m3/kg dry air at the blower: a guess, afterwards the answer */
    ct_start start;   /* used when warm; afterwards where the next balance may begin */
    bool warm;
    int balances; /* counted on */
} ct_airflow;

/* Specific volume of the air the blower breathes, m3/kg of dry air. b NULL: not known yet, the
 * return air's. */
double ct_airflow_volume(const ct_system *, const ct_air *in, const ct_balance *b);

/* The balance with `V` m3/s through the blower: a few rounds of substitution. A round changes the
 * volume by a few hundredths of what the one before did, for a tenth more air leaves a coil
 * 1 or 2 K warmer, so five rounds do where the balance goes with the airflow. Fails as
 * ct_balance_solve, with at.m_da the mass it was tried at; CT_NO_CONV, with the outcome
 * CT_UNCONVERGED, where the balance steps to and fro and the rounds run out. */
ct_status ct_airflow_settle(ct_airflow *, double V, ct_balance *, ct_fault *);

/* The balance at the mass flow at.m_da. Fails as ct_balance_solve. */
ct_status ct_airflow_balance(ct_airflow *, ct_balance *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
