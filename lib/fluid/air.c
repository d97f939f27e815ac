#include "fluid/air.h"

#include <math.h>
#include <stdbool.h>

#include "base/search.h"
#include "base/units.h"
#include "fluid/moist.h"
#include "fluid/saturation.h"
#include "fluid/water_tables.h"

/* Ice and its melting, as the wet-bulb relation of ASHRAE Fundamentals ch. 1 eq. 35 has them:
 * vapor less ice at 0 C 2 830 000 J/kg, ice 2100 J/kg K. */
#define ICE_HG0 2830000.0
#define ICE_CP 2100.0

/* How far above saturation, relative, a state still counts as saturated: 1e-5 K. */
#define SATURATED 1e-6
#define T_TOL 3e-10    /* K, last step of a search */
#define ROUNDING 1e-12 /* relative, of a difference of saturation from a line through it */
/* kg/kg, least humidity ratio that is more than rounding. */
#define W_NOTHING 1e-9

static double celsius(double T)
{
    return T - CT_ZERO_C;
}

/* Not that of units.c: the build's table maker links this file without it. */
static double fahrenheit(double T)
{
    return (T - CT_ZERO_C) * CT_F_PER_K + 32.0;
}

/* ---- Saturation ----------------------------------------------------------------- */

/* Over liquid from the pieces, 1e-11 from the formula: every search below asks often. */
static double psat_and_slope(double T, double *slope)
{
    double psat;

    if (T >= CT_AIR_T_TRIPLE && ct_water_psat(T, &psat, slope)) return psat;
    psat = exp(ct_saturation_ln_p(T));
    *slope = psat * ct_saturation_ln_slope(T);
    return psat;
}

double ct_air_psat(double T)
{
    double slope;

    return psat_and_slope(T, &slope);
}

double ct_air_psat_slope(double T)
{
    double slope;

    psat_and_slope(T, &slope);
    return slope;
}

double ct_air_psat_liquid(double T)
{
    double slope;

    return ct_saturation_liquid(T, &slope);
}

double ct_air_psat_liquid_slope(double T)
{
    double slope;

    ct_saturation_liquid(T, &slope);
    return slope;
}

/* ---- Ideal mixture --------------------------------------------------------------- */

/* Humidity ratio from vapor pressure, ch. 1 eq. 20, and back. */
static double W_from_pv(double pv, double p)
{
    return CT_AIR_EPS * pv / (p - pv);
}
static double pv_from_W(double W, double p)
{
    return p * W / (CT_AIR_EPS + W);
}

double ct_air_W_sat_liquid(double T, double p, double *dW_dT)
{
    return ct_moist_W_sat(T, p, dW_dT);
}

double ct_air_W_sat(double T, double p)
{
    return W_from_pv(ct_air_psat(T), p);
}

/* And d(W_sat)/dT at constant pressure. */
static double W_sat_and_slope(double T, double p, double *slope)
{
    double psat_slope;
    const double psat = psat_and_slope(T, &psat_slope);

    return ct_moist_W_of(psat, psat_slope, p, slope);
}

double ct_air_h(double T, double W)
{
    return CT_AIR_CPA * celsius(T) + W * ct_moist_h_vapor(T);
}

double ct_air_cp(double W)
{
    return ct_moist_cp(W);
}
double ct_air_v(double T, double W, double p)
{
    return CT_AIR_RA * T * (1 + W / CT_AIR_EPS) / p;
}
double ct_air_h_water(double T)
{
    return ct_moist_h_water(T);
}

double ct_air_h_vapor(double T)
{
    return ct_moist_h_vapor(T);
}

double ct_air_rh(const ct_air *air)
{
    return pv_from_W(air->W, air->p) / ct_air_psat(air->T);
}

ct_status ct_air_pressure(double altitude, double *p, ct_fault *fault)
{
    if (!(altitude >= CT_AIR_Z_MIN && altitude <= CT_AIR_Z_MAX))
        return ct_fail(fault, CT_RANGE, altitude, CT_AIR_Z_MIN, CT_AIR_Z_MAX,
                       "altitude %.0f ft (%.0f m) is outside -1640 to 16404 ft (-500 to 5000 m)",
                       altitude / CT_M_PER_FT, altitude);
    *p = CT_ATM_PA * pow(1 - 2.25577e-5 * altitude, 5.2559);
    return CT_OK;
}

/* ---- Checks on what was given ---------------------------------------------------- */

