#include "study/tune.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <string.h>

#include "judge/sweep.h"
#include "study/visit.h"

/* A multiplier past these makes a technician look; common practice, no source. */
#define AIRFLOW_LOW 0.90
#define COIL_LOW 0.85
#define CONDENSER_LOW 0.90
#define COMPRESSOR_LOW 0.93

#define NORMAL_95 1.959963984540054 /* two-sided 95 % of the normal distribution */

/* Unknowns are counted in standard deviations of their priors; none is sought further out. */
#define FURTHEST 8.0
/* Central difference, in the same unit. Wide, because the coil's integration changes its number of
 * steps here and there, which moves a prediction by up to a thousandth of its uncertainty; third
 * derivatives are small, so the slopes stay good to 1e-4. */
#define STEP 2e-2
/* Residual of a trial without a balance: large, finite, so that the search turns back. */
#define NO_BALANCE 1e3
#define MAX_ROUNDS 60
#define LEVEL 0.03 /* standard uncertainties from the level point: there */
#define GAIN 0.01  /* of chi-square: not worth another start */
#define STARTS 5
#define DENSITY_ROUNDS 20
#define DENSITY_TOL 1e-12
#define SUBCOOLING_MAX 29.5 /* K, just inside the liquid tables */
#define SOFT 0.2            /* K, rounding of the corner at 0 */

const char *ct_tune_name(ct_tune_unknown i)
{
    switch (i) {
    case CT_TUNE_COIL: return "coil conductance";
    case CT_TUNE_FLOW: return "compressor flow";
    case CT_TUNE_POWER: return "compressor power";
    case CT_TUNE_CONDENSER: return "condenser conductance";
    case CT_TUNE_AIRFLOW: return "airflow";
    case CT_TUNE_RETURN_T: return "return air dry bulb";
    case CT_TUNE_RETURN_MOISTURE: return "return air moisture";
    case CT_TUNE_OUTDOOR_T: return "outdoor air dry bulb";
    case CT_TUNE_SUBCOOLING: return "subcooling";
    case CT_TUNE_SUPERHEAT: return "superheat";
    case CT_TUNE_COUNT: break;
    }
    return "unknown";
}

/* ---- The problem ----------------------------------------------------------------- */

typedef struct {
    bool fitted, read, fence; /* fence: the prior only keeps the search in bounds */
    double prior, sigma, start;
} unknown;

typedef struct {
    ct_case c; /* untuned copy; the job points to it */
    ct_sweep_job job;
    ct_solver *solver;
    ct_visit visit;
    int tap;
    double V_nominal; /* m3/s by the tap's table; without a tap the rated, standard */
    double P_blower;
    double V_static, u_V_static, slope; /* m3/s by table and static; dV/ddp; u 0: tells nothing */

    ct_readings readings; /* those this fit may see */
    unknown unknown[CT_TUNE_COUNT];
    int n_x, of_x[CT_TUNE_COUNT]; /* those fitted */
    int n_y;
    ct_reading_kind of_y[CT_READING_COUNT]; /* those compared with predictions */

    ct_start start;
    bool warm;
    int evaluations;
    ct_fault fault; /* of the latest failed balance */
} problem;

typedef struct {
    double y[CT_READING_COUNT];
    double V;
    ct_balance balance;
} prediction;

static bool is_multiplier(int i)
{
    return i < CT_TUNE_MULTIPLIERS;
}

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

static double physical(int i, double x)
{
    if (is_multiplier(i)) return exp(x);
    return i == CT_TUNE_SUBCOOLING  ? subcooling_of(x)
           : i == CT_TUNE_SUPERHEAT ? superheat_of(x)
                                    : x;
}

/* ---- One evaluation -------------------------------------------------------------- */

static ct_status conditions_of(const problem *p, const double x[], ct_conditions *at,
                               ct_fault *fault)
{
    double T = x[CT_TUNE_RETURN_T], moisture = x[CT_TUNE_RETURN_MOISTURE];

    at->T_out = x[CT_TUNE_OUTDOOR_T];
    at->P_blower = p->P_blower;
    if (p->readings.r[CT_RETURN_WET_BULB].has)
        return ct_air_from_wet_bulb(T, moisture, p->visit.p, &at->in, fault);
    return ct_air_from_rh(T, moisture, p->visit.p, &at->in, fault);
}

static ct_system system_of(const problem *p, const double x[])
{
    const ct_tuning t = {.coil_conductance = {true, exp(x[CT_TUNE_COIL])},
                         .compressor_flow = {true, exp(x[CT_TUNE_FLOW])},
                         .compressor_power = {true, exp(x[CT_TUNE_POWER])},
                         .condenser_conductance = {true, exp(x[CT_TUNE_CONDENSER])}};
    ct_system s = p->job.system;

    ct_system_tune(&t, &s);
    s.outdoor.condenser.subcooling = subcooling_of(x[CT_TUNE_SUBCOOLING]);
    if (s.meter.kind == CT_METER_VALVE) s.meter.superheat = superheat_of(x[CT_TUNE_SUPERHEAT]);
    return s;
}

