/* Tune: after the visit, the model corrects itself from readings, says how far to trust it, and
 * names what is wrong.
 *
 * The model came from a nameplate; the system on the wall differs. Readings on the running system
 * tell by how much: five multipliers (coil, compressor flow, its watts, condenser, airflow; a
 * piston's flow too) are moved as little as the readings ask for. Each begins at 1 with a stated
 * doubt (the prior), so few readings change little and say so; many readings narrow the doubt.
 *
 * Two questions are kept apart. Is something wrong with the equipment? Do the readings contradict
 * each other? A sound system, each fault of the equipment, another tap and a shift of each
 * instrument are explanations that compete: each has its own prior (a dirty condenser: condenser
 * about 0.7), and what the readings say for each is weighed (Bayes factors by Laplace's
 * approximation: Kass & Raftery 1995, J. Am. Stat. Assoc. 90:773-795). The likeliest one is fitted
 * and gives the multipliers. Readings contradict each other only when no system whatever explains
 * them: when they do not fit with every multiplier, charge and superheat set free.
 *
 * Method. Regularised non-linear least squares (Gaussian priors, maximum a posteriori; Tarantola
 * 2005, Inverse Problem Theory, ch. 3) by GSL's trust-region Levenberg-Marquardt, each evaluation
 * being a balance at the conditions read. Conditions that are read with an error themselves (return
 * air, outdoor air), superheat and subcooling are unknowns too, so that their errors count
 * (errors in variables). Covariance (J'J)^-1 with the priors as rows of J. The model's own doubt
 * counts beside that of each instrument (ct_tune_doubt). SI. Public. */
#ifndef CT_STUDY_TUNE_H
#define CT_STUDY_TUNE_H

#include "base/status.h"
#include "case/case.h"
#include "case/readings.h"
#include "plant/setup.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    CT_TUNE_COIL,      /* multipliers on the model from the nameplate */
    CT_TUNE_FLOW,      /* compressor's flow, its watts with it */
    CT_TUNE_POWER,     /* compressor's watts per flow */
    CT_TUNE_CONDENSER, /* */
    CT_TUNE_AIRFLOW,   /* over what the tap's table gives; without a tap over V_without_tap */
    CT_TUNE_PISTON,    /* flow of a piston over its correlation's; not with a valve */
    CT_TUNE_MULTIPLIERS,
    CT_TUNE_RETURN_T = CT_TUNE_MULTIPLIERS, /* K */
    CT_TUNE_RETURN_MOISTURE,                /* K wet bulb when that was read, else 0..1 RH */
    CT_TUNE_OUTDOOR_T,                      /* K */
    CT_TUNE_SUBCOOLING,                     /* K, at the condenser */
    CT_TUNE_SUPERHEAT,                      /* K, at the coil outlet; valve only */
    CT_TUNE_COUNT
} ct_tune_unknown;

CT_API const char *ct_tune_name(ct_tune_unknown); /* "coil conductance"; never NULL */

/* Standard deviations of the priors of a sound system; of the logarithm for multipliers. Common
 * practice and judgment, no source, where none is named: coil data by relative size are good to
 * some 15 %, condensers with unknown dirt 10 %, compressors of one nameplate 5 %. */
#define CT_TUNE_SIGMA_COIL 0.15
#define CT_TUNE_SIGMA_FLOW 0.05
#define CT_TUNE_SIGMA_POWER 0.05
#define CT_TUNE_SIGMA_CONDENSER 0.10
/* 27 systems in the field moved 130 to 510 cfm per ton, 320 in the mean (Parker et al. 1997,
 * FSEC-PF-321-97, abstract); those with a fault to be named are among them. */
#define CT_TUNE_SIGMA_AIRFLOW 0.20
/* Payne & O'Neal 2004: within 10 % against a real part. */
#define CT_TUNE_SIGMA_PISTON 0.10
/* What static says of the airflow, through the blower's table and through the ducts. Common
 * practice, no source. */
