#include "plant/charge.h"

#include <math.h>
#include <stddef.h>

#include "part/charge.h"

#define CHARGE_TOL 1e-7
#define ROUNDS 40

typedef struct {
    ct_liquid liquid;
    ct_vapour vapour;
} phases;

static ct_status saturated(const ct_refrigerant *r, double T_dew, phases *p, ct_fault *fault)
{
    ct_status status = ct_suction_liquid(r, T_dew, &p->liquid, fault);

    return status == CT_OK ? ct_refrigerant_vapour(r, T_dew, 0.0, &p->vapour, fault) : status;
}

/* Kilograms per volume of the evaporator. */
static double coil_density(const phases *p, const ct_balance *b, double h_in)
{
    const double latent = p->vapour.h - p->liquid.h;
    const double x_in = fmin(fmax((h_in - p->liquid.h) / latent, 0.0), 0.9);
    const double x_out = fmax(b->quality_out, x_in + 1e-3);
    const double boiling =
        ct_charge_two_phase(p->liquid.rho, p->vapour.rho, x_in, fmin(x_out, 1.0));

    return (1.0 - b->superheat_area) * boiling + b->superheat_area * p->vapour.rho;
}

ct_status ct_charge_of(const ct_system *sys, const ct_balance *b, double *charge, ct_fault *fault)
{
    const ct_refrigerant *r = sys->outdoor.refrigerant;
    const double two_phase = 1.0 - b->desuperheat_share - b->subcool_share;
    ct_condenser_state state;
    ct_liquid liquid;
    phases high, low;
    ct_condenser here = sys->outdoor.condenser;
    ct_status status = saturated(r, b->Tc, &high, fault);

    here.subcooling = b->subcooling;
    if (status == CT_OK) status = saturated(r, b->T_coil, &low, fault);
    if (status == CT_OK) status = ct_condenser_state_at(&here, r, b->Tc, &state, fault);
    if (status == CT_OK)
        status = ct_refrigerant_liquid(r, state.T_bubble, b->subcooling, &liquid, fault);
    if (status != CT_OK) return status;
    *charge = b->desuperheat_share * high.vapour.rho +
              two_phase * ct_charge_two_phase(high.liquid.rho, high.vapour.rho, 0.0, 1.0) +
              (b->subcool_share + CT_CHARGE_LINE_VOLUME) * liquid.rho +
              CT_CHARGE_COIL_VOLUME * coil_density(&low, b, state.h_liquid);
    return CT_OK;
}

typedef struct {
    ct_solver *solver;
    ct_system sys;
    const ct_conditions *at;
    double charge;
    ct_balance *b;
    bool has_start;
} search;

/* Charge at a subcooling less the one wanted, over that. */
static ct_status excess(search *s, double subcooling, double *f, ct_fault *fault)
{
    const ct_start start = {s->b->Te, s->b->Tc, s->b->slope};
    double charge;
    ct_status status;

    s->sys.outdoor.condenser.subcooling = subcooling;
    status = ct_balance_solve(s->solver, &s->sys, s->at, s->has_start ? &start : NULL, s->b, fault);
    if (status == CT_OK) status = ct_charge_of(&s->sys, s->b, &charge, fault);
    if (status != CT_OK) return status;
    s->has_start = true;
    *f = charge / s->charge - 1.0;
    return CT_OK;
}

/* Illinois form of the false position; the charge rises with the subcooling. A subcooling too high
 * to balance counts as too much. */
static ct_status close_in(search *s, double low, double f_low, double high, double f_high,
                          ct_fault *fault)
{
    for (int i = 0; i < ROUNDS; i++) {
        const double x = (low * f_high - high * f_low) / (f_high - f_low);
        double f;
        ct_status status = excess(s, x, &f, fault);
        if (status != CT_OK || fabs(f) <= CHARGE_TOL) return status;
        if (f > 0.0) {
            high = x;
            f_high = f;
            f_low *= 0.5;
        } else {
            low = x;
            f_low = f;
            f_high *= 0.5;
        }
    }
    return ct_fail(fault, CT_NO_CONV, NAN, NAN, NAN, "no subcooling found for this charge");
}

ct_status ct_charge_balance(ct_solver *solver, const ct_system *sys, const ct_conditions *at,
                            double charge, ct_balance *out, int *held, ct_fault *fault)
{
    search s = {solver, *sys, at, charge, out, false};
    double low = 0.0, f_low, high = 2.0, f_high = -1.0;
    ct_status status = excess(&s, low, &f_low, fault);

    *held = status == CT_OK && f_low > 0.0 ? -1 : 0;
    if (status != CT_OK || f_low >= 0.0) return status;
    for (;; high += 2.0) {
        status = excess(&s, high, &f_high, fault);
        if (status != CT_OK || f_high >= 0.0 || high >= CT_CHARGE_SUBCOOLING_MAX) break;
        low = high;
        f_low = f_high;
    }
    if (status == CT_OK && f_high < 0.0) *held = 1;
    return status != CT_OK || *held ? status : close_in(&s, low, f_low, high, f_high, fault);
}
