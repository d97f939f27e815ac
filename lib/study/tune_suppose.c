#include "study/tune_suppose.h"

#include <math.h>

#include "base/units.h"

/* Multipliers: what each cause does to its part, the logarithm's mean and standard deviation, and
 * how often it is met for one sound system. Kelvin likewise. All common practice and judgment, no
 * source. */
typedef struct {
    ct_cause cause;
    int unknown;
    double times, sigma, odds;
} fault_row;

static const fault_row multipliers[] = {
    {CT_CAUSE_COIL, CT_TUNE_COIL, 0.65, 0.25, 0.10},
    {CT_CAUSE_CONDENSER, CT_TUNE_CONDENSER, 0.72, 0.20, 0.12},
    {CT_CAUSE_COMPRESSOR, CT_TUNE_FLOW, 0.84, 0.08, 0.04},
};
static const fault_row airflows[] = {
    {CT_CAUSE_LOW_AIRFLOW, CT_TUNE_AIRFLOW, 0.72, 0.20, 0.14},
    {CT_CAUSE_RESTRICTED, CT_TUNE_AIRFLOW, 0.72, 0.20, 0.10},
    {CT_CAUSE_BLOWER, CT_TUNE_AIRFLOW, 0.75, 0.20, 0.04},
};
static const fault_row pistons[] = {
    {CT_CAUSE_STARVED, CT_TUNE_PISTON, 0.75, 0.15, 0.05},
    {CT_CAUSE_FLOODED, CT_TUNE_PISTON, 1.25, 0.15, 0.08},
};
/* K. ANSI/ACCA 5 lets subcooling be 3 F off (from memory, unconfirmed): twice this, about. */
#define SOUND_SUBCOOLING 0.9
#define SOUND_AIRFLOW 0.10
/* Of the spread of their priors: airflow and watts of a blower that is not wrong, as of other
 * parts. Ducts keep theirs: the point of the case was itself measured, with an airflow no better
 * than some 7 %. */
#define SOUND_TABLE 0.5
#define TAP_ODDS 0.03 /* of each other tap; of all three about as often as a dirty coil */

/* Airflow over what static makes of it through ducts that are blocked, and through the table of a
 * weak blower; with their standard deviations. */
#define BLOCKED 0.65
#define BLOCKED_SIGMA 0.20
#define WEAK 0.75
#define WEAK_SIGMA 0.15
#define WATTS_FREE 0.3
/* The same where anything may be wrong. */
#define DUCTS_FREE 0.8
#define BLOWER_FREE 0.5
/* Flash gas cuts the capacity of a coil short of charge, and the model knows none: K, and of the
 * suction pressure. */
#define FLASH_SUPPLY (4.0 / CT_F_PER_K)
#define FLASH_SUCTION 0.05

/* How far an instrument that is off may be: of the reading, or an amount; and how often one is. */
static const struct {
    double share, amount, odds;
} off[CT_READING_COUNT] = {
    [CT_RETURN_DRY_BULB] = {0, 6 / CT_F_PER_K, 0.03},
    [CT_RETURN_WET_BULB] = {0, 5 / CT_F_PER_K, 0.03},
    [CT_RETURN_RH] = {0, 0.15, 0.02},
    [CT_SUPPLY_DRY_BULB] = {0, 6 / CT_F_PER_K, 0.02},
    [CT_SUPPLY_WET_BULB] = {0, 5 / CT_F_PER_K, 0.03},
    [CT_SUPPLY_RH] = {0, 0.15, 0.02},
    [CT_OUTDOOR_DRY_BULB] = {0, 8 / CT_F_PER_K, 0.03},
    [CT_SUCTION_PRESSURE] = {0.10, 0, 0.04},
    [CT_SUCTION_TEMPERATURE] = {0, 10 / CT_F_PER_K, 0.04},
    [CT_LIQUID_PRESSURE] = {0.07, 0, 0.03},
    [CT_LIQUID_TEMPERATURE] = {0, 8 / CT_F_PER_K, 0.05},
    [CT_STATIC] = {0.40, 0, 0.05},
    [CT_AIRFLOW] = {0.30, 0, 0.02},
    [CT_COMPRESSOR_POWER] = {0.15, 0, 0.03},
    [CT_OUTDOOR_POWER] = {0.15, 0, 0.03},
    [CT_BLOWER_POWER] = {0.30, 0, 0.01},
    [CT_CONDENSER_LEAVING] = {0, 10 / CT_F_PER_K, 0.02},
    [CT_CONDENSATE] = {0.30, 0, 0.02},
};

static ct_tune_supposition *add(ct_tune_supposition *list, int *n, ct_cause cause, double odds)
{
    ct_tune_supposition *s = &list[(*n)++];
    *s = (ct_tune_supposition){.cause = cause, .odds = odds, .subject = -1, .times = 1.0};
    return s;
}

