#include "fluid/helmholtz.h"

#include <math.h>

enum { NEWTON_MAX = 60, L_MAX = 4, D_MAX = 15 };

/* ln(tau) terms and the polynomial, whose derivatives are polynomials again. */
static void ideal_powers(ct_isotherm *iso, double log_tau)
{
    const ct_helmholtz_model *m = iso->model;
    iso->ideal = m->lead1 + m->lead2 * iso->tau + m->log_tau * log_tau;
    iso->ideal_t = m->lead2 * iso->tau + m->log_tau;
    iso->ideal_tt = -m->log_tau;
    for (int i = 0; i < m->powers; i++) {
        double t = m->power[i].t, a = m->power[i].n * exp(t * log_tau);
        iso->ideal += a;
        iso->ideal_t += a * t;
        iso->ideal_tt += a * t * (t - 1);
    }
}

static void ideal_einstein(ct_isotherm *iso)
{
    const ct_helmholtz_model *m = iso->model;
    for (int i = 0; i < m->einsteins; i++) {
        double n = m->einstein[i].n, u = m->einstein[i].t * iso->tau, e = exp(-u), q = e / (1 - e);
        iso->ideal += n * log1p(-e);
        iso->ideal_t += n * u * q;
        iso->ideal_tt -= n * u * u * q * (1 + q);
    }
}

/* cp0/R = c T^t contributes (1/T) int c T^t dT - int c T^(t-1) dT, both from T0: enthalpy over RT
 * less entropy over R. tau d/dtau of it is the enthalpy term, tau2 d2/dtau2 is -cp0/R. */
static void ideal_cp0(ct_isotherm *iso)
{
    const ct_helmholtz_model *m = iso->model;
    double T = iso->T, T0 = m->cp0_T0;
    if (m->cp0 > 0) {
        double h = m->cp0 * (1 - T0 / T);
        iso->ideal += h - m->cp0 * log(T / T0);
        iso->ideal_t += h;
        iso->ideal_tt -= m->cp0;
    }
    for (int i = 0; i < m->cp0_polys; i++) {
        double c = m->cp0_poly[i].n, t = m->cp0_poly[i].t, a = pow(T, t), a0 = pow(T0, t);
        double h = c * (a - a0 * T0 / T) / (t + 1);
        iso->ideal += h - c * (a - a0) / t;
        iso->ideal_t += h;
        iso->ideal_tt -= c * a;
    }
}

ct_isotherm ct_helmholtz_isotherm(const ct_helmholtz_model *model, double T)
{
    ct_isotherm iso = {.model = model, .T = T, .tau = model->T_red / T};
    double log_tau = log(iso.tau);
    ideal_powers(&iso, log_tau);
    ideal_einstein(&iso);
    ideal_cp0(&iso);
    for (int i = 0; i < model->residuals; i++)
        iso.term[i] = model->residual[i].n * exp(model->residual[i].t * log_tau);
    for (int i = 0; i < model->gaussians; i++) {
        const ct_gaussian_term *k = &model->gaussian[i];
        double off = iso.tau - k->gamma;
        iso.bell[i] = k->n * exp(k->t * log_tau - k->beta * off * off);
    }
    return iso;
}

/* delta^d and exp(-delta^l) once per density; the terms then need no powers. */
typedef struct {
    double delta, power[D_MAX + 1], fall[L_MAX + 1];
} density_powers;

static density_powers powers_of(const ct_isotherm *iso, double rho)
{
    density_powers q = {.delta = rho / (iso->model->M * iso->model->rho_red)};
    q.power[0] = 1;
    q.fall[0] = 1;
    for (int d = 1; d <= D_MAX; d++)
        q.power[d] = q.power[d - 1] * q.delta;
    for (int l = 1; l <= L_MAX; l++)
        q.fall[l] = exp(-q.power[l]);
    return q;
}

/* Residual part and its derivatives, each times delta and tau to the order of the derivative. */
typedef struct {
    double a, d, dd, t, tt, dt;
} residual_sums;

