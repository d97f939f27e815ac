#include "plant/balance_guess.h"

#include <math.h>

#include "part/coil_rough.h"
#include "plant/balance_high.h"
#include "plant/balance_low.h"

#define LOOSE 3e-2 /* of the high side */
#define ROUNDS 6
#define NEAR_ENOUGH 5e-3 /* of the heat; the rough coil is no better */
#define LOST 0.1
#define STEP_MOST 6.0    /* K */
#define SLOPE (-0.13)    /* 1/K, of the heat left over */
#define UNIT_GROWS 0.027 /* 1/K, of the heat that the outdoor unit takes */

/* With a piston the flow is given, so vapor as dense as it must be is warmer by so many kelvins per
 * kelvin of suction: density goes by a thirtieth per kelvin of suction, and by 1/250 per kelvin of
 * superheat. */
#define SUPERHEAT_PER_TE 7.0
#define SUPERHEAT_AIM 6.0  /* K */
#define SUPERHEAT_NEAR 8.0 /* K, from there the straight line does */
#define PISTON_ROUNDS 4

/* The unit at one suction, followed from there along straight lines. */
typedef struct {
    const ct_trial *t;
    ct_coil_tubes tubes;
    bool piston;
} rough;

/* Heat of the rough coil over that of the unit, less 1, x K above. */
static double rough_residual(const rough *r, double x)
{
    const ct_trial *t = r->t;
    const double m = t->comp.m;
    double superheat = t->superheat + (r->piston ? SUPERHEAT_PER_TE * x : 0.0);
    double Q = m * (fmin(t->h_g, t->h_g + superheat * t->cp_g) - t->cond.h_liquid);
    ct_coil_tubes tubes = r->tubes;

    tubes.T_boil += x;
    tubes.T_dew += x;
    tubes.superheat = fmax(0.0, superheat);
    if (!r->piston) Q *= 1.0 + UNIT_GROWS * x;
    return ct_coil_rough_boil(&t->sys->coil, &t->air, &tubes) / Q - 1.0;
}

/* Secants from 0. */
static bool rough_balance(const rough *r, double *x, double *slope)
{
    double f = rough_residual(r, 0.0);

    *x = 0.0;
    *slope = SLOPE;
    for (int i = 0; i < ROUNDS && fabs(f) > NEAR_ENOUGH; i++) {
        const double step = fmin(fmax(-f / *slope, -STEP_MOST), STEP_MOST);
        const double next = rough_residual(r, *x + step), here = (next - f) / step;
        *x += step;
        f = next;
        if (here < 0.0) *slope = here;
    }
    return fabs(f) < LOST;
}

/* A suction from which straight lines reach the balance. */
static bool near_enough(ct_trial *t, double Te, bool piston)
{
    t->inner_tol = LOOSE;
    for (int i = 0; i < PISTON_ROUNDS; i++) {
        if (!ct_balance_high(t, Te)) return false;
        const double off = SUPERHEAT_AIM - t->superheat;
        if (!piston || (t->held == 0 && fabs(off) < SUPERHEAT_NEAR)) return true;
        Te += off / SUPERHEAT_PER_TE;
    }
    return false;
}

bool ct_balance_guess(ct_trial *t, double Te, ct_start *start)
{
    const bool piston = t->sys->meter.kind == CT_METER_ORIFICE;
    double x, slope;

    if (!near_enough(t, Te, piston) || !ct_balance_outlet(t)) return false;
    rough r = {t, ct_balance_tubes(t), piston};
    r.tubes.C_r = t->comp.m * t->cp_g;
    if (!rough_balance(&r, &x, &slope)) return false;
    *start = (ct_start){.Te = t->Te + x, .slope = slope};
    return true;
}