static double volume_at_blower(const ct_system *s, const ct_conditions *at, const ct_balance *b)
{
    const ct_air *a = s->before_coil || !b ? &at->in : &b->out;

    return ct_air_v(a->T, a->W, a->p);
}

static ct_status balance_at(problem *p, const ct_system *s, const ct_conditions *at, ct_balance *b)
{
    ct_status status = ct_balance_solve(p->solver, s, at, p->warm ? &p->start : NULL, b, &p->fault);

    p->evaluations++;
    if (status != CT_OK) return status;
    p->start = (ct_start){b->Te, b->Tc};
    p->warm = true;
    return CT_OK;
}

/* The tap moves a volume; the mass in it depends on the air the blower breathes, and that on the
 * balance. */
static ct_status settle(problem *p, const ct_system *s, ct_conditions *at, double airflow,
                        prediction *out)
{
    double v = volume_at_blower(s, at, NULL);

    for (int round = 0; round < DENSITY_ROUNDS; round++) {
        double before = v;
        at->m_da = airflow * p->V_nominal * (p->tap >= 0 ? 1.0 / v : CT_STD_DENSITY);
        ct_status status = balance_at(p, s, at, &out->balance);
        if (status != CT_OK) return status;
        v = volume_at_blower(s, at, &out->balance);
        if (p->tap < 0 || fabs(v - before) <= DENSITY_TOL * v) break;
    }
    out->V = at->m_da * v;
    return CT_OK;
}

/* Superheat at the compressor, below 0 where the suction is wet, as in ct_compressor_in. */
static ct_status suction_superheat(const problem *p, const ct_balance *b, double *superheat,
                                   ct_fault *fault)
{
    const ct_outdoor *o = &p->job.system.outdoor;
    ct_vapour g;
    ct_liquid f;

    *superheat = b->superheat + o->suction_drop + o->suction_gain;
    if (b->quality_out >= 1.0) return CT_OK;
    ct_status status = ct_refrigerant_vapour(o->refrigerant, b->T_coil, 0.0, &g, fault);
    if (status == CT_OK) status = ct_suction_liquid(o->refrigerant, b->T_coil, &f, fault);
    if (status == CT_OK) *superheat -= (1.0 - b->quality_out) * (g.h - f.h) / g.cp;
    return status;
}

/* Every reading an instrument would show on this balance; NaN for what is not asked. */
static ct_status show(const problem *p, prediction *out, ct_fault *fault)
{
    const ct_balance *b = &out->balance;
    double *y = out->y, superheat;

    ct_status status = suction_superheat(p, b, &superheat, fault);
    if (status != CT_OK) return status;
    y[CT_SUPPLY_DRY_BULB] = b->supply.T;
    y[CT_SUPPLY_RH] = ct_air_rh(&b->supply);
    y[CT_SUCTION_PRESSURE] = b->p_suction - p->visit.p;
    /* Rounded where liquid begins to arrive: droplets and warm vapour share the pipe there, and the
     * search needs no corner. */
    y[CT_SUCTION_TEMPERATURE] = b->Te + above_zero(superheat);
    y[CT_LIQUID_PRESSURE] = b->p_discharge - p->visit.p;
    y[CT_LIQUID_TEMPERATURE] = b->T_bubble - b->subcooling;
    y[CT_STATIC] = out->V; /* compared as airflow */
    y[CT_AIRFLOW] = out->V;
    y[CT_COMPRESSOR_POWER] = b->W;
    y[CT_OUTDOOR_POWER] = b->W + p->job.system.outdoor.P_fan;
    y[CT_BLOWER_POWER] = p->P_blower;
    if (!p->readings.r[CT_SUPPLY_WET_BULB].has) return CT_OK;
    return ct_air_wet_bulb(&b->supply, &y[CT_SUPPLY_WET_BULB], fault);
}

static ct_status predict(problem *p, const double x[], prediction *out)
{
    ct_system s = system_of(p, x);
    ct_conditions at;

    for (int i = 0; i < CT_READING_COUNT; i++)
        out->y[i] = (double)NAN;
    ct_status status = conditions_of(p, x, &at, &p->fault);
    if (status == CT_OK) status = settle(p, &s, &at, exp(x[CT_TUNE_AIRFLOW]), out);
    return status == CT_OK ? show(p, out, &p->fault) : status;
}

