/* Sheet: a calculation set out so that an apprentice can follow it with a pocket calculator.
 *
 * Sections of sentences, given values and sums. A sum is printed as a formula in words or symbols,
 * then with its numbers, then its result. The result is the model's own, rounded; each number in
 * the sum gets as many decimals as it takes for the printed sum to give the printed result, which
 * is checked by working out the printed text (arithmetic.h). */
#ifndef CLI_SHOW_SHEET_H
#define CLI_SHOW_SHEET_H

#include <stdbool.h>
#include <stdio.h>

/* What a number is. Units are chosen so that heat is flow times enthalpy, and conductance times
 * temperature difference, without a factor: Btu/h, lb/h and F, or kW, kg/s and K. */
typedef enum {
    M_NUMBER,
    M_PERCENT,       /* from a share */
    M_TEMPERATURE,   /* K */
    M_DIFFERENCE,    /* K */
    M_HEAT,          /* W */
    M_ELECTRIC,      /* W */
    M_MASS_FLOW,     /* kg/s */
    M_WATER,         /* kg/s */
    M_AIR_ENTHALPY,  /* J/kg dry air; inch-pound counts from 0 F */
    M_ENTHALPY,      /* J/kg, refrigerant */
    M_MOISTURE,      /* kg/kg */
    M_PRESSURE,      /* Pa absolute */
    M_VAPOR,         /* Pa, of water vapor in air: finer */
    M_STATIC,        /* Pa */
    M_VOLUME,        /* m3/kg */
    M_DENSITY,       /* kg/m3 */
    M_AIRFLOW,       /* m3/s */
    M_PER_TON,       /* m3/s per ton */
    M_DISPLACEMENT,  /* m3/s swept by the compressor */
    M_CONDUCTANCE,   /* W/K */
    M_HEAT_CAPACITY, /* J/kg K */
    M_VELOCITY,      /* m/s */
    M_EER,           /* W/W */
    M_COUNT_
} measure;

typedef struct sheet sheet;

sheet *sheet_new(const char *title, bool metric); /* NULL: no memory */
void sheet_free(sheet *);
bool sheet_metric(const sheet *);

/* A number in a sum. */
typedef struct {
    double v; /* as shown */
    int decimals;
    bool literal; /* a constant: no zeros after its own decimals */
} term;

term sheet_term(const sheet *, measure m, double si);
/* One constant in inch-pound and another in metric. */
term sheet_constant(const sheet *, double inch_pound, double metric, int decimals);

void sheet_section(sheet *, const char *heading);
/* The same with the next number before it, "3  THE COIL". */
void sheet_numbered(sheet *, const char *heading);
/* Which stage of two all of it is for, as JSON has it: "high". Borrowed. */
void sheet_stage(sheet *, const char *stage);
void sheet_say(sheet *, const char *format, ...) __attribute__((format(printf, 2, 3)));
void sheet_given(sheet *, const char *name, const char *label, measure m, double si);

/* What a sum gives. */
typedef struct {
    const char *name, *label; /* of the JSON; for people */
    const char *formula;      /* in words or symbols */
    measure m;
    double si; /* the model's own value */
} sum_of;

/* `pattern` has a '#' for each term: "# x (# - #)". */
void sheet_sum(sheet *, const sum_of *, const char *pattern, const term *terms);

/* A value with its unit, for a sentence; lives until eight more have been asked for. */
const char *sheet_show(const sheet *, measure m, double si);

/* Writes the text or the JSON. False: the message is out (a sum that its own printed numbers do not
 * give, no memory); nothing has then been written. */
bool sheet_write(const sheet *, FILE *out, bool json);

#endif
