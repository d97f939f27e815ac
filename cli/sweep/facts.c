#include "sweep/facts.h"

#include <math.h>
#include <stdio.h>

#include "base/units.h"
#include "plant/settle.h"

/* The customary rating airflow; common practice, no source. */
#define CUSTOMARY_PER_TON (400.0 * CT_M3S_PER_CFM)

#define MAP_APART 0.10

const ct_point *sweep_reference(const sweep_result *r)
{
    const ct_sweep *s = r->view.sweep;
    const ct_point *best = NULL, *pick = ct_pick_point(r->view.pick, s);
    for (int i = 0; i < s->n_taps; i++)
        if (s->tap[i].status == CT_OK) best = &s->tap[i];
    for (int i = 0; s->n_taps == 0 && i < s->n; i++) {
        const ct_point *p = &s->point[i];
        if (p->status == CT_OK && (!best || fabs(p->V_std_per_ton - CUSTOMARY_PER_TON) <
                                                fabs(best->V_std_per_ton - CUSTOMARY_PER_TON)))
            best = p;
    }
    return best == pick ? NULL : best;
}

int sweep_calibration_doubts(const job *j, char line[PLAUSIBILITY_LINES][PLAUSIBILITY_SIZE])
{
    const ct_calibration *k = &j->calibration;
    const struct {
        const char *what;
        double v;
    } maps[] = {{"mass flow", k->map_flow}, {"power", k->map_power}};
    int n = 0;
    if (k->eta_rated < CT_ETA_LOW || k->eta_rated > CT_ETA_HIGH)
        snprintf(line[n++], PLAUSIBILITY_SIZE,
                 "the nameplate gives a compressor efficiency of %.0f%% (usual: %.0f to "
                 "%.0f%%): check rated capacity, EER and saturated temperatures",
                 100 * k->eta_rated, 100 * CT_ETA_LOW, 100 * CT_ETA_HIGH);
    for (size_t i = 0; i < sizeof maps / sizeof maps[0]; i++)
        if (isfinite(maps[i].v) && fabs(maps[i].v - 1) > MAP_APART)
            snprintf(line[n++], PLAUSIBILITY_SIZE,
                     "the compressor map's %s is multiplied by %.2f to match the nameplate; check "
                     "that the map is of this compressor",
                     maps[i].what, maps[i].v);
    return n;
}
