#include "metering/facts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/complain.h"
#include "base/units.h"
#include "part/target_superheat.h"
#include "plant/feed.h"
#include "plant/fill.h"
#include "show/limit_words.h"

/* Half an inch, a piston's usual length; common practice, no source. */
#define USUAL_LENGTH (0.5 * CT_M_PER_IN)

#define HAIR 1e-6 /* m: two bores closer than this are one */

#define CHARGE_LOW (2.0 / CT_F_PER_K)
#define CHARGE_HIGH (20.0 / CT_F_PER_K)

const char *metering_kind_name(ct_meter_kind kind)
{
    return kind == CT_METER_ORIFICE ? "piston" : "valve";
}

valve_showing valve_at(const ct_system *system, const ct_balance *b)
{
    const ct_meter *m = &system->meter;
    const ct_refrigerant *r = system->outdoor.refrigerant;
    valve_showing v = {.has = false};
    ct_inlet inlet;
    if (m->kind != CT_METER_VALVE || !m->has_valve) return v;
    double p;
    v.has = ct_refrigerant_p_dew(r, b->T_coil, &p, NULL) == CT_OK &&
            ct_feed_inlet(system, b, &inlet, NULL) == CT_OK &&
            ct_inlet_dp(&inlet, m->dp_distributor, p, &v.dp, NULL) == CT_OK &&
            ct_valve_meet(&m->valve, &inlet, v.dp, b->m_r, &v.out, NULL) == CT_OK;
    return v;
}

bool metering_has_kind(const metering_study *s, int kind)
{
    return (int)s->kind == kind || s->has_other;
}

static void set_target(metering_study *s)
{
    ct_fault fault = {.what = ""};
    double wet_bulb = NAN;
    s->has_target = ct_air_wet_bulb(&s->sweep.indoor, &wet_bulb, &fault) == CT_OK &&
                    ct_target_superheat(wet_bulb, s->sweep.T_out, &s->target, &fault) == CT_OK;
    if (s->has_target) return;
    snprintf(s->why_no_target, sizeof s->why_no_target, "%s", fault.what);
    if (!isfinite(wet_bulb) || !isfinite(fault.value)) return;
    char in[SHOWN_SIZE], at[SHOWN_SIZE], it[SHOWN_SIZE], least[SHOWN_SIZE];
    snprintf(s->why_no_target, sizeof s->why_no_target,
             "none on this day: at %s wet bulb indoors and %s outdoors it would be %s, the least "
             "is %s: charge by weight, or wait for other weather",
             shown(in, Q_TEMPERATURE, wet_bulb, s->metric),
             shown(at, Q_TEMPERATURE, s->sweep.T_out, s->metric),
             shown(it, Q_DELTA_T, fault.value, s->metric),
             shown(least, Q_DELTA_T, fault.low, s->metric));
}

static void try_bore(const metering_study *s, double bore, bore_showing *b)
{
    ct_system system = s->sweep.system;
    ct_fault fault = {.what = ""};
    *b = (bore_showing){.has = isfinite(bore), .bore = bore};
    if (!b->has) return;
    system.meter = (ct_meter){.kind = CT_METER_ORIFICE, .orifice = {bore, s->wanted.length}};
    system.charge = 0.0;
    b->status = ct_balance_solve(s->j->solver, &system, &s->at, NULL, &b->balance, &fault);
    snprintf(b->why, sizeof b->why, "%s", b->status == CT_OK ? "" : fault.what);
}

static void size_piston(metering_study *s)
{
    ct_fault fault = {.what = ""};
    s->has_bore = ct_meterstudy_bore(s->j->solver, &s->sweep.system, &s->at, &s->wanted, &s->bore,
                                     &fault) == CT_OK;
    snprintf(s->why_no_bore, sizeof s->why_no_bore, "%s", s->has_bore ? "" : fault.what);
    if (!s->has_bore) return;
    try_bore(s, s->bore.below, &s->below);
    try_bore(s, s->bore.above, &s->above);
}

static void balance_with(const metering_study *s, const ct_system *system, ct_study_point *p)
{
    ct_fault fault = {.what = ""};
    p->status = ct_balance_solve(s->j->solver, system, &s->at, NULL, &p->balance, &fault);
    snprintf(p->why, sizeof p->why, "%s", p->status == CT_OK ? "" : fault.what);
}

/* Flow goes with the bore's area, closely enough for what the error does. */
static void try_step(const metering_study *s, double bore, bore_step *step)
{
    const ct_fill_day day = {s->sweep.indoor, s->sweep.T_out};
    ct_system system = s->sweep.system;
    *step = (bore_step){.bore = bore};
    system.meter = (ct_meter){.kind = CT_METER_ORIFICE, .orifice = {bore, s->wanted.length}};
    ct_fill_piston(&s->j->c->outdoor, &day, &system, NULL);
    balance_with(s, &system, &step->charged);
    system.meter.orifice.bore = bore * sqrt(1.0 - FLOW_ERROR);
    balance_with(s, &system, &step->less);
    system.meter.orifice.bore = bore * sqrt(1.0 + FLOW_ERROR);
    balance_with(s, &system, &step->more);
}

