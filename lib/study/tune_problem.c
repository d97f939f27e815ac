#include "study/tune_problem.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/search.h"
#include "base/units.h"
#include "plant/fill.h"
#include "study/visit_derive.h"

/* Judgment: about twice the differences, root mean square, between this model and the second one of
 * the tests (tests/second_plant.h); of the reading, and beside it an amount. With a valve the two
 * differ by one coil multiplier, some 5 % and much the same on every visit, which moves the supply
 * and suction readings together: that is in ct_tune_doubt_of, and only what it leaves is here. With
 * a piston the superheat goes where it will, and they differ `piston` times as far. */
static const struct {
    double share, amount, piston;
} doubts[CT_READING_COUNT] = {
    [CT_SUPPLY_DRY_BULB] = {0, 0.25 / CT_F_PER_K, 2},
    [CT_SUPPLY_WET_BULB] = {0, 0.15 / CT_F_PER_K, 2},
    [CT_SUPPLY_RH] = {0, 0.01, 2},
    [CT_SUCTION_PRESSURE] = {0.0075, 0, 2},
    [CT_SUCTION_TEMPERATURE] = {0, 0.5 / CT_F_PER_K, 2},
    [CT_LIQUID_PRESSURE] = {0.007, 0, 1.5},
    [CT_LIQUID_TEMPERATURE] = {0, 0.35 / CT_F_PER_K, 1.5},
    [CT_COMPRESSOR_POWER] = {0.03, 0, 1},
    [CT_OUTDOOR_POWER] = {0.03, 0, 1},
    [CT_CONDENSER_LEAVING] = {0, 3.0 / CT_F_PER_K,
                              1}, /* its airflow is not on the plate: 15 % of 20 F */
    [CT_CONDENSATE] = {0.05, 0, 1},
};

double ct_tune_doubt(ct_reading_kind kind, double v)
{
    if (!((unsigned)kind < CT_READING_COUNT)) return 0.0;
    return hypot(doubts[kind].share * v, doubts[kind].amount);
}

double ct_tune_doubt_of_row(const ct_tune_problem *p, int row, double v)
{
    const bool piston = p->job.system.meter.kind == CT_METER_ORIFICE;
    return p->doubt * ct_tune_doubt((ct_reading_kind)row, v) * (piston ? doubts[row].piston : 1.0);
}

/* Found with the second model of the tests: wide enough for its truths (tests/tune_table.c). With a
 * piston the superheat goes where it will, and what it costs the coil differs from model to model.
 * A coil comes out some 7 % low of the second model's, which the width has to hold. */
double ct_tune_doubt_of(const ct_tune_problem *p, int unknown)
{
    static const double valve[CT_TUNE_MULTIPLIERS] = {
        [CT_TUNE_COIL] = 0.08,      [CT_TUNE_FLOW] = 0.02,     [CT_TUNE_POWER] = 0.01,
        [CT_TUNE_CONDENSER] = 0.03, [CT_TUNE_AIRFLOW] = 0.035, [CT_TUNE_PISTON] = 0.05};
    if (unknown >= CT_TUNE_MULTIPLIERS) return 0.0;
    if (p->job.system.meter.kind == CT_METER_ORIFICE) {
        if (unknown == CT_TUNE_COIL) return 0.13;
        if (unknown == CT_TUNE_CONDENSER) return 0.06;
    }
    return valve[unknown];
}

/* Relative doubt of a blower's table at twice its last static, in airflow and in watts; in
 * proportion before. Judgment, no source. */
#define PAST_TABLE 0.30

static void set_unknown(ct_tune_problem *p, int i, double prior, double sigma)
{
    p->prior[i] = (ct_tune_prior){.fitted = true, .prior = prior, .sigma = sigma, .start = prior};
}

/* A condition that was read, or the case's with its doubt. */
static void set_condition(ct_tune_problem *p, int i, ct_reading_kind kind, double otherwise,
                          double doubt)
{
    const ct_reading *r = &p->readings.r[kind];

    set_unknown(p, i, r->has ? r->v : otherwise, r->has ? r->u : doubt);
    p->prior[i].read = r->has;
}

