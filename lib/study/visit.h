/* Tune, first part: what the readings say before any model is fitted to them.
 *
 * Sets that no system can give, heat on both sides of the coil, and the
 * charge from superheat and subcooling. Uncertainties are carried through by moving each reading up
 * and down by its own (root of squares). Internal. */
#ifndef CT_STUDY_VISIT_H
#define CT_STUDY_VISIT_H

#include "study/tune.h"

typedef struct {
    const ct_readings *readings;
    const ct_outdoor *outdoor; /* untuned */
    double p;                  /* Pa, barometric */
    double T_out;              /* K, outdoor air, read or as in the case */
    double V, u_V;             /* m3/s at the blower, and its relative standard uncertainty */
    double P_blower;           /* W */
    bool before_coil;          /* the blower breathes return air */
} ct_visit;

/* Air of the return (supply false) or the supply as read; a wet bulb above the dry bulb counts as
 * saturated here. False when dry bulb or moisture was not read. */
bool ct_visit_air(const ct_visit *, const ct_readings *, bool supply, ct_air *);

/* K from the readings, at the outdoor unit; superheat below 0 and subcooling below 0 as they come.
 * False when pressure or temperature was not read or lies outside the tables. */
bool ct_visit_superheat(const ct_visit *, const ct_readings *, double *superheat);
bool ct_visit_subcooling(const ct_visit *, const ct_readings *, double *subcooling);

void ct_visit_impossible(const ct_visit *, ct_tune *);
void ct_visit_heat(const ct_visit *, ct_tune_heat *);
void ct_visit_charge(const ct_visit *, double cause[CT_CAUSE_COUNT]);

/* Superheat at the coil against the valve's setting; has false with a piston. */
void ct_visit_valve(const ct_visit *, const ct_meter *, ct_tune_valve *);

/* Of an impossible set: which two readings, exchanged, leave nothing impossible. */
void ct_visit_swap(const ct_visit *, ct_tune *);
void ct_visit_exchange(ct_readings *, ct_reading_kind a, ct_reading_kind b);

#endif