static void move(ct_tune_supposition *s, int unknown, double mean, double sigma)
{
    s->move[s->n_moves].unknown = unknown;
    s->move[s->n_moves].mean = mean;
    s->move[s->n_moves++].sigma = sigma;
    if (s->subject < 0) s->subject = unknown;
}

static void add_multiplier(ct_tune_supposition *list, int *n, const fault_row *row)
{
    move(add(list, n, row->cause, row->odds), row->unknown, log(row->times), row->sigma);
}

static void set_share(ct_tune_supposition *s, int row, double share, double slack)
{
    s->share[row] = share;
    s->slack[row] = slack;
}

/* Static seen from both sides separates a restriction from a weak blower; else low airflow has no
 * name.
 */
static void add_airflow(const ct_tune_problem *p, ct_tune_supposition *list, int *n)
{
    const bool both = p->readings.r[CT_STATIC].has && p->u_V_ducts > 0.0 && p->tap >= 0;
    if (!both) {
        add_multiplier(list, n, &airflows[0]);
        list[*n - 1].slack[CT_BLOWER_POWER] = WATTS_FREE * p->of_tap.P_static;
        list[*n - 1].slack[CT_TUNE_ROW_DUCTS] = DUCTS_FREE * p->V_ducts;
        return;
    }
    add_multiplier(list, n, &airflows[1]);
    set_share(&list[*n - 1], CT_TUNE_ROW_DUCTS, BLOCKED, BLOCKED_SIGMA * p->V_ducts);
    add_multiplier(list, n, &airflows[2]);
    set_share(&list[*n - 1], CT_STATIC, WEAK, WEAK_SIGMA * p->of_tap.V_static);
    set_share(&list[*n - 1], CT_BLOWER_POWER, WEAK, WATTS_FREE * p->of_tap.P_static);
}

static void add_taps(const ct_tune_problem *p, ct_tune_supposition *list, int *n)
{
    for (int i = 0; p->tap >= 0 && i < p->job.blower.n_taps; i++) {
        ct_tune_tap tap;
        if (i == p->tap) continue;
        ct_tune_problem_tap(p, i, &tap);
        if (!tap.has) continue;
        ct_tune_supposition *s = add(list, n, CT_CAUSE_TAP, TAP_ODDS);
        s->tap = i;
        s->on = tap;
        move(s, CT_TUNE_AIRFLOW, log(tap.V / p->V_nominal), SOUND_AIRFLOW);
    }
}

/* Superheat is a coarser guide than subcooling, and depends on the day: too much is met oftener. */
#define OVERCHARGED_BY_SUPERHEAT 0.25

/* So little charge that the valve is wide open and starves. */
static void add_short(const ct_tune_problem *p, double SH, ct_tune_supposition *s)
{
    move(s, CT_TUNE_SUBCOOLING, 0.0, 1.5);
    move(s, CT_TUNE_SUPERHEAT, SH + 8.0, 6.0);
    s->slack[CT_SUPPLY_DRY_BULB] = s->slack[CT_SUPPLY_WET_BULB] = FLASH_SUPPLY;
    s->slack[CT_SUPPLY_RH] = 0.05;
    s->slack[CT_SUCTION_PRESSURE] = FLASH_SUCTION * p->readings.r[CT_SUCTION_PRESSURE].v;
}

/* One that is charged by superheat was the wrong one from the first, and its charge goes with it,
 * or went wrong afterwards, with the charge of a sound one: as often. */
static void add_piston(const ct_tune_problem *p, ct_tune_supposition *list, int *n,
                       const fault_row *row)
{
    add_multiplier(list, n, row);
    if (!(p->u_filled > 0.0)) return;
    add_multiplier(list, n, row);
    list[*n - 1].charge_stays = true;
    list[*n - 1].odds = list[*n - 2].odds = 0.5 * row->odds;
}

/* So much further an overcharge subcools, K: 5, or half of what there is to the outdoor air at the
 * rating, which no liquid gets colder than. Judgment, no source. */
static double much_more(const ct_tune_problem *p, double SC)
{
    return fmax(1.5, fmin(5.0, 0.5 * (p->c.outdoor.T_discharge_rated - CT_RATING_T_OUT - SC)));
}

/* With a valve the charge shows in the subcooling, the valve in the superheat; with a piston both
 * show in both, which the balance works out. */
