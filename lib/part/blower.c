#include "part/blower.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/monotone.h"
#include "base/search.h"
#include "base/units.h"
#include "base/words.h"

/* How far airflow may rise from one point to the next as static rises: what a laboratory's scatter
 * and a constant-airflow control's droop do to a table. Common practice, no source. */
#define RISE_ALLOWED 0.03
/* Least share of the last point's airflow to which a table is extended, and the most static, as a
 * multiple of the last point's (or dp_max). Further the extension says nothing. */
#define EXTEND_V 0.5
#define EXTEND_DP 2.0
/* Air watts gained per watt more when a constant-airflow motor meets more static: forward-curved
 * wheel about 0.45 times motor and drive about 0.75. Common practice, no source. */
#define CONST_AIRFLOW_GAIN (1.0 / 3.0)
/* Most, in either direction, that watts are carried beyond the taps' own airflows. */
#define WATTS_REACH 4.0
/* Of what the ducts ask for beyond the static, at the ends: the place where a tap meets the ducts
 * is then known to rounding. A static above a limit by no more than ROUNDING of itself is at it. */
#define MEET_TOL 1e-15
#define ROUNDING 1e-12

/* ---- Names ------------------------------------------------------------------------- */

int ct_blower_find_tap(const ct_blower *b, const char *name)
{
    int like = -1, n_like = 0;
    for (int i = 0; i < b->n_taps; i++) {
        const char *own = b->tap[i].name;
        if (strcmp(own, name) == 0) return i;
        if (!ct_words_same(name, own, strlen(own))) continue;
        like = i;
        n_like++;
    }
    return n_like == 1 && *name ? like : -1;
}

const char *ct_blower_tap_names(const ct_blower *b, char *text, size_t size)
{
    static const char more[] = ", ...";
    size_t n = 0;
    text[0] = '\0';
    for (int i = 0; i < b->n_taps; i++) {
        const char *name = b->tap[i].name;
        if (n + strlen(name) + sizeof ", ''" + sizeof more > size) {
            snprintf(text + n, size - n, "%s", more);
            break;
        }
        n += (size_t)snprintf(text + n, size - n, "%s'%s'", i ? ", " : "", name);
    }
    return text;
}

/* ---- Checks of the tables ---------------------------------------------------------- */

static ct_status check_point(const ct_tap *tap, int i, ct_fault *fault)
{
    const ct_tap_point *q = &tap->point[i];
    if (!(q->dp >= 0 && q->dp <= CT_DP_LIMIT))
        return ct_fail(fault, CT_INPUT, q->dp, 0, CT_DP_LIMIT,
                       "tap '%s' point %d: static %.2f inwc (%.0f Pa) is outside 0 to 2 inwc",
                       tap->name, i + 1, q->dp / CT_PA_PER_INWC, q->dp);
    if (!(q->V > 0 && q->V <= CT_V_LIMIT))
        return ct_fail(fault, CT_INPUT, q->V, 0, CT_V_LIMIT,
                       "tap '%s' point %d: airflow %.0f cfm (%.3f m3/s) is not above 0 and at most "
                       "%.0f cfm",
                       tap->name, i + 1, q->V / CT_M3S_PER_CFM, q->V, CT_V_LIMIT / CT_M3S_PER_CFM);
    if (!(q->P > 0 && q->P <= CT_P_LIMIT))
        return ct_fail(fault, CT_INPUT, q->P, 0, CT_P_LIMIT,
                       "tap '%s' point %d: %.0f W is not above 0 and at most %.0f W", tap->name,
                       i + 1, q->P, CT_P_LIMIT);
    if (i == 0) return CT_OK;
    const ct_tap_point *before = q - 1;
    if (!(q->dp > before->dp))
        return ct_fail(fault, CT_INPUT, q->dp, before->dp, CT_DP_LIMIT,
                       "tap '%s' point %d: static %.2f inwc must be above the point before, %.2f",
                       tap->name, i + 1, q->dp / CT_PA_PER_INWC, before->dp / CT_PA_PER_INWC);
    const double most = before->V * (1 + RISE_ALLOWED);
    if (!(q->V <= most))
        return ct_fail(fault, CT_INPUT, q->V, 0, most,
                       "tap '%s' point %d: airflow rises with static, %.0f to %.0f cfm; check the "
                       "table",
                       tap->name, i + 1, before->V / CT_M3S_PER_CFM, q->V / CT_M3S_PER_CFM);
    return CT_OK;
}

