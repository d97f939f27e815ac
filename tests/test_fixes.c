/* Remedies with a number: each one shown is checked by writing the case with that number in it and
 * running it from the start. Cases on which nothing passes. */
#include "check.h"
#include "example_case.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "gsl_watch.h"
#include "judge/notes.h"
#include "study/fixes.h"

#define R_IP 0.1761101838

/* What a case is made of, in the units of its file. All data invented. */
typedef struct {
    const char *name;
    double load, latent, ceiling, around_dew, R; /* Btu/h, Btu/h, %, F, h ft2 F/Btu */
    double tons, size, duct, valve;              /* tons, -, inwc, tons; valve 0: a piston */
    double bore;                                 /* in */
    unsigned wanted;                             /* remedies that must close the gap */
    unsigned unwanted;                           /* remedies that must not be shown */
    bool fan_on;
    const char *heat_tap; /* NULL: no furnace */
} job;

/* On tap low the furnace rises too much, on high it does not. */
#define FURNACE "furnace_output: 40000 Btu/h, furnace_rise_min: 25 F, furnace_rise_max: 38 F"

static const job jobs[] = {
    {"too little capacity", 29000, 5000, 0, 60, 6, 3, 1.15, 0.5, 3, 0,
     CT_REMEDY_LARGER_OUTDOOR | CT_REMEDY_LESS_LOAD,
     CT_REMEDY_INSULATION | CT_REMEDY_DEHUMIDIFIER | CT_REMEDY_SMALLER_COIL, false, NULL},
    {"sweating ducts", 20000, 5000, 0, 94.5, 4.2, 3, 1.1, 0.5, 3, 0, CT_REMEDY_INSULATION,
     CT_REMEDY_DEHUMIDIFIER | CT_REMEDY_LESS_LOAD, false, NULL},
    {"piston too small", 21000, 5000, 0, 60, 6, 3, 1.1, 0.5, 0, 0.050, CT_REMEDY_METERING,
     CT_REMEDY_INSULATION | CT_REMEDY_DEHUMIDIFIER, false, NULL},
    {"piston far too large", 21000, 5000, 0, 60, 6, 3, 1.1, 0.5, 0, 0.080, CT_REMEDY_METERING,
     CT_REMEDY_INSULATION | CT_REMEDY_DEHUMIDIFIER, false, NULL},
    {"house too damp", 16000, 7500, 50, 60, 6, 3, 1.3, 0.5, 3, 0, CT_REMEDY_DEHUMIDIFIER,
     CT_REMEDY_INSULATION | CT_REMEDY_LARGER_OUTDOOR, false, NULL},
    {"fan always on", 20000, 4800, 58, 60, 6, 3, 1.3, 0.5, 3, 0, CT_REMEDY_FAN,
     CT_REMEDY_INSULATION | CT_REMEDY_LARGER_OUTDOOR, true, NULL},
    {"heating tap, and too little capacity", 29000, 5000, 0, 60, 6, 3, 1.15, 0.5, 3, 0,
     CT_REMEDY_LARGER_OUTDOOR | CT_REMEDY_LESS_LOAD, CT_REMEDY_DEHUMIDIFIER, false, "low"},
    {"heating tap, and fan always on", 20000, 4800, 58, 60, 6, 3, 1.3, 0.5, 3, 0, CT_REMEDY_FAN,
     CT_REMEDY_DUCTS | CT_REMEDY_SMALLER_COIL, true, "low"},
};