static void from_z(const problem *p, const gsl_vector *z, double x[])
{
    for (int i = 0; i < CT_TUNE_COUNT; i++)
        x[i] = p->unknown[i].prior;
    for (int k = 0; k < p->n_x; k++) {
        const unknown *u = &p->unknown[p->of_x[k]];
        x[p->of_x[k]] = u->prior + u->sigma * gsl_vector_get(z, (size_t)k);
    }
}

static void compare(const problem *p, const prediction *out, double f[])
{
    for (int i = 0; i < p->n_y; i++) {
        ct_reading_kind kind = p->of_y[i];
        const ct_reading *r = &p->readings.r[kind];
        bool by_table = kind == CT_STATIC;
        f[i] = (out->y[kind] - (by_table ? p->V_static : r->v)) / (by_table ? p->u_V_static : r->u);
    }
}

static bool residuals_at(problem *p, const gsl_vector *z, double f[])
{
    double x[CT_TUNE_COUNT];
    prediction out;

    for (int k = 0; k < p->n_x; k++)
        if (!(fabs(gsl_vector_get(z, (size_t)k)) <= FURTHEST)) return false;
    from_z(p, z, x);
    if (predict(p, x, &out) != CT_OK) return false;
    compare(p, &out, f);
    return true;
}

/* ---- For GSL: readings first, then one row for each prior ------------------------ */

static int residuals(const gsl_vector *z, void *context, gsl_vector *f)
{
    problem *p = context;
    double y[CT_READING_COUNT];
    bool good = residuals_at(p, z, y);

    for (int i = 0; i < p->n_y; i++)
        gsl_vector_set(f, (size_t)i, good ? y[i] : NO_BALANCE);
    for (int k = 0; k < p->n_x; k++)
        gsl_vector_set(f, (size_t)(p->n_y + k), gsl_vector_get(z, (size_t)k));
    return GSL_SUCCESS;
}

static bool slope_of(problem *p, gsl_vector *z, int k, gsl_matrix *J)
{
    double up[CT_READING_COUNT], down[CT_READING_COUNT];
    double centre = gsl_vector_get(z, (size_t)k);
    double step = p->unknown[p->of_x[k]].fence ? STEP / 5.0 : STEP; /* 15 K is a wide unit */
    bool good;

    gsl_vector_set(z, (size_t)k, centre + step);
    good = residuals_at(p, z, up);
    gsl_vector_set(z, (size_t)k, centre - step);
    good = residuals_at(p, z, down) && good;
    gsl_vector_set(z, (size_t)k, centre);
    for (int i = 0; good && i < p->n_y; i++)
        gsl_matrix_set(J, (size_t)i, (size_t)k, (up[i] - down[i]) / (2.0 * step));
    return good;
}

static int slopes(const gsl_vector *z, void *context, gsl_matrix *J)
{
    problem *p = context;
    double copy[CT_TUNE_COUNT];
    gsl_vector_view moved = gsl_vector_view_array(copy, (size_t)p->n_x);

    gsl_vector_memcpy(&moved.vector, z);
    gsl_matrix_set_zero(J);
    for (int k = 0; k < p->n_x; k++) {
        gsl_matrix_set(J, (size_t)(p->n_y + k), (size_t)k, 1.0);
        if (!slope_of(p, &moved.vector, k, J)) return GSL_EFAILED;
    }
    return GSL_SUCCESS;
}

/* ---- Setting it up --------------------------------------------------------------- */

static void set_unknown(problem *p, int i, double prior, double sigma)
{
    p->unknown[i] = (unknown){.fitted = true, .prior = prior, .sigma = sigma, .start = prior};
}

/* A condition that was read, or the case's with its doubt. */
static void set_condition(problem *p, int i, ct_reading_kind kind, double otherwise, double doubt)
{
    const ct_reading *r = &p->readings.r[kind];

    set_unknown(p, i, r->has ? r->v : otherwise, r->has ? r->u : doubt);
    p->unknown[i].read = r->has;
}

/* A setting of the case; read by pressure and temperature (`by_readings`, NaN if not) it is free.
 */
static void set_setting(problem *p, int i, double setting, double doubt, double by_readings)
{
    bool free = isfinite(by_readings);

    set_unknown(p, i, setting, free ? CT_TUNE_SIGMA_FREE : doubt);
    p->unknown[i].fence = free;
    if (free) p->unknown[i].start = fmin(fmax(by_readings, 0.5), 28.0);
}

