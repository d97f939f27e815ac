#include "plant/charge.h"

#include <math.h>
#include <stddef.h>

#include "base/monotone.h"
#include "part/charge.h"

#define CHARGE_TOL 1e-9
#define CLOSED 1e-9 /* K */
/* Strides of the walk, K: the first from the usual slope of the charge, a little too long so that
 * it ends beyond. */
#define STEP_MOST 2.0
#define STEP_LEAST 0.01
#define USUAL_SLOPE 0.02 /* per K */
#define ROUNDS 60
#define EDGE_KNOWN 0.05 /* K, how well the last subcooling that balances is looked for */
/* From a neighbor: the slope where none is known, secants, and of the excess what the first and
 * each later one may leave. */
#define MEAN_SLOPE 0.03 /* per K */
#define FOLLOWED 6
#define GAINED_FIRST 2.0
#define GAINED 0.5

/* Kilograms per volume of the evaporator. */
static double coil_density(const ct_charge_places *c)
{
    const ct_phases *p = c->coil;
    const double x_in = fmin(fmax((c->h_liquid - p->h_l) / (p->h_v - p->h_l), 0.0), 0.9);
    const double x_out = fmax(c->quality_out, x_in + 1e-3);
    const double boiling = ct_charge_two_phase(p->rho_l, p->rho_v, x_in, fmin(x_out, 1.0));

    return (1.0 - c->superheat_area) * boiling + c->superheat_area * p->rho_v;
}

double ct_charge_in(const ct_charge_places *c)
{
    const ct_phases *high = c->condenser;
    const double two_phase = 1.0 - c->desuperheat_share - c->subcool_share;

    return c->desuperheat_share * high->rho_v +
           two_phase * ct_charge_two_phase(high->rho_l, high->rho_v, 0.0, 1.0) +
           (c->subcool_share + CT_CHARGE_LINE_VOLUME) * c->rho_liquid +
           CT_CHARGE_COIL_VOLUME * coil_density(c);
}

ct_status ct_charge_of(const ct_system *sys, const ct_balance *b, double *charge, ct_fault *fault)
{
    const ct_refrigerant *r = sys->outdoor.refrigerant;
    ct_phases high, low;
    ct_liquid liquid;
    ct_status status = ct_refrigerant_phases(r, b->Tc, &high, fault);

    if (status == CT_OK) status = ct_refrigerant_phases(r, b->T_coil, &low, fault);
    if (status == CT_OK)
        status = ct_refrigerant_liquid(r, high.T_bubble, b->subcooling, &liquid, fault);
    if (status != CT_OK) return status;
    const ct_charge_places places = {.condenser = &high,
                                     .coil = &low,
                                     .desuperheat_share = b->desuperheat_share,
                                     .subcool_share = b->subcool_share,
                                     .rho_liquid = liquid.rho,
                                     .h_liquid = liquid.h,
                                     .superheat_area = b->superheat_area,
                                     .quality_out = b->quality_out};
    *charge = ct_charge_in(&places);
    return CT_OK;
}

typedef struct {
    const ct_charge_job *job;
    ct_balance *b;
} search;

/* Charge at a subcooling less the one wanted, over that; rises with the subcooling. */
static ct_status excess(const search *s, double subcooling, double *f, ct_fault *fault)
{
    ct_status status = s->job->balance(subcooling, s->job->context, s->b, fault);

    double charge;
    if (status == CT_OK) status = ct_charge_of(s->job->system, s->b, &charge, fault);
    if (status != CT_OK) return status;
    *f = charge / s->job->system->charge - 1.0;
    return CT_OK;
}

/* Illinois form of the false position. A bracket this narrow is as good as the balances are. */
static ct_status close_in(const search *s, double x, double f, double other, double f_other,
                          ct_fault *fault)
{
    for (int i = 0; i < ROUNDS; i++) {
        const double next = (x * f_other - other * f) / (f_other - f);
        double f_next;
        const ct_status status = excess(s, next, &f_next, fault);
        if (status != CT_OK || fabs(f_next) <= CHARGE_TOL || fabs(other - x) <= CLOSED)
            return status;
        if ((f_next > 0.0) == (f > 0.0)) {
            f_other *= 0.5;
        } else {
            other = x;
            f_other = f;
        }
        x = next;
        f = f_next;
    }
    return ct_fail(fault, CT_NO_CONV, NAN, NAN, NAN, "no subcooling found for this charge");
}

static ct_status between(const search *s, double x, double f, double other, double f_other,
                         ct_fault *fault)
{
    const ct_status status = close_in(s, x, f, other, f_other, fault);

    s->b->charge_per_subcooling = (f - f_other) / (x - other);
    return status;
}

/* From a subcooling towards the charge, until it is between two steps or the end is reached. One
 * too high to balance counts as too much; short of it there may still be enough, or little
 * enough. */
