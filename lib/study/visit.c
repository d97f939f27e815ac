#include "study/visit.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "base/units.h"

/* A quantity that follows from readings; false when one is missing or out of the tables. */
typedef bool (*derived)(const ct_visit *, const ct_readings *, double *value);

static bool both(const ct_readings *s, ct_reading_kind a, ct_reading_kind b)
{
    return s->r[a].has && s->r[b].has;
}

bool ct_visit_air(const ct_visit *v, const ct_readings *s, bool supply, ct_air *air)
{
    const ct_reading *T = &s->r[supply ? CT_SUPPLY_DRY_BULB : CT_RETURN_DRY_BULB];
    const ct_reading *wb = &s->r[supply ? CT_SUPPLY_WET_BULB : CT_RETURN_WET_BULB];
    const ct_reading *rh = &s->r[supply ? CT_SUPPLY_RH : CT_RETURN_RH];

    if (!T->has || !(wb->has || rh->has)) return false;
    if (wb->has) return ct_air_from_wet_bulb(T->v, fmin(wb->v, T->v), v->p, air, NULL) == CT_OK;
    return ct_air_from_rh(T->v, fmin(rh->v, 1.0), v->p, air, NULL) == CT_OK;
}

static bool suction_dew(const ct_visit *v, const ct_readings *s, double *T)
{
    const ct_reading *p = &s->r[CT_SUCTION_PRESSURE];

    return p->has && ct_refrigerant_T_dew(v->outdoor->refrigerant, p->v + v->p, T, NULL) == CT_OK;
}

static bool liquid_bubble(const ct_visit *v, const ct_readings *s, double *T)
{
    const ct_reading *p = &s->r[CT_LIQUID_PRESSURE];

    return p->has &&
           ct_refrigerant_T_bubble(v->outdoor->refrigerant, p->v + v->p, T, NULL) == CT_OK;
}

bool ct_visit_superheat(const ct_visit *v, const ct_readings *s, double *superheat)
{
    double T_dew;

    if (!s->r[CT_SUCTION_TEMPERATURE].has || !suction_dew(v, s, &T_dew)) return false;
    *superheat = s->r[CT_SUCTION_TEMPERATURE].v - T_dew;
    return true;
}

bool ct_visit_subcooling(const ct_visit *v, const ct_readings *s, double *subcooling)
{
    double T_bubble;

    if (!s->r[CT_LIQUID_TEMPERATURE].has || !liquid_bubble(v, s, &T_bubble)) return false;
    *subcooling = T_bubble - s->r[CT_LIQUID_TEMPERATURE].v;
    return true;
}

/* Half the change as one reading goes down and up by its uncertainty; one-sided where only one side
 * can be computed. */
static double swing(const ct_visit *v, derived f, int kind, double middle)
{
    ct_readings moved = *v->readings;
    ct_reading *r = &moved.r[kind];
    double center = r->v, up = middle, down = middle;

    r->v = center + r->u;
    bool has_up = f(v, &moved, &up);
    r->v = center - r->u;
    bool has_down = f(v, &moved, &down);
    return (up - down) / (has_up && has_down ? 2.0 : 1.0);
}

static bool with_uncertainty(const ct_visit *v, derived f, double *value, double *u)
{
    double sum = 0.0;

    if (!f(v, v->readings, value)) return false;
    for (int i = 0; i < CT_READING_COUNT; i++) {
        double part = v->readings->r[i].has ? swing(v, f, i, *value) : 0.0;
        sum += part * part;
    }
    *u = sqrt(sum);
    return true;
}

/* ---- What no system can give: each value is above 0 when the readings are impossible */

static bool return_wet(const ct_visit *v, const ct_readings *s, double *value)
{
    (void)v;
    *value = s->r[CT_RETURN_WET_BULB].v - s->r[CT_RETURN_DRY_BULB].v;
    return both(s, CT_RETURN_WET_BULB, CT_RETURN_DRY_BULB);
}

static bool supply_wet(const ct_visit *v, const ct_readings *s, double *value)
{
    (void)v;
    *value = s->r[CT_SUPPLY_WET_BULB].v - s->r[CT_SUPPLY_DRY_BULB].v;
    return both(s, CT_SUPPLY_WET_BULB, CT_SUPPLY_DRY_BULB);
}