static void set_charge(problem *p)
{
    const ct_outdoor *o = &p->job.system.outdoor;
    double superheat = (double)NAN, subcooling = (double)NAN;

    if (ct_visit_superheat(&p->visit, &p->readings, &superheat))
        superheat -= o->suction_drop + o->suction_gain;
    ct_visit_subcooling(&p->visit, &p->readings, &subcooling);
    set_setting(p, CT_TUNE_SUBCOOLING, o->condenser.subcooling, CT_TUNE_SIGMA_SUBCOOLING,
                subcooling);
    set_setting(p, CT_TUNE_SUPERHEAT, p->job.system.meter.superheat, CT_TUNE_SIGMA_SUPERHEAT,
                superheat);
    p->unknown[CT_TUNE_SUPERHEAT].fitted = p->job.system.meter.kind == CT_METER_VALVE;
}

static void set_unknowns(problem *p)
{
    bool wet_bulb = p->readings.r[CT_RETURN_WET_BULB].has;

    set_unknown(p, CT_TUNE_COIL, 0.0, CT_TUNE_SIGMA_COIL);
    set_unknown(p, CT_TUNE_FLOW, 0.0, CT_TUNE_SIGMA_FLOW);
    set_unknown(p, CT_TUNE_POWER, 0.0, CT_TUNE_SIGMA_POWER);
    set_unknown(p, CT_TUNE_CONDENSER, 0.0, CT_TUNE_SIGMA_CONDENSER);
    set_unknown(p, CT_TUNE_AIRFLOW, 0.0,
                p->tap >= 0 ? CT_TUNE_SIGMA_AIRFLOW : CT_TUNE_SIGMA_AIRFLOW_NO_TAP);
    set_condition(p, CT_TUNE_RETURN_T, CT_RETURN_DRY_BULB, p->job.indoor.T, CT_TUNE_SIGMA_RETURN_T);
    set_condition(p, CT_TUNE_RETURN_MOISTURE, wet_bulb ? CT_RETURN_WET_BULB : CT_RETURN_RH,
                  ct_air_rh(&p->job.indoor), CT_TUNE_SIGMA_RETURN_RH);
    set_condition(p, CT_TUNE_OUTDOOR_T, CT_OUTDOOR_DRY_BULB, p->job.T_out, CT_TUNE_SIGMA_OUTDOOR_T);
    set_charge(p);
    p->n_x = 0;
    for (int i = 0; i < CT_TUNE_COUNT; i++)
        if (p->unknown[i].fitted) p->of_x[p->n_x++] = i;
}

static bool is_condition(ct_reading_kind kind)
{
    return kind == CT_RETURN_DRY_BULB || kind == CT_RETURN_WET_BULB || kind == CT_RETURN_RH ||
           kind == CT_OUTDOOR_DRY_BULB;
}

/* Blower watts are taken as read: their error warms the air by hundredths of a degree. */
static bool is_compared(const problem *p, ct_reading_kind kind)
{
    if (!p->readings.r[kind].has || is_condition(kind) || kind == CT_BLOWER_POWER) return false;
    return kind != CT_STATIC || p->u_V_static > 0.0;
}

/* The problem as seen with these readings. */
static void arrange(problem *p, const ct_readings *readings)
{
    p->readings = *readings;
    set_unknowns(p);
    p->n_y = 0;
    for (int i = 0; i < CT_READING_COUNT; i++)
        if (is_compared(p, (ct_reading_kind)i)) p->of_y[p->n_y++] = (ct_reading_kind)i;
}

static ct_status find_tap(const ct_blower *b, const char *name, int *tap, ct_fault *fault)
{
    char known[120] = "";

    *tap = -1;
    if (!*name) return CT_OK;
    for (int i = 0; i < b->n_taps; i++) {
        if (strcmp(b->tap[i].name, name) == 0) *tap = i;
        size_t n = strlen(known);
        snprintf(known + n, sizeof known - n, "%s'%s'", n ? ", " : "", b->tap[i].name);
    }
    if (*tap >= 0) return CT_OK;
    return ct_fail(fault, CT_INPUT, NAN, NAN, NAN, "no tap '%.40s' in the case file; it has: %s",
                   name, *known ? known : "no taps");
}

/* Static turned into airflow by the blower's table; on a motor that holds its airflow the static
 * tells nothing. */
static void read_static(problem *p)
{
    const ct_reading *r = &p->visit.readings->r[CT_STATIC];
    const ct_blower *b = &p->job.blower;
    double up, down;

    if (!r->has || p->tap < 0) return;
    if (ct_blower_flow(b, p->tap, r->v, &p->V_static, NULL) != CT_OK ||
        ct_blower_flow(b, p->tap, r->v + r->u, &up, NULL) != CT_OK ||
        ct_blower_flow(b, p->tap, fmax(0.0, r->v - r->u), &down, NULL) != CT_OK)
        return;
    p->slope = (up - down) / (r->u + fmin(r->u, r->v));
    double by_static = p->slope * r->u;
    if (fabs(by_static) < 1e-3 * p->V_static) return;
    p->u_V_static = hypot(by_static, CT_TUNE_SIGMA_TABLE * p->V_static);
}

