#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/search.h"
#include "base/units.h"
#include "case/no_load.h"
#include "judge/airflow.h"
#include "judge/humidity.h"
#include "plant/balance.h"
#include "study/found.h"

/* One standard deviation of what the load by run time hangs on. Common practice, no source, but for
 * the balance temperature: 60 to 70 F with sun and inner gains, 65 F in the rating standards. */
#define ON_OFF 120.0                   /* s of each hour */
#define T_OUT_OFF (1.0 / CT_F_PER_K)   /* sun, and a long shade */
#define BALANCE_OFF (3.0 / CT_F_PER_K) /* assumed */
#define BALANCE_OFF_GIVEN (1.5 / CT_F_PER_K)
#define RH_OFF 0.03
#define IN_SERVICE 0.07  /* charge, dirt, age: capacity against the nameplate's */
#define HOUR_OF_DAY 0.08 /* sun makes an afternoon high and an evening low */
#define DOUBT_ENTERED 0.10
#define ALL_HOUR 3590.0 /* s: it never stopped */

/* Rule of thumb, common practice, no source: floor per ton of total load; 400 to 600 ft2 a ton is
 * usual, 800 to 1200 for new and tight houses, 300 to 400 under a hot roof with single glass. Units
 * bought by such rules are found a quarter to a half too large. */
static const double ft2_per_ton[] = {1000.0, 500.0, 350.0}; /* by ct_insulation */
static const double sensible_share[] = {0.72, 0.80, 0.90};  /* by ct_climate */
#define DOUBT_FLOOR 0.25

/* One watched hour: what the answer is worked out from, and may be off by. */
typedef struct {
    ct_solver *solver;
    const ct_sweep_job *job;
    double on, T_out, V; /* s of the hour, K, m3/s */
    ct_air in;
    double T_none; /* K outdoors at which there is no load */
} watched;

typedef struct {
    ct_solver *solver;
    const ct_humidity_job *job;
    double T_out, run;
    ct_room_out room;
    ct_status status;
    ct_fault *fault;
} search;

static double run_over(double load, void *context)
{
    search *s = context;
    const ct_house_day day = {s->T_out, load};

    s->status = ct_humidity_held(s->solver, s->job, &day, &s->room, s->fault);
    return s->status == CT_OK ? s->room.run - s->run : (double)NAN;
}

/* Sensible load of the hour, W: the load at which the model runs as long. Running straight through
 * it is the capacity; less is in proportion, unless the blower runs on and brings its own heat. */
static ct_status load_of_hour(search *s, double *load)
{
    ct_bracket k = {.low = 1.0};
    int rounds;

    run_over(1e6, s);
    if (s->status != CT_OK) return s->status;
    k.high = s->room.Q_net;
    *load = s->run * k.high;
    if (fabs(run_over(*load, s)) < 1e-9 || s->status != CT_OK) return s->status;
    k.f_low = run_over(k.low, s);
    if (s->status == CT_OK) k.f_high = run_over(k.high, s);
    if (s->status != CT_OK || !(k.f_low < 0.0 && k.f_high > 0.0)) return s->status;
    *load = ct_search_false_position(run_over, s, k, 1e-9, &rounds);
    run_over(*load, s);
    return s->status;
}

/* The hour's load, carried along the line from no load to the design day; the moisture that came in
 * is what was taken out, and comes in on the design day as well. */
static ct_status design_load(const watched *w, double *sensible, double *latent, ct_fault *fault)
{
    const ct_case *c = w->job->c;
    const double V_std = w->V * ct_sweep_job_thinness(w->job);
    ct_airflow a = {.solver = w->solver,
                    .system = &w->job->system,
                    .at = {w->in, w->T_out, 0.0, ct_sweep_job_rated_watts(w->job, V_std)},
                    .v = ct_air_v(w->in.T, w->in.W, w->in.p)};
    ct_humidity_job job = {.c = c,
                           .system = &w->job->system,
                           .outside = w->job->has_outside ? &w->job->outside : NULL,
                           .indoor = w->in};
    search s = {w->solver, &job, w->T_out, w->on / 3600.0, .fault = fault};
    ct_balance b;
    double load;
    ct_status status = ct_airflow_settle(&a, w->V, &b, fault);

    job.m_da = a.at.m_da;
    job.P_blower = a.at.P_blower;
    job.known = &b;
    if (status == CT_OK) status = load_of_hour(&s, &load);
    if (status != CT_OK) return status;
    const double hg = ct_air_h_vapor(w->in.T);
    *sensible = load * (c->site.T_outdoor - w->T_none) / (w->T_out - w->T_none);
    *latent = fmax(0.0, c->house.Q_latent - hg * s.room.residual);
    return CT_OK;
}

/* Logarithm of how the sensible load changes when one reading is off. */
static double moved(const watched *w, double was)
{
    double sensible, latent;
    ct_fault fault;

    return design_load(w, &sensible, &latent, &fault) == CT_OK && sensible > 0.0
               ? log(sensible / was)
               : IN_SERVICE;
}

/* Spread and drift of the logarithm when one reading is off either way. */
typedef struct {
    double spread, drift;
} swing;

/* Off by two standard deviations, as far as the range of 95 in 100 goes. Near the temperature of no
 * load the load rises steeper on one side than it falls on the other, so the truth lies above what
 * is found more often than below: the drift, half the curvature times the variance. */
static swing swing_of(watched low, watched high, double was)
{
    const double a = moved(&low, was), b = moved(&high, was);

    return (swing){0.5 * hypot(a, b) / sqrt(2.0), (a + b) / 8.0};
}

