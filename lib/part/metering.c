#include "part/metering.h"

#include <ctype.h>
#include <math.h>

#include "base/units.h"

#define SUBCOOLING_MAX 30.0 /* K, what ct_refrigerant_liquid offers */
#define QUALITY_MAX 0.5

static double psi(double p)
{
    return p / CT_PA_PER_PSI;
}
static double mil(double d)
{
    return d / CT_M_PER_IN * 1000;
}

/* ---- inlet ---- */

/* Subcooling at which the liquid at this bubble temperature has enthalpy h. h falls with subcooling
 * nearly in a straight line, so Newton steps kept inside a shrinking bracket settle in a few. */
static ct_status subcooling_of(const ct_refrigerant *r, double T_bubble, double h, double *sub,
                               ct_fault *fault)
{
    ct_liquid l;
    double low = 0, high = SUBCOOLING_MAX;
    ct_status s = ct_refrigerant_liquid(r, T_bubble, high, &l, fault);
    if (s) return s;
    if (h < l.h)
        return ct_fail(fault, CT_RANGE, high, 0, high,
                       "Liquid at the metering device is more than %.0f F subcooled; check the "
                       "subcooling given.",
                       SUBCOOLING_MAX * CT_F_PER_K);
    double x = 0;
    for (int i = 0; i < 60; i++) {
        s = ct_refrigerant_liquid(r, T_bubble, x, &l, fault);
        if (s) return s;
        if (l.h > h)
            low = x;
        else
            high = x;
        double next = x + (l.h - h) / l.cp;
        if (!(next >= low && next <= high)) next = (low + high) / 2;
        if (fabs(next - x) <= 1e-11 * SUBCOOLING_MAX) break;
        x = next;
    }
    *sub = x;
    return CT_OK;
}

/* Saturated properties at the liquid's own temperature, as the orifice correlation takes them. */
static ct_status saturation_at(const ct_refrigerant *r, ct_meter_inlet *in, ct_fault *fault)
{
    ct_liquid f;
    ct_vapour g;
    ct_status s = ct_refrigerant_liquid(r, in->T, 0, &f, fault);
    if (!s) s = ct_refrigerant_vapour(r, in->T, 0, &g, fault);
    if (s) return s;
    in->rho_f = f.rho;
    in->rho_g = g.rho;
    in->p_crit = ct_refrigerant_p_crit(r);
    in->T_crit = ct_refrigerant_T_crit(r);
    return CT_OK;
}

/* The rest of a liquid of known subcooling, whose density there is rho. */
static ct_status subcooled(const ct_refrigerant *r, double T_bubble, double rho, ct_meter_inlet *in,
                           ct_fault *fault)
{
    in->rho = rho;
    in->T = T_bubble - in->subcooling;
    ct_status s = ct_refrigerant_p_bubble(r, in->T, &in->p_sat, fault);
    return s ? s : saturation_at(r, in, fault);
}

static ct_status inlet_liquid(const ct_refrigerant *r, double T_bubble, ct_meter_inlet *in,
                              ct_fault *fault)
{
    ct_liquid l;
    ct_status s = subcooling_of(r, T_bubble, in->h, &in->subcooling, fault);
    if (!s) s = ct_refrigerant_liquid(r, T_bubble, in->subcooling, &l, fault);
    return s ? s : subcooled(r, T_bubble, l.rho, in, fault);
}

static ct_status inlet_flash(const ct_refrigerant *r, double T_bubble, double h_f,
                             ct_meter_inlet *in, ct_fault *fault)
{
    double T_dew;
    ct_vapour g;
    ct_status s = ct_refrigerant_T_dew(r, in->p, &T_dew, fault);
    if (!s) s = ct_refrigerant_vapour(r, T_dew, 0, &g, fault);
    if (s) return s;
    in->T = T_bubble;
    in->p_sat = in->p;
    in->quality = (in->h - h_f) / (g.h - h_f);
    if (!(in->quality <= QUALITY_MAX))
        return ct_fail(
            fault, CT_RANGE, in->quality, 0, QUALITY_MAX,
            "What reaches the metering device is %.0f %% vapour; the model ends at %.0f %%. "
            "Check subcooling and liquid line.",
            in->quality * 100, QUALITY_MAX * 100);
    s = saturation_at(r, in, fault);
    if (s) return s;
    in->rho = 1 / ((1 - in->quality) / in->rho_f + in->quality / in->rho_g);
    return CT_OK;
}

