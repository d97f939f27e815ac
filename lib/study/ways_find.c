#include "study/ways.h"

#include <math.h>
#include <stdio.h>

#include "base/units.h"
#include "case/assume.h"
#include "study/found.h"

/* Most that a doubt of section uncertainty may be (case.h). */
#define LATENT_MOST 0.4
#define STATIC_MOST 0.2
/* Moisture in equals moisture out only over days; common practice, no source. */
#define LATENT_OFF 0.3

/* What was entered, else the least doubt; -1: none has an answer. */
static int choose(const ct_found *f, int n)
{
    int best = -1;

    for (int i = 0; i < n; i++)
        if (f[i].found && (best < 0 || (best > 0 && f[i].doubt < f[best].doubt))) best = i;
    return best;
}

static bool differ(const ct_found *f, int n, int taken)
{
    for (int i = 0; i < n; i++)
        if (i != taken && f[i].found &&
            fabs(f[i].v - f[taken].v) >
                2.0 * hypot(f[i].doubt * f[i].v, f[taken].doubt * f[taken].v))
            return true;
    return false;
}

static ct_status none_found(const ct_found *f, int n, const char *what, ct_fault *fault)
{
    for (int i = 0; i < n; i++)
        if (f[i].given && !f[i].found)
            return ct_fault_say(fault, CT_INPUT, "no %s: %.150s", what, f[i].why);
    return ct_fault_say(fault, CT_INPUT, "no %s is entered, and nothing it follows from", what);
}

static void note(ct_case_report *report, const char *key, double v, ct_unit_kind kind,
                 const char *unit, const char *why)
{
    if (report) ct_assume_number(report, key, v, kind, unit, why);
}

/* ---- Airflow --------------------------------------------------------------------- */

static const char *const flow_why[CT_FLOW_COUNT] = {
    "", "the table of the tap in use at the static; one in three is more than 10% off",
    "the rise and the heat; off by 10% with strips, 20% with a furnace, one in three by more",
    "air-side heat by the wet bulbs against the model's capacity; charge and dirt count as airflow",
    "the drop read and the part's table, clean; one in three is more than 10% off"};

static void take_flow(ct_case *c, const ct_ways *w, ct_case_report *report)
{
    const ct_found *f = &w->flow[w->flow_taken];
    ct_uncertainty *u = &c->uncertainty;

    if (w->flow_taken == CT_FLOW_ENTERED) return;
    c->duct.V = f->v;
    c->airflow_open = false;
    note(report, "duct.airflow", f->v, CT_UNIT_AIRFLOW, "cfm", flow_why[w->flow_taken]);
    if (u->static_given) return;
    u->duct_static = fmin(STATIC_MOST, hypot(u->duct_static, c->duct.exponent * f->doubt));
    note(report, "uncertainty.duct_static", u->duct_static, CT_UNIT_FRACTION, "%",
         "the doubt of the airflow found, as static at that airflow; 20% is the most it may be");
}

/* ---- Load ------------------------------------------------------------------------ */

static const char *const load_why[CT_HOUSE_COUNT] = {
    "", "run time times the model's capacity, carried to the design day along the load line",
    "RULE OF THUMB by floor area and climate; common practice, no source; off by a quarter"};

static const ct_found *latent_of(const ct_ways *w)
{
    if (isfinite(w->load[w->load_taken].latent)) return &w->load[w->load_taken];
    for (int i = 0; i < CT_HOUSE_COUNT; i++)
        if (w->load[i].found && isfinite(w->load[i].latent)) return &w->load[i];
    return NULL;
}

static void take_doubts(ct_case *c, const ct_found *f, ct_case_report *report)
{
    ct_uncertainty *u = &c->uncertainty;

    if (!u->load_given) {
        u->load = fmin(CT_LOAD_DOUBT_MOST, f->doubt);
        note(report, "uncertainty.load", u->load, CT_UNIT_FRACTION, "%",
             "the doubt of the load found; 40% is the most it may be");
    }
    if (u->latent_given) return;
    u->latent = fmin(LATENT_MOST, fmax(u->latent, LATENT_OFF));
    note(report, "uncertainty.latent_load", u->latent, CT_UNIT_FRACTION, "%",
         "of a latent load that nobody calculated");
}

static ct_status take_load(ct_case *c, const ct_ways *w, ct_case_report *report, ct_fault *fault)
{
    const ct_found *f = &w->load[w->load_taken], *latent = latent_of(w);
    const bool sensible_open = c->house.load_open, latent_open = c->house.latent_open;

    if (latent_open && !latent) return none_found(w->load, CT_HOUSE_COUNT, "latent load", fault);
    if (sensible_open) {
        c->house.Q_sensible = f->v;
        note(report, "house.sensible_load", f->v, CT_UNIT_POWER, "Btu/h", load_why[w->load_taken]);
    }
    if (latent_open) {
        c->house.Q_latent = latent->latent;
        note(report, "house.latent_load", latent->latent, CT_UNIT_POWER, "Btu/h",
             load_why[latent - w->load]);
    }
    if (sensible_open) take_doubts(c, f, report);
    c->house.load_open = c->house.latent_open = false;
    return CT_OK;
}

ct_status ct_ways_find(ct_case *c, const ct_setup *setup, ct_case_report *report, ct_ways *out,
                       ct_fault *fault)
{
    ct_case found = *c;
    const ct_setup own = {setup->solver, &found, setup->outdoor, setup->matched, 0};
    ct_ways w = {.flow_taken = -1};
    ct_status status;

    ct_found_airflow(&own, w.flow);
    if (c->has_duct) {
        w.flow_taken = choose(w.flow, CT_FLOW_COUNT);
        if (w.flow_taken < 0) return none_found(w.flow, CT_FLOW_COUNT, "airflow", fault);
        w.flow_differs = differ(w.flow, CT_FLOW_COUNT, w.flow_taken);
        take_flow(&found, &w, report);
    }
    ct_found_load(&own, w.flow_taken < 0 ? 0.1 : w.flow[w.flow_taken].doubt, w.load, &w.at_least);
    w.load_taken = choose(w.load, CT_HOUSE_COUNT);
    if (w.load_taken < 0) return none_found(w.load, CT_HOUSE_COUNT, "load", fault);
    w.load_differs = differ(w.load, CT_HOUSE_COUNT, w.load_taken);
    status = take_load(&found, &w, report, fault);
    if (status != CT_OK) return status;
    *c = found;
    *out = w;
    return CT_OK;
}
