/* Ways: load and airflow found from what is at hand, each way with its doubt.
 *
 * A load calculation and a measured airflow are best. Without them the load follows from how long
 * the old system ran, through the model, or roughly from the floor area; the airflow from a tap's
 * table at the static read, from the rise through a heat that is known, from the wet bulbs of the
 * running system, or from the drop of a filter or coil with a table. What was entered stands; else
 * the way with least doubt is taken. All ways given are worked out, so that they can be compared.
 *
 * A doubt is one standard deviation, as a share of the value: two of three such findings are nearer
 * than that, 95 of 100 nearer than twice. SI. Public. */
#ifndef CT_STUDY_WAYS_H
#define CT_STUDY_WAYS_H

#include "base/status.h"
#include "case/case.h"
#include "case/report.h"
#include "plant/setup.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Most that a found load may be in doubt in section uncertainty, as the key allows. */
#define CT_LOAD_DOUBT_MOST 0.4

typedef enum {
    CT_FLOW_ENTERED = 0,
    CT_FLOW_TAP,   /* table of the tap in use, at the static */
    CT_FLOW_RISE,  /* rise through a heat that is known */
    CT_FLOW_SPLIT, /* wet bulbs of the running system, and the model's capacity */
    CT_FLOW_PART,  /* drop of a filter or dry coil, and its table */
    CT_FLOW_COUNT
} ct_flow_way;

typedef enum {
    CT_HOUSE_ENTERED = 0,
    CT_HOUSE_RUN_TIME, /* how long the old system ran, and the model's capacity */
    CT_HOUSE_FLOOR,    /* rule of thumb by floor area */
    CT_HOUSE_COUNT
} ct_house_way;

typedef struct {
    bool given;    /* the case has what it needs */
    bool found;    /* and it has an answer; else why says why not */
    double v;      /* m3/s, or W sensible */
    double latent; /* W, of a load; NaN where the way says nothing of it */
    double doubt;  /* of v, share */
    char why[200];
} ct_found;

typedef struct {
    ct_found flow[CT_FLOW_COUNT], load[CT_HOUSE_COUNT];
    int flow_taken;    /* -1: no ducts in the case */
    int load_taken;    /* never -1 */
    bool flow_differs; /* two ways are further apart than twice their doubts together */
    bool load_differs;
    bool at_least; /* it ran the whole time: the load by run time may be more */
} ct_ways;

/* Puts load, airflow and their doubts (section uncertainty, where the case does not state them)
 * into *c, which is the setup's case, and notes in the report (may be NULL) what was found and how.
 * A case with both entered and nothing else is left as it is. Fails when what is needed has no
 * answer by any way: CT_INPUT, CT_RANGE, or as ct_balance_solve; *c is then untouched. */
CT_API ct_status ct_ways_find(ct_case *c, const ct_setup *, ct_case_report *, ct_ways *,
                              ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
