/* Case: everything the technician knows before the visit, in SI. Public.
 *
 * One struct, filled by the loader (casefile.h) from a text file, or by a program. The loader marks
 * what was given and what was assumed. Nothing here computes; plant/setup.h
 * turns a case into equipment. Temperatures in K, temperature differences in K, Pa, W, m3/s, m, kg.
 * Airflow is at the air's own density unless the name says standard. */
#ifndef CT_CASE_CASE_H
#define CT_CASE_CASE_H

#include <stdbool.h>

#include "base/status.h"
#include "case/value.h"
#include "case/ways.h"
#include "part/blower.h"
#include "part/compressor.h"
#include "part/finside.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_TEXT_SIZE 256
#define CT_MAX_INDOOR 6 /* the unit in question and up to five others side by side */

#define CT_MAX_JOB_OPTIONS 6
#define CT_JOB_CURRENCY_SIZE 8

typedef struct {
    char name[CT_TEXT_SIZE];
    ct_maybe price; /* in the currency of the job */
} ct_job_option;

/* Free text for the job file. Data, never markup: writers escape it. */
typedef struct {
    char title[CT_TEXT_SIZE];
    char customer[CT_TEXT_SIZE];
    char address[CT_TEXT_SIZE];
    char technician[CT_TEXT_SIZE];
    char date[CT_TEXT_SIZE];
    char notes[CT_TEXT_SIZE];
    char contractor[CT_TEXT_SIZE];
    char license[CT_TEXT_SIZE];
    char currency[CT_JOB_CURRENCY_SIZE]; /* "" for none */
    int n_options;                       /* what the customer can choose from */
    ct_job_option option[CT_MAX_JOB_OPTIONS];
    bool signatures; /* lines for them on the customer's sheet */
    bool invented;   /* an example: no real house, person or product */
} ct_job;

/* Exactly one of rh, T_wb, T_dp is given. */
typedef struct {
    double T;      /* K, dry bulb */
    ct_maybe rh;   /* 0..1 */
    ct_maybe T_wb; /* K */
    ct_maybe T_dp; /* K */
} ct_air_reading;

typedef struct {
    double altitude;            /* m */
    ct_air_reading indoor;      /* return air */
    double T_outdoor;           /* K, dry bulb at the condenser */
    ct_maybe rh_outdoor;        /* 0..1, for infiltration and the humidity the house settles at */
    ct_air_reading around_duct; /* air around the supply ducts (attic, crawl space) */
    bool has_around_duct;
    ct_maybe T_humid;    /* K, dry bulb of the humid design condition ... */
    ct_maybe T_dp_humid; /* K, ... and its dew point: outdoors at the damp hour */
    double duct_R;       /* m2 K/W, insulation of the supply duct */
} ct_site;

typedef enum {
    CT_LOAD_SETTLED, /* the humidity the house settles at under that load */
    CT_LOAD_ENTERED  /* the return air of the case */
} ct_load_air;

typedef struct {
    double Q_sensible;         /* W, design sensible load */
    double Q_latent;           /* W, design latent load */
    double margin;             /* fraction added to the sensible load, 0..0.5 */
    ct_maybe infiltration;     /* m3/s outdoor air leaking in (not already in Q_latent) */
    ct_maybe rh_ceiling;       /* 0..1, highest humidity the customer accepts */
    double rh_floor;           /* 0..1, drier than this is advised against */
    ct_maybe T_balance;        /* K, outdoor temperature of zero sensible load */
    bool fan_on;               /* blower runs on between compressor cycles */
    ct_maybe fan_off_delay;    /* s, run-on after the compressor stops */
    ct_load_air judge_load_at; /* the air in which the sensible load must be carried */
    double humidity_load;      /* share of Q_sensible at which settled humidity is judged */
    ct_load_ways ways;         /* what may replace a load calculation */
    bool load_open;            /* Q_sensible is not entered and not found yet (study/ways.h) ... */
    bool latent_open;          /* ... nor Q_latent: until then both are a placeholder */
} ct_house;

enum {
    CT_ASSUMED_SHR = 1,
    CT_ASSUMED_SUCTION = 2,
    CT_ASSUMED_DISCHARGE = 4,
    CT_ASSUMED_EER = 8, /* only a SEER was given */
    CT_ASSUMED_SUBCOOLING = 16,
    CT_ASSUMED_LOW_EER = 32
};

/* A variable-speed unit is taken as its two stated steady points, full and minimum speed. */
typedef enum { CT_STAGES_ONE, CT_STAGES_TWO, CT_STAGES_VARIABLE } ct_stages;