static void write_case(const job *k, char *text, size_t size)
{
    const double ratio = k->tons / 3.0;
    char meter[200], ceiling[60] = "", heats[60] = "", limits[120] = "";
    if (k->valve > 0)
        snprintf(
            meter, sizeof meter,
            "{kind: valve, rated_capacity: %.9g ton, rated_drop: 120 psi, refrigerant: R-410A}",
            k->valve);
    else if (!(k->bore > 0))
        strcpy(meter, "{kind: valve}");
    else
        snprintf(meter, sizeof meter, "{kind: orifice, bore: %.9g in}", k->bore);
    if (k->heat_tap) {
        snprintf(heats, sizeof heats, "    heat_tap: %s\n", k->heat_tap);
        snprintf(limits, sizeof limits, "limits: {%s}\n", FURNACE);
    }
    if (k->ceiling > 0) snprintf(ceiling, sizeof ceiling, ", humidity_ceiling: %g %%", k->ceiling);
    snprintf(
        text, size,
        "site:\n  altitude: 0 ft\n  outdoor_dry_bulb: 95 F\n  outdoor_humidity: 45 %%\n"
        "  duct_insulation: R-%.9g\n"
        "  indoor_air: {dry_bulb: 75 F, relative_humidity: 50 %%}\n"
        "  around_duct: {dry_bulb: 100 F, dew_point: %g F}\n"
        "house: {sensible_load: %.9g Btu/h, latent_load: %.9g Btu/h%s, fan_on: %s}\n"
        "outdoor: {refrigerant: R-410A, tons: %.9g ton, rated_capacity: %.9g Btu/h,\n"
        "  rated_eer: 10.5 Btu/Wh, rated_airflow: %.9g cfm, rated_blower_power: %.9g W,\n"
        "  fan_power: %.9g W, rated_sensible_ratio: 74 %%, rated_saturated_discharge: 118 F}\n"
        "duct: {static: %.9g inwc, airflow: 1200 cfm}\n"
        "indoor:\n  coil: {size: %.9g}\n  metering: %s\n"
        "  blower:\n    motor: psc\n    static_limit: 0.9 inwc\n%s    taps:\n"
        "    - {name: low, points: [[0.1 inwc, 1000 cfm, 310 W], [0.8 inwc, 750 cfm, 270 W]]}\n"
        "    - {name: high, points: [[0.1 inwc, 1420 cfm, 560 W], [0.8 inwc, 1010 cfm, 470 W]]}\n"
        "%ssweep: {points: 3}\n",
        k->R, k->around_dew, k->load, k->latent, ceiling, k->fan_on ? "yes" : "no", k->tons,
        35000 * ratio, 1200 * ratio, 400 * ratio, 190 * ratio, k->duct, k->size, meter, heats,
        limits);
}

/* A case worked out from its text. */
typedef struct {
    ct_case c;
    ct_case_report report;
    ct_refrigerant *refrigerant;
    ct_solver *solver;
    ct_outdoor outdoor;
    ct_coil matched;
    ct_calibration calibration;
    ct_sweep_job at;
    ct_sweep sweep;
    ct_pick pick;
} worked;

static ct_setup setup_of(worked *w)
{
    return (ct_setup){w->solver, &w->c, &w->outdoor, &w->matched, 0};
}

static worked *work_out(const job *k)
{
    static char text[4000];
    worked *w = calloc(1, sizeof *w);
    ct_fault f = {.what = ""};
    write_case(k, text, sizeof text);
    if (ct_casefile_parse(text, strlen(text), &w->c, &w->report, &f) != CT_OK)
        fail_msg("%s: %s", k->name, w->report.n_faults ? w->report.fault[0].what : f.what);
    const ct_setup setup = setup_of(w);
    if (ct_refrigerant_make("R-410A", &w->refrigerant, &f) != CT_OK ||
        ct_solver_make(&w->solver, &f) != CT_OK)
        fail_msg("%s", f.what);
    const ct_setup made = {w->solver, setup.c, setup.outdoor, setup.matched, 0};
    if (ct_setup_rate(&w->c, w->refrigerant, &w->outdoor, &w->matched, &w->calibration, &f) !=
            CT_OK ||
        ct_sweep_prepare(&made, &w->at, &f) != CT_OK ||
        ct_sweep_run(w->solver, &w->at, &w->sweep, &f) != CT_OK)
        fail_msg("%s: %s", k->name, f.what);
    ct_pick_lowest(&w->at, &w->sweep, &w->pick);
    return w;
}

static void let_go(worked *w)
{
    ct_solver_free(w->solver);
    ct_refrigerant_free(w->refrigerant);
    free(w);
}

/* The job with the remedy in it, as somebody would type it. A pint of water is 1.04 lb; evaporating
 * a pound takes about 1054 Btu. */
static job with_fix(const job *k, const ct_fix *f)
{
    static const char *const taps[] = {"low", "high"};
    job n = *k;
    if (f->also & CT_REMEDY_FAN) n.fan_on = false;
    if (f->also & CT_REMEDY_HEAT_TAP) n.heat_tap = taps[f->heat_tap - 1];
    const double pints = f->amount / CT_KG_S_PER_PINT_DAY;
    const double heat = pints * 0.473176473 / 86400 * 2.45e6 / CT_W_PER_BTUH;
    const double power = pints * 0.473176473 / 24 / 1.5 * 1000 / CT_W_PER_BTUH;
    switch ((ct_remedy)f->remedy) {
    case CT_REMEDY_SMALLER_COIL:
    case CT_REMEDY_LARGER_COIL: n.size = f->amount; break;
    case CT_REMEDY_FAN: n.fan_on = false; break;
    case CT_REMEDY_HEAT_TAP: n.heat_tap = taps[(int)f->amount - 1]; break;
    case CT_REMEDY_DUCTS: n.duct = f->amount / CT_PA_PER_INWC; break;
    case CT_REMEDY_INSULATION: n.R = f->amount / R_IP; break;
    case CT_REMEDY_LESS_LOAD: n.load -= f->amount / CT_W_PER_BTUH; break;
    case CT_REMEDY_DEHUMIDIFIER:
        n.load += heat + power;
        n.latent = fmax(0, n.latent - heat);
        break;
    case CT_REMEDY_METERING:
        if (k->valve > 0)
            n.valve = f->amount / CT_W_PER_TON;
        else
            n.bore = f->unit == CT_UNIT_LENGTH ? f->amount / CT_M_PER_IN : 0;
        break;
    case CT_REMEDY_LARGER_OUTDOOR:
        n.tons = f->amount / CT_W_PER_TON;
        n.size *= k->tons / n.tons;
        n.valve *= n.tons / k->tons;
        n.bore = 0; /* a valve in place of a piston */
        break;
    default: fail_msg("%s: not a remedy that is run", ct_remedy_token(f->remedy));
    }
    return n;
}

