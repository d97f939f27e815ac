/* Fan control: what a blower's controls make of a run, and so of the humidity of the house.
 *
 * A control may keep the airflow cut for a while after each start, and where it sees humidity it
 * may cut the airflow while the house is damp. In an hour with a share s of the run at the cut
 * airflow, sensible and latent are s of what the equipment gives there and 1 - s of what it gives
 * at the whole airflow. A slow start takes its time over that of a run, 3600/(4 N_max (1 - X))
 * (Henderson & Rengarajan 1996, as in part/room.h). On humidity the share is none at the humidity
 * where the cut ends, all at the one where it sets in, in proportion between: the mean of a control
 * that goes on and off. Not modeled: what a control does to the compressor's cycles. SI. Public. */
#ifndef CT_JUDGE_FAN_CONTROL_H
#define CT_JUDGE_FAN_CONTROL_H

#include "base/status.h"
#include "case/case.h"
#include "judge/point.h"
#include "judge/sweep_job.h"
#include "part/room.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The equipment at both airflows, at the same humidities of the house. */
typedef struct {
    const ct_fan_control *control;
    const ct_room_house *house;
    const ct_room_equipment *full, *cut;
} ct_fan_run;

typedef struct {
    ct_room_out room;
    double slowed; /* 0..1, share of the run at the cut airflow */
} ct_fan_settled;

/* It changes the airflow of a run. */
static inline bool ct_fan_control_cuts(const ct_fan_control *k)
{
    return k->cut_when_damp || k->slow_start;
}

/* Turns a point of a sweep into its cut airflow: m_da, V and P_blower; the rest stays. */
CT_API void ct_fan_control_cut(const ct_sweep_job *, ct_point *);

/* The job at its cut airflow: a piston was charged at the whole one and keeps that charge.
 * Internal. */
void ct_fan_control_cut_job(const ct_sweep_job *, const ct_point *whole, ct_sweep_job *cut);

/* Share of the run at the cut airflow at a humidity of the house, 0..1, and a run share. */
CT_API double ct_fan_control_share(const ct_fan_control *, const ct_reevaporation *, double rh,
                                   double run);

/* Equipment that spends `share` of its run at the cut airflow. */
CT_API void ct_fan_control_mix(const ct_fan_run *, double share, ct_room_equipment *);

/* Where the house settles when the control's share and the house agree. Where a cut makes the house
 * damper several may, and one of them is given. Fails as ct_room_settle. */
CT_API ct_status ct_fan_control_settle(const ct_fan_run *, ct_fan_settled *, ct_fault *);

/* The hour with the house held at W, kg/kg. Fails as ct_room_at. */
CT_API ct_status ct_fan_control_at(const ct_fan_run *, double W, ct_fan_settled *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