#define CT_TUNE_SIGMA_TABLE 0.07
#define CT_TUNE_SIGMA_DUCTS 0.10
#define CT_TUNE_SIGMA_WATTS 0.08 /* blower watts of the table */
/* What was not read is the case's, with this doubt: K, RH, K. */
#define CT_TUNE_SIGMA_RETURN_T (5.0 / 1.8)
#define CT_TUNE_SIGMA_RETURN_RH 0.10
#define CT_TUNE_SIGMA_OUTDOOR_T (10.0 / 1.8)
/* Charge and valve against their targets, K: nearly all sound systems within 5 F. ANSI/ACCA 5 lets
 * superheat be 5 F and subcooling 3 F off (from memory, unconfirmed). */
#define CT_TUNE_SIGMA_SUBCOOLING 1.5
#define CT_TUNE_SIGMA_SUPERHEAT 1.5

/* How far two models of one nameplate part in what an instrument shows, standard deviation, SI;
 * `v` is the reading. Found with a second model (tests/tune_table.c). 0 for the conditions, which
 * no model predicts. */
CT_API double ct_tune_doubt(ct_reading_kind, double v);

typedef struct {
    bool fitted;           /* an unknown of this system */
    bool read;             /* its prior is a reading */
    double prior, u_prior; /* multipliers: 1 and the standard deviation of the logarithm */
    double value, u;       /* standard uncertainty (68 %), of the logarithm for multipliers */
    double low, high;      /* 95 % */
    double narrowed;       /* 1 - u/u_prior: 0 nothing learned, 1 all */
} ct_tune_value;

typedef struct {
    ct_reading_kind kind;
    bool used;        /* false: says nothing here (static on a constant-airflow motor, ...) */
    double given, u;  /* SI; of a static, u holds the doubt in the blower's table too
                       */
    double predicted; /* SI, by the tuned model */
    double z;         /* given less what all other readings predict, over the standard deviation
                         of that difference */
    double chance;    /* 0..1 that it is off by more than its doubt */
    double shift;     /* then by so much, SI; NaN when not worked out */
} ct_tune_reading;

/* What no system can give; found before any fit, from the readings alone, beyond two standard
 * uncertainties of the difference (return wet bulb: at all, for saturated return air has no model).
 */
typedef enum {
    CT_IMPOSSIBLE_RETURN_WET_BULB = 0, /* wet bulb above dry bulb */
    CT_IMPOSSIBLE_SUPPLY_WET_BULB,
    CT_IMPOSSIBLE_MOISTURE,   /* supply holds more moisture than return */
    CT_IMPOSSIBLE_WARMER,     /* supply warmer than return */
    CT_IMPOSSIBLE_PRESSURES,  /* suction pressure not below liquid pressure */
    CT_IMPOSSIBLE_SUCTION,    /* suction line colder than its saturation */
    CT_IMPOSSIBLE_LIQUID,     /* liquid line warmer than its saturation */
    CT_IMPOSSIBLE_SUBCOOLED,  /* liquid line colder than the outdoor air */
    CT_IMPOSSIBLE_CONDENSING, /* condensing below the outdoor air */
    CT_IMPOSSIBLE_BOILING,    /* suction saturation above the return air */
    CT_IMPOSSIBLE_COUNT
} ct_impossible;

typedef struct {
    bool found;
    double by; /* standard uncertainties past the possible */
} ct_tune_impossible;

CT_API const char *ct_impossible_text(ct_impossible); /* one clause; never NULL */

/* Heat by the air against heat by the refrigerant, both at the coil, straight from the readings
 * with the untuned compressor and the airflow read or of the tap (of the other one, where that
 * explains the readings). Their uncertainties hold the readings', the airflow's and the
 * compressor's. */
typedef struct {
    bool has;            /* return and supply air, suction and liquid readings are all there */
    double Q_air, u_air; /* W */
    double Q_ref, u_ref; /* W */
    double share;        /* (Q_air - Q_ref)/Q_ref */
    double z;            /* their difference over its standard uncertainty */
    bool off;            /* |z| above 2.58 (1 honest visit in 100), or above 1.96 with a share past
                            a third */
} ct_tune_heat;

