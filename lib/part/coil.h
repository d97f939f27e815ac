/* Indoor coil: what the air loses on its way through, and what the refrigerant needs to make its
 * superheat.
 *
 * Give it entering air, airflow, the temperature in the tubes and what the refrigerant wants for
 * its superheat; it gives the leaving air, the heat, sensible and latent, the water. It knows no
 * compressor. SI throughout. Pure: allocates nothing, keeps nothing. Public.
 *
 * Model. Counter-cross flow: the superheated tubes lie first in the air's path, the rest boils at
 * one temperature in the air they leave. Along the air path
 *     dT/dx = -N (T - Tm),  dW/dx = -N Y,  N = hA/(m cp)
 * with Tm and Y the means of the surface's temperature and of W - Wsat where it is wet (Lewis
 * factor 1, Threlkeld 1970), from the fin (fin.h: dry, part wet or wet along its own length) and
 * the bare tube. The base temperature Tb is where both sides carry the same heat,
 * UAi (Tb - Tr) = hA (drive).
 *  - Boiling: dry in closed form to where the base meets the dew point (Braun, Klein & Mitchell
 * 1989 place the boundary the same way); from there in steps, by collocation at middle and end:
 * what the surface takes of the air's excess over the tubes hardly changes along the way, so it is
 * a parabola between the places where it is worked out.
 *  - Superheating: counter flow of vapor and air, log-mean temperature difference while its surface
 * is dry; where the base falls below the dew point the log mean of the total drive, so its water is
 * counted.
 * Water leaves at the temperature of the metal it runs off, half way between base and the warmest
 * wet metal; its enthalpy is not part of the heat the refrigerant takes:
 * Q = m_da (h_in - h_out) - (enthalpy of the water drained). */
#ifndef CT_PART_COIL_H
#define CT_PART_COIL_H

#include <stdbool.h>

#include "base/status.h"
#include "fluid/air.h"
#include "part/fin.h"
#include "part/finside.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A coil with its conductances, after calibration to a nameplate (plant/rate_coil). Without the
 * coil's own geometry, `geometry` is that of a typical coil and serves for the fin efficiency
 * only. */
typedef struct {
    bool has_geometry; /* film by the correlations of finside.h, else a power law in airflow */
    ct_coil_geometry geometry;
    ct_fin_areas areas; /* of that geometry */
    double Ao;          /* m2, air-side area: the geometry's, or what the nameplate needs */
    double film_scale;  /* with geometry: multiplier of the correlation, from the nameplate */
    double film_ref;    /* W/m2 K at m_air_ref, power law */
    double m_air_ref;   /* kg/s dry air through the whole coil */
    double n_air;       /* exponent of the film coefficient with airflow */
    double UAi_ref;     /* W/K, boiling refrigerant side, whole coil, at m_r_ref */
    double m_r_ref;     /* kg/s */
    double n_r;         /* exponent of the boiling coefficient with mass flux */
    double vapor_ratio; /* superheated over boiling coefficient */
} ct_coil;

/* Exponent of the boiling coefficient with mass flux: convective boiling correlations share the 0.8
 * of their liquid-only term (Shah 1976; Dittus-Boelter). Boiling-dominated tubes are flatter. */
#define CT_COIL_N_R 0.8
/* Superheated-vapor over boiling coefficient, order of magnitude: common practice, no source. */
#define CT_COIL_VAPOR_RATIO 0.1

/* Everything about the coil that does not depend on the refrigerant, at one airflow. */
typedef struct {
    ct_air in;
    double m_da;        /* kg/s dry air, whole coil */
    double cp;          /* J/K per kg dry air */
    double T_dp;        /* K, entering dew point, over liquid water */
    double h_in;        /* J/kg dry air */
    double film;        /* W/m2 K, air-side film coefficient */
    double hA;          /* W/K, before efficiency */
    double UAo_dry;     /* W/K */
    double fin_share;   /* of the air-side area; the rest is bare tube */
    ct_fin_metal metal; /* one fin, at this h */
    int steps;          /* integration steps over the wet stretch */
    bool in_range;      /* the air-side correlation is inside its range */
} ct_coil_air;

/* What the refrigerant brings. */
typedef struct {
    double T_boil;    /* K, mean temperature the air sees on the boiling tubes */
    double T_dew;     /* K, where superheating begins */
    double UAi;       /* W/K, boiling, whole coil */
    double C_r;       /* W/K, capacity rate of the vapor, m cp */
    double superheat; /* K at the outlet; 0 or less: none */
} ct_coil_tubes;

typedef struct {
    double superheat_area; /* share of the coil's area that superheats; INFINITY: it cannot */
    double Q;              /* W, the refrigerant's heat, all of it */
    double Q_boil;         /* W, of that what boils */
    double T_at_boil;      /* K, air that reaches the boiling tubes */
    bool vapor_wet;        /* superheated tubes condense water, too */
    ct_air out;            /* leaving */
    double water;          /* kg per kg dry air */
    double h_water;        /* J per kg dry air, enthalpy of that water */
    double dry_share;      /* share of the area whose fin bases stay dry */
    double Ts_out;         /* K, fin base at the air outlet: the coldest surface */
    double Ts_in;          /* K, fin base where boiling tubes meet the air first */
} ct_coil_through;

/* Steeper saturation than here bends a fin more than its series follow. No higher dew point has
 * been measured outdoors than about 95 F (from memory, unconfirmed). */
#define CT_COIL_DEW_MAX 308.15 /* K, 95 F */

/* m_da 0.01..10 kg/s, in->T 255..330 K, its dew point up to CT_COIL_DEW_MAX. CT_RANGE. */
CT_API ct_status ct_coil_at_air(const ct_coil *, const ct_air *in, double m_da, ct_coil_air *,
                                ct_fault *);

/* Refrigerant-side conductance of the whole coil at refrigerant flow m_r, W/K. */
CT_API double ct_coil_UAi(const ct_coil *, double m_r);

/* The air's way through. Tubes at or above the air transfer nothing. The superheat takes the area
 * it takes: when that is not below 1 (superheat_area, INFINITY when T_dew + superheat is not below
 * the air) the rest of *out is not worked out. */
CT_API void ct_coil_run(const ct_coil *, const ct_coil_air *, const ct_coil_tubes *,
                        ct_coil_through *);

/* Bookkeeping of what leaves. Q is what the refrigerant takes. */
typedef struct {
    ct_air out;
    double Q;       /* W, total */
    double Q_sens;  /* W, m_da cp(W_out) (T_in - T_out) */
    double Q_lat;   /* W, Q - Q_sens */
    double water;   /* kg/s */
    double h_water; /* W, enthalpy leaving with the water */
    bool fogged;    /* the outlet was supersaturated and was brought to saturation */
} ct_coil_total;

CT_API void ct_coil_leave(const ct_coil_air *, const ct_coil_through *, ct_coil_total *);

#ifdef __cplusplus
}
#endif
#endif