static ct_status nominal_airflow(problem *p, ct_fault *fault)
{
    const ct_reading *watts = &p->visit.readings->r[CT_BLOWER_POWER];
    ct_blower_point meet;

    ct_status status = find_tap(&p->job.blower, p->visit.readings->tap, &p->tap, fault);
    if (status != CT_OK) return status;
    p->V_nominal = p->c.outdoor.V_rated_std;
    p->P_blower = p->job.unit->P_blower_default;
    if (p->tap >= 0) {
        status = ct_blower_meet(&p->job.blower, p->tap, &p->job.duct, &meet, fault);
        if (status != CT_OK) return status;
        p->V_nominal = meet.V;
        p->P_blower = meet.P;
    }
    if (watts->has) p->P_blower = watts->v;
    read_static(p);
    return CT_OK;
}

/* Airflow for the heat balance: measured, else by static, else nominal. */
static void best_airflow(problem *p)
{
    const ct_reading *r = &p->visit.readings->r[CT_AIRFLOW];
    ct_visit *v = &p->visit;

    v->V = p->V_nominal;
    v->u_V = p->tap >= 0 ? CT_TUNE_SIGMA_AIRFLOW : CT_TUNE_SIGMA_AIRFLOW_NO_TAP;
    if (p->u_V_static > 0.0) {
        v->V = p->V_static;
        v->u_V = p->u_V_static / p->V_static;
    }
    if (r->has) {
        v->V = r->v;
        v->u_V = r->u / r->v;
    }
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
    return ct_fail(fault, CT_INPUT, NAN, NAN, NAN, "no readings: give at least one");
}

static ct_status prepare(problem *p, const ct_setup *setup, const ct_readings *readings,
                         ct_fault *fault)
{
    const ct_setup untuned = {setup->solver, &p->c, setup->outdoor, setup->matched, 0};
    ct_status status = check_readings(readings, fault);

    if (status != CT_OK) return status;
    p->c = *setup->c;
    p->c.tuning = (ct_tuning){0};
    status = ct_sweep_prepare(&untuned, &p->job, fault);
    if (status != CT_OK) return status;
    p->visit = (ct_visit){.readings = readings,
                          .outdoor = setup->outdoor,
                          .p = p->job.indoor.p,
                          .before_coil = p->job.system.before_coil};
    status = nominal_airflow(p, fault);
    if (status != CT_OK) return status;
    p->visit.P_blower = p->P_blower;
    best_airflow(p);
    return CT_OK;
}

/* ---- The fit --------------------------------------------------------------------- */

typedef struct {
    double z[CT_TUNE_COUNT];                /* by place in of_x */
    double C[CT_TUNE_COUNT][CT_TUNE_COUNT]; /* covariance, prior sigmas */
    double f[CT_READING_COUNT];             /* by place in of_y */
    double leverage[CT_READING_COUNT];
    double newton[CT_TUNE_COUNT];
    double chi2, p, away;
    int dof, iterations;
} solution;

static double leverage_of(const problem *p, const gsl_matrix *J, const solution *s, int i)
{
    double sum = 0.0;

    for (int a = 0; a < p->n_x; a++)
        for (int b = 0; b < p->n_x; b++)
            sum += gsl_matrix_get(J, (size_t)i, (size_t)a) * s->C[a][b] *
                   gsl_matrix_get(J, (size_t)i, (size_t)b);
    return sum;
}

/* The Gauss-Newton step -C g, g = J'f, to the level point of the local quadratic, and its length in
 * standard uncertainties, sqrt(g' C g). */
static void find_level(const problem *p, const gsl_matrix *J, const gsl_vector *f, solution *s)
{
    double g[CT_TUNE_COUNT] = {0}, sum = 0.0;

    for (int k = 0; k < p->n_x; k++)
        for (size_t i = 0; i < J->size1; i++)
            g[k] += gsl_matrix_get(J, i, (size_t)k) * gsl_vector_get(f, i);
    for (int a = 0; a < p->n_x; a++) {
        s->newton[a] = 0.0;
        for (int b = 0; b < p->n_x; b++)
            s->newton[a] -= s->C[a][b] * g[b];
        sum -= g[a] * s->newton[a];
    }
    s->away = sqrt(fmax(0.0, sum));
}

