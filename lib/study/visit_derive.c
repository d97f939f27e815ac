#include "study/visit_derive.h"

#include <math.h>
#include <stddef.h>

#include "fluid/air.h"
#include "study/visit.h"

/* Of a single-phase compressor with a run capacitor: 0.95 to 0.99; common practice, no source. */
#define POWER_FACTOR 0.95
/* Airflow from the rise is good to 10 to 15 % at best, however well both are read, for the supply
 * air is uneven; from memory, unconfirmed. */
#define UNEVEN 0.10

ct_reading_kind ct_visit_derive_for(ct_reading_kind kind)
{
    switch (kind) {
    case CT_SUCTION_SATURATION: return CT_SUCTION_PRESSURE;
    case CT_SUPERHEAT: return CT_SUCTION_TEMPERATURE;
    case CT_LIQUID_SATURATION: return CT_LIQUID_PRESSURE;
    case CT_SUBCOOLING: return CT_LIQUID_TEMPERATURE;
    case CT_SPLIT: return CT_SUPPLY_DRY_BULB;
    case CT_OUTDOOR_AMPS:
    case CT_OUTDOOR_VOLTS:
    case CT_POWER_FACTOR: return CT_OUTDOOR_POWER;
    case CT_HEAT_POWER:
    case CT_HEAT_RISE: return CT_AIRFLOW;
    case CT_CONDENSATE_WATER:
    case CT_CONDENSATE_TIME: return CT_CONDENSATE;
    default: return CT_READING_COUNT;
    }
}

typedef ct_status (*pressure_at)(const ct_refrigerant *, double T, double *p, ct_fault *);
typedef ct_status (*temperature_at)(const ct_refrigerant *, double p, double *T, ct_fault *);

/* Pressure of a saturation temperature, its doubt by the slope there. */
static ct_status pressure(const ct_refrigerant *r, double p_air, pressure_at of,
                          const ct_reading *from, ct_reading *to, ct_fault *fault)
{
    double p, above;
    if (!from->has || to->has) return CT_OK;
    ct_status status = of(r, from->v, &p, fault);
    if (status == CT_OK) status = of(r, from->v + from->u, &above, fault);
    if (status == CT_OK) *to = (ct_reading){true, p - p_air, above - p};
    return status;
}

/* Saturation of the pressure, and `by` above it. */
static ct_status temperature(const ct_refrigerant *r, double p, temperature_at of, double by,
                             ct_reading *to, ct_fault *fault)
{
    double T;
    const ct_status status = of(r, p, &T, fault);
    if (status == CT_OK) to->v = T + by;
    return status;
}

static ct_status missing(ct_reading_kind kind, ct_reading_kind needed, ct_fault *fault)
{
    return ct_fault_say(fault, CT_INPUT, "%s says nothing without %s; add it",
                        ct_reading_name(kind), ct_reading_name(needed));
}

static ct_status positive(const ct_reading *r, ct_reading_kind kind, ct_fault *fault)
{
    if (r[kind].v > 0.0) return CT_OK;
    return ct_fail(fault, CT_INPUT, r[kind].v, NAN, NAN, "%s must be above 0",
                   ct_reading_name(kind));
}

static ct_status both_positive(const ct_reading *r, ct_reading_kind a, ct_reading_kind b,
                               ct_fault *fault)
{
    const ct_status status = positive(r, a, fault);
    return status == CT_OK ? positive(r, b, fault) : status;
}

/* Relative standard uncertainty of a product or quotient of independent readings. */
static double share(const ct_reading *a, const ct_reading *b)
{
    return hypot(a->u / a->v, b->u / b->v);
}

/* P = V I pf. */
static ct_status watts(ct_reading *r, ct_fault *fault)
{
    const ct_reading *amps = &r[CT_OUTDOOR_AMPS], *volts = &r[CT_OUTDOOR_VOLTS];
    ct_reading *factor = &r[CT_POWER_FACTOR], *to = &r[CT_OUTDOOR_POWER];
    if (to->has || !(amps->has || volts->has || factor->has)) return CT_OK;
    if (!amps->has)
        return missing(volts->has ? CT_OUTDOOR_VOLTS : CT_POWER_FACTOR, CT_OUTDOOR_AMPS, fault);
    if (!volts->has) return missing(CT_OUTDOOR_AMPS, CT_OUTDOOR_VOLTS, fault);
    const ct_reading usual = {true, POWER_FACTOR, ct_reading_margin(CT_POWER_FACTOR, POWER_FACTOR)};
    const ct_reading *pf = factor->has ? factor : &usual;
    ct_status status = both_positive(r, CT_OUTDOOR_AMPS, CT_OUTDOOR_VOLTS, fault);
    if (status == CT_OK && factor->has) status = positive(r, CT_POWER_FACTOR, fault);
    if (status != CT_OK) return status;
    const double P = amps->v * volts->v * pf->v;
    *to = (ct_reading){true, P, P * hypot(share(amps, volts), pf->u / pf->v)};
    return CT_OK;
}

/* V = P v/(cp dT), counted in the return air: ASHRAE Fundamentals ch. 1, heat added to moist
 * air. */
