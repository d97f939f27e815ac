/* Point: one airflow, the balance there, and for each limit what it came to, what is allowed and
 * by how much it holds. SI; airflow as kg/s of dry air, as standard m3/s per nominal ton (0.075
 * lb/ft3) and as actual m3/s at the blower. Public. */
#ifndef CT_JUDGE_POINT_H
#define CT_JUDGE_POINT_H

#include "base/status.h"
#include "judge/humidity.h"
#include "judge/limits.h"
#include "plant/balance_answer.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    CT_METER_UNKNOWN = 0, /* a valve without rating: superheat taken as held */
    CT_METER_COPES,
    CT_METER_HUNTS,
    CT_METER_STARVES,
    CT_METER_FLOODS,
    CT_METER_NEARLY_FLOODS /* a piston with little superheat left: passes, but a hotter day floods
                              it */
} ct_meter_state;

#define CT_HUMIDITY_BAND 3
#define CT_HUMIDITY_BAND_SHARES                                                                    \
    {                                                                                              \
        0.4, 0.6, 0.8                                                                              \
    }

/* The searches of one point; each may begin where the same one ended at a neighbor. */
enum {
    CT_SEEN_DESIGN,
    CT_SEEN_WHOLE,
    CT_SEEN_DESIGN_RATED,
    CT_SEEN_MILD,
    CT_SEEN_ROOM,
    CT_SEEN_FAN_ON,
    CT_SEEN_RATED,
    CT_SEEN_COUNT
};

typedef struct {
    int tap;              /* index of the blower tap, -1 for a point of the airflow sweep */
    double V_std_per_ton; /* m3/s of standard air per nominal ton */
    double V_std;         /* m3/s of standard air */
    double V;             /* m3/s actual at the blower */
    double m_da;          /* kg/s */
    double P_blower;      /* W */
    bool has_dp;
    double dp;        /* Pa, external static */
    bool over_limit;  /* static beyond the blower's table or maximum */
    bool below_table; /* static below the tap's first point */
    ct_status status; /* CT_OK when balance holds */
    ct_balance balance;
    char why[200]; /* when it does not */
    ct_meter_state meter;
    double valve_share; /* valve: flow needed over flow at the rated opening; NaN if unknown */
    double T_jacket;    /* K, outside of the supply duct; NaN when the surroundings are unknown */
    double V_face;      /* m/s; NaN when the face is unknown */
    ct_judgment limit[CT_LIMIT_COUNT];
    bool passes;    /* no deciding limit fails */
    unsigned notes; /* ct_note bits, see notes.h: what goes beyond its data */
    bool has_design;
    ct_house_hour design; /* where the house settles on the design day, under its load and margin */
    bool has_mild;        /* the mildest hour it still runs, in the air of the design hour */
    double Te_mild, T_surface_mild; /* K, saturated suction and coldest surface then */
    bool has_hot;         /* a piston on a hotter day than the design day, where notes are wanted */
    double T_hot;         /* K, outdoors then */
    double superheat_hot; /* K at the coil outlet then, 0 when it floods */
    double Q_house;       /* W, net sensible that reaches the rooms at the return air entered */
    ct_duct_delivery ducts; /* all 1 without ducts outside */
    bool has_band;
    double rh_band[CT_HUMIDITY_BAND]; /* 0..1, settled at CT_HUMIDITY_BAND_SHARES of the load */
    bool has_room;
    ct_room_out room; /* where the house settles at the stated share of its sensible load */
    double slowed;    /* 0..1, share of that run at the airflow the controls cut to */
    bool has_room_fan_on;
    ct_room_out room_fan_on; /* the same were the blower left on all the time */
    ct_near seen[CT_SEEN_COUNT];
    double Q_load_max; /* W, largest sensible load this speed carries, margin taken off: in the air
                                it is judged in, running the whole hour */
} ct_point;

#ifdef __cplusplus
}
#endif
#endif
