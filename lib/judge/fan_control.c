#include "judge/fan_control.h"

#include <math.h>

#include "base/search.h"
#include "plant/charge.h"

#define TOL 1e-12

void ct_fan_control_cut_job(const ct_sweep_job *job, const ct_point *whole, ct_sweep_job *cut)
{
    *cut = *job;
    cut->system = ct_charge_kept(&job->system, whole->m_da);
}

void ct_fan_control_cut(const ct_sweep_job *job, ct_point *p)
{
    const double left = 1.0 - job->c->control.cut;
    double P;

    if (ct_sweep_watts(job, p->V * left, &P, NULL) != CT_OK) P = p->P_blower * left;
    p->m_da *= left;
    p->V *= left;
    p->P_blower = P;
}

static double on_humidity(const ct_fan_control *k, double rh)
{
    if (!k->cut_when_damp) return 0.0;
    return fmin(1.0, fmax(0.0, (rh - k->rh_off) / (k->rh_on - k->rh_off)));
}

/* A run without end starts once. */
static double at_start(const ct_fan_control *k, const ct_reevaporation *coil, double run)
{
    if (!k->slow_start) return 0.0;
    return fmin(1.0, k->start_time * 4.0 * coil->N_max * (1.0 - run) / 3600.0);
}

double ct_fan_control_share(const ct_fan_control *k, const ct_reevaporation *coil, double rh,
                            double run)
{
    const double start = at_start(k, coil, run);

    return start + (1.0 - start) * on_humidity(k, rh);
}

static double between(double a, double b, double share)
{
    return a + share * (b - a);
}

void ct_fan_control_mix(const ct_fan_run *run, double s, ct_room_equipment *out)
{
    const ct_room_equipment *full = run->full, *cut = run->cut;
    ct_room_equipment e = *full;
    double least = 0.0;

    for (int i = 0; i < e.n; i++) {
        least = fmax(least, between(full->point[i].water, cut->point[i].water, s));
        e.point[i].Q_net = between(full->point[i].Q_net, cut->point[i].Q_net, s);
        e.point[i].water = least;
    }
    e.m_leak = between(full->m_leak, cut->m_leak, s);
    e.P_blower = between(full->P_blower, cut->P_blower, s);
    e.water_rated = between(full->water_rated, cut->water_rated, s);
    *out = e;
}

typedef struct {
    const ct_fan_run *run;
    double W; /* the house is held there; below 0: it settles */
    ct_fan_settled at;
    ct_status status;
    ct_fault *fault;
} search;

/* The share the control wants of a house that has s, less s. */
static double too_little(double s, void *about)
{
    search *q = about;
    const ct_room_house *house = q->run->house;
    ct_room_equipment e;

    ct_fan_control_mix(q->run, s, &e);
    q->at.slowed = s;
    q->status = q->W < 0.0 ? ct_room_settle(house, &e, &q->at.room, q->fault)
                           : ct_room_at(house, &e, q->W, &q->at.room, q->fault);
    if (q->status != CT_OK) return 0.0;
    return ct_fan_control_share(q->run->control, &house->coil, q->at.room.rh, q->at.room.run) - s;
}

/* What the control wants lies between none and all. */
static ct_status find(search *q, ct_fan_settled *out)
{
    const double none = too_little(0.0, q);
    int steps;

    if (q->status == CT_OK && none > 0.0) {
        const double all = too_little(1.0, q);
        if (q->status == CT_OK && all < 0.0)
            too_little(ct_search_false_position(too_little, q, (ct_bracket){0.0, none, 1.0, all},
                                                TOL, &steps),
                       q);
    }
    if (q->status == CT_OK) *out = q->at;
    return q->status;
}

ct_status ct_fan_control_settle(const ct_fan_run *run, ct_fan_settled *out, ct_fault *fault)
{
    search q = {.run = run, .W = -1.0, .fault = fault};

    return find(&q, out);
}

ct_status ct_fan_control_at(const ct_fan_run *run, double W, ct_fan_settled *out, ct_fault *fault)
{
    search q = {.run = run, .W = W, .fault = fault};

    return find(&q, out);
}
