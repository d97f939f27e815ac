/* Humidity: what relative humidity the house settles at, at one blower speed.
 *
 * Joins the balance to the room: a few balances at this airflow, from dry return air to saturated,
 * tell how fast the plant dries and cools at each humidity; room.h finds where that meets the
 * moisture coming in. Judged not on the design day, when the plant runs most of the time and dries
 * best, but at the stated share of the design sensible load with the latent load whole: the mild,
 * damp hours people complain of. Outdoors follows the house's load line down to that share. SI.
 * Uses the caller's solver; allocates nothing. Public. */
#ifndef CT_JUDGE_HUMIDITY_H
#define CT_JUDGE_HUMIDITY_H

#include "base/status.h"
#include "case/case.h"
#include "part/room.h"
#include "plant/balance.h"
#include "plant/plant.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    const ct_case *c;
    const ct_system *system;
    ct_air indoor;    /* room air as the thermostat holds it; settling does not use its humidity */
    double m_da;      /* kg/s through the coil */
    double P_blower;  /* W */
    bool also_fan_on; /* settle also as if the blower were left on all the time */
} ct_humidity_job;

typedef struct {
    ct_room_out room;        /* the blower as the case has it */
    ct_status fan_on;        /* CT_OK when room_fan_on holds */
    ct_room_out room_fan_on; /* the blower left on, with also_fan_on */
} ct_humidity_answer;

/* Outdoor temperature, K, at a share of the design sensible load: on the straight line from no load
 * at the house's balance temperature (CT_HUMIDITY_BALANCE_BELOW under the room when not stated;
 * common practice, no source) to the design load on the design day. */
#define CT_HUMIDITY_BALANCE_BELOW (5.0 / 1.8)
CT_API double ct_humidity_outdoor(const ct_case *, double load_share);

/* Settled humidity at `load_share` of the design sensible load (0 to 1.5). One plant serves the
 * blower as it is and the blower left on; a house that settles in the first way and not in the second
 * is no failure: out->fan_on tells of that. Fails: as ct_room_settle; CT_NO_ROOT when fewer than two
 * return humidities balance; CT_INPUT when infiltration is given without outdoor humidity; out->fan_on
 * then says the same. */
CT_API ct_status ct_humidity_settle(ct_solver *, const ct_humidity_job *, double load_share,
                                    ct_humidity_answer *, ct_fault *);

/* The same hour with the room held at the job's own indoor humidity, whatever it settles at: how
 * long the plant runs and how much water it takes out. That is what tells two coils apart: once
 * settled, each takes out just what comes in. Fails as ct_humidity_settle. */
CT_API ct_status ct_humidity_hour(ct_solver *, const ct_humidity_job *, double load_share,
                                  ct_room_out *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
