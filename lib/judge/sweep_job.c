#include "judge/sweep_job.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "part/drop_curve.h"
#include "plant/fill.h"

/* Blower watts with airflow when there are no taps: a tap-changed PSC motor's efficiency falls as
 * it is slowed, so its watts follow the flow; electronic motors come close to the fan law. Common
 * practice, no source. */
#define PSC_WATTS_EXPONENT 1.0
#define ECM_WATTS_EXPONENT 2.5

ct_status ct_sweep_air(const ct_air_reading *r, double p, ct_air *air, ct_fault *fault)
{
    if (r->rh.has) return ct_air_from_rh(r->T, r->rh.v, p, air, fault);
    if (r->T_wb.has) return ct_air_from_wet_bulb(r->T, r->T_wb.v, p, air, fault);
    if (r->T_dp.has) return ct_air_from_dew_point(r->T, r->T_dp.v, p, air, fault);
    return ct_fault_say(
        fault, CT_INPUT,
        "air at %.0f F has no humidity: give relative humidity, wet bulb or dew point",
        ct_F_from_K(r->T));
}

ct_stage_run ct_sweep_job_low(const ct_sweep_job *job)
{
    if (!job->has_low) return (ct_stage_run){.system = NULL};
    return (ct_stage_run){&job->low_system, job->low.m_da, job->low.P_blower};
}

double ct_sweep_job_thinness(const ct_sweep_job *job)
{
    return job->indoor.p / CT_ATM_PA;
}

/* A coil's wet drop, moved from its sheet's standard air and airflow to the air here and the duct's
 * measured airflow. */
static double drop_here(const ct_maybe *dp, const ct_maybe *V, double thinness, const ct_duct *duct)
{
    if (!dp->has || !V->has) return 0.0;
    return dp->v * pow(duct->V / V->v, duct->coil_exponent) *
           ct_drop_curve_thin(duct->coil_exponent, thinness);
}

/* What the blower must overcome beyond its table. The duct's own point was measured here. */
static void add_coil_drop(const ct_indoor_unit *u, double thinness, ct_duct *duct)
{
    duct->dp_coil_in = 0.0;
    if (u->blower.table_coil == CT_TABLE_THIS_COIL) return;
    duct->dp_coil_in = drop_here(&u->coil.dp_wet, &u->coil.V_dp, thinness, duct);
    if (u->blower.table_coil == CT_TABLE_OTHER_COIL)
        duct->dp_coil_in -= drop_here(&u->dp_table_coil, &u->V_table_coil, thinness, duct);
}

/* Ducts with no surroundings lose nothing: off. */
static ct_status add_outside(ct_sweep_job *j, ct_fault *fault)
{
    const ct_case *c = j->c;
    const ct_duct_losses *l = &c->losses;

    j->has_outside = c->has_losses && c->site.has_around_duct;
    if (!j->has_outside) return CT_OK;
    j->outside = (ct_duct_outside){.A_supply = l->A_supply,
                                   .A_return = l->A_return,
                                   .R = c->site.duct_R + CT_DUCT_FILM,
                                   .leak_supply = l->leak_supply,
                                   .leak_return = l->leak_return,
                                   .regain = l->regain};
    return ct_sweep_air(&c->site.around_duct, j->indoor.p, &j->outside.around, fault);
}

ct_status ct_sweep_site(const ct_case *c, ct_sweep_job *job, ct_fault *fault)
{
    ct_sweep_job j = {.c = c, .T_out = c->site.T_outdoor, .has_duct = c->has_duct, .duct = c->duct};
    double p;
    ct_status status = ct_air_pressure(c->site.altitude, &p, fault);

    if (status == CT_OK) status = ct_sweep_air(&c->site.indoor, p, &j.indoor, fault);
    if (status == CT_OK) status = add_outside(&j, fault);
    if (status == CT_OK) *job = j;
    return status;
}

double ct_sweep_job_tap_airflow(const ct_sweep_job *job, int i)
{
    ct_blower_point meet;

    if (ct_blower_meet(&job->blower, i, &job->duct, &meet, NULL) != CT_OK) return 0.0;
    return ct_sweep_job_delivered(job) * meet.V;
}

/* The tap that heats, -1 when nobody said. */
static int heat_tap(const ct_sweep_job *job)
{
    const ct_blower *b = &job->blower;

    if (!ct_sweep_job_has_taps(job)) return -1;
    const int named = ct_blower_find_tap(b, job->unit->heat_tap);
    return named < 0 && b->n_taps == 1 ? 0 : named;
}

