#include "second_plant.h"

#include <math.h>
#include <string.h>

#include "base/units.h"

/* ---- A root by false position, one end's weight halved when it stays (Illinois) ---- */

typedef double (*residual)(double x, void *context);

static bool root(residual f, void *context, double a, double b, double *x)
{
    double fa = f(a, context), fb = f(b, context);
    if (!isfinite(fa) || !isfinite(fb) || fa * fb > 0.0) return false;
    for (int i = 0; i < 200; i++) {
        const double middle = i % 3 == 2 ? 0.5 * (a + b) : (a * fb - b * fa) / (fb - fa);
        const double fm = f(middle, context);
        if (!isfinite(fm)) return false;
        *x = middle;
        if (fabs(fm) < 1e-8 || fabs(b - a) < 1e-9) return true;
        if (fm * fb < 0.0) {
            a = b;
            fa = fb;
        } else {
            fa *= 0.5;
        }
        b = middle;
        fb = fm;
    }
    return false;
}

/* ---- Coil: one surface, a bypass factor -------------------------------------------- */

typedef struct {
    ct_air in;
    double m_da, NTU, UAi, T_boil;
} coil_at;

typedef struct {
    double T, W, Q; /* leaving air, heat the tubes take */
} coil_leaves;

static coil_leaves coil_with(const coil_at *c, double Ts)
{
    const double share = 1.0 - exp(-c->NTU);
    const double Ws = fmin(ct_air_W_sat(Ts, c->in.p), c->in.W);
    coil_leaves out = {c->in.T - share * (c->in.T - Ts), c->in.W - share * (c->in.W - Ws), 0};
    out.Q = c->m_da * (ct_air_h(c->in.T, c->in.W) - ct_air_h(out.T, out.W) -
                       (c->in.W - out.W) * ct_air_h_water(Ts));
    return out;
}

static double surface_residual(double Ts, void *context)
{
    const coil_at *c = context;
    return coil_with(c, Ts).Q / (c->UAi * (c->in.T - c->T_boil)) -
           (Ts - c->T_boil) / (c->in.T - c->T_boil);
}

static bool coil_run(const coil_at *c, coil_leaves *out)
{
    double Ts;
    coil_at copy = *c;
    if (!(c->T_boil < c->in.T - 0.1) || !root(surface_residual, &copy, c->T_boil, c->in.T, &Ts))
        return false;
    *out = coil_with(c, Ts);
    return true;
}

/* ---- Refrigerant side -------------------------------------------------------------- */

/* Of the way from dew to bubble, where the air sees it boil. */
#define GLIDE_SHARE 0.4

static bool boil_temperature(const ct_refrigerant *r, double T_dew, double *T)
{
    double p, T_bubble;
    if (ct_refrigerant_p_dew(r, T_dew, &p, NULL) != CT_OK ||
        ct_refrigerant_T_bubble(r, p, &T_bubble, NULL) != CT_OK)
        return false;
    *T = T_dew - GLIDE_SHARE * (T_dew - T_bubble);
    return true;
}

/* Enthalpy of suction; below 0 of superheat it is wet by that many kelvin of vapor. */
static bool suction_state(const ct_refrigerant *r, double T_dew, double superheat, double *h,
                          double *rho)
{
    ct_vapor v;
    if (ct_refrigerant_vapor(r, T_dew, fmax(0.0, superheat), &v, NULL) != CT_OK) return false;
    *h = v.h + fmin(0.0, superheat) * v.cp;
    *rho = v.rho / (1.0 + fmin(0.0, superheat) * 0.004);
    return true;
}

static bool liquid_of(const ct_refrigerant *r, double Tc, double subcooling, double *T_bubble,
                      ct_liquid *l)
{
    double p;
    return ct_refrigerant_p_dew(r, Tc, &p, NULL) == CT_OK &&
           ct_refrigerant_T_bubble(r, p, T_bubble, NULL) == CT_OK &&
           ct_refrigerant_liquid(r, *T_bubble, subcooling, l, NULL) == CT_OK;
}

