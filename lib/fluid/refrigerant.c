#include "fluid/refrigerant.h"

#include <stdio.h>
#include <stdlib.h>

#include "base/units.h"
#include "fluid/refrigerant_tables.h"

/* A rounding error below saturation is saturation: s may come from another table of the same state.
 */
static const double SPAN_SLACK = 1e-9;

/* Known by name only, or not at all. */
static ct_status not_known(const ct_catalog_row *by_name, const char *name, ct_fault *fault)
{
    char known[80] = "";
    size_t n = 0;
    const ct_catalog_row *row;
    for (int i = 0; (row = ct_catalog_at(i)) && n < sizeof known; i++)
        if (row->model)
            n += (size_t)snprintf(known + n, sizeof known - n, "%s%s", n ? ", " : "", row->name);
    if (by_name)
        return ct_fault_say(fault, CT_INPUT,
                            "%s is known by name only (class %s, glide %.1f F at 45 F); computed "
                            "are %s",
                            by_name->name, by_name->safety, by_name->glide * CT_F_PER_K, known);
    return ct_fault_say(fault, CT_INPUT, "refrigerant '%.40s' is not known; known are %s", name,
                        known);
}

ct_status ct_refrigerant_make(const char *name, ct_refrigerant **out, ct_fault *fault)
{
    const ct_catalog_row *row = ct_catalog_find(name);
    if (!row || !row->model) return not_known(row, name ? name : "", fault);
    ct_refrigerant *r = malloc(sizeof *r);
    if (!r) return ct_fault_say(fault, CT_SYSTEM, "no memory for refrigerant tables");
    r->row = row;
    r->model = row->model;
    r->tables = ct_refrigerant_tables_of(row);
    *out = r;
    return CT_OK;
}

void ct_refrigerant_free(ct_refrigerant *r)
{
    free(r);
}
const char *ct_refrigerant_name(const ct_refrigerant *r)
{
    return r->row->name;
}
const char *ct_refrigerant_safety(const ct_refrigerant *r)
{
    return r->row->safety;
}
double ct_refrigerant_liquid_viscosity(const ct_refrigerant *r)
{
    return r->row->viscosity;
}
bool ct_refrigerant_is_blend(const ct_refrigerant *r)
{
    return r->model->pseudo_pure;
}
double ct_refrigerant_T_min(const ct_refrigerant *r)
{
    return r->tables->T_min;
}
double ct_refrigerant_T_max(const ct_refrigerant *r)
{
    return r->tables->T_max;
}
double ct_refrigerant_T_crit(const ct_refrigerant *r)
{
    return r->tables->T_crit;
}
double ct_refrigerant_p_crit(const ct_refrigerant *r)
{
    return r->model->p_crit;
}
double ct_refrigerant_superheat_max(const ct_refrigerant *r)
{
    return r->tables->superheat_max;
}

/* Range checks are written so that NaN fails them. */
static bool sat_ok(const ct_refrigerant *r, double T)
{
    return T >= r->tables->T_min && T <= r->tables->T_max;
}

static ct_status fail_sat(const ct_refrigerant *r, double T, ct_fault *fault)
{
    return ct_fail(fault, CT_RANGE, T, r->tables->T_min, r->tables->T_max,
                   "saturated temperature of %s is %.1f F; the tables hold %.1f to %.1f F",
                   r->row->name, ct_F_from_K(T), ct_F_from_K(r->tables->T_min),
                   ct_F_from_K(r->tables->T_max));
}

static ct_status fail_width(const ct_refrigerant *r, const char *what, double given, double most,
                            ct_fault *fault)
{
    return ct_fail(fault, CT_RANGE, given, 0, most,
                   "%s of %s is %.1f F; the tables hold 0 to %.1f F", what, r->row->name,
                   given * CT_F_PER_K, most * CT_F_PER_K);
}