static ct_status check_tap(const ct_blower *blower, int tap, ct_fault *fault)
{
    const ct_tap *t = &blower->tap[tap];
    const int least = blower->motor == CT_MOTOR_CONST_AIRFLOW ? 1 : 2;
    if (t->n < least || t->n > CT_MAX_TAP_POINTS)
        return ct_fail(fault, CT_INPUT, t->n, least, CT_MAX_TAP_POINTS,
                       "tap '%s' has %d points; this motor needs %d to %d", t->name, t->n, least,
                       CT_MAX_TAP_POINTS);
    for (int i = 0; i < t->n; i++) {
        const ct_status status = check_point(t, i, fault);
        if (status != CT_OK) return status;
    }
    return CT_OK;
}

static ct_status check_whole(const ct_blower *blower, ct_fault *fault)
{
    if (blower->n_taps < 1 || blower->n_taps > CT_MAX_TAPS)
        return ct_fail(fault, CT_INPUT, blower->n_taps, 1, CT_MAX_TAPS,
                       "the blower has %d taps; 1 to %d are allowed", blower->n_taps, CT_MAX_TAPS);
    if (!(blower->dp_max > 0 && blower->dp_max <= CT_DP_LIMIT))
        return ct_fail(fault, CT_INPUT, blower->dp_max, 0, CT_DP_LIMIT,
                       "highest external static %.2f inwc (%.0f Pa) is not above 0 and at most 2 "
                       "inwc",
                       blower->dp_max / CT_PA_PER_INWC, blower->dp_max);
    if (blower->motor != CT_MOTOR_PSC && blower->motor != CT_MOTOR_CONST_TORQUE &&
        blower->motor != CT_MOTOR_CONST_AIRFLOW)
        return ct_fail(fault, CT_INPUT, (double)blower->motor, NAN, NAN, "unknown motor family %d",
                       (int)blower->motor);
    return CT_OK;
}

ct_status ct_blower_check(const ct_blower *blower, ct_fault *fault)
{
    ct_status status = check_whole(blower, fault);
    for (int i = 0; status == CT_OK && i < blower->n_taps; i++)
        status = check_tap(blower, i, fault);
    return status;
}

/* ---- Thinner air ------------------------------------------------------------------- */

static void thin_point(const ct_blower *b, double thinness, ct_tap_point *q)
{
    double faster = 1;
    if (b->motor == CT_MOTOR_PSC) {
        q->dp *= thinness;
        q->P *= thinness;
    } else if (b->motor == CT_MOTOR_CONST_TORQUE) {
        faster = 1 / sqrt(thinness);
    } else if (b->holds_mass) {
        faster = 1 / thinness;
    }
    q->V *= faster;
    q->P *= faster;
}

void ct_blower_thin(const ct_blower *blower, double thinness, ct_blower *out)
{
    ct_blower b = *blower;
    for (int i = 0; i < b.n_taps; i++)
        for (int k = 0; k < b.tap[i].n; k++)
            thin_point(blower, thinness, &b.tap[i].point[k]);
    *out = b;
}

/* ---- A tap at a given static ------------------------------------------------------- */

typedef struct {
    double V, P;
} flow;

/* A column of the table against static. A curve and not straight lines: the airflow found is used
 * in a sweep, where a kink of the table would look like one of the equipment. */
static ct_monotone column(const ct_tap *t, const double *first)
{
    return (ct_monotone){&t->point[0].dp, first, t->n, sizeof t->point[0] / sizeof(double)};
}

static ct_monotone airflow(const ct_tap *t)
{
    return column(t, &t->point[0].V);
}

static ct_monotone watts(const ct_tap *t)
{
    return column(t, &t->point[0].P);
}

static flow inside(const ct_tap *t, double dp)
{
    const ct_monotone V = airflow(t), P = watts(t);
    return (flow){ct_monotone_at(&V, dp), ct_monotone_at(&P, dp)};
}

/* Below the first point: straight on, airflow never less than the first point's, and watts that
 * rise with static fading instead, so that they stay positive. */
static flow below(const ct_tap *t, double dp)
{
    const ct_tap_point *q = &t->point[0];
    const ct_monotone V = airflow(t), P = watts(t);
    const double x = dp - q->dp, v = fmin(ct_monotone_chord(&V, 0), 0) * x;
    const double w = ct_monotone_chord(&P, 0) * x / q->P;
    return (flow){q->V + v, q->P * (w >= 0 ? 1 + w : exp(w))};
}

/* Past the last point, permanent-split-capacitor and constant torque: airflow straight on. Watts of
 * the first go with its airflow, the second's stay (same torque, nearly the same speed). Common
 * practice, no source. */
