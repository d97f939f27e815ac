/* Blower: how much air a tap really moves in this house, and what it costs in watts.
 *
 * A tap is a table of airflow and watts against external static pressure. Where it meets the curve
 * of the ducts is the operating point. Three motor families:
 *   permanent split capacitor   flow falls off with static
 *   constant torque             falls less
 *   constant airflow            holds flow to a static limit and pays in watts
 * SI: Pa, m3/s at the density of the air at the blower, W. Pure functions. Public. */
#ifndef CT_PART_BLOWER_H
#define CT_PART_BLOWER_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"
#include "part/duct.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_MAX_TAPS 10
#define CT_MAX_TAP_POINTS 12
#define CT_NAME_SIZE 48
#define CT_P_LIMIT 5000.0 /* W */

typedef enum { CT_MOTOR_PSC, CT_MOTOR_CONST_TORQUE, CT_MOTOR_CONST_AIRFLOW } ct_motor;

typedef struct {
    double dp; /* Pa, external static, 0 to 500 */
    double V;  /* m3/s */
    double P;  /* W, blower motor input */
} ct_tap_point;

/* Whose drop is in the tap table already: an air handler's was usually measured with its own coil
 * and filter in place, a furnace's without. */
typedef enum { CT_TABLE_NO_COIL, CT_TABLE_THIS_COIL, CT_TABLE_OTHER_COIL } ct_table_coil;

typedef struct {
    char name[CT_NAME_SIZE];
    int n; /* points, rising in dp; 1 is enough for constant airflow */
    ct_tap_point point[CT_MAX_TAP_POINTS];
} ct_tap;

typedef struct {
    ct_motor motor;
    bool before_coil; /* blow-through: a furnace under a cased coil; false: draw-through */
    double dp_max;    /* Pa, highest external static the maker allows */
    ct_table_coil table_coil;
    bool holds_mass; /* constant airflow: in thin air it holds the mass, not the volume */
    int n_taps;
    ct_tap tap[CT_MAX_TAPS];
} ct_blower;

typedef struct {
    double V;         /* m3/s */
    double P;         /* W */
    double dp;        /* Pa, external static there */
    bool over_limit;  /* dp above dp_max, or the tap table had to be extended past its last point */
    bool below_table; /* dp below the table's first point: airflow and watts are extended to it */
} ct_blower_point;

/* The blower with its tables, which hold in standard air, turned into those in air of `thinness`
 * times that density (pressure over CT_ATM_PA; 0.3 to 1.2). A permanent-split-capacitor motor keeps
 * its speed: same airflow, static and watts times thinness. One of constant torque speeds up by
 * thinness^-0.5: airflow and watts times that, same static. Fan laws, ASHRAE Handbook Systems, fans
 * (from memory, unconfirmed). What the control of one of constant airflow makes of thin air is the
 * maker's. One that holds the volume is left as it is; one that holds the mass (holds_mass) moves
 * airflow over thinness, and the watts go with the air power, which is airflow times static. */
CT_API void ct_blower_thin(const ct_blower *, double thinness, ct_blower *out);

/* Checks a blower and its tables: points rising in static, airflow positive and rising by no more
 * than 3 % from point to point, watts positive, at least 2 points except for constant airflow.
 * CT_INPUT names the tap and point. For host programs: the case reader has told its own faults. */
CT_API ct_status ct_blower_check(const ct_blower *, ct_fault *);

/* Number of the tap called `name`, from 0; -1 for none. `Medium-Low` is `medium low` where only one
 * tap is: letters in either case, and blanks, hyphens and underscores alike. */
CT_API int ct_blower_find_tap(const ct_blower *, const char *name);

/* "'low', 'medium low'", for a message about a tap's name: whole names, as many as fit.
 * Internal. */
enum { CT_TAP_NAMES_SIZE = 140 };
const char *ct_blower_tap_names(const ct_blower *, char *text, size_t size);

/* Where tap i (from 0) meets the duct curve. Between points the table is interpolated (Steffen
 * 1990, monotone cubic). Before the first point it is extended straight, and below_table is set.
 * Past the last point it is extended and over_limit is set: PSC and constant torque straight along
 * the last interval, watts with the airflow (PSC) or the same; constant airflow holds its flow to
 * dp_max at 1/3 W of air power per W more, then keeps its air power (V dp constant). A single point
 * of constant airflow holds for the whole range up to dp_max, unflagged. All common practice, no
 * source. CT_NO_ROOT when the tap cannot move air against these ducts: they meet at less than half
 * the last point's airflow or beyond twice its static (or dp_max); CT_INPUT for a bad index, table
 * or duct. */
CT_API ct_status ct_blower_meet(const ct_blower *, int i, const ct_duct *, ct_blower_point *,
                                ct_fault *);

/* Airflow, m3/s, of tap i at an external static read in place, Pa, 0 to twice the end of its
 * table or dp_max; interpolated and extended as at ct_blower_meet. CT_INPUT: bad index or table;
 * CT_RANGE. */
CT_API ct_status ct_blower_flow(const ct_blower *, int i, double dp, double *V, ct_fault *);

/* Watts at any airflow V along the duct curve, for a sweep between the taps: power law from one
 * tap's operating point to the next, extended by the family's power law (PSC flow^1, constant
 * torque and constant airflow flow^2.5; common practice, no source). Taps that cannot move air
 * against the ducts are left out. CT_RANGE when V is below a quarter of the slowest or above 4
 * times the fastest tap; else fails as ct_blower_meet. The duct must be the one the airflow is
 * swept along. */
CT_API ct_status ct_blower_watts(const ct_blower *, const ct_duct *, double V, double *P,
                                 ct_fault *);

/* The same in two steps, for many airflows on one duct: where the taps meet it, then the watts. */
typedef struct {
    ct_motor motor;
    int n; /* 1 or more, airflow rising */
    ct_blower_point at[CT_MAX_TAPS];
} ct_blower_line;
CT_API ct_status ct_blower_line_make(const ct_blower *, const ct_duct *, ct_blower_line *,
                                     ct_fault *);
CT_API ct_status ct_blower_line_watts(const ct_blower_line *, double V, double *P, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