static ct_status walk(const search *s, double x, double f, ct_fault *fault)
{
    const int way = f > 0.0 ? -1 : 1;
    double end = way > 0 ? CT_CHARGE_SUBCOOLING_MAX : 0.0;
    double step = fmax(fabs(f) / USUAL_SLOPE, STEP_LEAST);
    bool edge = false; /* the end does not balance */

    while (fabs(end - x) > (edge ? EDGE_KNOWN : 0.0)) {
        step = fmin(step, STEP_MOST);
        const double stride = way > 0 ? fmin(x + step, end) : fmax(x - step, end);
        const double next = edge ? 0.5 * (x + end) : stride;
        double f_next;
        const ct_status status = excess(s, next, &f_next, fault);
        if (status != CT_OK) {
            end = next;
            edge = true;
            continue;
        }
        if (f_next * way >= 0.0) return between(s, next, f_next, x, f, fault);
        x = next;
        f = f_next;
        step *= 2.0;
    }
    /* Without a balance at less subcooling nothing says how the charge goes on. */
    const ct_status status = edge ? excess(s, way < 0 ? end : x, &f, fault) : CT_OK;
    if (status == CT_OK) s->b->charge_beyond = way;
    return status;
}

/* From a neighbor's subcooling along secants. What does not come closer quickly is left to the
 * walk, so that an end, or a subcooling without a balance, is met as it always is. */
static bool follow(const search *s)
{
    double x = s->job->near, slope = s->job->near_slope > 0.0 ? s->job->near_slope : MEAN_SLOPE;
    double f;

    if (!(x > 0.0 && x < CT_CHARGE_SUBCOOLING_MAX) || excess(s, x, &f, NULL) != CT_OK) return false;
    for (int i = 0; i < FOLLOWED && fabs(f) > CHARGE_TOL; i++) {
        const double next = x - f / slope;
        double f_next;
        if (!(next > 0.0 && next < CT_CHARGE_SUBCOOLING_MAX) ||
            excess(s, next, &f_next, NULL) != CT_OK ||
            !(fabs(f_next) < (i == 0 ? GAINED_FIRST : GAINED) * fabs(f)))
            return false;
        slope = (f_next - f) / (next - x);
        if (!(slope > 0.0)) return false;
        x = next;
        f = f_next;
    }
    s->b->charge_per_subcooling = slope;
    return fabs(f) <= CHARGE_TOL;
}

/* With less subcooling a piston passes less: where it starves a coil with this much it starves it
 * with less too. */
static bool starves_too(const ct_balance *b, double subcooling, double less)
{
    return b->outcome == CT_STARVED_OUT && less < subcooling;
}

/* A subcooling that balances, to walk from: the usual one, or where that has no balance another. */
static ct_status begin(const search *s, double *x, double *f, ct_fault *fault)
{
    static const double others[] = {12.0, 3.0, 6.0, 9.0};
    const double usual =
        fmin(fmax(s->job->system->outdoor.condenser.subcooling, 0.0), CT_CHARGE_SUBCOOLING_MAX);
    const ct_status status = excess(s, *x = usual, f, fault);

    if (status == CT_OK) return status;
    const ct_balance at_usual = *s->b;
    for (size_t i = 0; i < sizeof others / sizeof *others; i++)
        if (!starves_too(s->b, *x, others[i]) && excess(s, *x = others[i], f, NULL) == CT_OK)
            return CT_OK;
    *s->b = at_usual;
    return status;
}

bool ct_charge_follow(const ct_charge_job *job, ct_balance *out)
{
    const search s = {job, out};

    return follow(&s);
}

ct_status ct_charge_search(const ct_charge_job *job, ct_balance *out, ct_fault *fault)
{
    const search s = {job, out};
    double x, f;

    if (follow(&s)) return CT_OK;
    const ct_status status = begin(&s, &x, &f, fault);
    return status != CT_OK || fabs(f) <= CHARGE_TOL ? status : walk(&s, x, f, fault);
}

double ct_charge_at(const ct_system *sys, double m_da)
{
    const ct_charge_air *a = &sys->by_air;
    const ct_monotone curve = {a->m_da, a->charge, a->n, 1};

    if (a->n < 2) return sys->charge;
    return ct_monotone_at(&curve, fmin(fmax(m_da, a->m_da[0]), a->m_da[a->n - 1]));
}

ct_system ct_charge_kept(const ct_system *sys, double m_da)
{
    ct_system kept = *sys;

    kept.charge = ct_charge_at(sys, m_da);
    kept.by_air = (ct_charge_air){0};
    return kept;
}

ct_system ct_charge_as_found(const ct_system *sys, const ct_balance *b)
{
    ct_system found = *sys;

    if (sys->charge > 0.0) found.outdoor.condenser.subcooling = b->subcooling;
    found.charge = 0.0;
    found.by_air = (ct_charge_air){0};
    return found;
}
