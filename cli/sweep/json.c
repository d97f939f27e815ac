#include "sweep/json.h"

#include "judge/remedy.h"
#include "show/heating_words.h"
#include "show/json_out.h"
#include "show/limit_words.h"
#include "show/note_words.h"
#include "show/switch_words.h"
#include "show/ways_words.h"
#include "sweep/beside_text.h"

static bool put_maybe(json_t *object, const char *name, quantity q, ct_maybe v, bool si)
{
    return !v.has || put_value(object, name, q, v.v, si);
}

/* ---- The case -------------------------------------------------------------------- */

static bool put_air(json_t *site, const char *name, const ct_air_reading *a, bool si)
{
    json_t *o = open_object(site, name);
    return o && put_value(o, "dry_bulb", Q_TEMPERATURE, a->T, si) &&
           put_maybe(o, "relative_humidity", Q_FRACTION, a->rh, si) &&
           put_maybe(o, "wet_bulb", Q_TEMPERATURE, a->T_wb, si) &&
           put_maybe(o, "dew_point", Q_TEMPERATURE, a->T_dp, si);
}

static bool put_site(json_t *root, const ct_site *s, bool si)
{
    json_t *o = open_object(root, "site");
    return o && put_value(o, "altitude", Q_LENGTH, s->altitude, si) &&
           put_value(o, "outdoor_dry_bulb", Q_TEMPERATURE, s->T_outdoor, si) &&
           put_maybe(o, "outdoor_humidity", Q_FRACTION, s->rh_outdoor, si) &&
           put_air(o, "indoor_air", &s->indoor, si) &&
           (!s->has_around_duct || put_air(o, "around_duct", &s->around_duct, si));
}

static bool put_house(json_t *root, const ct_house *h, bool si)
{
    json_t *o = open_object(root, "house");
    return o && put_value(o, "sensible_load", Q_HEAT, h->Q_sensible, si) &&
           put_value(o, "latent_load", Q_HEAT, h->Q_latent, si) &&
           put_value(o, "margin", Q_FRACTION, h->margin, si) &&
           put_value(o, "humidity_load", Q_FRACTION, h->humidity_load, si) &&
           put_text(o, "judge_load_at",
                    h->judge_load_at == CT_LOAD_SETTLED ? "settled" : "entered") &&
           put_maybe(o, "infiltration", Q_AIRFLOW, h->infiltration, si) &&
           put_maybe(o, "humidity_ceiling", Q_FRACTION, h->rh_ceiling, si) &&
           put_maybe(o, "balance_temperature", Q_TEMPERATURE, h->T_balance, si) &&
           put_bool(o, "fan_on", h->fan_on);
}

static bool put_outdoor(json_t *root, const ct_outdoor_unit *u, bool si)
{
    json_t *o = open_object(root, "outdoor");
    return o && put_some_text(o, "refrigerant", u->refrigerant) &&
           put_value(o, "tons", Q_PLAIN, u->tons, si) &&
           put_value(o, "rated_capacity", Q_HEAT, u->Q_net, si) &&
           put_value(o, "rated_eer", Q_EER, u->EER, si) &&
           put_value(o, "rated_airflow_standard", Q_AIRFLOW, u->V_rated_std, si) &&
           put_value(o, "rated_blower_power", Q_ELECTRIC, u->P_blower_rated, si) &&
           put_value(o, "fan_power", Q_ELECTRIC, u->P_fan, si) &&
           put_value(o, "rated_sensible_ratio", Q_FRACTION, u->SHR_rated, si) &&
           put_value(o, "rated_saturated_suction", Q_TEMPERATURE, u->T_suction_rated, si) &&
           put_value(o, "rated_saturated_discharge", Q_TEMPERATURE, u->T_discharge_rated, si) &&
           put_value(o, "rated_superheat", Q_DELTA_T, u->superheat_rated, si) &&
           put_value(o, "subcooling", Q_DELTA_T, u->subcooling, si);
}

static bool put_indoor(json_t *root, const ct_indoor_unit *u, bool si)
{
    json_t *o = open_object(root, "indoor");
    const bool piston = u->meter.kind == CT_METER_ORIFICE;
    return o && put_some_text(o, "name", u->name) &&
           put_value(o, "coil_size", Q_PLAIN, u->coil.size, si) &&
           put_bool(o, "coil_geometry_given", u->coil.has_geometry) &&
           put_text(o, "coil_growth", u->coil.growth == CT_GROW_FACE ? "face" : "depth") &&
           put_text(o, "metering", piston ? "piston" : "valve") &&
           (piston || put_value(o, "valve_superheat", Q_DELTA_T, u->meter.superheat, si)) &&
           put_bool(o, "blower_before_coil", u->blower.before_coil) &&
           (u->blower.n_taps == 0 || put_value(o, "static_limit", Q_STATIC, u->blower.dp_max, si));
}

