#include "oracle.h"

#include <math.h>
#include <stdlib.h>

#include "study/tune.h"

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

/* Readings of a system that lies `z` of its scatter from the middle in every free thing. */
static bool show(const visit_house *h, const visit_kind *k, const double z[FREE], ct_readings *s)
{
    second_inside in;
    second_truth t = visit_system(h, k->scatter, z);
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

/* A fault `by` of its own spread larger or smaller: no one knows how large it is. Wide enough to fill
 * the gaps between the levels of one cause in tests/tune_table.c. False: it comes in one size. */
static bool of_other_size(visit_kind *k, double by)
{
    switch (k->fault) {
    case FAULT_NONE:
    case FAULT_TAP: return false;
    case FAULT_CHARGE: k->level += 0.04 * by; return true;
    case FAULT_FEED:
    case FAULT_READING: k->level *= 1.0 + 0.3 * by; return true;
    default: k->level *= exp(0.06 * by); return true;
    }
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

#define STEP 0.5
static bool learn_size(const oracle *o, const visit_house *h, const visit_kind *k, kind_of *out)
{
    ct_readings up, down;
    visit_kind more = *k, less = *k;
    const double z[FREE] = {0};
    if (!of_other_size(&more, STEP) || !of_other_size(&less, -STEP)) return true;
    if (!show(h, &more, z, &up) || !show(h, &less, z, &down)) return false;
    spread(o, &up, &down, 2.0 * STEP, out);
    return true;
}

static bool learn(const oracle *o, const visit_house *h, const visit_kind *k, kind_of *out)
{
    ct_readings middle, up, down;
    double z[FREE] = {0};
    *out = (kind_of){0};
    if (!show(h, k, z, &middle)) return false;
    for (int i = 0; i < o->n_y; i++) {
        const ct_reading *r = &middle.r[o->of_y[i]];
        out->mean[i] = r->v;
        out->L[i][i] = r->u * r->u;
    }
    for (int f = 0; f < FREE; f++) {
        z[f] = STEP;
        if (!show(h, k, z, &up)) return false;
        z[f] = -STEP;
        if (!show(h, k, z, &down)) return false;
        z[f] = 0.0;
        spread(o, &up, &down, 2.0 * STEP, out);
    }
    return learn_size(o, h, k, out) && factor(o->n_y, out->L);
}

oracle *oracle_make(const visit_house *h, const visit_kind *kinds, int n)
{
    oracle *o = calloc(1, sizeof *o + (size_t)n * sizeof o->kind[0]);
    const double z[FREE] = {0};
    ct_readings s;
    if (!o || !show(h, &kinds[0], z, &s)) {
        free(o);
        return NULL;
    }
    o->n = n;
    for (int i = 0; i < ROWS; i++)
        if (s.r[i].has) o->of_y[o->n_y++] = i;
    for (int i = 0; i < n; i++)
        o->kind[i].settles = learn(o, h, &kinds[i], &o->kind[i]);
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