ct_status ct_meter_inlet_at(const ct_refrigerant *r, double p, double h, ct_meter_inlet *inlet,
                            ct_fault *fault)
{
    double T_bubble;
    ct_liquid f;
    ct_meter_inlet in = {.p = p, .h = h};
    if (!isfinite(h)) return ct_fail(fault, CT_INPUT, h, NAN, NAN, "Enthalpy is not a number.");
    ct_status s = ct_refrigerant_T_bubble(r, p, &T_bubble, fault);
    if (!s) s = ct_refrigerant_liquid(r, T_bubble, 0, &f, fault);
    if (s) return s;
    s = h > f.h ? inlet_flash(r, T_bubble, f.h, &in, fault) : inlet_liquid(r, T_bubble, &in, fault);
    if (!s) *inlet = in;
    return s;
}

ct_status ct_meter_inlet_after_line(const ct_refrigerant *r, double p_condenser, double subcooling,
                                    double dp_line, ct_meter_inlet *inlet, ct_fault *fault)
{
    double T_bubble;
    ct_liquid l;
    if (!(dp_line >= 0 && dp_line < p_condenser))
        return ct_fail(
            fault, CT_INPUT, dp_line, 0, p_condenser,
            "Liquid line drop of %.3g psi is not between 0 and the condenser's %.4g psia.",
            psi(dp_line), psi(p_condenser));
    ct_status s = ct_refrigerant_T_bubble(r, p_condenser, &T_bubble, fault);
    if (!s) s = ct_refrigerant_liquid(r, T_bubble, subcooling, &l, fault);
    if (s) return s;
    if (dp_line > 0) return ct_meter_inlet_at(r, p_condenser - dp_line, l.h, inlet, fault);
    /* Nothing lost on the way: no search for the subcooling, which is known. */
    ct_meter_inlet in = {.p = p_condenser, .h = l.h, .subcooling = subcooling};
    s = subcooled(r, T_bubble, l.rho, &in, fault);
    if (!s) *inlet = in;
    return s;
}

ct_status ct_meter_dp(const ct_meter_inlet *in, double dp_distributor, double p_evaporator,
                      double *dp, ct_fault *fault)
{
    double left = in->p - dp_distributor - p_evaporator;
    if (!(left > 0 && isfinite(left)))
        return ct_fail(
            fault, CT_RANGE, left, 0, NAN,
            "No pressure is left across the metering device: %.4g psia arrives, distributor "
            "takes %.3g psi, evaporator is at %.4g psia.",
            psi(in->p), psi(dp_distributor), psi(p_evaporator));
    *dp = left;
    return CT_OK;
}

/* ---- orifice ---- */

/* Payne & O'Neal 2004: choked mass flux of saturated or subcooled liquid, kg/s m2. */
static double liquid_flux(const ct_meter_inlet *in, double L_over_D)
{
    static const double a[] = {0.38811, 11.427, -14.194, 1.0703, -0.091928, 21.425, -581.95};
    double p3 = (in->p - in->p_sat) / in->p_crit;
    double p6 = in->rho_g / in->rho_f;
    double p9 = in->subcooling / in->T_crit;
    double top = a[0] + a[1] * p3 + a[2] * p9 + a[3] * p6 + a[4] * log(L_over_D);
    double low = 1 + a[5] * p3 + a[6] * p9 * p9;
    return top / low * sqrt(in->rho_f * in->p_crit);
}

/* Their factor for a two-phase inlet; not exactly 1 at quality zero. */
static double two_phase(const ct_meter_inlet *in, double L_over_D, double x)
{
    static const double b[] = {1.1831,    -1.4680, -0.15285, -14.639, 9.8401,
                               -0.019798, -1.5348, -2.0533,  -17.195};
    double t6 = 1 / ((1 - x) + x * in->rho_f / in->rho_g);
    double ln6 = log(t6), ln27 = log(L_over_D);
    double ln32 = log((in->p_crit - in->p) / in->p_crit);
    double ln35 = log((in->p_crit - in->p_sat) / in->p_crit);
    double t34 = x / (1 - x) * sqrt(in->rho_f / in->rho_g);
    double top = b[0] * t6 + b[1] * t6 * t6 + b[2] * ln6 * ln6 + b[3] * ln35 * ln35 +
                 b[4] * ln32 * ln32 + b[5] * ln27 * ln27;
    double low = 1 + b[6] * t6 + b[7] * t34 + b[8] * pow(in->p / in->p_crit, 3);
    return top / low;
}