ct_status ct_refrigerant_p_dew(const ct_refrigerant *r, double T, double *p, ct_fault *fault)
{
    if (!sat_ok(r, T)) return fail_sat(r, T, fault);
    *p = ct_sat_at(r->tables, CT_P_DEW, ct_u_from_T(r->tables, T));
    return CT_OK;
}

ct_status ct_refrigerant_p_bubble(const ct_refrigerant *r, double T, double *p, ct_fault *fault)
{
    if (!sat_ok(r, T)) return fail_sat(r, T, fault);
    *p = ct_sat_at(r->tables, CT_P_BUBBLE, ct_u_from_T(r->tables, T));
    return CT_OK;
}

/* The table gives a start good to about 1e-6; one Newton step on the pressure table makes this the
 * inverse of it to rounding. */
static ct_status T_at_pressure(const ct_refrigerant *r, int which, const ct_inverse *inverse,
                               double p, double *T, ct_fault *fault)
{
    double k = p > 0 ? (log(p) - inverse->ln_first) * inverse->per_ln : -1;
    if (!(k >= -SPAN_SLACK && k <= CT_N_LNP + SPAN_SLACK)) {
        double low = ct_sat_at(r->tables, which, 0), high = ct_sat_at(r->tables, which, CT_N_SAT);
        return ct_fail(fault, CT_RANGE, p, low, high,
                       "%s pressure of %s is %.1f psia; the tables hold %.1f to %.1f psia",
                       which == CT_P_DEW ? "dew" : "bubble", r->row->name, p / CT_PA_PER_PSI,
                       low / CT_PA_PER_PSI, high / CT_PA_PER_PSI);
    }
    ct_place y = ct_place_at(k, CT_N_LNP);
    const double *c = &inverse->T[y.i];
    double near = y.w[0] * c[0] + y.w[1] * c[1] + y.w[2] * c[2] + y.w[3] * c[3];
    double found =
        ct_T_from_u(r->tables, ct_newton_u(r->tables, which, p, ct_u_from_T(r->tables, near)));
    *T = fmin(fmax(found, r->tables->T_min), r->tables->T_max); /* rounding only: p is inside */
    return CT_OK;
}

ct_status ct_refrigerant_T_dew(const ct_refrigerant *r, double p, double *T, ct_fault *fault)
{
    return T_at_pressure(r, CT_P_DEW, &r->tables->dew, p, T, fault);
}

ct_status ct_refrigerant_T_bubble(const ct_refrigerant *r, double p, double *T, ct_fault *fault)
{
    return T_at_pressure(r, CT_P_BUBBLE, &r->tables->bubble, p, T, fault);
}

ct_status ct_refrigerant_phases(const ct_refrigerant *r, double T_dew, ct_phases *out,
                                ct_fault *fault)
{
    if (!sat_ok(r, T_dew)) return fail_sat(r, T_dew, fault);
    const ct_place x = ct_place_at(ct_u_from_T(r->tables, T_dew), CT_N_SAT);
    const double(*c)[CT_SAT_WIDTH] = &r->tables->sat[x.i];
    double v[CT_P_BUBBLE];
    for (int k = 0; k < CT_P_BUBBLE; k++)
        v[k] = x.w[0] * c[0][k] + x.w[1] * c[1][k] + x.w[2] * c[2][k] + x.w[3] * c[3][k];
    *out = (ct_phases){.p = v[CT_P_DEW],
                       .T_bubble = r->model->pseudo_pure ? v[CT_T_BUBBLE] : T_dew,
                       .h_v = v[CT_H_VAPOR],
                       .cp_v = v[CT_CP_VAPOR],
                       .rho_v = v[CT_RHO_VAPOR],
                       .h_l = v[CT_H_LIQUID],
                       .rho_l = v[CT_RHO_LIQUID]};
    return CT_OK;
}

/* `width` quantities of a sheet at one place; width is a constant where this is inlined. */
static inline void sheet_at(const double *c, int row, int width, const ct_place *x,
                            const ct_place *y, double *restrict out)
{
    c += x->i * row + y->i * width;
    for (int k = 0; k < width; k++)
        out[k] = 0;
    for (int i = 0; i < 4; i++, c += row)
        for (int k = 0; k < width; k++)
            out[k] += x->w[i] * (y->w[0] * c[k] + y->w[1] * c[width + k] +
                                 y->w[2] * c[2 * width + k] + y->w[3] * c[3 * width + k]);
}