/* A fence is no evidence: neither its row nor the reading it sets free counts. */
static void judge(const problem *p, const gsl_vector *f, solution *s)
{
    s->chi2 = 0.0;
    s->dof = p->n_y;
    for (size_t i = 0; i < f->size; i++) {
        bool is_prior = i >= (size_t)p->n_y;
        bool fence = is_prior && p->unknown[p->of_x[i - (size_t)p->n_y]].fence;
        if (fence)
            s->dof--;
        else
            s->chi2 += gsl_vector_get(f, i) * gsl_vector_get(f, i);
    }
    s->p = s->dof > 0 ? gsl_cdf_chisq_Q(s->chi2, s->dof) : (double)NAN;
}

static void take_solution(const problem *p, const gsl_multifit_nlinear_workspace *w, solution *s)
{
    const gsl_vector *z = gsl_multifit_nlinear_position(w);
    const gsl_vector *f = gsl_multifit_nlinear_residual(w);
    const gsl_matrix *J = gsl_multifit_nlinear_jac(w);
    double store[CT_TUNE_COUNT * CT_TUNE_COUNT];
    gsl_matrix_view C = gsl_matrix_view_array(store, (size_t)p->n_x, (size_t)p->n_x);

    gsl_multifit_nlinear_covar(J, 0.0, &C.matrix);
    for (int a = 0; a < p->n_x; a++) {
        s->z[a] = gsl_vector_get(z, (size_t)a);
        for (int b = 0; b < p->n_x; b++)
            s->C[a][b] = gsl_matrix_get(&C.matrix, (size_t)a, (size_t)b);
    }
    for (int i = 0; i < p->n_y; i++) {
        s->f[i] = gsl_vector_get(f, (size_t)i);
        s->leverage[i] = leverage_of(p, J, s, i);
    }
    find_level(p, J, f, s);
    s->iterations += (int)gsl_multifit_nlinear_niter(w);
    judge(p, f, s);
}

/* Where the readings put what they set free; at the priors, if no balance is there. */
static ct_status first_point(problem *p, gsl_vector *z, ct_fault *fault)
{
    double f[CT_READING_COUNT];

    for (int k = 0; k < p->n_x; k++) {
        const unknown *u = &p->unknown[p->of_x[k]];
        gsl_vector_set(z, (size_t)k, (u->start - u->prior) / u->sigma);
    }
    if (residuals_at(p, z, f)) return CT_OK;
    gsl_vector_set_zero(z);
    if (residuals_at(p, z, f)) return CT_OK;
    return ct_fail(fault, p->fault.status, p->fault.value, p->fault.low, p->fault.high,
                   "the nameplate's model does not settle at the conditions read: %.120s",
                   p->fault.what);
}

static double sum_of_squares(problem *p, const gsl_vector *z)
{
    double y[CT_READING_COUNT], sum = 0.0;

    if (!residuals_at(p, z, y)) return INFINITY;
    for (int i = 0; i < p->n_y; i++)
        sum += y[i] * y[i];
    for (int k = 0; k < p->n_x; k++)
        sum += gsl_vector_get(z, (size_t)k) * gsl_vector_get(z, (size_t)k);
    return sum;
}

/* Looks along the Gauss-Newton step for a sum lower by more than GAIN; *z moves there. False: there
 * is none, and where the search ended is as good as it gets: at a kink (a piston that begins to
 * flood) or a step of the coil's integration the best point keeps a slope. */
static bool better_place(problem *p, const solution *s, gsl_vector *z)
{
    double here[CT_TUNE_COUNT], lowest, best = 0.0;

    memcpy(here, s->z, sizeof here);
    for (int k = 0; k < p->n_x; k++)
        gsl_vector_set(z, (size_t)k, here[k]);
    lowest = sum_of_squares(p, z) - GAIN;
    for (double share = 1.0; share > 1e-3; share *= 0.5) {
        for (int k = 0; k < p->n_x; k++)
            gsl_vector_set(z, (size_t)k, here[k] + share * s->newton[k]);
        double sum = sum_of_squares(p, z);
        if (!(sum < lowest)) continue;
        lowest = sum;
        best = share;
    }
    for (int k = 0; k < p->n_x; k++)
        gsl_vector_set(z, (size_t)k, here[k] + best * s->newton[k]);
    return best > 0.0;
}

/* GSL ends where its steps become small, which a kink can make them anywhere; so the end is
 * examined, and the search begun again from a better place if there is one. */
