#include <math.h>

#include "base/units.h"
#include "study/tune_model.h"

/* Differences a technician takes for a sign, K; common practice, no source. */
static const double enough[CT_SIGN_COUNT] = {[CT_SIGN_SUPERHEAT] = 5.0 / CT_F_PER_K,
                                             [CT_SIGN_SUBCOOLING] = 3.0 / CT_F_PER_K,
                                             [CT_SIGN_SUCTION] = 4.0 / CT_F_PER_K,
                                             [CT_SIGN_DISCHARGE] = 5.0 / CT_F_PER_K,
                                             [CT_SIGN_SPLIT] = 3.0 / CT_F_PER_K};

static void put(ct_tune_sign *sign, ct_sign i, double read, double expected)
{
    const double by = read - expected;
    sign[i] =
        (ct_tune_sign){true, read, expected, 0.5 * enough[i], (by > enough[i]) - (by < -enough[i])};
}

void ct_visit_signs(ct_tune_problem *p, ct_tune *out)
{
    ct_tune_sign *sign = out->sign;
    const ct_readings *s = &p->readings;
    const ct_refrigerant *r = p->visit.outdoor->refrigerant;
    double x[CT_TUNE_COUNT], T;
    ct_tune_prediction at;

    for (int i = 0; i < CT_TUNE_COUNT; i++)
        x[i] = p->prior[i].prior;
    if (ct_tune_model_predict(p, x, &at) != CT_OK) return;
    const ct_balance *b = &at.balance;
    out->Q_sens_plate = b->Q_sens_net;
    if (ct_visit_superheat(&p->visit, s, &T))
        put(sign, CT_SIGN_SUPERHEAT, T, at.y[CT_SUCTION_TEMPERATURE] - b->Te);
    if (ct_visit_subcooling(&p->visit, s, &T)) put(sign, CT_SIGN_SUBCOOLING, T, b->subcooling);
    if (s->r[CT_SUCTION_PRESSURE].has &&
        ct_refrigerant_T_dew(r, s->r[CT_SUCTION_PRESSURE].v + p->visit.p, &T, NULL) == CT_OK)
        put(sign, CT_SIGN_SUCTION, T, b->Te);
    if (s->r[CT_LIQUID_PRESSURE].has &&
        ct_refrigerant_T_dew(r, s->r[CT_LIQUID_PRESSURE].v + p->visit.p, &T, NULL) == CT_OK)
        put(sign, CT_SIGN_DISCHARGE, T, b->Tc);
    if (s->r[CT_RETURN_DRY_BULB].has && s->r[CT_SUPPLY_DRY_BULB].has)
        put(sign, CT_SIGN_SPLIT, s->r[CT_RETURN_DRY_BULB].v - s->r[CT_SUPPLY_DRY_BULB].v,
            x[CT_TUNE_RETURN_T] - b->supply.T);
}
