#include "study/tune_model.h"

#include <math.h>

#include "judge/airflow.h"

#define SUBCOOLING_MAX 29.5 /* K, just inside the liquid tables */
#define SOFT 0.2            /* K, rounding of the corner at 0 */
/* Unknowns are counted in standard deviations of their priors; none is sought further out. */
#define FURTHEST 8.0

/* Above 0 for every x, x itself where x is well above 0; smooth, as the search needs it. */
static double above_zero(double x)
{
    return 0.5 * (x + hypot(x, SOFT));
}

static double superheat_of(double x)
{
    return above_zero(x);
}

static double subcooling_of(double x)
{
    return SUBCOOLING_MAX - above_zero(SUBCOOLING_MAX - above_zero(x));
}

double ct_tune_model_physical(int i, double x)
{
    if (i < CT_TUNE_MULTIPLIERS) return exp(x);
    return i == CT_TUNE_SUBCOOLING  ? subcooling_of(x)
           : i == CT_TUNE_SUPERHEAT ? superheat_of(x)
                                    : x;
}

double ct_tune_model_filled(const ct_tune_problem *p, double x, double *slope)
{
    const double room = p->room_filled, k = p->charge_stays ? 0.0 : p->less_filled,
                 left = room + k * x;

    *slope = -0.5 * k * (1.0 + left / hypot(left, SOFT));
    return above_zero(room) - above_zero(left);
}

/* ---- One evaluation -------------------------------------------------------------- */

static ct_status conditions_of(const ct_tune_problem *p, const double x[], ct_conditions *at,
                               ct_fault *fault)
{
    double T = x[CT_TUNE_RETURN_T], moisture = x[CT_TUNE_RETURN_MOISTURE];

    at->T_out = x[CT_TUNE_OUTDOOR_T];
    at->P_blower = p->P_blower;
    if (p->readings.r[CT_RETURN_WET_BULB].has)
        return ct_air_from_wet_bulb(T, moisture, p->visit.p, &at->in, fault);
    return ct_air_from_rh(T, moisture, p->visit.p, &at->in, fault);
}

static ct_system system_of(const ct_tune_problem *p, const double x[])
{
    const ct_tuning t = {.coil_conductance = {true, exp(x[CT_TUNE_COIL])},
                         .compressor_flow = {true, exp(x[CT_TUNE_FLOW])},
                         .compressor_power = {true, exp(x[CT_TUNE_POWER])},
                         .condenser_conductance = {true, exp(x[CT_TUNE_CONDENSER])}};
    ct_system s = p->job.system;
    double unused;

    ct_plant_tune(&t, &s);
    s.charge = 0.0; /* as found: the readings give the subcooling */
    s.outdoor.condenser.subcooling =
        subcooling_of(x[CT_TUNE_SUBCOOLING] + ct_tune_model_filled(p, x[CT_TUNE_PISTON], &unused));
    s.meter.orifice.bore *= exp(0.5 * x[CT_TUNE_PISTON]); /* flow goes with the area */
    if (s.meter.kind == CT_METER_VALVE) s.meter.superheat = superheat_of(x[CT_TUNE_SUPERHEAT]);
    return s;
}

/* The tap moves a volume, whose mass the balance decides; without a tap the airflow is standard
 * air.
 */
static ct_status settle(ct_tune_problem *p, const ct_system *s, const ct_conditions *at,
                        double airflow, ct_tune_prediction *out)
{
    ct_airflow a = {.solver = p->solver,
                    .system = s,
                    .at = *at,
                    .v = ct_airflow_volume(s, &at->in, NULL),
                    .start = p->start,
                    .warm = p->warm};
    ct_status status;

    a.at.m_da = airflow * p->V_nominal * CT_STD_DENSITY;
    if (p->tap >= 0)
        status = ct_airflow_settle(&a, airflow * p->V_nominal, &out->balance, &p->fault);
    else
        status = ct_airflow_balance(&a, &out->balance, &p->fault);
    p->evaluations += a.balances;
    p->start = a.start;
    p->warm = a.warm;
    out->V = a.at.m_da * a.v;
    return status;
}

/* Superheat at the compressor, below 0 where the suction is wet, as in ct_compressor_in. */
static ct_status suction_superheat(const ct_outdoor *o, double T_out, const ct_balance *b,
                                   double *superheat, ct_fault *fault)
{
    ct_vapor g;
    ct_liquid f;

    *superheat = b->superheat + ct_plant_line_superheat(o, T_out, b->Te);
    if (b->quality_out >= 1.0) return CT_OK;
    ct_status status = ct_refrigerant_vapor(o->refrigerant, b->T_coil, 0.0, &g, fault);
    if (status == CT_OK)
        status = ct_compressor_suction_liquid(o->refrigerant, b->T_coil, &f, fault);
    if (status == CT_OK) *superheat -= (1.0 - b->quality_out) * (g.h - f.h) / g.cp;
    return status;
}

