/* Season stage: the equipment at one blower speed, as a small table over outdoor temperature and
 * the humidity of the house.
 *
 * A season has thousands of hours and needs the same equipment each time. So it is balanced once on
 * a grid, and each hour reads the table: a monotone cubic (base/monotone.h) over outdoor
 * temperature every 5 F, and over humidity as part/room.h has it. One table is one stage at one
 * speed; equipment with several stages has several of them. SI. Public. */
#ifndef CT_STUDY_SEASON_STAGE_H
#define CT_STUDY_SEASON_STAGE_H

#include "base/status.h"
#include "judge/sweep.h"
#include "part/room.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_SEASON_T_STEP (5.0 / 1.8)              /* K between outdoor temperatures, 5 F */
#define CT_SEASON_T_FIRST ((52.0 + 459.67) / 1.8) /* K, coolest outdoors tabulated */
#define CT_SEASON_OUTDOORS 17                     /* up to 132 F */
#define CT_SEASON_HUMIDITIES CT_ROOM_POINTS

/* y[w][t] at humidity w and outdoor temperature t. */
typedef double ct_season_grid[CT_SEASON_HUMIDITIES][CT_SEASON_OUTDOORS];

typedef struct ct_season_stage {
    int n_T;
    double T[CT_SEASON_OUTDOORS];           /* K, rising */
    double W[CT_SEASON_HUMIDITIES];         /* kg/kg, humidity of the house, rising */
    ct_season_grid Q_house;                 /* W, net sensible that reaches the rooms */
    ct_season_grid water;                   /* kg/s that leaves them */
    ct_season_grid Q_net;                   /* W, net total at the unit */
    ct_season_grid P;                       /* W, compressor, blower, outdoor fan */
    double water_rated[CT_SEASON_OUTDOORS]; /* kg/s at 80/67 F, for a blower that runs on */
    double W_leak[CT_SEASON_OUTDOORS];      /* kg/kg, what return leaks draw in */
    double m_leak;                          /* kg/s of it, while the blower runs */
    double P_blower;                        /* W */
    int balances;                           /* how many it took */
    const struct ct_season_stage *low;      /* the low stage at its own speed; NULL: one stage */
    const struct ct_season_stage *cut; /* at the airflow the controls cut to; NULL: they do not */
} ct_season_stage;

/* Outdoor temperatures, K, between which the equipment has to run. */
typedef struct {
    double low, high;
} ct_season_range;

/* The table of a point of a sweep. Of the range the longest run of temperatures is kept at which
 * the equipment balances at every humidity. CT_NO_ROOT, with why, when fewer than two are
 * left. */
CT_API ct_status ct_season_tabulate(ct_solver *, const ct_sweep_job *, const ct_point *,
                                    const ct_season_range *, ct_season_stage *, ct_fault *);

/* The same at the airflow the controls of the case cut to, whether they are on or not. */
CT_API ct_status ct_season_tabulate_cut(ct_solver *, const ct_sweep_job *, const ct_point *,
                                        const ct_season_range *, ct_season_stage *, ct_fault *);

/* The equipment at one outdoor temperature; outside the table it is held at its edge. */
typedef struct {
    ct_room_equipment equipment;
    double Q_net[CT_SEASON_HUMIDITIES], P[CT_SEASON_HUMIDITIES]; /* at equipment.point */
    bool held;                                                   /* T was outside the table */
} ct_season_now;
CT_API void ct_season_at(const ct_season_stage *, double T, ct_season_now *);

/* A row of a ct_season_now at humidity W; held outside. */
CT_API double ct_season_read(const ct_season_now *, const double *row, double W);

#ifdef __cplusplus
}
#endif
#endif
