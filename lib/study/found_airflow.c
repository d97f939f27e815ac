#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/search.h"
#include "base/units.h"
#include "judge/airflow.h"
#include "part/drop_curve.h"
#include "plant/balance.h"
#include "study/found.h"

/* One standard deviation of each way, as a share. A flow plate or hood is good to 7 %, a table on a
 * clean blower and a part's drop to 10 %, rise over electric heat to 10 to 15 % at best; in a
 * furnace plenum the answer can differ by a factor with the place of the probe (Home Energy,
 * March/April 2002), so that several points are averaged. From memory, unconfirmed, but for
 * that. */
#define DOUBT_ENTERED 0.07
#define DOUBT_TAP 0.10
#define DOUBT_ELECTRIC 0.10
#define DOUBT_FURNACE 0.20
#define DOUBT_PART 0.10

/* Of the split: what a wet bulb is off, and the capacity of a unit in service against its nameplate
 * (charge, dirt, age). Common practice, no source. */
#define WET_BULB_OFF (0.5 / CT_F_PER_K)
#define CAPACITY_OFF 0.07

double ct_found_together(const double *share, int n)
{
    double sum = 0.0;
    for (int i = 0; i < n; i++)
        sum += share[i] * share[i];
    return sqrt(sum);
}

static void keep(ct_found *f, ct_status status, double v, double doubt, const ct_fault *fault)
{
    f->given = true;
    f->found = status == CT_OK;
    f->v = v;
    f->latent = NAN;
    f->doubt = doubt;
    if (!f->found) snprintf(f->why, sizeof f->why, "%s", fault->what);
}

ct_status ct_found_system(const ct_setup *setup, ct_watched_coil coil, ct_sweep_job *job,
                          ct_fault *fault)
{
    ct_status status = ct_sweep_site(setup->c, job, fault);
    const ct_setup first = {setup->solver, setup->c, setup->outdoor, setup->matched, 0};

    if (status != CT_OK) return status;
    job->unit = &setup->c->indoor[0];
    job->blower = job->unit->blower;
    job->has_duct = false; /* watts without taps: those of the rating, with the flow */
    if (coil == CT_COIL_THIS) return ct_setup_join(&first, &job->system, fault);
    ct_setup_matched(&first, &job->system);
    return CT_OK;
}

/* ---- Without the model ------------------------------------------------------------- */

/* Of the blower that stays, in the air here; of one that goes as a table of one tap. */
static ct_status tap_flow(const ct_case *c, double thinness, double *V, ct_fault *fault)
{
    const ct_airflow_ways *w = &c->airflow_ways;
    ct_blower b = c->indoor[0].blower, thin;
    const int i = w->n_table > 0 ? 0 : ct_blower_find_tap(&b, w->tap);

    if (w->n_table > 0) {
        b = (ct_blower){.motor = CT_MOTOR_PSC, .n_taps = 1};
        b.tap[0] = (ct_tap){.name = "in use", .n = w->n_table};
        for (int k = 0; k < w->n_table; k++)
            b.tap[0].point[k] = (ct_tap_point){w->table[k].dp, w->table[k].V, 1.0};
        b.dp_max = w->table[w->n_table - 1].dp;
    }
    ct_blower_thin(&b, thinness, &thin);
    return ct_blower_flow(&thin, i, c->duct.dp, V, fault);
}

/* W, and its doubt: electric heat is nearly exact, a furnace's plenum is not. */
static double heat_of(const ct_case *c, double *doubt)
{
    const ct_heat_rise *h = &c->airflow_ways.rise;
    const bool electric =
        h->P.has || h->amps.has || (!h->Q.has && !h->input.has && c->limits.P_strip.has);

    *doubt = electric ? DOUBT_ELECTRIC : DOUBT_FURNACE;
    if (h->P.has) return h->P.v;
    if (h->amps.has) return h->volts.v * h->amps.v;
    if (h->Q.has) return h->Q.v;
    if (h->input.has) return h->input.v * h->efficiency.v;
    return electric ? c->limits.P_strip.v : c->limits.Q_furnace.v;
}

static void by_rise(const ct_case *c, const ct_air *indoor, ct_found *f)
{
    const ct_heat_rise *h = &c->airflow_ways.rise;
    const ct_air air = {h->T_return, fmin(indoor->W, ct_air_W_sat(h->T_return, indoor->p)),
                        indoor->p};
    double doubt;
    const double Q = heat_of(c, &doubt) + h->P_blower;

    keep(f, CT_OK, ct_drop_curve_heated(Q, h->dT, &air), doubt, NULL);
}

/* Tables hold in standard air. */
static void by_part(const ct_case *c, double thinness, ct_found *f)
{
    const ct_part_drop *p = &c->airflow_ways.part;
    const double n = c->duct.coil_exponent;
    ct_fault fault;
    double V = NAN;
    const double dp_std = p->dp / ct_drop_curve_thin(n, thinness);
    const ct_status status = ct_drop_curve_flow(p->point, p->n, n, dp_std, &V, &fault);

    keep(f, status, V, DOUBT_PART, &fault);
}

/* ---- The running system ------------------------------------------------------------ */

typedef struct {
    ct_solver *solver;
    const ct_sweep_job *job;
    ct_air in, out;
    double T_out;
    double capacity; /* factor on the model's */
    ct_status status;
    ct_fault *fault;
} split;