static flow past(const ct_blower *b, const ct_tap *t, double dp)
{
    const ct_tap_point *q = &t->point[t->n - 1];
    const ct_monotone m = airflow(t);
    const double V = fmax(q->V + fmin(ct_monotone_chord(&m, t->n - 2), 0) * (dp - q->dp), 0);
    return (flow){V, b->motor == CT_MOTOR_PSC ? q->P * V / q->V : q->P};
}

/* Constant airflow away from point q, up to the motor's limit: same flow, watts for the change in
 * air power. A point more efficient than the usual gain keeps its own efficiency, so that watts
 * never turn negative towards zero static. */
static flow held(const ct_tap_point *q, double dp)
{
    const double gain = fmax(CONST_AIRFLOW_GAIN, q->V * q->dp / q->P);
    return (flow){q->V, q->P + q->V * (dp - q->dp) / gain};
}

/* Constant airflow past its table: held to dp_max, then the motor gives no more and the air power
 * V dp stays what it was. Common practice, no source. */
static flow held_past(const ct_blower *b, const ct_tap_point *q, double dp)
{
    const double limit = fmax(b->dp_max, q->dp);
    if (dp <= limit) return held(q, dp);
    const flow at_limit = held(q, limit);
    return (flow){at_limit.V * limit / dp, at_limit.P};
}

static flow tap_at(const ct_blower *b, const ct_tap *t, double dp)
{
    const ct_tap_point *last = &t->point[t->n - 1];
    if (b->motor == CT_MOTOR_CONST_AIRFLOW && (dp > last->dp || t->n == 1))
        return held_past(b, last, dp);
    if (dp > last->dp) return past(b, t, dp);
    return dp < t->point[0].dp ? below(t, dp) : inside(t, dp);
}

/* ---- Where tap and ducts meet ------------------------------------------------------ */

typedef struct {
    const ct_blower *b;
    const ct_tap *t;
    const ct_duct *duct;
} meeting;

/* What the ducts ask for beyond dp, Pa; falls with it. */
static double asked(double dp, void *context)
{
    const meeting *m = context;
    return ct_duct_dp(m->duct, tap_at(m->b, m->t, dp).V) - dp;
}

static ct_status cannot_move(const ct_tap *t, const ct_duct *duct, ct_fault *fault)
{
    const ct_tap_point *last = &t->point[t->n - 1];
    return ct_fail(fault, CT_NO_ROOT, ct_duct_dp(duct, last->V), NAN, last->dp,
                   "tap '%s' cannot move air against these ducts: they ask %.2f inwc at %.0f cfm, "
                   "where its table ends at %.2f; check the duct point, or use more of the table",
                   t->name, ct_duct_dp(duct, last->V) / CT_PA_PER_INWC, last->V / CT_M3S_PER_CFM,
                   last->dp / CT_PA_PER_INWC);
}

static ct_status meet(const ct_blower *b, const ct_tap *t, const ct_duct *duct,
                      ct_blower_point *point, ct_fault *fault)
{
    const ct_tap_point *last = &t->point[t->n - 1];
    const double high = EXTEND_DP * fmax(last->dp, b->dp_max);
    meeting m = {b, t, duct};
    const ct_bracket ends = {0, high, asked(0, &m), asked(high, &m)};
    if (ends.f_high > 0) return cannot_move(t, duct, fault);
    /* Tables have corners where they are extended: kept between two statics. At zero static the
     * ducts always ask for more. */
    int rounds;
    const double dp = ct_search_false_position(asked, &m, ends, MEET_TOL, &rounds);
    const flow f = tap_at(b, t, dp);
    if (f.V < EXTEND_V * last->V) return cannot_move(t, duct, fault);
    const bool single = t->n == 1;
    const double least = dp * (1.0 - ROUNDING);
    *point = (ct_blower_point){.V = f.V,
                               .P = f.P,
                               .dp = dp,
                               .over_limit = least > b->dp_max || (!single && least > last->dp),
                               .below_table = !single && dp < t->point[0].dp};
    return CT_OK;
}

static ct_status check_one(const ct_blower *blower, int i, ct_fault *fault)
{
    ct_status status = check_whole(blower, fault);
    if (status != CT_OK) return status;
    if (i < 0 || i >= blower->n_taps)
        return ct_fail(fault, CT_INPUT, i, 0, blower->n_taps - 1,
                       "there is no tap number %d; the blower has %d", i + 1, blower->n_taps);
    return check_tap(blower, i, fault);
}

