#include "season/facts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "base/complain.h"
#include "base/faults.h"
#include "base/read_file.h"

bool season_knows_humidity(const season_result *r)
{
    return !r->house.held;
}

double season_cost(const season_result *r, const season_speed *s)
{
    const ct_maybe price = r->j->c->season.price;
    return price.has && s->status == CT_OK ? s->total.energy / J_PER_KWH * price.v : (double)NAN;
}

double season_efficiency(const season_speed *s)
{
    return s->status == CT_OK && s->total.run > 0 ? s->total.Q / s->total.energy : (double)NAN;
}

/* ---- Weather --------------------------------------------------------------------- */

static exit_code parse_weather(season_result *r, const char *text, size_t size)
{
    ct_fault fault = {.what = ""};
    ct_case_report *report = calloc(1, sizeof *report);
    if (!report) {
        complain("out of memory for the weather");
        return EXIT_SYSTEM;
    }
    const ct_status status =
        ct_weather_read(text, size, r->sweep.indoor.p, &r->weather, report, &fault);
    if (status == CT_INPUT && report->n_faults > 0)
        faults_complain(r->path, report);
    else if (status != CT_OK)
        complain("%s: %s", r->path, fault.what);
    free(report);
    return exit_code_of(status);
}

static exit_code read_weather(season_result *r)
{
    ct_fault fault = {.what = ""};
    size_t size;
    if (!r->path)
        return ct_season_rating_weather(&r->sweep, &r->weather, &fault) == CT_OK
                   ? EXIT_DONE
                   : complain_fault(&fault);
    char *text = read_file_or_pipe(r->path, (size_t)CT_WEATHER_BYTES + 1, &size);
    if (!text) {
        complain("%s: %s", r->path, read_file_reason());
        return EXIT_SYSTEM;
    }
    const exit_code code = parse_weather(r, text, size);
    free(text);
    return code;
}

/* ---- Speeds ---------------------------------------------------------------------- */

static void name_speed(const season_result *r, season_speed *s)
{
    if (s->point->tap >= 0)
        snprintf(s->name, sizeof s->name, "%s", r->sweep.unit->blower.tap[s->point->tap].name);
    else
        shown(s->name, Q_AIRFLOW_PER_TON, s->point->V_std_per_ton, r->si);
}

/* Some of the airflows of a sweep, evenly; the nearest to the pick gives way to it. */
static void choose_airflows(const season_result *r, int chosen[SEASON_AIRFLOWS])
{
    const int pick = r->pick.found ? r->pick.index : 0;
    int nearest = 0;
    for (int i = 0; i < r->n; i++) {
        chosen[i] = r->n < 2 ? 0 : i * (r->swept->n - 1) / (r->n - 1);
        if (abs(chosen[i] - pick) < abs(chosen[nearest] - pick)) nearest = i;
    }
    chosen[nearest] = pick;
}

/* All taps, or some airflows. */
static void choose_speeds(season_result *r)
{
    const ct_sweep *s = r->swept;
    const bool taps = s->n_taps > 0;
    int chosen[SEASON_AIRFLOWS] = {0};
    r->n = taps ? s->n_taps : s->n < SEASON_AIRFLOWS ? s->n : SEASON_AIRFLOWS;
    r->picked = -1;
    if (!taps) choose_airflows(r, chosen);
    for (int i = 0; i < r->n; i++) {
        r->speed[i].point = taps ? &s->tap[i] : &s->point[chosen[i]];
        name_speed(r, &r->speed[i]);
        if (r->pick.found && r->speed[i].point == ct_pick_point(&r->pick, s)) r->picked = i;
    }
}

enum { FULL, CUT, LOW, STAGES };

/* At the whole airflow, and at what the controls leave of it where they are on. */
static ct_status tabulate(season_result *r, season_speed *s, const ct_season_range *range,
                          ct_season_stage stage[STAGES], ct_fault *fault)
{
    ct_status status =
        ct_season_tabulate(r->j->solver, &r->sweep, s->point, range, &stage[FULL], fault);

    s->balances = stage[FULL].balances;
    stage[FULL].low = r->sweep.has_low ? &stage[LOW] : NULL;
    if (status != CT_OK || r->j->c->outdoor.low.has || !ct_fan_control_cuts(&r->j->c->control))
        return status;
    status = ct_season_tabulate_cut(r->j->solver, &r->sweep, s->point, range, &stage[CUT], fault);
    s->balances += stage[CUT].balances;
    stage[FULL].cut = &stage[CUT];
    return status;
}