static bool put_limits(json_t *root, const ct_limits *l, bool si)
{
    json_t *o = open_object(root, "limits");
    return o && put_value(o, "frost_guard", Q_DELTA_T, l->frost_guard, si) &&
           put_value(o, "sweat_guard", Q_DELTA_T, l->sweat_guard, si) &&
           put_value(o, "frost_outdoor", Q_TEMPERATURE, l->T_mild, si) &&
           put_value(o, "airflow_floor", Q_AIRFLOW_PER_TON, l->V_per_ton_floor, si) &&
           put_value(o, "face_velocity", Q_VELOCITY, l->V_face_max, si) &&
           put_value(o, "saturated_discharge", Q_TEMPERATURE, l->T_discharge_max, si) &&
           put_maybe(o, "heat_airflow", Q_AIRFLOW, l->V_heat_min, si) &&
           put_maybe(o, "strip_power", Q_ELECTRIC, l->P_strip, si) &&
           put_maybe(o, "furnace_output", Q_HEAT, l->Q_furnace, si) &&
           put_maybe(o, "furnace_rise_min", Q_DELTA_T, l->dT_furnace_min, si) &&
           put_maybe(o, "furnace_rise_max", Q_DELTA_T, l->dT_furnace_max, si);
}

static bool put_case(json_t *root, const ct_case *c, bool si)
{
    json_t *o = open_object(root, "case");
    return o && put_some_text(o, "title", c->job.title) && put_site(o, &c->site, si) &&
           put_house(o, &c->house, si) && put_outdoor(o, &c->outdoor, si) &&
           (!c->has_duct || (put_value(o, "duct_static", Q_STATIC, c->duct.dp, si) &&
                             put_value(o, "duct_airflow", Q_AIRFLOW, c->duct.V, si))) &&
           put_indoor(o, &c->indoor[0], si) && put_limits(o, &c->limits, si);
}

static bool put_assumed(json_t *root, const ct_case_report *report)
{
    json_t *list = open_array(root, "assumed");
    bool good = list != NULL;
    for (int i = 0; good && i < report->n_assumed; i++) {
        json_t *o = open_item(list);
        good = o && put_some_text(o, "key", report->assumed[i].key) &&
               put_some_text(o, "value", report->assumed[i].text) &&
               put_some_text(o, "why", report->assumed[i].why);
    }
    return good;
}

static bool put_calibration(json_t *root, const job *j, bool si)
{
    const ct_calibration *k = &j->calibration;
    char line[PLAUSIBILITY_LINES][PLAUSIBILITY_SIZE];
    json_t *o = open_object(root, "calibration"), *doubts = o ? open_array(o, "doubts") : NULL;
    bool good = doubts && put_value(o, "gross_capacity", Q_HEAT, k->Q_gross, si) &&
                put_value(o, "compressor", Q_ELECTRIC, k->P_rated, si) &&
                put_value(o, "compressor_efficiency", Q_FRACTION, k->eta_rated, si) &&
                put_value(o, "map_flow_multiplier", Q_PLAIN, k->map_flow, si) &&
                put_value(o, "map_power_multiplier", Q_PLAIN, k->map_power, si) &&
                put_value(o, "air_side_multiplier", Q_PLAIN, k->film_scale, si) &&
                put_value(o, "superheat_area", Q_FRACTION, k->superheat_area, si) &&
                put_value(o, "sensible_ratio_min", Q_FRACTION, k->SHR_min, si) &&
                put_value(o, "sensible_ratio_max", Q_FRACTION, k->SHR_max, si);
    for (int i = 0, n = sweep_calibration_doubts(j, line); good && i < n; i++)
        good = json_array_append_new(doubts, json_string(line[i])) == 0;
    return good;
}

/* ---- Points ---------------------------------------------------------------------- */

static bool put_judgment(json_t *limits, ct_limit limit, const ct_judgment *judged,
                         const ct_point *p, bool si)
{
    const limit_words w = limit_words_of(limit, p);
    if (judged->verdict == CT_NOT_JUDGED) return true;
    json_t *o = open_object(limits, ct_limit_of(limit)->token);
    return o && put_bool(o, "passes", judged->verdict == CT_PASSES) &&
           put_bool(o, "decides", limit < CT_LIMIT_FIRST_ADVICE) &&
           (limit == CT_LIMIT_BALANCE || (put_value(o, "value", w.value, judged->value, si) &&
                                          put_value(o, "bound", w.value, judged->bound, si) &&
                                          put_value(o, "slack", w.slack, judged->slack, si)));
}

static json_t *point_json(const sweep_result *r, const ct_point *p)
{
    json_t *o = sweep_columns_json(&r->view, p, r->metric);
    json_t *limits = o ? open_object(o, "limits") : NULL;
    bool good = limits != NULL;
    for (int i = 0; good && i < CT_LIMIT_COUNT; i++)
        good = put_judgment(limits, (ct_limit)i, &p->limit[i], p, r->metric);
    good = good && put_notes(o, p->notes, r->metric);
    return json_when(good, o);
}