/* Capacity of the low stage over that of the high one; beyond these it is a slip of the pen. */
#define CT_LOW_STAGE_LEAST 0.25
#define CT_LOW_STAGE_MOST 0.95

/* What is usual where nothing is stated, over the high stage: gross capacity and airflow are
 * averages of two-stage units (Cutler et al. 2013, NREL/TP-5500-56354), the efficiency is common
 * practice without a source. */
#define CT_LOW_STAGE_CAPACITY 0.72
#define CT_LOW_STAGE_AIRFLOW 0.86
#define CT_LOW_STAGE_EER 1.10

/* The low stage, rated as the high one is: A test, the same coil, the same condenser. */
typedef struct {
    bool has;
    double Q_net;    /* W, net total capacity */
    double EER;      /* W/W, with blower and outdoor fan */
    double V_std;    /* m3/s STANDARD air, indoor airflow at that rating */
    double P_blower; /* W, blower input counted in it */
    double P_fan;    /* W, outdoor fan */
} ct_low_stage_spec;

/* A unit that also heats; rated at 47 F outdoors and 70 F indoors. */
typedef enum { CT_HEAT_PUMP_USED, CT_HEAT_PUMP_UNUSED } ct_heat_pump_use;

typedef struct {
    bool has;
    ct_heat_pump_use use;          /* unused: `has` is false after reading */
    ct_maybe Q_net;                /* W, rated net heating capacity, blower heat included */
    ct_maybe COP;                  /* W/W there, blower and outdoor fan included; goes with Q_net */
    ct_maybe Q_net_cold, COP_cold; /* the same at 17 F outdoors, if rated there too */
    double V_std;                  /* m3/s STANDARD air, indoor airflow at that rating */
    double P_blower;               /* W, blower input counted in it */
    double subcooling;             /* K, leaving the indoor coil while it heats */
    double T_out_max;              /* K, warmest outdoors in which it heats */
    double T_in_max;               /* K, warmest return air then */
} ct_heat_pump_spec;

typedef struct {
    char refrigerant[CT_NAME_SIZE];
    double tons;              /* nominal tons (1 ton = 3516.85 W), for cfm per ton */
    double Q_net;             /* W, rated net total capacity, A test with the matched coil */
    double EER;               /* W/W, rated net capacity over total input at the A test */
    double V_rated_std;       /* m3/s STANDARD air, rated airflow */
    double P_blower_rated;    /* W, blower input at the rating */
    double P_fan;             /* W, outdoor fan */
    double SHR_rated;         /* gross sensible heat ratio at the A test */
    double T_suction_rated;   /* K, saturated suction at the A test */
    double T_discharge_rated; /* K, saturated discharge at the A test */
    double superheat_rated;   /* K, at the coil outlet */
    double subcooling;        /* K, leaving the condenser: the charge */
    double suction_drop;      /* K of saturation temperature lost in the suction line at rating */
    double suction_gain;      /* K, superheat gained in the suction line at the rating */
    ct_compressor_kind compressor;
    double map_m[10];     /* AHRI 540, lbm/h in F */
    double map_P[10];     /* AHRI 540, W in F */
    double map_superheat; /* K */
    ct_maybe SEER_label;  /* W/W, when the nameplate gave it instead of an EER */
    ct_maybe line_length; /* m, liquid line; none of the three: nothing is lost in it */
    ct_maybe line_od;     /* m, its outside diameter */
    ct_maybe line_lift;   /* m, metering device above the outdoor unit */
    double CD;            /* cyclic degradation coefficient of the seasonal formula, 0..0.5 */
    ct_maybe year;        /* when it was made */
    ct_heat_pump_spec heat_pump;
    ct_stages stages;      /* as the case says it; low.has is what counts */
    ct_low_stage_spec low; /* the rest of this struct is the high stage */
    unsigned assumed;      /* CT_ASSUMED_... bits: not stated, so plant/settle.h may move them */
} ct_outdoor_unit;

/* Ducts outside the cooled space; the air around them is site.around_duct. */
typedef struct {
    double A_supply, A_return;       /* m2 */
    double leak_supply, leak_return; /* share of the airflow, 0..0.5 */
    double regain;                   /* share of the loss the house gets back, 0..1 */
} ct_duct_losses;

typedef enum { CT_GROW_FACE, CT_GROW_DEPTH } ct_growth;

