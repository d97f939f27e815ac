#include "plant/balance_together.h"

#include <math.h>

#include "plant/balance_high.h"
#include "plant/balance_low.h"
#include "plant/charge.h"

enum { TC, TE, SUBCOOLING, MOST };
enum { HIGH, LOW, AIM };

/* Below these the residuals are good; the answer is then far better, for steps shrink fast. */
static const double good[MOST] = {[HIGH] = 1e-11, [LOW] = 1e-10, [AIM] = 1e-9};

#define ROUNDS 9
#define NEAR 3.0        /* K, a longer first step is no neighbor's */
#define FAR 8.0         /* K, the same where the subcooling is moved on purpose */
#define SHRINKS 0.5     /* a step over the one before, at most */
#define MEASURED 1e-3   /* K, apart, for slopes */
#define TE_MARGIN 0.1   /* K, suction below the air */
#define SUPERHEAT 100.0 /* K, as good as the charge when it is to a part of this */

typedef struct {
    ct_trial *t;
    ct_system *sys;
    ct_together_aim aim;
    bool aims; /* the subcooling is an unknown too, else it is held */
    double x[MOST], f[MOST];
    double by[MOST][MOST];
    bool measured; /* the matrix */
    bool aside;    /* the trial is of a place beside x */
    bool emptied;  /* a step led below no subcooling */
} state;

/* Unknowns, and residuals. */
static int size(const state *s)
{
    return s->aims ? MOST : MOST - 1;
}

static bool inside(const state *s, const double *x)
{
    double low, high;

    ct_balance_high_ends(s->t, x[TE], &low, &high);
    return x[TE] < s->t->air.in.T - TE_MARGIN && x[TC] > low && x[TC] < high &&
           (!s->aims || (x[SUBCOOLING] >= 0.0 && x[SUBCOOLING] < CT_CHARGE_SUBCOOLING_MAX));
}

/* Kilograms over those there are, less 1. */
static double charge_residual(const state *s)
{
    const ct_trial *t = s->t;
    const ct_phases *coil = &t->at_coil;
    const ct_charge_places places = {
        .condenser = &t->at_discharge,
        .coil = coil,
        .desuperheat_share = t->zones.vapor,
        .subcool_share = t->zones.liquid,
        .rho_liquid = t->cond.rho_liquid,
        .h_liquid = t->cond.h_liquid,
        .superheat_area = t->path.superheat_area,
        .quality_out = t->superheat < 0.0 ? (t->h_out - coil->h_l) / (t->h_g - coil->h_l) : 1.0};

    return ct_charge_in(&places) / s->aim.wanted - 1.0;
}

/* Rises with the subcooling. */
static double aim_residual(const state *s)
{
    if (s->aim.what == CT_FOR_CHARGE) return charge_residual(s);
    return (s->aim.wanted - s->t->superheat) / SUPERHEAT;
}

/* False where anything is in the way. */
static bool residuals(state *s, const double *x, double *f)
{
    ct_trial *t = s->t;

    if (!inside(s, x)) return false;
    if (s->aims) s->sys->outdoor.condenser.subcooling = x[SUBCOOLING];
    t->trouble = CT_BALANCED;
    if (!ct_balance_high_at(t, x[TE], x[TC]) || t->held != 0) return false;
    f[HIGH] = t->residual_high;
    f[LOW] = t->residual_low = ct_balance_low(t);
    if (t->trouble != CT_BALANCED || !ct_balance_boils(t)) return false;
    if (s->aims) f[AIM] = aim_residual(s);
    return isfinite(f[HIGH]) && isfinite(f[LOW]) && (!s->aims || isfinite(f[AIM]));
}

static bool measure(state *s)
{
    s->measured = s->aside = true;
    for (int k = 0; k < size(s); k++) {
        double x[MOST] = {s->x[0], s->x[1], s->x[2]}, f[MOST];
        x[k] += MEASURED;
        if (!residuals(s, x, f)) return false;
        for (int i = 0; i < size(s); i++)
            s->by[i][k] = (f[i] - s->f[i]) / MEASURED;
    }
    return true;
}

/* The neighbor's matrix, where it has as many unknowns. */
static bool begin(state *s, const ct_start *start)
{
    const ct_slopes *m = &start->slopes;
    const bool given = m->by[HIGH][TC] > 0.0 && (!s->aims || m->by[AIM][SUBCOOLING] != 0.0);

    s->x[TC] = start->Tc;
    s->x[TE] = start->Te;
    s->x[SUBCOOLING] = start->subcooling;
    if (!residuals(s, s->x, s->f)) return false;
    for (int i = 0; given && i < MOST; i++)
        for (int k = 0; k < MOST; k++)
            s->by[i][k] = m->by[i][k];
    return given || measure(s);
}

/* One unknown is taken out after the other, as a search inside a search would: what is left on the
 * diagonal are those searches' slopes, and at a balance that a system keeps to their signs are
 * known. False: they are not so. */
