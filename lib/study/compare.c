#include "study/compare.h"

#include <math.h>

#include "base/units.h"
#include "judge/humidity.h"

ct_status ct_compare_efficiency(ct_solver *solver, const ct_rating_run *run, ct_efficiency *out,
                                ct_fault *fault)
{
    ct_rated r;
    const ct_status status = ct_rating_run_whole(solver, run, &r, fault);

    if (status == CT_OK) *out = (ct_efficiency){r.A.Q, r.A.Q / r.A.P, r.B.Q, r.B.Q / r.B.P, r.SEER};
    return status;
}

ct_status ct_compare_matched_job(const ct_setup *setup, ct_indoor_unit *unit, ct_sweep_job *job,
                                 ct_fault *fault)
{
    const ct_outdoor_unit *u = &setup->c->outdoor;
    ct_status status = ct_sweep_site(setup->c, job, fault);

    if (status != CT_OK) return status;
    *unit = (ct_indoor_unit){.name = "matched pair as rated",
                             .coil = {.size = 1.0},
                             .meter = {.kind = CT_METER_VALVE, .superheat = u->superheat_rated},
                             .P_blower_default = u->P_blower_rated};
    job->unit = unit;
    job->has_duct = false;
    ct_setup_matched(setup, &job->system);
    job->is_low = job->low_fails = false;
    job->has_low = u->low.has;
    ct_plant_low_stage(&job->system, &job->low_system);
    job->low =
        (ct_point){.tap = -1, .m_da = u->low.V_std * CT_STD_DENSITY, .P_blower = u->low.P_blower};
    return CT_OK;
}

/* What a point that balances does in the house. */
static void fill_hour(ct_solver *solver, const ct_sweep_job *job, ct_showing *s)
{
    const ct_humidity_job humidity = {.c = job->c,
                                      .system = &job->system,
                                      .outside = job->has_outside ? &job->outside : NULL,
                                      .indoor = job->indoor,
                                      .m_da = s->point.m_da,
                                      .P_blower = s->point.P_blower,
                                      .low = ct_sweep_job_low(job)};

    s->has_hour =
        s->point.status == CT_OK &&
        ct_humidity_hour(solver, &humidity, job->c->house.humidity_load, &s->hour, NULL) == CT_OK;
}

static void at_rated_air(ct_solver *solver, const ct_sweep_job *job, ct_showing *s)
{
    const ct_outdoor_unit *u = &job->c->outdoor;

    ct_sweep_point(solver, job, u->V_rated_std * CT_STD_DENSITY, u->P_blower_rated, NULL,
                   &s->point);
    ct_sweep_humidity(solver, job, &s->point);
    fill_hour(solver, job, s);
}

ct_status ct_compare_matched(const ct_setup *setup, ct_matched_pair *out, ct_fault *fault)
{
    const ct_outdoor_unit *u = &setup->c->outdoor;
    ct_indoor_unit unit;
    ct_sweep_job job;
    ct_status status = ct_compare_matched_job(setup, &unit, &job, fault);
    if (status != CT_OK) return status;
    ct_matched_pair pair;
    const ct_rating_run rated = {{&job.system, u->V_rated_std * CT_STD_DENSITY, u->P_blower_rated},
                                 ct_sweep_job_low(&job),
                                 u->CD};
    status = ct_compare_efficiency(setup->solver, &rated, &pair.efficiency, fault);
    if (status != CT_OK) return status;
    at_rated_air(setup->solver, &job, &pair.at);
    if (pair.at.point.status != CT_OK)
        return ct_fault_say(fault, pair.at.point.status, "%s", pair.at.point.why);
    *out = pair;
    return CT_OK;
}

static double installed_cost(const ct_indoor_unit *u)
{
    if (!u->price.has) return NAN;
    return u->price.v + (u->labor.has ? u->labor.v : 0.0) +
           (u->duct_work.has ? u->duct_work.v : 0.0);
}

ct_status ct_compare_unit(const ct_setup *setup, ct_sweep *sweep, ct_comparison *out,
                          ct_fault *fault)
{
    ct_solver *solver = setup->solver;
    const ct_indoor_unit *unit = &setup->c->indoor[setup->unit];
    ct_comparison row = {.unit = setup->unit};
    ct_sweep_job job;
    ct_status status = ct_sweep_prepare(setup, &job, fault);
    if (status == CT_OK) status = ct_sweep_run(solver, &job, sweep, fault);
    if (status != CT_OK) return status;
    ct_pick_lowest(&job, sweep, &row.pick);
    const ct_point *point =
        row.pick.found ? ct_pick_point(&row.pick, sweep) : ct_sweep_nearest(sweep);
    if (!point)
        return ct_fault_say(fault, CT_NO_ROOT, "%.40s balances at no airflow: %.100s", unit->name,
                            sweep->n ? sweep->point[0].why : "");
    row.at.point = *point;
    fill_hour(solver, &job, &row.at);
    at_rated_air(solver, &job, &row.at_rated);
    row.cost = installed_cost(unit);
    const ct_rating_run here = {
        {&job.system, point->m_da, point->P_blower}, ct_sweep_job_low(&job), setup->c->outdoor.CD};
    row.has_efficiency = ct_compare_efficiency(solver, &here, &row.efficiency, NULL) == CT_OK;
    *out = row;
    return CT_OK;
}
