/* Re-evaporation: the share of its drying that a cycling coil keeps when the blower runs on.
 *
 * A wet coil holds water. While the compressor is off and the blower runs, that water goes back to
 * the air; after the next start the coil must fill again before anything drains. SI. Pure.
 *
 * Sources: Henderson & Rengarajan 1996, A model to predict the latent capacity of air conditioners
 * and heat pumps at part-load conditions with constant fan operation, ASHRAE Trans. 102(1):266-274;
 * Shirey, Henderson & Raustad 2006, FSEC-CR-1537 (its later form, parameters). Public. */
#ifndef CT_PART_REEVAPORATION_H
#define CT_PART_REEVAPORATION_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* How a coil holds and loses water, at its rated entering air of 26.7 C dry, 19.4 C wet bulb. */
typedef struct {
    double t_wet; /* s, time the full-run latent rate takes to fill the coil, 60 to 9999 */
    double gamma; /* first evaporation rate over the full-run latent rate, 0 to 10 */
    double N_max; /* cycles per hour at half run time, 0.1 to 20 */
    double tau;   /* s, time constant of the latent capacity after a start, 1 to 600 */
} ct_reevaporation;

/* Suggested values of FSEC-CR-1537: 1000 s, 1.5, 45 s; N_max 3 per hour from memory, unconfirmed.
 */
#define CT_REEVAPORATION_USUAL                                                                     \
    {                                                                                              \
        .t_wet = 1000.0, .gamma = 1.5, .N_max = 3.0, .tau = 45.0                                   \
    }

/* Share of the full-run latent capacity kept when cycling. Henderson & Rengarajan 1996:
 *   t_on = 3600/(4 N_max (1 - X)), t_off = 3600/(4 N_max X), t = min(t_off, t_fan, 2 t_wet/gamma)
 *   t_o = gamma t - gamma^2 t^2/(4 t_wet) - tau (exp(-t_o/tau) - 1)
 *   multiplier = max(0, (t_on - t_o)/(t_on + tau (exp(-t_on/tau) - 1)))
 * with t_wet = t_wet,r / load and gamma = gamma_r (T - T_wb)/7.3 K / load, load =
 * water/water_rated. run X: 0..1 (1 gives 1, the formula's limit); load > 0; depression T - T_wb >=
 * 0, K; t_fan: s the blower runs after a stop, HUGE_VAL when it is left on, 0 gives 1: a stopped
 * blower evaporates nothing (the small natural convection is left out). Total capacity is
 * unchanged: what is lost as latent is gained as sensible. No range check; finite for these ranges.
 */
CT_API double ct_reevaporation_kept(const ct_reevaporation *, double run, double load,
                                    double depression, double t_fan);

#ifdef __cplusplus
}
#endif
#endif