/* What may be wrong. Thresholds and priors: tune_suppose.c. */
typedef enum {
    CT_CAUSE_LOW_AIRFLOW = 0, /* the readings do not show why */
    CT_CAUSE_RESTRICTED,      /* static high for the airflow: filter, coil face, ducts */
    CT_CAUSE_BLOWER,          /* static low with it: blower weak */
    CT_CAUSE_TAP,             /* it runs on another tap */
    CT_CAUSE_COIL,            /* dirty, undersized, badly fed */
    CT_CAUSE_CONDENSER,       /* dirty, recirculating */
    CT_CAUSE_COMPRESSOR,      /* worn, leaking valves */
    CT_CAUSE_LOW_CHARGE,
    CT_CAUSE_OVERCHARGE,
    CT_CAUSE_STARVED, /* the metering device passes too little */
    CT_CAUSE_FLOODED, /* it passes too much */
    CT_CAUSE_READING, /* an instrument is off */
    CT_CAUSE_COUNT
} ct_cause;

CT_API const char *ct_cause_name(ct_cause); /* "low_charge"; never NULL */

typedef struct {
    ct_cause cause;
    ct_reading_kind kind; /* CT_CAUSE_READING: which */
    int tap;              /* CT_CAUSE_TAP: which */
    double chance;        /* 0..1 */
    bool is_multiplier;   /* size is one, and u relative; else K of subcooling or superheat, or the
                             shift of the reading in SI */
    double size, u;
} ct_tune_explanation;

/* The textbook signs: read against what the nameplate's model expects in this weather. */
typedef enum {
    CT_SIGN_SUPERHEAT = 0, /* K, at the outdoor unit */
    CT_SIGN_SUBCOOLING,    /* K */
    CT_SIGN_SUCTION,       /* K, saturated suction */
    CT_SIGN_DISCHARGE,     /* K, saturated at the liquid pressure */
    CT_SIGN_SPLIT,         /* K, return less supply dry bulb */
    CT_SIGN_COUNT
} ct_sign;

typedef struct {
    bool has;
    double read, expected; /* K */
    double u;              /* K, of the difference */
    int way;               /* -1 low, 0 as expected, +1 high: beyond 2 u */
} ct_tune_sign;

/* A valve's superheat against its setting. */
typedef struct {
    bool has;
    double read, wanted, u; /* K at the coil outlet, of the reading and of the setting together */
    bool low, high;         /* by 5 F and more, and by more than 2 u */
} ct_tune_valve;

/* Two probes or hoses exchanged. */
typedef struct {
    bool has;
    ct_reading_kind a, b;
    double chance; /* 0..1 that this is it, and not one instrument that is off; NaN: not known */
} ct_tune_swap;

/* A reading that would tell more: how far it would narrow the sensible capacity on this visit. */
typedef struct {
    ct_reading_kind kind;
    bool again; /* it was taken; once more, with another instrument */
    double u;   /* relative standard uncertainty of the capacity with it */
} ct_tune_next;

#define CT_TUNE_NEXT 3
#define CT_TUNE_EXPLANATIONS 48
#define CT_TUNE_P_LOW 0.05 /* p-value below which the readings do not fit one explanation */
#define CT_TUNE_P_ODD 0.01 /* ... and do not fit any system */
#define CT_TUNE_LIKELY 0.5 /* an explanation replaces the sound system where that is less likely */
/* Causes are named from this share of the chance of a sound system on, or where a valve is off by
 * more than is allowed: then some 4 of 100 sound systems get one (tests/tune_table.c). */
#define CT_TUNE_NAMED 0.50