/* What the air gives less what the model takes net of the blower's heat, over the latter: rises
 * with the airflow, for the capacity hardly does. */
static double surplus(double V, void *context)
{
    split *s = context;
    const ct_air *in = &s->in, *out = &s->out;
    ct_airflow a = {.solver = s->solver,
                    .system = &s->job->system,
                    .at = {*in, s->T_out, 0.0,
                           ct_sweep_job_rated_watts(s->job, V * ct_sweep_job_thinness(s->job))},
                    .v = ct_air_v(in->T, in->W, in->p)};
    ct_balance b;

    s->status = ct_airflow_settle(&a, V, &b, s->fault);
    if (s->status != CT_OK) return NAN;
    /* Water leaves as cold as the model's. */
    const double drained = b.water > 0.0 ? (in->W - out->W) * b.h_water / b.water : 0.0;
    const double h = ct_air_h(in->T, in->W) - ct_air_h(out->T, out->W) - drained;
    return a.at.m_da * h / (s->capacity * b.Q_net) - 1.0;
}

static ct_status split_flow(split *s, double *V, ct_fault *fault)
{
    const double ton = CT_M3S_PER_CFM * s->job->c->outdoor.tons;
    ct_bracket k = {.low = 120.0 * ton, .high = 900.0 * ton};
    int rounds;

    s->fault = fault;
    k.f_low = surplus(k.low, s);
    if (s->status == CT_OK) k.f_high = surplus(k.high, s);
    if (s->status != CT_OK) return s->status;
    if (k.f_low > 0.0 || k.f_high < 0.0)
        return ct_fault_say(fault, CT_NO_ROOT,
                            "no airflow from 120 to 900 cfm/ton fits the wet bulbs and the "
                            "nameplate: read them again, and look at charge and coil");
    *V = ct_search_false_position(surplus, s, k, 1e-7, &rounds);
    return s->status;
}

/* The relative change of the answer when one thing is off. */
static double moved(split *s, double V)
{
    double other = V;
    ct_fault fault, *const callers = s->fault;
    const ct_status status = split_flow(s, &other, &fault);
    s->fault = callers;
    return status == CT_OK ? other / V - 1.0 : CAPACITY_OFF;
}

static ct_status split_air(const ct_cooling_split *c, double p, double off_in, double off_out,
                           split *s)
{
    ct_fault *fault = s->fault;
    ct_status status = ct_air_from_wet_bulb(c->T_return, fmin(c->T_return, c->T_wb_return + off_in),
                                            p, &s->in, fault);

    if (status != CT_OK) return status;
    return ct_air_from_wet_bulb(c->T_supply, fmin(c->T_supply, c->T_wb_supply + off_out), p,
                                &s->out, fault);
}

static void by_split(const ct_setup *setup, ct_found *f)
{
    const ct_cooling_split *c = &setup->c->airflow_ways.split;
    ct_sweep_job job;
    ct_fault fault;
    split s = {.solver = setup->solver, .job = &job, .capacity = 1.0, .fault = &fault};
    double V = NAN, off[3] = {0.0};
    ct_status status = ct_found_system(setup, c->coil, &job, &fault);

    s.T_out = c->T_out.has ? c->T_out.v : setup->c->site.T_outdoor;
    if (status == CT_OK) status = split_air(c, job.indoor.p, 0.0, 0.0, &s);
    if (status == CT_OK) status = split_flow(&s, &V, &fault);
    if (status == CT_OK) {
        split other = s;
        other.capacity = 1.0 + CAPACITY_OFF;
        off[0] = moved(&other, V);
        other.capacity = 1.0;
        if (split_air(c, job.indoor.p, WET_BULB_OFF, 0.0, &other) == CT_OK)
            off[1] = moved(&other, V);
        if (split_air(c, job.indoor.p, 0.0, -WET_BULB_OFF, &other) == CT_OK)
            off[2] = moved(&other, V);
    }
    keep(f, status, V, ct_found_together(off, 3), &fault);
}

void ct_found_airflow(const ct_setup *setup, ct_found flow[CT_FLOW_COUNT])
{
    const ct_case *c = setup->c;
    const ct_airflow_ways *w = &c->airflow_ways;
    ct_sweep_job site;
    ct_fault fault;
    double V = NAN;

    memset(flow, 0, CT_FLOW_COUNT * sizeof *flow);
    if (!c->has_duct || ct_sweep_site(c, &site, &fault) != CT_OK) return;
    const double thinness = ct_sweep_job_thinness(&site);
    if (!c->airflow_open) keep(&flow[CT_FLOW_ENTERED], CT_OK, c->duct.V, DOUBT_ENTERED, NULL);
    if (w->tap[0] || w->n_table > 0) {
        const ct_status status = tap_flow(c, thinness, &V, &fault);
        keep(&flow[CT_FLOW_TAP], status, V, DOUBT_TAP, &fault);
    }
    if (w->rise.has) by_rise(c, &site.indoor, &flow[CT_FLOW_RISE]);
    if (w->split.has) by_split(setup, &flow[CT_FLOW_SPLIT]);
    if (w->part.has) by_part(c, thinness, &flow[CT_FLOW_PART]);
}
