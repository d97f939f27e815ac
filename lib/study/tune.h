/* Tune: after the visit, the model corrects itself from readings and tells how far to trust it.
 *
 * The model came from a nameplate; the system on the wall differs. Readings on the running system
 * tell by how much: five multipliers (coil, compressor flow, its watts, condenser, airflow) are
 * moved as little as the readings ask for. Each begins at 1 with a stated doubt (the prior), so few
 * readings change little and say so; many readings narrow the doubt. What no multiplier can explain
 * stays visible: readings that contradict the rest, heat on the air side that is missing on the
 * refrigerant side, sets of readings that no system can give. Causes are offered as hypotheses with
 * a probability, not as findings.
 *
 * Method. Regularised non-linear least squares (Gaussian priors, maximum a posteriori; Tarantola
 * 2005, Inverse Problem Theory, ch. 3) by GSL's trust-region Levenberg-Marquardt, each evaluation
 * being a balance at the conditions read. Conditions that are read with an error themselves (return
 * air, outdoor air), superheat and subcooling are unknowns too, so that their errors count
 * (errors in variables). Covariance (J'J)^-1 with the priors as rows of J. Superheat and subcooling
 * as read replace valve setting and charge. SI. Public. */
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
    CT_TUNE_AIRFLOW,   /* over what the tap's table gives; over the rated airflow without a tap */
    CT_TUNE_MULTIPLIERS,
    CT_TUNE_RETURN_T = CT_TUNE_MULTIPLIERS, /* K */
    CT_TUNE_RETURN_MOISTURE,                /* K wet bulb when that was read, else 0..1 RH */
    CT_TUNE_OUTDOOR_T,                      /* K */
    CT_TUNE_SUBCOOLING,                     /* K, at the condenser */
    CT_TUNE_SUPERHEAT,                      /* K, at the coil outlet; valve only */
    CT_TUNE_COUNT
} ct_tune_unknown;

CT_API const char *ct_tune_name(ct_tune_unknown); /* "coil conductance"; never NULL */

/* Standard deviations of the priors; of the logarithm for multipliers. Common practice and
 * judgement, no source: coil data by relative size are good to some 15 %, condensers with unknown
 * dirt 10 %, compressors of one nameplate 5 %, airflow from a tap table and one duct point 10 %. */
#define CT_TUNE_SIGMA_COIL 0.15
#define CT_TUNE_SIGMA_FLOW 0.05
#define CT_TUNE_SIGMA_POWER 0.05
#define CT_TUNE_SIGMA_CONDENSER 0.10
#define CT_TUNE_SIGMA_AIRFLOW 0.10
#define CT_TUNE_SIGMA_AIRFLOW_NO_TAP 0.20 /* rated airflow, tap not stated */
#define CT_TUNE_SIGMA_TABLE 0.05          /* blower table, when static is turned into airflow */
/* What was not read is the case's, with this doubt: K, RH, K, K, K. */
#define CT_TUNE_SIGMA_RETURN_T (5.0 / 1.8)
#define CT_TUNE_SIGMA_RETURN_RH 0.10
#define CT_TUNE_SIGMA_OUTDOOR_T (10.0 / 1.8)
#define CT_TUNE_SIGMA_SUBCOOLING 3.0
#define CT_TUNE_SIGMA_SUPERHEAT 2.0
/* Read by pressure and temperature, they replace setting and charge: the prior is only a fence. */
#define CT_TUNE_SIGMA_FREE 15.0

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
    bool used;        /* false: tells nothing here (static on a constant-airflow motor, ...) */
    double given, u;  /* SI; of a static, u holds the doubt in the blower's table too
                       */
    double predicted; /* SI, by the tuned model */
    double z;         /* given less what all other readings predict, over the standard deviation
                         of that difference */
    double p_without; /* p-value of the rest when this reading is left out; NaN when not tried */
    bool suspect;     /* with it the set does not fit, without it the rest does */
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
 * with the untuned compressor and the airflow read or of the tap. Their uncertainties hold the
 * readings', the airflow's and the compressor's. */
typedef struct {
    bool has;            /* return and supply air, suction and liquid readings are all there */
    double Q_air, u_air; /* W */
    double Q_ref, u_ref; /* W */
    double share;        /* (Q_air - Q_ref)/Q_ref */
    double z;            /* their difference over its standard uncertainty */
    bool off;            /* |z| above 2.58 (1 honest visit in 100), or above 1.96 with a share past
                            a third */
} ct_tune_heat;

/* Causes worth a look, with the probability that the sign of it is really there, given readings and
 * priors. The first four rest on multipliers and stay 0 while the readings do not fit together.
 * Thresholds in tune.c; common practice, no source. */
typedef enum {
    CT_CAUSE_LOW_AIRFLOW = 0, /* airflow below 0.9 */
    CT_CAUSE_COIL,            /* coil below 0.85: dirty, undersized, badly fed */
    CT_CAUSE_CONDENSER,       /* condenser below 0.9: dirty, recirculating, overcharged */
    CT_CAUSE_COMPRESSOR,      /* compressor flow below 0.93: worn, leaking valves */
    CT_CAUSE_LOW_CHARGE,      /* subcooling below 5 F and superheat not low */
    CT_CAUSE_OVERCHARGE,      /* subcooling above 18 F */
    CT_CAUSE_STARVED,         /* superheat above 25 F at the compressor with subcooling not low */
    CT_CAUSE_FLOODED,         /* superheat below 2 F at the compressor */
    CT_CAUSE_COUNT
} ct_cause;

#define CT_TUNE_P_LOW 0.05 /* p-value below which the readings as a set do not fit */

typedef struct {
    bool fitted; /* false: the set is impossible; only impossible, heat and causes of
                    superheat and subcooling are filled */
    ct_tune_impossible impossible[CT_IMPOSSIBLE_COUNT];
    int n_impossible;
    ct_tune_heat heat;
    double cause[CT_CAUSE_COUNT]; /* 0..1 */

    ct_tune_value value[CT_TUNE_COUNT];
    int n;                                     /* readings given */
    ct_tune_reading reading[CT_READING_COUNT]; /* the first n */
    double chi2;                               /* at the optimum, priors included */
    int dof;                                   /* readings less free unknowns */
    double p;                                  /* of a chi2 as high; NaN when dof is 0 */
    bool fits;                                 /* p not below CT_TUNE_P_LOW */
    double away; /* from the level point of the fit, in standard uncertainties: about 0, more where
                    the model has a kink (a piston that begins to flood) */
    int iterations, evaluations; /* of the fit; balances solved in all */
    int tap;                     /* index in the case's blower, -1 not stated */
    double V;                    /* m3/s at the blower, tuned */
    ct_balance balance;          /* tuned, at the conditions of the visit */
    ct_tuning tuning;            /* for the case; airflow absent without a tap */
} ct_tune;

/* Tunes indoor[0] of the case, whatever the setup's unit. Multipliers already in the case are left
 * aside: the answer replaces them. CT_INPUT: a reading that is no number or has no uncertainty
 * above 0, an unknown tap, none at all. Impossible sets are CT_OK with fitted false. CT_NO_CONV: no
 * optimum was reached. CT_RANGE or CT_NO_ROOT: the nameplate's model does not settle at these
 * conditions. *out untouched then. */
CT_API ct_status ct_tune_run(const ct_setup *, const ct_readings *, ct_tune *out, ct_fault *);

#ifdef __cplusplus
}
#endif
#endif
