#include "oracle.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "study/tune_suppose.h"

enum { FREE = VISIT_FREE, ROWS = CT_READING_COUNT };

/* One kind: mean, and the Cholesky factor of the covariance, lower, of the readings shown. */
typedef struct {
    bool settles;
    double mean[ROWS], L[ROWS][ROWS];
} kind_of;

struct oracle {
    int n, n_y, of_y[ROWS];
    kind_of kind[];
};

/* Sound systems, the middle one and those a step to either side of it in one free thing: the same
 * for every kind, and a piston's charge takes a search. */
#define STEP 0.5
typedef struct {
    const visit_house *h;
    second_truth middle, up[FREE], down[FREE];
} systems;

static void make_systems(const visit_house *h, double scatter, systems *out)
{
    double z[FREE] = {0};
    out->h = h;
    out->middle = visit_system(h, scatter, z);
    for (int f = 0; f < FREE; f++) {
        z[f] = STEP;
        out->up[f] = visit_system(h, scatter, z);
        z[f] = -STEP;
        out->down[f] = visit_system(h, scatter, z);
        z[f] = 0.0;
    }
}

/* Readings of a system with a fault in it. */
static bool show(const visit_house *h, const visit_kind *k, const second_truth *sound,
                 ct_readings *s)
{
    second_inside in;
    second_truth t = *sound;
    if (!visit_spoil(h, k, &t) || !second_plant_show(&h->plant, &t, s, &in)) return false;
    visit_kit(h, s);
    if (k->fault == FAULT_READING) s->r[k->kind].v += k->level;
    return true;
}

static bool factor(int n, double A[ROWS][ROWS])
{
    for (int j = 0; j < n; j++)
        for (int i = j; i < n; i++) {
            double sum = A[i][j];
            for (int k = 0; k < j; k++)
                sum -= A[i][k] * A[j][k];
            if (i == j && !(sum > 0.0)) return false;
            A[i][j] = i == j ? sqrt(sum) : sum / A[j][j];
        }
    return true;
}

/* A fault `by` of its own spread larger or smaller. False: it comes in one size. */
static bool of_other_size(const oracle_kind *k, double by, visit_kind *out)
{
    const bool added = k->kind.fault == FAULT_CHARGE || k->kind.fault == FAULT_FEED ||
                       k->kind.fault == FAULT_READING;
    *out = k->kind;
    if (added)
        out->level += k->spread * by;
    else
        out->level *= exp(k->spread * by);
    return k->spread > 0.0;
}

/* The readings' covariance grows by what one free thing does to them. */
static void spread(const oracle *o, const ct_readings *up, const ct_readings *down, double apart,
                   kind_of *out)
{
    double slope[ROWS];
    for (int i = 0; i < o->n_y; i++)
        slope[i] = (up->r[o->of_y[i]].v - down->r[o->of_y[i]].v) / apart;
    for (int i = 0; i < o->n_y; i++)
        for (int j = 0; j < o->n_y; j++)
            out->L[i][j] += slope[i] * slope[j];
}

static bool learn_size(const oracle *o, const systems *sound, const oracle_kind *k, kind_of *out)
{
    ct_readings up, down;
    visit_kind more, less;
    if (!of_other_size(k, STEP, &more) || !of_other_size(k, -STEP, &less)) return true;
    if (!show(sound->h, &more, &sound->middle, &up) ||
        !show(sound->h, &less, &sound->middle, &down))
        return false;
    spread(o, &up, &down, 2.0 * STEP, out);
    return true;
}

static bool learn(const oracle *o, const systems *sound, const oracle_kind *k,
                  const oracle_doubt *doubt, kind_of *out)
{
    ct_readings middle, up, down;
    *out = (kind_of){0};
    if (!show(sound->h, &k->kind, &sound->middle, &middle)) return false;
    for (int i = 0; i < o->n_y; i++) {
        const ct_reading *r = &middle.r[o->of_y[i]];
        const double u = hypot(r->u, doubt ? doubt->of_row[o->of_y[i]] : 0.0);
        out->mean[i] = r->v;
        out->L[i][i] = u * u;
    }
    for (int f = 0; f < FREE; f++) {
        if (!show(sound->h, &k->kind, &sound->up[f], &up) ||
            !show(sound->h, &k->kind, &sound->down[f], &down))
            return false;
        spread(o, &up, &down, 2.0 * STEP / (doubt ? doubt->stretch[f] : 1.0), out);
    }
    return learn_size(o, sound, k, out) && factor(o->n_y, out->L);
}

