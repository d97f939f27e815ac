#include "plant/heating.h"

#include <math.h>

#include "base/search.h"
#include "base/units.h"
#include "fluid/air.h"
#include "part/charge.h"

#define TOL 1e-11
/* Any dryness does: the coil stays dry, and moisture moves the air's heat capacity by 1 %. */
#define RH_INDOOR 0.3

/* Indoor side at one airflow: what does not depend on the refrigerant. */
typedef struct {
    ct_air in;  /* entering the coil */
    double C;   /* W/K, of the air */
    double UAo; /* W/K */
} air_side;

typedef struct {
    const ct_heat_pump *hp;
    const ct_heating_air *at;
    air_side air;
    double eps_out; /* W/K, outdoor coil in this air */
    double W_out;   /* kg/kg, moisture of the outdoor air */
    ct_compressor_suction suction;
    ct_compressor_out comp;
    ct_condenser_state cond;
    ct_condenser_zones zones;
    double UA, eps_C; /* W/K, indoor coil */
    double T_boil;
    double Q_rated; /* W, heat to be given; 0: the outdoor coil decides */
    double P_rated; /* W, the compressor's input then; 0: its own */
    bool high;      /* the head is beyond the table */
} search;

static ct_status air_side_at(const ct_heat_pump *hp, const ct_heating_air *at, air_side *side,
                             ct_fault *fault)
{
    ct_air in;
    ct_coil_air air;
    ct_status status = ct_air_from_rh(at->T_in, RH_INDOOR, at->p, &in, fault);

    if (status != CT_OK) return status;
    if (hp->before_coil) in.T += at->P_blower / (at->m_da * ct_air_cp(in.W));
    status = ct_coil_at_air(&hp->coil, &in, at->m_da, &air, fault);
    if (status == CT_OK) *side = (air_side){in, at->m_da * air.cp, air.UAo_dry};
    return status;
}

/* Heat the indoor coil could give over what it has to, less 1, at a discharge of Tc. */
static double head_short(double Tc, void *context)
{
    search *s = context;
    const ct_heat_pump *hp = s->hp;
    const ct_condenser end = {.subcooling = hp->subcooling};

    if (ct_compressor_discharge(&hp->compressor, hp->refrigerant, &s->suction, Tc, &s->comp,
                                NULL) != CT_OK ||
        ct_condenser_state_at(&end, hp->refrigerant, Tc, &s->cond, NULL) != CT_OK)
        return NAN;
    if (s->P_rated > 0.0) s->comp.h2 = s->comp.h1 + s->P_rated / s->comp.m;
    const double UAi = CT_HEATING_CONDENSING * ct_coil_UAi(&hp->coil, s->comp.m);
    const ct_condenser_flow flow = ct_plant_to_condenser(&s->comp, &s->cond);

    s->UA = 1.0 / (1.0 / s->air.UAo + 1.0 / UAi);
    s->eps_C = -s->air.C * expm1(-s->UA / s->air.C);
    s->zones = ct_condenser_shares(&s->cond, &flow, s->eps_C, s->air.in.T);
    return ct_condenser_residual(&s->cond, &s->zones, s->air.in.T);
}

/* The discharge at which the indoor coil sheds what the compressor delivers from this suction. */
static bool find_head(search *s, double superheat, double Te)
{
    const ct_refrigerant *r = s->hp->refrigerant;
    const double low = fmax(Te, s->air.in.T) + 1.0;
    ct_bracket b = {.low = low, .high = ct_refrigerant_T_max(r) - 0.01};
    int rounds;

    s->high = false;
    if (ct_compressor_suction_at(&s->hp->compressor, r, Te, superheat, &s->suction, NULL) != CT_OK)
        return false;
    b.f_high = head_short(b.high, s);
    b.f_low = head_short(b.low, s);
    if (!isfinite(b.f_low) || !isfinite(b.f_high)) return false;
    s->high = b.f_high < 0.0;
    if (s->high || b.f_low > 0.0) return false;
    return fabs(head_short(ct_search_false_position(head_short, s, b, TOL, &rounds), s)) < 1e-7;
}