/* How far short the best speed is, of the limit it misses by most. */
static double gap_of(const worked *w)
{
    double least = INFINITY;
    for (int i = 0; i < w->sweep.n_taps; i++) {
        const ct_point *p = &w->sweep.tap[i];
        const ct_limit worst = ct_limit_worst(p->limit);
        least = fmin(least, p->passes ? 0 : ct_limit_shortfall(worst, &p->limit[worst]));
    }
    return least;
}

static unsigned check_fixes(const job *k, const ct_fixes *all)
{
    unsigned shown = 0;
    for (int i = 0; i < all->n; i++) {
        const ct_fix *f = &all->fix[i];
        const job n = with_fix(k, f);
        char label[120];
        worked *w = work_out(&n);
        snprintf(label, sizeof label, "%s: %s %.4g", k->name, ct_remedy_token(f->remedy),
                 f->amount);
        print_message("%-60s gap %.4f -> %.4f%s\n", label, f->gap_was, f->gap,
                      f->closes ? ", closes it" : "");
        check_is(label, w->pick.found, ==, f->closes);
        /* The near sweep closes in on the same balance from elsewhere. */
        check_abs(label, gap_of(w), f->gap, 1e-6);
        check_is(label, f->gap, <, f->gap_was);
        if (i > 0) check_is(label, f->gap, >=, all->fix[i - 1].gap);
        shown |= f->remedy;
        let_go(w);
    }
    return shown;
}

static void test_remedies_hold(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof jobs / sizeof jobs[0]; i++) {
        const job *k = &jobs[i];
        worked *w = work_out(k);
        const ct_setup setup = setup_of(w);
        ct_fixes all;
        unsigned closing = 0;
        check_that(k->name, !w->pick.found);
        check_is(k->name, ct_fixes_run(&setup, &w->sweep, &all, NULL), ==, CT_OK);
        check_abs(k->name, all.gap, gap_of(w), 1e-12);
        const unsigned shown = check_fixes(k, &all);
        for (int j = 0; j < all.n; j++)
            closing |= all.fix[j].closes ? all.fix[j].remedy : 0;
        check_is(k->name, (closing & k->wanted), ==, k->wanted);
        check_that(k->name, !(shown & k->unwanted));
        check_is(k->name, all.none_closes, ==, (closing == 0));
        let_go(w);
    }
}

/* The piston that is offered, on an old unit with a larger coil, fitted: the whole sweep of it
 * asks for no other piston. Nothing smaller than a tenth of what is missing is offered, and a
 * valve is. */
static void check_piston(double bore, bool taps)
{
    example *e = example_open("r22-larger-coil");
    ct_meter_spec *m = &e->c.indoor[0].meter;
    const ct_setup setup = example_setup(e, 0);
    static ct_sweep sweep;
    char label[80];
    ct_fixes all;
    double fitted = 0.0;
    bool valve = false;
    snprintf(label, sizeof label, "piston of %.3f in, %s", bore, taps ? "taps" : "no taps");
    *m = (ct_meter_spec){.kind = CT_METER_ORIFICE, .length = 0.5 * CT_M_PER_IN};
    m->bore = (ct_maybe){true, bore * CT_M_PER_IN};
    if (!taps) e->c.indoor[0].blower.n_taps = 0;
    ct_sweep_job at = example_job(e, 0);
    check_is(label, ct_sweep_run(e->solver, &at, &sweep, NULL), ==, CT_OK);
    check_is(label, ct_fixes_run(&setup, &sweep, &all, NULL), ==, CT_OK);
    for (int i = 0; i < all.n; i++) {
        check_is(label, all.fix[i].gap, <, 0.9 * all.gap);
        if (all.fix[i].remedy != CT_REMEDY_METERING) continue;
        check_that(label, all.fix[i].closes);
        if (all.fix[i].unit == CT_UNIT_LENGTH) fitted = all.fix[i].amount;
        if (all.fix[i].unit == CT_UNIT_POWER) valve = true;
    }
    check_that(label, valve);
    print_message("%s: %.4f in offered\n", label, fitted / CT_M_PER_IN);
    m->bore.v = fitted;
    at = example_job(e, 0);
    check_is(label, ct_sweep_run(e->solver, &at, &sweep, NULL), ==, CT_OK);
    ct_pick pick;
    ct_pick_lowest(&at, &sweep, &pick);
    check_that(label, pick.found);
    /* On a hotter day any piston that has its target superheat today has less; no other bore. */
    const unsigned other = (unsigned)CT_NOTE_NEAR_FLOOD | (unsigned)CT_NOTE_STARVED;
    for (int i = 0; i < pick.n_points; i++) {
        const ct_point *p = ct_pick_candidate(&pick, &sweep, i);
        if (p->passes) check_is(label, (p->notes & other), ==, 0);
    }
    example_close(e);
}

