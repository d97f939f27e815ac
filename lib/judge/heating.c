#include "judge/heating.h"

#include <math.h>

#include "base/search.h"
#include "base/units.h"
#include "fluid/air.h"

/* W per m3/s and K. */
static double heat_of_air(const ct_sweep_job *job)
{
    return CT_STD_DENSITY * ct_sweep_job_thinness(job) * CT_AIR_CPA;
}

static void find_airflow(const ct_sweep_job *job, ct_heating *h)
{
    h->tap = job->heat_tap;
    h->known = job->V_heat.has;
    if (h->known) h->V = job->V_heat.v;
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

static ct_judgment judged(double value, double bound, double slack)
{
    return (ct_judgment){slack >= 0.0 ? CT_PASSES : CT_FAILS, value, bound, slack};
}

static ct_judgment judge_furnace(const ct_limits *l, double rise)
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
    if (job->Tc_heat.has)
        h->head = judged(job->Tc_heat.v, l->T_discharge_max, l->T_discharge_max - job->Tc_heat.v);
    if (least > 0.0) h->electric = judged(h->V, least, h->V - least);
    if (!(h->V > 0.0)) return;
    if (l->P_strip.has) h->rise_electric = l->P_strip.v / air;
    if (!l->Q_furnace.has) return;
    h->rise_furnace = l->Q_furnace.v / air;
    h->furnace = judge_furnace(l, h->rise_furnace);
}

static bool suits(const ct_heating *h, double V)
{
    return V > 0.0 && V >= h->V_electric_min && V >= h->V_pump_min &&
           (h->V_furnace_max == 0.0 || (V >= h->V_furnace_min && V <= h->V_furnace_max));
}

static ct_heating without_others(const ct_sweep_job *job)
{
    const ct_limits *l = &job->c->limits;
    ct_heating h = {.tap = -1, .best = -1, .rise_electric = NAN, .rise_furnace = NAN};

    h.asked = job->has_heat_pump || l->V_heat_min.has || l->P_strip.has || l->Q_furnace.has;
    if (!h.asked) return h;
    find_airflow(job, &h);
    find_needs(job, &h);
    judge(job, &h);
    return h;
}

/* ---- Heat pump ------------------------------------------------------------------- */

/* Airflow searched for the head, cfm per ton: beyond it no house has air, below it no blower. */
#define LEAST_PER_TON 50.0
#define MOST_PER_TON 800.0

static bool head_passes(const ct_sweep_job *job, double V)
{
    const ct_heat_pump_spec *h = &job->c->outdoor.heat_pump;
    ct_heating_balance b;

    return ct_sweep_job_heats(job, V, h->T_out_max, h->T_in_max, &b, NULL) == CT_OK &&
           b.Tc <= job->c->limits.T_discharge_max;
}

static bool head_fails(double V, void *context)
{
    return !head_passes(context, V);
}

/* The head falls as the airflow rises. */
static double least_airflow(const ct_sweep_job *job)
{
    const double ton = job->c->outdoor.tons * CT_M3S_PER_CFM / ct_sweep_job_thinness(job);
    ct_sweep_job own = *job;

    if (head_passes(job, LEAST_PER_TON * ton)) return LEAST_PER_TON * ton;
    if (!head_passes(job, MOST_PER_TON * ton)) return INFINITY;
    return ct_search_halve(head_fails, &own, LEAST_PER_TON * ton, MOST_PER_TON * ton, 20);
}

/* Usual airflow, else the most there is. */
static int best_tap(const ct_sweep_job *job, unsigned suits)
{
    const double usual = CT_HEATING_USUAL_FLOW * job->c->outdoor.tons / ct_sweep_job_thinness(job);
    int best = -1;
    double V_best = 0.0;

    for (int i = 0; i < job->blower.n_taps; i++) {
        const double V = ct_sweep_job_tap_airflow(job, i);
        const bool better = V_best < usual ? V > V_best : V >= usual && V < V_best;
        if (!(suits & 1u << i) || !better) continue;
        best = i;
        V_best = V;
    }
    return best;
}

void ct_heating_of(const ct_sweep_job *job, ct_heating *out)
{
    ct_heating h = without_others(job);

    if (job->has_heat_pump) h.V_pump_min = least_airflow(job);
    if (h.asked && ct_sweep_job_has_taps(job)) {
        for (int i = 0; i < job->blower.n_taps; i++)
            if (suits(&h, ct_sweep_job_tap_airflow(job, i))) h.suits |= 1u << i;
        if (job->has_heat_pump) h.best = best_tap(job, h.suits);
    }
    *out = h;
}

ct_status ct_heating_pump(const ct_sweep_job *job, double V, ct_heating_pump_point *out,
                          ct_fault *fault)
{
    const ct_heat_pump_spec *h = &job->c->outdoor.heat_pump;
    ct_heating_pump_point p = {.V = V};
    ct_status status =
        ct_sweep_job_heats(job, V, CT_HEATING_T_OUT, CT_HEATING_T_IN, &p.rated, fault);

    if (status != CT_OK) return status;
    p.warm_status = ct_sweep_job_heats(job, V, h->T_out_max, h->T_in_max, &p.warm, NULL);
    p.cold_status = ct_sweep_job_heats(job, V, CT_HEATING_T_COLD, CT_HEATING_T_IN, &p.cold, NULL);
    *out = p;
    return CT_OK;
}

void ct_heating_judge(const ct_sweep_job *job, ct_judgment limit[])
{
    const ct_heating h = without_others(job);

    limit[CT_LIMIT_HEAT] = h.electric;
    limit[CT_LIMIT_FURNACE] = h.furnace;
    limit[CT_LIMIT_HEAT_HEAD] = h.head;
}