static bool moisture_gained(const ct_visit *v, const ct_readings *s, double *value)
{
    ct_air in, out;

    if (!ct_visit_air(v, s, false, &in) || !ct_visit_air(v, s, true, &out)) return false;
    *value = out.W - in.W;
    return true;
}

static bool warmed(const ct_visit *v, const ct_readings *s, double *value)
{
    (void)v;
    *value = s->r[CT_SUPPLY_DRY_BULB].v - s->r[CT_RETURN_DRY_BULB].v;
    return both(s, CT_SUPPLY_DRY_BULB, CT_RETURN_DRY_BULB);
}

static bool pressed_back(const ct_visit *v, const ct_readings *s, double *value)
{
    (void)v;
    *value = s->r[CT_SUCTION_PRESSURE].v - s->r[CT_LIQUID_PRESSURE].v;
    return both(s, CT_SUCTION_PRESSURE, CT_LIQUID_PRESSURE);
}

static bool negative_superheat(const ct_visit *v, const ct_readings *s, double *value)
{
    double superheat;

    if (!ct_visit_superheat(v, s, &superheat)) return false;
    *value = -superheat;
    return true;
}

static bool negative_subcooling(const ct_visit *v, const ct_readings *s, double *value)
{
    double subcooling;

    if (!ct_visit_subcooling(v, s, &subcooling)) return false;
    *value = -subcooling;
    return true;
}

static bool colder_than_outdoors(const ct_visit *v, const ct_readings *s, double *value)
{
    (void)v;
    *value = s->r[CT_OUTDOOR_DRY_BULB].v - s->r[CT_LIQUID_TEMPERATURE].v;
    return both(s, CT_OUTDOOR_DRY_BULB, CT_LIQUID_TEMPERATURE);
}

static bool condensing_below_outdoors(const ct_visit *v, const ct_readings *s, double *value)
{
    double T;

    if (!s->r[CT_OUTDOOR_DRY_BULB].has || !liquid_bubble(v, s, &T)) return false;
    *value = s->r[CT_OUTDOOR_DRY_BULB].v - T;
    return true;
}

static bool boiling_above_return(const ct_visit *v, const ct_readings *s, double *value)
{
    double T;

    if (!s->r[CT_RETURN_DRY_BULB].has || !suction_dew(v, s, &T)) return false;
    *value = T - s->r[CT_RETURN_DRY_BULB].v;
    return true;
}

static const struct {
    derived f;
    double limit; /* standard uncertainties above 0 that are still forgiven */
    const char *text;
} rules[CT_IMPOSSIBLE_COUNT] = {
    [CT_IMPOSSIBLE_RETURN_WET_BULB] = {return_wet, 0.0,
                                       "the return air's wet bulb is above its dry "
                                       "bulb"},
    [CT_IMPOSSIBLE_SUPPLY_WET_BULB] = {supply_wet, 2.0,
                                       "the supply air's wet bulb is above its dry "
                                       "bulb"},
    [CT_IMPOSSIBLE_MOISTURE] = {moisture_gained, 2.0,
                                "the supply air holds more moisture than the return air; a coil "
                                "only takes moisture out"},
    [CT_IMPOSSIBLE_WARMER] = {warmed, 2.0, "the supply air is warmer than the return air"},
    /* Pressures that are not clearly apart are those of a system that is off. */
    [CT_IMPOSSIBLE_PRESSURES] = {pressed_back, -2.0,
                                 "the suction pressure is not below the liquid pressure, as it is "
                                 "when the compressor runs"},
    [CT_IMPOSSIBLE_SUCTION] = {negative_superheat, 3.0,
                               "the suction line is colder than the boiling temperature at the "
                               "suction pressure"},
    [CT_IMPOSSIBLE_LIQUID] = {negative_subcooling, 3.0,
                              "the liquid line is warmer than the condensing temperature at the "
                              "liquid pressure"},
    [CT_IMPOSSIBLE_SUBCOOLED] = {colder_than_outdoors, 2.0,
                                 "the liquid line is colder than the outdoor air that cooled it"},
    [CT_IMPOSSIBLE_CONDENSING] = {condensing_below_outdoors, 2.0,
                                  "the liquid pressure is too low to reject heat to this outdoor "
                                  "air"},
    [CT_IMPOSSIBLE_BOILING] = {boiling_above_return, 2.0,
                               "the suction pressure is too high to take heat from this return "
                               "air"},
};

