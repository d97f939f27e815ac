/* Local surface of the indoor coil: what fins and bare tube take from the air at one place along
 * its way, and how warm their metal is. Internal.
 *
 * At each place the base of the fins is where tubes and air carry the same heat,
 * UAi (T_base - T_r) = hA (drive); the fin (fin.h) is solved from its tip, so the tip is what is
 * searched for. */
#ifndef CT_PART_COIL_SURFACE_H
#define CT_PART_COIL_SURFACE_H

#include <stdbool.h>

#include "fluid/moist.h"
#include "part/fin.h"

/* The air on its way. */
typedef struct {
    double T, W, h_w; /* K, kg/kg, J of drained water per kg dry air */
} ct_coil_along;

/* At one trial of the fin's tip, drives in K; `f` is what the tubes would take over hA less the
 * drive, and rises with the tip. */
typedef struct {
    double f, T_base, total, sensible, T_wet;
    double wet; /* share of the area */
} ct_coil_contact;

/* The search, carried along the air's way. */
typedef struct {
    const ct_fin_metal *metal;
    double p, cp;          /* Pa; J/K per kg dry air entering */
    double fin_share;      /* of the air-side area */
    double worth;          /* efficiency of the dry surface */
    double T_r, ratio;     /* K; UAi over hA */
    double W_r;            /* kg/kg, saturated at T_r */
    double tip;            /* K */
    double T_dp;           /* K, dew point where it was worked out last */
    bool part_wet;         /* a part of the fin was dry there */
    ct_coil_contact slope; /* per K of tip */
} ct_coil_surface;

/* Slope of saturation between tubes and metal over that at the tubes, to begin with. Own estimate,
 * no source. */
#define CT_COIL_STEEPER 1.2

/* Without a neighbor. `T_dp` is the dew point of the air there. */
void ct_coil_settle(ct_coil_surface *, const ct_coil_along *, double T_dp, ct_coil_contact *);

/* From a neighbor, beginning at `tip`, in that many rounds: what is left is the same smooth
 * function of everything every time, so no solver sees it. */
void ct_coil_settle_on(ct_coil_surface *, const ct_coil_along *, double tip, int rounds,
                       ct_coil_contact *);

/* Enthalpy of the water that runs off, half way between base and warmest wet metal, J/kg. */
static inline double ct_coil_drained(const ct_coil_contact *c)
{
    return ct_moist_h_water(0.5 * (c->T_base + c->T_wet));
}

/* Fall of W per transfer unit by that much of latent drive, K, the water leaving with h_water,
 * J/kg. */
static inline double ct_coil_vapor_taken(const ct_coil_along *at, double latent, double h_water)
{
    return ct_moist_cp(at->W) * latent / (ct_moist_h_vapor(at->T) - h_water);
}

#endif
