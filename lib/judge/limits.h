/* Limits: the one list of what a blower speed is judged by.
 *
 * A row names a limit to programs and to people, says in which unit its value and bound are,
 * how far short counts as one when two limits are compared, and what fixes it when every speed
 * fails. Deciding limits refuse a speed; advice is shown and refuses none. A new limit is a row
 * here, its physics in limits_check.c, its test and its line in the manual. Public. */
#ifndef CT_JUDGE_LIMITS_H
#define CT_JUDGE_LIMITS_H

#include <stdbool.h>

#include "base/status.h"
#include "base/units.h"

#ifdef __cplusplus
extern "C" {
#endif

/* X(enum, token, name, brief for a table of at most nine letters, title for the customer's page,
 *   what is measured, what bounds it, unit kind, scale, remedy)
 * scale: slack in SI that counts as one, 0 for the bound itself (loads, statics, speeds).
 * remedy: what fixes it by itself, of the list in remedy.h. */
/* clang-format off */
#define CT_DECIDING_LIMITS(X)                                                                      \
    X(BALANCE, "balance", "balance", "balance", "Equipment settles",                               \
      "", "", NONE, 0, NONE)                                                                       \
    X(SENSIBLE, "sensible_load", "sensible load", "sensible", "Cools the house",                   \
      "net sensible capacity", "the load needs", POWER, 0, NONE)                                   \
    X(FLOOR, "airflow_floor", "least airflow", "air floor", "Air the maker needs",                 \
      "airflow per ton", "the least allowed is", AIRFLOW_PER_TON, 0, MORE_AIR)                     \
    X(FROST, "frost", "frost", "frost", "No frost on the coil",                                    \
      "coldest coil surface", "frost and its guard need", TEMPERATURE, 10, MORE_AIR)               \
    X(SWEAT, "duct_sweating", "duct sweating", "sweat", "Ducts stay dry outside",                  \
      "duct jacket", "the dew point around it and its guard need", TEMPERATURE, 10, INSULATION)    \
    X(CARRYOVER, "carry_over", "moisture carry-over", "carryover", "Water stays on the coil",      \
      "air speed at the coil's face", "water stays on the coil up to", VELOCITY, 0, LARGER_FACE)   \
    X(STATIC, "external_static", "external static", "static", "Duct pressure",                     \
      "external static", "the blower's limit or table ends at", PRESSURE, 0, DUCTS)                \
    X(HEAD, "condensing", "condensing temperature", "head", "Condensing temperature",              \
      "condensing temperature", "the ceiling is", TEMPERATURE, 10, LESS_HEAD)                      \
    X(METER, "metering", "metering device", "metering", "Metering device copes",                   \
      "valve opening over its rated opening", "it works to", FRACTION, 0, METERING)                \
    X(HEAT, "heat_airflow", "electric heat airflow", "heat", "Air for electric heat",              \
      "airflow of the heating speed", "the heater needs", AIRFLOW, 0, HEAT_TAP)                    \
    X(FURNACE, "furnace_rise", "furnace temperature rise", "furnace", "Furnace temperature rise",  \
      "furnace temperature rise", "its range ends at", DELTA_T, 10, HEAT_TAP)                      \
    X(HEAT_HEAD, "heating_condensing", "heat pump's condensing temperature", "heat head",          \
      "Heat pump's pressure", "condensing temperature while it heats", "the ceiling is",           \
      TEMPERATURE, 10, HEAT_TAP)                                                                   \
    X(HUMIDITY, "settled_humidity", "settled humidity", "humidity", "Humidity",                    \
      "humidity the house settles at", "the ceiling is", FRACTION, 0, DEHUMIDIFIER)

#define CT_ADVISORY_LIMITS(X)                                                                      \
    X(LATENT, "latent_load", "latent load", "latent", "Carries the latent load",                   \
      "latent capacity", "the latent load is", POWER, 0, NONE)                                     \
    X(TOTAL, "total_load", "total load", "total", "Carries the total load",                        \
      "net total capacity", "the total load is", POWER, 0, NONE)

#define CT_LIMIT_ENUM(id, ...) CT_LIMIT_##id,
typedef enum {
    CT_DECIDING_LIMITS(CT_LIMIT_ENUM)
    CT_LIMIT_FIRST_ADVICE, /* rows before it decide */
    CT_LIMIT_BEFORE_ADVICE_ = CT_LIMIT_FIRST_ADVICE - 1,
    CT_ADVISORY_LIMITS(CT_LIMIT_ENUM)
    CT_LIMIT_COUNT
} ct_limit;
#undef CT_LIMIT_ENUM
/* clang-format on */

typedef struct {
    const char *token;    /* "sensible_load", for programs */
    const char *name;     /* "sensible load", for people */
    const char *brief;    /* "sensible" */
    const char *title;    /* "Cools the house" */
    const char *measured; /* "net sensible capacity": what the value is */
    const char *bound;    /* "the load needs": what the bound is */
    ct_unit_kind unit;    /* of value and bound */
    ct_unit_kind unit_slack;
    double scale; /* SI; 0: the bound itself */
} ct_limit_row;

/* Never NULL for a ct_limit below CT_LIMIT_COUNT. */
CT_API const ct_limit_row *ct_limit_of(ct_limit);

typedef enum { CT_NOT_JUDGED = 0, CT_PASSES, CT_FAILS } ct_verdict;

typedef struct {
    ct_verdict verdict;
    double value, bound; /* SI, in the unit of the limit */
    double slack;        /* >= 0 passes: value to bound, in the passing direction */
} ct_judgment;

/* How far short, on scales that can be compared: 0 when it does not fail, infinite for a point
 * without a balance. */
CT_API double ct_limit_shortfall(ct_limit, const ct_judgment *);

/* The deciding limit that is short by most; CT_LIMIT_BALANCE when none fails. `judged` holds
 * CT_LIMIT_COUNT judgments. */
CT_API ct_limit ct_limit_worst(const ct_judgment *judged);

/* Thresholds several places share. */

/* Where water freezes, K: coldest coil surface, guards, readings. */
#define CT_FROST_LINE 273.15

/* Superheat at the coil outlet below which a piston is near flooding, K (5 F, below which the trade
 * charges by weight and not by superheat; common practice, no source). */
#define CT_SUPERHEAT_LITTLE (5.0 / CT_F_PER_K)

/* Superheat of a piston above its target for the day, K, past which the coil's end is dry (10 F;
 * common practice, no source). */
#define CT_SUPERHEAT_OVER_TARGET (10.0 / CT_F_PER_K)

#ifdef __cplusplus
}
#endif
#endif
