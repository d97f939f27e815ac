#include "page/readings.h"

#include <math.h>

#include "base/units.h"
#include "fluid/air.h"

#define F_STEP(n) ((n) / CT_F_PER_K)
#define PSI(n) ((n)*CT_PA_PER_PSI)

/* Instruments: common practice, no source. Floors: superheat within 5 F and subcooling within 3 F
 * of the target, ANSI/ACCA 5 (from memory, unconfirmed). */
static const page_reading_row rows[READ_COUNT] = {
    [READ_SUCTION_PRESSURE] = {"Suction pressure", Q_PRESSURE_GAUGE, Q_PRESSURE_GAUGE, PSI(1), 0.01,
                               0},
    [READ_SUCTION] = {"Saturated suction (dew)", Q_TEMPERATURE, Q_DELTA_T, F_STEP(1), 0, 0},
    [READ_SUPERHEAT] = {"Superheat, outdoor unit", Q_DELTA_T, Q_DELTA_T, F_STEP(1.5), 0, F_STEP(5)},
    [READ_SUPERHEAT_COIL] = {"Superheat, coil outlet", Q_DELTA_T, Q_DELTA_T, F_STEP(1.5), 0,
                             F_STEP(5)},
    [READ_LIQUID_PRESSURE] = {"Liquid pressure", Q_PRESSURE_GAUGE, Q_PRESSURE_GAUGE, PSI(2), 0.01,
                              0},
    [READ_SUBCOOLING] = {"Subcooling (bubble)", Q_DELTA_T, Q_DELTA_T, F_STEP(1.5), 0, F_STEP(3)},
    [READ_SUPPLY] = {"Supply dry bulb", Q_TEMPERATURE, Q_DELTA_T, F_STEP(1), 0, 0},
    [READ_SUPPLY_WET] = {"Supply wet bulb", Q_TEMPERATURE, Q_DELTA_T, F_STEP(1), 0, 0},
    [READ_SPLIT] = {"Temperature split", Q_DELTA_T, Q_DELTA_T, F_STEP(1.4), 0, 0},
    [READ_STATIC] = {"External static", Q_STATIC, Q_STATIC, 5, 0, 0},
    [READ_WATTS] = {"Blower power", Q_ELECTRIC, Q_ELECTRIC, 0, 0.05, 0},
};

const page_reading_row *page_reading_of(page_reading r)
{
    return &rows[r];
}

/* One thing of the model moved by a factor. */
typedef enum {
    MOVE_COIL,
    MOVE_CONDENSER,
    MOVE_COMPRESSOR,
    MOVE_BORE,   /* nothing moves with a valve */
    MOVE_CHARGE, /* subcooling, of CHARGE_STEP */
    MOVE_AIRFLOW,
    MOVE_COUNT
} move;
#define CHARGE_STEP F_STEP(3)
static const double move_by[MOVE_COUNT] = {0.10, 0.10, 0.05, 0.02, 1.0, 0.10};

typedef struct {
    ct_sweep_job at;
    double m_da, P, V;
    ct_start start;
} setting;

static void apply(move what, double k, setting *s)
{
    ct_condenser *condenser = &s->at.system.outdoor.condenser;
    double P;
    switch (what) {
    case MOVE_COIL:
        s->at.system.coil.Ao *= k;
        s->at.system.coil.UAi_ref *= k;
        break;
    case MOVE_CONDENSER: condenser->eps_C *= k; break;
    case MOVE_BORE: s->at.system.meter.orifice.bore *= k; break;
    case MOVE_CHARGE:
        condenser->subcooling += (k - 1) * fmin(CHARGE_STEP, condenser->subcooling);
        break;
    case MOVE_COMPRESSOR: s->at.system.outdoor.compressor.flow *= k; break;
    default:
        s->m_da *= k;
        s->V *= k;
        if (ct_sweep_watts(&s->at, s->V, &P, NULL) == CT_OK) s->P = P;
        break;
    }
}

static void read_refrigerant(const ct_balance *b, double p_air, double v[READ_COUNT])
{
    v[READ_SUCTION_PRESSURE] = b->p_suction - p_air;
    v[READ_SUCTION] = b->Te;
    v[READ_SUPERHEAT] = b->T_suction - b->Te;
    v[READ_SUPERHEAT_COIL] = b->superheat;
    v[READ_LIQUID_PRESSURE] = b->p_discharge - p_air;
    v[READ_SUBCOOLING] = b->subcooling;
}

