#include "plant/settle.h"

#include <math.h>

#include "base/units.h"
#include "case/assume.h"
#include "plant/rate_coil.h"
#include "plant/rate_low.h"
#include "plant/rate_outdoor.h"
#include "plant/rating_run.h"

/* Where assumed values end up inside the band, away from its edges. */
#define ETA_AIM_LOW 0.50
#define ETA_AIM_HIGH 0.72

/* How far an assumed discharge (F over 95 F) and suction (F around 45 F) may go. */
#define OVER_LEAST 10.0
#define OVER_MOST 45.0
/* An assumed subcooling takes at most this share of what the condensing temperature lies over the
 * air, and a stated one leaves at least so many F: nearer to the air the face grows without
 * bound. */
#define SUBCOOLING_SHARE 0.55
#define LIQUID_OVER_LEAST 3.0
#define SUCTION_REACH 9.0
#define SUCTION_RISE 6.0

/* Share of the range of sensible ratios kept free at its upper end, where two coils become one and
 * a small error in the nameplate has no answer. */
#define CEILING_SHARE 0.10
#define RANGE_LEAST 0.02 /* narrower than this is no range */

#define GLIDE_LEAST 1.0 /* K: with less, dew and mean are the same to a technician */

#define SEER_TOL 1e-7
#define SEER_ROUNDS 12

typedef struct {
    ct_case c; /* the trial */
    ct_solver *solver;
    ct_outdoor bare, outdoor;
    ct_rating_point p;
    ct_coil coil;
    double T_suction_of_coil, T_discharge_of_coil; /* K, the coil was rated at */
    ct_calibration cal;
    double T_suction_usual, T_discharge_usual; /* K, dew, before anything gives way */
    double subcooling_usual;                   /* K */
    double dew_over_mean_cond;                 /* K, glide: dew over the mean in the condenser */
} trial;

static bool assumed(const trial *t, unsigned what)
{
    return (t->c.outdoor.assumed & what) != 0;
}

static ct_status rate_outdoor(trial *t, ct_fault *fault)
{
    t->outdoor = t->bare;
    return ct_rate_outdoor(&t->c.outdoor, &t->outdoor, &t->p, &t->cal, fault);
}

/* ---- A blend: the usual temperatures are means, the file's are dew ----------------- */

static bool has_glide(const trial *t)
{
    const ct_refrigerant *r = t->bare.refrigerant;
    const double T = t->c.outdoor.T_suction_rated;
    double p, T_bubble;

    return ct_refrigerant_p_dew(r, T, &p, NULL) == CT_OK &&
           ct_refrigerant_T_bubble(r, p, &T_bubble, NULL) == CT_OK && T - T_bubble > GLIDE_LEAST;
}

/* Shifts an assumed dew temperature until the mean in the coil is the usual suction. */
static ct_status settle_glide(trial *t, ct_fault *fault)
{
    ct_outdoor_unit *u = &t->c.outdoor;
    const ct_refrigerant *r = t->bare.refrigerant;
    const ct_condenser none = {.subcooling = u->subcooling};
    const double suction = u->T_suction_rated, discharge = u->T_discharge_rated;
    ct_condenser_state cond;
    ct_status status = CT_OK;

    if (!has_glide(t)) return CT_OK;
    for (int i = 0; i < 4; i++) {
        double T_boil;
        status = ct_condenser_state_at(&none, r, u->T_discharge_rated, &cond, fault);
        if (status == CT_OK)
            status = ct_plant_boil_temperature(r, u->T_suction_rated + u->suction_drop,
                                               cond.h_liquid, &T_boil, fault);
        if (status != CT_OK) return status;
        t->dew_over_mean_cond = u->T_discharge_rated - cond.T_mid;
        if (assumed(t, CT_ASSUMED_DISCHARGE)) u->T_discharge_rated += discharge - cond.T_mid;
        if (assumed(t, CT_ASSUMED_SUCTION))
            u->T_suction_rated += suction + u->suction_drop - T_boil;
    }
    return status;
}

/* ---- The compressor's efficiency --------------------------------------------------- */

static double bubble_over_air(const trial *t)
{
    return t->c.outdoor.T_discharge_rated - 2.0 * t->dew_over_mean_cond - CT_RATING_T_OUT;
}