static ct_status check_T_p(double T, double p, ct_fault *fault)
{
    if (!(T >= CT_AIR_T_MIN && T <= CT_AIR_T_MAX))
        return ct_fail(fault, CT_RANGE, T, CT_AIR_T_MIN, CT_AIR_T_MAX,
                       "dry bulb %.1f F (%.1f C) is outside -148 to 212 F (-100 to 100 C)",
                       fahrenheit(T), celsius(T));
    if (!(p >= CT_AIR_P_MIN && p <= CT_AIR_P_MAX))
        return ct_fail(fault, CT_RANGE, p, CT_AIR_P_MIN, CT_AIR_P_MAX,
                       "barometric pressure %.2f kPa is outside 50 to 120 kPa; check the altitude",
                       p / 1000);
    if (!(p > 2 * ct_air_psat(T)))
        return ct_fail(fault, CT_RANGE, T, CT_AIR_T_MIN, NAN,
                       "dry bulb %.1f F (%.1f C) is too hot for this moist-air model at %.1f kPa; "
                       "saturated air would be half steam",
                       fahrenheit(T), celsius(T), p / 1000);
    return CT_OK;
}

/* A wet bulb or dew point: a number, not above the dry bulb and not below the range. */
static ct_status check_below(const char *name, double T_reading, double T, ct_fault *fault)
{
    if (T_reading >= CT_AIR_T_MIN && T_reading <= T) return CT_OK;
    return ct_fail(fault, CT_INPUT, T_reading, CT_AIR_T_MIN, T,
                   "%s %.1f F (%.1f C) must lie between -148 F (-100 C) and the dry bulb, %.1f F "
                   "(%.1f C); check the reading",
                   name, fahrenheit(T_reading), celsius(T_reading), fahrenheit(T), celsius(T));
}

/* ---- States from readings -------------------------------------------------------- */

ct_status ct_air_from_W(double T, double W, double p, ct_air *air, ct_fault *fault)
{
    const ct_status status = check_T_p(T, p, fault);
    if (status != CT_OK) return status;
    if (!(W >= 0 && W <= CT_AIR_EPS))
        return ct_fail(fault, CT_INPUT, W, 0, CT_AIR_EPS,
                       "humidity ratio %g is outside 0 to %g kg/kg of dry air", W, CT_AIR_EPS);
    *air = (ct_air){.T = T, .W = W, .p = p};
    return CT_OK;
}

ct_status ct_air_from_rh(double T, double rh, double p, ct_air *air, ct_fault *fault)
{
    const ct_status status = check_T_p(T, p, fault);
    if (status != CT_OK) return status;
    if (!(rh >= 0 && rh <= 1))
        return ct_fail(fault, CT_INPUT, rh, 0, 1, "relative humidity %.1f%% is outside 0 to 100%%",
                       100 * rh);
    *air = (ct_air){.T = T, .W = W_from_pv(rh * ct_air_psat(T), p), .p = p};
    return CT_OK;
}

ct_status ct_air_from_dew_point(double T, double T_dp, double p, ct_air *air, ct_fault *fault)
{
    ct_status status = check_T_p(T, p, fault);
    if (status != CT_OK) return status;
    status = check_below("dew point", T_dp, T, fault);
    if (status != CT_OK) return status;
    *air = (ct_air){.T = T, .W = ct_air_W_sat(T_dp, p), .p = p};
    return CT_OK;
}

/* The wet-bulb relation of ch. 1, eq. 33 with water on the wick, eq. 35 with ice, both being
 *   W (hg0 + cpv t - c t*) = (hg0 - (c - cpv) t*) W_s(t*) - cpa (t - t*), t in C. */
typedef struct {
    double hg0, c; /* J/kg vapor less water or ice at 0 C; J/kg K of the water or ice */
} wick;

static const wick wet_wick = {CT_AIR_HG0, CT_AIR_CPW};
static const wick icy_wick = {ICE_HG0, ICE_CP};

static double W_from_wick(const wick *k, double T, double T_wb, double p)
{
    const double t = celsius(T), t_wb = celsius(T_wb);
    return ((k->hg0 - (k->c - CT_AIR_CPV) * t_wb) * ct_air_W_sat(T_wb, p) -
            CT_AIR_CPA * (t - t_wb)) /
           (k->hg0 + CT_AIR_CPV * t - k->c * t_wb);
}