static double superheat_at(const ct_heat_pump *hp, double T_out, double Te)
{
    return fmin(hp->superheat, CT_HEATING_SUPERHEAT_SHARE * (T_out - Te));
}

/* W that the outdoor coil takes in at 1 W/K of its dry conductance. Frost counts as water: its heat
 * of freezing, an eighth more, would make a step at the freezing point. */
static double outdoor_drive(const search *s)
{
    const double dT = s->at->T_out - s->T_boil;
    const double Ts = s->T_boil + CT_HEATING_SURFACE_SHARE * dT;
    const double dW = s->W_out - ct_air_W_sat(Ts, s->at->p);

    if (!(dT > 0.0 && dW > 0.0)) return dT;
    return dT * (1.0 + CT_AIR_HG0 * dW / (ct_air_cp(s->W_out) * (s->at->T_out - Ts)));
}

static double taken(const search *s)
{
    return s->comp.m * (s->suction.h - s->cond.h_liquid);
}

/* Refrigerant's heat over what the outdoor coil takes in, less 1 or so: rises with the suction.
 * Where no head can be worked out the suction is too high for the indoor coil, or far too low. */
static double outdoor_short(double Te, void *context)
{
    search *s = context;
    const double dT = s->at->T_out - Te;

    if (!find_head(s, superheat_at(s->hp, s->at->T_out, Te), Te)) return s->high ? 1.0 : -1.0;
    if (ct_plant_boil_temperature(s->hp->refrigerant, Te, s->cond.h_liquid, &s->T_boil, NULL) !=
        CT_OK)
        return -1.0;
    if (s->Q_rated > 0.0) return (s->comp.m * (s->comp.h2 - s->cond.h_liquid)) / s->Q_rated - 1.0;
    const double Q_coil = s->eps_out * outdoor_drive(s);
    return dT > 0.0 ? (taken(s) - Q_coil) / (taken(s) + fabs(Q_coil)) : 1.0;
}

static void record(const search *s, ct_heating_balance *out)
{
    const ct_heating_air *at = s->at;
    const double taken_up = taken(s);
    ct_heating_balance b = {.Te = s->suction.Te,
                            .Tc = s->cond.T_dew,
                            .p_suction = s->suction.p,
                            .m_r = s->comp.m,
                            .P_compressor = s->comp.P,
                            .Q_outdoor = taken_up,
                            .Q = taken_up + s->comp.P,
                            .UA = s->UA,
                            .eps_C = s->eps_C,
                            .liquid_share = s->zones.liquid,
                            .vapor_share = s->zones.vapor,
                            .C = s->air.C,
                            .T_air = s->air.in.T,
                            .h_hot = s->comp.h2,
                            .cond = s->cond};

    b.Q_net = b.Q + at->P_blower;
    b.P_total = b.P_compressor + s->hp->P_fan + at->P_blower;
    b.COP = b.Q_net / b.P_total;
    b.T_supply = at->T_in + b.Q_net / s->air.C;
    b.residual = s->eps_out * outdoor_drive(s) / taken_up - 1.0;
    *out = b;
}

static ct_status no_balance(const search *s, ct_fault *fault)
{
    if (s->high)
        return ct_fail(fault, CT_NO_ROOT, ct_refrigerant_T_max(s->hp->refrigerant), NAN, NAN,
                       "heating: saturated discharge beyond %.0f F, the end of the refrigerant's "
                       "table: too little air over the indoor coil",
                       ct_F_from_K(ct_refrigerant_T_max(s->hp->refrigerant)));
    return ct_fail(fault, CT_NO_CONV, s->at->T_out, NAN, NAN,
                   "heating: no suction balances at %.0f F outdoors", ct_F_from_K(s->at->T_out));
}

static double eps_C_here(double eps_C, double p)
{
    const ct_condenser outdoor = {.eps_C = eps_C};

    return ct_condenser_eps_C(&outdoor, p);
}