/* Least saturated discharge, dew, K: a stated subcooling must fit in. */
static double discharge_least(const trial *t)
{
    double over = OVER_LEAST / CT_F_PER_K + t->dew_over_mean_cond;

    if (!assumed(t, CT_ASSUMED_SUBCOOLING))
        over = fmax(over, t->c.outdoor.subcooling + LIQUID_OVER_LEAST / CT_F_PER_K +
                              2.0 * t->dew_over_mean_cond);
    return CT_RATING_T_OUT + over;
}

/* Leaves the efficiency in t->cal. */
static ct_status eta_here(trial *t, ct_fault *fault)
{
    if (assumed(t, CT_ASSUMED_SUBCOOLING))
        t->c.outdoor.subcooling =
            fmin(t->subcooling_usual, fmax(SUBCOOLING_SHARE * bubble_over_air(t), 0.0));

    t->cal.eta_rated = NAN;
    ct_status status = rate_outdoor(t, fault);
    /* Refused for its efficiency is still an answer to this question. */
    return isfinite(t->cal.eta_rated) ? CT_OK : status;
}

/* Bisection of one temperature of the trial until the efficiency is `aim`, which at `less` it is
 * below and at `more` above. Where it is not, this ends at the nearer end. */
static ct_status bring_eta(trial *t, double *T, double less, double more, double aim,
                           ct_fault *fault)
{
    ct_status status = CT_OK;

    for (int i = 0; i < 40 && fabs(more - less) > 1e-7 && status == CT_OK; i++) {
        *T = 0.5 * (less + more);
        status = eta_here(t, fault);
        *(t->cal.eta_rated < aim ? &less : &more) = *T;
    }
    return status;
}

/* Efficiency rises with the discharge, by about 1.2 points per F, and falls with the suction. */
static ct_status settle_efficiency(trial *t, ct_fault *fault)
{
    const double base = CT_RATING_T_OUT + t->dew_over_mean_cond;
    ct_outdoor_unit *u = &t->c.outdoor;
    const double *eta = &t->cal.eta_rated; /* of the last try */

    if (assumed(t, CT_ASSUMED_DISCHARGE))
        u->T_discharge_rated = fmax(u->T_discharge_rated, discharge_least(t));
    double T = u->T_discharge_rated;
    ct_status status = eta_here(t, fault);
    if (status != CT_OK || !assumed(t, CT_ASSUMED_DISCHARGE)) return status;
    if (*eta < ETA_AIM_LOW)
        status = bring_eta(t, &u->T_discharge_rated, T, base + OVER_MOST / CT_F_PER_K, ETA_AIM_LOW,
                           fault);
    else if (*eta > ETA_AIM_HIGH)
        status = bring_eta(t, &u->T_discharge_rated, discharge_least(t), T, ETA_AIM_HIGH, fault);
    T = u->T_suction_rated;
    if (status == CT_OK && *eta > ETA_AIM_HIGH + 1e-3 && assumed(t, CT_ASSUMED_SUCTION))
        status = bring_eta(t, &u->T_suction_rated, T + SUCTION_RISE / CT_F_PER_K, T, ETA_AIM_HIGH,
                           fault);
    return status;
}

/* ---- The coil ----------------------------------------------------------------------- */

/* The sensible ratio that goes with this suction: an assumed one is kept under the ceiling. */
static ct_status rate_coil(trial *t, ct_fault *fault)
{
    ct_outdoor_unit *u = &t->c.outdoor;
    ct_calibration k = {.SHR_min = NAN, .SHR_max = NAN};
    ct_status status = ct_rate_coil(&t->c, &t->p, NULL, &t->coil, &k, fault);
    const double ceiling = k.SHR_max - CEILING_SHARE * (k.SHR_max - k.SHR_min);
    /* A failure can leave the range unknown. */
    const bool wide = k.SHR_max - k.SHR_min > RANGE_LEAST;

    if (wide && assumed(t, CT_ASSUMED_SHR) &&
        !(u->SHR_rated > k.SHR_min && u->SHR_rated < ceiling)) {
        u->SHR_rated =
            u->SHR_rated < ceiling ? k.SHR_min + CEILING_SHARE * (k.SHR_max - k.SHR_min) : ceiling;
        status = ct_rate_coil(&t->c, &t->p, NULL, &t->coil, &k, fault);
    }
    if (status != CT_OK) return status;
    k.eta_rated = t->cal.eta_rated;
    k.displacement = t->cal.displacement;
    k.map_flow = t->cal.map_flow;
    k.map_power = t->cal.map_power;
    t->cal = k;
    t->T_suction_of_coil = u->T_suction_rated;
    t->T_discharge_of_coil = u->T_discharge_rated;
    return CT_OK;
}

