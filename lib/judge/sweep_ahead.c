#include "judge/sweep_ahead.h"

#include <math.h>

enum { BEFORE = CT_AHEAD_MOST }; /* points that say where the next one lies */

enum { BALANCE = CT_SEEN_COUNT, RECORDS };

static bool known(const ct_near *n)
{
    return n->start.Te > 0.0;
}

/* `which`: a CT_SEEN_ or BALANCE. */
static ct_near record_of(const ct_point *p, int which)
{
    if (which != BALANCE) return p->seen[which];
    if (p->status != CT_OK) return (ct_near){.W = 0.0};
    return (ct_near){.W = p->V / p->m_da, .start = ct_balance_start(&p->balance)};
}

static ct_near *record_in(ct_sweep_start *s, int which)
{
    return which == BALANCE ? &s->balance : &s->seen[which];
}

/* ---- One row --------------------------------------------------------------------- */

static ct_near next_of(const ct_point *row, int i, int which)
{
    ct_start last[BEFORE];
    double W[BEFORE];
    int n = 0;

    if (i == 0) return (ct_near){.W = 0.0};
    ct_near next = record_of(&row[i - 1], which);
    while (n < BEFORE && n < i) {
        const ct_near r = record_of(&row[i - 1 - n], which);
        if (!known(&r)) break;
        last[n] = r.start;
        W[n++] = r.W;
    }
    if (n == 0) return next;
    next.W = fmax(0.0, ct_ahead(W, n));
    next.start = ct_balance_ahead(last, n);
    return next;
}

ct_sweep_start ct_sweep_ahead(const ct_point *row, int i)
{
    ct_sweep_start s;

    for (int k = 0; k < RECORDS; k++)
        *record_in(&s, k) = next_of(row, i, k);
    return s;
}

/* ---- A row beside another -------------------------------------------------------- */

/* How far one search went from its neighbor. */
typedef struct {
    double W, Te, Tc, subcooling;
} apart;

static bool apart_of(const ct_point *now, const ct_point *near, int which, apart *d)
{
    const ct_near a = record_of(now, which), b = record_of(near, which);

    if (!known(&a) || !known(&b)) return false;
    *d = (apart){a.W - b.W, a.start.Te - b.start.Te, a.start.Tc - b.start.Tc,
                 a.start.subcooling - b.start.subcooling};
    return true;
}

static void move(ct_near *n, const apart *d)
{
    n->W = fmax(0.0, n->W + d->W);
    n->start.Te += d->Te;
    n->start.Tc += d->Tc;
    n->start.subcooling += d->subcooling;
}

static double in_proportion(double x, double now, double near)
{
    return x * ct_slope_within(now / near, 1.0);
}

static void turn_all(const ct_slopes *now, const ct_slopes *near, ct_slopes *s)
{
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++)
            s->by[i][k] += now->by[i][k] - near->by[i][k];
}

/* Slopes change with the job as those of the last one did. */
static void turn(ct_near *n, const ct_point *now, const ct_point *near, int which)
{
    const ct_near a = record_of(now, which), b = record_of(near, which);
    ct_start *s = &n->start;

    s->slope = in_proportion(s->slope, a.start.slope, b.start.slope);
    s->slope_high = in_proportion(s->slope_high, a.start.slope_high, b.start.slope_high);
    s->Tc_per_Te = in_proportion(s->Tc_per_Te, a.start.Tc_per_Te, b.start.Tc_per_Te);
    s->charge_per_subcooling = in_proportion(
        s->charge_per_subcooling, a.start.charge_per_subcooling, b.start.charge_per_subcooling);
    turn_all(&a.start.slopes, &b.start.slopes, &s->slopes);
    if (a.bend.water > 0.0) n->bend = a.bend;
}

static apart ahead_of(const apart *last, int n)
{
    double v[4][BEFORE] = {{0.0}};

    for (int i = 0; i < n; i++) {
        v[0][i] = last[i].W;
        v[1][i] = last[i].Te;
        v[2][i] = last[i].Tc;
        v[3][i] = last[i].subcooling;
    }
    return (apart){ct_ahead(v[0], n), ct_ahead(v[1], n), ct_ahead(v[2], n), ct_ahead(v[3], n)};
}

