#include "judge/hottest.h"

#include <math.h>

#include "base/search.h"
#include "base/units.h"
#include "judge/judge.h"

typedef struct {
    ct_solver *solver;
    const ct_sweep_job *job;
    const ct_point *point;
} hot_day;

/* Sensible capacity over load less one, at an outdoor temperature; falls as it gets hotter. A day
 * too hot to balance is one on which the load is not carried. */
static double spare(double T_out, void *context)
{
    const hot_day *d = context;
    const ct_house *h = &d->job->c->house;
    double load = h->Q_sensible * (1.0 + h->margin) * (T_out - h->T_balance.v) /
                  (d->job->T_out - h->T_balance.v);
    double carried;

    return ct_judge_carried(d->solver, d->job, d->point, &(ct_house_day){T_out, load}, &carried) ==
                   CT_OK
               ? carried / load - 1.0
               : -1.0;
}

ct_status ct_hottest_day(ct_solver *solver, const ct_sweep_job *job, const ct_point *point,
                         double *T_out, ct_fault *fault)
{
    const ct_house *h = &job->c->house;
    hot_day day = {solver, job, point};
    ct_root_job search = {.start = job->T_out, .step = 2.0, .rising = false, .tol = 1e-7};
    ct_root_result r;
    ct_root_end end;

    if (!h->T_balance.has || !(job->T_out > h->T_balance.v + 1.0))
        return ct_fault_say(fault, CT_INPUT,
                            "give house.balance_temperature, outdoors where no cooling is needed, "
                            "below the design day");
    if (point->status != CT_OK) return ct_fault_say(fault, CT_NO_ROOT, "no balance at this speed");
    search.low = fmax(job->T_out - 30.0, h->T_balance.v + 1.0);
    search.high = 330.0;
    end = ct_search_root(spare, &day, &search, &r);
    /* A jump is the day on which the head pressure ends the balance: the hottest it still runs. */
    if (end == CT_ROOT_NO_BRACKET || end == CT_ROOT_LIMIT)
        return ct_fail(fault, CT_NO_ROOT, NAN, search.low, search.high,
                       "the load is %s carried between %.0f and %.0f F outdoors",
                       r.f > 0.0 ? "always" : "never", ct_F_from_K(search.low),
                       ct_F_from_K(search.high));
    *T_out = r.x;
    return CT_OK;
}
