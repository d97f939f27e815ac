/* Stage: one stage of the equipment in one hour, known where it was balanced against the humidity of
 * the house.
 *
 * A balance at some humidity says how fast this stage cools and dries there. A few of them, kept in
 * order, are the equipment of part/room.h; the search in judge/humidity.c adds one where the house
 * would settle, until the two agree. SI. Allocates nothing. Internal. */
#ifndef CT_JUDGE_STAGE_H
#define CT_JUDGE_STAGE_H

#include "judge/humidity_job.h"
#include "part/room.h"
#include "plant/balance.h"

typedef struct ct_stage_hour {
    ct_solver *solver;
    const ct_humidity_job *job;
    double T_out;
    ct_room_house house;
    ct_room_equipment equipment;
    ct_balance at[CT_ROOM_POINTS]; /* of equipment.point */
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

/* Balances where the house settles, unless it was tried there. */
typedef enum { CT_STAGE_GOOD, CT_STAGE_LEARNED, CT_STAGE_STUCK } ct_stage_progress;
ct_stage_progress ct_stage_learn(ct_stage_hour *, double W);

/* Of the balances the nearest to W; the nearest but one, for the line through both, the same again
 * when there is only one; how far W is on the way from one to the other, as a share. */
int ct_stage_nearest(const ct_stage_hour *, double W);
int ct_stage_second(const ct_stage_hour *, double W, int first);
double ct_stage_along(const ct_stage_hour *, double W, int i, int k);

/* What a neighbor may begin with. */
ct_near ct_stage_seen(const ct_stage_hour *, double W);
ct_bend ct_stage_bend(const ct_stage_hour *, int i, int k);

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
