#include "judge/oddities.h"

#include "base/units.h"

static bool outside(double v, double low, double high)
{
    return v < low || v > high;
}

static bool rises(const ct_tap *t)
{
    for (int i = 1; i < t->n; i++)
        if (t->point[i].V > t->point[i - 1].V) return true;
    return false;
}

static unsigned of_taps(const ct_blower *b)
{
    if (b->motor != CT_MOTOR_PSC) return 0;
    for (int i = 0; i < b->n_taps; i++)
        if (rises(&b->tap[i])) return CT_ODD_TAP_RISES;
    return 0;
}

static unsigned of_ducts(const ct_case *c)
{
    unsigned odd = 0;

    if (!c->has_duct) return 0;
    if (outside(c->duct.V / CT_M3S_PER_CFM / c->outdoor.tons, 250.0, 550.0))
        odd |= CT_ODD_DUCT_AIRFLOW;
    if (outside(c->duct.dp / CT_PA_PER_INWC, 0.1 - 1e-9, 1.2 + 1e-9)) odd |= CT_ODD_STATIC;
    return odd;
}

unsigned ct_oddities(const ct_case *c, const ct_indoor_unit *u)
{
    const ct_outdoor_unit *o = &c->outdoor;
    unsigned odd = of_taps(&u->blower) | of_ducts(c);

    if (outside(o->Q_net / CT_W_PER_BTUH / o->tons, 9000.0, 13500.0)) odd |= CT_ODD_CAPACITY;
    if (outside(c->house.Q_sensible / CT_W_PER_BTUH / o->tons, 3000.0, 12000.0)) odd |= CT_ODD_LOAD;
    if (outside(o->V_rated_std / CT_M3S_PER_CFM / o->tons, 250.0, 550.0))
        odd |= CT_ODD_RATED_AIRFLOW;
    if (c->house.Q_sensible > o->Q_net) odd |= CT_ODD_SENSIBLE;
    return odd;
}
