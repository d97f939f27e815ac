/* Random valid systems from a fixed seed, and the closure of heat and water of a balance. Shared by
 * the test and the benchmark. */
#ifndef CROWD_H
#define CROWD_H

#include "plant.h"

/* Heat and water in equals heat and water out, for the unit as a whole and for the coil, relative
 * to the heat. Worst of all, for the tally of random systems. */
static inline double closure(const ct_system *sys, const ct_conditions *at, const ct_balance *b)
{
    const ct_refrigerant *r = sys->outdoor.refrigerant;
    ct_condenser_state cond;
    double m_da = at->m_da, worst, h_out, T_eps, two_phase, h2;
    ct_vapor g;

    assert_int_equal(ct_condenser_state_at(&sys->outdoor.condenser, r, b->Tc, &cond, NULL), CT_OK);
    assert_int_equal(ct_refrigerant_vapor(r, b->T_coil, b->superheat, &g, NULL), CT_OK);
    h_out = g.h;
    h2 = cond.h_liquid + b->Q_condenser / b->m_r;
    if (b->quality_out < 1) {
        double p, T_bubble;
        ct_liquid f;
        assert_int_equal(ct_refrigerant_p_dew(r, b->T_coil, &p, NULL), CT_OK);
        assert_int_equal(ct_refrigerant_T_bubble(r, p, &T_bubble, NULL), CT_OK);
        assert_int_equal(ct_refrigerant_liquid(r, T_bubble, 0, &f, NULL), CT_OK);
        h_out = f.h + b->quality_out * (g.h - f.h);
    }
    worst = fabs(b->Q_condenser - b->Q - b->P_compressor - b->Q_line) / b->Q;
    worst = fmax(worst, fabs(b->m_r * (h_out - cond.h_liquid) - b->Q) / b->Q);
    double air = m_da * (ct_air_h(b->in.T, b->in.W) - ct_air_h(b->out.T, b->out.W));
    worst = fmax(worst, fabs(air - b->h_water - b->Q) / b->Q);
    worst = fmax(worst, fabs(m_da * (b->in.W - b->out.W) - b->water) / (m_da * b->in.W));
    T_eps = ct_condenser_eps_C(&sys->outdoor.condenser, at->in.p) * (cond.T_mid - at->T_out);
    two_phase = 1 - b->desuperheat_share - b->subcool_share;
    worst = fmax(worst,
                 fabs(T_eps * two_phase - b->m_r * (fmin(cond.h_dew, h2) - cond.h_bubble)) / b->Q);
    worst = fmax(worst, fabs(b->Q_sens + b->Q_lat - b->Q) / b->Q);
    return isfinite(worst) ? worst : 1;
}

static inline ct_meter piston_for(const plant *p)
{
    /* The bore that passes the rated flow at the A test. */
    ct_meter m = {.kind = CT_METER_ORIFICE, .orifice = {.length = 12.7e-3}};
    ct_inlet inlet;
    double p_up, p_down;
    assert_int_equal(ct_refrigerant_p_dew(p->r, p->c.outdoor.T_discharge_rated, &p_up, NULL),
                     CT_OK);
    assert_int_equal(ct_refrigerant_p_dew(p->r, p->c.outdoor.T_suction_rated, &p_down, NULL),
                     CT_OK);
    assert_int_equal(ct_inlet_after_line(p->r, p_up, p->c.outdoor.subcooling, 0, &inlet, NULL),
                     CT_OK);
    assert_int_equal(
        ct_orifice_bore(p->cal.m_rated, 12.7e-3, &inlet, p_down, &m.orifice.bore, NULL), CT_OK);
    return m;
}

static inline void random_case(ct_case *c, uint64_t *seed)
{
    static const char *const name[] = {"R-410A", "R-22", "R-407C", "R-32", "R-454B"};
    ct_outdoor_unit *u = &c->outdoor;

    plant_case(c, name[(int)(5 * even(seed)) % 5], 1.5 + 0.5 * floor(8 * even(seed)));
    u->EER *= between(seed, 0.8, 1.2);
    u->V_rated_std *= between(seed, 0.9, 1.1);
    u->SHR_rated = between(seed, 0.68, 0.80);
    u->T_suction_rated = K_(between(seed, 40, 48));
    u->T_discharge_rated += between(seed, -4, 6) / 1.8;
    u->superheat_rated = between(seed, 4, 15) / 1.8;
    /* The liquid of a blend at 116 F dew must stay warmer than the 95 F of the rating. */
    u->subcooling = between(seed, 2, 10) / 1.8;
    u->suction_drop = between(seed, 0, 3) / 1.8;
    u->suction_gain = between(seed, 0, 8) / 1.8;
}

static inline void random_join(plant *p, uint64_t *seed)
{
    ct_indoor_unit *unit = &p->c.indoor[0];
    unit->coil.size = between(seed, 0.6, 1.8);
    unit->coil.growth = even(seed) < 0.5 ? CT_GROW_FACE : CT_GROW_DEPTH;
    unit->meter.superheat = between(seed, 4, 15) / 1.8;
    unit->blower.before_coil = even(seed) < 0.3;
    const ct_setup setup = plant_setup(p);
    assert_int_equal(ct_setup_join(&setup, &p->sys, NULL), CT_OK);
    if (even(seed) < 0.4) {
        p->sys.meter = piston_for(p);
        p->sys.meter.orifice.bore *= between(seed, 0.9, 1.1);
    }
}

static inline void random_conditions(plant *p, uint64_t *seed)
{
    ct_conditions *at = &p->rating;
    double T = K_(between(seed, 66, 90)), cfm = between(seed, 220, 550) / 400;
    assert_int_equal(
        ct_air_from_rh(T, between(seed, 0.25, 0.8), between(seed, 8.3e4, 1.02e5), &at->in, NULL),
        CT_OK);
    at->T_out = K_(between(seed, 65, 125));
    at->m_da *= cfm;
    at->P_blower *= cfm;
}

#endif
