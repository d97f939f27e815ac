/* A plausible split system for tests: invented numbers, no real product. */
#ifndef PLANT_H
#define PLANT_H

#include <stdio.h>
#include <string.h>

#include "base/units.h"
#include "check.h"
#include "plant/grow_coil.h"
#include "plant/setup.h"

static inline double K_(double F)
{
    return ct_K_from_F(F);
}

/* R-410A and R-32 as a newer unit (11 Btu/Wh, 115 F condensing), R-22, R-407C and R-454B as an
 * older one (9.5, 120 F). Differences are given in F and kept in K. */
static inline void plant_case(ct_case *c, const char *refrigerant, double tons)
{
    int newer = strstr(refrigerant, "410") || strstr(refrigerant, "32");
    ct_outdoor_unit *u = &c->outdoor;

    memset(c, 0, sizeof *c);
    snprintf(u->refrigerant, sizeof u->refrigerant, "%s", refrigerant);
    u->tons = tons;
    u->Q_net = 35000.0 / 3.0 * tons * CT_W_PER_BTUH;
    u->EER = (newer ? 11.0 : 9.5) * CT_W_PER_BTUH;
    u->V_rated_std = 400.0 * tons * CT_M3S_PER_CFM;
    u->P_blower_rated = 146.0 * tons;
    u->P_fan = 200.0 / 3.0 * tons;
    u->SHR_rated = 0.75;
    u->T_suction_rated = K_(45);
    u->T_discharge_rated = K_(newer ? 115 : 120);
    u->superheat_rated = 10.0 / CT_F_PER_K;
    u->subcooling = 10.0 / CT_F_PER_K;
    u->suction_drop = 2.0 / CT_F_PER_K;
    c->n_indoor = 1;
    c->indoor[0].coil.size = 1.0;
    c->indoor[0].meter.superheat = 10.0 / CT_F_PER_K;
}

typedef struct {
    ct_case c;
    ct_refrigerant *r;
    ct_outdoor outdoor;
    ct_coil matched;
    ct_calibration cal;
    ct_system sys; /* the matched pair */
    ct_conditions rating;
} plant;

/* Without a solver: for joining. */
static inline ct_setup plant_setup(const plant *p)
{
    return (ct_setup){NULL, &p->c, &p->outdoor, &p->matched, 0};
}

/* Calibrates p->c. The refrigerant is made anew: free with plant_free. */
static inline ct_status plant_calibrate(plant *p, ct_fault *fault)
{
    const ct_outdoor_unit *u = &p->c.outdoor;
    ct_status s = ct_refrigerant_make(u->refrigerant, &p->r, fault);

    if (s == CT_OK) s = ct_setup_rate(&p->c, p->r, &p->outdoor, &p->matched, &p->cal, fault);
    if (s != CT_OK) return s;
    const ct_setup setup = plant_setup(p);
    ct_setup_matched(&setup, &p->sys);
    p->rating = (ct_conditions){.T_out = CT_RATING_T_OUT,
                                .m_da = u->V_rated_std * CT_STD_DENSITY,
                                .P_blower = u->P_blower_rated};
    return ct_air_from_wet_bulb(CT_RATING_T_IN, CT_RATING_T_WB, CT_ATM_PA, &p->rating.in, fault);
}

static inline void plant_make(plant *p, const char *refrigerant, double tons)
{
    ct_fault fault = {0};

    plant_case(&p->c, refrigerant, tons);
    if (plant_calibrate(p, &fault) != CT_OK) {
        print_error("plant %s: %s\n", refrigerant, fault.what);
        fail();
    }
}

static inline void plant_free(plant *p)
{
    ct_refrigerant_free(p->r);
    p->r = NULL;
}

static inline ct_air air_at(double T_F, double T_wb_F)
{
    ct_air a;
    assert_int_equal(ct_air_from_wet_bulb(K_(T_F), K_(T_wb_F), CT_ATM_PA, &a, NULL), CT_OK);
    return a;
}

/* Even numbers in 0..1 from a fixed seed: the same on every machine. */
static inline double even(uint64_t *seed)
{
    *seed = *seed * 6364136223846793005u + 1442695040888963407u;
    return (double)(*seed >> 11) * 0x1p-53;
}

static inline double between(uint64_t *seed, double low, double high)
{
    return low + (high - low) * even(seed);
}

#endif