static ct_status airflow_by_rise(double p, ct_readings *s, ct_fault *fault)
{
    const ct_reading *heat = &s->r[CT_HEAT_POWER], *rise = &s->r[CT_HEAT_RISE];
    const ct_visit at = {.readings = s, .p = p};
    ct_air air;
    if (s->r[CT_AIRFLOW].has || !(heat->has || rise->has)) return CT_OK;
    if (!heat->has) return missing(CT_HEAT_RISE, CT_HEAT_POWER, fault);
    if (!rise->has) return missing(CT_HEAT_POWER, CT_HEAT_RISE, fault);
    ct_status status = both_positive(s->r, CT_HEAT_POWER, CT_HEAT_RISE, fault);
    if (status != CT_OK) return status;
    if (!s->r[CT_RETURN_DRY_BULB].has) return missing(CT_HEAT_RISE, CT_RETURN_DRY_BULB, fault);
    if (!ct_visit_air(&at, s, false, &air)) { /* its moisture was not read: half saturated */
        status = ct_air_from_rh(s->r[CT_RETURN_DRY_BULB].v, 0.5, p, &air, fault);
        if (status != CT_OK) return status;
    }
    const double V = heat->v * ct_air_v(air.T, air.W, p) / (ct_air_cp(air.W) * rise->v);
    s->r[CT_AIRFLOW] = (ct_reading){true, V, V * hypot(share(heat, rise), UNEVEN)};
    return CT_OK;
}

static ct_status condensate(ct_reading *r, ct_fault *fault)
{
    const ct_reading *water = &r[CT_CONDENSATE_WATER], *time = &r[CT_CONDENSATE_TIME];
    if (r[CT_CONDENSATE].has || !(water->has || time->has)) return CT_OK;
    if (!water->has) return missing(CT_CONDENSATE_TIME, CT_CONDENSATE_WATER, fault);
    if (!time->has) return missing(CT_CONDENSATE_WATER, CT_CONDENSATE_TIME, fault);
    const ct_status status = both_positive(r, CT_CONDENSATE_WATER, CT_CONDENSATE_TIME, fault);
    if (status != CT_OK) return status;
    const double rate = water->v / time->v;
    r[CT_CONDENSATE] = (ct_reading){true, rate, rate * share(water, time)};
    return CT_OK;
}

static ct_status saturations(const ct_refrigerant *ref, double p, ct_reading *r, ct_fault *fault)
{
    const ct_status status = pressure(ref, p, ct_refrigerant_p_dew, &r[CT_SUCTION_SATURATION],
                                      &r[CT_SUCTION_PRESSURE], fault);
    if (status != CT_OK) return status;
    return pressure(ref, p, ct_refrigerant_p_bubble, &r[CT_LIQUID_SATURATION],
                    &r[CT_LIQUID_PRESSURE], fault);
}

static ct_status lines(const ct_refrigerant *ref, double p, ct_reading *r, ct_fault *fault)
{
    ct_status status = CT_OK;
    if (r[CT_SUPERHEAT].has && !r[CT_SUCTION_TEMPERATURE].has) {
        if (!r[CT_SUCTION_PRESSURE].has) return missing(CT_SUPERHEAT, CT_SUCTION_PRESSURE, fault);
        r[CT_SUCTION_TEMPERATURE] = r[CT_SUPERHEAT];
        status = temperature(ref, r[CT_SUCTION_PRESSURE].v + p, ct_refrigerant_T_dew,
                             r[CT_SUPERHEAT].v, &r[CT_SUCTION_TEMPERATURE], fault);
    }
    if (status != CT_OK || !r[CT_SUBCOOLING].has || r[CT_LIQUID_TEMPERATURE].has) return status;
    if (!r[CT_LIQUID_PRESSURE].has) return missing(CT_SUBCOOLING, CT_LIQUID_PRESSURE, fault);
    r[CT_LIQUID_TEMPERATURE] = r[CT_SUBCOOLING];
    return temperature(ref, r[CT_LIQUID_PRESSURE].v + p, ct_refrigerant_T_bubble,
                       -r[CT_SUBCOOLING].v, &r[CT_LIQUID_TEMPERATURE], fault);
}

static ct_status split(ct_reading *r, ct_fault *fault)
{
    if (!r[CT_SPLIT].has || r[CT_SUPPLY_DRY_BULB].has) return CT_OK;
    if (!r[CT_RETURN_DRY_BULB].has) return missing(CT_SPLIT, CT_RETURN_DRY_BULB, fault);
    r[CT_SUPPLY_DRY_BULB] = r[CT_SPLIT];
    r[CT_SUPPLY_DRY_BULB].v = r[CT_RETURN_DRY_BULB].v - r[CT_SPLIT].v;
    return CT_OK;
}

ct_status ct_visit_derive(const ct_refrigerant *ref, double p, ct_readings *s, ct_fault *fault)
{
    ct_status status = saturations(ref, p, s->r, fault);
    if (status == CT_OK) status = lines(ref, p, s->r, fault);
    if (status == CT_OK) status = split(s->r, fault);
    if (status == CT_OK) status = watts(s->r, fault);
    if (status == CT_OK) status = airflow_by_rise(p, s, fault);
    return status == CT_OK ? condensate(s->r, fault) : status;
}