oracle *oracle_make(const visit_house *h, const oracle_kind *kinds, int n,
                    const oracle_doubt *doubt)
{
    oracle *o = calloc(1, sizeof *o + (size_t)n * sizeof o->kind[0]);
    systems sound;
    ct_readings s;
    make_systems(h, kinds[0].kind.scatter, &sound);
    if (!o || !show(h, &kinds[0].kind, &sound.middle, &s)) {
        free(o);
        return NULL;
    }
    o->n = n;
    for (int i = 0; i < ROWS; i++)
        if (s.r[i].has) o->of_y[o->n_y++] = i;
    for (int i = 0; i < n; i++)
        o->kind[i].settles = learn(o, &sound, &kinds[i], doubt, &o->kind[i]);
    return o;
}

void oracle_free(oracle *o)
{
    free(o);
}

void oracle_weigh(const oracle *o, const ct_readings *s, double *log_p)
{
    for (int k = 0; k < o->n; k++) {
        const kind_of *x = &o->kind[k];
        double w[ROWS], sum = 0.0;
        for (int i = 0; i < o->n_y && x->settles; i++) {
            w[i] = s->r[o->of_y[i]].v - x->mean[i];
            for (int j = 0; j < i; j++)
                w[i] -= x->L[i][j] * w[j];
            w[i] /= x->L[i][i];
            sum -= 0.5 * w[i] * w[i] + log(x->L[i][i]);
        }
        log_p[k] = x->settles ? sum : -(double)INFINITY;
    }
}

/* ---- What tune supposes -------------------------------------------------------------- */

/* A cause of many sizes is so many kinds, in equal steps of its normal distribution; each step is
 * one `SLICE` of a standard deviation wide and normal itself. */
#define SLICE 0.7
enum { SLICES = 5 };

typedef struct {
    const visit_house *h;
    const ct_tune_problem *p;
    double scatter;
    oracle_kind *kinds;
    int n;
} list_of;

static void add(list_of *l, visit_fault fault, const ct_tune_supposition *s, double level,
                double spread)
{
    const visit_kind k = {fault, level, s->kind, l->scatter};
    if (l->n < ORACLE_SUPPOSED) l->kinds[l->n++] = (oracle_kind){k, spread, s->odds};
}

/* Level and its standard deviation, both of the logarithm for a multiplier. */
static void add_sizes(list_of *l, visit_fault fault, const ct_tune_supposition *s, double level,
                      double sigma)
{
    const bool times = fault != FAULT_CHARGE && fault != FAULT_FEED;
    double sum = 0.0;
    const int from = l->n;
    for (int i = 0; i < SLICES; i++) {
        const double z = (i - SLICES / 2) * SLICE, x = level + z * sigma;
        add(l, fault, s, times ? exp(x) : x, sigma * SLICE);
        sum += exp(-0.5 * z * z / (1.0 - SLICE * SLICE));
    }
    for (int i = 0; i < SLICES; i++) {
        const double z = (i - SLICES / 2) * SLICE;
        l->kinds[from + i].weight *= exp(-0.5 * z * z / (1.0 - SLICE * SLICE)) / sum;
    }
}

/* The charge of a system so much subcooled, by the second model's rule; past none left, by
 * superheat. */
static void add_charge(list_of *l, const ct_tune_supposition *s)
{
    const double SC = l->p->prior[CT_TUNE_SUBCOOLING].prior,
                 SH = l->p->prior[CT_TUNE_SUPERHEAT].prior;
    const bool starving = s->move[1].unknown == CT_TUNE_SUPERHEAT;
    if (starving)
        add_sizes(l, FAULT_CHARGE, s, -0.15 - (s->move[1].mean - SH) / 70.0,
                  s->move[1].sigma / 70.0);
    else
        add_sizes(l, FAULT_CHARGE, s, 0.15 * (s->move[0].mean / SC - 1.0),
                  0.15 * s->move[0].sigma / SC);
}

/* Kelvin over the valve's superheat; a piston's flow as FAULT_FEED has it. */
static void add_feed(list_of *l, const ct_tune_supposition *s)
{
    const double SH = l->p->prior[CT_TUNE_SUPERHEAT].prior;
    const bool piston = s->move[0].unknown == CT_TUNE_PISTON;
    add_sizes(l, FAULT_FEED, s, piston ? -30.0 * s->move[0].mean : s->move[0].mean - SH,
              piston ? 30.0 * s->move[0].sigma : s->move[0].sigma);
}

