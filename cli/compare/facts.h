/* Facts of a comparison: one table gives, for each figure that indoor units are compared by, its
 * name, its label, its quantity and where it comes from. The terminal's table, compare.csv and the
 * JSON are made from it. To compare by another figure, add a row. */
#ifndef CLI_COMPARE_FACTS_H
#define CLI_COMPARE_FACTS_H

#include <stdbool.h>

#include "base/job.h"
#include "show/outlook.h"
#include "show/quantity.h"
#include "show/verdict.h"
#include "study/compare.h"

/* One indoor unit of the case. */
typedef struct {
    bool good;     /* the row is there; else `why` */
    char why[200]; /* in words */
    ct_comparison row;
    verdict verdict;
    ct_sweep *sweep; /* owned */
    ct_sweep_job job;
    outlook outlook; /* of a good one */
} compare_unit;

typedef struct {
    const job *j;
    ct_matched_pair matched;
    ct_sweep *matched_sweep; /* owned: the matched pair at every airflow */
    compare_unit unit[CT_MAX_INDOOR];
    int n;
    bool metric;
} comparison;

/* The matched pair comes before the units. */
enum { MATCHED = -1 };

/* The unit may be installed and one of its speeds passes. */
bool compare_unit_passes(const compare_unit *u);
bool compare_unit_refused(const compare_unit *u);

/* "R" for the matched pair, "A" to "F" for the units. */
char compare_letter(int unit);
const char *compare_name(const comparison *k, int unit);

typedef enum {
    GROUP_AIR, /* at the pick, or as rated */
    GROUP_DESIGN_DAY,
    GROUP_HOUR,     /* the damp hour */
    GROUP_SAME_AIR, /* the same at the rated airflow */
    GROUP_GIVEN_UP, /* against the matched pair */
    GROUP_EFFICIENCY,
    GROUP_COST,
    COMPARE_GROUPS
} compare_group;

typedef struct {
    compare_group group;
    const char *name;  /* "net_total" */
    const char *label; /* "Net total", without its unit */
    quantity q;
    int decimals; /* for people, -1: as the quantity has it */
    bool sign;    /* a difference: shown with its sign */
    const char *meaning;
} compare_fact;

int compare_facts_count(void);
const compare_fact *compare_fact_at(int i);

/* SI; NaN when this unit has no such figure. */
double compare_value(const comparison *k, int i, int unit);

/* Of a fact that is a difference: what is compared with the same of the matched pair. */
double compare_own(const comparison *k, int i, int unit);

#endif
