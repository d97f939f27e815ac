#include "fluid/refrigerant_tables.h"

#include "fluid/helmholtz.h"

/* Range of saturation. The top stays short of R-410A's critical point, 71.3 C, where heat capacity
 * has no bound. */
static const double SAT_MIN = 233.15, SAT_MAX = 343.15;
static const double SUPERHEAT_MAX = 110, SUBCOOLING_MAX = 30;

/* One row of superheated states, ready for interpolation in entropy. */
typedef struct {
    ct_state at[CT_N_SUPER + 1];
    double T[CT_N_SUPER + 1];
} vapor_row;

static void set_ranges(const ct_helmholtz_model *model, ct_refrigerant_tables *r)
{
    r->T_crit = model->T_crit > 0 ? model->T_crit : model->T_red;
    r->T_min = SAT_MIN;
    r->T_max = SAT_MAX;
    r->superheat_max = fmin(SUPERHEAT_MAX, floor(model->T_top - SAT_MAX));
    r->subcooling_max = SUBCOOLING_MAX;
    r->x_first = sqrt(r->T_crit - r->T_min);
    r->dx = (r->x_first - sqrt(r->T_crit - r->T_max)) / CT_N_SAT;
    r->per_dx = 1 / r->dx;
}

/* Intervals per unit of ln(1 + distance / L) that end at `limit`. */
static double stretch(const ct_refrigerant_tables *r, double T, double limit, int n)
{
    return n / log1p(limit / ct_scale(r, T));
}

/* Density at (T, p) from a neighbor at the same pressure, dT away: first order in ln(rho). */
static double density_near(const ct_isotherm *iso, double p, const ct_state *near, double dT)
{
    return ct_helmholtz_density(iso, p, near->rho * exp(near->drho_dT / near->rho * dT));
}

/* States at constant p from T_sat outwards; `reach` is signed: superheat up, subcooling down. */
typedef struct {
    double p, rho; /* pressure, and density at saturation */
    double reach;  /* K */
    int n;
} isobar;

static void fill_row(const ct_refrigerant_tables *r, const ct_isotherm *sat, const isobar *b,
                     ct_state *at, double *T)
{
    double L = ct_scale(r, sat->T), dy = 1 / stretch(r, sat->T, fabs(b->reach), b->n);
    T[0] = sat->T;
    at[0] = ct_helmholtz_state(sat, b->rho);
    for (int j = 1; j <= b->n; j++) {
        T[j] = sat->T + copysign(L * expm1(j * dy), b->reach);
        ct_isotherm iso = ct_helmholtz_isotherm(sat->model, T[j]);
        at[j] = ct_helmholtz_state(&iso, density_near(&iso, b->p, &at[j - 1], T[j] - T[j - 1]));
    }
}

/* h(s) at constant p between two states. The equation gives h, dh/ds = T and d2h/ds2 = T/cp at
 * both, which fixes a quintic; its slope is the temperature. */
static void quintic(const vapor_row *row, int j, double s, double *h, double *T)
{
    const ct_state *a = &row->at[j], *b = &row->at[j + 1];
    double w = b->s - a->s, t = (s - a->s) / w;
    double a1 = row->T[j] * w, a2 = row->T[j] / a->cp * w * w / 2;
    double b1 = row->T[j + 1] * w, b2 = row->T[j + 1] / b->cp * w * w;
    double rise = b->h - a->h - a1 - a2, slope = b1 - a1 - 2 * a2, bend = b2 - 2 * a2;
    double c3 = 10 * rise - 4 * slope + bend / 2, c4 = -15 * rise + 7 * slope - bend;
    double c5 = 6 * rise - 3 * slope + bend / 2;
    *h = a->h + t * (a1 + t * (a2 + t * (c3 + t * (c4 + t * c5))));
    *T = (a1 + t * (2 * a2 + t * (3 * c3 + t * (4 * c4 + t * 5 * c5)))) / w;
}

static void store_entropy(ct_refrigerant_tables *r, int i, const vapor_row *row)
{
    double s0 = row->at[0].s, span = row->at[CT_N_SUPER].s - s0;
    int j = 0;
    r->sat[i + 1][CT_S_DEW] = s0;
    r->sat[i + 1][CT_S_SPAN] = span;
    for (int k = 0; k <= CT_N_ENTROPY; k++) {
        double s = s0 + span * k / CT_N_ENTROPY, h, T;
        while (j < CT_N_SUPER - 1 && row->at[j + 1].s < s)
            j++;
        quintic(row, j, s, &h, &T);
        r->entropy[i + 1][k + 1][0] = h;
        r->entropy[i + 1][k + 1][1] = T - row->T[0];
    }
}

static void store_vapor(ct_refrigerant_tables *r, int i, const vapor_row *row)
{
    for (int j = 0; j <= CT_N_SUPER; j++) {
        double *c = r->vapor[i + 1][j + 1];
        c[0] = row->at[j].rho;
        c[1] = row->at[j].h;
        c[2] = row->at[j].s;
        c[3] = row->at[j].cp;
    }
}

static void store_liquid(ct_refrigerant_tables *r, int i, const ct_state *at, const double *T)
{
    for (int j = 0; j <= CT_N_SUB; j++) {
        double *c = r->liquid[i + 1][j + 1];
        c[0] = at[j].h;
        c[1] = at[j].rho;
        c[2] = at[j].cp;
        c[3] = T[j];
    }
}

/* Where the bubble pressure is the dew pressure p, K: the curves of a blend run a few K apart, both
 * nearly straight in 1/T. A pure fluid has T itself. */
