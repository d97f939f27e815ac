#include "visits.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/parallel.h"
#include "base/units.h"
#include "case/casefile.h"
#include "part/target_superheat.h"
#include "plant/fill.h"

#define TAP_GIVEN 1

/* What a piston of this bore passes in the A test, if the library's correlation is right. */
static bool piston_flow(const visit_house *h, double bore, double *flow, ct_fault *fault)
{
    ct_inlet inlet;
    ct_orifice_out out;
    double p, T_bubble;
    const ct_orifice o = {bore, 0.5 * CT_M_PER_IN};
    const bool good =
        ct_refrigerant_p_dew(h->refrigerant, h->c.outdoor.T_discharge_rated, &p, fault) == CT_OK &&
        ct_refrigerant_T_bubble(h->refrigerant, p, &T_bubble, fault) == CT_OK &&
        ct_inlet_after_line(h->refrigerant, p, h->c.outdoor.subcooling, 0.0, &inlet, fault) ==
            CT_OK &&
        ct_orifice_flow(&o, &inlet, 6e5, &out, fault) == CT_OK;
    if (good) *flow = out.m;
    return good;
}

/* A piston in place of the valve, to a thousandth of an inch: it passes so much of the unit's flow
 * in the A test with the matched coil, which leaves the larger coil a superheat on most days. */
#define PISTON_SHARE 0.87
static bool fit_piston(visit_house *h, const ct_setup *setup, double *flow, ct_fault *fault)
{
    double inches = 0.070;
    if (!second_plant_make(setup, 0.0, &h->plant) ||
        !piston_flow(h, inches * CT_M_PER_IN, flow, fault))
        return false;
    inches = 1e-3 * round(1e3 * inches * sqrt(PISTON_SHARE * h->plant.m0 / *flow));
    /* A stated subcooling is what it is charged to. */
    if (h->filled)
        h->c.outdoor.assumed |= CT_ASSUMED_SUBCOOLING;
    else
        h->c.outdoor.assumed &= ~(unsigned)CT_ASSUMED_SUBCOOLING;
    h->c.indoor[0].meter = (ct_meter_spec){.kind = CT_METER_ORIFICE,
                                           .bore = {true, inches * CT_M_PER_IN},
                                           .length = 0.5 * CT_M_PER_IN};
    return piston_flow(h, inches * CT_M_PER_IN, flow, fault);
}

bool visit_house_make(const char *path, visit_meter meter, visit_house *h)
{
    static ct_case_report report;
    ct_fault fault = {.what = ""};
    double flow = 0.0;
    *h = (visit_house){.filled = meter == VISIT_PISTON_FILLED};
    bool good = ct_casefile_load(path, &h->c, &report, &fault) == CT_OK &&
                ct_refrigerant_make(h->c.outdoor.refrigerant, &h->refrigerant, &fault) == CT_OK &&
                ct_setup_rate(&h->c, h->refrigerant, &h->outdoor, &h->matched, &h->calibration,
                              &fault) == CT_OK;
    const ct_setup setup = {NULL, &h->c, &h->outdoor, &h->matched, 0};
    good = good && (meter == VISIT_VALVE || fit_piston(h, &setup, &flow, &fault)) &&
           second_plant_make(&setup, flow, &h->plant);
    if (!good) printf("%s: %s\n", path, fault.what);
    return good;
}

void visit_house_free(visit_house *h)
{
    ct_refrigerant_free(h->refrigerant);
}

/* ---- One visit ----------------------------------------------------------------------- */

/* A technician sets the superheat within some 5 F (ANSI/ACCA 5, from memory, unconfirmed). */
#define SIGMA_FILLED (2.5 / CT_F_PER_K)
#define LEAST_TARGET (5.0 / CT_F_PER_K) /* where the rule gives less: common practice, no source */

/* The target superheat of the case's design day, `off` K from it, at this system's own airflow. */
static void fill(const visit_house *h, double off, second_truth *t)
{
    const ct_sweep_job *job = &h->plant.job;
    second_truth day = *t;
    double target;
    day.T_in = job->indoor.T;
    day.T_out = job->T_out;
    if (ct_air_wet_bulb(&job->indoor, &day.T_wb, NULL) != CT_OK) abort();
    if (ct_target_superheat(day.T_wb, day.T_out, &target, NULL) != CT_OK) target = LEAST_TARGET;
    second_plant_fill(&h->plant, fmax(0.5, target + off), CT_FILL_SUBCOOLING_MOST, &day);
    t->subcooling = day.subcooling;
}