/* A setting of the case; what pressure and temperature say of it (NaN: nothing) is where the search
 * begins. */
static void set_setting(ct_tune_problem *p, int i, double setting, double doubt, double by_readings)
{
    set_unknown(p, i, setting, doubt);
    if (isfinite(by_readings)) p->prior[i].start = fmin(fmax(by_readings, 0.5), 28.0);
}

static void set_charge(ct_tune_problem *p)
{
    const ct_outdoor *o = &p->job.system.outdoor;
    double superheat = (double)NAN, subcooling = (double)NAN;

    if (ct_visit_superheat(&p->visit, &p->readings, &superheat))
        superheat -= ct_plant_line_superheat(o, p->visit.T_out, p->c.outdoor.T_suction_rated);
    ct_visit_subcooling(&p->visit, &p->readings, &subcooling);
    set_setting(p, CT_TUNE_SUBCOOLING, p->subcooling, hypot(CT_TUNE_SIGMA_SUBCOOLING, p->u_filled),
                subcooling);
    set_setting(p, CT_TUNE_SUPERHEAT, p->job.system.meter.superheat, CT_TUNE_SIGMA_SUPERHEAT,
                superheat);
    p->prior[CT_TUNE_SUPERHEAT].fitted = p->job.system.meter.kind == CT_METER_VALVE;
    p->prior[CT_TUNE_PISTON].fitted = p->job.system.meter.kind == CT_METER_ORIFICE;
}

static void set_unknowns(ct_tune_problem *p)
{
    bool wet_bulb = p->readings.r[CT_RETURN_WET_BULB].has;

    set_unknown(p, CT_TUNE_COIL, 0.0, CT_TUNE_SIGMA_COIL);
    set_unknown(p, CT_TUNE_FLOW, 0.0, CT_TUNE_SIGMA_FLOW);
    set_unknown(p, CT_TUNE_POWER, 0.0, CT_TUNE_SIGMA_POWER);
    set_unknown(p, CT_TUNE_CONDENSER, 0.0, CT_TUNE_SIGMA_CONDENSER);
    set_unknown(p, CT_TUNE_AIRFLOW, 0.0, CT_TUNE_SIGMA_AIRFLOW);
    set_unknown(p, CT_TUNE_PISTON, 0.0, CT_TUNE_SIGMA_PISTON);
    set_condition(p, CT_TUNE_RETURN_T, CT_RETURN_DRY_BULB, p->job.indoor.T, CT_TUNE_SIGMA_RETURN_T);
    set_condition(p, CT_TUNE_RETURN_MOISTURE, wet_bulb ? CT_RETURN_WET_BULB : CT_RETURN_RH,
                  ct_air_rh(&p->job.indoor), CT_TUNE_SIGMA_RETURN_RH);
    set_condition(p, CT_TUNE_OUTDOOR_T, CT_OUTDOOR_DRY_BULB, p->job.T_out, CT_TUNE_SIGMA_OUTDOOR_T);
    set_charge(p);
    p->n_x = 0;
    for (int i = 0; i < CT_TUNE_COUNT; i++)
        if (p->prior[i].fitted) p->of_x[p->n_x++] = i;
}

bool ct_tune_problem_is_condition(ct_reading_kind kind)
{
    return kind == CT_RETURN_DRY_BULB || kind == CT_RETURN_WET_BULB || kind == CT_RETURN_RH ||
           kind == CT_OUTDOOR_DRY_BULB;
}

int ct_tune_problem_unknown_of(ct_reading_kind kind)
{
    return kind == CT_RETURN_DRY_BULB    ? CT_TUNE_RETURN_T
           : kind == CT_OUTDOOR_DRY_BULB ? CT_TUNE_OUTDOOR_T
                                         : CT_TUNE_RETURN_MOISTURE;
}

