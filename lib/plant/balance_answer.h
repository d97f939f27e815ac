/* Balance, the answer: the conditions it is for, how the search ended, and everything that follows.
 * Where it comes from and what the words mean: plant/balance.h. SI. Public. */
#ifndef CT_PLANT_BALANCE_ANSWER_H
#define CT_PLANT_BALANCE_ANSWER_H

#include <stdbool.h>

#include "base/status.h"
#include "fluid/air.h"

#ifdef __cplusplus
extern "C" {
#endif

#define CT_BALANCE_TOL 1e-9 /* of both residuals */

typedef struct {
    ct_air in;       /* return air; its pressure is the outdoor air's too */
    double T_out;    /* K, outdoor dry bulb, 255 to 330 */
    double m_da;     /* kg/s dry air */
    double P_blower; /* W, blower input, all of it heat in the air */
} ct_conditions;

typedef enum {
    CT_BALANCED = 0,
    CT_NO_BALANCE,     /* no suction temperature in range balances */
    CT_JUMPED,         /* the residual steps across zero: not a balance */
    CT_UNCONVERGED,    /* round limit */
    CT_NOT_COMPUTABLE, /* a table or component ran out of range at the answer */
    CT_HEAD_TOO_HIGH,  /* condensing temperature beyond the refrigerant's table */
    CT_HEAD_TOO_LOW,   /* outdoors so cold that discharge meets suction */
    CT_FLOODED_OUT,    /* orifice so large that the suction would be mostly liquid */
    CT_STARVED_OUT,    /* orifice so small that no superheat up to 60 K makes the flows meet */
    CT_SUPERHEAT_LOST  /* the coil cannot make the superheat asked for */
} ct_outcome;

CT_API const char *ct_outcome_text(ct_outcome);

/* How the three residuals of a piston's balance go with discharge, suction and subcooling, 1/K,
 * roughly: rows high side, low side and charge. All 0: not known; with the subcooling held its row
 * and column are. */
typedef struct {
    double by[3][3];
} ct_slopes;

typedef struct {
    ct_outcome outcome;
    int evaluations;      /* coil evaluations */
    double residual_low;  /* (coil heat - refrigerant heat)/refrigerant heat */
    double residual_high; /* (condenser heat - heat to shed)/heat to shed */
    double slope;         /* 1/K, of residual_low over Te, roughly: for a search nearby */
    double slope_high;    /* 1/K, of residual_high over Tc, as roughly */
    double Tc_per_Te;     /* K/K, along which the high side was balanced */
    ct_slopes slopes;     /* with a piston */

    double Te, Tc;                 /* K, saturated suction and discharge (dew) */
    double T_coil;                 /* K, dew temperature at the coil outlet */
    double T_boil;                 /* K, mean boiling temperature the air sees */
    double p_suction, p_discharge; /* Pa absolute */
    double T_bubble;               /* K, bubble temperature at the discharge pressure */
    double m_r;                    /* kg/s refrigerant */
    double superheat;              /* K at the coil outlet; 0 when flooded */
    double quality_out;            /* at the coil outlet; 1 when superheated */
    double superheat_area;         /* share of the coil's area that superheats */
    double T_at_boil;              /* K, air that reaches the boiling tubes */
    bool vapor_wet;                /* superheated tubes condense water, too */
    double subcooling;             /* K */
    double charge_per_subcooling;  /* 1/K, where the charge stays, roughly: for a search nearby */
    int charge_beyond;             /* -1, +1: no subcooling holds so little, so much charge */
    double T_suction;              /* K, vapor temperature at the compressor */
    double P_compressor;           /* W */
    double Q_condenser;            /* W, shed outdoors by the condenser */
    double desuperheat_share;      /* of the condenser's face: vapor to dew */
    double subcool_share;          /* of the condenser's face: liquid below bubble */
    double Q_line;                 /* W, picked up by the suction line */

    ct_air in;                /* entering the coil (after the blower if before_coil) */
    ct_air out;               /* leaving the coil */
    ct_air supply;            /* leaving the unit */
    double Q, Q_sens, Q_lat;  /* W, gross */
    double Q_net, Q_sens_net; /* W, net of the blower's heat (latent is the same) */
    double water, h_water;    /* kg/s, W */
    double SHR, SHR_net;      /* gross and net */
    double dry_share;         /* of the coil's area, by its fin bases */
    double T_surface;         /* K, coldest surface (air outlet of the boiling share) */
    bool has_adp;             /* filled in where they are shown (ct_balance_find_adp) */
    double ADP, bypass;       /* K, - */
    bool fogged;              /* the mixed outlet was supersaturated */
    bool air_side_in_range;   /* the fin correlation is inside its range */
    double P_total;           /* W, compressor, blower and outdoor fan */
    double EER;               /* W/W, Q_net / P_total */
} ct_balance;

/* The apparatus dew point and the bypass factor of a balance; has_adp stays false where there are
 * none. Points of a sweep that people see have them, those of a near one (judge/sweep.h) do not. */
CT_API void ct_balance_find_adp(ct_balance *);

/* Where to begin; NULL for cold. A neighboring balance saves rounds; it cannot change the answer.
 * The slopes are those of a neighboring balance; 0: not known. */
typedef struct {
    double Te, Tc;                /* K */
    double slope;                 /* 1/K, of the low side's residual over Te */
    double slope_high;            /* 1/K, of the high side's over Tc */
    double Tc_per_Te;             /* K/K */
    double subcooling;            /* K, where the charge stays */
    double charge_per_subcooling; /* 1/K */
    ct_slopes slopes;             /* with a piston */
} ct_start;

static inline ct_start ct_balance_start(const ct_balance *b)
{
    const ct_start start = {b->Te,
                            b->Tc,
                            b->slope,
                            b->slope_high,
                            b->Tc_per_Te,
                            b->subcooling,
                            b->charge_per_subcooling,
                            b->slopes};

    return start;
}

/* On the line from `a` (t = 0) through `b` (1); the slopes are those of `a`. */
static inline ct_start ct_balance_along(const ct_start *a, const ct_start *b, double t)
{
    ct_start at = *a;

    at.Te += t * (b->Te - a->Te);
    at.Tc += t * (b->Tc - a->Tc);
    at.subcooling += t * (b->subcooling - a->subcooling);
    return at;
}

/* A slope foreseen, unless it is too far from the last one, by which it then stays. */
#define CT_SLOPE_CHANGE 1.5
static inline double ct_slope_within(double next, double last)
{
    const double ratio = next / last;

    return ratio < CT_SLOPE_CHANGE && ratio * CT_SLOPE_CHANGE > 1.0 ? next : last;
}

/* The next of evenly spaced numbers, from the last n (1 to CT_AHEAD_MOST), newest first: on the
 * polynomial through as many of them as follow one. */
#define CT_AHEAD_MOST 5
double ct_ahead(const double *last, int n);

/* So begins the next of a row of balances; its slopes are seen coming, too. */
ct_start ct_balance_ahead(const ct_start *last, int n);

/* One trial suction: what the outdoor unit would take from the coil there, and what the coil would
 * give. Where the two are equal is the balance; the curves of the two over Te are how one sees why
 * it lies where it does. */
typedef struct {
    double Te, Tc;       /* K, the suction tried and the discharge the condenser settles at */
    double T_coil;       /* K, dew temperature at the coil outlet: Te and the suction line's drop */
    double T_boil;       /* K, mean boiling temperature */
    double m_r;          /* kg/s the compressor moves */
    double P_compressor; /* W */
    double superheat;    /* K at the coil outlet, below 0 is wet (orifice only) */
    double Q_unit; /* W, refrigerant heat m_r (h_out - h_liquid): what the outdoor unit takes */
    bool coil_can; /* the coil can make the superheat here; else the following are NaN */
    double Q_coil; /* W, total heat the coil gives with m_r through its tubes */
    double Q_coil_sens; /* W */
    double T_surface;   /* K, coldest surface */
} ct_balance_trial;

#ifdef __cplusplus
}
#endif
#endif
