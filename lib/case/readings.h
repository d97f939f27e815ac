/* Readings: what the instruments said on the running system, in SI. Public.
 *
 * A technician reads gauges, thermometers and a meter after the system has run for a quarter of an
 * hour; any part of the list will do. Each reading has a standard uncertainty: the band that holds
 * about two of three readings of that instrument, probe placement included. "54.2 F +/- 1 F" gives
 * it; else the usual one of that kind of instrument is taken (ct_reading_margin). An instrument
 * sheet's limit of error may be written as it is: it is wider, and the answer more careful. */
#ifndef CT_CASE_READINGS_H
#define CT_CASE_READINGS_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"
#include "case/case.h"
#include "case/key_row.h"
#include "case/report.h"
#include "case/value.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    CT_RETURN_DRY_BULB,     /* K */
    CT_RETURN_WET_BULB,     /* K; this or the next */
    CT_RETURN_RH,           /* 0..1 */
    CT_SUPPLY_DRY_BULB,     /* K, near the unit, after coil and blower */
    CT_SUPPLY_WET_BULB,     /* K; this or the next */
    CT_SUPPLY_RH,           /* 0..1 */
    CT_OUTDOOR_DRY_BULB,    /* K, air entering the condenser */
    CT_SUCTION_PRESSURE,    /* Pa gauge, at the outdoor unit */
    CT_SUCTION_TEMPERATURE, /* K, pipe, there */
    CT_LIQUID_PRESSURE,     /* Pa gauge, at the outdoor unit */
    CT_LIQUID_TEMPERATURE,  /* K, pipe, there */
    CT_STATIC,              /* Pa, external, total of supply and return */
    CT_AIRFLOW,             /* m3/s actual, at the blower */
    CT_COMPRESSOR_POWER,    /* W; this or the next */
    CT_OUTDOOR_POWER,       /* W, compressor and outdoor fan */
    CT_BLOWER_POWER,        /* W */
    CT_CONDENSER_LEAVING,   /* K, air that leaves the condenser */
    CT_CONDENSATE,          /* kg/s of water that drips from the coil */
    /* As a gauge or a technician puts it, in place of one of the above (study/visit_derive.h). */
    CT_SUCTION_SATURATION, /* K, dew; for the suction pressure */
    CT_SUPERHEAT,          /* K; for the suction line temperature */
    CT_LIQUID_SATURATION,  /* K, bubble; for the liquid pressure */
    CT_SUBCOOLING,         /* K; for the liquid line temperature */
    CT_SPLIT,              /* K, return less supply dry bulb; for the supply dry bulb */
    CT_OUTDOOR_AMPS,       /* A, these three for the outdoor unit's power, single-phase */
    CT_OUTDOOR_VOLTS,      /* V */
    CT_POWER_FACTOR,       /* 0..1; 0.95 when not read */
    CT_HEAT_POWER,         /* W of electric heat, with its rise for the airflow */
    CT_HEAT_RISE,          /* K */
    CT_CONDENSATE_WATER,   /* kg, with its time for the condensate */
    CT_CONDENSATE_TIME,    /* s */
    CT_READING_COUNT
} ct_reading_kind;

typedef enum { CT_RAN_HIGH, CT_RAN_LOW } ct_ran_stage;

typedef struct {
    ct_reading r[CT_READING_COUNT];
    ct_ran_stage stage;     /* of a two-stage unit; high if not given */
    char tap[CT_NAME_SIZE]; /* blower tap it ran on, "" if not given */
    char notes[CT_TEXT_SIZE];
} ct_readings;

/* "return air wet bulb"; never NULL. */
CT_API const char *ct_reading_name(ct_reading_kind);

/* Standard uncertainty taken when none is stated (common practice, no source): thermometers on air
 * 0.5 F, outdoor air 1 F (sun, recirculation), pipe clamps 1 F, wet bulb 1 F, relative humidity 3 %
 * of humidity, gauges 1 % of the reading and 1 psi together (root of squares), static 0.02 inwc,
 * measured airflow 7 %, clamp-meter watts 3 %, saturation temperatures 1 F, superheat and
 * subcooling 1.5 F, split 1 F, air leaving the condenser 2 F, amps 2 %, volts 1 %, power factor 3 %
 * of 1, heat of an electric heater 2 %, its rise 1 F, water in a vessel 4 %, its time 1 %. */
CT_API double ct_reading_margin(ct_reading_kind, double v);

/* Reads a file of readings: YAML, each value with its unit, as case files are. Results as
 * ct_casefile_load: CT_OK, *out filled, every u set; CT_INPUT, all faults by line in the report;
 * CT_SYSTEM. For host programs. */
CT_API ct_status ct_readings_load(const char *path, ct_readings *out, ct_case_report *report,
                                  ct_fault *fault);
CT_API ct_status ct_readings_parse(const char *text, size_t size, ct_readings *out,
                                   ct_case_report *report, ct_fault *fault);

/* One row of the table of keys, for help and manual. False past the end. */
CT_API bool ct_readings_key(int i, ct_key_row *row);

#ifdef __cplusplus
}
#endif
#endif
