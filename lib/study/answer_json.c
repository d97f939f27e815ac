#include "study/answer_json.h"

#include <stdlib.h>
#include <string.h>

#include "base/json_text.h"
#include "base/version.h"
#include "case/casefile.h"
#include "judge/pick.h"
#include "judge/remedy.h"
#include "plant/settle.h"
#include "study/ways.h"

/* One case and all that is made for it. */
typedef struct {
    ct_case c;
    ct_case_report report;
    ct_refrigerant *refrigerant;
    ct_solver *solver;
    ct_outdoor outdoor;
    ct_coil matched;
    ct_calibration calibration;
    ct_sweep_job job;
    ct_sweep sweep;
    ct_pick pick;
} bench;

/* ---- Speeds ---------------------------------------------------------------------- */

static void put_limits(ct_json *j, const ct_point *p)
{
    ct_json_open(j, "limits", '{');
    for (int i = 0; i < CT_LIMIT_COUNT; i++) {
        const ct_judgment *judged = &p->limit[i];
        if (judged->verdict == CT_NOT_JUDGED) continue;
        ct_json_open(j, ct_limit_of((ct_limit)i)->token, '{');
        ct_json_bool(j, "passes", judged->verdict == CT_PASSES);
        ct_json_bool(j, "decides", i < CT_LIMIT_FIRST_ADVICE);
        if (i != CT_LIMIT_BALANCE) {
            ct_json_number(j, "value", judged->value);
            ct_json_number(j, "bound", judged->bound);
            ct_json_number(j, "slack", judged->slack);
        }
        ct_json_close(j, '}');
    }
    ct_json_close(j, '}');
}

static void put_balance(ct_json *j, const ct_point *p)
{
    const ct_balance *b = &p->balance;
    ct_json_number(j, "net_total_w", b->Q_net);
    ct_json_number(j, "net_sensible_w", b->Q_sens_net);
    ct_json_number(j, "net_latent_w", b->Q_lat);
    ct_json_number(j, "shr_net", b->SHR_net);
    ct_json_number(j, "load_carried_w", p->Q_load_max);
    ct_json_number(j, "sat_suction_k", b->Te);
    ct_json_number(j, "sat_discharge_k", b->Tc);
    ct_json_number(j, "superheat_k", b->superheat);
    ct_json_number(j, "coil_surface_k", b->T_surface);
    ct_json_number(j, "supply_dry_bulb_k", b->supply.T);
    ct_json_number(j, "compressor_w", b->P_compressor);
    ct_json_number(j, "total_input_w", b->P_total);
    ct_json_number(j, "eer_w_per_w", b->EER);
}

static void put_point(ct_json *j, const bench *w, const char *name, const ct_point *p)
{
    ct_json_open(j, name, '{');
    ct_json_text(j, "tap", p->tap < 0 ? "" : w->job.unit->blower.tap[p->tap].name);
    if (p->m_da > 0) {
        ct_json_number(j, "m3_per_s_per_ton", p->V_std_per_ton);
        ct_json_number(j, "airflow_standard_m3_per_s", p->V_std);
        ct_json_number(j, "airflow_actual_m3_per_s", p->V);
        ct_json_number(j, "blower_w", p->P_blower);
        if (p->has_dp) ct_json_number(j, "external_static_pa", p->dp);
    }
    if (p->status == CT_OK) put_balance(j, p);
    if (p->has_room) {
        ct_json_number(j, "rh_settled", p->room.rh);
        ct_json_number(j, "run_share", p->room.run);
    }
    ct_json_text(j, "why", p->why);
    ct_json_bool(j, "passes", p->passes);
    put_limits(j, p);
    ct_json_close(j, '}');
}

static void put_points(ct_json *j, const bench *w, const char *name, const ct_point *p, int n)
{
    ct_json_open(j, name, '[');
    for (int i = 0; i < n; i++)
        put_point(j, w, NULL, &p[i]);
    ct_json_close(j, ']');
}

/* ---- Pick ------------------------------------------------------------------------ */

static void put_reasons(ct_json *j, const ct_pick *k)
{
    ct_json_open(j, "fails_on", '{');
    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++)
        if (k->failing[i]) ct_json_whole(j, ct_limit_of((ct_limit)i)->token, k->failing[i]);
    ct_json_close(j, '}');
    ct_json_open(j, "fixes", '[');
    for (int bit = 0; bit < CT_REMEDY_COUNT; bit++)
        if (k->remedies & 1u << bit) ct_json_text(j, NULL, ct_remedy_token(1u << bit));
    ct_json_close(j, ']');
}

static void put_pick(ct_json *j, const bench *w)
{
    const ct_pick *k = &w->pick;
    const bool found = k->found;
    ct_json_open(j, "pick", '{');
    ct_json_bool(j, "found", found);
    ct_json_text(j, "among", k->from_taps ? "taps" : "points");
    if (found) ct_json_whole(j, "index", k->index);
    if (found && k->has_lower) {
        ct_json_open(j, "next_lower", '{');
        ct_json_whole(j, "index", k->lower);
        ct_json_text(j, "binding", ct_limit_of(k->binding)->token);
        ct_json_close(j, '}');
    }
    put_reasons(j, k);
    ct_json_close(j, '}');
}