second_truth visit_system(const visit_house *h, double k, const double z[VISIT_FREE])
{
    const bool valve = h->c.indoor[0].meter.kind == CT_METER_VALVE;
    second_truth t = second_plant_sound(&h->plant);
    t.tap = TAP_GIVEN;
    t.coil = exp(k * CT_TUNE_SIGMA_COIL * z[0]);
    t.flow = exp(k * CT_TUNE_SIGMA_FLOW * z[1]);
    t.power = exp(k * CT_TUNE_SIGMA_POWER * z[2]);
    t.condenser = exp(k * CT_TUNE_SIGMA_CONDENSER * z[3]);
    t.blower = exp(k * CT_TUNE_SIGMA_TABLE * z[4]);
    t.ducts = exp(2.0 * k * CT_TUNE_SIGMA_DUCTS * z[5]);
    t.feed = k * (valve ? CT_TUNE_SIGMA_SUPERHEAT : CT_TUNE_SIGMA_PISTON) * z[7];
    if (h->filled)
        fill(h, k * SIGMA_FILLED * z[6], &t);
    else
        t.subcooling += k * CT_TUNE_SIGMA_SUBCOOLING * z[6];
    t.T_in += 1.5 * z[8];
    t.T_wb += z[9];
    t.T_out += 3.0 * z[10];
    return t;
}

/* The factor on blower or ducts that leaves `level` of the airflow. */
static bool lower_airflow(const second_plant *s, second_truth *t, double *factor, double level,
                          double least, double most)
{
    double V0, V, low = least, high = most;
    if (!second_plant_airflow(s, t, &V0)) return false;
    const double sound = *factor;
    for (int i = 0; i < 50; i++) {
        const double middle = sqrt(low * high);
        *factor = sound * middle;
        const bool moves = second_plant_airflow(s, t, &V);
        const bool too_low = !moves || V < level * V0;
        if (too_low == (most > 1.0))
            high = middle;
        else
            low = middle;
    }
    return true;
}

bool visit_spoil(const visit_house *h, const visit_kind *k, second_truth *t)
{
    switch (k->fault) {
    case FAULT_FILTER: return lower_airflow(&h->plant, t, &t->ducts, k->level, 1.0, 40.0);
    case FAULT_BLOWER: return lower_airflow(&h->plant, t, &t->blower, k->level, 0.2, 1.0);
    case FAULT_TAP: t->tap += (int)k->level; break;
    case FAULT_COIL: t->coil *= k->level; break;
    case FAULT_COMPRESSOR: t->flow *= k->level; break;
    case FAULT_CONDENSER: t->condenser *= k->level; break;
    case FAULT_CHARGE: t->charge = k->level; break;
    case FAULT_FEED:
        t->feed += h->c.indoor[0].meter.kind == CT_METER_VALVE ? k->level : -k->level / 30.0;
        break;
    default: break;
    }
    return true;
}

void visit_kit(const visit_house *h, ct_readings *s)
{
    s->r[CT_AIRFLOW].has = h->kit & VISIT_AIRFLOW;
    s->r[CT_CONDENSER_LEAVING].has = h->kit & VISIT_LEAVING;
    s->r[CT_CONDENSATE].has = h->kit & VISIT_CONDENSATE && s->r[CT_CONDENSATE].has;
    if (h->kit & VISIT_WET_BULB) s->r[CT_RETURN_WET_BULB].u /= sqrt(2.0);
    strcpy(s->tap, h->c.indoor[0].blower.tap[TAP_GIVEN].name);
}

typedef struct {
    const visit_house *h;
    const visit_kind *k;
    visit *visits;
    ct_solver *solver[CT_MAX_WORKERS];
} crew;