static ct_status iterate(problem *p, gsl_multifit_nlinear_fdf *fdf, gsl_vector *z,
                         gsl_multifit_nlinear_workspace *w, solution *s, ct_fault *fault)
{
    s->iterations = 0;
    for (int start = 0; start < STARTS; start++) {
        int info;
        if (gsl_multifit_nlinear_init(z, fdf, w) != GSL_SUCCESS)
            return ct_fail(fault, CT_NO_CONV, NAN, NAN, NAN,
                           "the model does not settle around the conditions read: %.120s",
                           p->fault.what);
        int end = gsl_multifit_nlinear_driver(MAX_ROUNDS, 1e-7, 1e-7, 0.0, NULL, NULL, &info, w);
        take_solution(p, w, s);
        if (end != GSL_SUCCESS && end != GSL_ENOPROG && end != GSL_EMAXITER) break;
        if (s->away <= LEVEL || !better_place(p, s, z)) return CT_OK;
    }
    return ct_fail(fault, CT_NO_CONV, NAN, NAN, NAN,
                   "no best fit was reached in %d rounds; readings may be far outside what this "
                   "system can do: check units and the largest of them",
                   s->iterations);
}

static ct_status fit(problem *p, solution *s, ct_fault *fault)
{
    gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
    gsl_multifit_nlinear_fdf fdf = {.f = residuals,
                                    .df = slopes,
                                    .n = (size_t)(p->n_y + p->n_x),
                                    .p = (size_t)p->n_x,
                                    .params = p};
    double store[CT_TUNE_COUNT];
    gsl_vector_view z = gsl_vector_view_array(store, (size_t)p->n_x);

    how.scale = gsl_multifit_nlinear_scale_levenberg; /* all unknowns are in one unit already */
    ct_status status = first_point(p, &z.vector, fault);
    if (status != CT_OK) return status;
    gsl_multifit_nlinear_workspace *w =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, fdf.n, fdf.p);
    if (!w) return ct_fail(fault, CT_SYSTEM, NAN, NAN, NAN, "out of memory for the fit");
    status = iterate(p, &fdf, &z.vector, w, s, fault);
    gsl_multifit_nlinear_free(w);
    return status;
}

/* ---- The record ------------------------------------------------------------------ */

static void fill_value(const problem *p, const solution *s, int k, ct_tune_value *v)
{
    int i = p->of_x[k];
    const unknown *u = &p->unknown[i];
    double x = u->prior + u->sigma * s->z[k];
    double dx = u->sigma * sqrt(s->C[k][k]);

    *v = (ct_tune_value){.fitted = true,
                         .read = u->read,
                         .prior = physical(i, u->prior),
                         .u_prior = u->sigma,
                         .value = physical(i, x),
                         .low = physical(i, x - NORMAL_95 * dx),
                         .high = physical(i, x + NORMAL_95 * dx),
                         .narrowed = 1.0 - dx / u->sigma};
    v->u = is_multiplier(i) ? dx : 0.5 * (physical(i, x + dx) - physical(i, x - dx));
}

static ct_tune_reading *add_reading(const problem *p, ct_reading_kind kind, ct_tune *out)
{
    const ct_reading *r = &p->readings.r[kind];
    ct_tune_reading *to = &out->reading[out->n++];

    *to = (ct_tune_reading){.kind = kind,
                            .given = r->v,
                            .u = r->u,
                            .predicted = (double)NAN,
                            .z = (double)NAN,
                            .p_without = (double)NAN};
    return to;
}

/* Residual over the standard deviation it has when the reading itself is left out of the fit; exact
 * for a linear model (Cook & Weisberg 1982, Residuals and Influence in Regression, ch. 2). */
static double left_out(double f, double leverage)
{
    return f / sqrt(fmax(1e-9, 1.0 - leverage));
}

static void fill_compared(const problem *p, const solution *s, const prediction *at, int i,
                          ct_tune *out)
{
    ct_reading_kind kind = p->of_y[i];
    ct_tune_reading *r = add_reading(p, kind, out);

    r->used = true;
    r->predicted = at->y[kind];
    r->z = left_out(-s->f[i], s->leverage[i]);
    if (kind != CT_STATIC) return;
    r->predicted = r->given + (at->V - p->V_static) / p->slope;
    r->u = p->u_V_static / fabs(p->slope);
}

static void fill_condition(const problem *p, const solution *s, int k, ct_tune *out)
{
    static const ct_reading_kind kinds[CT_TUNE_COUNT] = {
        [CT_TUNE_RETURN_T] = CT_RETURN_DRY_BULB, [CT_TUNE_OUTDOOR_T] = CT_OUTDOOR_DRY_BULB};
    int i = p->of_x[k];
    if (!p->unknown[i].read) return;
    ct_reading_kind kind = i != CT_TUNE_RETURN_MOISTURE            ? kinds[i]
                           : p->readings.r[CT_RETURN_WET_BULB].has ? CT_RETURN_WET_BULB
                                                                   : CT_RETURN_RH;
    ct_tune_reading *r = add_reading(p, kind, out);

    r->used = true;
    r->predicted = p->unknown[i].prior + p->unknown[i].sigma * s->z[k];
    r->z = left_out(-s->z[k], s->C[k][k]);
}