/* Adds one term's density derivatives; returns the term, and in *g its first over itself. */
static inline double add_density(residual_sums *r, const ct_isotherm *iso, int i,
                                 const density_powers *q, double *g)
{
    const ct_residual_term *k = &iso->model->residual[i];
    double a = iso->term[i] * q->power[k->d] * q->fall[k->l];
    double f = k->l ? k->l * q->power[k->l] : 0;
    *g = k->d - f;
    r->a += a;
    r->d += a * *g;
    r->dd += a * (*g * (*g - 1) - k->l * f);
    return a;
}

/* The same of a Gaussian term. */
static inline double add_bell(residual_sums *r, const ct_isotherm *iso, int i,
                              const density_powers *q, double *g)
{
    const ct_gaussian_term *k = &iso->model->gaussian[i];
    double off = q->delta - k->epsilon;
    double a = iso->bell[i] * q->power[k->d] * exp(-k->eta * off * off);
    *g = k->d - 2 * k->eta * q->delta * off;
    r->a += a;
    r->d += a * *g;
    r->dd += a * (*g * (*g - 1) - 2 * k->eta * q->delta * (q->delta + off));
    return a;
}

static void add_bells(residual_sums *r, const ct_isotherm *iso, const density_powers *q)
{
    for (int i = 0; i < iso->model->gaussians; i++) {
        const ct_gaussian_term *k = &iso->model->gaussian[i];
        double g, a = add_bell(r, iso, i, q, &g), tau = iso->tau, off = tau - k->gamma;
        double f = k->t - 2 * k->beta * tau * off;
        r->t += a * f;
        r->tt += a * (f * (f - 1) - 2 * k->beta * tau * (tau + off));
        r->dt += a * f * g;
    }
}

static residual_sums residual_all(const ct_isotherm *iso, const density_powers *q)
{
    residual_sums r = {0};
    for (int i = 0; i < iso->model->residuals; i++) {
        const ct_residual_term *k = &iso->model->residual[i];
        double g, a = add_density(&r, iso, i, q, &g);
        r.t += a * k->t;
        r.tt += a * k->t * (k->t - 1);
        r.dt += a * k->t * g;
    }
    add_bells(&r, iso, q);
    return r;
}

/* The density derivatives alone: all a Newton step on density needs, at half the price. */
static residual_sums residual_density(const ct_isotherm *iso, const density_powers *q)
{
    residual_sums r = {0};
    double g;
    for (int i = 0; i < iso->model->residuals; i++)
        add_density(&r, iso, i, q, &g);
    for (int i = 0; i < iso->model->gaussians; i++)
        add_bell(&r, iso, i, q, &g);
    return r;
}

ct_state ct_helmholtz_state(const ct_isotherm *iso, double rho)
{
    density_powers q = powers_of(iso, rho);
    residual_sums r = residual_all(iso, &q);
    double R = iso->model->R / iso->model->M, RT = R * iso->T;
    double p_rho = 1 + 2 * r.d + r.dd, p_T = 1 + r.d - r.dt;
    double cv = -R * (iso->ideal_tt + r.tt);
    return (ct_state){
        .rho = rho,
        .p = rho * RT * (1 + r.d),
        .h = RT * (1 + iso->ideal_t + r.t + r.d),
        .s = R * (iso->ideal_t + r.t - iso->ideal - log(q.delta) - r.a),
        .cp = cv + R * p_T * p_T / p_rho,
        .dp_drho = RT * p_rho,
        .drho_dT = -rho * p_T / (iso->T * p_rho),
    };
}

/* p and dp/drho. */
static double pressure(const ct_isotherm *iso, double rho, double *slope)
{
    density_powers q = powers_of(iso, rho);
    residual_sums r = residual_density(iso, &q);
    double RT = iso->model->R / iso->model->M * iso->T;
    *slope = RT * (1 + 2 * r.d + r.dd);
    return rho * RT * (1 + r.d);
}

/* p(rho) bends down on the vapor side and up on the liquid side, so that Newton lands on the safe
 * side of the root after one step and then closes in from there without crossing the dome. */