static swing swing_by_air(const watched *w, double was)
{
    const double W_sat = ct_air_W_sat(w->in.T, w->in.p), off = 2.0 * RH_OFF * W_sat;
    watched low = *w, high = *w;

    low.in.W = fmax(0.0, low.in.W - off);
    high.in.W = fmin(W_sat, high.in.W + off);
    return swing_of(low, high, was);
}

static swing swing_by_flow(const watched *w, double V_doubt, double was)
{
    watched low = *w, high = *w;

    low.V *= 1.0 - fmin(0.5, 2.0 * V_doubt);
    high.V *= 1.0 + 2.0 * V_doubt;
    return swing_of(low, high, was);
}

static swing swing_by_T_out(const watched *w, double was)
{
    watched low = *w, high = *w;

    low.T_out = fmax(w->T_out - 2.0 * T_OUT_OFF, w->T_none + T_OUT_OFF);
    high.T_out += 2.0 * T_OUT_OFF;
    return swing_of(low, high, was);
}

static swing swing_by_T_none(const watched *w, double was)
{
    const double off = w->job->c->house.T_balance.has ? BALANCE_OFF_GIVEN : BALANCE_OFF;
    watched low = *w, high = *w;

    low.T_none -= 2.0 * off;
    high.T_none = fmin(w->T_none + 2.0 * off, w->T_out - T_OUT_OFF);
    return swing_of(low, high, was);
}

/* Run share, capacity and the load line multiply, so their doubts add as those of logarithms. Of a
 * logarithm with spread s and drift m, 95 of 100 lie between v exp(m - 2 s) and v exp(m + 2 s). The
 * doubt is one number, and v (1 +- 2 doubt) must hold as many: half the width of that, sinh(2 s),
 * and the drift to the side where they are missed. */
static double doubt_of(const watched *w, double V_doubt, double sensible)
{
    const ct_case *c = w->job->c;
    const swing by[] = {swing_by_air(w, sensible), swing_by_flow(w, V_doubt, sensible),
                        swing_by_T_out(w, sensible), swing_by_T_none(w, sensible)};
    const double off[] = {by[0].spread,
                          by[1].spread,
                          by[2].spread,
                          by[3].spread,
                          fmin(1.0, ON_OFF / w->on),
                          c->uncertainty.capacity,
                          c->uncertainty.SHR / c->outdoor.SHR_rated,
                          IN_SERVICE,
                          HOUR_OF_DAY};
    const double s = ct_found_together(off, sizeof off / sizeof off[0]);
    const double drift = by[0].drift + by[1].drift + by[2].drift + by[3].drift;

    return 0.5 * (sinh(2.0 * s) + fabs(drift));
}

/* m3/s: watched, of the ducts, or rated. */
static double flow_then(const ct_case *c, const ct_sweep_job *job)
{
    if (c->house.ways.run_time.V.has) return c->house.ways.run_time.V.v;
    if (c->has_duct) return c->duct.V;
    return c->outdoor.V_rated_std / ct_sweep_job_thinness(job);
}

static ct_status air_then(const ct_run_time *r, const ct_sweep_job *job, ct_air *air,
                          ct_fault *fault)
{
    const double T = r->T_in.has ? r->T_in.v : job->indoor.T;

    if (!r->T_in.has && !r->rh_in.has) {
        *air = job->indoor;
        return CT_OK;
    }
    return ct_air_from_rh(T, r->rh_in.has ? r->rh_in.v : ct_air_rh(&job->indoor), job->indoor.p,
                          air, fault);
}

static void by_run_time(const ct_setup *setup, double V_doubt, ct_found *f)
{
    const ct_case *c = setup->c;
    const ct_run_time *r = &c->house.ways.run_time;
    ct_sweep_job job;
    ct_fault fault;
    watched w = {.solver = setup->solver, .job = &job, .on = r->on, .T_out = r->T_out};
    ct_status status = ct_found_system(setup, r->coil, &job, &fault);

    f->given = true;
    if (status == CT_OK) status = air_then(r, &job, &w.in, &fault);
    if (status == CT_OK) {
        w.V = flow_then(c, &job);
        w.T_none = ct_case_no_load(&c->house, w.in.T);
        status = design_load(&w, &f->v, &f->latent, &fault);
    }
    f->found = status == CT_OK;
    if (f->found)
        f->doubt = doubt_of(&w, V_doubt, f->v);
    else
        snprintf(f->why, sizeof f->why, "%s", fault.what);
}

static void by_floor(const ct_load_ways *w, ct_found *f)
{
    const double ft2 = w->floor_area.v / (CT_M_PER_FT * CT_M_PER_FT);
    const double total = CT_W_PER_TON * ft2 / ft2_per_ton[w->insulation];
    const double share = sensible_share[w->climate];

    *f = (ct_found){true, true, share * total, (1.0 - share) * total, DOUBT_FLOOR, ""};
}

void ct_found_load(const ct_setup *setup, double V_doubt, ct_found load[CT_HOUSE_COUNT],
                   bool *at_least)
{
    const ct_house *h = &setup->c->house;

    memset(load, 0, CT_HOUSE_COUNT * sizeof *load);
    if (!h->load_open)
        load[CT_HOUSE_ENTERED] = (ct_found){
            true,          true, h->Q_sensible, h->latent_open ? (double)NAN : h->Q_latent,
            DOUBT_ENTERED, ""};
    if (h->ways.run_time.has) by_run_time(setup, V_doubt, &load[CT_HOUSE_RUN_TIME]);
    if (h->ways.floor_area.has) by_floor(&h->ways, &load[CT_HOUSE_FLOOR]);
    *at_least = h->ways.run_time.has && h->ways.run_time.on >= ALL_HOUR;
}