static void fill_rest(const problem *p, const prediction *at, ct_tune *out)
{
    for (int i = 0; i < CT_READING_COUNT; i++) {
        ct_reading_kind kind = (ct_reading_kind)i;
        if (!p->readings.r[i].has || is_condition(kind) || is_compared(p, kind)) continue;
        ct_tune_reading *r = add_reading(p, kind, out);
        r->used = kind == CT_BLOWER_POWER;
        if (r->used) r->predicted = at->y[kind];
    }
}

static ct_status fill(problem *p, const solution *s, ct_tune *out, ct_fault *fault)
{
    double x[CT_TUNE_COUNT];
    prediction at;
    gsl_vector_const_view z = gsl_vector_const_view_array(s->z, (size_t)p->n_x);

    from_z(p, &z.vector, x);
    ct_status status = predict(p, x, &at);
    if (status != CT_OK) {
        if (fault) *fault = p->fault;
        return status;
    }
    for (int k = 0; k < p->n_x; k++)
        fill_value(p, s, k, &out->value[p->of_x[k]]);
    for (int k = 0; k < p->n_x; k++)
        fill_condition(p, s, k, out);
    for (int i = 0; i < p->n_y; i++)
        fill_compared(p, s, &at, i, out);
    fill_rest(p, &at, out);
    out->fitted = true;
    out->chi2 = s->chi2;
    out->dof = s->dof;
    out->p = s->p;
    out->fits = !(s->p < CT_TUNE_P_LOW);
    out->away = s->away;
    out->iterations = s->iterations;
    out->V = at.V;
    out->balance = at.balance;
    return CT_OK;
}

static void fill_tuning(ct_tune *out)
{
    const ct_tune_value *v = out->value;

    out->tuning = (ct_tuning){.coil_conductance = {true, v[CT_TUNE_COIL].value},
                              .compressor_flow = {true, v[CT_TUNE_FLOW].value},
                              .compressor_power = {true, v[CT_TUNE_POWER].value},
                              .condenser_conductance = {true, v[CT_TUNE_CONDENSER].value},
                              .airflow = {out->tap >= 0, v[CT_TUNE_AIRFLOW].value}};
}

static double chance_below(const ct_tune_value *v, double limit)
{
    return gsl_cdf_ugaussian_P(log(limit / v->value) / v->u);
}

static void fill_causes(ct_tune *out)
{
    const ct_tune_value *v = out->value;

    out->cause[CT_CAUSE_LOW_AIRFLOW] = chance_below(&v[CT_TUNE_AIRFLOW], AIRFLOW_LOW);
    out->cause[CT_CAUSE_COIL] = chance_below(&v[CT_TUNE_COIL], COIL_LOW);
    out->cause[CT_CAUSE_CONDENSER] = chance_below(&v[CT_TUNE_CONDENSER], CONDENSER_LOW);
    out->cause[CT_CAUSE_COMPRESSOR] = chance_below(&v[CT_TUNE_FLOW], COMPRESSOR_LOW);
}

/* When the set does not fit, each reading that stands out is left out in turn. One whose absence
 * makes the rest fit is suspect; there may be several such, and then the readings cannot tell which
 * of them it is. */
static void cross_examine(problem *p, const ct_readings *all, ct_tune *out)
{
    for (int i = 0; i < out->n; i++) {
        ct_tune_reading *r = &out->reading[i];
        ct_readings rest = *all;
        solution s;
        if (!r->used || !(fabs(r->z) > NORMAL_95)) continue;
        rest.r[r->kind].has = false;
        arrange(p, &rest);
        if (fit(p, &s, NULL) != CT_OK) continue;
        r->p_without = s.p;
        r->suspect = s.p >= CT_TUNE_P_LOW;
    }
}

ct_status ct_tune_run(const ct_setup *setup, const ct_readings *readings, ct_tune *out,
                      ct_fault *fault)
{
    problem p = {.solver = setup->solver};
    ct_tune t = {0};
    solution s;
    ct_status status = prepare(&p, setup, readings, fault);

    if (status != CT_OK) return status;
    t.tap = p.tap;
    ct_visit_impossible(&p.visit, &t);
    ct_visit_heat(&p.visit, &t.heat);
    ct_visit_charge(&p.visit, t.cause);
    if (t.n_impossible == 0) {
        arrange(&p, readings);
        status = fit(&p, &s, fault);
        if (status == CT_OK) status = fill(&p, &s, &t, fault);
        if (status != CT_OK) return status;
        fill_tuning(&t);
        if (t.fits)
            fill_causes(&t);
        else
            cross_examine(&p, readings, &t);
    }
    t.evaluations = p.evaluations;
    *out = t;
    return CT_OK;
}
