#include "study/vary.h"

#include <math.h>
#include <stddef.h>

#include "fluid/air.h"
#include "study/ways.h"

typedef struct {
    const char *name;
    ct_unit_kind unit;
    size_t offset;
    double most; /* largest standard deviation */
} row;

#define LEAST_LOAD 0.1 /* of the load as written */
#define AT(field) offsetof(ct_uncertainty, field)

static const row rows[CT_VARY_COUNT] = {
    [CT_VARY_LOAD] = {"load", CT_UNIT_FRACTION, AT(load), CT_LOAD_DOUBT_MOST},
    [CT_VARY_CAPACITY] = {"rated capacity", CT_UNIT_FRACTION, AT(capacity), 0.2},
    [CT_VARY_EER] = {"rated efficiency", CT_UNIT_FRACTION, AT(EER), 0.2},
    [CT_VARY_SHR] = {"rated sensible ratio", CT_UNIT_FRACTION, AT(SHR), 0.1},
    [CT_VARY_DUCT_STATIC] = {"duct static", CT_UNIT_FRACTION, AT(duct_static), 0.2},
    [CT_VARY_RH_INDOOR] = {"indoor humidity", CT_UNIT_FRACTION, AT(rh_indoor), 0.1},
    [CT_VARY_T_OUTDOOR] = {"outdoor temperature", CT_UNIT_DELTA_T, AT(T_outdoor), 6.0},
    [CT_VARY_COIL] = {"coil conductance", CT_UNIT_FRACTION, AT(coil), 0.2},
    [CT_VARY_LATENT] = {"latent load", CT_UNIT_FRACTION, AT(latent), 0.4},
    [CT_VARY_HUMIDITY_LOAD] = {"damp hour's load", CT_UNIT_FRACTION, AT(humidity_load), 0.2},
    [CT_VARY_W_OUTDOOR] = {"outdoor moisture", CT_UNIT_FRACTION, AT(W_outdoor), 0.3},
};

const char *ct_vary_name(ct_vary_input i)
{
    return i < CT_VARY_COUNT ? rows[i].name : "unknown input";
}

ct_unit_kind ct_vary_unit(ct_vary_input i)
{
    return i < CT_VARY_COUNT ? rows[i].unit : CT_UNIT_NONE;
}

double ct_vary_sigma(const ct_uncertainty *u, ct_vary_input i)
{
    const char *base = (const char *)u;

    return *(const double *)(const void *)(base + rows[i].offset);
}

ct_status ct_vary_check(const ct_uncertainty *u, ct_fault *fault)
{
    for (int i = 0; i < CT_VARY_COUNT; i++) {
        double sigma = ct_vary_sigma(u, (ct_vary_input)i);
        if (!(sigma >= 0.0 && sigma <= rows[i].most))
            return ct_fail(fault, CT_RANGE, sigma, 0.0, rows[i].most,
                           "standard deviation %.4g of the %s: allowed 0 to %.4g", sigma,
                           rows[i].name, rows[i].most);
    }
    return CT_OK;
}

/* However the return air's moisture was given, it moves as relative humidity: that is what a meter
 * shows, and its error with it. */
static ct_status move_humidity(double step, ct_site *site, ct_fault *fault)
{
    ct_air_reading *in = &site->indoor;
    ct_air air;
    ct_status status = CT_OK;

    if (step == 0.0) return CT_OK;
    double p;
    status = ct_air_pressure(site->altitude, &p, fault);
    if (status == CT_OK) status = ct_sweep_air(in, p, &air, fault);
    if (status != CT_OK) return status;
    double rh = ct_air_rh(&air) + step;
    if (!(rh > 0.0 && rh <= 1.0))
        return ct_fail(fault, CT_RANGE, rh, 0.0, 1.0,
                       "return air of %.0f%% relative humidity does not exist", 100.0 * rh);
    *in = (ct_air_reading){.T = in->T, .rh = {true, rh}};
    return CT_OK;
}

/* The water outdoors, however it was given: at the design day, and at the humid condition. Above
 * saturation it is saturation. */
static void move_outdoor_moisture(double factor, ct_site *site)
{
    ct_air air;
    double p;

    if (factor == 1.0 || ct_air_pressure(site->altitude, &p, NULL) != CT_OK) return;
    if (site->rh_outdoor.has) site->rh_outdoor.v = fmin(1.0, factor * site->rh_outdoor.v);
    if (!site->T_dp_humid.has || !site->T_humid.has ||
        ct_air_from_dew_point(site->T_humid.v, site->T_dp_humid.v, p, &air, NULL) != CT_OK)
        return;
    air.W = fmin(air.W * factor, ct_air_W_sat(air.T, p));
    double T_dp;
    if (ct_air_dew_point(&air, &T_dp, NULL) == CT_OK) site->T_dp_humid.v = T_dp;
}

static ct_status move(const double step[CT_VARY_COUNT], ct_case *c, ct_fault *fault)
{
    /* A wide doubt drawn far out would turn the load into heating. */
    const double load = fmax(LEAST_LOAD, 1.0 + step[CT_VARY_LOAD]);
    c->house.Q_sensible *= load;
    c->house.Q_latent *= load * fmax(0.0, 1.0 + step[CT_VARY_LATENT]);
    c->house.humidity_load =
        fmin(1.2, fmax(0.2, c->house.humidity_load + step[CT_VARY_HUMIDITY_LOAD]));
    move_outdoor_moisture(fmax(0.0, 1.0 + step[CT_VARY_W_OUTDOOR]), &c->site);
    c->outdoor.Q_net *= 1.0 + step[CT_VARY_CAPACITY];
    c->outdoor.EER *= 1.0 + step[CT_VARY_EER];
    c->outdoor.low.Q_net *= 1.0 + step[CT_VARY_CAPACITY];
    c->outdoor.low.EER *= 1.0 + step[CT_VARY_EER];
    c->outdoor.SHR_rated += step[CT_VARY_SHR];
    c->duct.dp *= 1.0 + step[CT_VARY_DUCT_STATIC];
    c->duct.dp_coil_out *= 1.0 + step[CT_VARY_DUCT_STATIC];
    c->site.T_outdoor += step[CT_VARY_T_OUTDOOR];
    return move_humidity(step[CT_VARY_RH_INDOOR], &c->site, fault);
}

/* The coil is moved after it was made, so that size and geometry are treated alike, and the matched
 * coil, which the nameplate fixes, is not touched. */
static void move_coil(double step, ct_coil *coil)
{
    coil->Ao *= 1.0 + step;
    coil->UAi_ref *= 1.0 + step;
}

ct_status ct_vary_job(const ct_setup *setup, const double step[CT_VARY_COUNT], ct_case *varied,
                      ct_sweep_job *job, ct_fault *fault)
{
    ct_outdoor outdoor;
    ct_coil matched;
    ct_calibration calibration;
    /* The setup's solver may be at work in another thread. */
    const ct_setup moved = {NULL, varied, &outdoor, &matched, setup->unit};

    *varied = *setup->c;
    ct_status status = move(step, varied, fault);
    if (status == CT_OK)
        status = ct_setup_rate_near(setup, varied, &outdoor, &matched, &calibration, fault);
    if (status == CT_OK) status = ct_sweep_prepare(&moved, job, fault);
    if (status != CT_OK) return status;
    job->no_reach = true;
    move_coil(step[CT_VARY_COIL], &job->system.coil);
    return CT_OK;
}
