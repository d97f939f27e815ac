#include "study/seasonal.h"

#include <math.h>

#include "base/units.h"

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
