#include "part/condenser.h"

#include <math.h>

#include "base/units.h"

/* d ln(C (1 - exp(-NTU)))/d ln p = 1 - (1 - m) NTU/(exp(NTU) - 1), with C ~ p and UA ~ p^m:
 * m = 0.5 and NTU = 1.3 give 0.757; NTU 1 to 1.6 gives 0.71 to 0.80. */
#define PRESSURE_EXPONENT 0.75

/* ct_condenser_relative at the usual conductances: (1 - exp(-0.78))/(1 - exp(-1.3)) and
 * (1 - exp(-0.715))/(1 - exp(-1.3)). */
#define E_VAPOR 0.7444916265874675
#define E_LIQUID 0.7021721132447387

#define LEAST_SHARE 1e-3

double ct_condenser_eps_C(const ct_condenser *condenser, double p)
{
    return condenser->eps_C * pow(p / CT_ATM_PA, PRESSURE_EXPONENT);
}

void ct_condenser_relative(double NTU, double vapor, double liquid, double *e_v, double *e_l)
{
    const double e = -expm1(-NTU);

    *e_v = -expm1(-vapor * NTU) / e;
    *e_l = -expm1(-liquid * NTU) / e;
}

ct_status ct_condenser_state_of(const ct_condenser *condenser, const ct_refrigerant *refrigerant,
                                double Tc, const ct_phases *at, ct_condenser_state *out,
                                ct_fault *fault)
{
    ct_liquid liquid;
    ct_status status =
        ct_refrigerant_liquid(refrigerant, at->T_bubble, condenser->subcooling, &liquid, fault);

    if (status != CT_OK) return status;
    *out = (ct_condenser_state){.T_mid = 0.5 * (Tc + at->T_bubble),
                                .T_dew = Tc,
                                .T_bubble = at->T_bubble,
                                .h_dew = at->h_v,
                                .h_bubble = at->h_l,
                                .cp_dew = at->cp_v,
                                .subcooling = condenser->subcooling,
                                .h_liquid = liquid.h,
                                .rho_liquid = liquid.rho};
    return CT_OK;
}

ct_status ct_condenser_state_at(const ct_condenser *condenser, const ct_refrigerant *refrigerant,
                                double Tc, ct_condenser_state *out, ct_fault *fault)
{
    ct_phases at;
    ct_status status = ct_refrigerant_phases(refrigerant, Tc, &at, fault);

    return status == CT_OK ? ct_condenser_state_of(condenser, refrigerant, Tc, &at, out, fault)
                           : status;
}

/* Vapor that arrives wet has no zone of its own: the condensing zone has less to do. */
static double vapor_share(const ct_condenser_state *s, const ct_condenser_flow *f, double eps_C,
                          double T_air)
{
    const double cp = f->cp > 0.0 ? f->cp : s->cp_dew;

    if (f->h2 <= s->h_dew) return 0.0; /* a NaN goes on and is seen */
    return log1p((f->h2 - s->h_dew) / cp / (s->T_dew - T_air)) * f->m * cp / (eps_C * E_VAPOR);
}

static double liquid_share(const ct_condenser_state *s, double m, double eps_C, double T_air)
{
    const double over = s->T_bubble - T_air;

    if (!(s->subcooling > 0.0)) return 0.0;
    if (!(s->subcooling < over)) return INFINITY;
    return -log1p(-s->subcooling / over) * m * (s->h_bubble - s->h_liquid) / s->subcooling /
           (eps_C * E_LIQUID);
}

ct_condenser_zones ct_condenser_shares(const ct_condenser_state *s, const ct_condenser_flow *f,
                                       double eps_C, double T_air)
{
    return (ct_condenser_zones){.vapor = vapor_share(s, f, eps_C, T_air),
                                .two_phase = f->m * (fmin(f->h2, s->h_dew) - s->h_bubble) /
                                             (eps_C * (s->T_mid - T_air)),
                                .liquid = liquid_share(s, f->m, eps_C, T_air)};
}

double ct_condenser_residual(const ct_condenser_state *s, const ct_condenser_zones *w, double T_air)
{
    const double all = w->vapor + w->two_phase + w->liquid;

    /* Wet vapor below its liquid has nothing to shed: the condenser is too large by far. */
    if (all < LEAST_SHARE) return 1.0 / LEAST_SHARE - 1.0;
    if (isfinite(w->liquid)) return 1.0 / all - 1.0;
    return -1.0 - 0.01 * (s->subcooling - (s->T_bubble - T_air));
}