static double eta_v(double pr)
{
    return 0.97 - 0.028 * (pr - 1.0);
}

/* Watts over the rating's, per K of discharge: the published average of single-speed units from 82
 * to 115 F outdoors, which shows next to none per K of suction (test_second_model_weather). */
#define W_PER_TC 0.025
#define SHELL 0.03         /* of the watts, lost outdoors */
#define EFFECTIVENESS 0.78 /* of the condenser: common practice, no source */
#define SUBCOOL_COST 0.01  /* of the condenser's heat, per K */
#define SUPERHEAT_AREA 0.2 /* of the coil, per transfer unit of the vapor in counterflow */

/* What is left for boiling; the vapor gets no warmer than the air. */
static double boiling_share(double superheat, double approach)
{
    const double reached = fmin(0.98, fmax(0.0, superheat) / approach);
    return fmax(0.1, 1.0 + SUPERHEAT_AREA * log(1.0 - reached));
}

/* ---- One trial --------------------------------------------------------------------- */

typedef struct {
    const second_plant *s;
    const second_truth *t;
    ct_air in; /* into the coil */
    double m_da, superheat, subcooling, quality;
    double Te, Tc, T_coil, SH_suction, liquid_below, m, W, h1, h_liquid, T_bubble, Q_take, Q_coil;
    coil_leaves out;
    bool good;
} trial;

static bool compress(trial *x)
{
    const second_plant *s = x->s;
    double p1, p2, rho, h_bubble_extra = 0.0;
    ct_liquid l;
    const double gain = s->plate.suction_gain * (x->t->T_out - x->Te) /
                        (CT_RATING_T_OUT - s->plate.T_suction_rated);
    x->SH_suction = x->superheat + s->plate.suction_drop + gain;
    if (ct_refrigerant_p_dew(s->r, x->Te, &p1, NULL) != CT_OK ||
        ct_refrigerant_p_dew(s->r, x->Tc, &p2, NULL) != CT_OK ||
        !suction_state(s->r, x->Te, x->SH_suction, &x->h1, &rho) ||
        !liquid_of(s->r, x->Tc, 0.0, &x->T_bubble, &l))
        return false;
    /* However much charge, the liquid leaves no colder than most of the way to the air. */
    x->liquid_below = fmin(x->subcooling, 0.8 * fmax(0.0, x->T_bubble - x->t->T_out));
    if (!liquid_of(s->r, x->Tc, x->liquid_below, &x->T_bubble, &l)) return false;
    x->m = x->t->flow * s->displacement * rho * eta_v(p2 / p1);
    x->W = x->t->flow * x->t->power * s->W0 * exp(W_PER_TC * (x->Tc - s->plate.T_discharge_rated));
    if (x->quality > 0.0) {
        ct_vapor g;
        if (ct_refrigerant_vapor(s->r, x->Tc, 0.0, &g, NULL) != CT_OK) return false;
        h_bubble_extra = x->quality * (g.h - l.h);
    }
    x->h_liquid = l.h + h_bubble_extra;
    return x->m > 0.0 && x->W > 0.0;
}

/* Heat the condenser sheds less what it has to, over the latter. */
static double high_side(double Tc, void *context)
{
    trial *x = context;
    x->Tc = Tc;
    if (!compress(x)) return NAN;
    const double E = x->s->E0 * x->t->condenser * pow(x->in.p / CT_ATM_PA, 0.8) *
                     (1.0 - SUBCOOL_COST * x->liquid_below);
    const double asked = x->m * (x->h1 - x->h_liquid) + x->W * (1.0 - SHELL);
    return E * (0.5 * (Tc + x->T_bubble) - x->t->T_out) / asked - 1.0;
}

