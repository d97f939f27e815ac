#include "plant/balance.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/search.h"
#include "base/units.h"
#include "plant/balance_enter.h"
#include "plant/balance_guess.h"
#include "plant/balance_high.h"
#include "plant/balance_low.h"
#include "plant/balance_record.h"
#include "plant/balance_scan.h"
#include "plant/balance_together.h"
#include "plant/charge.h"

/* Residual tolerances. The inner one is tighter, so that its noise stays below the outer one. */
#define INNER_TOL 1e-11
#define INNER_TIGHT 1e-12
#define OUTER_TOL 1e-10
/* While the outer residual is far from zero the inner one need not be near: with what is left of it
 * taken into account, a share of the square of the outer one, which is about what the next round of
 * secants leaves, does not slow them down. But an outer residual must be sure of its sign, at the
 * edge of what can be computed too, and below NEARLY it always comes with INNER_TOL; every one with
 * an orifice, whose superheat can turn so steeply that nothing is sure, with INNER_TIGHT. */
#define INNER_SHARE 0.05
#define INNER_LOOSE 1e-3
#define SURE 0.1 /* inner residual over the outer one */
#define NEARLY 1e-8
#define FLOW_FALLS 0.002 /* of the compressor's flow, per K of discharge */
#define COIL_FALLS 0.09  /* of the coil's heat, per K of its tubes */
#define OFF_COLD 1.0     /* residual to expect at a start */
#define OFF_WARM 1e-4
#define OFF_GUESS 0.03

/* Search range and strides, K. */
#define TE_LOW 233.5
#define COLD_TE_BELOW_AIR 20.0
#define COLD_STRIDE_TE 4.0
#define WARM_STRIDE_TE 0.3
#define GUESS_STRIDE_TE 1.0
#define POLISH 10
#define SUBCOOLING_APART 1e-7 /* nearer balances say nothing of how they go with the subcooling */

/* Slope of the residual, 1/K, for the first stride only: coil heat falls by 1/14 to 1/10 and
 * refrigerant heat rises by 1/50 to 1/30 per K of suction; it was -0.09 on a cool day to -0.13 on a
 * hot one. */
#define SLOPE_LOW_SIDE (-0.11)
/* 1/K. Before a piston it is steepest where the vapor nearly meets the air, 5/K over the 0.02 K
 * left at least (balance_low.c); taken many times that. */
#define STEEPEST_LOW_SIDE 1e4

struct ct_solver {
    ct_trial trial;
    /* Whether there is a balance at all is in question: it must be the one found from
     * everywhere. */
    bool at_edge;
};

ct_status ct_solver_make(ct_solver **out, ct_fault *fault)
{
    ct_solver *s = malloc(sizeof *s);

    if (!s) return ct_fault_say(fault, CT_SYSTEM, "out of memory for the solver");
    s->at_edge = false;
    *out = s;
    return CT_OK;
}

void ct_solver_free(ct_solver *s)
{
    free(s);
}

/* ---- Low side --------------------------------------------------------------------- */

/* What the high side's own residual makes of that of the low side, with a valve: liquid warmer by a
 * kelvin takes its heat capacity off what a kilogram can take, and the flow falls; a blend then
 * boils warmer. Good to a tenth. */
static double left_over(const ct_trial *t)
{
    const ct_condenser_state *c = &t->cond;
    const double cp = c->subcooling > 0.0 ? (c->h_bubble - c->h_liquid) / c->subcooling : 0.0;

    if (!(t->slope_high > 0.0)) return 0.0;
    return t->residual_high / t->slope_high *
           (FLOW_FALLS + cp * (1.0 / (t->h_g - c->h_liquid) - COIL_FALLS * t->glides));
}

/* Both sides at Te, the high one balanced to inner_tol. Trouble is noted: the answer may turn out
 * to lie there. */
static void both_sides(ct_trial *t, double Te)
{
    t->trouble = CT_BALANCED;
    t->residual_low = ct_balance_high(t, Te) ? ct_balance_low(t) : ct_balance_way_back(t);
    if (t->trouble == CT_BALANCED && t->sys->meter.kind == CT_METER_VALVE)
        t->residual_low -= left_over(t);
    t->off = fabs(t->residual_low);
}