static ct_near next_near(const ct_point *near, const ct_point *row, int i, int which)
{
    ct_near at = record_of(&near[i], which);
    apart last[BEFORE];
    int n = 0;

    if (!known(&at)) return next_of(row, i, which);
    while (n < BEFORE && n < i && apart_of(&row[i - 1 - n], &near[i - 1 - n], which, &last[n]))
        n++;
    if (n == 0) return at;
    const apart d = ahead_of(last, n);
    move(&at, &d);
    turn(&at, &row[i - 1], &near[i - 1], which);
    return at;
}

ct_sweep_start ct_sweep_ahead_near(const ct_point *near, const ct_point *row, int i)
{
    ct_sweep_start s;

    for (int k = 0; k < RECORDS; k++)
        *record_in(&s, k) = next_near(near, row, i, k);
    return s;
}

/* ---- Taps ------------------------------------------------------------------------ */

/* The airflow below m_da that has another above it; -1: none. */
static int below(const ct_sweep_rows *s, double m_da)
{
    int i = 0;

    if (s->n < 2 || !(m_da >= s->point[0].m_da && m_da <= s->point[s->n - 1].m_da)) return -1;
    while (i < s->n - 2 && s->point[i + 1].m_da <= m_da)
        i++;
    return i;
}

static double share_of(const ct_sweep_rows *s, int i, double m_da)
{
    return (m_da - s->point[i].m_da) / (s->point[i + 1].m_da - s->point[i].m_da);
}

static void tap_beside(const ct_sweep_rows *near, const ct_sweep_rows *now, int i, int which,
                       ct_near *at)
{
    const double m_da = near->tap[i].m_da;
    const int k = below(near, m_da);
    apart a, b;

    if (k >= 0 && apart_of(&now->point[k], &near->point[k], which, &a) &&
        apart_of(&now->point[k + 1], &near->point[k + 1], which, &b)) {
        const double t = share_of(near, k, m_da);
        const apart d = {a.W + t * (b.W - a.W), a.Te + t * (b.Te - a.Te), a.Tc + t * (b.Tc - a.Tc),
                         a.subcooling + t * (b.subcooling - a.subcooling)};
        move(at, &d);
        turn(at, &now->point[k], &near->point[k], which);
    } else if (i > 0 && apart_of(&now->tap[i - 1], &near->tap[i - 1], which, &a)) {
        move(at, &a);
        turn(at, &now->tap[i - 1], &near->tap[i - 1], which);
    }
}

ct_sweep_start ct_sweep_ahead_tap(const ct_sweep_rows *near, const ct_sweep_rows *now, int i)
{
    ct_sweep_start s;

    for (int k = 0; k < RECORDS; k++) {
        ct_near *at = record_in(&s, k);
        *at = record_of(&near->tap[i], k);
        if (known(at)) tap_beside(near, now, i, k, at);
    }
    return s;
}

/* ---- A straight line ------------------------------------------------------------- */

static ct_near along(const ct_near *a, const ct_near *b, double share)
{
    ct_near n = *a;

    n.W = fmax(0.0, a->W + share * (b->W - a->W));
    n.start = ct_balance_along(&a->start, &b->start, share);
    return n;
}

static ct_near between(const ct_near *a, const ct_near *b, double share)
{
    if (!known(a) || !known(b)) return (ct_near){.W = 0.0};
    return along(a, b, share);
}

ct_sweep_start ct_sweep_between(const ct_sweep_rows *s, double m_da)
{
    const int i = below(s, m_da);
    ct_sweep_start out = {.balance = {.W = 0.0}};

    if (i < 0) return out;
    const double t = share_of(s, i, m_da);
    for (int k = 0; k < RECORDS; k++) {
        const ct_near a = record_of(&s->point[i], k), b = record_of(&s->point[i + 1], k);
        *record_in(&out, k) = between(&a, &b, t);
    }
    return out;
}

/* Slopes are those of the later one. */
void ct_sweep_point_onward(const ct_point *from, const ct_point *to, double share, ct_point *near)
{
    *near = *to;
    for (int k = 0; k < RECORDS; k++) {
        const ct_near a = record_of(from, k), b = record_of(to, k);
        if (!known(&a) || !known(&b)) continue;
        ct_near at = along(&b, &a, 1.0 - share);
        if (k != BALANCE) {
            near->seen[k] = at;
            continue;
        }
        near->V = at.W * near->m_da;
        near->balance.Te = at.start.Te;
        near->balance.Tc = at.start.Tc;
        near->balance.subcooling = at.start.subcooling;
    }
}
