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

/* A round: the volume it began with, what came of it, and the balance. */
typedef struct {
    double from, to;
    ct_start at;
} settling;

#define SWING_MOST 0.5 /* what a volume comes to over what it began with, in changes */

/* Two rounds say where the rest of them lead, and where the balance lies there. */
static void look_ahead(ct_airflow *a, const settling *last, const settling *now)
{
    const double swing = (now->to - last->to) / (now->from - last->from);

    if (!(fabs(swing) < SWING_MOST)) return;
    const double next = now->from + (now->to - now->from) / (1.0 - swing);
    a->v = next;
    a->start = ct_balance_along(&now->at, &last->at, (next - now->from) / (last->from - now->from));
}

/* Volume of the air that leaves a coil over that of the return air, roughly: 18 F colder. */
#define LEAVES 0.965

/* With a->v guessed. Where that gives no balance others are tried, so that it makes no difference
 * from which neighbor the guess came. *from: the volume the round began with. */
static ct_status first_round(ct_airflow *a, double V, ct_balance *b, double *from, ct_fault *fault)
{
    const double in = ct_airflow_volume(a->system, &a->at.in, NULL);
    const double guess[] = {a->v, LEAVES * in, in};
    const int n = a->system->before_coil ? 1 : 3;
    ct_status status = CT_NO_ROOT;

    for (int i = 0; i < n && status != CT_OK; i++) {
        *from = guess[i];
        a->at.m_da = V / *from;
        status = ct_airflow_balance(a, b, fault);
    }
    return status;
}

ct_status ct_airflow_settle(ct_airflow *a, double V, ct_balance *b, ct_fault *fault)
{
    settling last = {.from = 0.0};

    for (int round = 0; round < CT_AIRFLOW_ROUNDS; round++) {
        settling now = {.from = a->v};
        a->at.m_da = V / now.from;
        const ct_status status =
            round == 0 ? first_round(a, V, b, &now.from, fault) : ct_airflow_balance(a, b, fault);
        if (status != CT_OK) return status;
        if (fabs(a->v - now.from) <= CT_AIRFLOW_TOL * a->v) return CT_OK;
        now.to = a->v;
        now.at = a->start;
        if (round > 0) look_ahead(a, &last, &now);
        last = now;
    }
    b->outcome = CT_UNCONVERGED;
    return ct_fault_say(
        fault, CT_NO_CONV,
        "the airflow does not settle: in %d rounds the balance at the density of the "
        "air came to another density each time; try an airflow a little off",
        CT_AIRFLOW_ROUNDS);
}
