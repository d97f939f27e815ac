#include "judge/tried.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#define CLOSE 1e-4        /* kg/kg, between balances nearer than this all is straight */
#define LONGER 0.05       /* of W */
#define WATER_HEAT 2.45e6 /* J/kg, for a first guess */

int ct_tried_nearest(const ct_tried *o, double W)
{
    int best = 0;

    for (int i = 1; i < o->equipment.n; i++)
        if (fabs(o->equipment.point[i].W - W) < fabs(o->equipment.point[best].W - W)) best = i;
    return best;
}

static void drop(ct_tried *o, int i)
{
    size_t after = (size_t)(o->equipment.n - i - 1);

    memmove(&o->equipment.point[i], &o->equipment.point[i + 1], after * sizeof *o->equipment.point);
    memmove(&o->at[i], &o->at[i + 1], after * sizeof *o->at);
    o->equipment.n--;
}

void ct_tried_insert(ct_tried *o, const ct_room_point *point, const ct_balance *b)
{
    const double W = point->W;
    int i = 0;

    if (o->equipment.n == CT_ROOM_POINTS)
        drop(o, W - o->equipment.point[0].W > o->equipment.point[o->equipment.n - 1].W - W
                    ? 0
                    : o->equipment.n - 1);
    while (i < o->equipment.n && o->equipment.point[i].W < W)
        i++;
    size_t after = (size_t)(o->equipment.n - i);
    memmove(&o->equipment.point[i + 1], &o->equipment.point[i], after * sizeof *o->equipment.point);
    memmove(&o->at[i + 1], &o->at[i], after * sizeof *o->at);
    o->equipment.point[i] = *point;
    o->at[i] = *b;
    o->equipment.n++;
}

int ct_tried_second(const ct_tried *o, double W, int first)
{
    int best = first;

    for (int i = 0; i < o->equipment.n; i++)
        if (i != first && (best == first || fabs(o->equipment.point[i].W - W) <
                                                fabs(o->equipment.point[best].W - W)))
            best = i;
    return best;
}

double ct_tried_along(const ct_tried *o, double W, int i, int k)
{
    double from = o->equipment.point[i].W;

    return k == i ? 0.0 : (W - from) / (o->equipment.point[k].W - from);
}

/* kg/kg, the air at the coil's surface sets how its water changes with the air's. */
static double at_surface(const ct_tried *o, int i)
{
    return fmin(ct_air_W_sat(o->at[i].T_surface, o->p), 0.95 * o->equipment.point[i].W);
}

/* Most of what latent capacity gains sensible loses. */
ct_room_point ct_tried_guess(const ct_tried *o, int i)
{
    const ct_bend *k = &o->bend;
    const ct_room_point *a = &o->equipment.point[i];
    ct_room_point b = {1.05 * a->W, a->Q_net, a->water};

    if (a->water > 0.0) {
        double rise = (k->water > 0.0 ? k->water : 1.0) * (b.W - a->W) / (a->W - at_surface(o, i));
        double lost = k->water > 0.0 ? k->sensible : 0.6 * WATER_HEAT;
        b.water *= 1.0 + rise;
        b.Q_net = fmax(0.5 * a->Q_net, a->Q_net - lost * (b.water - a->water));
    }
    return b;
}

ct_bend ct_tried_bend(const ct_tried *o, int i, int k)
{
    const ct_room_point *a = &o->equipment.point[i], *b = &o->equipment.point[k];
    double more = b->water - a->water, apart = b->W - a->W;

    if (i == k || !(a->water > 0.0 && b->water > 0.0) || more == 0.0) return o->bend;
    return (ct_bend){.water = more / a->water * (a->W - at_surface(o, i)) / apart,
                     .sensible = (a->Q_net - b->Q_net) / more,
                     .Te = (o->at[k].Te - o->at[i].Te) / apart,
                     .Tc = (o->at[k].Tc - o->at[i].Tc) / apart};
}

/* The balance beside i on the side of W, or on the other where none is close; i where there is no
 * other. */
