/* What the explore page shows: each indoor unit with its grid and its blower speeds. */
#ifndef CLI_EXPLORE_FACTS_H
#define CLI_EXPLORE_FACTS_H

#include "base/job.h"
#include "explore/grid.h"
#include "explore/lesson.h"

/* A blower speed: a stop of the airflow slider. Its static is judged by its own table. */
typedef struct {
    const char *name;
    bool has;             /* it moves air against the ducts; else `why` */
    double V_std_per_ton; /* m3/s, in the weather of the case */
    ct_judgment dp;       /* the static limit */
    char why[200];
} explore_tap;

typedef struct {
    const job *j;
    const char *name;
    bool good; /* else `why` and its exit code, and nothing of the rest */
    char why[200];
    exit_code code;
    char *refusal; /* why it must not be installed, owned; NULL: it may */
    ct_sweep_job job;
    int n_taps;
    explore_tap tap[CT_MAX_TAPS]; /* in order of rising airflow */
    const grid *grid;             /* of the facts' */
    bool has_pick;                /* in the weather of the case */
    ct_maybe V_begin; /* m3/s per ton: the pick, else what comes nearest; not where none balances */
    unsigned notes;   /* of that speed, ct_note bits */
    ct_maybe T_hot;   /* K, outdoors on the hotter day a piston there is looked at */
} explore_unit;

enum { MAX_UNITS = CT_MAX_INDOOR + 1 }; /* and a lesson's second */

typedef struct {
    const job *j;
    bool metric;          /* set by the caller */
    const lesson *lesson; /* NULL: none */
    bool has_second;
    job second; /* the case as the lesson changes it, owned; its unit is the last */
    int n;
    explore_unit unit[MAX_UNITS];
    grid grids[MAX_UNITS]; /* of the good units, in order */
    int n_grids;
} explore_facts;

/* `args` are those the job was opened with. EXIT_DONE, or the message is out. explore_free in any
 * case. */
exit_code explore_work_out(const arguments *args, job *j, const lesson *, explore_facts *f);
void explore_free(explore_facts *f);

#endif
