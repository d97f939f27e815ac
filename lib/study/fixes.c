#include "study/fixes.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/units.h"
#include "judge/notes.h"
#include "judge/sweep.h"
#include "part/orifice.h"
#include "part/target_superheat.h"
#include "study/fix_heating.h"

/* R in h ft2 F/Btu to m2 K/W. */
#define RSI 0.1761101838

/* Heat of evaporating a kilogram of water at room temperature, J/kg: 1061 Btu/lb at 0 F and half a
 * Btu more at 75 F, ASHRAE Handbook Fundamentals, psychrometrics. */
#define H_WATER 2.45e6

/* Water a dehumidifier removes for its electricity, kg/J: 1.5 L/kWh, common practice, no source. */
#define WATER_PER_JOULE (1.5 / 3.6e6)

#define HALF_TON (0.5 * CT_W_PER_TON)
#define HELPS 0.1 /* of the gap: less is not worth the work */

/* Superheat for a piston where the day has no target, K: 10 F, common practice, no source. */
#define USUAL_SUPERHEAT (10.0 / CT_F_PER_K)
#define ALIKE (1.0 / CT_F_PER_K) /* K: gauges tell superheats no closer */
#define HAIR 1e-6                /* m: two bores closer than this are one */

enum { POINTS_WITHOUT_TAPS = 9 };

typedef struct {
    const ct_setup *setup;
    ct_case c; /* changed */
    ct_outdoor outdoor;
    ct_coil matched;
    ct_sweep_job job;
    ct_sweep near, now;
    const ct_sweep *nominal;
    unsigned also; /* done besides the remedy that is tried; of ct_fix.also */
    ct_fix_heating heat;
} bench;

static ct_indoor_unit *unit_of(bench *b)
{
    return &b->c.indoor[b->setup->unit];
}

/* ---- Steps: each changes the case, and says how far it went ------------------------- */

/* False: there is no such step. */
typedef bool take_step(bench *b, int step, double *amount);

/* AUTO instead of ON, or no run-on after the compressor. */
static bool fan_on_auto(bench *b, int step, double *amount)
{
    ct_house *h = &b->c.house;

    if (step > 1 || !ct_remedy_fan_runs_on(h)) return false;
    h->fan_on = false;
    h->fan_off_delay.has = false;
    *amount = 0.0;
    return true;
}

static bool less_static(bench *b, int step, double *amount)
{
    ct_duct *d = &b->c.duct;
    const double share = 1.0 - 0.1 * step;

    if (!b->c.has_duct || unit_of(b)->blower.n_taps == 0 || share < 0.45) return false;
    d->dp *= share;
    d->dp_coil_out *= share;
    *amount = d->dp;
    return true;
}

static bool resize(bench *b, double factor, double *amount)
{
    ct_coil_spec *coil = &unit_of(b)->coil;
    const double size = coil->size * factor;

    if (coil->has_geometry || !(size >= 0.4 && size <= 3.0)) return false;
    coil->size = size;
    if (coil->growth == CT_GROW_FACE && coil->face.has) coil->face.v *= factor;
    *amount = size;
    return true;
}

static bool smaller_coil(bench *b, int step, double *amount)
{
    return step <= 4 && resize(b, 1.0 - 0.1 * step, amount);
}

static bool larger_coil(bench *b, int step, double *amount)
{
    return step <= 6 && resize(b, 1.0 + 0.1 * step, amount);
}

/* Larger, smaller, larger still: 1, -1, 2, -2. */
static int to_and_fro(int step)
{
    return step % 2 ? (step + 1) / 2 : -step / 2;
}

/* Each piston of the shelf, smallest first, but the one it has. */
static bool another_piston(bench *b, int step, double *amount)
{
    ct_meter_spec *m = &unit_of(b)->meter;
    double bore = 0.0, above, unused;

    if (m->kind != CT_METER_ORIFICE || !m->bore.has) return false;
    for (int i = 0; i < step; bore = above, i++) {
        ct_orifice_nearest(bore + HAIR, &unused, &above);
        if (fabs(above - m->bore.v) < HAIR) ct_orifice_nearest(above + HAIR, &unused, &above);
    }
    m->bore.v = *amount = bore;
    return isfinite(bore);
}

