/* Humidity: what relative humidity the house settles at, at one blower speed.
 *
 * Joins the balance to the room (part/room.h). A balance at some humidity of the house says how
 * fast the equipment cools and dries there; the room says to which humidity such equipment takes
 * the house; the next balance is made there, until the two agree: three or four balances, and two
 * where a neighbor's slopes are known.
 *
 * Two hours matter. The design hour: the whole load on the design day; that is the air in which the
 * load must be carried, whatever humidity somebody read today. And a damp hour: part of the
 * sensible load, all of the latent, the mild hours people complain of; outdoors follows the house's
 * load line down to it. SI. Uses the caller's solver; allocates nothing. Public. */
#ifndef CT_JUDGE_HUMIDITY_H
#define CT_JUDGE_HUMIDITY_H

#include "base/status.h"
#include "case/case.h"
#include "judge/humidity_job.h"
#include "part/room.h"
#include "plant/balance.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The house at one hour, settled, and what the equipment does there while it runs. */
typedef struct {
    double T_out;                    /* K */
    ct_room_out room;                /* where the house settles */
    double Q_net, Q_sens_net, Q_lat; /* W at the unit */
    double
        Q_house; /* W, net sensible that reaches the rooms, of the high stage where there are two;
                       less with ducts outside */
    double Te, T_surface; /* K, saturated suction and coldest surface */
    ct_near seen;         /* where a neighbor may begin */
    ct_near seen_whole;   /* the same running the whole hour, with Q_max */
    ct_near seen_rated;   /* at 80/67 F */
    ct_bend bend;
} ct_house_hour;

typedef struct {
    ct_room_out room;                      /* the blower as the case has it */
    ct_status fan_on;                      /* CT_OK when room_fan_on holds */
    ct_room_out room_fan_on;               /* the blower left on, with also_fan_on */
    ct_near seen, seen_fan_on, seen_rated; /* where a neighbor may begin */
    double slowed;                         /* 0..1, share of the run of `room` at the cut airflow */
} ct_humidity_answer;

/* Outdoor temperature, K, at a share of the design sensible load: the humid design condition's
 * where the case has one and the share is below 1; else on the straight line from no load at the
 * house's balance temperature (case/no_load.h) to the design load on the design day. */
CT_API double ct_humidity_outdoor(const ct_case *, double load_share);

/* Settled humidity at `load_share` of the design sensible load (0 to 1.5). The blower as it is, and
 * left on when the job wants that too; a house that settles in the first way and not in the second
 * is no failure: out->fan_on says so. Fails: as ct_room_settle; CT_NO_ROOT when fewer than two
 * return humidities balance; CT_INPUT when infiltration is given without outdoor humidity;
 * out->fan_on then says the same. */
CT_API ct_status ct_humidity_settle(ct_solver *, const ct_humidity_job *, double load_share,
                                    ct_humidity_answer *, ct_fault *);

/* A day of outdoors T_out, K, on which the house needs `load` W sensible. *Q_max, unless NULL: the
 * largest sensible load, W, this speed carries that day: what it gives the house in the air it has
 * when it runs the whole hour; left as it was where such a house does not settle, which is no
 * failure. Fails as ct_humidity_settle. */
typedef struct {
    double T_out, load;
} ct_house_day;
CT_API ct_status ct_humidity_day(ct_solver *, const ct_humidity_job *, const ct_house_day *,
                                 ct_house_hour *, double *Q_max, ct_fault *);

/* An hour of that day with the room held at the job's own indoor humidity, whatever it settles at.
 * Fails as ct_humidity_settle. */
CT_API ct_status ct_humidity_held(ct_solver *, const ct_humidity_job *, const ct_house_day *,
                                  ct_room_out *, ct_fault *);

/* The outdoor air that leaks in on a day of T_out, K: the stated outdoor humidity goes with the
 * design temperature; on a milder day its water stays the same, as far as air of that day can hold
 * it. A humid design condition is that of the milder days. CT_INPUT when the case has no outdoor
 * humidity. */
CT_API ct_status ct_humidity_outdoor_air(const ct_case *, double p, double T_out, ct_air *,
                                         ct_fault *);

/* The house of the case on a day of T_out, K, on which it needs Q_sensible W. Fails as
 * ct_humidity_outdoor_air. */
CT_API ct_status ct_humidity_house(const ct_humidity_job *, double T_out, double Q_sensible,
                                   ct_room_house *, ct_fault *);

/* kg/s that the equipment takes out with 80/67 F entering on a day of T_out, K, to which
 * part/room.h scales what a running blower gives back; 0 where it takes none or does not balance.
 * *seen, unless NULL, is where that was. */
CT_API double ct_humidity_water_rated(ct_solver *, const ct_humidity_job *, double T_out,
                                      const ct_start *, ct_near *seen);

/* The equipment running in a house of humidity ratio W, kg/kg, on a day of T_out, K. `start` NULL:
 * cold. out->point is what reaches the rooms, ducts outside taken off. Fails as
 * ct_balance_solve. */
typedef struct {
    double T_out, W;
    const ct_start *start;
} ct_house_at;
typedef struct {
    ct_room_point point;
    ct_balance balance;
    double m_leak, W_leak; /* kg/s, kg/kg, as in ct_room_equipment */
} ct_house_unit;
CT_API ct_status ct_humidity_unit(ct_solver *, const ct_humidity_job *, const ct_house_at *,
                                  ct_house_unit *, ct_fault *);

/* The hour of `load_share` with the room held at the job's own indoor humidity, whatever it settles
 * at: how long the equipment runs and how much water it takes out. That is what separates two coils
 * apart: once settled, each takes out just what comes in. Fails as ct_humidity_settle. */
CT_API ct_status ct_humidity_hour(ct_solver *, const ct_humidity_job *, double load_share,
                                  ct_room_out *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