/* With two stages: the speed picked for the low one. */
static void put_low_stage(ct_json *j, const bench *w)
{
    if (!w->c.outdoor.low.has) return;
    ct_json_open(j, "low_stage", '{');
    ct_json_bool(j, "found", w->job.has_low);
    if (w->job.has_low) put_point(j, w, "pick", &w->job.low);
    ct_json_close(j, '}');
}

static void put_checks(ct_json *j, const ct_checks *checks)
{
    ct_json_bool(j, "fits", !checks->refuse);
    ct_json_open(j, "findings", '[');
    for (int bit = 0; bit < CT_CHECK_COUNT; bit++) {
        if (!(checks->found & 1u << bit)) continue;
        ct_json_open(j, NULL, '{');
        ct_json_text(j, "check", ct_compatibility_token(1u << bit));
        ct_json_bool(j, "refuses", ct_compatibility_kind(1u << bit) == CT_FINDING_REFUSES);
        ct_json_close(j, '}');
    }
    ct_json_close(j, ']');
}

/* ---- Report ---------------------------------------------------------------------- */

static int stored(int n, int most)
{
    return n < most ? n : most;
}

static void put_faults(ct_json *j, const ct_case_report *r)
{
    ct_json_open(j, "faults", '[');
    for (int i = 0; i < stored(r->n_faults, CT_MAX_CASE_FAULTS); i++) {
        ct_json_open(j, NULL, '{');
        ct_json_whole(j, "line", r->fault[i].line);
        ct_json_text(j, "key", r->fault[i].key);
        ct_json_text(j, "given", r->fault[i].given);
        ct_json_text(j, "what", r->fault[i].what);
        ct_json_close(j, '}');
    }
    ct_json_close(j, ']');
}

static void put_assumed(ct_json *j, const ct_case_report *r)
{
    ct_json_open(j, "assumed", '[');
    for (int i = 0; i < r->n_assumed; i++) {
        ct_json_open(j, NULL, '{');
        ct_json_text(j, "key", r->assumed[i].key);
        ct_json_text(j, "value", r->assumed[i].text);
        ct_json_text(j, "why", r->assumed[i].why);
        ct_json_close(j, '}');
    }
    ct_json_close(j, ']');
}

static const char *status_token(ct_status status)
{
    switch (status) {
    case CT_OK: return "done";
    case CT_INPUT: return "wrong_input";
    case CT_RANGE: return "outside_model";
    default: return "no_balance";
    }
}

static char *write_answer(const bench *w, ct_status status, const ct_fault *fault)
{
    ct_json j = {0};
    ct_json_open(&j, NULL, '{');
    ct_json_text(&j, "coiltrim", ct_version());
    ct_json_text(&j, "units", "si");
    ct_json_text(&j, "status", status_token(status));
    if (status != CT_OK) ct_json_text(&j, "why", fault->what);
    put_faults(&j, &w->report);
    put_assumed(&j, &w->report);
    if (status == CT_OK) {
        if (w->pick.has_checks) put_checks(&j, &w->pick.checks);
        put_pick(&j, w);
        put_low_stage(&j, w);
        put_points(&j, w, "taps", w->sweep.tap, w->sweep.n_taps);
        put_points(&j, w, "points", w->sweep.point, w->sweep.n);
    }
    ct_json_close(&j, '}');
    return ct_json_end(&j);
}

/* ---- Work ------------------------------------------------------------------------ */

static ct_status work(bench *w, const char *text, size_t size, ct_fault *fault)
{
    ct_status s = ct_casefile_parse(text, size, &w->c, &w->report, fault);
    if (s == CT_OK) s = ct_refrigerant_make(w->c.outdoor.refrigerant, &w->refrigerant, fault);
    if (s == CT_OK) s = ct_solver_make(&w->solver, fault);
    if (s == CT_OK)
        s = ct_settle(&w->c, w->refrigerant, w->solver, &w->report,
                      &(ct_settled){&w->outdoor, &w->matched, &w->calibration}, fault);
    const ct_setup setup = {w->solver, &w->c, &w->outdoor, &w->matched, 0};
    ct_ways ways;
    if (s == CT_OK) s = ct_ways_find(&w->c, &setup, &w->report, &ways, fault);
    if (s == CT_OK) s = ct_sweep_prepare(&setup, &w->job, fault);
    if (s == CT_OK) s = ct_sweep_run(w->solver, &w->job, &w->sweep, fault);
    if (s == CT_OK) ct_pick_lowest(&w->job, &w->sweep, &w->pick);
    return s;
}

ct_status ct_answer_json(const char *text, size_t size, char **json, ct_fault *fault)
{
    bench *w = calloc(1, sizeof *w);
    ct_fault own;
    *json = NULL;
    if (!w) return ct_fault_say(fault, CT_SYSTEM, "out of memory for the answer");
    ct_status status = work(w, text, size, &own);
    if (status != CT_SYSTEM) *json = write_answer(w, status, &own);
    ct_solver_free(w->solver);
    ct_refrigerant_free(w->refrigerant);
    free(w);
    if (status != CT_SYSTEM && !*json)
        status = ct_fault_say(&own, CT_SYSTEM, "out of memory for the answer");
    if (status != CT_OK && fault) *fault = own;
    return status;
}

void ct_answer_free(char *json)
{
    free(json);
}
