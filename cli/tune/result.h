/* What a tuning shows, and how a reading is shown. */
#ifndef CLI_TUNE_RESULT_H
#define CLI_TUNE_RESULT_H

#include "base/job.h"
#include "case/gauge_log.h"
#include "show/quantity.h"
#include "show/verdict.h"
#include "study/tune.h"

typedef struct {
    const job *j;
    verdict verdict; /* of the unit */
    const ct_tune *t;
    const char *tap;         /* "" when not given */
    bool low_ran;            /* of two stages the readings are of the low one */
    const ct_gauge_log *log; /* NULL: the readings are no log */
} tune_result;

/* A reading at least this likely to be off is marked. */
#define TUNE_SUSPECT 0.2

/* Less than this share of the doubt taken away: the readings say nothing about it. */
#define TUNE_LEARNED 0.10

quantity tune_quantity(ct_reading_kind kind);

#endif