ct_status ct_blower_meet(const ct_blower *blower, int i, const ct_duct *duct,
                         ct_blower_point *point, ct_fault *fault)
{
    ct_status status = check_one(blower, i, fault);
    if (status == CT_OK) status = ct_duct_check(duct, fault);
    if (status != CT_OK) return status;
    return meet(blower, &blower->tap[i], duct, point, fault);
}

ct_status ct_blower_flow(const ct_blower *blower, int i, double dp, double *V, ct_fault *fault)
{
    ct_status status = check_one(blower, i, fault);
    if (status != CT_OK) return status;
    const ct_tap *t = &blower->tap[i];
    const double high = EXTEND_DP * fmax(t->point[t->n - 1].dp, blower->dp_max);
    const double flow_there = dp >= 0 && dp <= high ? tap_at(blower, t, dp).V : 0.0;
    if (!(flow_there > 0))
        return ct_fail(fault, CT_RANGE, dp, 0, high,
                       "static of %.2f inwc at tap '%s': its table gives airflow up to %.2f inwc",
                       dp / CT_PA_PER_INWC, t->name, high / CT_PA_PER_INWC);
    *V = flow_there;
    return CT_OK;
}

/* ---- Watts between the taps -------------------------------------------------------- */

/* Puts a tap's point among those found, airflow rising. Two taps with the same airflow are one; the
 * first given counts. */
static int insert(ct_blower_point *found, int n, const ct_blower_point *p)
{
    int i = n;
    for (int k = 0; k < n; k++)
        /* The n points there were written by earlier calls, which the checker does not follow. */
        // NOLINTNEXTLINE(clang-analyzer-core.UndefinedBinaryOperatorResult)
        if (fabs(found[k].V - p->V) <= 1e-6 * p->V) return n;
    for (; i > 0 && found[i - 1].V > p->V; i--)
        found[i] = found[i - 1];
    found[i] = *p;
    return n + 1;
}

/* Where the taps meet the ducts, sorted; a tap that cannot move air against them is left out. */
static ct_status operating_points(const ct_blower *b, const ct_duct *duct, ct_blower_point *found,
                                  int *n, ct_fault *fault)
{
    *n = 0;
    for (int i = 0; i < b->n_taps; i++) {
        ct_blower_point p;
        const ct_status status = ct_blower_meet(b, i, duct, &p, fault);
        if (status == CT_OK)
            *n = insert(found, *n, &p);
        else if (status != CT_NO_ROOT || (i == b->n_taps - 1 && *n == 0))
            return status;
    }
    return CT_OK;
}

/* Power law through two points. */
static double along(const ct_blower_point *a, const ct_blower_point *b, double V)
{
    return a->P * pow(b->P / a->P, log(V / a->V) / log(b->V / a->V));
}

ct_status ct_blower_line_make(const ct_blower *blower, const ct_duct *duct, ct_blower_line *line,
                              ct_fault *fault)
{
    ct_blower_line made = {.motor = blower->motor};
    const ct_status status = operating_points(blower, duct, made.at, &made.n, fault);
    if (status == CT_OK) *line = made;
    return status;
}

ct_status ct_blower_line_watts(const ct_blower_line *line, double V, double *P, ct_fault *fault)
{
    const ct_blower_point *at = line->at;
    const int n = line->n;
    const double least = at[0].V / WATTS_REACH, most = at[n - 1].V * WATTS_REACH;
    if (!(V >= least && V <= most))
        return ct_fail(fault, CT_RANGE, V, least, most,
                       "airflow %.0f cfm is too far from what the taps move, %.0f to %.0f cfm",
                       V / CT_M3S_PER_CFM, at[0].V / CT_M3S_PER_CFM, at[n - 1].V / CT_M3S_PER_CFM);
    const double power = line->motor == CT_MOTOR_PSC ? 1.0 : 2.5;
    int i = 0;
    while (i < n && at[i].V < V)
        i++;
    if (i == 0 || i == n) {
        const ct_blower_point *end = &at[i == 0 ? 0 : n - 1];
        *P = end->P * pow(V / end->V, power);
    } else
        *P = along(&at[i - 1], &at[i], V);
    return CT_OK;
}

ct_status ct_blower_watts(const ct_blower *blower, const ct_duct *duct, double V, double *P,
                          ct_fault *fault)
{
    ct_blower_line line;
    const ct_status status = ct_blower_line_make(blower, duct, &line, fault);
    return status == CT_OK ? ct_blower_line_watts(&line, V, P, fault) : status;
}
