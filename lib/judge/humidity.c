#include "judge/humidity.h"

#include <math.h>
#include <stddef.h>

/* Return humidities the plant is tried at, as RH at room temperature: from a dry coil to nearly
 * fog, closest where houses settle, so that the dry limit between two of them is well placed. */
static const double trial_rh[] = {0.30, 0.40, 0.46, 0.52, 0.58, 0.66, 0.78, 0.92};
#define TRIALS ((int)(sizeof trial_rh / sizeof *trial_rh))

double ct_humidity_outdoor(const ct_case *c, double load_share)
{
    double T_none = c->house.T_balance.has ? c->house.T_balance.v
                                           : c->site.indoor.T - CT_HUMIDITY_BALANCE_BELOW;

    return T_none + load_share * (c->site.T_outdoor - T_none);
}

/* Water is a difference of two humidity ratios: on a dry coil rounding leaves a trace of either
 * sign. */
static double water_above_rounding(const ct_balance *b)
{
    return b->dry_share >= 1.0 && b->water < 1e-12 ? 0.0 : fmax(0.0, b->water);
}

static ct_status try_plant(ct_solver *solver, const ct_humidity_job *job, double T_out,
                           ct_room_plant *plant, ct_fault *fault)
{
    ct_conditions at = {job->indoor, T_out, job->m_da, job->P_blower};
    ct_start start;
    ct_balance b;

    *plant = (ct_room_plant){.P_blower = job->P_blower};
    for (int i = 0; i < TRIALS; i++) {
        at.in.W = trial_rh[i] * ct_air_W_sat(at.in.T, at.in.p);
        if (ct_balance_solve(solver, job->system, &at, plant->n ? &start : NULL, &b, fault) !=
            CT_OK)
            continue;
        start = (ct_start){b.Te, b.Tc};
        if (!(b.Q_sens_net > 0.0)) continue;
        plant->point[plant->n++] = (ct_room_point){at.in.W, b.Q_sens_net, water_above_rounding(&b)};
    }
    if (plant->n < 2)
        return ct_fault_say(
            fault, CT_NO_ROOT,
            "the system balances at too few return humidities to say what the house "
            "settles at");
    return CT_OK;
}

/* Re-evaporation is scaled from the water at 80/67 F entering; the outdoors is the day's own. */
static void rate_water(ct_solver *solver, const ct_humidity_job *job, double T_out,
                       ct_room_plant *plant)
{
    ct_conditions at = {job->indoor, T_out, job->m_da, job->P_blower};
    ct_balance b;

    plant->water_rated = plant->point[plant->n - 1].water;
    if (ct_air_from_wet_bulb(CT_RATING_T_IN, CT_RATING_T_WB, job->indoor.p, &at.in, NULL) != CT_OK)
        return;
    if (ct_balance_solve(solver, job->system, &at, NULL, &b, NULL) == CT_OK && b.water > 0.0)
        plant->water_rated = b.water;
}

static ct_status outdoor_air(const ct_humidity_job *job, ct_room_house *house, ct_fault *fault)
{
    const ct_case *c = job->c;
    ct_air out;
    ct_status status;

    if (!c->house.infiltration.has || c->house.infiltration.v <= 0.0) return CT_OK;
    if (!c->site.rh_outdoor.has)
        return ct_fault_say(fault, CT_INPUT, "infiltration needs the outdoor humidity beside it");
    /* The stated outdoor humidity goes with the design temperature; its water stays the same on the
     * milder day. */
    status = ct_air_from_rh(c->site.T_outdoor, c->site.rh_outdoor.v, job->indoor.p, &out, fault);
    if (status != CT_OK) return status;
    house->W_outdoor = out.W;
    house->m_outdoor = c->house.infiltration.v / ct_air_v(out.T, out.W, out.p);
    return CT_OK;
}

typedef struct {
    ct_room_house house;
    ct_room_plant plant;
} hour;

/* The house of that hour and the plant it has. */
static ct_status prepare(ct_solver *solver, const ct_humidity_job *job, double load_share, hour *o,
                         ct_fault *fault)
{
    const ct_house *h = &job->c->house;
    double T_out = ct_humidity_outdoor(job->c, load_share);
    ct_room_house *house = &o->house;

    *house =
        (ct_room_house){.T = job->indoor.T,
                        .p = job->indoor.p,
                        .Q_sensible = load_share * h->Q_sensible,
                        .Q_latent = h->Q_latent,
                        .fan_on = h->fan_on,
                        .fan_delay = !h->fan_on && h->fan_off_delay.has ? h->fan_off_delay.v : 0.0,
                        .coil = CT_ROOM_COIL_USUAL};
    ct_status status = outdoor_air(job, house, fault);
    if (status == CT_OK) status = try_plant(solver, job, T_out, &o->plant, fault);
    if (status == CT_OK && (job->also_fan_on || house->fan_on || house->fan_delay > 0.0))
        rate_water(solver, job, T_out, &o->plant);
    return status;
}

ct_status ct_humidity_settle(ct_solver *solver, const ct_humidity_job *job, double load_share,
                             ct_humidity_answer *out, ct_fault *fault)
{
    hour o;
    ct_status status = prepare(solver, job, load_share, &o, fault);

    out->fan_on = status != CT_OK ? status : CT_NO_ROOT;
    if (status != CT_OK) return status;
    status = ct_room_settle(&o.house, &o.plant, &out->room, fault);
    if (job->also_fan_on) {
        o.house.fan_on = true;
        o.house.fan_delay = 0.0;
        out->fan_on = ct_room_settle(&o.house, &o.plant, &out->room_fan_on, NULL);
    }
    return status;
}

ct_status ct_humidity_hour(ct_solver *solver, const ct_humidity_job *job, double load_share,
                           ct_room_out *out, ct_fault *fault)
{
    hour o;
    ct_status status = prepare(solver, job, load_share, &o, fault);

    return status == CT_OK ? ct_room_at(&o.house, &o.plant, job->indoor.W, out, fault) : status;
}