/* What is no size goes to the end. */
static int smaller_first(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    if (isnan(x) || isnan(y)) return isnan(x) - isnan(y);
    return (x > y) - (x < y);
}

/* The piston among the fixes; NaN: none. */
static double bore_of_fix(const outlook *o)
{
    for (int i = 0; o->has_fixes && i < o->fixes.n; i++)
        if (o->fixes.fix[i].remedy == CT_REMEDY_METERING && o->fixes.fix[i].unit == CT_UNIT_LENGTH)
            return o->fixes.fix[i].amount;
    return NAN;
}

/* Two sizes on each side of the one that would be exact, or as near to it as matters, the one
 * fitted and the one that would fix it, by size. */
static void step_bores(metering_study *s)
{
    double bore[BORES] = {s->bore.below, NAN, s->bore.above, NAN, NAN, bore_of_fix(&s->outlook)};
    double unused;
    if (!s->has_bore) return;
    if (isfinite(bore[0])) ct_orifice_nearest(bore[0] - HAIR, &bore[1], &unused);
    if (isfinite(bore[2])) ct_orifice_nearest(bore[2] + HAIR, &unused, &bore[3]);
    if (s->kind == CT_METER_ORIFICE) bore[4] = s->sweep.system.meter.orifice.bore;
    qsort(bore, BORES, sizeof *bore, smaller_first);
    for (int i = 0; i < BORES && isfinite(bore[i]); i++)
        if (i == 0 || bore[i] - bore[i - 1] >= HAIR) try_step(s, bore[i], &s->step[s->n_steps++]);
}

static void run_outdoors(metering_study *s)
{
    ct_fault fault = {.what = ""};
    const int other = s->kind == CT_METER_VALVE ? PISTON : VALVE;
    s->system[s->kind] = s->sweep.system;
    s->has_other = ct_meterstudy_other(s->j->solver, &s->sweep.system, &s->at, &s->wanted,
                                       &s->system[other], &fault) == CT_OK;
    snprintf(s->why_no_other, sizeof s->why_no_other, "%s", s->has_other ? "" : fault.what);
    const ct_steps days = {ct_K_from_F(75), ct_K_from_F(115), OUTDOORS};
    for (int kind = 0; kind < KINDS; kind++)
        if (metering_has_kind(s, kind))
            ct_meterstudy_outdoors(s->j->solver, &s->system[kind], &s->at, &days,
                                   s->outdoors[kind]);
}

/* What the study counts with when nothing else is said. */
static void set_wanted(metering_study *s, double wanted)
{
    const ct_meter *m = &s->sweep.system.meter;
    const bool piston = s->kind == CT_METER_ORIFICE;
    const double own = piston ? s->j->c->outdoor.superheat_rated : m->superheat;
    s->wanted.superheat = wanted > 0 ? wanted : own;
    s->wanted.length = piston ? m->orifice.length : USUAL_LENGTH;
}

exit_code metering_study_run(const job *j, int unit, double wanted, metering_study *s)
{
    const ct_setup setup = job_setup(j, unit);
    ct_fault fault;
    const ct_point *p = &s->row.at.point;
    s->j = j;
    s->unit = unit;
    s->kind = j->c->indoor[unit].meter.kind;
    if (ct_sweep_prepare(&setup, &s->sweep, &fault) != CT_OK ||
        ct_compare_unit(&setup, &s->run, &s->row, &fault) != CT_OK)
        return complain_fault(&fault);
    s->outlook = (outlook){.job = &s->sweep, .sweep = &s->run, .pick = &s->row.pick};
    if (outlook_find(&setup, &s->outlook, &fault) != CT_OK) return complain_fault(&fault);
    s->at = (ct_conditions){s->sweep.indoor, s->sweep.T_out, p->m_da, p->P_blower};
    s->valve = valve_at(&s->sweep.system, &p->balance);
    set_wanted(s, wanted);
    set_target(s);
    size_piston(s);
    step_bores(s);
    const ct_steps charges = {CHARGE_LOW, CHARGE_HIGH, CHARGES};
    ct_meterstudy_subcooling(j->solver, &s->sweep.system, &s->at, &charges, s->charge);
    const ct_steps off = {-0.3, 0.3, OFF};
    s->has_off =
        s->kind == CT_METER_VALVE &&
        ct_meterstudy_charge(j->solver, &s->sweep.system, &s->at, &off, s->off, &fault) == CT_OK;
    run_outdoors(s);
    return EXIT_DONE;
}
