/* Quantities: how a value in SI is shown to people and to programs.
 *
 * One table gives, for each kind of quantity, which units of units_shown.h a technician reads
 * (inch-pound or metric) and a program reads: `wet_bulb_f` or `wet_bulb_k`. Tables, JSON and CSV
 * use it, so that the same value never appears under two names. */
#ifndef CLI_SHOW_QUANTITY_H
#define CLI_SHOW_QUANTITY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include <jansson.h>

#include "base/units.h"

typedef enum {
    Q_PLAIN,           /* a number without a unit */
    Q_FRACTION,        /* 0..1; people see percent */
    Q_TEMPERATURE,     /* K */
    Q_DELTA_T,         /* K, a difference */
    Q_HEAT,            /* W of heat */
    Q_ELECTRIC,        /* W of electric input */
    Q_EER,             /* W/W */
    Q_PRESSURE,        /* Pa absolute */
    Q_PRESSURE_GAUGE,  /* Pa above the barometric pressure */
    Q_STATIC,          /* Pa, air-side pressure difference */
    Q_AIRFLOW,         /* m3/s */
    Q_AIRFLOW_PER_TON, /* m3/s per nominal ton */
    Q_VELOCITY,        /* m/s */
    Q_LENGTH,          /* m, large: altitude */
    Q_SIZE,            /* m, small: cabinets and openings */
    Q_ANGLE,           /* rad */
    Q_MOISTURE,        /* kg water per kg dry air */
    Q_WATER_RATE,      /* kg/s of water */
    Q_RUN,             /* 0..1 of an hour; people see min */
    Q_WATER_DAY,       /* kg of water per day */
    Q_BORE,            /* m, small: an orifice */
    Q_PRESSURE_DROP,   /* Pa, refrigerant side */
    Q_ENTHALPY_AIR,    /* J per kg dry air, zero at 0 C */
    Q_VOLUME,          /* m3 per kg dry air */
    Q_DENSITY,         /* kg/m3 */
    Q_COUNT_           /* number of quantities */
} quantity;

/* A row of units_shown.h, and decimals. */
typedef struct {
    const char *unit;   /* "Btu/h", for people; "" for none */
    const char *ending; /* "btuh", of a key for programs; "" for none */
    double factor;      /* shown = SI * factor + offset */
    double offset;
    int decimals; /* for people */
} quantity_form;

const quantity_form *quantity_for_people(quantity q, bool metric);
const quantity_form *quantity_for_programs(quantity q, bool si);
double quantity_show(const quantity_form *form, double v);

const char *quantity_ending(quantity q, bool si); /* "btuh" */

/* The quantity of an uncertain input: temperatures, differences and fractions. */
quantity quantity_of_kind(ct_unit_kind kind);

/* "wet_bulb" -> "wet_bulb_f"; cut to size. */
void quantity_key(char *key, size_t size, const char *name, quantity q, bool si);

/* A named value: a row of a table on the terminal and a pair in JSON. */
typedef struct {
    const char *name;  /* "wet_bulb" */
    const char *label; /* "Wet bulb" */
    quantity q;
    double v; /* SI */
} fact;

void quantity_facts_print(FILE *out, const fact *facts, int n, bool metric);

/* False: memory, or a value that is not finite (JSON has no such number). */
bool quantity_facts_put(json_t *object, const fact *facts, int n, bool si);
bool put_number(json_t *object, const char *name, quantity q, double v, bool si);

#endif
