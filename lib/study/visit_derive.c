#include "study/visit_derive.h"

#include <math.h>
#include <stddef.h>

ct_reading_kind ct_visit_derive_for(ct_reading_kind kind)
{
    switch (kind) {
    case CT_SUCTION_SATURATION: return CT_SUCTION_PRESSURE;
    case CT_SUPERHEAT: return CT_SUCTION_TEMPERATURE;
    case CT_LIQUID_SATURATION: return CT_LIQUID_PRESSURE;
    case CT_SUBCOOLING: return CT_LIQUID_TEMPERATURE;
    case CT_SPLIT: return CT_SUPPLY_DRY_BULB;
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

ct_status ct_visit_derive(const ct_refrigerant *ref, double p, ct_readings *s, ct_fault *fault)
{
    ct_reading *r = s->r;
    ct_status status = pressure(ref, p, ct_refrigerant_p_dew, &r[CT_SUCTION_SATURATION],
                                &r[CT_SUCTION_PRESSURE], fault);
    if (status == CT_OK)
        status = pressure(ref, p, ct_refrigerant_p_bubble, &r[CT_LIQUID_SATURATION],
                          &r[CT_LIQUID_PRESSURE], fault);
    if (status == CT_OK && r[CT_SUPERHEAT].has && !r[CT_SUCTION_TEMPERATURE].has) {
        if (!r[CT_SUCTION_PRESSURE].has) return missing(CT_SUPERHEAT, CT_SUCTION_PRESSURE, fault);
        r[CT_SUCTION_TEMPERATURE] = r[CT_SUPERHEAT];
        status = temperature(ref, r[CT_SUCTION_PRESSURE].v + p, ct_refrigerant_T_dew,
                             r[CT_SUPERHEAT].v, &r[CT_SUCTION_TEMPERATURE], fault);
    }
    if (status == CT_OK && r[CT_SUBCOOLING].has && !r[CT_LIQUID_TEMPERATURE].has) {
        if (!r[CT_LIQUID_PRESSURE].has) return missing(CT_SUBCOOLING, CT_LIQUID_PRESSURE, fault);
        r[CT_LIQUID_TEMPERATURE] = r[CT_SUBCOOLING];
        status = temperature(ref, r[CT_LIQUID_PRESSURE].v + p, ct_refrigerant_T_bubble,
                             -r[CT_SUBCOOLING].v, &r[CT_LIQUID_TEMPERATURE], fault);
    }
    if (status != CT_OK || !r[CT_SPLIT].has || r[CT_SUPPLY_DRY_BULB].has) return status;
    if (!r[CT_RETURN_DRY_BULB].has) return missing(CT_SPLIT, CT_RETURN_DRY_BULB, fault);
    r[CT_SUPPLY_DRY_BULB] = r[CT_SPLIT];
    r[CT_SUPPLY_DRY_BULB].v = r[CT_RETURN_DRY_BULB].v - r[CT_SPLIT].v;
    return CT_OK;
}
