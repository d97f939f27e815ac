/* Humidity job: what the search for a settled humidity starts from (judge/humidity.h). SI.
 * Public. */
#ifndef CT_JUDGE_HUMIDITY_JOB_H
#define CT_JUDGE_HUMIDITY_JOB_H

#include <stdbool.h>

#include "case/case.h"
#include "fluid/air.h"
#include "judge/near.h"
#include "part/duct.h"
#include "plant/balance_answer.h"
#include "plant/plant.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    const ct_case *c;
    const ct_system *system;        /* the high, or only, stage */
    const ct_duct_outside *outside; /* ducts outside the cooled space; NULL: none */
    ct_air indoor;                  /* room air as the thermostat holds it; where a search begins */
    double m_da;                    /* kg/s through the coil */
    double P_blower;                /* W */
    ct_near near;                   /* where the search begins */
    ct_near near_whole;             /* the same running the whole hour (ct_humidity_day's Q_max) */
    ct_near near_fan_on;            /* the same with the blower left on */
    ct_near near_rated;             /* at 80/67 F; its W is not used */
    ct_bend bend;                   /* used where the neighbor has none */
    const ct_balance
        *known;          /* the balance in `indoor` air at the hour's outdoors; NULL: none yet */
    ct_stage_run low;    /* of two stages, the one that runs first */
    double m_cut, P_cut; /* kg/s, W: airflow while the controls cut it (judge/humidity_control.h);
                            0: they do not */
    bool also_fan_on;    /* settle also as if the blower were left on all the time */
} ct_humidity_job;

#ifdef __cplusplus
}
#endif
#endif
