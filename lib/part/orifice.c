#include "part/orifice.h"

#include <math.h>
#include <stddef.h>

#include "base/search.h"
#include "base/units.h"

static double psi(double p)
{
    return p / CT_PA_PER_PSI;
}

static double mil(double d)
{
    return d / CT_M_PER_IN * 1000;
}

/* Payne & O'Neal 2004: choked mass flux of saturated or subcooled liquid, kg/s m2. */
static double liquid_flux(const ct_inlet *in, double L_over_D)
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
static double two_phase(const ct_inlet *in, double L_over_D, double x)
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

static double flux(const ct_inlet *in, double L_over_D)
{
    double G = liquid_flux(in, L_over_D);
    if (in->quality > 0) G *= two_phase(in, L_over_D, in->quality) / two_phase(in, L_over_D, 0);
    return G;
}

static double flow(const ct_inlet *in, double bore, double length)
{
    return M_PI / 4 * bore * bore * flux(in, length / bore);
}

static ct_status orifice_inlet_ok(double length, const ct_inlet *in, double p_down, ct_fault *fault)
{
    const double sub_max = 20;
    if (!(length >= 3e-3 && length <= 40e-3))
        return ct_fail(fault, CT_RANGE, length, 3e-3, 40e-3,
                       "piston length %.3g in is outside 0.12 to 1.57 in", length / CT_M_PER_IN);
    if (!(in->subcooling >= 0 && in->subcooling <= sub_max))
        return ct_fail(fault, CT_RANGE, in->subcooling, 0, sub_max,
                       "liquid at the piston is %.1f F subcooled; the flow equation ends at %.0f F",
                       in->subcooling * CT_F_PER_K, sub_max * CT_F_PER_K);
    if (!(in->quality >= 0 && in->quality <= CT_INLET_QUALITY_MAX))
        return ct_fail(fault, CT_RANGE, in->quality, 0, CT_INLET_QUALITY_MAX,
                       "quality at the piston %.2f is outside 0 to %.1f", in->quality,
                       CT_INLET_QUALITY_MAX);
    if (!(p_down < in->p_sat))
        return ct_fail(fault, CT_RANGE, p_down, 0, in->p_sat,
                       "after the piston %.1f psia is not below the liquid's saturation pressure "
                       "%.1f psia: the flow is not choked and the equation does not hold",
                       psi(p_down), psi(in->p_sat));
    return CT_OK;
}

static unsigned outside_data(const ct_orifice *o, const ct_inlet *in)
{
    unsigned bits = 0;
    if (!(o->bore >= CT_ORIFICE_DATA_BORE_MIN && o->bore <= CT_ORIFICE_DATA_BORE_MAX))
        bits |= CT_ORIFICE_BORE;
    if (!(o->length >= CT_ORIFICE_DATA_LENGTH_MIN && o->length <= CT_ORIFICE_DATA_LENGTH_MAX))
        bits |= CT_ORIFICE_LENGTH;
    if (in->subcooling > CT_ORIFICE_DATA_SUBCOOLING_MAX) bits |= CT_ORIFICE_SUBCOOLING;
    return bits;
}

ct_status ct_orifice_flow(const ct_orifice *o, const ct_inlet *in, double p_down,
                          ct_orifice_out *out, ct_fault *fault)
{
    if (!(o->bore >= CT_ORIFICE_BORE_MIN && o->bore <= CT_ORIFICE_BORE_MAX))
        return ct_fail(fault, CT_RANGE, o->bore, CT_ORIFICE_BORE_MIN, CT_ORIFICE_BORE_MAX,
                       "piston bore %.4f in is outside %.3f to %.3f in", mil(o->bore) / 1000,
                       mil(CT_ORIFICE_BORE_MIN) / 1000, mil(CT_ORIFICE_BORE_MAX) / 1000);
    ct_status status = orifice_inlet_ok(o->length, in, p_down, fault);
    if (status != CT_OK) return status;
    double m = flow(in, o->bore, o->length);
    if (!(m > 0 && isfinite(m)))
        return ct_fail(fault, CT_RANGE, m, NAN, NAN,
                       "the piston flow equation gives no flow at %.0f psia and %.1f F subcooling",
                       psi(in->p), in->subcooling * CT_F_PER_K);
    *out = (ct_orifice_out){m, in->quality > 0, outside_data(o, in)};
    return CT_OK;
}

typedef struct {
    const ct_inlet *in;
    double length, m;
} bore_search;

static bool passes_less(double bore, void *context)
{
    const bore_search *k = context;
    return flow(k->in, bore, k->length) < k->m;
}

/* Flow rises with bore steadily, and 50 halvings cost nothing beside a balance. */
ct_status ct_orifice_bore(double m, double length, const ct_inlet *in, double p_down, double *bore,
                          ct_fault *fault)
{
    double low = CT_ORIFICE_BORE_MIN, high = CT_ORIFICE_BORE_MAX;
    ct_status status = orifice_inlet_ok(length, in, p_down, fault);
    if (status != CT_OK) return status;
    double m_low = flow(in, low, length), m_high = flow(in, high, length);
    if (!(m >= m_low && m <= m_high))
        return ct_fail(fault, CT_NO_ROOT, m, m_low, m_high,
                       "no piston between %.0f and %.0f thousandths of an inch passes %.4g lb/h; "
                       "they pass %.4g to %.4g",
                       mil(low), mil(high), m / CT_KG_PER_LBM * 3600, m_low / CT_KG_PER_LBM * 3600,
                       m_high / CT_KG_PER_LBM * 3600);
    bore_search k = {in, length, m};
    *bore = ct_search_halve(passes_less, &k, low, high, 50);
    return CT_OK;
}

void ct_orifice_nearest(double bore, double *below, double *above)
{
    static const int shelf[] = {49, 51, 53, 55, 57, 59, 61, 63, 65, 67,  70,  73,  76, 78,
                                80, 82, 84, 86, 88, 90, 93, 96, 98, 101, 104, 107, 110};
    /* m: a bore that is on the shelf is its own neighbor on both sides */
    const double same = 1e-9;
    *below = *above = NAN;
    for (size_t i = 0; i < sizeof shelf / sizeof *shelf; i++) {
        double d = shelf[i] * CT_M_PER_IN / 1000;
        if (d <= bore + same) *below = d;
        if (d >= bore - same && isnan(*above)) *above = d;
    }
}