static bool coil_side(trial *x)
{
    const second_plant *s = x->s;
    x->T_coil = x->Te + s->plate.suction_drop * pow(x->m / s->m0, 1.8);
    if (x->superheat > x->in.T - x->T_coil - 0.5) return false;
    const double boiling = boiling_share(x->superheat, x->in.T - x->T_coil);
    const double air = s->size * pow(x->m_da / (s->size * s->m_da0), 0.6) * s->m_da0 / x->m_da;
    coil_at c = {.in = x->in,
                 .m_da = x->m_da,
                 .NTU = x->t->coil * s->NTU0 * boiling * air,
                 .UAi =
                     x->t->coil * s->UAi0 * boiling * s->size * pow(x->m / (s->size * s->m0), 0.7)};
    double h_out, rho;
    if (!boil_temperature(s->r, x->T_coil, &c.T_boil) ||
        !suction_state(s->r, x->T_coil, x->superheat, &h_out, &rho) || !coil_run(&c, &x->out))
        return false;
    x->Q_coil = x->out.Q;
    x->Q_take = x->m * (h_out - x->h_liquid);
    return true;
}

static double low_side(double Te, void *context)
{
    trial *x = context;
    double Tc;
    x->Te = Te;
    x->good = root(high_side, x, fmax(Te + 5.0, x->t->T_out + 1.0), 343.0, &Tc);
    if (!x->good) return NAN;
    (void)high_side(Tc, x);
    x->good = coil_side(x);
    return x->good ? x->Q_coil / x->Q_take - 1.0 : (double)NAN;
}

static bool settle(trial *x)
{
    double Te = 0.0;
    for (double low = 255.0; low < 275.0; low += 4.0) {
        const double high = x->in.T - 1.5;
        for (double top = high; top > low + 5.0; top -= 0.4)
            if (isfinite(low_side(top, x))) {
                if (!root(low_side, x, low, top, &Te)) break;
                (void)low_side(Te, x);
                return x->good;
            }
    }
    return false;
}

/* ---- Charge and metering ----------------------------------------------------------- */

/* With a valve the subcooling goes with the charge, half a degree or so per percent, until none is
 * left a seventh below the right charge; below that flash gas reaches the valve, and the coil
 * starves. Common practice, no source; against measured capacities in the test. */
#define NONE_LEFT 0.15
static void charge_valve(const second_plant *s, trial *x)
{
    const double d = x->t->charge, short_by = fmax(0.0, -d - NONE_LEFT);
    x->subcooling = fmax(0.0, x->t->subcooling * (1.0 + d / NONE_LEFT));
    x->quality = 0.5 * short_by;
    x->superheat = s->meter.superheat + 70.0 * short_by + x->t->feed;
}

/* A sixth liquid or so, by mass, as kelvin of vapor below 0 of superheat: more is no flow of
 * vapor. */
#define WETTEST 40.0

/* Piston: what it passes less what the compressor moves. */
static double piston_residual(double superheat, void *context)
{
    trial *x = context;
    double p, p_boil;
    ct_liquid l;
    x->superheat = superheat;
    if (!settle(x) || ct_refrigerant_p_dew(x->s->r, x->Tc, &p, NULL) != CT_OK ||
        ct_refrigerant_p_bubble(x->s->r, x->T_bubble - x->liquid_below, &p_boil, NULL) != CT_OK ||
        ct_refrigerant_liquid(x->s->r, x->T_bubble, x->liquid_below, &l, NULL) != CT_OK)
        return NAN;
    return exp(x->t->feed) * x->s->C_piston * sqrt(l.rho * (p - 0.85 * p_boil)) / x->m - 1.0;
}

static bool meter(trial *x)
{
    charge_valve(x->s, x);
    if (x->s->meter.kind == CT_METER_VALVE) return x->superheat > -8.0 && settle(x);
    double superheat;
    for (double most = 28.0; most > 0.0; most -= 0.25)
        if (isfinite(piston_residual(most, x)))
            return root(piston_residual, x, -WETTEST, most, &superheat) &&
                   isfinite(piston_residual(superheat, x));
    return false;
}