const char *ct_impossible_text(ct_impossible i)
{
    return i >= 0 && i < CT_IMPOSSIBLE_COUNT ? rules[i].text : "unknown contradiction";
}

void ct_visit_impossible(const ct_visit *v, ct_tune *out)
{
    out->n_impossible = 0;
    for (int i = 0; i < CT_IMPOSSIBLE_COUNT; i++) {
        double value, u;
        out->impossible[i] = (ct_tune_impossible){0};
        if (!with_uncertainty(v, rules[i].f, &value, &u) || !(value > rules[i].limit * u)) continue;
        out->impossible[i] = (ct_tune_impossible){true, value / u};
        out->n_impossible++;
    }
}

/* ---- Heat on both sides ---------------------------------------------------------- */

/* What the coil took from the air: the blower's heat is in the supply air and comes on top; the
 * water leaves at about the supply temperature (its share of the heat is near 0.5 %). */
static bool heat_of_air(const ct_visit *v, const ct_readings *s, double *Q)
{
    ct_air in, out;

    if (!ct_visit_air(v, s, false, &in) || !ct_visit_air(v, s, true, &out)) return false;
    const ct_air *breathed = v->before_coil ? &in : &out;
    double m_da = v->V / ct_air_v(breathed->T, breathed->W, breathed->p);
    *Q = m_da * (ct_air_h(in.T, in.W) - ct_air_h(out.T, out.W) -
                 (in.W - out.W) * ct_air_h_water(out.T)) +
         v->P_blower;
    return true;
}

static bool heat_of_refrigerant(const ct_visit *v, const ct_readings *s, double *Q)
{
    const ct_outdoor *o = v->outdoor;
    ct_compressor_out run;
    ct_vapor vapor;
    ct_liquid liquid;

    double Te, T_bubble, superheat, subcooling;
    if (!ct_visit_superheat(v, s, &superheat) || !ct_visit_subcooling(v, s, &subcooling) ||
        !suction_dew(v, s, &Te) || !liquid_bubble(v, s, &T_bubble))
        return false;
    double Tc;
    if (ct_refrigerant_T_dew(o->refrigerant, s->r[CT_LIQUID_PRESSURE].v + v->p, &Tc, NULL) != CT_OK)
        return false;
    const ct_compressor_in in = {Te, Tc, fmax(0.0, superheat)};
    double at_coil = fmax(0.0, superheat - ct_plant_line_superheat(o, v->T_out, Te));
    if (ct_compressor_run(&o->compressor, o->refrigerant, &in, &run, NULL) != CT_OK ||
        ct_refrigerant_vapor(o->refrigerant, Te + o->suction_drop, at_coil, &vapor, NULL) !=
            CT_OK ||
        ct_refrigerant_liquid(o->refrigerant, T_bubble, fmax(0.0, subcooling), &liquid, NULL) !=
            CT_OK)
        return false;
    *Q = run.m * (vapor.h - liquid.h);
    return true;
}

void ct_visit_heat(const ct_visit *v, ct_tune_heat *heat)
{
    *heat = (ct_tune_heat){0};
    if (!with_uncertainty(v, heat_of_air, &heat->Q_air, &heat->u_air) ||
        !with_uncertainty(v, heat_of_refrigerant, &heat->Q_ref, &heat->u_ref))
        return;
    heat->has = true;
    heat->u_air = hypot(heat->u_air, v->u_V * heat->Q_air);
    heat->u_ref = hypot(heat->u_ref, CT_TUNE_SIGMA_FLOW * heat->Q_ref);
    heat->share = (heat->Q_air - heat->Q_ref) / heat->Q_ref;
    heat->z = (heat->Q_air - heat->Q_ref) / hypot(heat->u_air, heat->u_ref);
    heat->off = fabs(heat->z) > 2.58 || (fabs(heat->z) > 1.96 && fabs(heat->share) > 1.0 / 3.0);
}

/* ---- Charge ---------------------------------------------------------------------- */

/* Superheat at the compressor and subcooling that make a technician look; common practice, no
 * source. */