static int beside(const ct_tried *o, double W, int i)
{
    const ct_room_point *p = o->equipment.point;
    const int side = W < p[i].W ? -1 : 1, k = i + side, other = i - side, n = o->equipment.n;
    const bool has = k >= 0 && k < n, has_other = other >= 0 && other < n;

    if (has && (!has_other || fabs(p[k].W - p[i].W) < CLOSE)) return k;
    if (has && !(fabs(p[other].W - p[i].W) < CLOSE)) return k;
    return has_other ? other : i;
}

/* On the line from `from` through `to`, dW past `to`; as far as the water is above nothing. */
static ct_room_point onward(const ct_room_point *from, const ct_room_point *to, double dW)
{
    const double per = 1.0 / (to->W - from->W);
    const double rise = fmax(0.0, (to->water - from->water) * per);

    if (rise * dW < -0.9 * to->water) dW = -0.9 * to->water / rise;
    return (ct_room_point){to->W + dW,
                           fmax(0.5 * to->Q_net, to->Q_net + dW * (to->Q_net - from->Q_net) * per),
                           to->water + dW * rise};
}

/* The line through two points, longer than needed at both ends: beyond its points ct_room_settle
 * holds sensible capacity. */
static void straight(const ct_room_point *a, const ct_room_point *b, ct_room_equipment *e)
{
    const ct_room_point before = onward(b, a, -LONGER * a->W), after = onward(a, b, LONGER * b->W);

    e->n = 0;
    if (a->W - before.W > CT_TRIED_APART) e->point[e->n++] = before;
    e->point[e->n++] = *a;
    e->point[e->n++] = *b;
    e->point[e->n++] = after;
}

int ct_tried_pair(const ct_tried *o, double W)
{
    const int i = ct_tried_nearest(o, W), k = beside(o, W, i);

    return i < k ? i : k;
}

void ct_tried_near(const ct_tried *o, double W, bool guess, ct_tried_nearby *out)
{
    const ct_room_point *p = o->equipment.point;
    const int i = ct_tried_nearest(o, W), k = beside(o, W, i), first = i < k ? i : k;
    const double apart = fabs(p[i].W - p[k].W);

    *out = (ct_tried_nearby){o->equipment, 1.0, 0.0, first};
    out->equipment.W_near = W;
    if (k == i || (guess && o->bend.water > 0.0 && apart >= CLOSE)) {
        const ct_room_point second = ct_tried_guess(o, i);
        straight(&p[i], &second, &out->equipment);
    } else {
        straight(&p[first], &p[first + 1], &out->equipment);
        if (apart < CLOSE) {
            out->low = p[first].W - apart;
            out->high = p[first + 1].W + apart;
        }
    }
}

static ct_start moved(ct_start start, const ct_bend *bend, double dW)
{
    start.Te += bend->Te * dW;
    start.Tc += bend->Tc * dW;
    return start;
}

ct_start ct_tried_start(const ct_tried *o, double W)
{
    const int i = ct_tried_nearest(o, W), k = ct_tried_second(o, W, i);
    const ct_balance *a = &o->at[i], *b = &o->at[k];
    const double from = o->equipment.point[i].W, apart = o->equipment.point[k].W - from;
    ct_bend bend = o->bend;

    if (k != i) {
        bend.Te = (b->Te - a->Te) / apart;
        bend.Tc = (b->Tc - a->Tc) / apart;
    }
    return moved(ct_balance_start(a), &bend, W - from);
}

ct_start ct_tried_start_from(const ct_near *near, double W)
{
    return moved(near->start, &near->bend, W - near->W);
}

ct_near ct_tried_seen(const ct_tried *o, double W)
{
    int i = ct_tried_nearest(o, W), k = ct_tried_second(o, W, i);
    const ct_start a = ct_balance_start(&o->at[i]), b = ct_balance_start(&o->at[k]);

    return (ct_near){W, ct_balance_along(&a, &b, ct_tried_along(o, W, i, k)),
                     ct_tried_bend(o, i, k)};
}
