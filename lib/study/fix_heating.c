#include "study/fix_heating.h"

#include <math.h>

#include "base/units.h"
#include "judge/heating.h"

#define STEP (10.0 * CT_M3S_PER_CFM)

static int tap_that_does(const ct_heating *h, int n_taps)
{
    for (int i = 0; h->best < 0 && i < n_taps; i++)
        if (h->suits & 1u << i) return i + 1;
    return h->best + 1;
}

/* The nearest airflow within what all the heat on the blower needs; 0 where that has no room. */
static double airflow_that_does(const ct_heating *h)
{
    const double least = fmax(h->V_pump_min, fmax(h->V_electric_min, h->V_furnace_min));
    const double most = h->V_furnace_max > 0.0 ? h->V_furnace_max : (double)INFINITY;

    if (!isfinite(least) || least > most) return 0.0;
    const double V = h->V < least ? STEP * ceil(least / STEP) : STEP * floor(most / STEP);
    return V >= least && V <= most ? V : 0.5 * (least + most);
}

ct_fix_heating ct_fix_heating_of(const ct_sweep_job *job)
{
    const int n_taps = job->blower.n_taps;
    ct_heating h;

    ct_heating_of(job, &h);
    if (n_taps > 0) return (ct_fix_heating){.tap = tap_that_does(&h, n_taps)};
    return (ct_fix_heating){.V = h.known && ct_heating_fails(&h) ? airflow_that_does(&h) : 0.0};
}
