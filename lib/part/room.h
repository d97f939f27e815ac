/* Room: the relative humidity the house settles at.
 *
 * The thermostat runs the equipment for the share of the hour that the sensible load needs. In that
 * time the coil takes water out of the air; people, cooking and outdoor air leaking in bring it.
 * The house drifts to the humidity at which both are equal. Equipment that cools fast runs little,
 * and little running dries little: that is how a larger coil makes a damp house. With the blower
 * left on between cycles the wet coil gives its water back to the air. Equipment with two stages
 * runs the low one first; only when that runs all the hour does the high one take a part of it:
 * with a load Q between the two capacities, the high share is (Q - Q_low)/(Q_high - Q_low) (as the
 * rating standard has it for two-capacity units, AHRI 210/240), and nothing cycles. A load above
 * both has the high stage all the hour, though it give no more than the low one.
 *
 * Steady averages at one hour's load and one room temperature. Water is counted in kg/s; latent
 * heat is water times the enthalpy of its vapor at room temperature. SI throughout. Pure:
 * allocates nothing, keeps nothing. Water given back between cycles: part/reevaporation.h.
 * Public. */
#ifndef CT_PART_ROOM_H
#define CT_PART_ROOM_H

#include <stdbool.h>

#include "base/status.h"
#include "part/reevaporation.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    double T; /* K, room dry bulb the thermostat holds, 280 to 320 */
    double p; /* Pa, 50 000 to 120 000 */
    /* W, sensible load of this hour, without blower heat; 0 or less: no cooling. */
    double Q_sensible;
    double Q_latent;  /* W, moisture from people, cooking, ..., >= 0 */
    double m_outdoor; /* kg/s of dry air leaking in, >= 0; its sensible load is in Q_sensible */
    double W_outdoor; /* kg/kg, its humidity ratio, 0 to 0.1 */
    bool fan_on;      /* blower runs on between cycles */
    double fan_delay; /* s, blower run-on after the compressor stops, 0: none; not with fan_on */
    ct_reevaporation coil;
} ct_room_house;

/* The equipment, at this airflow and outdoor temperature, against the humidity of the room's air. A
 * few balances are enough: about five points from where the coil runs dry to saturation. Between
 * points a monotone cubic (Steffen 1990, Astron. Astrophys. 239:443). The dry limit is where the
 * line through the two driest wet points meets zero, but not below a point given as dry. */
#define CT_ROOM_POINTS 12

typedef struct {
    double W;     /* kg/kg, room humidity ratio, rising from point to point */
    double Q_net; /* W, net sensible cooling while running, blower heat taken off, > 0 */
    double water; /* kg/s taken out of the air while running, >= 0, not falling */
} ct_room_point;

typedef struct ct_room_equipment {
    int n; /* 2 to CT_ROOM_POINTS */
    ct_room_point point[CT_ROOM_POINTS];
    double W_near;      /* kg/kg, where the search begins, not where it ends; 0: no idea */
    double P_blower;    /* W, blower heat while it runs alone, >= 0 */
    double m_leak;      /* kg/s of air that return leaks draw in while the blower runs, >= 0 */
    double W_leak;      /* kg/kg, its humidity ratio, 0 to 0.2 */
    double water_rated; /* kg/s at 26.7 C / 19.4 C entering, > 0; used with fan_on or fan_delay */
    /* The high stage where this is the low one: once the low stage runs all the hour and is still
     * short, it takes over for a part of it. NULL: one stage. Its water_rated is not used, for then
     * nothing cycles. */
    const struct ct_room_equipment *high;
} ct_room_equipment;

typedef enum {
    CT_ROOM_SETTLED,   /* what comes in is taken out */
    CT_ROOM_DRIES,     /* nothing comes in: dries to W, below which nothing is taken out */
    CT_ROOM_OUTDOOR,   /* nothing is taken out: drifts to W, outdoor air plus what is brought in */
    CT_ROOM_SATURATED, /* more comes in than is taken out up to saturation: W is saturation */
    CT_ROOM_UNMOVED    /* nothing in, nothing out at any humidity: stays as it is, W is only the
                          upper limit */
} ct_room_outcome;

typedef struct {
    ct_room_outcome outcome;
    double W, rh;      /* kg/kg; 0..1 */
    double Q_net;      /* W, net sensible cooling while it runs, at W */
    double run;        /* share of the hour the compressor runs, 0..1 */
    double high;       /* share of the hour it runs on the high stage, 0 with one stage */
    double fan_alone;  /* share of the hour the blower runs without it, 0..1 */
    double multiplier; /* share of the full-run drying that is kept, 0..1; 1 when water is 0 */
    double water;      /* kg/s taken out, averaged over the hour; below 0 where return leaks bring
                             more than the coil takes */
    double water_per_day; /* kg per day at this load, the same */
    bool always_on;    /* all it has runs all the hour: it only just or does not carry the load */
    double Q_short;    /* W of sensible load not carried; > 0: the room gets warmer than T, and
                          W is what the full run holds as if it did not */
    bool extrapolated; /* W outside the equipment's points */
    double residual;   /* kg/s, water in minus out at W; > 0 with CT_ROOM_SATURATED */
    int iterations;
} ct_room_out;

/* Settled humidity: a root between bone dry and saturation of
 *   run multiplier water(W) - blower m_leak (W_leak - W) - Q_latent/h_g
 *       - m_outdoor (W_outdoor - W),
 * blower the share of the hour it runs, with the compressor or alone.
 * It rises with W (a damper room gives the coil more water and less to evaporate), so there is one.
 * Fails: CT_INPUT with the field named; CT_NO_CONV when the two sides jump past each other: only
 * with the blower running on and a very wet coil, whose returned water cools so much that two run
 * shares carry the same load and the house flips between them. *out is then untouched. */
CT_API ct_status ct_room_settle(const ct_room_house *, const ct_room_equipment *, ct_room_out *,
                                ct_fault *);

/* The same balance at a humidity ratio W (0 to saturation) that is not the settled one: run share,
 * multiplier, water; residual: which way the house drifts (> 0: gets damper). */
CT_API ct_status ct_room_at(const ct_room_house *, const ct_room_equipment *, double W,
                            ct_room_out *, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