/* Te where the residual is zero, in *s everything that follows. */
static ct_status find_suction(search *s, ct_fault *fault)
{
    const ct_refrigerant *r = s->hp->refrigerant;
    ct_bracket b = {.low = fmax(ct_refrigerant_T_min(r) + 0.01, s->at->T_out - 60.0),
                    .high = s->at->T_out - 0.01};
    int rounds;
    ct_air outdoors;
    ct_status status = air_side_at(s->hp, s->at, &s->air, fault);

    if (status == CT_OK)
        status = ct_air_from_rh(s->at->T_out, CT_HEATING_RH_OUTDOOR, s->at->p, &outdoors, fault);
    if (status != CT_OK) return status;
    s->W_out = outdoors.W;
    b.f_low = outdoor_short(b.low, s);
    b.f_high = b.f_low < 0.0 ? outdoor_short(b.high, s) : b.f_low;
    if (!(b.f_low < 0.0 && b.f_high > 0.0)) return no_balance(s, fault);
    const double Te = ct_search_false_position(outdoor_short, s, b, TOL, &rounds);
    if (fabs(outdoor_short(Te, s)) < 1e-7) return CT_OK;
    outdoor_short(Te + 0.02, s); /* which side of a jump the search ended on is chance */
    return no_balance(s, fault);
}

static void scale_power(ct_compressor *c, double times)
{
    c->power *= c->kind == CT_COMPRESSOR_MAP ? times : 1.0 / times;
}

/* With what the rating at 17 F makes of its compressor on a day of T_out. */
static ct_heat_pump on_day(const ct_heat_pump *hp, double T_out)
{
    const double cold =
        fmax(0.0, (CT_HEATING_T_OUT - T_out) / (CT_HEATING_T_OUT - CT_HEATING_T_COLD));
    ct_heat_pump here = *hp;

    here.compressor.flow *= 1.0 + cold * hp->flow_cold;
    scale_power(&here.compressor, 1.0 + cold * hp->power_cold);
    return here;
}

ct_status ct_heating_solve(const ct_heat_pump *hp, const ct_heating_air *at,
                           ct_heating_balance *out, ct_fault *fault)
{
    const ct_heat_pump here = on_day(hp, at->T_out);
    search s = {.hp = &here, .at = at, .eps_out = eps_C_here(hp->eps_C, at->p)};
    ct_heating_balance found;
    ct_status status = find_suction(&s, fault);

    if (status != CT_OK) return status;
    record(&s, &found);
    status = ct_refrigerant_p_dew(hp->refrigerant, found.Tc, &found.p_discharge, fault);
    if (status == CT_OK) *out = found;
    return status;
}

/* ---- Ratings --------------------------------------------------------------------- */

static ct_status check_rating(const ct_outdoor_unit *u, const search *s, double eta,
                              ct_fault *fault)
{
    if (!(s->T_boil < CT_HEATING_T_OUT - 0.5))
        return ct_fail(fault, CT_INPUT, u->heat_pump.Q_net.v, NAN, NAN,
                       "rated heating capacity %.0f Btu/h: this compressor gives so much only with "
                       "%.0f F in the outdoor coil, at 47 F outdoors; check it and rated_capacity",
                       u->heat_pump.Q_net.v / CT_W_PER_BTUH, ct_F_from_K(s->T_boil));
    if (!(eta > 0.15 && eta < 0.95))
        return ct_fail(fault, CT_INPUT, u->heat_pump.COP.v, NAN, NAN,
                       "rated heating COP %.2f needs a compressor of %.0f%% isentropic efficiency "
                       "(15 to 95 possible); check it and the rated heating capacity",
                       u->heat_pump.COP.v, 100.0 * eta);
    return CT_OK;
}

static double rated_watts(const ct_outdoor_unit *u)
{
    const ct_heat_pump_spec *h = &u->heat_pump;

    return h->COP.has ? h->Q_net.v / h->COP.v - u->P_fan - h->P_blower : 0.0;
}

