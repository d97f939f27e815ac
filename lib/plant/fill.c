#include "plant/fill.h"

#include <math.h>
#include <stddef.h>

#include "base/search.h"
#include "base/units.h"
#include "part/target_superheat.h"
#include "plant/balance.h"
#include "plant/charge.h"

#define SUPERHEAT_TOL 1e-7 /* K */
#define STRIDE 12.0        /* K of subcooling, the search's first */
#define USUAL_SLOPE (-1.5) /* K of superheat per K of it, for that stride only */
/* Liquid that leaves the coil goes on where the superheat ends, K per unit of liquid; a starved
 * coil has more superheat than any that balances, a flooded one more liquid: any such slope and
 * numbers will do. */
#define LIQUID_SLOPE 100.0
#define STARVED 60.0
#define FLOODED (-160.0)

typedef struct {
    ct_solver *solver;
    ct_system *sys; /* its condenser's subcooling is moved */
    ct_conditions at;
    double target; /* K */
    ct_balance b;  /* the latest */
    ct_start start;
    bool warm;
    ct_status status; /* of the latest */
    ct_fault *fault;
} filling;

static void seen(filling *f)
{
    f->start = ct_balance_start(&f->b);
    f->warm = true;
}

static ct_status solve(filling *f)
{
    f->status =
        ct_balance_solve(f->solver, f->sys, &f->at, f->warm ? &f->start : NULL, &f->b, f->fault);
    if (f->status == CT_OK) seen(f);
    return f->status;
}

/* At once from the latest, another airflow's; *most: it takes more subcooling than is put in. */
static bool at_target(filling *f, bool *most)
{
    if (!f->warm ||
        !ct_balance_with_superheat(f->solver, f->sys, &f->at, f->target, &f->start, &f->b))
        return false;
    seen(f);
    f->status = CT_OK;
    *most = f->sys->outdoor.condenser.subcooling > CT_FILL_SUBCOOLING_MOST;
    return true;
}

/* Without a balance, and yet known to be far on one side of the target. */
static bool is_far_off(const filling *f)
{
    return f->b.outcome == CT_STARVED_OUT || f->b.outcome == CT_FLOODED_OUT;
}

static double far_off(const filling *f)
{
    if (!is_far_off(f)) return NAN;
    return f->b.outcome == CT_STARVED_OUT ? STARVED : FLOODED;
}

/* Superheat over the target; falls as the subcooling rises, for a fuller system passes more. So a
 * coil that is starved is short of liquid, and may balance with more. */
static double excess(double subcooling, void *context)
{
    filling *f = context;

    f->sys->outdoor.condenser.subcooling = subcooling;
    if (solve(f) != CT_OK) return far_off(f);
    const double over = f->b.superheat - f->target;
    return f->b.superheat <= 0.0 ? over - LIQUID_SLOPE * (1.0 - f->b.quality_out) : over;
}

/* Where even no subcooling leaves less superheat, or the most of it more, that end is taken. */
static ct_status by_superheat(filling *f)
{
    const double begin = f->sys->outdoor.condenser.subcooling;
    const ct_root_job job = {.start = fmin(begin, CT_FILL_SUBCOOLING_MOST),
                             .step = STRIDE,
                             .slope = USUAL_SLOPE,
                             .low = 0.0,
                             .high = CT_FILL_SUBCOOLING_MOST,
                             .rising = false,
                             .tol = SUPERHEAT_TOL};
    ct_root_result result;
    bool most;

    if (at_target(f, &most)) {
        if (most) excess(CT_FILL_SUBCOOLING_MOST, f);
        return f->status;
    }
    if (ct_search_root(excess, f, &job, &result) == CT_ROOT_FOUND) return CT_OK;
    if (f->status == CT_OK || is_far_off(f)) excess(result.x, f);
    return f->status;
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
static ct_status fill_at(const ct_outdoor_unit *u, filling *f, bool stated, double of_rated,
                         double *charge, ct_fault *fault)
{
    ct_status status;

    f->fault = fault;
    f->at.m_da = of_rated * u->V_rated_std * CT_STD_DENSITY;
    f->at.P_blower = of_rated * u->P_blower_rated;
    status = stated ? solve(f) : by_superheat(f);
    return status == CT_OK ? ct_charge_of(f->sys, &f->b, charge, fault) : status;
}

/* Most of 250 to 500 cfm per ton. */
static const double share[CT_CHARGE_AIRS] = {0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.3};
enum { RATED = 4 };

/* From the rated airflow outward, each from its neighbor; where one cannot be filled the curve
 * ends. */
static ct_charge_air along_air(const ct_outdoor_unit *u, filling *f, double rated)
{
    const filling at_rated = *f;
    double charge[CT_CHARGE_AIRS] = {[RATED] = rated};
    int low = RATED, high = RATED;
    ct_charge_air air = {0};

    while (high + 1 < CT_CHARGE_AIRS &&
           fill_at(u, f, false, share[high + 1], &charge[high + 1], NULL) == CT_OK)
        high++;
    *f = at_rated;
    while (low > 0 && fill_at(u, f, false, share[low - 1], &charge[low - 1], NULL) == CT_OK)
        low--;
    for (int i = low; i <= high; i++, air.n++) {
        air.m_da[air.n] = share[i] * u->V_rated_std * CT_STD_DENSITY;
        air.charge[air.n] = charge[i];
    }
    return air;
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
