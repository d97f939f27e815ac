/* Visits to systems of the second model: sound ones that scatter about their nameplate, and ones with
 * one known fault; many seeds of each, on all cores. For tests of what tune finds. */
#ifndef VISITS_H
#define VISITS_H

#include "second_plant.h"
#include "study/tune.h"

/* Equipment of an example case, rated, and its second model. */
typedef struct {
    ct_case c;
    ct_refrigerant *refrigerant;
    ct_outdoor outdoor;
    ct_coil matched;
    ct_calibration calibration;
    second_plant plant;
} visit_house;

/* piston: in place of the case's valve. False: the story is printed. */
bool visit_house_make(const char *path, bool piston, visit_house *);
void visit_house_free(visit_house *);

typedef enum {
    FAULT_NONE,
    FAULT_FILTER,
    FAULT_BLOWER,
    FAULT_TAP, /* level: steps from the tap that is given */
    FAULT_COIL,
    FAULT_COMPRESSOR,
    FAULT_CONDENSER,
    FAULT_CHARGE,  /* level: kg over the right charge, less 1 */
    FAULT_READING, /* level: SI, added */
} visit_fault;

typedef struct {
    visit_fault fault;
    double level; /* of airflow, conductance or flow, if not said otherwise */
    ct_reading_kind kind;
    double scatter; /* of the priors' standard deviations */
} visit_kind;

typedef struct {
    bool settles;
    second_truth truth;
    double airflow; /* over what the tap's table gives against the ducts of the case */
    ct_readings shown;
    ct_status status;
    ct_tune told;
} visit;

/* Seeds from 1 to n; free(visits) afterwards. */
visit *visits_make(const visit_house *, const visit_kind *, int n);

/* Which explanation names the fault: 0 the first, 1 the second ...; -1 none of the first `n`. With
 * `family`, a weak blower and a slower tap count as one: both show as little air at low static. */
int visit_named(const visit *, const visit_kind *, int n, bool family);

/* Truth of a multiplier. */
double visit_truth(const visit *, ct_tune_unknown);

#endif