static bool step_of(const state *s, double *step, double pivot[MOST])
{
    double a[MOST][MOST], b[MOST];

    for (int i = 0; i < size(s); i++) {
        b[i] = -s->f[i];
        for (int k = 0; k < size(s); k++)
            a[i][k] = s->by[i][k];
    }
    for (int p = 0; p < size(s); p++) {
        pivot[p] = a[p][p];
        if (!(p == LOW ? pivot[p] < 0.0 : pivot[p] > 0.0)) return false;
        for (int i = p + 1; i < size(s); i++) {
            const double share = a[i][p] / pivot[p];
            for (int k = p; k < size(s); k++)
                a[i][k] -= share * a[p][k];
            b[i] -= share * b[p];
        }
    }
    for (int p = size(s) - 1; p >= 0; p--) {
        step[p] = b[p];
        for (int k = p + 1; k < size(s); k++)
            step[p] -= a[p][k] * step[k];
        step[p] /= pivot[p];
    }
    return true;
}

/* The matrix, so that it would have foreseen what the step came to. */
static void learn(state *s, const double *step, const double *f)
{
    double square = 0.0;

    for (int k = 0; k < size(s); k++)
        square += step[k] * step[k];
    for (int i = 0; i < size(s); i++) {
        double foreseen = s->f[i];
        for (int k = 0; k < size(s); k++)
            foreseen += s->by[i][k] * step[k];
        for (int k = 0; k < size(s); k++)
            s->by[i][k] += (f[i] - foreseen) * step[k] / square;
    }
}

static double length_of(const state *s, const double *step)
{
    double most = 0.0;

    for (int k = 0; k < size(s); k++)
        most = fmax(most, fabs(step[k]));
    return most;
}

static bool is_good(const state *s)
{
    for (int i = 0; i < size(s); i++)
        if (!(fabs(s->f[i]) <= good[i])) return false;
    return true;
}

static bool take(state *s, const double *step)
{
    double x[MOST], f[MOST];

    for (int k = 0; k < size(s); k++)
        x[k] = s->x[k] + step[k];
    s->emptied = s->aims && s->x[SUBCOOLING] + step[SUBCOOLING] < 0.0;
    if (!residuals(s, x, f)) return false;
    learn(s, step, f);
    s->aside = false;
    for (int k = 0; k < size(s); k++) {
        s->x[k] = x[k];
        s->f[k] = f[k];
    }
    return true;
}

/* The pivots are what the searches call their slopes. */
static void note_slopes(const state *s, const double *pivot, ct_balance *out)
{
    s->t->slope_high = pivot[HIGH];
    s->t->slope = pivot[LOW];
    s->t->dTc_dTe = -s->by[HIGH][TE] / s->by[HIGH][TC];
    if (s->aims) out->charge_per_subcooling = pivot[AIM];
    out->slopes = (ct_slopes){{{0.0}}};
    for (int i = 0; i < size(s); i++)
        for (int k = 0; k < size(s); k++)
            out->slopes.by[i][k] = s->by[i][k];
}

/* A good place: the trial is made that of it. */
static bool arrive(state *s, const double *pivot, ct_balance *out)
{
    if (s->aside && !(residuals(s, s->x, s->f) && is_good(s))) return false;
    note_slopes(s, pivot, out);
    return true;
}

/* The matrix led nowhere, or no nearer: it is measured once, where the search has come to. */
static bool anew(state *s, double most, double *step, double *pivot)
{
    if (s->measured || !measure(s)) return false;
    return step_of(s, step, pivot) && length_of(s, step) <= most;
}

static bool search(state *s, const ct_start *start, ct_balance *out)
{
    const double first = s->aims && s->aim.what == CT_FOR_SUPERHEAT ? FAR : NEAR;
    double step[MOST], pivot[MOST], most = first / SHRINKS;

    if (!begin(s, start)) return false;
    for (int i = 0; i < ROUNDS; i++) {
        const bool leads = step_of(s, step, pivot);
        if (is_good(s)) return leads && arrive(s, pivot, out);
        if (!(leads && length_of(s, step) <= SHRINKS * most) && !anew(s, most, step, pivot))
            return false;
        most = length_of(s, step);
        if (!take(s, step)) return false;
    }
    return false;
}

bool ct_balance_together(ct_trial *t, const ct_start *start, ct_balance *out)
{
    state s = {.t = t};

    return search(&s, start, out);
}

/* With none: where that balance would hold more than the system has, the liquid line carries
 * gas. */
static bool without_subcooling(const state *s, const ct_start *start, ct_balance *out)
{
    state none = {.t = s->t, .sys = s->sys, .aim = s->aim};

    s->sys->outdoor.condenser.subcooling = 0.0;
    if (!search(&none, start, out) || !(charge_residual(&none) > good[AIM])) return false;
    out->charge_beyond = -1;
    return true;
}

bool ct_balance_together_for(ct_trial *t, ct_system *sys, const ct_together_aim *aim,
                             const ct_start *start, ct_balance *out)
{
    state s = {.t = t, .sys = sys, .aim = *aim, .aims = true};

    if (aim->what == CT_FOR_SUPERHEAT) return search(&s, start, out);
    if (!(start->subcooling > 0.0)) return without_subcooling(&s, start, out);
    return search(&s, start, out) || (s.emptied && without_subcooling(&s, start, out));
}
