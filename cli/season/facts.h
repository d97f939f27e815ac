/* A season at each blower speed, ready to be shown: the totals of study/season.h, hour by hour what
 * the plots need, and what the household pays. */
#ifndef CLI_SEASON_FACTS_H
#define CLI_SEASON_FACTS_H

#include "base/job.h"
#include "judge/pick.h"
#include "show/limit_words.h"
#include "show/verdict.h"
#include "study/season.h"

enum { SEASON_SPEEDS = CT_MAX_TAPS, SEASON_AIRFLOWS = 6 /* without taps */ };

#define J_PER_KWH 3.6e6

typedef struct {
    const ct_point *point;
    char name[SHOWN_SIZE];
    ct_status status; /* CT_OK when total holds */
    char why[200];
    ct_season_total total;
    double *rh, *run; /* of each hour or bin, owned */
    int balances;
} season_speed;

typedef struct {
    const job *j;
    ct_sweep_job sweep;
    ct_sweep *swept; /* owned, as is the weather */
    ct_pick pick;
    int unit;
    bool si;
    const char *path; /* of the weather, NULL: the rating procedure's bins */
    ct_weather weather;
    ct_season_house house;
    bool *counted; /* owned: which hours' humidity counts, the same at all speeds */
    int n;
    season_speed speed[SEASON_SPEEDS];
    int picked;      /* of speed; -1: no pick */
    int drawn[2];    /* speeds the plots show; -1: none */
    verdict verdict; /* of the unit */
} season_result;

/* Fills *r; season_free in any case. EXIT_DONE, or the message is out. */
exit_code season_work_out(const job *j, season_result *r);
void season_free(season_result *r);

/* False: the house is held where the sweep has it settle at each speed. */
bool season_knows_humidity(const season_result *);

/* Money for the electricity, NaN without a price. */
double season_cost(const season_result *r, const season_speed *s);

/* W/W over the season, NaN when nothing ran. */
double season_efficiency(const season_speed *s);

#endif