static double bubble_temperature(const ct_helmholtz_model *model, double T, double p)
{
    double U = T;

    for (int i = 0; model->pseudo_pure && i < 40; i++) {
        double p_U = ct_helmholtz_curve(&model->p_bubble, U);
        double b = log(ct_helmholtz_curve(&model->p_bubble, U + 0.01) / p_U) / 0.01;
        double step = log(p / p_U) / b;
        U += step;
        if (fabs(step) < 1e-10) break;
    }
    return U;
}

static void store_phases(ct_refrigerant_tables *r, int i, const ct_isotherm *sat,
                         const ct_saturation *q, const ct_state *dew)
{
    double *c = r->sat[i + 1], U = bubble_temperature(sat->model, sat->T, q->p_dew);
    ct_isotherm iso = ct_helmholtz_isotherm(sat->model, U);
    double rho = sat->model->pseudo_pure ? ct_helmholtz_saturation(&iso).rho_liquid : q->rho_liquid;
    c[CT_P_DEW] = q->p_dew;
    c[CT_P_BUBBLE] = q->p_bubble;
    c[CT_T_BUBBLE] = U;
    c[CT_H_VAPOR] = dew->h;
    c[CT_CP_VAPOR] = dew->cp;
    c[CT_RHO_VAPOR] = dew->rho;
    c[CT_H_LIQUID] = ct_helmholtz_state(&iso, rho).h;
    c[CT_RHO_LIQUID] = rho;
}

/* NaN travels along a row, so the last states show it for all. */
static ct_status build_row(const ct_catalog_row *of, ct_refrigerant_tables *r, int i,
                           ct_fault *fault)
{
    vapor_row row;
    ct_state sub[CT_N_SUB + 1];
    double T_sub[CT_N_SUB + 1], T = ct_T_from_u(r, i);
    ct_isotherm sat = ct_helmholtz_isotherm(of->model, T);
    ct_saturation q = ct_helmholtz_saturation(&sat);
    fill_row(r, &sat, &(isobar){q.p_dew, q.rho_vapor, r->superheat_max, CT_N_SUPER}, row.at, row.T);
    fill_row(r, &sat, &(isobar){q.p_bubble, q.rho_liquid, -r->subcooling_max, CT_N_SUB}, sub,
             T_sub);
    if (!isfinite(row.at[CT_N_SUPER].h) || !isfinite(sub[CT_N_SUB].h))
        return ct_fail(fault, CT_NO_CONV, T, r->T_min, r->T_max,
                       "equation of state of %s has no solution at %.2f K", of->name, T);
    r->sat[i + 1][CT_SUPER_STRETCH] = stretch(r, T, r->superheat_max, CT_N_SUPER);
    r->sat[i + 1][CT_SUB_STRETCH] = stretch(r, T, r->subcooling_max, CT_N_SUB);
    store_phases(r, i, &sat, &q, &row.at[0]);
    if (!isfinite(r->sat[i + 1][CT_H_LIQUID]))
        return ct_fail(fault, CT_NO_CONV, T, r->T_min, r->T_max,
                       "equation of state of %s has no liquid at the dew pressure of %.2f K",
                       of->name, T);
    store_vapor(r, i, &row);
    store_entropy(r, i, &row);
    store_liquid(r, i, sub, T_sub);
    return CT_OK;
}

/* Grid coordinate where saturation pressure `which` is p: Newton from the node below, where p(u) is
 * a little convex, so it cannot leave the interval's neighborhood. */
static double u_at_pressure(const ct_refrigerant_tables *r, int which, double p, double u)
{
    for (int k = 0; k < 8; k++)
        u = ct_newton_u(r, which, p, u);
    return u;
}

static void build_inverse(const ct_refrigerant_tables *r, int which, ct_inverse *inverse)
{
    double work[CT_N_LNP + 3];
    double low = log(ct_sat_at(r, which, 0)), high = log(ct_sat_at(r, which, CT_N_SAT)), u = 0;
    inverse->ln_first = low;
    inverse->per_ln = CT_N_LNP / (high - low);
    for (int k = 0; k <= CT_N_LNP; k++) {
        u = u_at_pressure(r, which, exp(low + k / inverse->per_ln), u);
        inverse->T[k + 1] = ct_T_from_u(r, u);
    }
    ct_spline_fit(inverse->T, CT_N_LNP, 1, work);
}

ct_status ct_refrigerant_tables_build(const ct_catalog_row *of, ct_refrigerant_tables *r,
                                      ct_fault *fault)
{
    double work[CT_N_SAT + 3];
    set_ranges(of->model, r);
    for (int i = 0; i <= CT_N_SAT; i++) {
        ct_status status = build_row(of, r, i, fault);
        if (status != CT_OK) return status;
    }
    for (int k = 0; k < CT_SAT_WIDTH; k++)
        ct_spline_fit(&r->sat[0][k], CT_N_SAT, CT_SAT_WIDTH, work);
    ct_spline_fit2(&r->vapor[0][0][0], CT_N_SAT, CT_N_SUPER, 4, work);
    ct_spline_fit2(&r->entropy[0][0][0], CT_N_SAT, CT_N_ENTROPY, 2, work);
    ct_spline_fit2(&r->liquid[0][0][0], CT_N_SAT, CT_N_SUB, 4, work);
    build_inverse(r, CT_P_DEW, &r->dew);
    build_inverse(r, CT_P_BUBBLE, &r->bubble);
    return CT_OK;
}