static ct_status run_speed(season_result *r, season_speed *s, const ct_season_range *range,
                           ct_season_stage stage[STAGES], ct_fault *fault)
{
    const size_t n = (size_t)r->weather.n;
    s->rh = calloc(n, sizeof *s->rh);
    s->run = calloc(n, sizeof *s->run);
    if (!s->rh || !s->run) return ct_fault_say(fault, CT_SYSTEM, "out of memory for the season");
    const ct_season_trace trace = {s->rh, s->run, r->counted};
    s->status = tabulate(r, s, range, stage, fault);
    ct_season_house house = r->house;
    if (house.held && s->point->has_room) house.W_start = s->point->room.W;
    if (s->status == CT_OK)
        s->status = ct_season_run(&house, &stage[FULL], &r->weather, &trace, &s->total, fault);
    if (s->status != CT_OK) snprintf(s->why, sizeof s->why, "%s", fault->what);
    return s->status;
}

/* The low stage runs at its own speed, whatever the high one does. */
static ct_status tabulate_low(const season_result *r, const ct_season_range *range,
                              ct_season_stage *stage, ct_fault *fault)
{
    ct_sweep_job low;
    if (!r->sweep.has_low || !ct_sweep_low_job(&r->sweep, &low)) return CT_OK;
    return ct_season_tabulate(r->j->solver, &low, &r->sweep.low, range, stage, fault);
}

static exit_code run_speeds(season_result *r)
{
    ct_fault fault = {.what = ""};
    const ct_season_range range = ct_season_range_of(&r->house, &r->weather);
    ct_season_stage *stage = calloc(STAGES, sizeof *stage);
    r->counted = calloc((size_t)r->weather.n, sizeof *r->counted);
    ct_status status = stage && r->counted
                           ? CT_OK
                           : ct_fault_say(&fault, CT_SYSTEM, "out of memory for the season");
    if (status == CT_OK) status = tabulate_low(r, &range, &stage[LOW], &fault);
    if (status != CT_OK && status != CT_SYSTEM) {
        free(stage);
        return complain_fault(&fault);
    }
    /* A speed that has no season is shown with its reason; memory that fails is none. */
    for (int i = 0; stage && status != CT_SYSTEM && i < r->n; i++)
        status = run_speed(r, &r->speed[i], &range, stage, &fault);
    free(stage);
    return status == CT_SYSTEM ? complain_fault(&fault) : EXIT_DONE;
}

/* The pick and the speed that moves the most different air. */
static void choose_drawn(season_result *r)
{
    int first = -1, other = -1;
    for (int i = 0; i < r->n; i++)
        if (r->speed[i].status == CT_OK && (first < 0 || i == r->picked)) first = i;
    for (int i = 0; first >= 0 && i < r->n; i++) {
        const double apart = fabs(r->speed[i].point->m_da - r->speed[first].point->m_da);
        if (i == first || r->speed[i].status != CT_OK) continue;
        if (other < 0 || apart > fabs(r->speed[other].point->m_da - r->speed[first].point->m_da))
            other = i;
    }
    r->drawn[0] = first;
    r->drawn[1] = other;
}

exit_code season_work_out(const job *j, season_result *r)
{
    ct_fault fault = {.what = ""};
    r->j = j;
    r->swept = calloc(1, sizeof *r->swept);
    if (!r->swept) {
        complain("out of memory for the sweep");
        return EXIT_SYSTEM;
    }
    exit_code code = read_weather(r);
    if (code != EXIT_DONE) return code;
    if (ct_season_house_of(&r->sweep, r->weather.hourly, &r->house, &fault) != CT_OK ||
        ct_sweep_run(j->solver, &r->sweep, r->swept, &fault) != CT_OK)
        return complain_fault(&fault);
    ct_pick_lowest(&r->sweep, r->swept, &r->pick);
    r->verdict = verdict_of(j->c, j->refrigerant, r->sweep.unit, r->si);
    choose_speeds(r);
    code = run_speeds(r);
    choose_drawn(r);
    return code;
}

void season_free(season_result *r)
{
    for (int i = 0; i < r->n; i++) {
        free(r->speed[i].rh);
        free(r->speed[i].run);
    }
    free(r->counted);
    free(r->swept);
    ct_weather_free(&r->weather);
}
