#include "judge/airflow.h"

#include <math.h>
#include <stddef.h>

double ct_airflow_volume(const ct_system *s, const ct_air *in, const ct_balance *b)
{
    const ct_air *a = s->before_coil || !b || b->outcome != CT_BALANCED ? in : &b->out;

    return ct_air_v(a->T, a->W, a->p);
}

ct_status ct_airflow_balance(ct_airflow *a, ct_balance *b, ct_fault *fault)
{
    ct_status status =
        ct_balance_solve(a->solver, a->system, &a->at, a->warm ? &a->start : NULL, b, fault);

    a->balances++;
    a->v = ct_airflow_volume(a->system, &a->at.in, b);
    if (status != CT_OK) return status;
    a->start = ct_balance_start(b);
    a->warm = true;
    return CT_OK;
}

ct_status ct_airflow_settle(ct_airflow *a, double V, ct_balance *b, ct_fault *fault)
{
    for (int round = 0; round < CT_AIRFLOW_ROUNDS; round++) {
        double before = a->v;
        a->at.m_da = V / before;
        ct_status status = ct_airflow_balance(a, b, fault);
        if (status != CT_OK) return status;
        if (fabs(a->v - before) <= CT_AIRFLOW_TOL * a->v) break;
    }
    return CT_OK;
}
