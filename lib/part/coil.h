/* Indoor coil: what the air loses on its way through, and what the refrigerant needs to make its
 * superheat.
 *
 * Give it entering air, airflow, the temperature in the tubes and the refrigerant flow; it gives
 * the leaving air, the heat, sensible and latent, the water. It knows no compressor. SI throughout.
 * Pure: allocates nothing, keeps nothing.
 *
 * Model. The coil is split over its face: a share w of the tubes carries superheating vapour, the
 * rest boils at one temperature. Each share sees its part of the air.
 *  - Boiling share: along the air path sensible and latent transfer to the local surface,
 *      dT/dx = -NTU (T - Ts),  dW/dx = -NTU (W - Wsat(Ts))   (Lewis factor 1, Threlkeld 1970;
 * ASHRAE Handbook Fundamentals, mass transfer), Ts from the local balance with the refrigerant
 * side, UAi (Ts - Tr) = UAo [ (T - Ts) + (W - Wsat) (hv(T) - hw(Ts))/cp ]. A dry stretch, solved in
 * closed form, reaches to where Ts meets the entering dew point (Braun, Klein & Mitchell 1989 place
 * the boundary the same way); from there the wet stretch is integrated by fourth-order Runge-Kutta.
 * Wet and dry meet without a step.
 *  - Superheating share: dry, refrigerant warming along its tubes in cross flow with the air; its
 * share follows in closed form from the superheat asked for. Wet surface efficiency: Schmidt 1949
 * fin with h (dh_sat/dT)/cp in place of h, at the local surface temperature. Water leaves at the
 * surface temperature where it condensed; its enthalpy is not part of the heat the refrigerant
 * takes: Q = m_da (h_in - h_out) - (enthalpy of the water drained).
 * Public. */
#ifndef CT_PART_COIL_H
#define CT_PART_COIL_H

#include <stdbool.h>

#include "base/status.h"
#include "fluid/air.h"
#include "part/finside.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A coil with its conductances, after calibration to a nameplate (plant/rate_coil). Without the
 * coil's own geometry, `geometry` is that of a typical coil and serves for the fin efficiency only.
 */
typedef struct {
    bool has_geometry; /* h from the correlations of finside.h, else a power law in airflow */
    ct_coil_geometry geometry;
    ct_fin_areas areas;  /* of that geometry */
    double Ao;           /* m2, air-side area: the geometry's, or what the nameplate asks for */
    double h_scale;      /* with geometry: multiplier of the correlation, from the nameplate */
    double h_ref;        /* W/m2 K at m_air_ref, power law */
    double m_air_ref;    /* kg/s dry air through the whole coil */
    double n_air;        /* exponent of h with airflow */
    double UAi_ref;      /* W/K, boiling refrigerant side, whole coil, at m_r_ref */
    double m_r_ref;      /* kg/s */
    double n_r;          /* exponent of the boiling coefficient with mass flux */
    double vapour_ratio; /* superheated over boiling coefficient */
} ct_coil;

/* Exponent of the boiling coefficient with mass flux: convective boiling correlations share the 0.8
 * of their liquid-only term (Shah 1976; Dittus-Boelter). Boiling-dominated tubes are flatter. */
#define CT_COIL_N_R 0.8
/* Superheated-vapour over boiling coefficient, order of magnitude: common practice, no source. */
#define CT_COIL_VAPOUR_RATIO 0.1

/* Everything about the coil that does not depend on the refrigerant, at one airflow. */
typedef struct {
    ct_air in;
    double m_da;    /* kg/s dry air, whole coil */
    double cp;      /* J/K per kg dry air */
    double T_dp;    /* K, entering dew point, over liquid water */
    double h_in;    /* J/kg dry air */
    double h;       /* W/m2 K */
    double hA;      /* W/K, before efficiency */
    double UAo_dry; /* W/K */
    int steps;      /* integration steps over the wet stretch */
    bool in_range;  /* the air-side correlation is inside its range */
} ct_coil_air;

typedef struct {
    double Q_full;    /* W, were the whole coil boiling */
    ct_air out;       /* leaving the boiling share */
    double water;     /* kg per kg dry air */
    double h_water;   /* J per kg dry air, enthalpy of that water */
    double dry_share; /* share of the air path before condensation starts */
    double Ts_out; /* K, surface at the air outlet: the coldest; steps down a little where the last
                      of the coil turns wet, its fins being worth less then */
    double Ts_in;  /* K, surface at the air inlet */
} ct_coil_boiling;

/* m_da 0.01..10 kg/s, in->T 255..330 K. CT_RANGE. */
CT_API ct_status ct_coil_at_air(const ct_coil *, const ct_air *in, double m_da, ct_coil_air *,
                                ct_fault *);

/* Refrigerant-side conductance of the whole coil at refrigerant flow m_r, W/K. */
CT_API double ct_coil_UAi(const ct_coil *, double m_r);

/* The boiling share at tube temperature T_r (K, below in.T; at or above it nothing is transferred).
 */
CT_API void ct_coil_boil(const ct_coil *, const ct_coil_air *, double T_r, double UAi,
                         ct_coil_boiling *);

/* Share of the face that must carry vapour to raise it by `superheat` K from T_r with capacity rate
 * C_r (m cp, W/K); T_r is where its superheating begins, the dew temperature. 0 for no superheat;
 * INFINITY when T_r + superheat is not below the air. Cross flow, one stream unmixed: w = C_r
 * ln[(Ta-Tr)/(Ta-Tr-superheat)] / (C_air (1 - exp(-NTU))); derivation in coil.c. */
CT_API double ct_coil_superheat_share(const ct_coil *, const ct_coil_air *, double T_r, double UAi,
                                      double C_r, double superheat);

/* Both shares together: leaving air, heat, water. Q is what the refrigerant takes. */
typedef struct {
    ct_air out;
    double Q;       /* W, total */
    double Q_sens;  /* W, m_da cp(W_out) (T_in - T_out) */
    double Q_lat;   /* W, Q - Q_sens */
    double water;   /* kg/s */
    double h_water; /* W, enthalpy leaving with the water */
    bool fogged;    /* the mixed outlet was supersaturated and was brought to saturation */
} ct_coil_total;

CT_API void ct_coil_mix(const ct_coil_air *, const ct_coil_boiling *, double superheat_share,
                        double Q_superheat, ct_coil_total *);

#ifdef __cplusplus
}
#endif
#endif