/* ---- Blower and ducts -------------------------------------------------------------- */

typedef struct {
    const ct_tap *tap;
    const ct_duct *duct;
    double blower, ducts;
} air_side;

/* Straight lines between the points, and on past the ends. */
static double column(const ct_tap *t, double dp, bool watts)
{
    int i = 1;
    while (i < t->n - 1 && dp > t->point[i].dp)
        i++;
    if (t->n == 1) return watts ? t->point[0].P : t->point[0].V;
    const ct_tap_point *a = &t->point[i - 1], *b = &t->point[i];
    const double f = (dp - a->dp) / (b->dp - a->dp);
    return watts ? a->P + f * (b->P - a->P) : a->V + f * (b->V - a->V);
}

static double air_residual(double dp, void *context)
{
    const air_side *a = context;
    const double V = fmax(1e-3, a->blower * column(a->tap, dp, false));
    return (a->ducts * ct_duct_dp(a->duct, V) - dp) / 100.0;
}

static bool air_moves(const second_plant *s, const second_truth *t, second_inside *out)
{
    air_side a = {&s->job.blower.tap[t->tap], &s->job.duct, t->blower, t->ducts};
    if (!root(air_residual, &a, 1.0, 480.0, &out->dp)) return false;
    out->V = t->blower * column(a.tap, out->dp, false);
    out->P_blower = fmax(50.0, t->blower * column(a.tap, out->dp, true));
    return out->V > 0.05;
}

/* ---- To the nameplate -------------------------------------------------------------- */

typedef struct {
    coil_at c;
    double Q, SHR;
} plate_coil;

static double plate_residual(double Ts, void *context)
{
    plate_coil *x = context;
    double share = 0.5;
    for (int i = 0; i < 60; i++) { /* the share that carries Q with this surface */
        x->c.NTU = -log(1.0 - share);
        share = fmin(0.999, share * x->Q / coil_with(&x->c, Ts).Q);
    }
    x->c.NTU = -log(1.0 - share);
    const coil_leaves out = coil_with(&x->c, Ts);
    const double sensible = x->c.m_da * ct_air_cp(out.W) * (x->c.in.T - out.T);
    return sensible / x->Q - x->SHR;
}

static bool fit_coil(second_plant *s, double Q, double T_boil)
{
    plate_coil x = {.Q = Q, .SHR = s->plate.SHR_rated};
    double Ts = 0.0;
    if (ct_air_from_wet_bulb(CT_RATING_T_IN, CT_RATING_T_WB, CT_ATM_PA, &x.c.in, NULL) != CT_OK)
        return false;
    x.c.m_da = s->m_da0;
    for (double low = T_boil + 0.3; low < 290.0; low += 0.1)
        if (plate_residual(low, &x) * plate_residual(low + 0.1, &x) <= 0.0) {
            if (!root(plate_residual, &x, low, low + 0.1, &Ts)) return false;
            (void)plate_residual(Ts, &x);
            const double boiling =
                boiling_share(s->plate.superheat_rated,
                              CT_RATING_T_IN - s->plate.T_suction_rated - s->plate.suction_drop);
            s->NTU0 = x.c.NTU / boiling;
            s->UAi0 = Q / (Ts - T_boil) / boiling;
            return x.c.NTU < 6.0;
        }
    return false;
}