static ct_status rate(const ct_outdoor_unit *u, ct_heat_pump *hp, ct_fault *fault)
{
    const ct_heat_pump_spec *h = &u->heat_pump;
    const ct_heating_air at = {CT_HEATING_T_OUT, CT_HEATING_T_IN, CT_ATM_PA,
                               h->V_std * CT_STD_DENSITY, h->P_blower};
    search s = {
        .hp = hp, .at = &at, .Q_rated = h->Q_net.v - h->P_blower, .P_rated = rated_watts(u)};

    if (h->COP.has && !(s.P_rated > 0.0))
        return ct_fail(fault, CT_INPUT, h->COP.v, NAN, NAN,
                       "rated heating COP %.2f leaves no power for the compressor after blower "
                       "%.0f W and fan %.0f W",
                       h->COP.v, h->P_blower, u->P_fan);
    ct_status status = find_suction(&s, fault);
    if (status == CT_NO_CONV || status == CT_NO_ROOT)
        return ct_fail(fault, CT_INPUT, h->Q_net.v, NAN, NAN,
                       "rated heating capacity %.0f Btu/h: this compressor and indoor coil do not "
                       "give it at 47 F outdoors; check it, rated_cop and rated_capacity",
                       h->Q_net.v / CT_W_PER_BTUH);
    const double times = s.P_rated > 0.0 ? s.P_rated / s.comp.P : 1.0;
    if (status == CT_OK) status = check_rating(u, &s, s.comp.eta / times, fault);
    if (status != CT_OK) return status;
    hp->eps_C = taken(&s) / outdoor_drive(&s);
    scale_power(&hp->compressor, times);
    return CT_OK;
}

/* ---- The second rating, at 17 F --------------------------------------------------- */

typedef struct {
    const ct_heat_pump *hp; /* of the rating at 47 F */
    ct_heating_air at;
    double Q, P; /* W, of the coil and, when rated, of the compressor */
    search s;    /* what stood at the last trial */
    ct_status status;
    ct_fault *fault;
} cold;

/* Heat given there with the compressor's flow changed, over the rated, less 1; rises. */
static double cold_over(double change, void *context)
{
    cold *k = context;
    ct_heat_pump trial = *k->hp;

    trial.flow_cold = change;
    const ct_heat_pump here = on_day(&trial, CT_HEATING_T_COLD);
    k->s = (search){.hp = &here, .at = &k->at, .eps_out = k->hp->eps_C, .P_rated = k->P};
    k->status = find_suction(&k->s, k->fault);
    k->s.hp = NULL;
    if (k->status != CT_OK) return 0.0;
    return (taken(&k->s) + (k->P > 0.0 ? k->P : k->s.comp.P)) / k->Q - 1.0;
}

static ct_status no_cold(const cold *k, double low, double high)
{
    const double blower = k->at.P_blower;

    if (k->status != CT_OK) return k->status;
    return ct_fail(k->fault, CT_INPUT, k->Q + blower, (low + 1.0) * k->Q + blower,
                   (high + 1.0) * k->Q + blower,
                   "rated heating capacity at 17 F %.0f Btu/h: with its other ratings this unit "
                   "gives %.0f to %.0f Btu/h there; check rated_capacity_17, rated_cop_17 and "
                   "rated_capacity",
                   (k->Q + blower) / CT_W_PER_BTUH, ((low + 1.0) * k->Q + blower) / CT_W_PER_BTUH,
                   ((high + 1.0) * k->Q + blower) / CT_W_PER_BTUH);
}

static ct_status no_flow(const cold *k)
{
    return k->status != CT_OK
               ? k->status
               : ct_fail(k->fault, CT_NO_CONV, k->Q + k->at.P_blower, NAN, NAN,
                         "no compressor flow found that gives the rated heating capacity at 17 F; "
                         "check rated_capacity_17");
}