ct_status ct_air_from_wet_bulb(double T, double T_wb, double p, ct_air *air, ct_fault *fault)
{
    ct_status status = check_T_p(T, p, fault);
    if (status != CT_OK) return status;
    status = check_below("wet bulb", T_wb, T, fault);
    if (status != CT_OK) return status;
    const double W = W_from_wick(T_wb >= CT_ZERO_C ? &wet_wick : &icy_wick, T, T_wb, p);
    if (!(W >= -W_NOTHING))
        return ct_fail(fault, CT_INPUT, T_wb, NAN, T,
                       "wet bulb %.1f F (%.1f C) is too low for dry bulb %.1f F (%.1f C): even "
                       "bone-dry air would read more; check both readings and the wick",
                       fahrenheit(T_wb), celsius(T_wb), fahrenheit(T), celsius(T));
    *air = (ct_air){.T = T, .W = fmax(W, 0), .p = p};
    return CT_OK;
}

/* ---- Dew point and wet bulb ------------------------------------------------------ */

/* ln p_sat is nearly straight in 1/T, so Newton on it needs three or four steps. */
static double above_ln_pv(double T, const void *about, double *slope)
{
    *slope = ct_saturation_ln_slope(T);
    return ct_saturation_ln_p(T) - *(const double *)about;
}

/* First guess by the Magnus form (any set of its constants will do: only a guess). */
static double magnus(double ln_pv)
{
    const double x = (ln_pv - 6.4145) / 17.62;
    return fmin(fmax(CT_ZERO_C + 243.12 * x / (1 - x), CT_AIR_T_MIN), CT_AIR_T_MAX);
}

ct_status ct_air_dew_point(const ct_air *air, double *T_dp, ct_fault *fault)
{
    const ct_status status = check_T_p(air->T, air->p, fault);
    if (status != CT_OK) return status;
    const double pv = pv_from_W(air->W, air->p);
    if (!(pv >= ct_air_psat(CT_AIR_T_MIN) && pv <= ct_air_psat(CT_AIR_T_MAX)))
        return ct_fail(fault, CT_RANGE, air->W, NAN, NAN,
                       "humidity ratio %g has its dew point outside -148 to 212 F (-100 to 100 C)",
                       air->W);
    const double ln_pv = log(pv);
    *T_dp = ct_search_newton(above_ln_pv, &ln_pv, CT_AIR_T_MIN, CT_AIR_T_MAX, magnus(ln_pv), T_TOL);
    return CT_OK;
}

typedef struct {
    const ct_air *air;
    const wick *wick;
} wet_bulb_of;

/* The wet-bulb relation with everything on one side, J/kg: rises with T_wb. */
static double wick_gains(double T_wb, const void *about, double *slope)
{
    const wet_bulb_of *of = about;
    const wick *k = of->wick;
    const double t = celsius(of->air->T), t_wb = celsius(T_wb), W = of->air->W;
    double W_s_slope;
    const double W_s = W_sat_and_slope(T_wb, of->air->p, &W_s_slope);
    const double latent = k->hg0 - (k->c - CT_AIR_CPV) * t_wb;
    *slope = latent * W_s_slope - (k->c - CT_AIR_CPV) * W_s + CT_AIR_CPA + W * k->c;
    return latent * W_s - CT_AIR_CPA * (t - t_wb) - W * (k->hg0 + CT_AIR_CPV * t - k->c * t_wb);
}

static ct_status check_unsaturated(const ct_air *air, ct_fault *fault)
{
    const double W_s = ct_air_W_sat(air->T, air->p);
    if (air->W >= 0 && air->W <= W_s * (1 + SATURATED)) return CT_OK;
    return ct_fail(fault, CT_INPUT, air->W, 0, W_s,
                   "humidity ratio %g at %.1f F (%.1f C) is outside 0 to saturation, %g kg/kg",
                   air->W, fahrenheit(air->T), celsius(air->T), W_s);
}

ct_status ct_air_wet_bulb(const ct_air *air, double *T_wb, ct_fault *fault)
{
    ct_status status = check_T_p(air->T, air->p, fault);
    if (status != CT_OK) return status;
    status = check_unsaturated(air, fault);
    if (status != CT_OK) return status;
    double slope;
    wet_bulb_of of = {air, &wet_wick};
    /* Just below freezing the wick may hold ice or (still) water, and a band of states has a wet
     * bulb of each kind. Water is taken where it can be, so that the answer never jumps inside. */
    const bool water = air->T >= CT_ZERO_C && wick_gains(CT_ZERO_C, &of, &slope) <= 0;
    if (!water) of.wick = &icy_wick;
    const double low = water ? CT_ZERO_C : CT_AIR_T_MIN;
    const double high = water ? air->T : fmin(air->T, CT_ZERO_C);
    if (wick_gains(high, &of, &slope) <= 0)
        *T_wb = high; /* saturated, to rounding */
    else if (wick_gains(low, &of, &slope) <= 0)
        *T_wb = ct_search_newton(wick_gains, &of, low, high, high, T_TOL);
    else
        return ct_fail(fault, CT_RANGE, air->T, CT_AIR_T_MIN, NAN,
                       "wet bulb of air at %.1f F (%.1f C) is below -148 F (-100 C)",
                       fahrenheit(air->T), celsius(air->T));
    return CT_OK;
}