static bool put_points(json_t *root, const char *name, const sweep_result *r,
                       const ct_point *points, int n)
{
    json_t *list = open_array(root, name);
    bool good = list != NULL;
    for (int i = 0; good && i < n; i++)
        good = json_array_append_new(list, point_json(r, &points[i])) == 0;
    return good;
}

/* ---- Pick ------------------------------------------------------------------------ */

static bool put_found(json_t *o, const sweep_result *r)
{
    const ct_pick *k = r->view.pick;
    const ct_sweep *s = r->view.sweep;
    bool good = put_integer(o, "index", k->index);
    if (good && k->has_lower) {
        json_t *next = open_object(o, "next_lower");
        const ct_point *p = k->from_taps ? &s->tap[k->lower] : &s->point[k->lower];
        good = next && put_integer(next, "index", k->lower) &&
               put_text(next, "binding", ct_limit_of(k->binding)->token) &&
               put_judgment(next, k->binding, &k->binding_at, p, r->metric);
    }
    return good && beside_put(o, r) &&
           (!r->has_hottest || put_value(o, "hottest_day", Q_TEMPERATURE, r->T_hottest, r->metric));
}

static bool put_failures(json_t *o, const ct_pick *k)
{
    json_t *failed = open_object(o, "fails_on"), *fixes = open_array(o, "fixes");
    bool good = failed && fixes;
    for (int i = 0; good && i < CT_LIMIT_FIRST_ADVICE; i++)
        if (k->failing[i])
            good = put_integer(failed, ct_limit_of((ct_limit)i)->token, k->failing[i]);
    for (int bit = 0; good && bit < CT_REMEDY_COUNT; bit++)
        if (k->remedies & 1u << bit)
            good = json_array_append_new(fixes, json_string(ct_remedy_token(1u << bit))) == 0;
    return good;
}

static bool put_pick(json_t *root, const sweep_result *r)
{
    const ct_pick *k = r->view.pick;
    json_t *o = open_object(root, "pick");
    return o && put_bool(o, "found", k->found) &&
           put_text(o, "among", k->from_taps ? "taps" : "points") &&
           (!k->found || put_found(o, r)) && put_failures(o, k) &&
           outlook_put_fixes(o, &r->outlook, r->metric);
}

static bool put_switches(json_t *root, const sweep_result *r)
{
    return !r->has_switches || switches_put(root, &r->switches, r->view.job,
                                            ct_pick_point(r->view.pick, r->view.sweep), r->metric);
}

/* Its own pick, in columns of its own tons, and every speed it can have. */
static bool put_low_stage(json_t *root, const sweep_result *r)
{
    sweep_result low = *r;
    if (!r->low) return true;
    low.view = *r->low;
    const ct_pick *k = low.view.pick;
    const ct_sweep *s = low.view.sweep;
    const ct_low_stage_spec *u = &r->j->c->outdoor.low;
    json_t *o = open_object(root, "low_stage");
    return o && put_value(o, "tons", Q_PLAIN, low.view.job->system.outdoor.tons, r->metric) &&
           put_value(o, "rated_capacity", Q_HEAT, u->Q_net, r->metric) &&
           put_value(o, "rated_eer", Q_EER, u->EER, r->metric) &&
           put_value(o, "compressor_efficiency", Q_FRACTION, r->j->calibration.eta_low,
                     r->metric) &&
           put_bool(o, "found", k->found) && (!k->found || put_integer(o, "index", k->index)) &&
           (!k->found ||
            json_object_set_new(o, "pick", point_json(&low, ct_pick_point(k, s))) == 0) &&
           put_points(o, "taps", &low, s->tap, s->n_taps) &&
           put_points(o, "points", &low, s->point, s->n);
}

static bool put_uncertain(json_t *root, const sweep_result *r)
{
    return !r->uncertain ||
           json_object_set_new(root, "uncertain", uncertain_json(r->uncertain, r->metric)) == 0;
}

static bool fill(json_t *root, const sweep_result *r)
{
    const ct_sweep *s = r->view.sweep;
    return put_text(root, "units", r->metric ? "si" : "inch_pound") &&
           put_case(root, r->j->c, r->metric) && put_assumed(root, r->j->report) &&
           put_calibration(root, r->j, r->metric) && verdict_put(root, &r->verdict) &&
           put_pick(root, r) && put_low_stage(root, r) && put_switches(root, r) &&
           heating_put(root, r->view.job, r->metric) &&
           ways_put(root, r->j->c, &r->j->ways, r->metric) && put_uncertain(root, r) &&
           put_points(root, "taps", r, s->tap, s->n_taps) &&
           put_points(root, "points", r, s->point, s->n);
}

exit_code sweep_json_print(FILE *out, const sweep_result *r)
{
    json_t *root = json_object();
    const bool good = fill(root, r);
    return print_answer(out, json_when(good, root), 9) ? EXIT_DONE : EXIT_SYSTEM;
}