static bool fit_outdoor(second_plant *s, double Q, double *T_boil)
{
    const ct_outdoor_unit *u = &s->plate;
    const double T_coil = u->T_suction_rated + u->suction_drop;
    double h_out, h1, rho, p1, p2, T_bubble;
    ct_liquid l;
    s->W0 = u->Q_net / u->EER - u->P_blower_rated - u->P_fan;
    if (!boil_temperature(s->r, T_coil, T_boil) ||
        !suction_state(s->r, T_coil, u->superheat_rated, &h_out, &rho) ||
        !suction_state(s->r, u->T_suction_rated,
                       u->superheat_rated + u->suction_drop + u->suction_gain, &h1, &rho) ||
        !liquid_of(s->r, u->T_discharge_rated, u->subcooling, &T_bubble, &l) ||
        ct_refrigerant_p_dew(s->r, u->T_suction_rated, &p1, NULL) != CT_OK ||
        ct_refrigerant_p_dew(s->r, u->T_discharge_rated, &p2, NULL) != CT_OK)
        return false;
    s->m0 = Q / (h_out - l.h);
    s->displacement = s->m0 / (rho * eta_v(p2 / p1));
    s->E0 = (s->m0 * (h1 - l.h) + s->W0 * (1.0 - SHELL)) /
            ((0.5 * (u->T_discharge_rated + T_bubble) - CT_RATING_T_OUT) *
             (1.0 - SUBCOOL_COST * u->subcooling));
    s->C_air = s->E0 / EFFECTIVENESS;
    return s->W0 > 0.0 && s->E0 > 0.0;
}

static bool fit_piston(second_plant *s, double flow)
{
    const ct_outdoor_unit *u = &s->plate;
    double p, p_boil, T_bubble;
    ct_liquid l;
    if (!liquid_of(s->r, u->T_discharge_rated, u->subcooling, &T_bubble, &l) ||
        ct_refrigerant_p_dew(s->r, u->T_discharge_rated, &p, NULL) != CT_OK ||
        ct_refrigerant_p_bubble(s->r, T_bubble - u->subcooling, &p_boil, NULL) != CT_OK)
        return false;
    s->C_piston = flow / sqrt(l.rho * (p - 0.85 * p_boil));
    return true;
}

bool second_plant_make(const ct_setup *setup, double piston_flow, second_plant *s)
{
    const ct_case *c = setup->c;
    const double Q = c->outdoor.Q_net + c->outdoor.P_blower_rated;
    double T_boil;
    *s = (second_plant){.r = setup->outdoor->refrigerant,
                        .plate = c->outdoor,
                        .meter = c->indoor[0].meter,
                        .size = c->indoor[0].coil.size,
                        .m_da0 = c->outdoor.V_rated_std * CT_STD_DENSITY};
    const ct_setup bare = {NULL, c, setup->outdoor, setup->matched, 0};
    return ct_sweep_prepare(&bare, &s->job, NULL) == CT_OK && fit_outdoor(s, Q, &T_boil) &&
           fit_coil(s, Q, T_boil) &&
           (s->meter.kind == CT_METER_VALVE || fit_piston(s, piston_flow));
}

second_truth second_plant_sound(const second_plant *s)
{
    return (second_truth){.coil = 1,
                          .flow = 1,
                          .power = 1,
                          .condenser = 1,
                          .blower = 1,
                          .ducts = 1,
                          .subcooling = s->plate.subcooling,
                          .tap = 1,
                          .T_in = ct_K_from_F(76),
                          .T_wb = ct_K_from_F(64),
                          .T_out = ct_K_from_F(93)};
}

/* ---- What instruments show --------------------------------------------------------- */