typedef struct {
    bool has_geometry;
    ct_coil_geometry geometry;
    double size;       /* relative to the matched coil; used when no geometry is given */
    ct_maybe tons;     /* tons of refrigeration it is sold for, as written; `size` follows */
    ct_maybe sizes_up; /* above the outdoor unit's in the row coils are sold in; `size` follows */
    ct_growth growth;  /* how it got bigger */
    ct_maybe circuits; /* parallel paths relative to the matched coil; default by growth */
    ct_maybe dp_wet;   /* Pa at V_dp: the coil's own wet air-side drop */
    ct_maybe V_dp;     /* m3/s */
    ct_maybe V_inside; /* m3, what its tubes hold */
    ct_maybe face;     /* m2, face area when no geometry is given: for the carry-over limit */
    ct_maybe p_design; /* Pa absolute, the coil's stated design (working) pressure */
    char refrigerant[CT_NAME_SIZE]; /* what the coil is made for, "" if not stated */
} ct_coil_spec;

typedef enum { CT_METER_VALVE, CT_METER_ORIFICE } ct_meter_kind;

typedef struct {
    ct_meter_kind kind;
    double superheat;               /* K at the coil outlet: the valve's setting */
    ct_maybe Q_rated;               /* W, valve's rated capacity */
    ct_maybe dp_rated;              /* Pa across the valve at its rating */
    char refrigerant[CT_NAME_SIZE]; /* the valve's own, "" if not stated */
    ct_maybe bore;                  /* m, orifice diameter */
    double length;                  /* m, orifice length */
    double dp_distributor;          /* Pa, distributor and nozzle */
} ct_meter_spec;

typedef struct {
    bool has;
    double width, depth, height; /* m, cabinet */
    int sections;                /* 1, or the number it splits into along its height */
    double section_height;       /* m, of the tallest section */
    bool upright_only;           /* may not be installed lying on its side */
    ct_maybe filter;             /* m, the filter's length as it is drawn out of the front */
    ct_maybe drain_outlet;       /* m, drain connection above the base, as installed */
} ct_cabinet;

#define CT_UNNAMED_UNIT "indoor unit" /* the name of one that was given none */

typedef struct {
    char name[CT_NAME_SIZE];
    ct_coil_spec coil;
    ct_meter_spec meter;
    ct_blower blower; /* n_taps 0: not known */
    ct_maybe
        dp_table_coil;     /* Pa, wet, at V_table_coil: of the other coil its table was made with */
    ct_maybe V_table_coil; /* m3/s */
    double P_blower_default;     /* W at the rated airflow when there are no taps */
    char heat_tap[CT_NAME_SIZE]; /* name of the tap that heats; "" when nobody said */
    ct_maybe V_heat;             /* m3/s its airflow, read in place */
    ct_cabinet cabinet;
    ct_maybe price;     /* currency units, as the user enters it */
    ct_maybe labor;     /* currency units, to install it */
    ct_maybe duct_work; /* currency units, duct and cabinet changes */
    ct_maybe EER_label; /* W/W, what its own sticker or listing claims */
} ct_indoor_unit;

typedef struct {
    double V_per_ton_min, V_per_ton_max; /* m3/s STANDARD air per nominal ton, sweep range */
    int points;                          /* 2..501 */
} ct_sweep_range;

typedef struct {
    double frost_guard;      /* K above 273.15 K the coldest surface must keep */
    double T_mild;           /* K, outdoors at the mildest hour it runs: for frost */
    double V_per_ton_floor;  /* m3/s STANDARD air per nominal ton, least airflow */
    double V_face_max;       /* m/s, moisture carry-over */
    double T_discharge_max;  /* K, saturated discharge */
    double sweat_guard;      /* K the duct jacket must stay above the dew point around it */
    ct_maybe V_heat_min;     /* m3/s, minimum airflow for electric heat */
    ct_maybe P_strip;        /* W, electric heat on this blower */
    double dT_strip_max;     /* K, rise through it at most */
    ct_maybe Q_furnace;      /* W, furnace output on this blower */
    ct_maybe dT_furnace_min; /* K, its temperature-rise range */
    ct_maybe dT_furnace_max; /* K */
} ct_limits;

#define CT_FIT_TOUCH 1e-9 /* m, rounding allowed before 'exactly as wide' is 'too wide' */
#define CT_MAX_OPENINGS 8

typedef enum { CT_OPEN_DOOR, CT_OPEN_HATCH, CT_OPEN_CORNER } ct_opening_kind;

/* One narrow place on the way in. A door, window or corridor is a hole in an upright plane, a hatch
 * a hole in a level one, a corner a right-angle turn of a corridor or stair. Clear sizes. */