static double flux(const ct_meter_inlet *in, double L_over_D)
{
    double G = liquid_flux(in, L_over_D);
    if (in->quality > 0) G *= two_phase(in, L_over_D, in->quality) / two_phase(in, L_over_D, 0);
    return G;
}

static double flow(const ct_meter_inlet *in, double bore, double length)
{
    return M_PI / 4 * bore * bore * flux(in, length / bore);
}

static ct_status orifice_inlet_ok(double length, const ct_meter_inlet *in, double p_down,
                                  ct_fault *fault)
{
    const double sub_max = 20;
    if (!(length >= 3e-3 && length <= 40e-3))
        return ct_fail(fault, CT_RANGE, length, 3e-3, 40e-3,
                       "Piston length %.3g in is outside 0.12 to 1.57 in.", length / CT_M_PER_IN);
    if (!(in->subcooling >= 0 && in->subcooling <= sub_max))
        return ct_fail(
            fault, CT_RANGE, in->subcooling, 0, sub_max,
            "Liquid at the piston is %.1f F subcooled; the flow equation ends at %.0f F.",
            in->subcooling * CT_F_PER_K, sub_max * CT_F_PER_K);
    if (!(in->quality >= 0 && in->quality <= QUALITY_MAX))
        return ct_fail(fault, CT_RANGE, in->quality, 0, QUALITY_MAX,
                       "Quality at the piston %.2f is outside 0 to %.1f.", in->quality,
                       QUALITY_MAX);
    if (!(p_down < in->p_sat))
        return ct_fail(fault, CT_RANGE, p_down, 0, in->p_sat,
                       "After the piston %.1f psia is not below the liquid's saturation pressure "
                       "%.1f psia: the flow is not choked and the equation does not hold.",
                       psi(p_down), psi(in->p_sat));
    return CT_OK;
}

static unsigned outside_data(const ct_orifice *o, const ct_meter_inlet *in)
{
    unsigned bits = 0;
    if (o->bore < 1.1e-3 || o->bore > 1.7e-3) bits |= CT_ORIFICE_BORE;
    if (o->length < 9.5e-3 || o->length > 25.4e-3) bits |= CT_ORIFICE_LENGTH;
    if (in->subcooling > 14) bits |= CT_ORIFICE_SUBCOOLING;
    return bits;
}

ct_status ct_orifice_flow(const ct_orifice *o, const ct_meter_inlet *in, double p_down,
                          ct_orifice_out *out, ct_fault *fault)
{
    if (!(o->bore >= CT_ORIFICE_BORE_MIN && o->bore <= CT_ORIFICE_BORE_MAX))
        return ct_fail(fault, CT_RANGE, o->bore, CT_ORIFICE_BORE_MIN, CT_ORIFICE_BORE_MAX,
                       "Piston bore %.4f in is outside %.3f to %.3f in.", mil(o->bore) / 1000,
                       mil(CT_ORIFICE_BORE_MIN) / 1000, mil(CT_ORIFICE_BORE_MAX) / 1000);
    ct_status s = orifice_inlet_ok(o->length, in, p_down, fault);
    if (s) return s;
    double m = flow(in, o->bore, o->length);
    if (!(m > 0 && isfinite(m)))
        return ct_fail(fault, CT_RANGE, m, NAN, NAN,
                       "The piston flow equation gives no flow at %.0f psia and %.1f F subcooling.",
                       psi(in->p), in->subcooling * CT_F_PER_K);
    *out = (ct_orifice_out){m, in->quality > 0, outside_data(o, in)};
    return CT_OK;
}

