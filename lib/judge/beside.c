#include "judge/beside.h"

#include <math.h>

#include "judge/limits_check.h"

/* In the air the load is judged in: how long it runs is said of that air too. The watts are those
 * in the air entered; drier air changes them by less than anyone notices. */
double ct_beside_power(const ct_sweep_job *job, const ct_point *p)
{
    const double Q = ct_limits_check_settled(job, p) ? p->design.Q_house : p->Q_house;
    if (p->status != CT_OK || !(Q > 0.0)) return NAN;
    return p->balance.P_total * job->c->house.Q_sensible / Q;
}

/* The driest hour looked at: the design day's, or the damp one's. */
static double driest_hour(const ct_point *p)
{
    const double damp = p->has_room ? p->room.rh : (double)NAN;

    return fmin(p->has_design ? p->design.room.rh : damp, damp);
}

static bool right(const ct_sweep_job *job, const ct_point *p)
{
    const ct_maybe *ceiling = &job->c->house.rh_ceiling;

    return p->has_room && p->room.rh <= (ceiling->has ? ceiling->v : CT_HUMIDITY_RIGHT);
}

/* Looks at one speed that passes; `now` holds the best figures so far. */
typedef struct {
    double rh, power, load;
} figures;

static void look_at(const ct_sweep_job *job, const ct_point *p, int i, figures *now, ct_beside *b)
{
    const double power = ct_beside_power(job, p);

    if (p->has_room && p->room.rh < now->rh - CT_BESIDE_RH) {
        now->rh = p->room.rh;
        b->driest = i;
    }
    if (power < now->power * (1.0 - CT_BESIDE_SHARE)) {
        now->power = power;
        b->cheapest = i;
    }
    if (p->Q_load_max > now->load * (1.0 + CT_BESIDE_SHARE)) {
        now->load = p->Q_load_max;
        b->reserve = i;
    }
}

static bool worth_a_word(const ct_sweep_job *job, const ct_point *p, const ct_point *pick)
{
    return p->Q_load_max > pick->Q_load_max * (1.0 + CT_BESIDE_FASTER) ||
           ct_beside_power(job, p) < ct_beside_power(job, pick) * (1.0 - CT_BESIDE_FASTER);
}

void ct_beside_pick(const ct_sweep_job *job, const ct_sweep *s, const ct_pick *pick, ct_beside *out)
{
    const ct_point *at = ct_pick_point(pick, s);
    const double floor = job->c->house.rh_floor;
    ct_beside b = {pick->index, pick->index, pick->index, -1, false, -1, driest_hour(at)};
    figures now = {at->has_room ? at->room.rh : (double)NAN, ct_beside_power(job, at),
                   at->Q_load_max};

    b.too_dry = b.rh < floor;
    for (int i = pick->index + 1; i < pick->n_points; i++) {
        const ct_point *p = ct_pick_candidate(pick, s, i);
        if (!p->passes) continue;
        look_at(job, p, i, &now, &b);
        if (b.faster < 0 && right(job, p) && worth_a_word(job, p, at)) b.faster = i;
        if (b.too_dry && b.less_dry < 0 && driest_hour(p) >= floor) b.less_dry = i;
    }
    *out = b;
}
