#include "whatif/facts.h"

int whatif_n_speeds(const whatif_result *r)
{
    return r->w->from_taps ? r->sweep->n_taps : r->sweep->n;
}

const ct_point *whatif_speed(const whatif_result *r, int i)
{
    return r->w->from_taps ? &r->sweep->tap[i] : &r->sweep->point[i];
}

const char *whatif_speed_name(const whatif_result *r, int i, char text[SHOWN_SIZE])
{
    if (i < 0) return "none";
    const ct_point *p = whatif_speed(r, i);
    if (p->tap >= 0) return r->j->sweep.unit->blower.tap[p->tap].name;
    return shown(text, Q_AIRFLOW_PER_TON, p->V_std_per_ton, r->si);
}