static void read_air(const setting *s, const ct_balance *b, double v[READ_COUNT])
{
    v[READ_SUPPLY] = b->supply.T;
    if (ct_air_wet_bulb(&b->supply, &v[READ_SUPPLY_WET], NULL) != CT_OK) v[READ_SUPPLY_WET] = NAN;
    v[READ_SPLIT] = s->at.indoor.T - b->supply.T;
    v[READ_STATIC] = s->at.has_duct ? ct_duct_dp(&s->at.duct, s->V) : (double)NAN;
    v[READ_WATTS] = s->P;
}

static bool take(ct_solver *solver, const setting *s, double v[READ_COUNT])
{
    const ct_conditions at = {s->at.indoor, s->at.T_out, s->m_da, s->P};
    ct_balance b;
    if (ct_balance_solve(solver, &s->at.system, &at, &s->start, &b, NULL) != CT_OK) return false;
    read_refrigerant(&b, s->at.indoor.p, v);
    read_air(s, &b, v);
    return true;
}

/* Adds the square of half the spread between the two ends; a missing end leaves no number. */
static void add_spread(ct_solver *solver, const setting *base, move what, double sum[READ_COUNT])
{
    double low[READ_COUNT], high[READ_COUNT];
    setting down = *base, up = *base;
    apply(what, 1 - move_by[what], &down);
    apply(what, 1 + move_by[what], &up);
    const bool both = take(solver, &down, low) && take(solver, &up, high);
    for (int i = 0; i < READ_COUNT; i++)
        sum[i] += both ? pow((high[i] - low[i]) / 2, 2) : (double)NAN;
}

static void find_tolerances(ct_solver *solver, const setting *base, page_readings *out)
{
    double sum[READ_COUNT] = {0};
    for (int i = 0; i < MOVE_COUNT; i++)
        add_spread(solver, base, (move)i, sum);
    for (int i = 0; i < READ_COUNT; i++) {
        const double share = rows[i].instrument_share * out->v[i];
        const double all = sqrt(sum[i] + pow(rows[i].instrument, 2) + share * share);
        out->tolerance[i] = all < rows[i].floor ? rows[i].floor : all;
    }
    /* The charge is weighed in until the subcooling is right: the model does not predict it. */
    out->tolerance[READ_SUBCOOLING] = rows[READ_SUBCOOLING].floor;
}

static void find_days(ct_solver *solver, const setting *base, bool metric, page_readings *out)
{
    static const double days_f[PAGE_DAYS] = {75, 85, 95, 105}, days_c[PAGE_DAYS] = {24, 29, 35, 41};
    for (int i = 0; i < PAGE_DAYS; i++) {
        page_day *day = &out->day[i];
        setting s = *base;
        day->T_out = metric ? days_c[i] + CT_ZERO_C : ct_K_from_F(days_f[i]);
        s.at.T_out = day->T_out;
        s.start.Tc += day->T_out - base->at.T_out;
        day->has = take(solver, &s, day->v);
    }
}

/* Return air rarely has its design moisture on the day of the visit. */
static void find_wet_bulb(ct_solver *solver, const setting *base, page_readings *out)
{
    const double step = F_STEP(1);
    double low[READ_COUNT], high[READ_COUNT], wet;
    setting down = *base, up = *base;
    if (ct_air_wet_bulb(&base->at.indoor, &wet, NULL) != CT_OK) return;
    const double T = base->at.indoor.T, p = base->at.indoor.p;
    out->T_return_wet = wet;
    out->has_wet_bulb = ct_air_from_wet_bulb(T, wet - step, p, &down.at.indoor, NULL) == CT_OK &&
                        ct_air_from_wet_bulb(T, wet + step, p, &up.at.indoor, NULL) == CT_OK &&
                        take(solver, &down, low) && take(solver, &up, high);
    if (!out->has_wet_bulb) return;
    out->suction_per_wet = (high[READ_SUCTION_PRESSURE] - low[READ_SUCTION_PRESSURE]) / (2 * step);
    out->split_per_wet = (high[READ_SPLIT] - low[READ_SPLIT]) / (2 * step);
}

void page_readings_work_out(ct_solver *solver, const ct_sweep_job *at, const ct_point *point,
                            bool metric, page_readings *out)
{
    const setting base = {*at, point->m_da, point->P_blower, point->V,
                          ct_balance_start(&point->balance)};
    *out = (page_readings){0};
    out->has = take(solver, &base, out->v);
    if (!out->has) return;
    find_tolerances(solver, &base, out);
    find_days(solver, &base, metric, out);
    find_wet_bulb(solver, &base, out);
}
