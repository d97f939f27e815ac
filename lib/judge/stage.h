/* Stage: one stage of the equipment in one hour, known where it was balanced against the humidity
 * of the house.
 *
 * A balance at some humidity says how fast this stage cools and dries there. A few of them, kept in
 * order, are the equipment of part/room.h; the search in judge/humidity.c adds one where the house
 * would settle, until the two agree. SI. Allocates nothing. Internal. */
#ifndef CT_JUDGE_STAGE_H
#define CT_JUDGE_STAGE_H

#include "judge/humidity_job.h"
#include "judge/tried.h"
#include "part/room.h"
#include "plant/balance.h"

typedef struct ct_stage_hour {
    ct_solver *solver;
    const ct_humidity_job *job;
    double T_out;
    ct_room_house house;
    ct_tried tried;
    ct_near rated;
    ct_fault *fault;
    struct ct_stage_hour *low; /* the same of the low stage; NULL: one stage */
} ct_stage_hour;

/* The equipment at `W`, where the search begins. CT_NO_ROOT when too few humidities balance. */
ct_status ct_stage_begin(ct_stage_hour *, double W);

/* Balances at W, from `from` or the nearest there is; false when that finds none. */
bool ct_stage_try(ct_stage_hour *, double W, const ct_near *from);

/* A balance at W or, where there is none, between there and the nearest there is. */
bool ct_stage_come_near(ct_stage_hour *, double W);

/* All of them anew, from a dry coil to nearly fog. CT_NO_ROOT when fewer than two balance. */
ct_status ct_stage_spread(ct_stage_hour *);

/* The equipment as far as it is known, with a guess where one balance is all there is. */
ct_room_equipment ct_stage_known(const ct_stage_hour *);

/* Balances where the house settles with the equipment as in `nearby`, unless it was tried there.
 * LEARNED: it is to be settled anew. */
typedef enum { CT_STAGE_GOOD, CT_STAGE_LEARNED, CT_STAGE_STUCK } ct_stage_progress;
ct_stage_progress ct_stage_learn(ct_stage_hour *, const ct_tried_nearby *, double W);

/* W is drier or damper than all it was tried at. */
bool ct_stage_outside(const ct_stage_hour *, double W);

/* Balances where a neighbor's house settled; *W is that. */
void ct_stage_come_from(ct_stage_hour *, const ct_near *, double *W);

/* What reaches the house of one balance, and what return leaks bring. */
typedef struct {
    double Q_sens, water; /* W, kg/s */
} ct_delivered;
ct_delivered ct_stage_deliver(const ct_stage_hour *, const ct_balance *);
void ct_stage_leak(const ct_stage_hour *, double *m, double *W);
/* As ct_humidity_water_rated. */
double ct_stage_water_rated(ct_solver *, const ct_humidity_job *, double T_out, const ct_start *,
                            ct_near *seen);
ct_conditions ct_stage_conditions(const ct_stage_hour *, double W);

#endif