static void draw(const visit_house *h, const visit_kind *k, int seed, visit *v)
{
    second_inside in;
    const second_truth sound = second_plant_sound(&h->plant);
    double V, z[VISIT_FREE];
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, (unsigned long)seed);
    for (int i = 0; i < VISIT_FREE; i++)
        z[i] = gsl_ran_gaussian(rng, 1.0);
    v->truth = visit_system(h, k->scatter, z);
    v->settles = visit_spoil(h, k, &v->truth) &&
                 second_plant_show(&h->plant, &v->truth, &v->shown, &in) &&
                 second_plant_airflow(&h->plant, &sound, &V);
    if (v->settles) {
        visit_kit(h, &v->shown);
        v->airflow = in.V / V;
        v->Q_sens = in.Q * in.SHR - in.P_blower;
        for (int r = 0; r < CT_READING_COUNT; r++)
            if (v->shown.r[r].has) v->shown.r[r].v += gsl_ran_gaussian(rng, v->shown.r[r].u);
        if (k->fault == FAULT_READING) v->shown.r[k->kind].v += k->level;
    }
    gsl_rng_free(rng);
}

visit *visits_draw(const visit_house *h, const visit_kind *k, int n)
{
    visit *v = calloc((size_t)n, sizeof *v);
    if (!v) abort();
    for (int i = 0; i < n; i++)
        draw(h, k, h->from + i + 1, &v[i]);
    return v;
}

static void tune(int i, int worker, void *context)
{
    const crew *c = context;
    visit *v = &c->visits[i];
    const ct_setup setup = {c->solver[worker], &c->h->c, &c->h->outdoor, &c->h->matched, 0};
    draw(c->h, c->k, c->h->from + i + 1, v);
    if (v->settles) v->status = ct_tune_run(&setup, &v->shown, &v->told, NULL);
}

visit *visits_make(const visit_house *h, const visit_kind *k, int n)
{
    const int workers = ct_parallel_workers(0);
    crew c = {.h = h, .k = k, .visits = calloc((size_t)n, sizeof *c.visits)};
    if (!c.visits) abort();
    for (int w = 0; w < workers; w++)
        if (ct_solver_make(&c.solver[w], NULL) != CT_OK) abort();
    ct_parallel(workers, n, tune, &c);
    for (int w = 0; w < workers; w++)
        ct_solver_free(c.solver[w]);
    return c.visits;
}

/* ---- What is said of it -------------------------------------------------------------- */

static bool names(const ct_tune_explanation *e, const visit *v, const visit_kind *k, bool family)
{
    const bool blower_side = e->cause == CT_CAUSE_BLOWER || e->cause == CT_CAUSE_TAP;
    switch (k->fault) {
    case FAULT_FILTER: return e->cause == CT_CAUSE_RESTRICTED;
    case FAULT_BLOWER: return family ? blower_side : e->cause == CT_CAUSE_BLOWER;
    case FAULT_TAP:
        return family && k->level < 0 ? blower_side
                                      : e->cause == CT_CAUSE_TAP && e->tap == v->truth.tap;
    case FAULT_COIL: return e->cause == CT_CAUSE_COIL;
    case FAULT_COMPRESSOR: return e->cause == CT_CAUSE_COMPRESSOR;
    case FAULT_CONDENSER: return e->cause == CT_CAUSE_CONDENSER;
    case FAULT_CHARGE:
        return e->cause == (k->level < 0 ? CT_CAUSE_LOW_CHARGE : CT_CAUSE_OVERCHARGE);
    case FAULT_FEED: return e->cause == (k->level < 0 ? CT_CAUSE_FLOODED : CT_CAUSE_STARVED);
    case FAULT_READING: return e->cause == CT_CAUSE_READING && e->kind == k->kind;
    default: return false;
    }
}

int visit_named(const visit *v, const visit_kind *k, int n, bool family)
{
    if (v->told.swap.chance >= 0.5) return -1; /* two exchanged are named instead */
    for (int i = 0; i < n && i < v->told.n_explanations; i++)
        if (names(&v->told.explanation[i], v, k, family)) return i;
    return -1;
}

double visit_truth(const visit *v, ct_tune_unknown i)
{
    switch (i) {
    case CT_TUNE_COIL: return v->truth.coil;
    case CT_TUNE_FLOW: return v->truth.flow;
    case CT_TUNE_POWER: return v->truth.power;
    case CT_TUNE_CONDENSER: return v->truth.condenser;
    case CT_TUNE_PISTON: return exp(v->truth.feed);
    default: return v->airflow;
    }
}