/* Air that leaves the condenser: the heat it sheds and the fan's over C = eps_C/eps of its air.
 * Dirt takes of a condenser's eps C some by its film and some by its air: the air is taken to go
 * with its power of 2/3, between the 0 of film alone and the 4/3 of air alone (part/condenser.h).
 * Judgment, no source. */
static double condenser_leaving(const ct_tune_problem *p, const ct_conditions *at, double condenser,
                                const ct_balance *b)
{
    const ct_outdoor *o = &p->job.system.outdoor;
    const double eps = -expm1(-CT_CONDENSER_NTU);
    const double C = ct_condenser_eps_C(&o->condenser, at->in.p) / eps * exp(condenser * 2.0 / 3.0);
    return at->T_out + (b->Q_condenser + o->P_fan) / C;
}

/* Every reading an instrument would show on this balance; NaN for what is not wanted. */
static ct_status show(const ct_tune_problem *p, double T_out, ct_tune_prediction *out,
                      ct_fault *fault)
{
    const ct_balance *b = &out->balance;
    double *y = out->y, superheat;

    ct_status status = suction_superheat(&p->job.system.outdoor, T_out, b, &superheat, fault);
    if (status != CT_OK) return status;
    y[CT_SUPPLY_DRY_BULB] = b->supply.T;
    y[CT_SUPPLY_RH] = ct_air_rh(&b->supply);
    y[CT_SUCTION_PRESSURE] = b->p_suction - p->visit.p;
    /* Rounded where liquid begins to arrive: droplets and warm vapor share the pipe there, and the
     * search needs no corner. */
    y[CT_SUCTION_TEMPERATURE] = b->Te + above_zero(superheat);
    y[CT_LIQUID_PRESSURE] = b->p_discharge - p->visit.p;
    y[CT_LIQUID_TEMPERATURE] = b->T_bubble - b->subcooling;
    y[CT_STATIC] = out->V; /* compared as airflow */
    y[CT_TUNE_ROW_DUCTS] = out->V;
    y[CT_AIRFLOW] = out->V;
    y[CT_COMPRESSOR_POWER] = b->P_compressor;
    y[CT_OUTDOOR_POWER] = b->P_compressor + p->job.system.outdoor.P_fan;
    y[CT_CONDENSATE] = b->water;
    y[CT_BLOWER_POWER] = p->of_tap.has ? p->of_tap.P_static : p->P_blower;
    if (!p->readings.r[CT_SUPPLY_WET_BULB].has) return CT_OK;
    return ct_air_wet_bulb(&b->supply, &y[CT_SUPPLY_WET_BULB], fault);
}

ct_status ct_tune_model_predict(ct_tune_problem *p, const double x[CT_TUNE_COUNT],
                                ct_tune_prediction *out)
{
    ct_system s = system_of(p, x);
    ct_conditions at;

    for (int i = 0; i < CT_TUNE_ROWS; i++)
        out->y[i] = (double)NAN;
    ct_status status = conditions_of(p, x, &at, &p->fault);
    if (status == CT_OK) status = settle(p, &s, &at, exp(x[CT_TUNE_AIRFLOW]), out);
    if (status != CT_OK) return status;
    out->y[CT_CONDENSER_LEAVING] = condenser_leaving(p, &at, x[CT_TUNE_CONDENSER], &out->balance);
    return show(p, at.T_out, out, &p->fault);
}

void ct_tune_model_values(const ct_tune_problem *p, const gsl_vector *z, double x[CT_TUNE_COUNT])
{
    for (int i = 0; i < CT_TUNE_COUNT; i++)
        x[i] = p->prior[i].prior;
    for (int k = 0; k < p->n_x; k++) {
        const ct_tune_prior *u = &p->prior[p->of_x[k]];
        x[p->of_x[k]] = u->prior + u->sigma * gsl_vector_get(z, (size_t)k);
    }
}

static void compare(const ct_tune_problem *p, const ct_tune_prediction *out, double f[])
{
    for (int i = 0; i < p->n_y; i++) {
        const int row = p->of_y[i];
        f[i] = (out->y[row] - p->seen[row]) / p->u_row[row];
    }
}

bool ct_tune_model_residuals(ct_tune_problem *p, const gsl_vector *z, double f[CT_TUNE_ROWS])
{
    double x[CT_TUNE_COUNT];
    ct_tune_prediction out;

    for (int k = 0; k < p->n_x; k++)
        if (!(fabs(gsl_vector_get(z, (size_t)k)) <= FURTHEST)) return false;
    ct_tune_model_values(p, z, x);
    if (ct_tune_model_predict(p, x, &out) != CT_OK) return false;
    compare(p, &out, f);
    return true;
}
