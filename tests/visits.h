/* Visits to systems of the second model: sound ones that scatter about their nameplate, and ones
 * with one known fault; many seeds of each, on all cores. For tests of what tune finds. */
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
    unsigned kit; /* of the VISIT_ readings below, beside the usual ones */
    int from;     /* seeds before the first: others make other systems and other errors */
    bool filled;  /* the piston is charged by superheat, on the design day of the case */
} visit_house;

/* VISIT_WET_BULB: of the return air, read twice. */
enum { VISIT_AIRFLOW = 1, VISIT_LEAVING = 2, VISIT_CONDENSATE = 4, VISIT_WET_BULB = 8 };

/* What meters, in place of the case's valve; a piston is charged to the subcooling of the plate, or
 * to the target superheat. */
typedef enum { VISIT_VALVE, VISIT_PISTON, VISIT_PISTON_FILLED } visit_meter;

/* False: the story is printed. */
bool visit_house_make(const char *path, visit_meter, visit_house *);
void visit_house_free(visit_house *);

typedef enum {
    FAULT_NONE,
    FAULT_FILTER,
    FAULT_BLOWER,
    FAULT_TAP, /* level: steps from the tap that is given */
    FAULT_COIL,
    FAULT_COMPRESSOR,
    FAULT_CONDENSER,
    FAULT_CHARGE, /* level: kg over the right charge, less 1 */
    /* level: K added to a valve's superheat; a piston's flow goes with exp(-level/30 K) */
    FAULT_FEED,
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
    double Q_sens;  /* W, net, as it is */
    double airflow; /* over what the tap's table gives against the ducts of the case */
    ct_readings shown;
    ct_status status;
    ct_tune told;
} visit;

/* What differs from one sound system and visit to the next. */
enum { VISIT_FREE = 11 };

/* A sound system `z` of its scatter from the middle in each; `scatter` of the priors. */
second_truth visit_system(const visit_house *, double scatter, const double z[VISIT_FREE]);

/* With the fault in it; a reading that is off is not in the truth. False: nothing gives it. */
bool visit_spoil(const visit_house *, const visit_kind *, second_truth *);

/* Only the readings that are taken; the tap's name is the one that is given. */
void visit_kit(const visit_house *, ct_readings *);

/* Truth and readings of the n seeds after `from`, not tuned; free(visits) afterwards. */
visit *visits_draw(const visit_house *, const visit_kind *, int n);

/* The same, tuned; free(visits) afterwards. */
visit *visits_make(const visit_house *, const visit_kind *, int n);

/* Which explanation names the fault: 0 the first, 1 the second ...; -1 none of the first `n`. With
 * `family`, a weak blower and a slower tap count as one: both show as little air at low static. */
int visit_named(const visit *, const visit_kind *, int n, bool family);

/* Truth of a multiplier. */
double visit_truth(const visit *, ct_tune_unknown);

#endif
