#include "explain/crossing.h"

#include <math.h>

#include "base/units.h"

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
            here = ct_fail(fault, p->status, NAN, NAN, NAN, "%s", p->why);
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
        status = ct_curves_run(j->solver, &j->sweep.system, &at, fmax(low, 234.0),
                               fmin(high, p->balance.in.T), CURVE_POINTS, &c->curve[i], fault);
    }
    return status;
}

/* A tap's own curve, from where it meets ducts of every resistance between its first and its last
 * point: so the curve drawn is the one the operating point is found on. */
static int trace_tap(const ct_blower *blower, int i, ct_blower_point *curve)
{
    const ct_tap *tap = &blower->tap[i];
    const ct_tap_point *first = &tap->point[0], *last = &tap->point[tap->n - 1];
    const double dp_last = tap->n == 1 && blower->dp_max > last->dp ? blower->dp_max : last->dp;
    const double low = fmax(1.0, first->dp) / (first->V * first->V);
    const double high = dp_last / (last->V * last->V);
    int n = 0;
    for (int k = 0; k < TAP_CURVE_POINTS; k++) {
        const double share = (double)k / (TAP_CURVE_POINTS - 1);
        const double resistance = low * pow(high / low, share);
        const ct_duct duct = {.dp = resistance * last->V * last->V,
                              .V = last->V,
                              .exponent = 2.0,
                              .coil_exponent = 1.7};
        if (ct_blower_meet(blower, i, &duct, &curve[n], NULL) == CT_OK) n++;
    }
    return n;
}

static void trace_duct(const ct_duct *duct, double V_high, explain_blower *b)
{
    b->n_duct = DUCT_POINTS;
    for (int k = 0; k < DUCT_POINTS; k++) {
        const double V = V_high * k / (DUCT_POINTS - 1);
        b->duct[k] = (ct_blower_point){.V = V, .dp = ct_duct_dp(duct, V), .P = NAN};
    }
}

void explain_blower_make(const ct_blower *blower, const ct_duct *duct, explain_blower *b)
{
    double V_high = duct->V;
    for (int i = 0; i < blower->n_taps; i++) {
        b->n_curve[i] = trace_tap(blower, i, b->curve[i]);
        for (int k = 0; k < b->n_curve[i]; k++)
            V_high = fmax(V_high, b->curve[i][k].V);
        b->meets[i] = ct_blower_meet(blower, i, duct, &b->meet[i], NULL) == CT_OK;
    }
    trace_duct(duct, V_high, b);
}
