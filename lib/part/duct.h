/* Duct: the static pressure that ducts, filter and coil ask of the blower.
 *
 * A curve through one measured point. SI: Pa, m3/s at the density of the air at the blower. Pure
 * functions. Public. */
#ifndef CT_PART_DUCT_H
#define CT_PART_DUCT_H

#include "base/status.h"
#include "fluid/air.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_DP_LIMIT 500.0 /* Pa, no static or drop here is higher */
#define CT_V_LIMIT 5.0    /* m3/s, 10 600 cfm */

/* Ducts, filter, and the coils: external static the blower sees at airflow V is
 *   (dp - dp_coil_out) (V/V_point)^exponent + dp_coil_in (V/V_point)^coil_exponent.
 * dp was measured with the old coil in place. If the old coil was inside the measured span
 * (dp_coil_out), its drop comes off first, so that what scales with `exponent` is ducts and filter
 * alone. dp_coil_in is what the blower must overcome beyond its table: the new coil's drop when the
 * table was measured without a coil; 0 when it was measured with this one, which would else count
 * twice; the difference of the two when it was measured with another. An air handler: mostly both
 * 0, its statics are measured outside the cabinet. A furnace with a cased coil: both given. */
typedef struct {
    double dp, V;       /* Pa, 1 to 500; m3/s, 0.02 to 5: the measured point */
    double exponent;    /* 1.7 to 2.1, near 2 */
    double dp_coil_out; /* Pa at V: drop of the old coil inside the measured span, at most 0.95 dp;
                           0 if none */
    double dp_coil_in;  /* Pa at V: wet drop of the coil beyond what the table has; at least minus
                           half of dp - dp_coil_out, so that the sum rises with airflow */
    double coil_exponent; /* of dp_coil_in with airflow, 1 to 2.1, about 1.7 (wet fin coils) */
} ct_duct;

/* External static, Pa, that the ducts ask for at airflow V (m3/s, >= 0). */
CT_API double ct_duct_dp(const ct_duct *, double V);

/* Ducts outside the cooled space: what their walls and leaks cost. */
typedef struct {
    double A_supply, A_return; /* m2 of wall, >= 0 */
    double R;                  /* m2 K/W, > 0, surface to air around */
    double leak_supply;        /* share of the airflow lost on the supply side, 0 to 0.5 */
    double leak_return;        /* share of the airflow drawn in on the return side, 0 to 0.5 */
    double regain;             /* share of the loss that the house gets back, 0 to 1 */
    ct_air around;             /* the air around them */
} ct_duct_outside;

/* The same on a day that is warmer by this many K: the air around is as much warmer, its water no
 * more than it holds. */
ct_duct_outside ct_duct_outside_warmer(const ct_duct_outside *, double by);

/* What they are fed with. */
typedef struct {
    double m_da;      /* kg/s */
    ct_air room;      /* into the return */
    double T_supply;  /* K, into the supply ducts */
    double Q, Q_sens; /* W, net at the unit, > 0 */
} ct_duct_feed;

/* Shares of Q and of Q_sens that reach the rooms, 0.25 to 1. */
typedef struct {
    double B_supply, B_return; /* what is left of a difference to the air around at the far end */
    double total, sensible;    /* without regain */
    double total_regained, sensible_regained;
} ct_duct_delivery;

/* ASHRAE Standard 152-2004, cooling, equations 6-23, 6-25 and 6-40 (as carried in public code):
 *   B = exp(-A/(m cp R)),  a = 1 - leak
 *   DE = a_s {1 - m/E [(1-a_r)(h_around - h_in) + a_r cp (B_r - 1)(T_in - T_around)
 *                      + cp (B_s - 1)(T_supply - T_around)]}
 * and with regain F and dT = -E_sens/(m cp)
 *   DE' = DE + F(1 - DE) - [F - F - B_r(a_r F - F)] (T_in - T_around)/dT.
 * The sensible share has cp (T_around - T_in) for the enthalpies and E_sens for E. */
CT_API void ct_duct_deliver(const ct_duct_outside *, const ct_duct_feed *, ct_duct_delivery *);

/* CT_INPUT names the field of the ducts that is outside its range. */
CT_API ct_status ct_duct_check(const ct_duct *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
