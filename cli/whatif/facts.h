/* What if, ready to be shown: the answers of study/whatif.h and how the speeds are called. */
#ifndef CLI_WHATIF_FACTS_H
#define CLI_WHATIF_FACTS_H

#include "base/job.h"
#include "show/limit_words.h"
#include "show/outlook.h"
#include "show/verdict.h"
#include "study/whatif.h"

typedef struct {
    const job *j;
    const ct_sweep *sweep;
    const ct_whatif *w;
    const ct_reach *reach; /* of each speed */
    verdict verdict;       /* of the unit */
    outlook outlook;
    bool si;
} whatif_result;

int whatif_n_speeds(const whatif_result *r);
const ct_point *whatif_speed(const whatif_result *r, int i);

/* The tap's name, or the airflow per ton; "none" for -1. */
const char *whatif_speed_name(const whatif_result *r, int i, char text[SHOWN_SIZE]);

#endif