static bool show(const trial *x, const second_inside *in, const ct_air *supply, ct_readings *s)
{
    const double p = x->in.p;
    double v[CT_READING_COUNT] = {0};
    double p1, p2;
    if (ct_refrigerant_p_dew(x->s->r, x->Te, &p1, NULL) != CT_OK ||
        ct_refrigerant_p_dew(x->s->r, x->Tc, &p2, NULL) != CT_OK ||
        ct_air_wet_bulb(supply, &v[CT_SUPPLY_WET_BULB], NULL) != CT_OK)
        return false;
    v[CT_RETURN_DRY_BULB] = x->t->T_in;
    v[CT_RETURN_WET_BULB] = x->t->T_wb;
    v[CT_OUTDOOR_DRY_BULB] = x->t->T_out;
    v[CT_SUPPLY_DRY_BULB] = supply->T;
    v[CT_SUCTION_PRESSURE] = p1 - p;
    v[CT_SUCTION_TEMPERATURE] = x->Te + fmax(0.0, x->SH_suction);
    v[CT_LIQUID_PRESSURE] = p2 - p;
    v[CT_LIQUID_TEMPERATURE] = x->T_bubble - x->liquid_below;
    v[CT_STATIC] = in->dp;
    v[CT_OUTDOOR_POWER] = x->W + x->s->plate.P_fan;
    v[CT_BLOWER_POWER] = in->P_blower;
    const double C = x->s->C_air * x->t->condenser;
    v[CT_CONDENSER_LEAVING] =
        x->t->T_out + (x->m * (x->h1 - x->h_liquid) + x->W * (1.0 - SHELL) + x->s->plate.P_fan) / C;
    v[CT_CONDENSATE] = x->m_da * (x->in.W - x->out.W);
    v[CT_AIRFLOW] = in->V;
    *s = (ct_readings){0};
    for (int i = 0; i < CT_READING_COUNT; i++)
        if (v[i] > 0.0)
            s->r[i] = (ct_reading){true, v[i], ct_reading_margin((ct_reading_kind)i, v[i])};
    strcpy(s->tap, x->s->job.blower.tap[x->t->tap].name);
    return true;
}

static bool supply_air(const trial *x, const second_inside *in, ct_air *supply)
{
    const double cp = ct_air_cp(x->out.W);
    const bool before = x->s->job.blower.before_coil;
    const double T = x->out.T + (before ? 0.0 : in->P_blower / (x->m_da * cp));
    const double W = fmin(x->out.W, 0.995 * ct_air_W_sat(T, x->in.p));
    return ct_air_from_W(T, W, x->in.p, supply, NULL) == CT_OK;
}

bool second_plant_show(const second_plant *s, const second_truth *t, ct_readings *shown,
                       second_inside *in)
{
    trial x = {.s = s, .t = t};
    ct_air room, supply;
    if (!air_moves(s, t, in) ||
        ct_air_from_wet_bulb(t->T_in, t->T_wb, s->job.indoor.p, &room, NULL) != CT_OK)
        return false;
    double v = ct_air_v(room.T, room.W, room.p);
    for (int i = 0; i < 4; i++) { /* the blower breathes what leaves the coil */
        x.m_da = in->V / v;
        x.in = room;
        if (s->job.blower.before_coil) x.in.T += in->P_blower / (x.m_da * ct_air_cp(room.W));
        if (!meter(&x) || !supply_air(&x, in, &supply)) return false;
        if (s->job.blower.before_coil) break;
        v = ct_air_v(supply.T, supply.W, supply.p);
    }
    in->Q = x.Q_coil;
    in->SHR = x.m_da * ct_air_cp(x.out.W) * (x.in.T - x.out.T) / x.Q_coil;
    in->W = x.W;
    in->m = x.m;
    in->Te = x.Te;
    in->Tc = x.Tc;
    in->superheat = x.superheat;
    in->subcooling = x.liquid_below;
    return show(&x, in, &supply, shown);
}

/* A system that finds no balance has too little in it, if anything. */
static bool short_of_charge(const second_plant *s, const second_truth *t, double superheat)
{
    ct_readings shown;
    second_inside in;
    return !second_plant_show(s, t, &shown, &in) || in.superheat > superheat;
}

void second_plant_fill(const second_plant *s, double superheat, double most, second_truth *t)
{
    double low = 0.0, high = most;
    for (int i = 0; i < 12; i++) { /* to a hundredth of a clamp's doubt */
        t->subcooling = 0.5 * (low + high);
        if (short_of_charge(s, t, superheat))
            low = t->subcooling;
        else
            high = t->subcooling;
    }
}

bool second_plant_airflow(const second_plant *s, const second_truth *t, double *V)
{
    second_inside in;
    if (!air_moves(s, t, &in)) return false;
    *V = in.V;
    return true;
}
