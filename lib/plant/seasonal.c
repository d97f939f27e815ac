#include "plant/seasonal.h"

#include <math.h>
#include <stdbool.h>

#include "base/units.h"
#include "plant/plant.h"

#define EER_MAX 20.0 /* W/W, 68 Btu/Wh: no air conditioner comes near */

static double btu(double ratio)
{
    return ratio / CT_W_PER_BTUH;
}

static ct_status ratio_ok(double v, const char *name, ct_fault *fault)
{
    if (v > 0 && v <= EER_MAX) return CT_OK;
    return ct_fail(fault, CT_INPUT, v, 0, EER_MAX,
                   "%s of %.4g Btu/Wh is outside 0 to %.0f; check the units", name, btu(v),
                   btu(EER_MAX));
}

static ct_status cd_ok(double CD, ct_fault *fault)
{
    if (CD >= 0 && CD <= 0.5) return CT_OK;
    return ct_fail(fault, CT_INPUT, CD, 0, 0.5,
                   "cyclic degradation %.3g is outside 0 to 0.5; without a test use %.2f", CD,
                   CT_CD_SINCE_2017);
}

ct_status ct_seasonal_eer(const ct_rating_test *t, double *EER, ct_fault *fault)
{
    if (!(t->Q > 0 && isfinite(t->Q)))
        return ct_fail(fault, CT_INPUT, t->Q, 0, NAN,
                       "net capacity is %.4g Btu/h; it must be above 0", t->Q / CT_W_PER_BTUH);
    if (!(t->P > 0 && isfinite(t->P)))
        return ct_fail(fault, CT_INPUT, t->P, 0, NAN, "input is %.4g W; it must be above 0", t->P);
    ct_status status = ratio_ok(t->Q / t->P, "EER", fault);
    if (status == CT_OK) *EER = t->Q / t->P;
    return status;
}

ct_status ct_seasonal_seer(const ct_rating_test *B, double CD, double *SEER, ct_fault *fault)
{
    double EER = NAN; /* gcc cannot see that a fault is never CT_OK */
    ct_status status = cd_ok(CD, fault);
    if (status == CT_OK) status = ct_seasonal_eer(B, &EER, fault);
    if (status != CT_OK) return status;
    *SEER = EER * (1 - 0.5 * CD);
    return CT_OK;
}

ct_status ct_seasonal_eer_b(double SEER, double CD, double *EER_B, ct_fault *fault)
{
    ct_status status = cd_ok(CD, fault);
    if (status == CT_OK) status = ratio_ok(SEER, "SEER", fault);
    if (status != CT_OK) return status;
    *EER_B = SEER / (1 - 0.5 * CD);
    return CT_OK;
}

ct_status ct_seasonal_cd(double EER_C, double EER_D, double CLF, double *CD, ct_fault *fault)
{
    ct_status status = ratio_ok(EER_C, "EER of the C test", fault);
    if (status == CT_OK) status = ratio_ok(EER_D, "EER of the D test", fault);
    if (status != CT_OK) return status;
    if (!(CLF > 0 && CLF < 1))
        return ct_fail(fault, CT_INPUT, CLF, 0, 1,
                       "cooling load factor %.3g is not between 0 and 1", CLF);
    const double cd = (1 - EER_D / EER_C) / (1 - CLF);
    status = cd_ok(cd, fault);
    if (status == CT_OK) *CD = cd;
    return status;
}

const ct_seasonal_bin *ct_seasonal_bins(void)
{
#define FROM_F(T) (((T) + CT_ZERO_F) / CT_F_PER_K)
    static const ct_seasonal_bin bins[CT_SEASONAL_BINS] = {
        {FROM_F(67), 0.214}, {FROM_F(72), 0.231}, {FROM_F(77), 0.216}, {FROM_F(82), 0.161},
        {FROM_F(87), 0.104}, {FROM_F(92), 0.052}, {FROM_F(97), 0.018}, {FROM_F(102), 0.004},
    };
#undef FROM_F
    return bins;
}