bool ct_tune_problem_compares(const ct_tune_problem *p, int row)
{
    if (row == CT_TUNE_ROW_DUCTS) return p->readings.r[CT_STATIC].has && p->u_V_ducts > 0.0;
    if (!p->readings.r[row].has || ct_tune_problem_is_condition((ct_reading_kind)row)) return false;
    if (ct_visit_derive_for((ct_reading_kind)row) != CT_READING_COUNT) return false;
    if (row == CT_BLOWER_POWER) return p->tap >= 0;
    return row != CT_STATIC || p->of_tap.u_V_static > 0.0;
}

static void set_row(ct_tune_problem *p, int row)
{
    const ct_reading *r = &p->readings.r[row == CT_TUNE_ROW_DUCTS ? CT_STATIC : row];
    double seen = r->v, u = r->u;

    if (row == CT_TUNE_ROW_DUCTS) {
        seen = p->V_ducts;
        u = p->u_V_ducts;
    } else if (row == CT_STATIC) {
        seen = p->of_tap.V_static;
        u = p->of_tap.u_V_static;
    } else if (row == CT_BLOWER_POWER) {
        u = hypot(u, p->of_tap.u_P_static);
    } else {
        u = hypot(u, ct_tune_doubt_of_row(p, row, r->v));
    }
    p->seen[row] = seen;
    p->u_row[row] = u;
    p->of_y[p->n_y++] = row;
}

/* The problem as seen with these readings. */
void ct_tune_problem_arrange(ct_tune_problem *p, const ct_readings *readings)
{
    p->readings = *readings;
    p->of_tap = p->told;
    p->charge_stays = false;
    set_unknowns(p);
    p->n_y = 0;
    for (int row = 0; row < CT_TUNE_ROWS; row++)
        if (ct_tune_problem_compares(p, row)) set_row(p, row);
}

static ct_status find_tap(const ct_blower *b, const char *name, int *tap, ct_fault *fault)
{
    char names[CT_TAP_NAMES_SIZE];

    *tap = -1;
    if (!*name) return CT_OK;
    *tap = ct_blower_find_tap(b, name);
    if (*tap >= 0) return CT_OK;
    return ct_fault_say(fault, CT_INPUT, "no tap '%.40s' in the case file; it has: %s", name,
                        b->n_taps > 0 ? ct_blower_tap_names(b, names, sizeof names) : "no taps");
}

/* How far a static lies past the last point of a tap, over that point's: the table is continued
 * there, which is a guess. */
static double past_table(const ct_tap *tap, double dp)
{
    const double last = tap->point[tap->n - 1].dp;
    return last > 0.0 ? fmin(1.0, fmax(0.0, dp / last - 1.0)) : 0.0;
}

/* Static turned into airflow by the blower's table; on a motor that holds its airflow the static
 * says nothing. */
static void read_static(const ct_tune_problem *p, int i, ct_tune_tap *tap)
{
    const ct_reading *r = &p->visit.readings->r[CT_STATIC];
    const ct_blower *b = &p->job.blower;
    ct_blower_point there;
    double V, up, down;

    if (!r->has || ct_blower_flow(b, i, r->v, &V, NULL) != CT_OK ||
        ct_blower_flow(b, i, r->v + r->u, &up, NULL) != CT_OK ||
        ct_blower_flow(b, i, fmax(0.0, r->v - r->u), &down, NULL) != CT_OK)
        return;
    const ct_duct through = {.dp = r->v,
                             .V = V,
                             .exponent = p->job.duct.exponent,
                             .coil_exponent = p->job.duct.coil_exponent};
    if (ct_blower_meet(b, i, &through, &there, NULL) == CT_OK) tap->P_static = there.P;
    tap->past = past_table(&b->tap[i], r->v);
    tap->u_P_static = (CT_TUNE_SIGMA_WATTS + PAST_TABLE * tap->past) * tap->P_static;
    tap->slope = (up - down) / (r->u + fmin(r->u, r->v));
    const double by_static = tap->slope * r->u;
    if (fabs(by_static) < 1e-3 * V) return;
    tap->V_static = V;
    tap->u_V_static = hypot(by_static, (CT_TUNE_SIGMA_TABLE + PAST_TABLE * tap->past) * V);
}