#define SUBCOOLING_LOW (5.0 / CT_F_PER_K)
#define SUBCOOLING_HIGH (18.0 / CT_F_PER_K)
#define SUPERHEAT_FLOODED (2.0 / CT_F_PER_K)
#define SUPERHEAT_LOW (5.0 / CT_F_PER_K)
#define SUPERHEAT_HIGH (25.0 / CT_F_PER_K)

static double chance_above(double value, double u, double limit)
{
    return gsl_cdf_ugaussian_P((value - limit) / u);
}

void ct_visit_charge(const ct_visit *v, double cause[CT_CAUSE_COUNT])
{
    double superheat = 0.0, u_superheat = 1.0, subcooling = 0.0, u_subcooling = 1.0;
    bool has_superheat = with_uncertainty(v, ct_visit_superheat, &superheat, &u_superheat);
    bool has_subcooling = with_uncertainty(v, ct_visit_subcooling, &subcooling, &u_subcooling);

    if (has_superheat)
        cause[CT_CAUSE_FLOODED] = 1.0 - chance_above(superheat, u_superheat, SUPERHEAT_FLOODED);
    if (has_subcooling)
        cause[CT_CAUSE_OVERCHARGE] = chance_above(subcooling, u_subcooling, SUBCOOLING_HIGH);
    if (!has_superheat || !has_subcooling) return;
    double enough = chance_above(subcooling, u_subcooling, SUBCOOLING_LOW);
    cause[CT_CAUSE_LOW_CHARGE] =
        (1.0 - enough) * chance_above(superheat, u_superheat, SUPERHEAT_LOW);
    cause[CT_CAUSE_STARVED] = enough * chance_above(superheat, u_superheat, SUPERHEAT_HIGH);
}

/* ---- Valve ----------------------------------------------------------------------- */

/* ANSI/ACCA 5 lets the superheat be 5 F off (from memory, unconfirmed). */
#define VALVE_OFF (5.0 / CT_F_PER_K)

void ct_visit_valve(const ct_visit *v, const ct_meter *meter, ct_tune_valve *valve)
{
    double read, T_dew;

    *valve = (ct_tune_valve){0};
    if (meter->kind != CT_METER_VALVE ||
        !with_uncertainty(v, ct_visit_superheat, &read, &valve->u) ||
        !suction_dew(v, v->readings, &T_dew))
        return;
    valve->has = true;
    valve->read = read - ct_plant_line_superheat(v->outdoor, v->T_out, T_dew);
    valve->wanted = meter->superheat;
    const double by = valve->read - valve->wanted;
    valve->low = by <= -VALVE_OFF && by < -2.0 * valve->u;
    valve->high = by >= VALVE_OFF && by > 2.0 * valve->u;
}

/* ---- Exchanged probes ------------------------------------------------------------ */

static const ct_reading_kind pairs[][2] = {
    {CT_RETURN_DRY_BULB, CT_RETURN_WET_BULB},  {CT_SUPPLY_DRY_BULB, CT_SUPPLY_WET_BULB},
    {CT_RETURN_DRY_BULB, CT_SUPPLY_DRY_BULB},  {CT_RETURN_WET_BULB, CT_SUPPLY_WET_BULB},
    {CT_SUCTION_PRESSURE, CT_LIQUID_PRESSURE}, {CT_SUCTION_TEMPERATURE, CT_LIQUID_TEMPERATURE},
};

void ct_visit_exchange(ct_readings *s, ct_reading_kind a, ct_reading_kind b)
{
    const double v = s->r[a].v;
    s->r[a].v = s->r[b].v;
    s->r[b].v = v;
}

void ct_visit_swap(const ct_visit *v, ct_tune *out)
{
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        const ct_reading_kind a = pairs[i][0], b = pairs[i][1];
        ct_readings swapped = *v->readings;
        ct_visit other = *v;
        ct_tune trial;
        if (!both(&swapped, a, b)) continue;
        ct_visit_exchange(&swapped, a, b);
        other.readings = &swapped;
        ct_visit_impossible(&other, &trial);
        if (trial.n_impossible > 0) continue;
        out->swap = (ct_tune_swap){true, a, b, (double)NAN};
        return;
    }
}
