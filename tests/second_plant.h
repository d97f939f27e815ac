/* A second model of the same nameplate, for tests only: readings made by it are not made by the
 * model that judges them.
 *
 * Everything that can differ does: the coil is one surface temperature and a bypass factor, the
 * compressor's volumetric efficiency is straight in the pressure ratio and its watts grow by so
 * much per kelvin of discharge, the condenser is one zone whose heat falls with its subcooling, the
 * charge decides subcooling and superheat by a rule, blower tables are joined by straight lines, a
 * piston's flow is that of Bernoulli against the pressure its liquid boils at. Properties of
 * refrigerant and air are those of the library: they are facts, not the model. Its exponents are
 * common practice, no source, the watts' a published average. Equipment is invented. SI. */
#ifndef SECOND_PLANT_H
#define SECOND_PLANT_H

#include "case/readings.h"
#include "judge/sweep.h"
#include "plant/setup.h"

/* What is so: multipliers on its own fit to the nameplate, and the day. */
typedef struct {
    double coil, flow, power, condenser;
    double blower; /* airflow over the tap's table at the same static */
    double ducts;  /* static over what the ducts of the case ask for at the same airflow */
    double charge; /* kg over the right charge, less 1 */
    double feed; /* valve: K added to its superheat; piston: logarithm of its flow over the right */
    double subcooling; /* K with the right charge */
    int tap;
    double T_in, T_wb, T_out; /* K */
} second_truth;

typedef struct {
    const ct_refrigerant *r;
    ct_sweep_job job; /* ducts, blower tables, air pressure: the case's data */
    ct_outdoor_unit plate;
    ct_meter_spec meter;
    double size;
    double m0, m_da0, pr0, W0, displacement; /* at the rating */
    double NTU0, UAi0, E0, C_air;
    double C_piston;
} second_plant;

/* `piston_flow`: kg/s the piston passes in the A test; with a valve it is not read. False: this
 * nameplate is beyond the second model. */
bool second_plant_make(const ct_setup *, double piston_flow, second_plant *);

/* The right charge, everything as on the plate, a fair day. */
second_truth second_plant_sound(const second_plant *);

typedef struct {
    double V, dp, P_blower;               /* m3/s, Pa, W */
    double Q, SHR, W, m;                  /* W at the coil, -, W, kg/s */
    double Te, Tc, superheat, subcooling; /* K; superheat at the coil outlet */
} second_inside;

/* What perfect instruments show. False: no balance. */
bool second_plant_show(const second_plant *, const second_truth *, ct_readings *, second_inside *);

/* A piston charged on the day of `truth` until the coil's outlet shows this superheat, K, but with
 * no more than `most` K of subcooling and no less than none: sets the subcooling. */
void second_plant_fill(const second_plant *, double superheat, double most, second_truth *);

/* The airflow alone. */
bool second_plant_airflow(const second_plant *, const second_truth *, double *V);

#endif
