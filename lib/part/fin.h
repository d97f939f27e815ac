/* One fin in moist air: the heat and the water it takes, dry, part wet or wet.
 *
 * Give it the metal, the air around it and the temperature at its tip; it gives the temperature at
 * its base and what the fin takes on the way there. The base is what the tube sees; the tip is
 * where the fin is warmest, so a fin turns dry from the tip.
 *
 * Equation. The metal conducts along its length and takes heat and vapor on both faces, h the same
 * everywhere, no heat through the tip (Threlkeld 1970; McQuiston 1975; Wu & Bong 1994):
 *     T'' = -mu w(s) phi(T),   T'(0) = 0 at the tip,   s = 1 at the base,
 *     phi = (Ta - T) + (Wa - Wsat(T)) lift(T)/cp  where T is below the dew point, else Ta - T
 * with the Lewis factor 1 and saturation over liquid. `lift` is the heat one kilogram of vapor
 * leaves in the metal. mu w ds is the faces' share of conductance over the metal's: a straight fin
 * of length L has mu = (m L)^2, w = 1, m^2 = 2h/(k t); a circular one, taken in the logarithm of
 * its radius, has w falling as the radius squared.
 *
 * Method. From the tip inward the solution is a power series; no search inside. The dry outer piece
 * is linear and its series depends on the metal and h alone. From the dew point on, saturation is
 * A + C exp(c u) with the value, slope and bend of the curve where it begins; the
 * series runs over the wet length in two pieces. Total and
 * sensible follow from one profile, so their efficiencies differ as they must, and nothing steps
 * where the base or the tip turns wet.
 *
 * Against the equation integrated finely (tests/test_fin.c) total and sensible are within 0.3 % up
 * to m L = 1.0, within 0.5 % up to 1.5, dry, part wet or wet. SI; pure. Public. */
#ifndef CT_PART_FIN_H
#define CT_PART_FIN_H

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_FIN_WEIGHTS 5                  /* terms of w(s) */
#define CT_FIN_PIECES 2                   /* equal pieces of the wet length */
#define CT_FIN_TERMS 5                    /* terms of phi along a wet piece */
#define CT_FIN_MOMENTS (CT_FIN_TERMS + 2) /* and of the temperature */
#define CT_FIN_DRY_TERMS 26               /* terms of a dry fin's temperature */

/* Shape alone. w integrates to 1 from tip to base, so that it weighs by area too. */
typedef struct {
    double reach2; /* m2: mu over m^2 */
    double w[CT_FIN_WEIGHTS];
} ct_fin_shape;

/* Straight fin of length L, m; circular fin of base radius r, m, and outer radius R times that
 * (1 to 3.5, m r up to 0.5; the polynomial for w
 * is good to 0.2 % of its largest there). The straight one is for host programs. */
CT_API ct_fin_shape ct_fin_straight(double L);
CT_API ct_fin_shape ct_fin_circular(double r, double R);

/* Columns of what the terms of phi make. */
enum { CT_FIN_TAKEN, CT_FIN_LEVER, CT_FIN_COOLED, CT_FIN_SUMS = 4 };

/* A stretch of the fin, of length l, in t from 0 to 1: -mu l^2 w over it, which bends the profile;
 * and integrals over it, weighed by area: of 1, of t, and per term of phi of phi, of phi times the
 * way to the base and of the temperature that phi bends. All but the first are per length. */
typedef struct {
    double bends[CT_FIN_WEIGHTS];
    double area, ramp;
    double sum[CT_FIN_TERMS][CT_FIN_SUMS];
} ct_fin_piece;

/* Shape, metal and h together. */
typedef struct {
    double mu; /* (m L)^2 of the straight fin; 1e-6 to 10 */
    double w[CT_FIN_WEIGHTS];
    ct_fin_piece piece[CT_FIN_PIECES]; /* of the whole length */
    double dry[CT_FIN_DRY_TERMS];      /* series of (Ta - T)/(Ta - T_tip), dry */
    int dry_terms;                     /* of them, those that count */
    double dry_base, dry_slope;        /* its value and slope at the base */
} ct_fin_metal;

/* h in W/m2 K, k_t conductivity times thickness, W/K. */
CT_API ct_fin_metal ct_fin_make(const ct_fin_shape *, double h, double k_t);

/* Efficiency of the dry fin: mean over base of Ta - T. */
CT_API double ct_fin_dry_efficiency(const ct_fin_metal *);

/* The air, and what a kilogram of vapor leaves in metal at T: lift + lift_slope (T - 273.15), J/kg,
 * for instance its enthalpy less that of the water that drains. */
typedef struct {
    double T, W, p; /* K, kg/kg, Pa */
    double cp;      /* J/K per kg dry air */
    double T_dp; /* K, dew point over liquid where it is known; else 0 or NaN: found when needed */
    double T_near; /* K, near the dew point, where that is not known; 0: nothing is known */
    double lift, lift_slope;
} ct_fin_around;

/* Temperature at which saturation over liquid is W (above 0), by Newton's method from `near`, K. */
CT_API double ct_fin_dew_point(double W, double p, double near);

/* All drives in K: times h they are W/m2. */
typedef struct {
    double T_base;     /* K */
    double total;      /* mean of phi over the fin */
    double sensible;   /* mean of Ta - T over the fin */
    double total_base; /* phi at the base */
    double T_wet;      /* K, warmest wet metal; T_base when all is dry */
    double wet;        /* share of the fin's area that is wet */
} ct_fin_taken;

/* From the tip's temperature (K, below the air's). */
CT_API void ct_fin_from_tip(const ct_fin_metal *, const ct_fin_around *, double T_tip,
                            ct_fin_taken *);

/* The same from the base's, by a search for the tip; T_base below the air's. Returns the tip's
 * temperature. For host programs. */
CT_API double ct_fin_from_base(const ct_fin_metal *, const ct_fin_around *, double T_base,
                               ct_fin_taken *);

#ifdef __cplusplus
}
#endif
#endif