/* Doubt of a table with `less` of its prior's spread taken off; all of them relative. */
static double nearer(double u, double sigma, double past, double less)
{
    const double wide = sigma + PAST_TABLE * past, near = wide - less * sigma;
    return sqrt(fmax(0.0, u * u - wide * wide + near * near));
}

void ct_tune_problem_near(ct_tune_problem *p, double share)
{
    const ct_tune_tap *t = p->of_tap.u_V_static > 0.0 ? &p->of_tap : &p->told;
    const double less = 1.0 - share, V = t->V_static, P = p->told.P_static;
    if (V > 0.0)
        p->u_row[CT_STATIC] = V * nearer(t->u_V_static / V, CT_TUNE_SIGMA_TABLE, t->past, less);
    if (P > 0.0)
        p->u_row[CT_BLOWER_POWER] =
            P * nearer(p->u_row[CT_BLOWER_POWER] / P, CT_TUNE_SIGMA_WATTS, p->told.past, less);
}

void ct_tune_problem_tap(const ct_tune_problem *p, int i, ct_tune_tap *tap)
{
    ct_blower_point meet;

    *tap = (ct_tune_tap){0};
    if (ct_blower_meet(&p->job.blower, i, &p->job.duct, &meet, NULL) != CT_OK) return;
    *tap = (ct_tune_tap){.has = true,
                         .V = meet.V,
                         .P = meet.P,
                         .P_static = meet.P,
                         .u_P_static = CT_TUNE_SIGMA_WATTS * meet.P};
    read_static(p, i, tap);
}

typedef struct {
    const ct_duct *duct;
    double dp;
} duct_at;

static bool asks_less(double V, void *context)
{
    const duct_at *at = context;
    return ct_duct_dp(at->duct, V) < at->dp;
}

/* Static turned into airflow by the ducts of the case: V = V0 (dp/dp0)^(1/n) where the coil adds
 * nothing. */
static void read_ducts(ct_tune_problem *p)
{
    const ct_reading *r = &p->visit.readings->r[CT_STATIC];
    duct_at at = {&p->job.duct, r->v}, above = {&p->job.duct, r->v + r->u};

    if (!r->has || !p->job.has_duct) return;
    p->V_ducts = ct_search_halve(asks_less, &at, 0.0, CT_V_LIMIT, 60);
    const double up = ct_search_halve(asks_less, &above, 0.0, CT_V_LIMIT, 60);
    p->u_V_ducts = hypot(up - p->V_ducts, CT_TUNE_SIGMA_DUCTS * p->V_ducts);
}

/* Where no tap is named: what the blower is set to move, standard air. That is what the sweep
 * picks, for which the sheet says what to expect at start-up; where it picks none it stays the
 * rated. */
static ct_status look_at_pick(ct_tune_problem *p, ct_fault *fault)
{
    ct_sweep *s;

    if (p->job.is_low) {
        p->as_picked = p->job.low.passes;
        if (p->as_picked) p->V_nominal = p->job.low.V_std;
        return CT_OK;
    }
    s = calloc(1, sizeof *s);
    if (!s) return ct_fault_say(fault, CT_SYSTEM, "out of memory for the sweep");
    const ct_status status = ct_sweep_speeds_only(p->solver, &p->job, s, fault);
    const ct_point *at = status == CT_OK ? ct_sweep_nearest(s) : NULL;
    p->as_picked = at && at->passes;
    if (p->as_picked) p->V_nominal = at->V_std;
    free(s);
    return status == CT_SYSTEM ? status : CT_OK;
}

