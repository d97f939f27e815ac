#include "judge/oddities.h"

/* A value written as the bound itself is usual, whatever its unit rounds to. */
static bool outside(double v, double low, double high)
{
    return v < low * (1.0 - 1e-9) || v > high * (1.0 + 1e-9);
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
    if (outside(c->duct.V / c->outdoor.tons, CT_ODD_AIRFLOW_LOW, CT_ODD_AIRFLOW_HIGH))
        odd |= CT_ODD_DUCT_AIRFLOW;
    if (outside(c->duct.dp, CT_ODD_STATIC_LOW, CT_ODD_STATIC_HIGH)) odd |= CT_ODD_STATIC;
    return odd;
}

unsigned ct_oddities(const ct_case *c, const ct_indoor_unit *u)
{
    const ct_outdoor_unit *o = &c->outdoor;
    unsigned odd = of_taps(&u->blower) | of_ducts(c);

    if (outside(o->Q_net / o->tons, CT_ODD_CAPACITY_LOW, CT_ODD_CAPACITY_HIGH))
        odd |= CT_ODD_CAPACITY;
    if (outside(c->house.Q_sensible / o->tons, CT_ODD_LOAD_LOW, CT_ODD_LOAD_HIGH))
        odd |= CT_ODD_LOAD;
    if (outside(o->V_rated_std / o->tons, CT_ODD_AIRFLOW_LOW, CT_ODD_AIRFLOW_HIGH))
        odd |= CT_ODD_RATED_AIRFLOW;
    if (c->house.Q_sensible > o->Q_net) odd |= CT_ODD_SENSIBLE;
    return odd;
}
