/* Heating: the same refrigerant circuit the other way round, with the indoor coil as condenser and
 * the outdoor coil as evaporator.
 *
 * Nothing is fitted to heating curves. The compressor is the one of the cooling nameplate. The
 * indoor coil condenses with the two conductances it has in cooling: its air side dry, its tubes as
 * they boil, in series; the zones are those of the condenser (part/condenser.h), so
 *   e C = C (1 - exp(-UA/C)),  1/UA = 1/UAo + 1/UAi,  C = m_air cp     (Kays & London)
 * The outdoor coil evaporates, and takes water out of the outdoor air:
 *   Q = e C (T_out - T_boil) (1 + L),  L = h_fg (W_out - Wsat(Ts))/(cp (T_out - Ts)), 0 at least
 * (Lewis factor 1; Ts the surface, a fixed way from T_boil to T_out; the outdoor air as humid as in
 * test H1). e C follows from a rated heating capacity (47 F outdoors, 70 F indoors: test H1 of AHRI
 * 210/240), and is that of the condenser it is in cooling where none is given; a rated efficiency
 * scales the compressor's watts. A second rating, at 17 F (test H3), is met in the same way: flow
 * and watts of the compressor get a factor there, none at 47 F and above, and straight between and
 * below, as the rating procedure draws capacity and power straight through its two tests (AHRI
 * 210/240; from memory, unconfirmed). Left out, and to be said: what frost does to the coil,
 * defrost, heat and pressure lost in the lines. A larger indoor coil condenses at a lower head. All
 * compressor input ends in the heat given: energy closes exactly. SI. Allocates nothing.
 * Public. */
#ifndef CT_PLANT_HEATING_H
#define CT_PLANT_HEATING_H

#include "base/status.h"
#include "case/case.h"
#include "part/coil.h"
#include "part/compressor.h"
#include "plant/plant.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Test H1 of AHRI 210/240. */
#define CT_HEATING_T_OUT 281.4833333333333  /* K, 47 F */
#define CT_HEATING_T_IN 294.26111111111106  /* K, 70 F */
#define CT_HEATING_T_COLD 264.8166666666667 /* K, 17 F: test H3 */

/* How far a rating at 17 F may move the compressor's flow there. */
#define CT_HEATING_COLD_LEAST (-0.38)
#define CT_HEATING_COLD_MOST 0.30

/* Condensing over boiling coefficient in the same tubes at the same flow: of one order (common
 * practice, no source). */
#define CT_HEATING_CONDENSING 1.0

/* A valve can hold no more superheat than this share of what the outdoor air is above the suction;
 * common practice, no source. */
#define CT_HEATING_SUPERHEAT_SHARE 0.6

/* Outdoor air, relative humidity: 47 F dry and 43 F wet bulb, the wet bulb of test H1 (from memory,
 * unconfirmed). */
#define CT_HEATING_RH_OUTDOOR 0.725
/* The outdoor coil's surface over the boiling temperature, as a share of T_out - T_boil: the tubes'
 * share of the resistance; common practice, no source. */
#define CT_HEATING_SURFACE_SHARE 0.35

typedef struct {
    const ct_refrigerant *refrigerant;
    ct_compressor compressor;
    ct_coil coil;      /* indoor */
    double eps_C;      /* W/K, outdoor coil as evaporator, at CT_ATM_PA */
    double superheat;  /* K at the outdoor coil's outlet, as far as the air allows */
    double subcooling; /* K at the indoor coil's outlet: the charge */
    double P_fan;      /* W, outdoor fan */
    double flow_cold,
        power_cold;   /* compressor's flow and watts at 17 F, over the model's, less 1 */
    bool before_coil; /* the blower heats the air before the coil */
} ct_heat_pump;

typedef struct {
    double T_out;    /* K, outdoors, 240 to 300 */
    double T_in;     /* K, return air, 280 to 310 */
    double p;        /* Pa, of the air */
    double m_da;     /* kg/s */
    double P_blower; /* W, all of it heat in the air */
} ct_heating_air;

typedef struct {
    double Te, Tc;                 /* K, saturated suction and discharge (dew) */
    double p_suction, p_discharge; /* Pa absolute */
    double m_r;                    /* kg/s */
    double P_compressor;           /* W */
    double Q_outdoor;              /* W, taken from the outdoor air */
    double Q;                      /* W, given by the coil: Q_outdoor + P_compressor */
    double Q_net;                  /* W, with the blower's heat */
    double P_total;                /* W, with blower and outdoor fan */
    double COP;                    /* Q_net / P_total */
    double T_supply;               /* K, leaving the unit */
    double UA, eps_C;              /* W/K of the indoor coil */
    double liquid_share;           /* of its face: subcooled liquid */
    double vapor_share;            /* and hot vapor */
    double C, T_air;               /* W/K of the air over it; K, entering it */
    double h_hot;                  /* J/kg, refrigerant entering it */
    ct_condenser_state cond;       /* of the refrigerant in it */
    double residual;               /* (outdoor coil - refrigerant)/refrigerant */
} ct_heating_balance;

/* The heat pump with the coil it was rated with: the ratings, if any, set the outdoor coil and the
 * watts, which then hold for any other indoor coil. CT_INPUT when they contradict the cooling
 * nameplate, the fault says how; CT_NO_ROOT, CT_NO_CONV, CT_RANGE as ct_heating_solve. */
CT_API ct_status ct_heating_rate(const ct_outdoor_unit *, const ct_outdoor *,
                                 const ct_coil *matched, ct_heat_pump *, ct_fault *);

/* kg of refrigerant per m3 inside the indoor coil while it heats: its zones by their shares of the
 * face, the condensing one by part/charge.h. CT_RANGE. */
CT_API ct_status ct_heating_held(const ct_heat_pump *, const ct_heating_balance *, double *density,
                                 ct_fault *);

/* The same with the coil of a joined system, and with what tuning made of its outdoor unit, which
 * was `rated` before. */
CT_API void ct_heating_join(const ct_outdoor *rated, const ct_system *, ct_heat_pump *);

/* CT_NO_ROOT when the head is beyond the refrigerant's table, CT_NO_CONV when no suction balances;
 * CT_RANGE. *out is then untouched. */
CT_API ct_status ct_heating_solve(const ct_heat_pump *, const ct_heating_air *,
                                  ct_heating_balance *out, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