double ct_helmholtz_density(const ct_isotherm *iso, double p, double guess)
{
    double rho = guess;
    for (int i = 0; i < NEWTON_MAX; i++) {
        double slope, gap = pressure(iso, rho, &slope) - p, step = gap / slope;
        if (!(slope > 0 && fabs(step) < rho)) return NAN;
        rho -= step;
        /* Quadratic: after a step of 1e-7 the error is about 1e-14. */
        if (fabs(step) < 1e-7 * rho) return rho;
    }
    return NAN;
}

double ct_helmholtz_density_vapor(const ct_isotherm *iso, double p)
{
    return ct_helmholtz_density(iso, p, p / (iso->model->R / iso->model->M * iso->T));
}

double ct_helmholtz_curve(const ct_curve *curve, double T)
{
    double sum = 0, log_theta = log(1 - T / curve->T_r);
    for (int i = 0; i < curve->terms; i++)
        sum += curve->term[i].n * exp(curve->term[i].t * log_theta);
    if (curve->kind == CT_CURVE_LINEAR) return curve->reducing * (1 + sum);
    return curve->reducing * exp(curve->T_r / T * sum);
}

/* The fitted liquid density may miss by several percent near the critical point, even into the
 * dome. Lifted until the pressure there is above p, it is a safe start. */
static double liquid_start(const ct_isotherm *iso, double p)
{
    double rho = iso->model->M * ct_helmholtz_curve(&iso->model->rho_liquid, iso->T), slope = 0;
    for (int i = 0; i < NEWTON_MAX; i++) {
        if (pressure(iso, rho, &slope) >= p && slope > 0) break;
        rho *= 1.02;
    }
    return rho;
}

double ct_helmholtz_density_liquid(const ct_isotherm *iso, double p)
{
    return ct_helmholtz_density(iso, p, liquid_start(iso, p));
}

typedef struct {
    double p, dp, g, dg; /* p/RT rho_red and Gibbs energy/RT with their delta derivatives */
} phase;

static phase phase_at(const ct_isotherm *iso, double delta)
{
    density_powers q = powers_of(iso, delta * iso->model->M * iso->model->rho_red);
    residual_sums r = residual_density(iso, &q);
    return (phase){delta * (1 + r.d), 1 + 2 * r.d + r.dd, r.d + r.a + log(delta),
                   (2 * r.d + r.dd + 1) / delta};
}

/* Equal pressure and equal Gibbs energy of the two phases, by Newton on both densities: Akasaka,
 * R., 2008, "A reliable and useful method to determine the saturation state from Helmholtz energy
 * equations of state", J. Thermal Science and Technology 3(3). */
static ct_saturation maxwell(const ct_isotherm *iso)
{
    const ct_helmholtz_model *m = iso->model;
    double v = ct_helmholtz_curve(&m->rho_vapor, iso->T) / m->rho_red;
    double l = liquid_start(iso, ct_helmholtz_curve(&m->p_bubble, iso->T)) / (m->M * m->rho_red);
    for (int i = 0; i < NEWTON_MAX; i++) {
        phase V = phase_at(iso, v), L = phase_at(iso, l);
        double det = V.dp * L.dg - L.dp * V.dg, dg = V.g - L.g, dp = V.p - L.p;
        double step_l = (dg * V.dp - dp * V.dg) / det, step_v = (dg * L.dp - dp * L.dg) / det;
        if (!(fabs(step_l) < l && fabs(step_v) < v)) break;
        l += step_l;
        v += step_v;
        if (fabs(step_l) < 1e-8 * l && fabs(step_v) < 1e-8 * v) {
            double unit = m->M * m->rho_red, p = ct_helmholtz_state(iso, v * unit).p;
            return (ct_saturation){p, p, l * unit, v * unit};
        }
    }
    return (ct_saturation){NAN, NAN, NAN, NAN};
}

ct_saturation ct_helmholtz_saturation(const ct_isotherm *iso)
{
    const ct_helmholtz_model *m = iso->model;
    if (!m->pseudo_pure) return maxwell(iso);
    double bubble = ct_helmholtz_curve(&m->p_bubble, iso->T),
           dew = ct_helmholtz_curve(&m->p_dew, iso->T);
    return (ct_saturation){bubble, dew, ct_helmholtz_density_liquid(iso, bubble),
                           ct_helmholtz_density_vapor(iso, dew)};
}
