/* Readings at start-up: what the gauges should show, and how far off may still be right.
 *
 * Expected values come from the balance at the pick. How far they may be off is found by moving the
 * model: coil conductance and condenser 10 %, compressor flow 5 %, airflow 10 %, a piston's bore 2
 * %, subcooling 3 F, one at a time; half the spread of each, the instrument's own error, and where
 * the trade has a commissioning tolerance the larger of the two. Also the same readings on other
 * days. SI. */
#ifndef CLI_PAGE_READINGS_H
#define CLI_PAGE_READINGS_H

#include <stdbool.h>

#include "judge/sweep.h"
#include "show/quantity.h"

typedef enum {
    READ_SUCTION_PRESSURE, /* Pa above barometric */
    READ_SUCTION,          /* K, saturated suction at the outdoor unit */
    READ_SUPERHEAT,        /* K, there */
    READ_SUPERHEAT_COIL,   /* K, at the coil's outlet */
    READ_LIQUID_PRESSURE,  /* Pa above barometric */
    READ_SUBCOOLING,       /* K */
    READ_SUPPLY,           /* K, dry bulb leaving the unit */
    READ_SUPPLY_WET,       /* K, wet bulb there */
    READ_SPLIT,            /* K, return less supply dry bulb */
    READ_STATIC,           /* Pa; NaN when the ducts are not known */
    READ_WATTS,            /* W, blower */
    READ_COUNT
} page_reading;

typedef struct {
    const char *name;
    quantity value, spread;  /* kinds of the value and of its tolerance */
    double instrument;       /* SI, absolute */
    double instrument_share; /* of the value */
    double floor;            /* SI, tolerance is never said to be smaller */
} page_reading_row;

const page_reading_row *page_reading_of(page_reading r);

enum { PAGE_DAYS = 4 };
typedef struct {
    double T_out; /* K */
    bool has;     /* balances that day */
    double v[READ_COUNT];
} page_day;

typedef struct {
    bool has;                                    /* the point balances */
    double v[READ_COUNT], tolerance[READ_COUNT]; /* NaN where not known */
    page_day day[PAGE_DAYS];
    bool has_wet_bulb;
    double T_return_wet;                   /* K */
    double suction_per_wet, split_per_wet; /* Pa, K per K of return wet bulb */
} page_readings;

void page_readings_work_out(ct_solver *solver, const ct_sweep_job *at, const ct_point *point,
                            bool metric, page_readings *out);

#endif
