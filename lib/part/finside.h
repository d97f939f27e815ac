/* Air side of a fin-and-tube coil: what the fins and tubes are worth to the air.
 *
 * From what can be measured with a rule on the coil (face, rows, fins per inch, tubes) it gives the
 * areas, and for an airflow the air-side coefficient and the dry pressure drop. The face is all
 * slabs taken as one. It knows neither refrigerant nor moisture; what a fin takes, dry or wet, is
 * fin.h's.
 *
 * Sources, staggered tubes, continuous plate fins:
 *   plain fins        Wang, Chi & Chang 2000, Int. J. Heat Mass Transfer 43:2693-2700 (j and f);
 *   wavy fins         Wang, Fu & Chang 1997, Exp. Thermal Fluid Sci. 14:174-186 (j; f in
 * finside.c); convex-louver     Wang, Tsai & Lu 1998, J. Thermophysics Heat Transfer (j; f in
 * finside.c); fin               Schmidt 1949, equivalent circular fin of a hexagonal cell. An
 * untested coil's coefficient is known to about 15 %: an older published form for the same plain
 * fins (Gray & Webb 1986) lies 11 to 20 % lower.
 * SI throughout. Pure: allocates nothing, keeps nothing. Public. */
#ifndef CT_PART_FINSIDE_H
#define CT_PART_FINSIDE_H

#include <stdbool.h>

#include "base/status.h"
#include "part/fin.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum { CT_FIN_PLAIN, CT_FIN_WAVY, CT_FIN_LOUVER_WAVY } ct_fin;

/* Geometry of a fin-and-tube coil (one or more slabs as one). Ranges are those of the plain-fin
 * correlation as quoted in Shah & Sekulic 2003, section 7.5.4.2, where it gives one. */
typedef struct {
    double face;      /* m2, face area of all slabs, 0.02 to 5 */
    int rows;         /* 1 to 6 */
    double fin_pitch; /* m, 0.001 to 0.0087 */
    double fin_thick; /* m, 0.05e-3 to 0.5e-3 */
    double fin_k;     /* W/m K, 10 to 450; pure aluminum about 220 */
    double tube_od;   /* m; with its collars (od + 2 fin_thick) 0.0069 to 0.0136 */
    double tube_wall; /* m, 0.1e-3 to 2e-3 */
    double pitch_t;   /* m, transverse (across the air), 0.0204 to 0.0318 */
    double pitch_l;   /* m, longitudinal (along the air), 0.0127 to 0.032 */
    int circuits;     /* parallel refrigerant paths, 1 to 60 */
    ct_fin fin;
} ct_coil_geometry;

/* Areas and lengths that follow from the geometry; independent of the airflow. */
typedef struct {
    double Ao;             /* m2, air-side area: both fin faces and bare collars */
    double Af;             /* m2, fin part of Ao */
    double At;             /* m2, outside area of the tubes alone, without fins */
    double Ai;             /* m2, inside area of the tubes */
    double Ac;             /* m2, smallest free area for the air */
    double sigma;          /* Ac / face */
    double Dc;             /* m, collar diameter */
    double Dh;             /* m, 4 Ac depth / Ao */
    double depth;          /* m, along the air */
    double tube_length;    /* m, of all tubes */
    double circuit_length; /* m, of one refrigerant path */
    double circuit_area;   /* m2, inside flow area of one refrigerant path */
} ct_fin_areas;

/* Air as it meets the coil; mass and heat capacity per kg of the moist air. */
typedef struct {
    double V;   /* m/s, face velocity */
    double rho; /* kg/m3 */
    double mu;  /* Pa s */
    double k;   /* W/m K */
    double cp;  /* J/kg K */
} ct_fin_air;

typedef struct {
    double Re;     /* on the collar diameter and the velocity in the smallest free area */
    double j;      /* Colburn factor */
    double f;      /* Fanning friction factor */
    double film;   /* W/m2 K, film coefficient, dry, before fin efficiency */
    double dp;     /* Pa, core friction of the dry coil */
    bool in_range; /* Re and Dh inside the data of the film's correlation; false: extrapolated */
} ct_finside_out;

#define CT_FINSIDE_RE_MIN 150.0   /* half of the smallest Re behind the correlations */
#define CT_FINSIDE_RE_MAX 25000.0 /* a quarter above the largest */

/* Is the geometry one the correlations were made for? CT_RANGE names the measure, CT_INPUT an
 * unknown kind of fin. Within these ranges neither fins nor collars can touch, nor walls fill the
 * tube. */
CT_API ct_status ct_finside_check(const ct_coil_geometry *, ct_fault *);

/* Areas from the repeating cell around one tube and one fin. Fails as ct_finside_check does. */
CT_API ct_status ct_finside_areas(const ct_coil_geometry *, ct_fin_areas *, ct_fault *);

/* Properties of moist air at T (K, 230 to 350), W (kg/kg) and p (Pa) for the correlations:
 * viscosity and conductivity of dry air after Sutherland (constants in finside.c), density and heat
 * capacity of the moist air. Face velocity V is passed through. */
CT_API ct_fin_air ct_finside_air(double T, double W, double p, double V);

/* Coefficient and pressure drop. The geometry must have passed ct_finside_check. Re outside the
 * published data but within CT_FINSIDE_RE_MIN..MAX is worked out and flagged; beyond that CT_RANGE.
 * CT_INPUT for air properties that are not positive. */
CT_API ct_status ct_finside(const ct_coil_geometry *, const ct_fin_areas *, const ct_fin_air *,
                            ct_finside_out *, ct_fault *);

/* d ln film / d ln V at this airflow, for scaling a coil of known performance. Fails as
 * ct_finside. */
CT_API ct_status ct_finside_exponent(const ct_coil_geometry *, const ct_fin_areas *,
                                     const ct_fin_air *, double *exponent, ct_fault *);

/* The circular fin equivalent to one tube's hexagon of fin, Schmidt 1949: base radius that of the
 * collar, outer radius over it R = 1.27 (XT/r) sqrt(XD/XT - 0.3). */
CT_API ct_fin_shape ct_finside_fin(const ct_coil_geometry *);

#ifdef __cplusplus
}
#endif
#endif
