#include "plant/fill.h"

#include <math.h>
#include <stddef.h>

#include "base/units.h"
#include "part/target_superheat.h"
#include "plant/balance.h"
#include "plant/charge.h"

#define SUPERHEAT_TOL 1e-7 /* K */
#define CLOSED 1e-9        /* K of subcooling */
#define ROUNDS 60
/* Liquid that leaves the coil goes on where the superheat ends, K per unit of liquid: any slope
 * will do. */
#define LIQUID_SLOPE 100.0

typedef struct {
    ct_solver *solver;
    ct_system *sys; /* its condenser's subcooling is moved */
    ct_conditions at;
    double target; /* K */
    ct_balance b;  /* the latest */
    bool warm;
} filling;

static ct_status solve(filling *f, ct_fault *fault)
{
    const ct_start start = ct_balance_start(&f->b);
    const ct_status status =
        ct_balance_solve(f->solver, f->sys, &f->at, f->warm ? &start : NULL, &f->b, fault);

    f->warm = status == CT_OK;
    return status;
}

/* Superheat over the target; falls as the subcooling rises, for a fuller system passes more. */
static ct_status excess(filling *f, double subcooling, double *d, ct_fault *fault)
{
    f->sys->outdoor.condenser.subcooling = subcooling;
    const ct_status status = solve(f, fault);
    if (status != CT_OK) return status;
    *d = f->b.superheat - f->target;
    if (f->b.superheat <= 0.0) *d -= LIQUID_SLOPE * (1.0 - f->b.quality_out);
    return CT_OK;
}

/* Illinois form of the false position between low, where superheat is over the target, and high. */
static ct_status close_in(filling *f, double low, double d_low, double high, double d_high,
                          ct_fault *fault)
{
    int side = 0;

    for (int i = 0; i < ROUNDS && high - low > CLOSED; i++) {
        const double x = (low * d_high - high * d_low) / (d_high - d_low);
        double d;
        const ct_status status = excess(f, x, &d, fault);
        if (status != CT_OK || fabs(d) <= SUPERHEAT_TOL) return status;
        if (d > 0.0) {
            low = x;
            d_low = d;
            if (side > 0) d_high *= 0.5;
            side = 1;
        } else {
            high = x;
            d_high = d;
            if (side < 0) d_low *= 0.5;
            side = -1;
        }
    }
    return CT_OK;
}

/* Where even no subcooling leaves less superheat, or the most of it more, that end is taken. */
static ct_status by_superheat(filling *f, ct_fault *fault)
{
    double d_low, d_high;
    ct_status status = excess(f, 0.0, &d_low, fault);

    if (status != CT_OK || d_low <= 0.0) return status;
    status = excess(f, CT_FILL_SUBCOOLING_MOST, &d_high, fault);
    if (status != CT_OK || d_high >= 0.0) return status;
    return close_in(f, 0.0, d_low, CT_FILL_SUBCOOLING_MOST, d_high, fault);
}

static ct_status rating_day(ct_fill_day *day, ct_fault *fault)
{
    day->T_out = CT_RATING_T_OUT;
    return ct_air_from_wet_bulb(CT_RATING_T_IN, CT_RATING_T_WB, CT_ATM_PA, &day->in, fault);
}

static ct_status target_of(const ct_fill_day *day, double *target, ct_fault *fault)
{
    double wet_bulb;
    const ct_status status = ct_air_wet_bulb(&day->in, &wet_bulb, fault);

    return status == CT_OK ? ct_target_superheat(wet_bulb, day->T_out, target, fault) : status;
}

static ct_status choose_day(const ct_fill_day *day, bool stated, filling *f, ct_fault *fault)
{
    ct_fill_day own;
    ct_status status;

    if (!stated && day && target_of(day, &f->target, NULL) == CT_OK) {
        own = *day;
    } else {
        status = rating_day(&own, fault);
        if (status == CT_OK) status = target_of(&own, &f->target, fault);
        if (status != CT_OK) return status;
    }
    f->at.in = own.in;
    f->at.T_out = own.T_out;
    return CT_OK;
}

/* The charge at this share of the rated airflow. */
static ct_status fill_at(const ct_outdoor_unit *u, filling *f, bool stated, double share,
                         double *charge, ct_fault *fault)
{
    ct_status status;

    f->at.m_da = share * u->V_rated_std * CT_STD_DENSITY;
    f->at.P_blower = share * u->P_blower_rated;
    status = stated ? solve(f, fault) : by_superheat(f, fault);
    return status == CT_OK ? ct_charge_of(f->sys, &f->b, charge, fault) : status;
}

/* Through three airflows: most of 250 to 500 cfm per ton. */
#define SLOW 0.7
#define FAST 1.25

static ct_charge_air along_air(const ct_outdoor_unit *u, filling *f, double rated)
{
    const double x = SLOW - 1.0, y = FAST - 1.0;
    double slow, fast;

    if (fill_at(u, f, false, SLOW, &slow, NULL) != CT_OK ||
        fill_at(u, f, false, FAST, &fast, NULL) != CT_OK)
        return (ct_charge_air){0};
    slow = (slow / rated - 1.0) / x;
    fast = (fast / rated - 1.0) / y;
    return (ct_charge_air){.m_rated = u->V_rated_std * CT_STD_DENSITY,
                           .slope = (slow * y - fast * x) / (y - x),
                           .bend = (fast - slow) / (y - x)};
}

ct_status ct_fill_piston(const ct_outdoor_unit *u, const ct_fill_day *day, ct_system *sys,
                         ct_fault *fault)
{
    const bool stated = !(u->assumed & CT_ASSUMED_SUBCOOLING);
    ct_system trial = *sys;
    filling f = {.sys = &trial};
    ct_status status;

    sys->charge = trial.charge = 0.0;
    sys->by_air = trial.by_air = (ct_charge_air){0};
    if (sys->meter.kind != CT_METER_ORIFICE) return CT_OK;
    status = ct_solver_make(&f.solver, fault);
    if (status != CT_OK) return status;
    status = choose_day(day, stated, &f, fault);
    if (status == CT_OK) status = fill_at(u, &f, stated, 1.0, &sys->charge, fault);
    if (status == CT_OK && !stated) sys->by_air = along_air(u, &f, sys->charge);
    ct_solver_free(f.solver);
    return status;
}