static ct_status rate_cold(const ct_outdoor_unit *u, ct_heat_pump *hp, ct_fault *fault)
{
    const ct_heat_pump_spec *h = &u->heat_pump;
    cold k = {.hp = hp,
              .at = {CT_HEATING_T_COLD, CT_HEATING_T_IN, CT_ATM_PA, h->V_std * CT_STD_DENSITY,
                     h->P_blower},
              .Q = h->Q_net_cold.v - h->P_blower,
              .P = h->COP_cold.has ? h->Q_net_cold.v / h->COP_cold.v - u->P_fan - h->P_blower : 0.0,
              .fault = fault};
    ct_bracket b = {.low = CT_HEATING_COLD_LEAST, .high = CT_HEATING_COLD_MOST};
    int rounds;

    if (h->COP_cold.has && !(k.P > 0.0))
        return ct_fail(fault, CT_INPUT, h->COP_cold.v, NAN, NAN,
                       "rated heating COP at 17 F %.2f leaves no power for the compressor after "
                       "blower %.0f W and fan %.0f W",
                       h->COP_cold.v, h->P_blower, u->P_fan);
    b.f_low = cold_over(b.low, &k);
    if (k.status == CT_OK) b.f_high = cold_over(b.high, &k);
    if (k.status != CT_OK || !(b.f_low < 0.0 && b.f_high > 0.0))
        return no_cold(&k, b.f_low, b.f_high);
    const double change = ct_search_false_position(cold_over, &k, b, TOL, &rounds);
    if (!(fabs(cold_over(change, &k)) < 1e-7) || k.status != CT_OK) return no_flow(&k);
    const double times = k.P > 0.0 ? k.P / k.s.comp.P : 1.0;
    if (!(k.s.comp.eta / times > 0.15 && k.s.comp.eta / times < 0.95))
        return ct_fail(fault, CT_INPUT, h->COP_cold.v, NAN, NAN,
                       "rated heating COP at 17 F %.2f needs a compressor of %.0f%% isentropic "
                       "efficiency (15 to 95 possible); check it and rated_capacity_17",
                       h->COP_cold.v, 100.0 * k.s.comp.eta / times);
    hp->flow_cold = change;
    hp->power_cold = times - 1.0;
    return CT_OK;
}

ct_status ct_heating_rate(const ct_outdoor_unit *u, const ct_outdoor *outdoor,
                          const ct_coil *matched, ct_heat_pump *out, ct_fault *fault)
{
    ct_heat_pump hp = {.refrigerant = outdoor->refrigerant,
                       .compressor = outdoor->compressor,
                       .coil = *matched,
                       .eps_C = outdoor->condenser.eps_C,
                       .superheat = u->superheat_rated,
                       .subcooling = u->heat_pump.subcooling,
                       .P_fan = outdoor->P_fan};
    ct_status status = u->heat_pump.Q_net.has ? rate(u, &hp, fault) : CT_OK;
    if (status == CT_OK && u->heat_pump.Q_net_cold.has) status = rate_cold(u, &hp, fault);

    if (status == CT_OK) *out = hp;
    return status;
}

void ct_heating_join(const ct_outdoor *rated, const ct_system *s, ct_heat_pump *hp)
{
    const ct_outdoor *o = &s->outdoor;

    hp->compressor.flow *= o->compressor.flow / rated->compressor.flow;
    hp->compressor.power *= o->compressor.power / rated->compressor.power;
    hp->eps_C *= o->condenser.eps_C / rated->condenser.eps_C;
    hp->coil = s->coil;
    hp->before_coil = s->before_coil;
}

ct_status ct_heating_held(const ct_heat_pump *hp, const ct_heating_balance *b, double *density,
                          ct_fault *fault)
{
    const double condensing = 1.0 - b->vapor_share - b->liquid_share;
    ct_phases p;
    ct_liquid liquid;
    ct_status status = ct_refrigerant_phases(hp->refrigerant, b->Tc, &p, fault);

    if (status == CT_OK)
        status =
            ct_refrigerant_liquid(hp->refrigerant, p.T_bubble, b->cond.subcooling, &liquid, fault);
    if (status != CT_OK) return status;
    *density = b->vapor_share * p.rho_v +
               condensing * ct_charge_two_phase(p.rho_l, p.rho_v, 0.0, 1.0) +
               b->liquid_share * liquid.rho;
    return CT_OK;
}
