#include "judge/compatibility.h"

#include <math.h>
#include <string.h>

#include "fluid/catalogue.h"

#define LOW_SIDE_T 299.81666666666666 /* K, 80 F */

/* An oil that is not known is taken for the one of today's refrigerants. */
static ct_oil oil_of(const char *refrigerant)
{
    const ct_catalogue_row *row = ct_catalogue_find(refrigerant);
    return row ? row->oil : CT_OIL_ESTER;
}

static unsigned refrigerant_findings(const ct_case *c, const ct_indoor_unit *u)
{
    const char *system = c->outdoor.refrigerant;
    const ct_catalogue_row *row = ct_catalogue_find(system);
    unsigned found = 0;

    if (!u->coil.refrigerant[0])
        found |= CT_CHECK_REFRIGERANT_UNSTATED;
    else if (!ct_catalogue_same(u->coil.refrigerant, system))
        found |= CT_CHECK_COIL_REFRIGERANT;
    if ((found & CT_CHECK_COIL_REFRIGERANT) && oil_of(u->coil.refrigerant) != oil_of(system))
        found |= CT_CHECK_OIL;
    if (u->meter.kind == CT_METER_ORIFICE) {
        if (!row || !row->orifice) found |= CT_CHECK_CORRELATION;
    } else if (!u->meter.refrigerant[0])
        found |= CT_CHECK_REFRIGERANT_UNSTATED;
    else if (!ct_catalogue_same(u->meter.refrigerant, system))
        found |= CT_CHECK_METER_REFRIGERANT;
    if (row && row->phased_out) found |= CT_CHECK_PHASED_OUT;
    return found;
}

ct_status ct_checks_unit(const ct_case *c, const ct_refrigerant *r, int unit, ct_checks *out,
                         ct_fault *fault)
{
    const ct_indoor_unit *u = &c->indoor[unit];
    ct_checks k = {.found = refrigerant_findings(c, u), .T_needed = LOW_SIDE_T};
    ct_status status;

    if (c->site.has_around_duct) k.T_needed = fmax(k.T_needed, c->site.around_duct.T);
    status = ct_refrigerant_p_bubble(r, k.T_needed, &k.p_needed, fault);
    if (status != CT_OK) return status;
    if (!u->coil.p_design.has)
        k.found |= CT_CHECK_PRESSURE_UNSTATED;
    else if (u->coil.p_design.v < k.p_needed)
        k.found |= CT_CHECK_PRESSURE;
    if (strpbrk(ct_refrigerant_safety(r), "23")) k.found |= CT_CHECK_FLAMMABLE;
    k.refuse = (k.found & (CT_CHECK_METER_REFRIGERANT | CT_CHECK_PRESSURE)) != 0;
    *out = k;
    return CT_OK;
}