/* The coil at the assumed suction, or at the nearest one that has a coil. */
static ct_status settle_coil(trial *t, ct_fault *fault)
{
    ct_outdoor_unit *u = &t->c.outdoor;
    const double usual = u->T_suction_rated;
    ct_fault other;
    ct_status status = rate_coil(t, fault);

    if (status != CT_INPUT || !assumed(t, CT_ASSUMED_SUCTION)) return status;
    for (double away = 0.5; away <= SUCTION_REACH; away += 0.5)
        for (int side = -1; side <= 1; side += 2) {
            u->T_suction_rated = usual + side * away / CT_F_PER_K;
            if (settle_efficiency(t, &other) == CT_OK && rate_coil(t, &other) == CT_OK)
                return CT_OK;
        }
    return status;
}

/* ---- The low stage ------------------------------------------------------------------ */

/* An efficiency nobody stated follows that of the high stage. */
static ct_status rate_low(trial *t, ct_fault *fault)
{
    ct_outdoor_unit *u = &t->c.outdoor;

    if (u->low.has && assumed(t, CT_ASSUMED_LOW_EER)) u->low.EER = CT_LOW_STAGE_EER * u->EER;
    return ct_rate_low(u, &t->coil, &t->outdoor, &t->cal.eta_low, fault);
}

/* ---- The label ---------------------------------------------------------------------- */

/* Efficiency and coil of the trial as it is, begun at the usual temperatures. */
static ct_status settle_all(trial *t, ct_fault *fault)
{
    ct_outdoor_unit *u = &t->c.outdoor;

    u->T_suction_rated = t->T_suction_usual;
    u->T_discharge_rated = t->T_discharge_usual;
    ct_status status = settle_efficiency(t, fault);
    if (status != CT_OK || (u->T_suction_rated == t->T_suction_of_coil &&
                            u->T_discharge_rated == t->T_discharge_of_coil))
        return status;
    return settle_coil(t, fault);
}

/* Of the stages there are, each at its rated airflow. */
static ct_status seer_of(trial *t, double *SEER, ct_fault *fault)
{
    const ct_outdoor_unit *u = &t->c.outdoor;
    const ct_setup setup = {.c = &t->c, .outdoor = &t->outdoor, .matched = &t->coil};
    ct_system high, low;
    ct_status status = rate_low(t, fault);

    if (status != CT_OK) return status;
    ct_setup_matched(&setup, &high);
    ct_plant_low_stage(&high, &low);
    const ct_rating_run run = {
        {&high, u->V_rated_std * CT_STD_DENSITY, u->P_blower_rated},
        {u->low.has ? &low : NULL, u->low.V_std * CT_STD_DENSITY, u->low.P_blower},
        u->CD};
    return ct_rating_run_seer(t->solver, &run, SEER, fault);
}

/* SEER of the trial at an EER. */
static ct_status seer_at(trial *t, double EER, double *SEER, ct_fault *fault)
{
    t->c.outdoor.EER = EER;
    const ct_status status = settle_all(t, fault);
    return status == CT_OK ? seer_of(t, SEER, fault) : status;
}

/* Secant from the regression's EER: the SEER is nearly in proportion to it. */
static ct_status settle_label(trial *t, ct_fault *fault)
{
    const ct_outdoor_unit *u = &t->c.outdoor;
    const double label = u->SEER_label.v;
    double e = u->EER, e_last = NAN, s = NAN, s_last = NAN;

    for (int i = 0; i < SEER_ROUNDS; i++) {
        ct_status status = seer_at(t, e, &s, fault);
        if (status != CT_OK) return status;
        if (fabs(s / label - 1.0) < SEER_TOL) return CT_OK;
        const double slope = i > 0 && s != s_last ? (s - s_last) / (e - e_last) : s / e;
        s_last = s;
        e_last = e;
        e += (label - s) / slope;
    }
    return ct_fail(fault, CT_NO_CONV, label, NAN, NAN,
                   "no EER found that gives SEER %.1f Btu/Wh (the last: %.1f); give "
                   "rated_eer",
                   label / CT_W_PER_BTUH, s / CT_W_PER_BTUH);
}

/* ---- Whole -------------------------------------------------------------------------- */

static void note_temperature(ct_case_report *report, const char *key, double before, double after,
                             const char *why)
{
    if (after != before) ct_assume_number(report, key, after, CT_UNIT_TEMPERATURE, "F", why);
}

