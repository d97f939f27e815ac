#include "plant/rate_low.h"

#include <math.h>

#include "base/search.h"
#include "base/units.h"

#define LINE_EXPONENT 1.8 /* of the drop with the flow */
#define TOL 1e-11
#define TC_OVER_AIR 0.5 /* K, least */
#define STEP_TE 2.0
#define STEP_TC 1.0

typedef struct {
    const ct_outdoor *o; /* with the suction line of the low stage */
    const ct_coil *coil;
    double Q_gross, P; /* W, coil and compressor */
    double superheat;  /* K at the coil outlet */
    ct_coil_air air;
    double Te, Tc; /* of the latest try */
    ct_phases at;  /* at the coil's outlet */
    double h_out;  /* J/kg, leaving the coil */
    ct_condenser_state cond;
    ct_compressor_out comp; /* the high stage's compressor there */
    double m;               /* kg/s that carries the rated heat */
    bool computed;
} low_trial;

static ct_status high_side_states(low_trial *t)
{
    const ct_outdoor *o = t->o;
    const double line = ct_plant_line_superheat(o, CT_RATING_T_OUT, t->Te);
    const ct_compressor_in in = {t->Te, t->Tc, t->superheat + line};
    ct_status status = ct_condenser_state_at(&o->condenser, o->refrigerant, t->Tc, &t->cond, NULL);

    if (status == CT_OK)
        status = ct_compressor_run(&o->compressor, o->refrigerant, &in, &t->comp, NULL);
    return status;
}

/* Heat the condenser could shed over what it has to, less one. */
static double condenser_short(double Tc, void *context)
{
    low_trial *t = context;

    t->Tc = Tc;
    t->computed = high_side_states(t) == CT_OK;
    if (!t->computed) return 1e3;
    t->m = t->Q_gross / (t->h_out - t->cond.h_liquid);
    ct_compressor_out comp = t->comp;
    comp.h2 = comp.h1 + t->P / t->m;
    ct_condenser_flow flow = ct_plant_to_condenser(&comp, &t->cond);
    flow.m = t->m;
    const ct_condenser_zones w =
        ct_condenser_shares(&t->cond, &flow, t->o->condenser.eps_C, CT_RATING_T_OUT);
    return ct_condenser_residual(&t->cond, &w, CT_RATING_T_OUT);
}

static ct_status outlet_states(low_trial *t)
{
    const ct_outdoor *o = t->o;
    const double T_coil = t->Te + o->suction_drop;
    ct_vapor v;
    ct_status status = ct_refrigerant_phases(o->refrigerant, T_coil, &t->at, NULL);

    if (status == CT_OK)
        status = ct_refrigerant_vapor(o->refrigerant, T_coil, t->superheat, &v, NULL);
    if (status == CT_OK) t->h_out = v.h;
    return status;
}

static bool balance_high(low_trial *t)
{
    const double low = CT_RATING_T_OUT + TC_OVER_AIR;
    ct_root_job job = {.start = fmax(t->Tc, low),
                       .step = STEP_TC,
                       .low = low,
                       .high = ct_refrigerant_T_max(t->o->refrigerant) - 0.01,
                       .rising = true,
                       .tol = TOL};
    ct_root_result r;
    const ct_root_end end = ct_search_root(condenser_short, t, &job, &r);

    if (t->Tc != r.x) condenser_short(r.x, t);
    return t->computed && (end == CT_ROOT_FOUND || fabs(r.f) < 1e-9);
}

/* Heat the coil takes up over what the refrigerant has to, less one; falls with the suction. */
static double coil_short(double Te, void *context)
{
    low_trial *t = context;
    ct_coil_through path;

    t->Te = Te;
    if (outlet_states(t) != CT_OK || !balance_high(t)) return 1e3;
    const double T_coil = Te + t->o->suction_drop, Q_boil = t->m * (t->at.h_v - t->cond.h_liquid);
    const ct_coil_tubes tubes = {
        .T_boil = ct_plant_boil_between(&t->at, T_coil, t->cond.h_liquid),
        .T_dew = T_coil,
        .UAi = ct_coil_UAi(t->coil, t->m),
        .C_r = t->superheat > 0.0 ? t->m * (t->h_out - t->at.h_v) / t->superheat : 0.0,
        .superheat = t->superheat};
    ct_coil_run(t->coil, &t->air, &tubes, &path);
    if (!(path.superheat_area < 1.0)) return -1.0 - fmax(0.0, T_coil + t->superheat - t->air.in.T);
    return (path.Q_boil - Q_boil) / Q_boil;
}

static ct_status enter_air(const ct_outdoor_unit *u, low_trial *t, ct_fault *fault)
{
    ct_air air;
    ct_status status = ct_air_from_wet_bulb(CT_RATING_T_IN, CT_RATING_T_WB, CT_ATM_PA, &air, fault);

    if (status == CT_OK)
        status = ct_coil_at_air(t->coil, &air, u->low.V_std * CT_STD_DENSITY, &t->air, fault);
    return status;
}

