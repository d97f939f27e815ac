#include "judge/heating.h"

#include <math.h>
#include <string.h>

#include "fluid/air.h"

/* W per m3/s and K. */
static double heat_of_air(const ct_sweep_job *job)
{
    return CT_STD_DENSITY * ct_sweep_job_thinness(job) * CT_AIR_CPA;
}

static double tap_airflow(const ct_sweep_job *job, int i)
{
    ct_blower_point meet;

    if (ct_blower_meet(&job->blower, i, &job->duct, &meet, NULL) != CT_OK) return 0.0;
    return ct_sweep_job_delivered(job) * meet.V;
}

/* The tap that heats, -1 when nobody said. */
static int heat_tap(const ct_sweep_job *job)
{
    const ct_blower *b = &job->blower;

    if (!ct_sweep_job_has_taps(job)) return -1;
    for (int i = 0; i < b->n_taps; i++)
        if (strcmp(b->tap[i].name, job->unit->heat_tap) == 0) return i;
    return b->n_taps == 1 ? 0 : -1;
}

static void find_airflow(const ct_sweep_job *job, ct_heating *h)
{
    h->tap = -1;
    h->known = job->unit->V_heat.has;
    if (h->known) {
        h->V = job->unit->V_heat.v;
        return;
    }
    h->tap = heat_tap(job);
    h->known = h->tap >= 0;
    if (h->known) h->V = tap_airflow(job, h->tap);
}

static void find_needs(const ct_sweep_job *job, ct_heating *h)
{
    const ct_limits *l = &job->c->limits;
    const double air = heat_of_air(job);

    if (l->P_strip.has) h->V_electric_min = l->P_strip.v / (air * l->dT_strip_max);
    if (l->V_heat_min.has) h->V_electric_min = l->V_heat_min.v; /* its plate comes first */
    if (!l->Q_furnace.has) return;
    h->V_furnace_min = l->Q_furnace.v / (air * l->dT_furnace_max.v);
    h->V_furnace_max = l->Q_furnace.v / (air * l->dT_furnace_min.v);
}

static ct_judgement judged(double value, double bound, double slack)
{
    return (ct_judgement){slack >= 0.0 ? CT_PASSES : CT_FAILS, value, bound, slack};
}

static ct_judgement judge_furnace(const ct_limits *l, double rise)
{
    if (rise < l->dT_furnace_min.v)
        return judged(rise, l->dT_furnace_min.v, rise - l->dT_furnace_min.v);
    return judged(rise, l->dT_furnace_max.v, l->dT_furnace_max.v - rise);
}

/* A tap that moves no air has no rise: it fails as an airflow. */
static void judge(const ct_sweep_job *job, ct_heating *h)
{
    const ct_limits *l = &job->c->limits;
    const double air = heat_of_air(job) * h->V;
    const double least = fmax(h->V_electric_min, h->V > 0.0 ? 0.0 : h->V_furnace_min);

    if (!h->known) return;
    if (least > 0.0) h->electric = judged(h->V, least, h->V - least);
    if (!(h->V > 0.0)) return;
    if (l->P_strip.has) h->rise_electric = l->P_strip.v / air;
    if (!l->Q_furnace.has) return;
    h->rise_furnace = l->Q_furnace.v / air;
    h->furnace = judge_furnace(l, h->rise_furnace);
}

static bool suits(const ct_heating *h, double V)
{
    return V > 0.0 && V >= h->V_electric_min &&
           (h->V_furnace_max == 0.0 || (V >= h->V_furnace_min && V <= h->V_furnace_max));
}

static ct_heating without_others(const ct_sweep_job *job)
{
    const ct_limits *l = &job->c->limits;
    ct_heating h = {.tap = -1, .rise_electric = NAN, .rise_furnace = NAN};

    h.asked = l->V_heat_min.has || l->P_strip.has || l->Q_furnace.has;
    if (!h.asked) return h;
    find_airflow(job, &h);
    find_needs(job, &h);
    judge(job, &h);
    return h;
}

void ct_heating_of(const ct_sweep_job *job, ct_heating *out)
{
    ct_heating h = without_others(job);

    for (int i = 0; h.asked && ct_sweep_job_has_taps(job) && i < job->blower.n_taps; i++)
        if (suits(&h, tap_airflow(job, i))) h.suits |= 1u << i;
    *out = h;
}

void ct_heating_judge(const ct_sweep_job *job, ct_judgement limit[])
{
    const ct_heating h = without_others(job);

    limit[CT_LIMIT_HEAT] = h.electric;
    limit[CT_LIMIT_FURNACE] = h.furnace;
}