static void add_charge(const ct_tune_problem *p, ct_tune_supposition *list, int *n)
{
    const double SC = p->prior[CT_TUNE_SUBCOOLING].prior, SH = p->prior[CT_TUNE_SUPERHEAT].prior;
    const bool valve = p->job.system.meter.kind == CT_METER_VALVE;
    move(add(list, n, CT_CAUSE_LOW_CHARGE, 0.10), CT_TUNE_SUBCOOLING, valve ? 0.5 : 2.0,
         valve ? 2.0 : 3.0);
    if (valve) add_short(p, SH, add(list, n, CT_CAUSE_LOW_CHARGE, 0.07));
    const double more = much_more(p, SC);
    move(add(list, n, CT_CAUSE_OVERCHARGE, p->u_filled > 0.0 ? OVERCHARGED_BY_SUPERHEAT : 0.06),
         CT_TUNE_SUBCOOLING, SC + more, 0.6 * more);
    if (!valve) {
        for (int i = 0; i < 2; i++)
            add_piston(p, list, n, &pistons[i]);
        return;
    }
    ct_tune_supposition *starved = add(list, n, CT_CAUSE_STARVED, 0.05);
    move(starved, CT_TUNE_SUPERHEAT, SH + 7.0, 4.0);
    move(starved, CT_TUNE_SUBCOOLING, SC + 1.0, 2.0);
    move(add(list, n, CT_CAUSE_FLOODED, 0.08), CT_TUNE_SUPERHEAT, 0.5, 1.5);
}

/* What is not wrong is near its plate. The fit of a sound system leaves a part the spread of
 * systems as they are found, which has faulty ones in it; as an explanation it may not, or a weak
 * part would be sound. `share` of the prior's spread, and beside it what two models of one plate
 * part. */
static void hold(const ct_tune_problem *p, ct_tune_supposition *s)
{
    static const double share[CT_TUNE_MULTIPLIERS] = {
        [CT_TUNE_COIL] = 0.5,      [CT_TUNE_FLOW] = 0.5,    [CT_TUNE_POWER] = 0.5,
        [CT_TUNE_CONDENSER] = 0.5, [CT_TUNE_AIRFLOW] = 0.5, [CT_TUNE_PISTON] = 0.5};
    const int subject = s->subject, n = s->n_moves;
    for (int u = 0; u < CT_TUNE_MULTIPLIERS; u++) {
        bool moved = false;
        for (int i = 0; i < n; i++)
            moved = moved || s->move[i].unknown == u;
        const double doubt = u == CT_TUNE_AIRFLOW ? 0.0 : p->doubt * ct_tune_doubt_of(p, u);
        if (!moved && p->prior[u].fitted)
            move(s, u, 0.0, hypot(share[u] * p->prior[u].sigma, doubt));
    }
    bool charged = false;
    for (int i = 0; i < n; i++)
        charged = charged || s->move[i].unknown == CT_TUNE_SUBCOOLING;
    const double SC = p->prior[CT_TUNE_SUBCOOLING].prior;
    if (!charged && s->subject != CT_TUNE_PISTON)
        move(s, CT_TUNE_SUBCOOLING, SC, p->u_filled > 0.0 ? p->u_filled : SOUND_SUBCOOLING);
    if (s->charge_stays)
        move(s, CT_TUNE_SUBCOOLING, SC,
             hypot(p->u_filled, share[CT_TUNE_PISTON] * CT_TUNE_SIGMA_PISTON * p->less_filled));
    s->subject = subject;
    s->n_held = s->n_moves - n;
}

/* A static that is off by s shows slope s more air through the table and rise s more through the
 * ducts. What both say of the air whatever s is, is where table and ducts of the case meet; the
 * other row, wide, is left to say s. Counted in these two, what was read is `times` as dense. */
static void set_static_off(const ct_tune_problem *p, ct_tune_supposition *s)
{
    const bool table = ct_tune_problem_compares(p, CT_STATIC),
               ducts = ct_tune_problem_compares(p, CT_TUNE_ROW_DUCTS);
    const double v = p->readings.r[CT_STATIC].v, slope = p->of_tap.slope;
    const double rise = p->V_ducts / (2.0 * v);
    s->slack[CT_TUNE_ROW_DUCTS] = rise * s->far;
    /* the watts are then those against the ducts of the case, not those at what was read */
    s->share[CT_BLOWER_POWER] = p->of_tap.P_static > 0.0 ? p->of_tap.P / p->of_tap.P_static : 0.0;
    if (!table || !ducts || !(slope < 0.0)) {
        s->slack[CT_STATIC] = fabs(slope) * s->far;
        return;
    }
    const double of_table = rise / (rise - slope);
    s->times = of_table;
    s->meets = true;
    s->u_meets = hypot(of_table * SOUND_TABLE * CT_TUNE_SIGMA_TABLE * p->of_tap.V,
                       (1.0 - of_table) * CT_TUNE_SIGMA_DUCTS * p->of_tap.V);
}