typedef struct {
    ct_opening_kind kind;
    char name[CT_NAME_SIZE];
    double width;       /* m: door, hatch; corner: the corridor one comes from */
    double height;      /* m: door; corner: lowest ceiling in the turn */
    double length;      /* m, hatch: its other side */
    double width_after; /* m, corner: the corridor one goes into */
    double headroom;    /* m, hatch: lowest roof height over its top edge where the load swings */
    double frame;       /* m, hatch: depth of the framed shaft under its top edge, 0 if thin */
    ct_maybe run;       /* m, door: straight clear length behind it */
} ct_opening;

/* The space the unit goes into. Clearances belong to the unit's own sides and turn with
 * it. */
typedef struct {
    bool has;
    double width, depth, height; /* m, clear */
    double front, back;          /* m to be kept free before the unit's front and behind it */
    double left, right;          /* m */
    double above, below;         /* m at the two ends of its height: plenums, duct turns, base */
    ct_maybe drain_run;          /* m, length of the condensate line */
    double drain_end;            /* m, height of its far end above the base of the unit */
} ct_space;

/* A whole season's weather: the household, and how the house holds water. What is left out is the
 * keys' usual value, and matters only to the season. */
typedef struct {
    ct_maybe price;    /* currency of the job per kWh */
    double load_hours; /* h at the whole design load that the rating standard's bins stand for */
    double storage;    /* water the house takes up, over what its air alone would, 1..100 */
    ct_maybe A_floor;  /* m2 */
    ct_maybe Q_latent; /* W, moisture of the household on the average hour; else the design one */
} ct_season_spec;

/* What a blower with controls can do for humidity, and which of it is switched on. Usual field
 * settings where nothing is given; what is off matters only to study/switches.h. */
typedef struct {
    bool cut_when_damp;   /* the airflow is cut while the house is damp */
    bool slow_start;      /* and for a while after each start */
    double cut;           /* share taken off the airflow, on humidity and at a slow start */
    double rh_on, rh_off; /* 0..1, the cut sets in and ends */
    double overcool;      /* K below the set temperature allowed while it is damp */
    double start_time;    /* s of slow start */
} ct_fan_control;

/* How far off each input may be: one standard deviation, 0 for an input taken as exact. */
typedef struct {
    double load;          /* of 1: both design loads together, 0..0.4 */
    double capacity;      /* of 1: rated capacity, 0..0.2 */
    double EER;           /* of 1: rated efficiency, 0..0.2 */
    double SHR;           /* added to the rated sensible heat ratio, 0..0.1 */
    double duct_static;   /* of 1: the static measured, 0..0.2 */
    double rh_indoor;     /* added to the relative humidity of the return air, 0..0.1 */
    double T_outdoor;     /* K, 0..6 */
    double coil;          /* of 1: both conductances of the coil in question, 0..0.2 */
    double latent;        /* of 1: the latent load by itself, 0..0.4 */
    double humidity_load; /* added to the share of the damp hour, 0..0.2 */
    double W_outdoor;     /* of 1: moisture of the outdoor air, 0..0.3 */
    bool load_given, latent_given, static_given; /* stated, so that no finding may change them */
} ct_uncertainty;
/* What readings on the running system taught (tune.h): multipliers on the model from the nameplate,
 * absent where nothing is known. */
typedef struct {
    ct_maybe coil_conductance;      /* indoor coil: air and refrigerant side alike */
    ct_maybe compressor_flow;       /* its watts go with it */
    ct_maybe compressor_power;      /* watts per flow */
    ct_maybe condenser_conductance; /* eps C */
    ct_maybe airflow;               /* delivered by every tap, against the ducts of the case */
    char source[CT_TEXT_SIZE];      /* where they come from */
} ct_tuning;

typedef struct {
    ct_job job;
    ct_site site;
    ct_house house;
    ct_outdoor_unit outdoor;
    bool has_matched_geometry;
    ct_coil_geometry matched; /* the coil the outdoor unit was rated with */
    bool has_duct;
    ct_duct duct;                 /* dp, V, exponent, dp_coil_out; dp_coil_in is set later */
    ct_airflow_ways airflow_ways; /* what may replace duct.V */
    bool airflow_open; /* duct.V is not entered and not found yet (study/ways.h): a placeholder */
    bool has_losses;
    ct_duct_losses losses;
    int n_indoor; /* >= 1; indoor[0] is the unit in question */
    ct_indoor_unit indoor[CT_MAX_INDOOR];
    ct_sweep_range sweep;
    ct_limits limits;
    int n_openings;                      /* 0: the way in is not stated */
    ct_opening opening[CT_MAX_OPENINGS]; /* in the order they are met */
    ct_space space;
    ct_uncertainty uncertainty;
    ct_tuning tuning;
    ct_season_spec season;
    ct_fan_control control;
} ct_case;

#ifdef __cplusplus
}
#endif
#endif
