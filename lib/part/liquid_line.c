#include "part/liquid_line.h"

#include <math.h>
#include <stddef.h>

#include "base/search.h"

#define GRAVITY 9.80665
#define FLOW_TOL 1e-13
#define TOO_MUCH (-1.0) /* what no line can carry counts as far more flow than the orifice's */

static bool is_none(const ct_liquid_line *line)
{
    return line->length == 0.0 && line->lift == 0.0;
}

double ct_liquid_line_friction(double Re, double rough_over_bore)
{
    const double A = pow(2.457 * log(1.0 / (pow(7.0 / Re, 0.9) + 0.27 * rough_over_bore)), 16.0);
    const double B = pow(37530.0 / Re, 16.0);

    return 8.0 * pow(pow(8.0 / Re, 12.0) + pow(A + B, -1.5), 1.0 / 12.0);
}

/* Darcy-Weisbach with the flow as mass. */
static double friction_drop(const ct_liquid_line *line, double m, double rho, double mu)
{
    const double D = line->bore, v = m / (rho * M_PI / 4.0 * D * D);

    if (!(m > 0.0 && line->length > 0.0)) return 0.0;
    return ct_liquid_line_friction(rho * v * D / mu, CT_LIQUID_LINE_ROUGH / D) * line->length / D *
           0.5 * rho * v * v;
}

ct_status ct_liquid_line_drop(const ct_liquid_line *line, const ct_refrigerant *r,
                              const ct_liquid_line_feed *feed, double *dp, ct_fault *fault)
{
    ct_liquid l;

    *dp = 0.0;
    if (is_none(line)) return CT_OK;
    if (line->length > 0.0 && !(line->bore > 0.0))
        return ct_fail(fault, CT_INPUT, line->bore, 0.0, NAN, "the liquid line has no bore");
    double T_bubble;
    ct_status status = ct_refrigerant_T_bubble(r, feed->p, &T_bubble, fault);
    if (status == CT_OK) status = ct_refrigerant_liquid(r, T_bubble, feed->subcooling, &l, fault);
    if (status != CT_OK) return status;
    *dp = friction_drop(line, feed->m, l.rho, ct_refrigerant_liquid_viscosity(r)) +
          l.rho * GRAVITY * line->lift;
    return CT_OK;
}

ct_status ct_liquid_line_inlet(const ct_liquid_line *line, const ct_refrigerant *r,
                               const ct_liquid_line_feed *feed, ct_inlet *inlet, ct_fault *fault)
{
    double dp;
    ct_status status = ct_liquid_line_drop(line, r, feed, &dp, fault);

    return status != CT_OK ? status
                           : ct_inlet_after_line(r, feed->p, feed->subcooling, dp, inlet, fault);
}

/* The orifice's flow when the line carries m. */
static ct_status flow_after(const ct_liquid_line_end *e, double m, ct_orifice_out *out,
                            ct_fault *fault)
{
    const ct_liquid_line_feed feed = {e->p_up, e->subcooling, m};
    ct_inlet inlet;
    ct_status status = ct_liquid_line_inlet(e->line, e->refrigerant, &feed, &inlet, fault);

    return status != CT_OK ? status : ct_orifice_flow(e->orifice, &inlet, e->p_down, out, fault);
}

typedef struct {
    const ct_liquid_line_end *end;
    double m_most; /* kg/s, what the orifice passes when friction takes nothing */
} flow_search;

/* Flow passed less flow carried, over the most; falls with the share carried. */
static double spare(double share, void *context)
{
    const flow_search *s = context;
    ct_orifice_out out;

    if (flow_after(s->end, share * s->m_most, &out, NULL) != CT_OK) return TOO_MUCH;
    return out.m / s->m_most - share;
}

ct_status ct_liquid_line_flow(const ct_liquid_line_end *e, ct_orifice_out *out, ct_fault *fault)
{
    ct_status status = flow_after(e, 0.0, out, fault);
    flow_search s = {e, out->m};

    if (status != CT_OK || e->line->length == 0.0) return status;
    const ct_bracket b = {0.0, 1.0, 1.0, spare(1.0, &s)};
    if (b.f_high >= 0.0) return CT_OK;
    int rounds;
    return flow_after(e, s.m_most * ct_search_false_position(spare, &s, b, FLOW_TOL, &rounds), out,
                      fault);
}
