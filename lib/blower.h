/* Blower and ducts: how much air a tap really moves in this house, and what it costs in watts.
 *
 * A tap is a table of airflow and watts against external static pressure. The duct system is a curve
 * through one measured point. Where the two cross is the operating point. Three motor families:
 * permanent-split-capacitor (flow falls off with static), constant torque (falls less), constant
 * airflow (holds flow to a static limit and pays in watts).
 * SI: Pa, m3/s at the density of the air at the blower, W. Pure functions. */
#ifndef CT_BLOWER_H
#define CT_BLOWER_H

#include <stdbool.h>

#include "status.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_MAX_TAPS 10
#define CT_MAX_TAP_POINTS 12
#define CT_NAME_SIZE 48

typedef enum { CT_MOTOR_PSC, CT_MOTOR_CONST_TORQUE, CT_MOTOR_CONST_AIRFLOW } ct_motor;

typedef struct {
    double dp; /* Pa, external static, 0 to 500 */
    double V;  /* m3/s                          */
    double P;  /* W, blower motor input         */
} ct_tap_point;

typedef struct {
    char name[CT_NAME_SIZE];
    int n;                               /* points, rising in dp; 1 is enough for constant airflow */
    ct_tap_point point[CT_MAX_TAP_POINTS];
} ct_tap;

typedef struct {
    ct_motor motor;
    bool before_coil;  /* blow-through: a furnace under a cased coil; false: draw-through         */
    double dp_max;     /* Pa, highest external static the maker allows                            */
    bool table_includes_coil; /* the taps were measured with this coil and filter in place (an air
                                 handler's usually were, a furnace's were not)                    */
    int n_taps;
    ct_tap tap[CT_MAX_TAPS];
} ct_blower;

/* Ducts, filter, and the coils: external static the blower sees at airflow V is
 *   dp = dp_point (V/V_point)^n  + coil terms,
 * where the point was measured with the old coil in place. If the old coil was inside the measured
 * span its drop is taken off; if the blower's table does not include the new coil its drop is added. */
typedef struct {
    double dp, V;        /* Pa, m3/s: the measured point                                          */
    double exponent;     /* 1.7 to 2.1, near 2                                                    */
    double dp_coil_out;  /* Pa at V: drop of the old coil inside the measured span; 0 if none     */
    double dp_coil_in;   /* Pa at V: wet drop of the new coil where the blower must overcome it   */
    double coil_exponent; /* of both coil drops with airflow, about 1.7 (wet fin coils)           */
} ct_duct;

typedef struct {
    double V;  /* m3/s                      */
    double P;  /* W                         */
    double dp; /* Pa, external static there */
    bool over_limit; /* dp above dp_max, or the tap table had to be extended past its last point */
} ct_blower_point;

/* External static, Pa, that the ducts ask for at airflow V (m3/s, >= 0). */
CT_API double ct_duct_dp(const ct_duct *, double V);

/* Checks a blower and its tables (points rising in static, airflow positive and not rising with static
 * beyond a few percent, watts positive, at least 2 points except for constant airflow). CT_INPUT names
 * the tap and point. */
CT_API ct_status ct_blower_check(const ct_blower *, ct_fault *);

/* Where tap i meets the duct curve. Between points the table is interpolated (monotone cubic); past
 * the last point it is extended along its family's law and over_limit is set. CT_NO_ROOT when the tap
 * cannot move air against these ducts; CT_INPUT for a bad index or table. */
CT_API ct_status ct_blower_meet(const ct_blower *, int i, const ct_duct *, ct_blower_point *, ct_fault *);

/* Watts at any airflow V along the duct curve, for a sweep between the taps: interpolated over the
 * taps' own operating points and extended by the family's power law (PSC flow^1, constant torque and
 * constant airflow flow^2.5; common practice, no source; documented in the .c file). */
CT_API ct_status ct_blower_watts(const ct_blower *, const ct_duct *, double V, double *P, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
