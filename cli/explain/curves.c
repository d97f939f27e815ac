#include "explain/curves.h"

#include <math.h>

#include "base/units.h"
#include "plant/charge.h"

/* Airflows of the coil curves, standard cfm per ton. */
static const double airflows[CURVES] = {250, 300, 350, 400, 450};

/* How far past the outermost crossings the curves run, K. */
#define BEYOND 4.0

static ct_status balance_all(job *j, explain_curves *c, ct_fault *fault)
{
    ct_status status = CT_OK;
    for (int i = 0; i < CURVES; i++) {
        ct_point *p = &c->point[c->n];
        ct_status here =
            ct_sweep_airflow(j->solver, &j->sweep, airflows[i] * CT_M3S_PER_CFM, p, fault);
        if (here == CT_OK && p->status != CT_OK)
            here = ct_fault_say(fault, p->status, "%s", p->why);
        if (here == CT_OK)
            c->n++;
        else
            status = here;
    }
    return c->n > 0 ? CT_OK : status;
}

ct_status explain_curves_make(job *j, explain_curves *c, ct_fault *fault)
{
    double low = INFINITY, high = -INFINITY;
    c->n = 0;
    ct_status status = balance_all(j, c, fault);
    for (int i = 0; i < c->n; i++) {
        low = fmin(low, c->point[i].balance.Te - BEYOND);
        high = fmax(high, c->point[i].balance.Te + BEYOND);
    }
    for (int i = 0; i < c->n && status == CT_OK; i++) {
        const ct_point *p = &c->point[i];
        const ct_conditions at = {j->sweep.indoor, j->sweep.T_out, p->m_da, p->P_blower};
        const ct_system as_found = ct_charge_as_found(&j->sweep.system, &p->balance);
        const ct_steps Te = {fmax(low, 234.0), fmin(high, p->balance.in.T), CURVE_POINTS};
        status = ct_curves_run(j->solver, &as_found, &at, &Te, &c->curve[i], fault);
    }
    return status;
}
