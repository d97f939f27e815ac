/* Season: what the customer lives with and pays, at one blower speed, over all hours of a year.
 *
 * Hours come as bins of outdoor temperature, or one after the other from a weather file
 * (case/weather.h). Each hour the house needs what its load line says, and the thermostat runs the
 * equipment for that share of the hour. In bins the house is where it settles (part/room.h). Hour
 * by hour it has a memory:
 *   M dW/dt = Q_latent/h_g + m_outdoor (W_outdoor - W) - water(W),  M = storage x air in the house,
 * the effective-capacitance form of moisture storage: one lump at the air's own humidity that holds
 * several times what the air does (compared with layered models by Woods, Winkler & Christensen
 * 2013, NREL/TP-5500-57441; from memory, unconfirmed). Each half hour is stepped with the balance
 * taken as a straight line in W about its start: the exponential Euler step, exact for a house
 * without cooling, and of second order with it. Electricity of a part-load hour counts the cycling
 * loss as the rating procedure does, P X/(1 - CD (1 - X)) (AHRI 210/240); run hours count X.
 *
 * Assumed: the room is always at its set temperature; the load follows outdoor temperature alone,
 * the sun is in the line; the household's moisture is the same every hour. A day without an hour
 * that needs cooling is a day of open windows or heating: its humidity does not count.
 * SI; hours in h. Pure, but for the solver. Public. */
#ifndef CT_STUDY_SEASON_H
#define CT_STUDY_SEASON_H

#include "base/status.h"
#include "case/weather.h"
#include "judge/fan_control.h"
#include "study/season_stage.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_SEASON_LEVELS 4
#define CT_SEASON_RH                                                                               \
    {                                                                                              \
        0.50, 0.55, 0.60, 0.65                                                                     \
    }

/* The house over the season. */
typedef struct {
    ct_room_house room;        /* load and outdoors are set hour by hour */
    double V_outdoor;          /* m3/s leaking in */
    double T_no_load;          /* K, outdoors without a cooling load */
    double T_design, Q_design; /* K, W: the other end of the load line */
    double W_start;            /* kg/kg, where an hourly season begins */
    double storage;            /* M, kg */
    double CD;                 /* cyclic degradation, 0..0.5 */
    ct_fan_control control;    /* for equipment with a table at the cut airflow */
    bool held;                 /* the house is kept at W_start whatever it would settle at */
} ct_season_house;

/* m2 that the unit cools: season.floor_area, else house.floor_area, else 500 ft2 for each nominal
 * ton (common practice, no source; 400 to 600 in houses as they are). */
#define CT_SEASON_FLOOR_PER_TON (500.0 * 0.3048 * 0.3048)
CT_API double ct_season_floor(const ct_case *);

/* The house of a case. Without infiltration nothing but the coil takes the household's moisture
 * out, and in the many mild hours every house would end in fog: hour by hour that is CT_INPUT, in
 * bins the house is held at the humidity entered, or at another W_start, and the season says
 * nothing of humidity. */
CT_API ct_status ct_season_house_of(const ct_sweep_job *, bool hourly, ct_season_house *,
                                    ct_fault *);

/* W, sensible; below 0 when it is cool outdoors. */
CT_API double ct_season_load(const ct_season_house *, double T_out);

/* The rating procedure's bins as weather (plant/seasonal.h), so many that season.load_hours at the
 * design load come together; outdoor moisture as ct_humidity_outdoor_air, and where the case has no
 * outdoor humidity that of the room, which then does not matter. To be freed by ct_weather_free. */
CT_API ct_status ct_season_rating_weather(const ct_sweep_job *, ct_weather *, ct_fault *);

/* Outdoors between which the equipment has to run. */
CT_API ct_season_range ct_season_range_of(const ct_season_house *, const ct_weather *);

typedef struct {
    double hours;                   /* h, all */
    double cooling;                 /* h with a cooling load */
    double counted;                 /* h whose humidity counts */
    double above[CT_SEASON_LEVELS]; /* h of those above 50, 55, 60, 65 % RH */
    double rh_mean, rh_max;         /* of those, 0..1; NaN when there are none */
    double run;                     /* h, compressor */
    double run_high;                /* h of it on the high stage, 0 with one stage */
    double energy;                  /* J, electric: compressor, outdoor fan, blower */
    double Q;                       /* J, net total cooling at the unit */
    double hours_short, heat_short; /* h and J of sensible load not carried */
    double water;                   /* kg taken out by the coil */
    double unclosed;                /* kg, that less what the table's coil took: of the step */
    double held;                    /* h of cooling outside the table, taken as at its edge */
    double saturated;               /* h the house was kept from fog: humidity not believable */
} ct_season_total;

/* Hour by hour, arrays as long as the weather; each may be NULL. */
typedef struct {
    double *rh, *run; /* 0..1 */
    bool *counted;    /* the humidity counts */
} ct_season_trace;

/* Fails: CT_INPUT, CT_NO_CONV of ct_room_settle. trace may be NULL. */
CT_API ct_status ct_season_run(const ct_season_house *, const ct_season_stage *, const ct_weather *,
                               const ct_season_trace *trace, ct_season_total *, ct_fault *);

/* The humidity exceeded in a share i/(n - 1) of the hours that count, i from 0 to n - 1; n 2 or
 * more. CT_INPUT when none counts, CT_SYSTEM without memory. */
CT_API ct_status ct_season_duration(const ct_weather *, const ct_season_trace *, int n, double *rh,
                                    ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