/* Bisection: flow rises with bore steadily, and 50 halvings cost nothing beside a balance. */
ct_status ct_orifice_bore(double m, double length, const ct_meter_inlet *in, double p_down,
                          double *bore, ct_fault *fault)
{
    double low = CT_ORIFICE_BORE_MIN, high = CT_ORIFICE_BORE_MAX;
    ct_status s = orifice_inlet_ok(length, in, p_down, fault);
    if (s) return s;
    double m_low = flow(in, low, length), m_high = flow(in, high, length);
    if (!(m >= m_low && m <= m_high))
        return ct_fail(
            fault, CT_NO_ROOT, m, m_low, m_high,
            "No piston between %.0f and %.0f thousandths of an inch passes %.4g lb/h; they "
            "pass %.4g to %.4g.",
            mil(low), mil(high), m / CT_KG_PER_LBM * 3600, m_low / CT_KG_PER_LBM * 3600,
            m_high / CT_KG_PER_LBM * 3600);
    for (int i = 0; i < 50; i++) {
        double middle = (low + high) / 2;
        if (flow(in, middle, length) < m)
            low = middle;
        else
            high = middle;
    }
    *bore = (low + high) / 2;
    return CT_OK;
}

void ct_orifice_nearest(double bore, double *below, double *above)
{
    static const int shelf[] = {49, 51, 53, 55, 57, 59, 61, 63, 65, 67,  70,  73,  76, 78,
                                80, 82, 84, 86, 88, 90, 93, 96, 98, 101, 104, 107, 110};
    const double same =
        1e-9; /* m: a bore that is on the shelf is its own neighbour on both sides */
    *below = *above = NAN;
    for (size_t i = 0; i < sizeof shelf / sizeof *shelf; i++) {
        double d = shelf[i] * CT_M_PER_IN / 1000;
        if (d <= bore + same) *below = d;
        if (d >= bore - same && isnan(*above)) *above = d;
    }
}

ct_status ct_target_superheat(double T_wet_bulb_indoor, double T_outdoor, double *superheat,
                              ct_fault *fault)
{
    double wb = T_wet_bulb_indoor * CT_F_PER_K - 459.67;
    double db = T_outdoor * CT_F_PER_K - 459.67;
    double target = (3 * wb - 80 - db) / 2;
    if (!(target >= 5))
        return ct_fail(
            fault, CT_RANGE, target / CT_F_PER_K, 5 / CT_F_PER_K, NAN,
            "Target superheat at %.1f F wet bulb indoors and %.1f F outdoors is %.1f F, under "
            "5 F: charge by weight, or wait for other weather.",
            wb, db, target);
    *superheat = target / CT_F_PER_K;
    return CT_OK;
}

/* ---- valve ---- */

/* "R-410A", "r410a" and "R 410 A" are one. */
static bool same_refrigerant(const char *a, const char *b)
{
    for (;;) {
        while (*a && !isalnum((unsigned char)*a))
            a++;
        while (*b && !isalnum((unsigned char)*b))
            b++;
        if (!*a || !*b) return *a == *b;
        if (toupper((unsigned char)*a++) != toupper((unsigned char)*b++)) return false;
    }
}

static ct_status within(double v, double low, double high, const char *what, ct_fault *fault)
{
    if (v >= low && v <= high) return CT_OK;
    return ct_fail(fault, CT_INPUT, v, low, high, "Valve %s %.4g is outside %.4g to %.4g.", what, v,
                   low, high);
}

static ct_status valve_spec_ok(const ct_valve_spec *v, const ct_refrigerant *r, ct_fault *fault)
{
    const char *name = ct_refrigerant_name(r);
    if (v->refrigerant && *v->refrigerant && !same_refrigerant(v->refrigerant, name))
        return ct_fail(fault, CT_INPUT, NAN, NAN, NAN,
                       "The valve is made for %.40s, the system holds %s. Fit a valve for %s.",
                       v->refrigerant, name, name);
    ct_status s = within(v->Q_rated, 100, 100e3, "rated capacity in W", fault);
    if (!s) s = within(psi(v->dp_rated), 10, 500, "rated pressure drop in psi", fault);
    if (!s) s = within(v->superheat * CT_F_PER_K, 1.8, 27, "superheat setting in F", fault);
    if (!s) s = within(v->span * CT_F_PER_K, 1, 18, "superheat span in F", fault);
    if (!s) s = within(v->reserve, 1.01, 2, "reserve", fault);
    if (!s && v->span > v->superheat)
        s = ct_fail(fault, CT_INPUT, v->span, 0, v->superheat,
                    "A valve set to %.1f F superheat cannot open over %.1f F; give a smaller span.",
                    v->superheat * CT_F_PER_K, v->span * CT_F_PER_K);
    return s;
}