/* Place at a distance in K from saturation, outwards. */
static inline ct_place outward(const ct_refrigerant *r, double T, const ct_place *x, int stretch,
                               double distance, int n)
{
    return ct_place_at(
        log(1 + distance / ct_scale(r->tables, T)) * ct_sat_here(r->tables, stretch, x), n);
}

ct_status ct_refrigerant_vapor(const ct_refrigerant *r, double T_dew, double superheat,
                               ct_vapor *out, ct_fault *fault)
{
    if (!sat_ok(r, T_dew)) return fail_sat(r, T_dew, fault);
    if (!(superheat >= 0 && superheat <= r->tables->superheat_max))
        return fail_width(r, "superheat", superheat, r->tables->superheat_max, fault);
    double v[4];
    ct_place x = ct_place_at(ct_u_from_T(r->tables, T_dew), CT_N_SAT);
    ct_place y = outward(r, T_dew, &x, CT_SUPER_STRETCH, superheat, CT_N_SUPER);
    sheet_at(&r->tables->vapor[0][0][0], (CT_N_SUPER + 3) * 4, 4, &x, &y, v);
    *out = (ct_vapor){.rho = v[0], .h = v[1], .s = v[2], .cp = v[3]};
    return CT_OK;
}

ct_status ct_refrigerant_isentropic(const ct_refrigerant *r, double T_dew, double s, double *h,
                                    double *superheat, ct_fault *fault)
{
    if (!sat_ok(r, T_dew)) return fail_sat(r, T_dew, fault);
    ct_place x = ct_place_at(ct_u_from_T(r->tables, T_dew), CT_N_SAT);
    double s_dew = ct_sat_here(r->tables, CT_S_DEW, &x),
           span = ct_sat_here(r->tables, CT_S_SPAN, &x);
    double w = (s - s_dew) / span, v[2];
    if (!(w >= -SPAN_SLACK && w <= 1 + SPAN_SLACK))
        return ct_fail(fault, CT_RANGE, s, s_dew, s_dew + span,
                       "entropy of %s vapor is %.4f kJ/kg K; at %.1f F dew the tables hold %.4f to "
                       "%.4f",
                       r->row->name, s / 1e3, ct_F_from_K(T_dew), s_dew / 1e3,
                       (s_dew + span) / 1e3);
    ct_place y = ct_place_at(fmin(fmax(w, 0), 1) * CT_N_ENTROPY, CT_N_ENTROPY);
    sheet_at(&r->tables->entropy[0][0][0], (CT_N_ENTROPY + 3) * 2, 2, &x, &y, v);
    *h = v[0];
    *superheat = fmin(fmax(v[1], 0), r->tables->superheat_max); /* rounding only: w is inside */
    return CT_OK;
}

ct_status ct_refrigerant_liquid(const ct_refrigerant *r, double T_bubble, double subcooling,
                                ct_liquid *out, ct_fault *fault)
{
    if (!sat_ok(r, T_bubble)) return fail_sat(r, T_bubble, fault);
    if (!(subcooling >= 0 && subcooling <= r->tables->subcooling_max))
        return fail_width(r, "subcooling", subcooling, r->tables->subcooling_max, fault);
    double v[4];
    ct_place x = ct_place_at(ct_u_from_T(r->tables, T_bubble), CT_N_SAT);
    ct_place y = outward(r, T_bubble, &x, CT_SUB_STRETCH, subcooling, CT_N_SUB);
    sheet_at(&r->tables->liquid[0][0][0], (CT_N_SUB + 3) * 4, 4, &x, &y, v);
    *out = (ct_liquid){.h = v[0], .rho = v[1], .cp = v[2]};
    return CT_OK;
}