/* Residual in Te; falls with Te. */
static double low_side(double Te, void *context)
{
    ct_trial *t = context;

    t->inner_tol = INNER_TIGHT;
    if (t->sys->meter.kind == CT_METER_VALVE)
        t->inner_tol = fmin(fmax(INNER_SHARE * t->off * t->off, INNER_TOL), INNER_LOOSE);
    both_sides(t, Te);
    bool edge = t->trouble != CT_BALANCED || t->held != 0;
    if (t->inner_tol > INNER_TOL &&
        fabs(t->residual_high) > (edge || t->off < NEARLY ? INNER_TOL : SURE * t->off)) {
        t->inner_tol = INNER_TOL;
        both_sides(t, Te);
    }
    if (t->trouble != CT_BALANCED) {
        t->met = t->trouble;
        t->met_fault = t->fault;
        if (t->trouble != CT_SUPERHEAT_LOST) t->blind = true;
    }
    return t->residual_low;
}

static double steepest(const ct_trial *t)
{
    return t->sys->meter.kind == CT_METER_ORIFICE ? STEEPEST_LOW_SIDE : 0.0;
}

static ct_root_job outer_job(const ct_trial *t, const ct_start *start)
{
    double T_in = t->air.in.T;
    ct_root_job job = {.start = T_in - COLD_TE_BELOW_AIR,
                       .step = COLD_STRIDE_TE,
                       .slope = SLOPE_LOW_SIDE,
                       .low = TE_LOW,
                       .high = T_in,
                       .rising = false,
                       .tol = OUTER_TOL};

    job.steepest = steepest(t);
    if (start) {
        job.start = start->Te;
        job.step = WARM_STRIDE_TE;
        if (start->slope < 0.0) job.slope = start->slope;
    }
    return job;
}

static ct_outcome outcome_of(ct_root_end end, ct_trial *t)
{
    bool orifice = t->sys->meter.kind == CT_METER_ORIFICE;

    if (t->trouble == CT_SUPERHEAT_LOST && orifice) return CT_STARVED_OUT;
    if (t->trouble != CT_BALANCED) return t->trouble;
    if (t->held != 0) return t->held < 0 ? CT_FLOODED_OUT : CT_STARVED_OUT;
    if (orifice && !ct_balance_boils(t)) return CT_FLOODED_OUT;
    if (fabs(t->residual_low) <= CT_BALANCE_TOL && fabs(t->residual_high) <= CT_BALANCE_TOL)
        return CT_BALANCED;
    /* The area that superheats grows with the logarithm of what is left between vapor and air, so a
     * starved coil can balance nearer to the air than numbers tell apart. */
    if (t->met == CT_SUPERHEAT_LOST && end == CT_ROOT_JUMP)
        return orifice ? CT_STARVED_OUT : CT_SUPERHEAT_LOST;
    if (t->met != CT_BALANCED &&
        t->met !=
            CT_SUPERHEAT_LOST) { /* the search closed in on the edge of what can be computed */
        t->fault = t->met_fault;
        return t->met;
    }
    return end == CT_ROOT_NO_BRACKET ? CT_NO_BALANCE
           : end == CT_ROOT_JUMP     ? CT_JUMPED
                                     : CT_UNCONVERGED;
}

static ct_outcome finish(ct_trial *t, const ct_root_job *job)
{
    ct_root_result result;
    const ct_root_end end = ct_search_root(low_side, t, job, &result);

    t->slope = result.slope;
    if (t->Te != result.x || t->trouble != CT_BALANCED) {
        t->off = 0.0;
        low_side(result.x, t);
    }
    /* Worked out once more, a root within the last digits may lie a little beside itself. */
    for (int i = 0; i < POLISH && fabs(result.f) <= CT_BALANCE_TOL; i++) {
        if (t->trouble != CT_BALANCED || !(fabs(t->residual_low) > CT_BALANCE_TOL)) break;
        low_side(t->Te - t->residual_low / result.slope, t);
    }
    return outcome_of(end, t);
}

static void begin(ct_trial *t)
{
    t->met = CT_BALANCED;
    t->blind = false;
}

static ct_outcome search(ct_trial *t, const ct_start *start)
{
    const ct_root_job job = outer_job(t, start);

    t->off = start ? OFF_WARM : OFF_COLD;
    ct_balance_high_begin(t, start);
    begin(t);
    return finish(t, &job);
}