static void add_cause(list_of *l, const ct_tune_supposition *s)
{
    switch (s->cause) {
    case CT_CAUSE_RESTRICTED:
        add_sizes(l, FAULT_FILTER, s, s->move[0].mean, s->move[0].sigma);
        break;
    case CT_CAUSE_BLOWER: add_sizes(l, FAULT_BLOWER, s, s->move[0].mean, s->move[0].sigma); break;
    case CT_CAUSE_TAP: add(l, FAULT_TAP, s, s->tap - l->p->tap, 0.0); break;
    case CT_CAUSE_COIL: add_sizes(l, FAULT_COIL, s, s->move[0].mean, s->move[0].sigma); break;
    case CT_CAUSE_CONDENSER:
        add_sizes(l, FAULT_CONDENSER, s, s->move[0].mean, s->move[0].sigma);
        break;
    case CT_CAUSE_COMPRESSOR:
        add_sizes(l, FAULT_COMPRESSOR, s, s->move[0].mean, s->move[0].sigma);
        break;
    case CT_CAUSE_LOW_CHARGE:
    case CT_CAUSE_OVERCHARGE: add_charge(l, s); break;
    case CT_CAUSE_STARVED:
    case CT_CAUSE_FLOODED: add_feed(l, s); break;
    case CT_CAUSE_READING: add(l, FAULT_READING, s, 0.0, s->far); break;
    default: add(l, FAULT_NONE, s, 0.0, 0.0);
    }
}

/* Return and outdoor air, of which tune knows what is read and no climate: so many times the spread
 * of visit_system's, 11 and 22 F. */
#define ANY_WEATHER 4.0
enum { WEATHER = 8 };

/* The spread tune lets a sound system have, over that of visit_system: what it holds near
 * (tune_suppose.c) and, of the ducts and what is not held, the whole prior. */
static void doubt_of(const list_of *l, const ct_tune_supposition *sound, oracle_doubt *d)
{
    static const struct {
        int z, unknown;
        double sigma; /* of visit_system */
    } rows[] = {{0, CT_TUNE_COIL, CT_TUNE_SIGMA_COIL},
                {1, CT_TUNE_FLOW, CT_TUNE_SIGMA_FLOW},
                {2, CT_TUNE_POWER, CT_TUNE_SIGMA_POWER},
                {3, CT_TUNE_CONDENSER, CT_TUNE_SIGMA_CONDENSER},
                {6, CT_TUNE_SUBCOOLING, CT_TUNE_SIGMA_SUBCOOLING},
                {7, CT_TUNE_SUPERHEAT, CT_TUNE_SIGMA_SUPERHEAT},
                {7, CT_TUNE_PISTON, CT_TUNE_SIGMA_PISTON}};
    for (int i = 0; i < FREE; i++)
        d->stretch[i] = i == 5 ? fmax(1.0, 1.0 / l->scatter) : i >= WEATHER ? ANY_WEATHER : 1.0;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const ct_tune_prior *prior = &l->p->prior[rows[i].unknown];
        double sigma = prior->sigma;
        if (!prior->fitted) continue;
        for (int m = 0; m < sound->n_moves; m++)
            if (sound->move[m].unknown == rows[i].unknown) sigma = sound->move[m].sigma;
        d->stretch[rows[i].z] = fmax(1.0, sigma / (l->scatter * rows[i].sigma));
    }
    for (int i = 0; i < ROWS; i++)
        d->of_row[i] = ct_tune_doubt((ct_reading_kind)i, l->p->readings.r[i].v);
    d->of_row[CT_BLOWER_POWER] = l->p->told.u_P_static;
}

int oracle_suppose(const visit_house *h, double scatter, oracle_kind kinds[ORACLE_SUPPOSED],
                   oracle_doubt *d)
{
    ct_tune_supposition s[CT_TUNE_SUPPOSITIONS];
    ct_tune_problem p;
    ct_readings r;
    ct_fault fault = {.what = ""};
    const visit_kind sound = {FAULT_NONE, 0, 0, scatter};
    const double z[FREE] = {0};
    const second_truth middle = visit_system(h, scatter, z);
    ct_solver *solver = NULL;
    if (ct_solver_make(&solver, &fault) != CT_OK) return 0;
    const ct_setup setup = {solver, &h->c, &h->outdoor, &h->matched, 0};
    const bool good =
        show(h, &sound, &middle, &r) && ct_tune_problem_prepare(&p, &setup, &r, &fault) == CT_OK;
    p.solver = NULL; /* all balances are made */
    ct_solver_free(solver);
    if (!good) {
        printf("%s\n", fault.what);
        return 0;
    }
    p.doubt = 1.0;
    ct_tune_problem_arrange(&p, &p.given);
    list_of l = {h, &p, scatter, kinds, 0};
    const int n = ct_tune_suppose_all(&p, s);
    for (int i = 0; i < n; i++)
        add_cause(&l, &s[i]);
    doubt_of(&l, &s[0], d);
    return l.n;
}