static void test_piston_stays(void **state)
{
    static const double bores[] = {0.049, 0.055, 0.060, 0.080, 0.090};
    (void)state;
    for (size_t i = 0; i < sizeof bores / sizeof *bores; i++) {
        check_piston(bores[i], true);
        check_piston(bores[i], false);
    }
}

/* Two stages: the low one passes as the fix says, and fixes on which it does go first. Where it
 * floods, nothing asks for a larger piston. */
static void test_low_stage(void **state)
{
    (void)state;
    example *e = example_open("two-stage");
    ct_meter_spec *m = &e->c.indoor[0].meter;
    const ct_setup setup = example_setup(e, 0);
    static ct_sweep sweep;
    ct_fixes all;
    bool before = false, told = false;
    *m = (ct_meter_spec){.kind = CT_METER_ORIFICE, .length = 0.5 * CT_M_PER_IN};
    m->bore = (ct_maybe){true, 0.055 * CT_M_PER_IN};
    ct_sweep_job at = example_job(e, 0);
    check_is("swept", ct_sweep_run(e->solver, &at, &sweep, NULL), ==, CT_OK);
    check_is("run", ct_fixes_run(&setup, &sweep, &all, NULL), ==, CT_OK);
    for (int i = 0; i < all.n; i++) {
        const ct_fix *f = &all.fix[i];
        if (f->remedy != CT_REMEDY_METERING) continue;
        check_that("closes", f->closes);
        check_that("in order", !before || f->low_fails);
        before = before || f->low_fails;
        *m = (ct_meter_spec){.kind = f->unit == CT_UNIT_LENGTH ? CT_METER_ORIFICE : CT_METER_VALVE,
                             .superheat = 10.0 / 1.8,
                             .length = 0.5 * CT_M_PER_IN};
        m->bore = (ct_maybe){f->unit == CT_UNIT_LENGTH, f->amount};
        at = example_job(e, 0);
        check_is("low stage", at.low_fails, ==, f->low_fails);
        if (f->unit == CT_UNIT_POWER) check_that("a valve suits both", !f->low_fails);
        told = told || f->unit == CT_UNIT_POWER;
    }
    check_that("a valve is offered", told);
    *m = (ct_meter_spec){.kind = CT_METER_ORIFICE, .length = 0.5 * CT_M_PER_IN};
    m->bore = (ct_maybe){true, 0.068 * CT_M_PER_IN};
    at = example_job(e, 0);
    check_is("swept", ct_sweep_run(e->solver, &at, &sweep, NULL), ==, CT_OK);
    check_that("floods", at.low_floods);
    for (int i = 0; i < sweep.n_taps; i++)
        check_is("no larger piston", (sweep.tap[i].notes & CT_NOTE_STARVED), ==, 0);
    example_close(e);
}

/* Two tons for a house that needs three on the hottest day: no single remedy is enough. */
static void test_do_not(void **state)
{
    (void)state;
    example *e = example_open("nothing-passes");
    const ct_setup setup = example_setup(e, 0);
    ct_sweep_job at = example_job(e, 0);
    static ct_sweep sweep;
    ct_fixes all;
    check_is("swept", ct_sweep_run(e->solver, &at, &sweep, NULL), ==, CT_OK);
    check_is("run", ct_fixes_run(&setup, &sweep, &all, NULL), ==, CT_OK);
    check_is("what is worst", all.worst, ==, CT_LIMIT_SENSIBLE);
    for (int i = 0; i < all.n; i++)
        print_message("nothing-passes: %s %.4g: gap %.4f -> %.4f\n",
                      ct_remedy_token(all.fix[i].remedy), all.fix[i].amount, all.gap,
                      all.fix[i].gap);
    check_is("something helps", all.n, >, 0);
    example_close(e);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_remedies_hold), cmocka_unit_test(test_piston_stays),
        cmocka_unit_test(test_low_stage), cmocka_unit_test(test_do_not)};
    gsl_watch();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