static ct_status nominal_airflow(ct_tune_problem *p, ct_fault *fault)
{
    const ct_reading *watts = &p->visit.readings->r[CT_BLOWER_POWER];
    ct_blower_point meet;

    ct_status status = find_tap(&p->job.blower, p->visit.readings->tap, &p->tap, fault);
    if (status != CT_OK) return status;
    p->V_nominal = p->job.is_low ? p->c.outdoor.low.V_std : p->c.outdoor.V_rated_std;
    if (p->tap < 0) status = look_at_pick(p, fault);
    if (status != CT_OK) return status;
    p->P_blower = ct_sweep_job_rated_watts(&p->job, p->V_nominal);
    if (p->tap >= 0) {
        status = ct_blower_meet(&p->job.blower, p->tap, &p->job.duct, &meet, fault);
        if (status != CT_OK) return status;
        ct_tune_problem_tap(p, p->tap, &p->told);
        p->of_tap = p->told;
        p->V_nominal = meet.V;
        p->P_blower = meet.P;
    }
    if (watts->has) p->P_blower = watts->v;
    read_ducts(p);
    return CT_OK;
}

/* Airflow for the heat balance: measured, else by static, else of the tap or nominal. */
static void best_airflow(ct_tune_problem *p)
{
    const ct_reading *r = &p->visit.readings->r[CT_AIRFLOW];
    ct_visit *v = &p->visit;

    v->V = p->of_tap.has ? p->of_tap.V : p->V_nominal / ct_sweep_job_thinness(&p->job);
    v->u_V = CT_TUNE_SIGMA_AIRFLOW;
    if (p->of_tap.u_V_static > 0.0) {
        v->V = p->of_tap.V_static;
        v->u_V = p->of_tap.u_V_static / v->V;
    }
    if (r->has) {
        v->V = r->v;
        v->u_V = r->u / r->v;
    }
}

void ct_tune_problem_runs_on(ct_tune_problem *p, int tap)
{
    ct_tune_problem_tap(p, tap, &p->of_tap);
    if (p->of_tap.has && !p->given.r[CT_BLOWER_POWER].has) p->visit.P_blower = p->of_tap.P_static;
    best_airflow(p);
}

static ct_status check_readings(const ct_readings *s, ct_fault *fault)
{
    int n = 0;

    for (int i = 0; i < CT_READING_COUNT; i++) {
        const ct_reading *r = &s->r[i];
        if (!r->has) continue;
        n++;
        if (!isfinite(r->v) || !isfinite(r->u) || !(r->u > 0.0))
            return ct_fail(fault, CT_INPUT, r->v, NAN, NAN,
                           "%s: value %.4g with uncertainty %.4g; both must be numbers, the "
                           "uncertainty above 0",
                           ct_reading_name((ct_reading_kind)i), r->v, r->u);
    }
    if (n > 0) return CT_OK;
    return ct_fault_say(fault, CT_INPUT, "no readings: give at least one");
}

static ct_status return_air(const ct_tune_problem *p, ct_air *air)
{
    const ct_reading *T = &p->given.r[CT_RETURN_DRY_BULB], *wet = &p->given.r[CT_RETURN_WET_BULB],
                     *rh = &p->given.r[CT_RETURN_RH];
    const double T_in = T->has ? T->v : p->job.indoor.T;

    if (wet->has) return ct_air_from_wet_bulb(T_in, wet->v, p->visit.p, air, NULL);
    return ct_air_from_rh(T_in, rh->has ? rh->v : ct_air_rh(&p->job.indoor), p->visit.p, air, NULL);
}

/* K. The superheat is set within some 5 F (ANSI/ACCA 5, from memory, unconfirmed), twice its
 * standard deviation, and falls by some 2 K per kelvin of subcooling (the model's own slope): 1.25
 * F of subcooling; and 1 F for a compressor that moves 2.5 % more or less, which takes another
 * charge (2 F per 5 %, the model's too). */
#define FILLED_DOUBT (1.6 / CT_F_PER_K)
#define FLOW_STEP 0.05 /* of what the piston passes */

/* On this visit, of the charge that the target superheat took where the piston passes exp(more) of
 * what its bore says; NAN where that does not balance. */
