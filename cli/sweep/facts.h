/* A sweep, ready to be shown: the answers that report, JSON and job page have in common. */
#ifndef CLI_SWEEP_FACTS_H
#define CLI_SWEEP_FACTS_H

#include <stdbool.h>

#include "base/job.h"
#include "judge/beside.h"
#include "judge/pick.h"
#include "show/outlook.h"
#include "show/verdict.h"
#include "study/switches.h"
#include "sweep/columns.h"
#include "sweep/uncertain.h"

typedef struct {
    const job *j;
    sweep_view view;
    const sweep_view *low; /* the same on the low stage; NULL: one stage */
    verdict verdict;       /* whether the unit may be installed */
    outlook outlook;       /* how close the call is, or what would fix it */
    ct_beside beside;      /* other speeds worth a thought; of a pick that was found */
    bool has_switches;
    ct_switches switches; /* the blower's controls at the pick */
    bool has_hottest_reserve;
    double T_hottest_reserve; /* K, hottest day of the speed with most reserve */
    bool has_hottest;
    double T_hottest;                /* K, hottest day the pick carries; valid when has_hottest */
    char why_no_hottest[200];        /* "" when no balance temperature is given */
    const uncertain_view *uncertain; /* NULL: not asked for */
    bool metric;
    bool quiet;   /* the pick only */
    bool full;    /* more than a screenful */
    bool assumed; /* list what was assumed */
    bool reasons; /* say where each assumption comes from */
} sweep_result;

/* The point the pick is compared with: the fastest tap that balances, or the airflow of the sweep
 * nearest 400 cfm per ton. NULL when there is none, or it is the pick itself. */
const ct_point *sweep_reference(const sweep_result *r);

/* What is odd about the calibration, one line each, to `line` (at most PLAUSIBILITY_LINES). */
enum { PLAUSIBILITY_LINES = 4, PLAUSIBILITY_SIZE = 240 };
int sweep_calibration_doubts(const job *j, char line[PLAUSIBILITY_LINES][PLAUSIBILITY_SIZE]);

#endif