/* A valve that is as large as the outdoor unit, in place of a piston. */
static void put_valve_in(ct_meter_spec *m)
{
    m->kind = CT_METER_VALVE;
    m->Q_rated.has = m->dp_rated.has = false;
    m->refrigerant[0] = '\0';
}

/* The piston floods or starves at some speed, or so far that nothing balances. */
static bool piston_fails(const bench *b)
{
    int n;
    const ct_point *points = ct_sweep_speeds(b->nominal, &n);

    for (int i = 0; i < n; i++)
        if (points[i].limit[CT_LIMIT_METER].verdict == CT_FAILS || points[i].status != CT_OK)
            return true;
    return false;
}

static bool another_valve(bench *b, int step, double *amount)
{
    ct_meter_spec *m = &unit_of(b)->meter;
    const double Q = m->Q_rated.v + HALF_TON * to_and_fro(step);

    if (m->kind == CT_METER_ORIFICE) {
        if (step > 1 || !piston_fails(b)) return false;
        *amount = b->c.outdoor.tons * CT_W_PER_TON;
        put_valve_in(m);
        return true;
    }
    if (step > 6 || !m->Q_rated.has || !(Q > 0.9 * HALF_TON)) return false;
    m->Q_rated.v = Q;
    *amount = Q;
    return true;
}

static bool heat_fails(const ct_sweep *s)
{
    const ct_judgment *at = ct_sweep_speeds(s, NULL)[0].limit;

    return at[CT_LIMIT_HEAT].verdict == CT_FAILS || at[CT_LIMIT_FURNACE].verdict == CT_FAILS ||
           at[CT_LIMIT_HEAT_HEAD].verdict == CT_FAILS;
}

static bool another_heat_tap(bench *b, int step, double *amount)
{
    ct_indoor_unit *u = unit_of(b);

    if (!heat_fails(b->nominal) || step > u->blower.n_taps) return false;
    u->V_heat.has = false;
    memcpy(u->heat_tap, u->blower.tap[step - 1].name, sizeof u->heat_tap);
    *amount = step;
    return true;
}

/* Without a blower table: the airflow that was read while it heats is set anew. */
static bool another_heat_airflow(bench *b, int step, double *amount)
{
    if (step > 1 || !(b->heat.V > 0.0)) return false;
    unit_of(b)->V_heat = (ct_maybe){true, *amount = b->heat.V};
    return true;
}

static bool more_insulation(bench *b, int step, double *amount)
{
    static const double R[] = {4.2, 6.0, 8.0, 12.0, 16.0, 24.0};
    ct_site *site = &b->c.site;
    int better = 0;

    if (!site->has_around_duct) return false;
    for (size_t i = 0; i < sizeof R / sizeof R[0]; i++)
        if (R[i] * RSI > site->duct_R * 1.01 && ++better == step) {
            site->duct_R = *amount = R[i] * RSI;
            return true;
        }
    return false;
}

/* The water's latent heat and the machine's own power come back as sensible heat. */
static bool dehumidifier(bench *b, int step, double *amount)
{
    static const double pints[] = {20, 30, 50, 70, 95, 130};
    ct_house *h = &b->c.house;

    if (!h->rh_ceiling.has || step > (int)(sizeof pints / sizeof pints[0])) return false;
    double water = pints[step - 1] * CT_KG_S_PER_PINT_DAY;
    h->Q_latent = fmax(0.0, h->Q_latent - water * H_WATER);
    h->Q_sensible += water * (H_WATER + 1.0 / WATER_PER_JOULE);
    *amount = water;
    return true;
}

static void grow_plate(ct_outdoor_unit *u, double ratio)
{
    double *const grows[] = {
        &u->Q_net,           &u->V_rated_std,        &u->P_blower_rated,
        &u->P_fan,           &u->low.Q_net,          &u->low.V_std,
        &u->low.P_blower,    &u->low.P_fan,          &u->heat_pump.Q_net.v,
        &u->heat_pump.V_std, &u->heat_pump.P_blower, &u->heat_pump.Q_net_cold.v};

    for (size_t i = 0; i < sizeof grows / sizeof *grows; i++)
        *grows[i] *= ratio;
}