static double filled_subcooling(const ct_tune_problem *p, double more)
{
    const ct_fill_day day = {p->job.indoor, p->job.T_out};
    ct_system s = p->job.system;
    ct_conditions at = {.T_out = p->visit.T_out, .P_blower = p->P_blower};
    ct_balance b;

    s.meter.orifice.bore *= exp(0.5 * more); /* flow goes with the area */
    if (more != 0.0 && ct_fill_piston(&p->c.outdoor, &day, &s, NULL) != CT_OK) return (double)NAN;
    if (return_air(p, &at.in) != CT_OK) return (double)NAN;
    at.m_da = p->V_nominal * CT_STD_DENSITY * (p->tap >= 0 ? ct_sweep_job_thinness(&p->job) : 1.0);
    return ct_balance_solve(p->solver, &s, &at, NULL, &b, NULL) == CT_OK ? b.subcooling
                                                                         : (double)NAN;
}

/* A piston is charged by superheat unless its subcooling is stated (plant/fill.h). How much that
 * takes depends on what the piston really passes: one that passes more took less. */
static void find_charge(ct_tune_problem *p)
{
    const ct_system *s = &p->job.system;

    p->subcooling = s->outdoor.condenser.subcooling;
    p->u_filled = p->less_filled = p->room_filled = 0.0;
    if (!(s->charge > 0.0) || !(p->c.outdoor.assumed & CT_ASSUMED_SUBCOOLING)) return;
    const double here = filled_subcooling(p, 0.0);
    if (!isfinite(here)) return;
    const double less = filled_subcooling(p, FLOW_STEP), more = filled_subcooling(p, -FLOW_STEP);
    p->subcooling = here;
    p->u_filled = FILLED_DOUBT;
    p->room_filled = fmax(0.0, CT_FILL_SUBCOOLING_MOST - here);
    if (more > less) p->less_filled = (more - less) / (2.0 * FLOW_STEP);
}

/* The coil, the condenser and the ducts are those of the high stage. */
static ct_status choose_stage(ct_tune_problem *p, const ct_readings *readings, ct_fault *fault)
{
    const ct_sweep_job high = p->job;

    if (readings->stage != CT_RAN_LOW || ct_sweep_low_job(&high, &p->job)) return CT_OK;
    return ct_fault_say(fault, CT_INPUT,
                        "the readings are of the low stage (outdoor_unit.stage), and the outdoor "
                        "unit of the case has one stage; give the case outdoor.stages: two, or "
                        "leave outdoor_unit.stage out");
}

ct_status ct_tune_problem_prepare(ct_tune_problem *p, const ct_setup *setup,
                                  const ct_readings *readings, ct_fault *fault)
{
    const ct_setup untuned = {setup->solver, &p->c, setup->outdoor, setup->matched, 0};
    ct_status status = check_readings(readings, fault);

    if (status != CT_OK) return status;
    *p = (ct_tune_problem){.solver = setup->solver, .c = *setup->c};
    p->c.tuning = (ct_tuning){0};
    status = ct_sweep_prepare(&untuned, &p->job, fault);
    if (status == CT_OK) status = choose_stage(p, readings, fault);
    if (status != CT_OK) return status;
    p->given = *readings;
    status = ct_visit_derive(setup->outdoor->refrigerant, p->job.indoor.p, &p->given, fault);
    if (status != CT_OK) return status;
    p->visit = (ct_visit){.readings = &p->given,
                          .outdoor = &p->job.system.outdoor,
                          .p = p->job.indoor.p,
                          .T_out = readings->r[CT_OUTDOOR_DRY_BULB].has
                                       ? readings->r[CT_OUTDOOR_DRY_BULB].v
                                       : p->job.T_out,
                          .before_coil = p->job.system.before_coil};
    status = nominal_airflow(p, fault);
    if (status != CT_OK) return status;
    p->visit.P_blower = p->P_blower;
    best_airflow(p);
    find_charge(p);
    return CT_OK;
}
