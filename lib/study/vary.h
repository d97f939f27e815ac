/* Vary: the case as it might also be.
 *
 * What a technician writes down is not exact: loads are estimates, nameplates are rounded, gauges
 * drift. A step moves each uncertain input by so much, in its own unit; the equipment is calibrated
 * anew and made ready for a sweep. The standard deviations are in the case (case.h), their defaults
 * in the table of keys; common practice, no source. Public. */
#ifndef CT_STUDY_VARY_H
#define CT_STUDY_VARY_H

#include "base/status.h"
#include "base/units.h"
#include "case/case.h"
#include "judge/sweep.h"
#include "plant/setup.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    CT_VARY_LOAD = 0,      /* of 1, both design loads */
    CT_VARY_CAPACITY,      /* of 1, rated capacity */
    CT_VARY_EER,           /* of 1, rated efficiency */
    CT_VARY_SHR,           /* added to the rated sensible heat ratio */
    CT_VARY_DUCT_STATIC,   /* of 1, static measured, old coil included */
    CT_VARY_RH_INDOOR,     /* added to the relative humidity, 0..1 */
    CT_VARY_T_OUTDOOR,     /* K */
    CT_VARY_COIL,          /* of 1, both conductances of the coil */
    CT_VARY_LATENT,        /* of 1, the latent load by itself */
    CT_VARY_HUMIDITY_LOAD, /* added to the share of the damp hour */
    CT_VARY_W_OUTDOOR,     /* of 1, water in the outdoor air */
    CT_VARY_COUNT
} ct_vary_input;

/* Short lower-case name, "rated capacity"; never NULL. */
CT_API const char *ct_vary_name(ct_vary_input);

/* CT_UNIT_FRACTION or CT_UNIT_DELTA_T: the unit of its steps. */
CT_API ct_unit_kind ct_vary_unit(ct_vary_input);

CT_API double ct_vary_sigma(const ct_uncertainty *, ct_vary_input);

/* CT_RANGE when a standard deviation is negative, not finite or above the range of case.h, where
 * factors could come out at or below nothing. */
CT_API ct_status ct_vary_check(const ct_uncertainty *, ct_fault *);

/* The case moved by `step`, calibrated and made ready, with the setup's unit. *varied is filled and
 * must outlive the job, which points to it; the job is one for verdicts (no_reach), and a low
 * stage's speed is not looked for (ct_sweep_pair_low). The setup's matched coil only says where the
 * calibration begins; it may be NULL. The load does not move with the outdoor temperature: one is
 * the day, the other the house. Fails as ct_setup_rate and ct_sweep_prepare; CT_RANGE when a
 * humidity leaves 0..1. Such a case cannot be: a nameplate no coil can have, air that does not
 * exist. */
CT_API ct_status ct_vary_job(const ct_setup *, const double step[CT_VARY_COUNT], ct_case *varied,
                             ct_sweep_job *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