typedef struct {
    /* false: the set is impossible; only impossible, swap, heat, and the instruments among the
     * explanations are filled, with their part of cause; where no fit was reached, what superheat
     * and subcooling say of the charge */
    bool fitted;
    ct_tune_impossible impossible[CT_IMPOSSIBLE_COUNT];
    int n_impossible;
    ct_tune_swap swap; /* exchanging these two makes an impossible set possible */
    ct_tune_heat heat;
    ct_tune_valve valve;
    ct_tune_sign sign[CT_SIGN_COUNT];

    double sound;                 /* 0..1 that nothing of the following is wrong */
    double cause[CT_CAUSE_COUNT]; /* 0..1, over all taps or readings */
    bool wrong;                   /* something is: causes are named */
    /* Likeliest first, but see alike; without the sound system. Of readings that do not agree the
     * instruments only, as if one of them were off. */
    int n_explanations;
    ct_tune_explanation explanation[CT_TUNE_EXPLANATIONS];
    /* The first two give the same readings, or nearly: a check tells which. Flood-back is put
     * before the instrument that makes it seem so. */
    bool alike;
    /* Whose the multipliers below are: 1, the likeliest explanation's; 0, a sound system's; -1,
     * those of a system free in everything, for no single cause explains it. */
    int explained;
    /* charge or metering is likely wrong: tuning has no coil multiplier, and where no single cause
     * explains the readings only the airflow's */
    bool charge_first;

    ct_tune_value value[CT_TUNE_COUNT];
    int n;                                     /* readings given */
    ct_tune_reading reading[CT_READING_COUNT]; /* the first n */
    double chi2;                               /* at the optimum, priors included */
    int dof;                                   /* rows compared */
    double p;                                  /* of a chi2 as high; NaN when dof is 0 */
    double p_sound;                            /* the same if nothing is wrong */
    bool fits;                                 /* p not below CT_TUNE_P_LOW */
    double p_agree; /* of the readings against each other, the equipment free; NaN when they cannot
                       be checked */
    bool agree;     /* p_agree not below CT_TUNE_P_ODD */
    /* From the level point of the fit, in standard uncertainties: about 0, more where the model
     * has a kink (a piston that begins to flood). */
    double away;
    /* relative standard uncertainty of the sensible capacity on this visit; 0 when not worked
     * out */
    double u_capacity;
    /* W, net sensible of the nameplate's model at the conditions as read; 0 when it does not settle
     * there */
    double Q_sens_plate;
    int n_next;
    ct_tune_next next[CT_TUNE_NEXT]; /* what would narrow it most, first */
    int iterations, evaluations;     /* of the fit; balances solved in all */
    int tap;                         /* index in the case's blower, -1 not given */
    double V_without_tap;            /* m3/s of standard air the airflow is compared with then */
    double V_without_tap_per_ton;    /* of the stage that ran */
    bool as_picked;                  /* that is what the sweep picks, else the rated one */
    double V;                        /* m3/s at the blower, tuned */
    ct_balance balance;              /* tuned, at the conditions of the visit */
    ct_tuning tuning; /* for the case; airflow absent without a tap, the coil while the charge
                                    is wrong */
} ct_tune;

/* Is something said of this unknown? Nothing of the coil while charge, metering or the superheat
 * read is in doubt, and nothing of any part the refrigerant passes where no single cause explains
 * the readings besides. */
CT_API bool ct_tune_value_told(const ct_tune *, int unknown);

/* The tap that explains the readings, where it is not the one given: airflow's multiplier and the
 * heat by the air are then over its airflow. Index in the case's blower; -1: none. */
CT_API int ct_tune_runs_on(const ct_tune *);

/* Tunes indoor[0] of the case, whatever the setup's unit. Multipliers already in the case are left
 * aside: the answer replaces them. CT_INPUT: a reading that is no number or has no uncertainty
 * above 0, an unknown tap, none at all. Impossible sets are CT_OK with fitted false. CT_NO_CONV: no
 * optimum was reached. CT_RANGE or CT_NO_ROOT: the nameplate's model does not settle at these
 * conditions. *out untouched then. */
CT_API ct_status ct_tune_run(const ct_setup *, const ct_readings *, ct_tune *out, ct_fault *);

typedef struct {
    double doubt; /* share of ct_tune_doubt that counts, 1; 0 takes the model for exact */
    bool plain;   /* fit the sound system only, and weigh no causes */
} ct_tune_how;

/* The same otherwise. */
CT_API ct_status ct_tune_run_how(const ct_setup *, const ct_readings *, ct_tune_how, ct_tune *out,
                                 ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