/* The same kind of unit in a larger frame: everything on its plate grows, the indoor coil stays,
 * and the metering device is chosen anew: a valve by tons. */
static bool larger_outdoor(bench *b, int step, double *amount)
{
    ct_outdoor_unit *u = &b->c.outdoor;
    const double ratio = (u->tons + 0.5 * step) / u->tons;

    if (step > 6 || unit_of(b)->coil.has_geometry) return false;
    u->tons += 0.5 * step;
    grow_plate(u, ratio);
    unit_of(b)->coil.size /= ratio;
    unit_of(b)->meter.Q_rated.v *= ratio;
    if (unit_of(b)->meter.kind == CT_METER_ORIFICE) put_valve_in(&unit_of(b)->meter);
    for (int i = 0; i < b->near.n; i++)
        b->near.point[i].m_da *= ratio;
    *amount = u->tons * CT_W_PER_TON;
    return unit_of(b)->coil.size >= 0.4;
}

static bool less_load(bench *b, int step, double *amount)
{
    const double off = 0.05 * step * b->c.house.Q_sensible;

    if (step > 8) return false;
    b->c.house.Q_sensible -= off;
    *amount = off;
    return true;
}

/* The order of work and money; a remedy that closes the gap goes before a dearer one. */
static const struct {
    unsigned remedy;
    take_step *take;
    ct_unit_kind unit;
} rows[] = {
    {CT_REMEDY_FAN, fan_on_auto, CT_UNIT_NONE},           /* seconds it runs on: none */
    {CT_REMEDY_HEAT_TAP, another_heat_tap, CT_UNIT_NONE}, /* which, counted from 1 */
    {CT_REMEDY_HEAT_TAP, another_heat_airflow, CT_UNIT_AIRFLOW},
    {CT_REMEDY_METERING, another_piston, CT_UNIT_LENGTH},
    {CT_REMEDY_METERING, another_valve, CT_UNIT_POWER},
    {CT_REMEDY_INSULATION, more_insulation, CT_UNIT_R_VALUE},
    {CT_REMEDY_DUCTS, less_static, CT_UNIT_PRESSURE},
    {CT_REMEDY_DEHUMIDIFIER, dehumidifier, CT_UNIT_NONE},
    {CT_REMEDY_LESS_LOAD, less_load, CT_UNIT_POWER},
    {CT_REMEDY_SMALLER_COIL, smaller_coil, CT_UNIT_NONE},
    {CT_REMEDY_LARGER_COIL, larger_coil, CT_UNIT_NONE},
    {CT_REMEDY_LARGER_OUTDOOR, larger_outdoor, CT_UNIT_POWER},
};

_Static_assert(sizeof rows / sizeof rows[0] <= CT_REMEDY_COUNT, "each row may be kept");

/* ---- What costs nothing ------------------------------------------------------------ */

/* A switch and a wire, where they are at fault: each fails a limit that no other remedy helps, so
 * that whatever else is wrong would look past help. */
static unsigned free_changes(bench *b, const ct_point *best)
{
    unsigned also = 0;

    if (best->limit[CT_LIMIT_HUMIDITY].verdict == CT_FAILS &&
        ct_remedy_fan_runs_on(&b->setup->c->house))
        also |= CT_REMEDY_FAN;
    if (heat_fails(b->nominal) && ct_sweep_prepare(b->setup, &b->job, NULL) == CT_OK)
        b->heat = ct_fix_heating_of(&b->job);
    return b->heat.tap > 0 || b->heat.V > 0.0 ? also | CT_REMEDY_HEAT_TAP : also;
}

static void change_besides(bench *b)
{
    double unused;

    if (b->also & CT_REMEDY_FAN) fan_on_auto(b, 1, &unused);
    if (b->also & CT_REMEDY_HEAT_TAP && !another_heat_airflow(b, 1, &unused))
        another_heat_tap(b, b->heat.tap, &unused);
}

/* ---- Running ----------------------------------------------------------------------- */