/* The label says something about the tests of so many stages. */
static bool label_speaks(const ct_outdoor_unit *u)
{
    const double most = u->low.has ? CT_SEER_TWO_STAGES : CT_SEER_ONE_STAGE;

    return u->SEER_label.v <= most * (1.0 + 1e-9);
}

static const char *why_eer(const ct_outdoor_unit *u)
{
    if (u->low.has)
        return label_speaks(u) ? "found so that the tests of both stages give the SEER of the label"
                               : "above SEER 22 a unit rarely has two stages; EER by -0.02 SEER^2 "
                                 "+ 1.12 SEER";
    return label_speaks(u) ? "found so that the EER at 82 F outdoors x (1 - degradation/2) is the "
                             "SEER of the label"
                           : "above SEER 18 a unit rarely has one stage; taken as one, EER by "
                             "-0.02 SEER^2 + 1.12 SEER";
}

static void note(const ct_outdoor_unit *was, const ct_outdoor_unit *u, bool blend,
                 ct_case_report *report)
{
    if (!report) return;
    note_temperature(report, "outdoor.rated_saturated_suction", was->T_suction_rated,
                     u->T_suction_rated,
                     blend ? "dew temperature; the mean in the coil is 45 F or as near as the "
                             "nameplate allows"
                           : "45 F is usual; moved until a coil can have the rated capacity and "
                             "sensible ratio");
    note_temperature(report, "outdoor.rated_saturated_discharge", was->T_discharge_rated,
                     u->T_discharge_rated,
                     "usual for this efficiency, moved until the compressor's efficiency is "
                     "usual (50 to 72%); a blend: dew");
    if (u->subcooling != was->subcooling)
        ct_assume_number(report, "outdoor.subcooling", u->subcooling, CT_UNIT_DELTA_T, "F",
                         "10 F is usual; at most 55% of the condensing temperature less the air's "
                         "at the rating");
    if (u->SHR_rated != was->SHR_rated)
        ct_assume_number(report, "outdoor.rated_sensible_ratio", u->SHR_rated, CT_UNIT_FRACTION,
                         "%",
                         "usual for this airflow, moved into what a coil can have at this "
                         "capacity, airflow and suction");
    if (u->assumed & CT_ASSUMED_EER)
        ct_assume_number(report, "outdoor.rated_eer", u->EER, CT_UNIT_EER, "Btu/Wh", why_eer(u));
    if (u->low.EER != was->low.EER)
        ct_assume_number(report, "outdoor.low_stage.rated_eer", u->low.EER, CT_UNIT_EER, "Btu/Wh",
                         ct_assume_why("outdoor.low_stage.rated_eer"));
}

static ct_status settle(trial *t, ct_fault *fault)
{
    const ct_outdoor_unit *u = &t->c.outdoor;
    ct_status status = settle_glide(t, fault);

    t->T_suction_usual = u->T_suction_rated;
    t->T_discharge_usual = u->T_discharge_rated;
    t->subcooling_usual = u->subcooling;
    if (status == CT_OK) status = settle_all(t, fault);
    if (status == CT_OK && assumed(t, CT_ASSUMED_EER) && u->SEER_label.has && label_speaks(u))
        status = settle_label(t, fault);
    return status;
}

ct_status ct_settle(ct_case *c, const ct_refrigerant *refrigerant, ct_solver *solver,
                    ct_case_report *report, const ct_settled *out, ct_fault *fault)
{
    const ct_outdoor_unit *u = &c->outdoor;
    trial t = {.c = *c,
               .solver = solver,
               .bare = {.refrigerant = refrigerant,
                        .tons = u->tons,
                        .suction_drop = u->suction_drop,
                        .P_fan = u->P_fan},
               .cal = {.displacement = NAN, .map_flow = NAN, .map_power = NAN}};
    ct_status status = settle(&t, fault);

    if (status == CT_OK) status = rate_outdoor(&t, fault);
    if (status == CT_OK) status = rate_low(&t, fault);
    if (status != CT_OK) return status;
    note(u, &t.c.outdoor, has_glide(&t), report);
    c->outdoor = t.c.outdoor;
    t.cal.m_rated = t.p.m;
    t.cal.P_rated = t.p.P_compressor;
    t.cal.Q_gross = t.p.Q_gross;
    *out->outdoor = t.outdoor;
    *out->matched = t.coil;
    *out->calibration = t.cal;
    return CT_OK;
}