/* Near a guess; true when nothing was in the way. */
static bool search_near_guess(ct_trial *t)
{
    ct_root_job job = outer_job(t, NULL);
    ct_start guess;

    ct_balance_high_begin(t, NULL);
    if (!ct_balance_guess(t, job.start, &guess)) return false;
    job = outer_job(t, &guess);
    job.step = GUESS_STRIDE_TE;
    t->off = OFF_GUESS;
    begin(t);
    return finish(t, &job) == CT_BALANCED && !t->blind;
}

static ct_outcome scan(ct_trial *t)
{
    const ct_scan s = {low_side, t, t->air.in.T, TE_LOW};
    ct_root_job job = {.steepest = steepest(t), .tol = OUTER_TOL};

    begin(t);
    ct_balance_high_begin(t, NULL);
    t->off = OFF_COLD;
    if (!ct_balance_scan(&s, &job.low, &job.high))
        return t->trouble != CT_NO_BALANCE || t->held == 0 ? t->trouble
               : t->held < 0                               ? CT_FLOODED_OUT
                                                           : CT_STARVED_OUT;
    job.start = job.low;
    job.step = job.high - job.low;
    return finish(t, &job);
}

/* The short search is right where nothing is in its way; a coil that cannot make its superheat is
 * not, its suction is too warm for certain. Else a band of suctions that cannot be worked out may
 * lie between its start and the balance, or there may be two. */
static ct_outcome search_everywhere(ct_trial *t, const ct_start *start)
{
    if (!start && search_near_guess(t)) return CT_BALANCED;
    const ct_outcome outcome = search(t, start);

    return outcome == CT_BALANCED && !t->blind ? outcome : scan(t);
}

/* ---- A charge that stays: balances over the subcooling ----------------------------- */

typedef struct {
    ct_solver *solver;
    ct_system sys;
    const ct_conditions *at;
    ct_start start;
    bool warm;
    int balances;
    double Te_per, Tc_per; /* K/K, from the one before the latest to it */
} charge_trial;

/* The next one lies on the line through the last two. */
static ct_start charge_ahead(const charge_trial *c, double subcooling)
{
    ct_start start = c->start;
    const double apart = subcooling - start.subcooling;

    start.Te += apart * c->Te_per;
    start.Tc += apart * c->Tc_per;
    return start;
}

static void charge_seen(charge_trial *c, double subcooling, const ct_balance *b)
{
    const double apart = subcooling - c->start.subcooling;

    if (c->balances++ > 0 && fabs(apart) > SUBCOOLING_APART) {
        c->Te_per = (b->Te - c->start.Te) / apart;
        c->Tc_per = (b->Tc - c->start.Tc) / apart;
    }
    c->start = ct_balance_start(b);
    c->warm = true;
}

static ct_status balance_at_subcooling(double subcooling, void *context, ct_balance *out,
                                       ct_fault *fault)
{
    charge_trial *c = context;
    ct_status status;

    c->sys.outdoor.condenser.subcooling = subcooling;
    const ct_start start = charge_ahead(c, subcooling);
    status = ct_balance_solve(c->solver, &c->sys, c->at, c->warm ? &start : NULL, out, fault);
    if (status == CT_OK) charge_seen(c, subcooling, out);
    return status;
}

/* From a neighbor at once; the subcooling of `sys` is moved. */
static bool together_near(ct_solver *solver, ct_system *sys, const ct_conditions *at,
                          const ct_together_aim *aim, const ct_start *start, ct_balance *out)
{
    ct_trial *t = &solver->trial;
    const double held = sys->outdoor.condenser.subcooling;

    *t = (ct_trial){.sys = sys, .at = at};
    *out = (ct_balance){.outcome = CT_NOT_COMPUTABLE};
    if (ct_balance_enter(t, NULL) == CT_OK && ct_balance_together_for(t, sys, aim, start, out)) {
        ct_balance_record(t, out);
        return true;
    }
    sys->outdoor.condenser.subcooling = held;
    return false;
}

static bool charged_near(charge_trial *c, double charge, const ct_start *start, ct_balance *out)
{
    const ct_together_aim aim = {CT_FOR_CHARGE, charge};

    return together_near(c->solver, &c->sys, c->at, &aim, start, out);
}

