#include "part/coil_wet.h"

#include <math.h>

#define MIDDLE_ROUNDS 2 /* of the search for the tip, at the middle and the end of a step */
#define END_ROUNDS 1
#define FIRST 0.8 /* of an equal step: where the surface turns wet its shares change fastest */
#define PULL_LEAST 1e-6 /* K: the air is in balance with the tubes */
#define K_PER_W (CT_AIR_HG0 / CT_AIR_CPA)
#define TINY 1e-300 /* for a quotient of nothing by nothing */

/* What pulls the air: its enthalpy over cp above that of air in balance with the tubes, K. */
static double pull(const ct_coil_surface *s, const ct_coil_along *at)
{
    return at->T - s->T_r + (at->W - s->W_r) * K_PER_W;
}

/* The wet share of the area, and per K of pull: how far above the tubes are the mean surface, the
 * humidity over the wet share of it, and the tip. They change little along the way, and little with
 * the air's temperature or humidity alone. */
typedef struct {
    double wet, surface, vapor, tip;
} shares;

static shares shares_at(const ct_coil_surface *s, const ct_coil_along *at, const ct_coil_contact *c,
                        double taken)
{
    double per = 1.0 / pull(s, at);

    return (shares){c->wet, (at->T - c->sensible - s->T_r) * per,
                    (c->wet * (at->W - s->W_r) - taken) * per, (s->tip - s->T_r) * per};
}

/* One step of `ntu` transfer units: start, middle, end; the latent drive there, and the enthalpy of
 * the water. */
typedef struct {
    double ntu;
    shares l[3];
    ct_coil_along at[3];
    double latent[3], h_water[3];
    double T_base; /* at the end, or at the start of the first step */
} stretch;

/* Surface and vapor half way from a to b, on the quadratic through a, b and c, evenly apart. */
static shares half_way(const shares *a, const shares *b, const shares *c)
{
    return (shares){0.375 * a->wet + 0.75 * b->wet - 0.125 * c->wet,
                    0.375 * a->surface + 0.75 * b->surface - 0.125 * c->surface,
                    0.375 * a->vapor + 0.75 * b->vapor - 0.125 * c->vapor, 0.0};
}

/* Of excess temperature and humidity over the tubes, per transfer unit. */
typedef struct {
    double T, W;
} excess;

static excess falls(const excess *e, const shares *l)
{
    double D = e->T + K_PER_W * e->W;

    return (excess){l->surface * D - e->T, l->vapor * D - l->wet * e->W};
}

static excess fallen(const excess *e, double h, const excess *d)
{
    return (excess){e->T + h * d->T, e->W + h * d->W};
}

/* Fourth-order Runge-Kutta over h transfer units, shares at start, half way and end. No fin is
 * solved. */
static void fall(double h, const shares *l0, const shares *l1, const shares *l2, excess *e)
{
    excess k1 = falls(e, l0), x = fallen(e, 0.5 * h, &k1), k2 = falls(&x, l1);
    excess y = fallen(e, 0.5 * h, &k2), k3 = falls(&y, l1), z = fallen(e, h, &k3);
    excess k4 = falls(&z, l2);

    e->T += h / 6.0 * (k1.T + 2.0 * (k2.T + k3.T) + k4.T);
    e->W += h / 6.0 * (k1.W + 2.0 * (k2.W + k3.W) + k4.W);
}

static void place(const ct_coil_surface *s, const excess *e, double before, ct_coil_along *at)
{
    const double W = s->W_r + e->W;

    at->T = s->T_r + e->T;
    at->W = W < before ? W : before; /* vapor only leaves */
}

/* Middle, or middle and end of the step from the shares along it. */
static void cross(const ct_coil_surface *s, stretch *w, int places)
{
    const shares *l = w->l, early = half_way(&l[0], &l[1], &l[2]);
    excess e = {w->at[0].T - s->T_r, w->at[0].W - s->W_r};

    fall(0.5 * w->ntu, &l[0], &early, &l[1], &e);
    place(s, &e, w->at[0].W, &w->at[1]);
    if (places < 2) return;
    const shares late = half_way(&l[2], &l[1], &l[0]);
    fall(0.5 * w->ntu, &l[1], &late, &l[2], &e);
    place(s, &e, w->at[1].W, &w->at[2]);
}

static void touched(const ct_coil_surface *s, stretch *w, int i, const ct_coil_contact *c)
{
    w->latent[i] = c->total - c->sensible;
    w->h_water[i] = ct_coil_drained(c);
    w->T_base = c->T_base;
    w->l[i] =
        shares_at(s, &w->at[i], c, ct_coil_vapor_taken(&w->at[i], w->latent[i], w->h_water[i]));
}

/* A place further on, from where the surface lies before. */
static void arrive(ct_coil_surface *s, stretch *w, int i, int rounds)
{
    double D = pull(s, &w->at[i]);
    ct_coil_contact c;

    ct_coil_settle_on(s, &w->at[i], s->T_r + w->l[i].tip * D, rounds, &c);
    touched(s, w, i, &c);
}

/* Water of the step, by what the three places take. */
static double drained(const stretch *w)
{
    double sum = 0.0, all = TINY;

    for (int i = 0; i < 3; i++) {
        double Y =
            (i == 1 ? 4.0 : 1.0) * ct_coil_vapor_taken(&w->at[i], w->latent[i], w->h_water[i]);
        if (!(Y > 0.0)) continue;
        all += Y;
        sum += Y * w->h_water[i];
    }
    return (w->at[0].W - w->at[2].W) * sum / all;
}

static double ntu_of(const ct_coil_wet_way *way, double W, double area)
{
    return way->hA / (way->m_da * ct_moist_cp(W)) * area;
}

/* As far on as from a to b. */
static shares beyond(const shares *a, const shares *b)
{
    return (shares){2.0 * b->wet - a->wet, 2.0 * b->surface - a->surface, 2.0 * b->vapor - a->vapor,
                    2.0 * b->tip - a->tip};
}

/* Index 0 is the start, and the next one's after. */
static void wet_step(const ct_coil_wet_way *way, ct_coil_surface *s, double area, stretch *w)
{
    w->ntu = ntu_of(way, w->at[0].W, area);
    w->l[1] = w->l[2] = w->l[0];
    cross(s, w, 1);
    arrive(s, w, 1, MIDDLE_ROUNDS);
    w->ntu = ntu_of(way, w->at[1].W, area);
    w->l[2] = beyond(&w->l[0], &w->l[1]);
    cross(s, w, 2);
    arrive(s, w, 2, END_ROUNDS);
    cross(s, w, 2);
    w->at[2].h_w = w->at[0].h_w + drained(w);
    w->at[0] = w->at[2];
    w->l[0] = w->l[2];
    w->latent[0] = w->latent[2];
    w->h_water[0] = w->h_water[2];
}

ct_coil_wet_base ct_coil_wet_cross(ct_coil_surface *s, const ct_coil_wet_way *way,
                                   ct_coil_along *at)
{
    const double first = FIRST * way->area / way->steps;
    const double next = (way->area - first) / (way->steps - 1);
    stretch w = {.at[0] = *at};
    ct_coil_contact c;

    ct_coil_settle(s, at, way->T_dp, &c);
    touched(s, &w, 0, &c);
    for (int i = 0; i < way->steps && pull(s, &w.at[0]) > PULL_LEAST; i++)
        wet_step(way, s, i == 0 ? first : next, &w);
    *at = w.at[0];
    return (ct_coil_wet_base){c.T_base, w.T_base};
}