/* The speed with the least gap, the lowest of those that pass. */
static const ct_point *best_of(const ct_sweep *s, double *gap, ct_limit *worst)
{
    int n;
    const ct_point *points = ct_sweep_speeds(s, &n), *best = ct_sweep_nearest(s);

    if (n == 0) return NULL;
    if (!best) best = &points[0]; /* none balances */
    *worst = ct_limit_worst(best->limit);
    *gap = best->passes ? 0.0 : ct_limit_shortfall(*worst, &best->limit[*worst]);
    return best;
}

/* What the near sweep begins at: the taps, or a few of the airflows. */
static void set_near(bench *b)
{
    const ct_sweep *s = b->nominal;
    const int n = s->n < POINTS_WITHOUT_TAPS ? s->n : POINTS_WITHOUT_TAPS;

    b->near.n_taps = s->n_taps;
    for (int i = 0; i < s->n_taps; i++)
        b->near.tap[i] = s->tap[i];
    b->near.n = s->n_taps ? 0 : n;
    for (int i = 0; i < b->near.n; i++)
        b->near.point[i] = s->point[n > 1 ? i * (s->n - 1) / (n - 1) : 0];
}

/* A case that cannot be made, say a coil no nameplate can have, is no remedy. */
static bool run(bench *b)
{
    const ct_setup *like = b->setup;
    const ct_setup setup = {like->solver, &b->c, &b->outdoor, &b->matched, like->unit};
    ct_calibration calibration;

    if (ct_setup_rate_near(like, &b->c, &b->outdoor, &b->matched, &calibration, NULL) != CT_OK ||
        ct_sweep_prepare(&setup, &b->job, NULL) != CT_OK)
        return false;
    b->job.no_reach = true;
    ct_sweep_near(like->solver, &b->job, &b->near, &b->now);
    return true;
}

/* How well a piston suits, the less the better, the first that differs decides. */
typedef struct {
    double off;        /* K from the target superheat, beyond ALIKE */
    int doubtful;      /* speeds that pass and need a second look at the piston */
    double subcooling; /* K off the rated one: charge that the bore takes more or less of */
} suits;

static suits suits_at(const bench *b, const ct_point *p)
{
    double wet_bulb, target = USUAL_SUPERHEAT;
    suits s = {.doubtful = 0};
    int n;
    const ct_point *points = ct_sweep_speeds(&b->now, &n);

    if (ct_air_wet_bulb(&b->job.indoor, &wet_bulb, NULL) == CT_OK)
        ct_target_superheat(wet_bulb, b->job.T_out, &target, NULL);
    s.off = fmax(0.0, fabs(p->balance.superheat - target) - ALIKE);
    for (int i = 0; i < n; i++)
        if (points[i].passes && (points[i].notes & CT_NOTE_METERING)) s.doubtful++;
    s.subcooling = fabs(p->balance.subcooling - b->c.outdoor.subcooling);
    return s;
}

static bool suits_better(const suits *a, const suits *than)
{
    if (a->off < than->off || a->off > than->off) return a->off < than->off;
    if (a->doubtful != than->doubtful) return a->doubtful < than->doubtful;
    return a->subcooling < than->subcooling;
}

/* A larger unit on the same coil dries more while it runs, but nobody oversizes to dry a house. */
static bool out_of_place(unsigned remedy, const ct_fixes *all)
{
    return remedy == CT_REMEDY_LARGER_OUTDOOR && all->worst == CT_LIMIT_HUMIDITY;
}

static bool is_piston(int row)
{
    return rows[row].take == another_piston;
}

/* What step `amount` of a remedy came to. False: no speed can be named. */
static bool weigh(const bench *b, int row, const ct_fixes *all, double amount, ct_fix *fix)
{
    ct_fix f = {.remedy = rows[row].remedy,
                .unit = rows[row].unit,
                .amount = amount,
                .also = b->also,
                .heat_tap = b->also & CT_REMEDY_HEAT_TAP ? b->heat.tap : 0,
                .V_heat = b->also & CT_REMEDY_HEAT_TAP ? b->heat.V : 0.0,
                .gap_was = all->gap};
    const ct_point *p = best_of(&b->now, &f.gap, &f.worst);

    if (!p) return false;
    f.point = *p;
    f.closes = p->passes;
    f.low_fails = b->job.low_fails;
    f.closes_worst = p->limit[all->worst].verdict != CT_FAILS;
    *fix = f;
    return true;
}