bool ct_balance_with_superheat(ct_solver *solver, ct_system *sys, const ct_conditions *at,
                               double superheat, const ct_start *start, ct_balance *out)
{
    const ct_together_aim aim = {CT_FOR_SUPERHEAT, superheat};

    return ct_balance_check(at, NULL) == CT_OK && together_near(solver, sys, at, &aim, start, out);
}

/* From a neighbor's subcooling along secants. */
static bool charged_beside(charge_trial *c, ct_charge_job *job, const ct_start *start,
                           ct_balance *out)
{
    job->near = start->subcooling;
    job->near_slope = start->charge_per_subcooling;
    c->warm = true;
    c->start = *start;
    return ct_charge_follow(job, out);
}

static ct_status charged(ct_solver *solver, const ct_system *sys, const ct_conditions *at,
                         const ct_start *start, ct_balance *out, ct_fault *fault)
{
    charge_trial c = {.solver = solver, .sys = *sys, .at = at};
    ct_system here = *sys;
    ct_charge_job job = {&here, balance_at_subcooling, &c, 0.0, 0.0};

    here.charge = ct_charge_at(sys, at->m_da);
    c.sys.charge = 0.0;
    if (start && charged_near(&c, here.charge, start, out)) return CT_OK;
    if (start && charged_beside(&c, &job, start, out)) return CT_OK;
    job.near = 0.0;
    solver->at_edge = true;
    const ct_status status = ct_charge_search(&job, out, fault);
    solver->at_edge = false;
    /* A balance whose charge cannot be worked out is none. */
    if (status != CT_OK && out->outcome == CT_BALANCED)
        *out = (ct_balance){.outcome = CT_NOT_COMPUTABLE};
    return status;
}

/* With the subcooling held. */
static bool piston_near(ct_trial *t, const ct_start *start, ct_balance *out)
{
    if (!start || t->sys->meter.kind != CT_METER_ORIFICE) return false;
    if (ct_balance_together(t, start, out)) return true;
    t->suction_superheat = 0.0;
    return false;
}

ct_status ct_balance_solve(ct_solver *solver, const ct_system *sys, const ct_conditions *at,
                           const ct_start *start, ct_balance *out, ct_fault *fault)
{
    ct_trial *t = &solver->trial;
    ct_outcome outcome;
    ct_status status = ct_balance_check(at, fault);

    *t = (ct_trial){.sys = sys, .at = at};
    if (sys->charge > 0.0 && status == CT_OK) return charged(solver, sys, at, start, out, fault);
    memset(out, 0, sizeof *out);
    out->outcome = CT_NOT_COMPUTABLE;
    if (status == CT_OK) status = ct_balance_enter(t, fault);
    if (status != CT_OK) return status;
    outcome =
        !solver->at_edge && piston_near(t, start, out) ? CT_BALANCED : search_everywhere(t, start);
    if (outcome != CT_BALANCED) return ct_balance_record_failure(t, outcome, out, fault);
    ct_balance_record(t, out);
    return CT_OK;
}

/* ---- A trial for its own sake: points of the two curves -------------------------- */

ct_status ct_balance_try(ct_solver *solver, const ct_system *sys, const ct_conditions *at,
                         double Te, ct_balance_trial *out, ct_fault *fault)
{
    ct_trial *t = &solver->trial;
    ct_balance unused;
    ct_status status = ct_balance_check(at, fault);

    *t = (ct_trial){.sys = sys, .at = at};
    if (status == CT_OK) status = ct_balance_enter(t, fault);
    if (status != CT_OK) return status;
    if (!(Te >= TE_LOW && Te <= t->air.in.T))
        return ct_fail(fault, CT_RANGE, Te, TE_LOW, t->air.in.T,
                       "saturated suction %.1f F: allowed %.1f F to the entering air's %.1f F",
                       ct_F_from_K(Te), ct_F_from_K(TE_LOW), ct_F_from_K(t->air.in.T));
    ct_balance_high_begin(t, NULL);
    t->off = 0.0;
    low_side(Te, t);
    if (t->trouble != CT_BALANCED && t->trouble != CT_SUPERHEAT_LOST)
        return ct_balance_record_failure(t, t->trouble, &unused, fault);
    if (t->held != 0)
        return ct_balance_record_failure(t, t->held < 0 ? CT_FLOODED_OUT : CT_STARVED_OUT, &unused,
                                         fault);
    ct_balance_record_trial(t, out);
    return CT_OK;
}
