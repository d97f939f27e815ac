/* Ways: what replaces a load calculation and a measured airflow.
 *
 * Filled by the reader of cases, used up by study/ways.h, which finds load and airflow from it. SI;
 * airflow at the air's own density. Public. */
#ifndef CT_CASE_WAYS_H
#define CT_CASE_WAYS_H

#include <stdbool.h>

#include "case/value.h"
#include "part/blower.h"
#include "part/drop_curve.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The coil the system had while it was watched. */
typedef enum { CT_COIL_MATCHED, CT_COIL_THIS } ct_watched_coil;

/* How long the system ran at some outdoor temperature, over hours and whole cycles. */
typedef struct {
    bool has;
    double on;            /* s of each hour, 60 to 3600 */
    double T_out;         /* K */
    ct_maybe T_in, rh_in; /* K, 0..1 indoors then; absent: those of the case */
    ct_maybe V;           /* m3/s it moved; absent: that of the ducts, or the rated one */
    ct_watched_coil coil;
} ct_run_time;

typedef enum { CT_CLIMATE_HUMID, CT_CLIMATE_MODERATE, CT_CLIMATE_DRY } ct_climate;
typedef enum { CT_INSULATION_GOOD, CT_INSULATION_USUAL, CT_INSULATION_POOR } ct_insulation;

typedef struct {
    ct_run_time run_time;
    ct_maybe floor_area; /* m2 cooled */
    ct_climate climate;
    ct_insulation insulation;
} ct_load_ways;

/* Air warmed by a heat that is known. Of power, volts and amps, output, input and efficiency what
 * was given; none of them: the strips or the furnace of the case. */
typedef struct {
    bool has;
    double dT;                     /* K, supply less return */
    ct_maybe P, volts, amps;       /* W, V, A: electric heat */
    ct_maybe Q, input, efficiency; /* W, W, 0..1: a furnace */
    double T_return;               /* K */
    double P_blower;               /* W that also warm the air between the probes */
} ct_heat_rise;

/* What the running system takes out of the air, against what the model says it does. */
typedef struct {
    bool has;
    double T_return, T_wb_return, T_supply, T_wb_supply; /* K */
    ct_maybe T_out;                                      /* K; absent: the design day's */
    ct_watched_coil coil;
} ct_cooling_split;

/* A filter or a dry coil with a table, and its drop as read. */
typedef struct {
    bool has;
    double dp; /* Pa */
    int n;
    ct_drop_point point[CT_MAX_DROP_POINTS];
} ct_part_drop;

typedef struct {
    char tap[CT_NAME_SIZE]; /* of indoor[0]'s blower, that moved the air when the static was read */
    int n_table;            /* points of the tap of a blower that goes away */
    ct_drop_point table[CT_MAX_DROP_POINTS];
    ct_heat_rise rise;
    ct_cooling_split split;
    ct_part_drop part;
    ct_maybe dp_return, dp_supply, dp_filter; /* Pa, parts of the static */
} ct_airflow_ways;

#ifdef __cplusplus
}
#endif
#endif