static double or_default(double v, double fallback)
{
    return v == 0 ? fallback : v;
}

/* The quadratic gain 2A - A^2 is 1 wide open; the rated opening is where it is 1/reserve. */
static double opening_for(double gain)
{
    return 1 - sqrt(1 - gain);
}

ct_status ct_valve_make(const ct_valve_spec *spec, const ct_refrigerant *r, ct_valve *valve,
                        ct_fault *fault)
{
    ct_valve_spec v = *spec;
    v.T_evap_rated = or_default(v.T_evap_rated, (40 + 459.67) / CT_F_PER_K);
    v.T_liquid_rated = or_default(v.T_liquid_rated, (100 + 459.67) / CT_F_PER_K);
    v.span = or_default(v.span, 3);
    v.reserve = or_default(v.reserve, 1.15);
    ct_vapour g;
    ct_liquid l;
    ct_status s = valve_spec_ok(&v, r, fault);
    if (!s) s = ct_refrigerant_vapour(r, v.T_evap_rated, 0, &g, fault);
    if (!s) s = ct_refrigerant_liquid(r, v.T_liquid_rated, 0, &l, fault);
    if (s) return s;
    s = within(v.T_liquid_rated - v.T_evap_rated, 1, 100, "rating: liquid above evaporator in K",
               fault);
    if (s) return s;
    double A_rated = opening_for(1 / v.reserve);
    *valve = (ct_valve){.C = v.Q_rated / (g.h - l.h) / sqrt(l.rho * v.dp_rated),
                        .SH_static = v.superheat - v.span,
                        .SH_open = v.span / A_rated,
                        .reserve = v.reserve};
    return CT_OK;
}

static ct_status drop_ok(double dp, ct_fault *fault)
{
    if (dp > 0 && isfinite(dp)) return CT_OK;
    return ct_fail(fault, CT_RANGE, dp, 0, NAN,
                   "Pressure drop across the valve is %.3g psi; it must be positive.", psi(dp));
}

/* Flow at the rated opening, here and now. */
static double valve_rated_flow(const ct_valve *v, const ct_meter_inlet *in, double dp)
{
    return v->C * sqrt(in->rho * dp);
}

ct_status ct_valve_flow(const ct_valve *v, const ct_meter_inlet *in, double dp, double superheat,
                        double *m, ct_fault *fault)
{
    ct_status s = drop_ok(dp, fault);
    if (s) return s;
    if (!isfinite(superheat))
        return ct_fail(fault, CT_INPUT, superheat, NAN, NAN, "Superheat is not a number.");
    double A = (superheat - v->SH_static) / v->SH_open;
    A = A < 0 ? 0 : A > 1 ? 1 : A; /* the pin's stops */
    *m = v->reserve * (2 * A - A * A) * valve_rated_flow(v, in, dp);
    return CT_OK;
}

ct_status ct_valve_meet(const ct_valve *v, const ct_meter_inlet *in, double dp, double m,
                        ct_valve_out *out, ct_fault *fault)
{
    ct_status s = drop_ok(dp, fault);
    if (s) return s;
    if (!(m > 0 && isfinite(m)))
        return ct_fail(fault, CT_INPUT, m, 0, NAN, "The compressor's flow must be positive.");
    double rated = valve_rated_flow(v, in, dp);
    ct_valve_out o = {.share = m / rated, .m_max = v->reserve * rated};
    bool starves = m > o.m_max;
    o.opening = starves ? 1 : opening_for(m / o.m_max);
    o.superheat = v->SH_static + o.opening * v->SH_open;
    o.state = starves                          ? CT_VALVE_STARVES
              : o.share < CT_VALVE_HUNTS_BELOW ? CT_VALVE_HUNTS
                                               : CT_VALVE_HOLDS;
    *out = o;
    return CT_OK;
}