static void add_readings(const ct_tune_problem *p, ct_tune_supposition *list, int *n)
{
    for (int i = 0; i < CT_READING_COUNT; i++) {
        const ct_reading *r = &p->readings.r[i];
        const ct_reading_kind kind = (ct_reading_kind)i;
        const double far = off[i].share * fabs(r->v) + off[i].amount;
        const bool condition = ct_tune_problem_is_condition(kind);
        const bool ducts = kind == CT_STATIC && ct_tune_problem_compares(p, CT_TUNE_ROW_DUCTS);
        if (!r->has || !(condition || ducts || ct_tune_problem_compares(p, i))) continue;
        ct_tune_supposition *s = add(list, n, CT_CAUSE_READING, off[i].odds);
        s->kind = kind;
        s->far = far;
        if (condition) {
            move(s, ct_tune_problem_unknown_of(kind), r->v, hypot(r->u, far));
            s->subject = -1;
        } else if (kind == CT_STATIC) {
            set_static_off(p, s);
        } else {
            s->slack[i] = far;
        }
    }
}

int ct_tune_suppose_all(const ct_tune_problem *p, ct_tune_supposition list[CT_TUNE_SUPPOSITIONS])
{
    int n = 0;
    add(list, &n, CT_CAUSE_COUNT, 1.0);
    add_airflow(p, list, &n);
    add_taps(p, list, &n);
    for (size_t i = 0; i < sizeof multipliers / sizeof multipliers[0]; i++)
        add_multiplier(list, &n, &multipliers[i]);
    add_charge(p, list, &n);
    add_readings(p, list, &n);
    for (int i = 0; i < n; i++)
        hold(p, &list[i]);
    return n;
}

/* Watts of a weak blower: what the table says is scaled, for other rows what was read of it. */
static void set_under(ct_tune_problem *p, int row, const ct_tune_supposition *s)
{
    if (s->slack[row] > 0.0) p->u_row[row] = hypot(p->u_row[row], s->slack[row]);
    if (!(s->share[row] > 0.0)) return;
    if (row == CT_BLOWER_POWER)
        p->of_tap.P_static *= s->share[row];
    else
        p->seen[row] *= s->share[row];
}

/* Static through the table of another tap. One that holds its airflow says nothing by it: the row
 * then shows that airflow, with the doubt it had, so that taps with and without it weigh alike. */
static void set_table(ct_tune_problem *p, const ct_tune_tap *on)
{
    p->seen[CT_STATIC] = on->u_V_static > 0.0 ? on->V_static : on->V;
}

void ct_tune_suppose(ct_tune_problem *p, const ct_tune_supposition *s)
{
    if (s->cause == CT_CAUSE_TAP) {
        p->of_tap = s->on;
        set_table(p, &s->on);
    }
    ct_tune_problem_near(p, s->n_held > 0 ? SOUND_TABLE : 1.0);
    if (s->meets) {
        p->seen[CT_STATIC] = p->of_tap.V;
        p->u_row[CT_STATIC] = s->u_meets;
    }
    p->charge_stays = s->charge_stays;
    for (int i = 0; i < s->n_moves; i++) {
        p->prior[s->move[i].unknown].prior = s->move[i].mean;
        p->prior[s->move[i].unknown].sigma = s->move[i].sigma;
    }
    for (int row = 0; row < CT_TUNE_ROWS; row++)
        set_under(p, row, s);
}

void ct_tune_suppose_loosely(ct_tune_problem *p, const ct_tune_supposition *s)
{
    ct_tune_supposition loose = *s;
    loose.n_moves -= s->n_held;
    loose.n_held = 0;
    ct_tune_suppose(p, &loose);
}

void ct_tune_suppose_anything(ct_tune_problem *p)
{
    static const double sigma[CT_TUNE_MULTIPLIERS] = {
        [CT_TUNE_COIL] = 0.5,      [CT_TUNE_FLOW] = 0.25,   [CT_TUNE_POWER] = 0.25,
        [CT_TUNE_CONDENSER] = 0.4, [CT_TUNE_AIRFLOW] = 0.5, [CT_TUNE_PISTON] = 0.4};
    for (int i = 0; i < CT_TUNE_MULTIPLIERS; i++)
        p->prior[i].sigma = sigma[i];
    p->prior[CT_TUNE_SUBCOOLING].sigma = 6.0;
    p->prior[CT_TUNE_SUPERHEAT].sigma = 8.0;
    p->u_row[CT_STATIC] = hypot(p->u_row[CT_STATIC], BLOWER_FREE * p->of_tap.V_static);
    p->u_row[CT_TUNE_ROW_DUCTS] = hypot(p->u_row[CT_TUNE_ROW_DUCTS], DUCTS_FREE * p->V_ducts);
    p->u_row[CT_BLOWER_POWER] = hypot(p->u_row[CT_BLOWER_POWER], WATTS_FREE * p->of_tap.P_static);
}