static void find_heating_airflow(ct_sweep_job *job)
{
    job->heat_tap = -1;
    job->V_heat = job->unit->V_heat;
    if (job->V_heat.has) return;
    job->heat_tap = heat_tap(job);
    if (job->heat_tap >= 0)
        job->V_heat = (ct_maybe){true, ct_sweep_job_tap_airflow(job, job->heat_tap)};
}

ct_status ct_sweep_job_heats(const ct_sweep_job *job, double V, double T_out, double T_in,
                             ct_heating_balance *out, ct_fault *fault)
{
    const double V_std = V * ct_sweep_job_thinness(job);
    ct_heating_air at = {T_out, T_in, job->indoor.p, V_std * CT_STD_DENSITY, 0.0};

    /* Beyond the blower's table the watts are those of the rating, moved. */
    if (ct_sweep_watts(job, V, &at.P_blower, NULL) != CT_OK)
        at.P_blower = ct_sweep_job_rated_watts(job, V_std);
    return ct_heating_solve(&job->heat_pump, &at, out, fault);
}

static ct_status find_heating_head(ct_sweep_job *job, ct_fault *fault)
{
    const ct_heat_pump_spec *h = &job->c->outdoor.heat_pump;
    ct_heating_balance b;

    if (!job->V_heat.has) return CT_OK;
    job->Tc_heat = (ct_maybe){true, ct_refrigerant_T_max(job->heat_pump.refrigerant)};
    if (!(job->V_heat.v > 0.0)) return CT_OK;
    ct_status status = ct_sweep_job_heats(job, job->V_heat.v, h->T_out_max, h->T_in_max, &b, fault);
    if (status == CT_OK) job->Tc_heat.v = b.Tc;
    return status == CT_NO_ROOT ? CT_OK : status;
}

static ct_status add_heat_pump(const ct_setup *setup, ct_sweep_job *j, ct_fault *fault)
{
    j->has_heat_pump = setup->c->outdoor.heat_pump.has;
    if (!j->has_heat_pump) return CT_OK;
    ct_status status =
        ct_heating_rate(&setup->c->outdoor, setup->outdoor, setup->matched, &j->heat_pump, fault);
    if (status != CT_OK) return status;
    ct_heating_join(setup->outdoor, &j->system, &j->heat_pump);
    return find_heating_head(j, fault);
}

ct_status ct_sweep_job_make(const ct_setup *setup, ct_sweep_job *job, ct_fault *fault)
{
    ct_sweep_job j;
    const ct_case *c = setup->c;
    if (c->house.load_open || c->house.latent_open || c->airflow_open)
        return ct_fault_say(fault, CT_INPUT,
                            "load or airflow is still to be found from what the case gives for "
                            "it: call ct_ways_find first");
    ct_status status = ct_sweep_site(c, &j, fault);

    if (status == CT_OK) status = ct_setup_join(setup, &j.system, fault);
    if (status != CT_OK) return status;
    /* One that cannot be filled has no balance at its rating: its subcooling is held then. */
    const ct_fill_day day = {j.indoor, j.T_out};
    if (ct_fill_piston(&setup->c->outdoor, &day, &j.system, fault) == CT_SYSTEM) return CT_SYSTEM;
    j.unit = &setup->c->indoor[setup->unit];
    double thinness = ct_sweep_job_thinness(&j);
    ct_blower_thin(&j.unit->blower, thinness, &j.blower);
    if (j.has_duct) add_coil_drop(j.unit, thinness, &j.duct);
    j.matched_area = setup->matched->Ao;
    find_heating_airflow(&j);
    status = add_heat_pump(setup, &j, fault);
    if (status == CT_OK) *job = j;
    return status;
}

double ct_sweep_job_rated_watts(const ct_sweep_job *job, double V_std)
{
    double exponent =
        job->unit->blower.motor == CT_MOTOR_PSC ? PSC_WATTS_EXPONENT : ECM_WATTS_EXPONENT;

    return job->unit->P_blower_default * pow(V_std / job->c->outdoor.V_rated_std, exponent);
}

bool ct_sweep_job_has_taps(const ct_sweep_job *job)
{
    return job->has_duct && job->blower.n_taps > 0;
}

double ct_sweep_job_delivered(const ct_sweep_job *job)
{
    const ct_maybe *airflow = &job->c->tuning.airflow;

    return airflow->has && job->unit == &job->c->indoor[0] ? airflow->v : 1.0;
}

ct_status ct_sweep_watts(const ct_sweep_job *job, double V, double *P, ct_fault *fault)
{
    if (ct_sweep_job_has_taps(job))
        return ct_blower_watts(&job->blower, &job->duct, V / ct_sweep_job_delivered(job), P, fault);
    *P = ct_sweep_job_rated_watts(job, V * ct_sweep_job_thinness(job));
    return CT_OK;
}