/* ---- Apparatus dew point --------------------------------------------------------- */

/* The line is straight in h and W (as air mixes, and as the chart is drawn): h = a + b W. */
typedef struct {
    double a, b, p;
} coil_line;

/* Humidity ratio of the line at T less saturation, kg/kg, and its slope. */
static double over_saturation(double T, const void *about, double *slope)
{
    const coil_line *line = about;
    const double t = celsius(T), below = ct_air_h_vapor(T) - line->b;
    const double W = (line->a - CT_AIR_CPA * t) / below;
    double W_s_slope;
    const double W_s = W_sat_and_slope(T, line->p, &W_s_slope);
    *slope = -(CT_AIR_CPA + W * CT_AIR_CPV) / below - W_s_slope;
    return W - W_s;
}

/* The temperature in [low, high], all ice or all liquid, where the line comes nearest to saturation
 * or goes furthest past it. Saturation curves one way there, so the slope changes sign once. */
static double nearest_approach(const coil_line *line, double low, double high)
{
    double slope;
    over_saturation(low, line, &slope);
    if (slope <= 0) return low;
    over_saturation(high, line, &slope);
    if (slope >= 0) return high;
    for (int i = 0; i < 60 && high - low > 1e-9; i++) {
        const double T = 0.5 * (low + high);
        over_saturation(T, line, &slope);
        if (slope > 0)
            low = T;
        else
            high = T;
    }
    return 0.5 * (low + high);
}

/* First crossing going down from `high`, where the line is not above saturation. */
static bool first_crossing(const coil_line *line, double low, double high, double *T)
{
    double slope;
    const double T_near = nearest_approach(line, low, high);
    if (over_saturation(T_near, line, &slope) < 0) return false;
    *T = ct_search_newton(over_saturation, line, T_near, high, high, T_TOL);
    return true;
}

static ct_status check_coil_ends(const ct_air *in, const ct_air *out, ct_fault *fault)
{
    const ct_air *ends[] = {in, out};
    for (int i = 0; i < 2; i++) {
        ct_status status = check_T_p(ends[i]->T, ends[i]->p, fault);
        if (status == CT_OK) status = check_unsaturated(ends[i], fault);
        if (status != CT_OK) return status;
    }
    if (!(out->T < in->T))
        return ct_fail(
            fault, CT_INPUT, out->T, NAN, in->T,
            "leaving air %.1f F (%.1f C) is not cooler than entering air %.1f F (%.1f C)",
            fahrenheit(out->T), celsius(out->T), fahrenheit(in->T), celsius(in->T));
    if (!(in->W - out->W > W_NOTHING))
        return ct_fail(fault, CT_NO_ROOT, out->W, NAN, in->W,
                       "the coil is dry (humidity ratio in %g, out %g): no apparatus dew point",
                       in->W, out->W);
    return CT_OK;
}

ct_status ct_air_adp(const ct_air *in, const ct_air *out, double *T_adp, double *bypass,
                     ct_fault *fault)
{
    const ct_status status = check_coil_ends(in, out, fault);
    if (status != CT_OK) return status;
    const double h_in = ct_air_h(in->T, in->W), h_out = ct_air_h(out->T, out->W);
    const double b = (h_in - h_out) / (in->W - out->W);
    const coil_line line = {h_in - b * in->W, b, out->p};
    double T = out->T, slope;
    const bool met =
        over_saturation(out->T, &line, &slope) >= -ROUNDING * out->W ||
        (out->T > CT_AIR_T_TRIPLE && first_crossing(&line, CT_AIR_T_TRIPLE, out->T, &T)) ||
        first_crossing(&line, CT_AIR_T_MIN, fmin(out->T, CT_AIR_T_TRIPLE), &T);
    if (!met)
        return ct_fail(fault, CT_NO_ROOT, out->T, NAN, NAN,
                       "the line from entering through leaving air (%.1f F, W %g) never meets "
                       "saturation: it takes out more moisture per degree than any one surface can",
                       fahrenheit(out->T), out->W);
    const double h_adp = ct_air_h(T, ct_air_W_sat(T, line.p));
    *T_adp = T;
    *bypass = T < out->T ? (h_out - h_adp) / (h_in - h_adp) : 0;
    return CT_OK;
}