static ct_status no_answer(const ct_outdoor_unit *u, ct_fault *fault)
{
    return ct_fail(fault, CT_INPUT, u->low.Q_net, NAN, u->Q_net,
                   "no low stage of %.0f Btu/h at EER %.1f balances with the coil and condenser of "
                   "the high stage: check low_stage.rated_capacity, rated_eer and rated_airflow",
                   u->low.Q_net / CT_W_PER_BTUH, u->low.EER / CT_W_PER_BTUH);
}

static ct_status solve(const ct_outdoor_unit *u, low_trial *t, ct_fault *fault)
{
    ct_root_job job = {.start = u->T_suction_rated + STEP_TE,
                       .step = STEP_TE,
                       .low = u->T_suction_rated - 15.0,
                       .high = CT_RATING_T_IN - 1.0,
                       .rising = false,
                       .tol = 10.0 * TOL};
    ct_root_result r;
    const ct_root_end end = ct_search_root(coil_short, t, &job, &r);

    if (t->Te != r.x) coil_short(r.x, t);
    if (end == CT_ROOT_FOUND || fabs(r.f) < 1e-9) return CT_OK;
    return no_answer(u, fault);
}

/* In watts a displacement's multiplier stands under the line, a map's over it. */
static void find_multipliers(const low_trial *t, bool map, ct_low_stage *low, double *eta)
{
    low->flow = t->m / t->comp.m;
    low->power = map ? t->P / t->comp.P : t->comp.P * low->flow / t->P;
    *eta = t->comp.eta * (t->m / t->comp.m) / (t->P / t->comp.P);
}

static ct_status check(const ct_outdoor_unit *u, double P, ct_fault *fault)
{
    const double share = u->low.Q_net / u->Q_net;

    if (!(share >= CT_LOW_STAGE_LEAST && share <= CT_LOW_STAGE_MOST))
        return ct_fail(fault, CT_INPUT, share, CT_LOW_STAGE_LEAST, CT_LOW_STAGE_MOST,
                       "low_stage.rated_capacity of %.0f Btu/h is %.0f%% of the high stage, "
                       "allowed %.0f to %.0f%%: check both",
                       u->low.Q_net / CT_W_PER_BTUH, 100.0 * share, 100.0 * CT_LOW_STAGE_LEAST,
                       100.0 * CT_LOW_STAGE_MOST);
    if (!(P > 0.0))
        return ct_fail(fault, CT_INPUT, u->low.EER, NAN, NAN,
                       "low_stage.rated_eer %.1f Btu/Wh leaves no power for the compressor after "
                       "blower %.0f W and fan %.0f W: check it and the watts of the low stage",
                       u->low.EER / CT_W_PER_BTUH, u->low.P_blower, u->low.P_fan);
    return CT_OK;
}

static ct_status check_efficiency(const ct_outdoor_unit *u, double eta, ct_fault *fault)
{
    if (eta > 0.15 && eta < 0.95) return CT_OK;
    return ct_fail(fault, CT_INPUT, u->low.EER, NAN, NAN,
                   "low_stage.rated_eer %.1f Btu/Wh needs a compressor of %.0f%% isentropic "
                   "efficiency (15 to 95 possible): check it, low_stage.rated_capacity and the "
                   "watts of the low stage",
                   u->low.EER / CT_W_PER_BTUH, 100.0 * eta);
}

ct_status ct_rate_low(const ct_outdoor_unit *u, const ct_coil *matched, ct_outdoor *o, double *eta,
                      ct_fault *fault)
{
    const double share = u->low.Q_net / u->Q_net;
    ct_outdoor line = *o;
    low_trial t = {.o = &line,
                   .coil = matched,
                   .Q_gross = u->low.Q_net + u->low.P_blower,
                   .P = u->low.Q_net / u->low.EER - u->low.P_blower - u->low.P_fan,
                   .superheat = u->superheat_rated,
                   .Tc = u->T_discharge_rated};
    ct_low_stage low = {.has = true, .tons = u->tons * share, .P_fan = u->low.P_fan};

    o->low = (ct_low_stage){.has = false};
    *eta = NAN;
    if (!u->low.has) return CT_OK;
    ct_status status = check(u, t.P, fault);
    if (status == CT_OK) status = enter_air(u, &t, fault);
    if (status != CT_OK) return status;
    line.suction_drop = low.suction_drop = o->suction_drop * pow(share, LINE_EXPONENT);
    line.suction_gain = low.suction_gain = o->suction_gain / share;
    status = solve(u, &t, fault);
    if (status != CT_OK) return status;
    find_multipliers(&t, o->compressor.kind == CT_COMPRESSOR_MAP, &low, eta);
    status = check_efficiency(u, *eta, fault);
    if (status == CT_OK) o->low = low;
    return status;
}
