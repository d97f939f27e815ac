#include "part/coil_surface.h"

#include <math.h>

#include "fluid/moist.h"

#define ROUNDS_MOST 60
#define ALL_WET (1.0 - 1e-12) /* share of the area, but for rounding */
#define SECANT_LEAST 1e-9     /* K, a shorter step gives no usable slope */
/* Search without a neighbor, K: a first step of at most NEAR_ENOUGH is the last one, as what is
 * left is of second order in it; one beyond FAR is followed to SETTLED; between the two the answers
 * are blended, so that nothing steps where the number of rounds changes. */
#define NEAR_ENOUGH 0.5
#define FAR 1.0
#define SETTLED 1e-8

static ct_coil_contact touch(const ct_coil_surface *s, const ct_fin_around *air, double tip)
{
    double fins = s->fin_share;
    ct_fin_taken taken;
    ct_coil_contact c;

    ct_fin_from_tip(s->metal, air, tip, &taken);
    c.T_base = taken.T_base;
    c.T_wet = taken.T_wet;
    /* The bare tube counts as wet where it begins to be: no step there. */
    c.wet = 1.0 - fins + fins * taken.wet;
    c.total = (1.0 - fins) * taken.total_base + fins * taken.total;
    c.sensible = (1.0 - fins) * (air->T - taken.T_base) + fins * taken.sensible;
    c.f = s->ratio * (c.T_base - s->T_r) - c.total;
    return c;
}

static ct_coil_contact onward(const ct_coil_contact *c, double step, const ct_coil_contact *slope)
{
    return (ct_coil_contact){c->f + step * slope->f,         c->T_base + step * slope->T_base,
                             c->total + step * slope->total, c->sensible + step * slope->sensible,
                             c->T_wet + step * slope->T_wet, c->wet};
}

static void secant(const ct_coil_contact *c0, const ct_coil_contact *c1, double step,
                   ct_coil_contact *slope)
{
    double per = 1.0 / step;

    if (!(fabs(step) > SECANT_LEAST)) return;
    *slope = (ct_coil_contact){(c1->f - c0->f) * per,         (c1->T_base - c0->T_base) * per,
                               (c1->total - c0->total) * per, (c1->sensible - c0->sensible) * per,
                               (c1->T_wet - c0->T_wet) * per, 0.0};
}

/* Vapor comes as it is in the air and leaves as water at the metal's temperature. */
static ct_fin_around around(const ct_coil_surface *s, const ct_coil_along *at)
{
    return (ct_fin_around){.T = at->T,
                           .W = at->W,
                           .p = s->p,
                           .T_dp = NAN,
                           .cp = ct_moist_cp(at->W),
                           .lift = ct_moist_h_vapor(at->T),
                           .lift_slope = -CT_AIR_CPW};
}

/* Where the search for the tip begins: the warmer of a dry surface's and that of a straight line
 * through saturation at the tubes, the tip from the base as on a dry fin with the slope of the line
 * for one. A few tenths of a kelvin off, and without a step where the surface turns wet. */
static double first_tip(const ct_coil_surface *s, const ct_coil_along *at)
{
    double lift = CT_AIR_HG0 / s->cp, dW, W = ct_moist_W_sat(s->T_r, s->p, &dW);
    double phi = at->T - s->T_r + (at->W - W) * lift, worth = s->worth;
    double slope = 1.0 + CT_COIL_STEEPER * dW * lift, wet, T_base;
    double dry = (at->T - s->T_r) * s->ratio / (worth + s->ratio) / s->metal->dry_base;

    worth = 1.0 / (1.0 + (1.0 / worth - 1.0) * slope);
    wet = 1.0 / (1.0 + (s->metal->dry_base - 1.0) * slope);
    T_base = s->T_r + phi * worth / (s->ratio + slope * worth);
    return fmax(at->T - dry, T_base + (phi / slope - (T_base - s->T_r)) * (1.0 - wet));
}

/* One place of the search: a tip, what touches there, and the step to the next. */
typedef struct {
    double tip, step;
    ct_coil_contact c, slope;
} trial;

static trial next_trial(const ct_coil_surface *s, const ct_fin_around *air, const trial *last,
                        double tip)
{
    trial t = {.tip = tip, .slope = last->slope};

    t.c = touch(s, air, tip);
    secant(&last->c, &t.c, tip - last->tip, &t.slope);
    t.step = -t.c.f / t.slope.f;
    return t;
}

/* Secants, kept between tubes and air. */
static trial follow(const ct_coil_surface *s, const ct_fin_around *air, trial t)
{
    double low = s->T_r, high = air->T;

    for (int i = 0; i < ROUNDS_MOST && fabs(t.step) >= SETTLED; i++) {
        double tip = t.tip + t.step;
        if (t.c.f > 0.0)
            high = t.tip;
        else
            low = t.tip;
        if (!(high - low > SECANT_LEAST)) break;
        if (!(tip >= low && tip <= high)) tip = 0.5 * (low + high);
        t = next_trial(s, air, &t, tip);
    }
    return t;
}

static ct_coil_contact blend(const ct_coil_contact *a, const ct_coil_contact *b, double w)
{
    ct_coil_contact d = {b->f - a->f,         b->T_base - a->T_base,
                         b->total - a->total, b->sensible - a->sensible,
                         b->T_wet - a->T_wet, 0.0};
    ct_coil_contact c = onward(a, w, &d);

    c.wet += w * (b->wet - a->wet);
    return c;
}

void ct_coil_settle(ct_coil_surface *s, const ct_coil_along *at, double T_dp, ct_coil_contact *out)
{
    ct_fin_around air = around(s, at);
    double tip = first_tip(s, at), x;
    trial before = {.tip = tip - 0.02 * (tip - s->T_r) - 1e-3}, t;

    s->T_dp = air.T_dp = T_dp;
    before.c = touch(s, &air, before.tip);
    t = next_trial(s, &air, &before, tip);
    s->slope = t.slope;
    s->tip = t.tip + t.step;
    s->part_wet = t.c.wet < ALL_WET;
    *out = onward(&t.c, t.step, &t.slope);
    x = (fabs(t.step) - NEAR_ENOUGH) / (FAR - NEAR_ENOUGH);
    if (x <= 0.0) return;
    trial end = follow(s, &air, t);
    ct_coil_contact there = onward(&end.c, end.step, &end.slope);
    double w = x < 1.0 ? x * x * (3.0 - 2.0 * x) : 1.0;
    s->slope = blend(&t.slope, &end.slope, w);
    s->tip += w * (end.tip + end.step - s->tip);
    *out = blend(out, &there, w);
}

void ct_coil_settle_on(ct_coil_surface *s, const ct_coil_along *at, double tip, int rounds,
                       ct_coil_contact *out)
{
    ct_fin_around air = around(s, at);
    double step;
    ct_coil_contact c;

    /* Once for all rounds, where a part of the fin is likely to be dry. */
    air.T_near = s->T_dp;
    if (s->part_wet) air.T_dp = s->T_dp = ct_fin_dew_point(at->W, s->p, s->T_dp);
    c = touch(s, &air, tip);
    for (int i = 1; i < rounds; i++) {
        ct_coil_contact next;
        step = -c.f / s->slope.f;
        next = touch(s, &air, tip + step);
        secant(&c, &next, step, &s->slope);
        tip += step;
        c = next;
    }
    step = -c.f / s->slope.f;
    s->tip = tip + step;
    s->part_wet = c.wet < ALL_WET;
    *out = onward(&c, step, &s->slope);
}