/* Is the step better than the best so far? Among pistons that close the gap the one that suits. */
static bool is_better(int row, const ct_fix *now, const suits *s, const ct_fix *fix,
                      const suits *best)
{
    if (!now->closes || !fix->closes) return now->gap < fix->gap;
    if (now->low_fails != fix->low_fails) return fix->low_fails;
    return is_piston(row) && suits_better(s, best);
}

/* The smallest step that closes the gap, else the one that leaves least of it. Of the pistons that
 * close it the one that suits best: a bore just inside a limit has the next technician change it
 * again. */
static bool try_remedy(bench *b, int row, const ct_fixes *all, ct_fix *fix)
{
    suits best = {.doubtful = 0};

    *fix = (ct_fix){.gap = all->gap * (1.0 - HELPS)};
    for (int step = 1; !fix->closes || fix->low_fails || is_piston(row); step++) {
        double amount;
        ct_fix now;
        b->c = *b->setup->c;
        set_near(b);
        change_besides(b);
        if (!rows[row].take(b, step, &amount)) break;
        if (!run(b) || !weigh(b, row, all, amount, &now)) continue;
        const suits s = suits_at(b, &now.point);
        if (!is_better(row, &now, &s, fix, &best)) continue;
        *fix = now;
        best = s;
    }
    return fix->remedy != CT_REMEDY_NONE;
}

/* By itself, and where that is not enough with what costs nothing: as little of it as will do. */
static bool try_row(bench *b, int row, const ct_fixes *all, unsigned nothing, ct_fix *fix)
{
    const unsigned own = rows[row].remedy;
    const unsigned fan = nothing & CT_REMEDY_FAN, tap = nothing & CT_REMEDY_HEAT_TAP;
    const unsigned besides[] = {fan, tap, fan && tap ? nothing : 0};
    ct_fix more;

    b->also = 0;
    const bool found = try_remedy(b, row, all, fix);
    for (int i = 0; i < 3 && !(found && fix->closes); i++) {
        b->also = besides[i];
        if (b->also == 0 || (b->also & own) || !try_remedy(b, row, all, &more)) continue;
        if (!more.closes) continue;
        *fix = more;
        return true;
    }
    return found;
}

static bool goes_before(const ct_fix *a, const ct_fix *b)
{
    if (a->closes && b->closes) return !a->low_fails && b->low_fails;
    return a->gap < b->gap;
}

/* By the gap that is left; those that close it keep the order of the rows. */
static void put_in_place(const ct_fix *fix, ct_fixes *all)
{
    int k = all->n++;

    for (; k > 0 && goes_before(fix, &all->fix[k - 1]); k--)
        all->fix[k] = all->fix[k - 1];
    all->fix[k] = *fix;
}

ct_status ct_fixes_run(const ct_setup *setup, const ct_sweep *sweep, ct_fixes *out, ct_fault *fault)
{
    bench *b = calloc(1, sizeof *b);

    if (!b) return ct_fault_say(fault, CT_SYSTEM, "out of memory");
    *out = (ct_fixes){.none_closes = true};
    b->setup = setup;
    b->nominal = sweep;
    const ct_point *best = best_of(sweep, &out->gap, &out->worst);
    unsigned nothing = best ? free_changes(b, best) : 0;
    out->has_gap = best != NULL;
    for (size_t i = 0; out->has_gap && i < sizeof rows / sizeof rows[0]; i++) {
        ct_fix fix;
        if (out_of_place(rows[i].remedy, out) || !try_row(b, (int)i, out, nothing, &fix)) continue;
        put_in_place(&fix, out);
        if (fix.closes) out->none_closes = false;
        if (fix.closes && (rows[i].remedy & nothing)) nothing = 0; /* enough: no more beside it */
    }
    free(b);
    return CT_OK;
}