/* ---- One bin ---------------------------------------------------------------------- */

typedef struct {
    double Q, P; /* W, of the hour: 0 load, 1 all of it */
} hourly;

static ct_rating_test between(const ct_rating_test *a, double T_a, const ct_rating_test *b,
                              double T_b, double T)
{
    const double x = (T - T_a) / (T_b - T_a);

    return (ct_rating_test){a->Q + x * (b->Q - a->Q), a->P + x * (b->P - a->P)};
}

/* W that the house of the rating needs, of a unit with this capacity at the A test. */
static double load_at(double Q_A, double T)
{
    return Q_A / CT_SEASONAL_OVERSIZE * (T - CT_SEASONAL_T_NO_LOAD) /
           (CT_RATING_T_OUT - CT_SEASONAL_T_NO_LOAD);
}

static hourly cycling(const ct_rating_test *t, double load, double CD)
{
    const double X = load / t->Q;

    return (hourly){load, X * t->P / (1.0 - CD * (1.0 - X))};
}

/* One capacity: all of the hour when the load is more than it carries. */
static hourly one_at(const ct_rating_test *t, double load, double CD)
{
    return load >= t->Q ? (hourly){t->Q, t->P} : cycling(t, load, CD);
}

/* ---- One capacity ----------------------------------------------------------------- */

ct_status ct_seasonal_seer_bins(const ct_rating_test *A, const ct_rating_test *B, double CD,
                                double *SEER, ct_fault *fault)
{
    const ct_seasonal_bin *bin = ct_seasonal_bins();
    double EER, cooled = 0.0, used = 0.0;
    ct_status status = cd_ok(CD, fault);
    if (status == CT_OK) status = ct_seasonal_eer(A, &EER, fault);
    if (status == CT_OK) status = ct_seasonal_eer(B, &EER, fault);
    if (status != CT_OK) return status;
    for (int i = 0; i < CT_SEASONAL_BINS; i++) {
        const ct_rating_test at = between(B, CT_RATING_B_T_OUT, A, CT_RATING_T_OUT, bin[i].T);
        const hourly h = one_at(&at, load_at(A->Q, bin[i].T), CD);
        cooled += bin[i].share * h.Q;
        used += bin[i].share * h.P;
    }
    *SEER = cooled / used;
    return CT_OK;
}

/* ---- Two capacities -------------------------------------------------------------- */

static hourly two_at(const ct_two_capacity *u, double T)
{
    const ct_rating_test low = between(&u->F1, CT_SEASONAL_T_F1, &u->B1, CT_RATING_B_T_OUT, T);
    const ct_rating_test high = between(&u->B2, CT_RATING_B_T_OUT, &u->A2, CT_RATING_T_OUT, T);
    const double load = load_at(u->A2.Q, T);

    if (T >= u->T_lockout || load >= high.Q) return one_at(&high, load, u->CD_high);
    if (load <= low.Q) return cycling(&low, load, u->CD_low);
    const double X = (high.Q - load) / (high.Q - low.Q);
    return (hourly){load, X * low.P + (1.0 - X) * high.P};
}

ct_status ct_seasonal_seer_two(const ct_two_capacity *u, double *SEER, ct_fault *fault)
{
    const ct_rating_test *const tests[] = {&u->A2, &u->B2, &u->B1, &u->F1};
    const ct_seasonal_bin *bin = ct_seasonal_bins();
    double EER, cooled = 0.0, used = 0.0;
    ct_status status = cd_ok(u->CD_low, fault);

    if (status == CT_OK) status = cd_ok(u->CD_high, fault);
    for (int i = 0; i < 4 && status == CT_OK; i++)
        status = ct_seasonal_eer(tests[i], &EER, fault);
    if (status != CT_OK) return status;
    for (int i = 0; i < CT_SEASONAL_BINS; i++) {
        const hourly h = two_at(u, bin[i].T);
        cooled += bin[i].share * h.Q;
        used += bin[i].share * h.P;
    }
    *SEER = cooled / used;
    return CT_OK;
}
