#include "judge/compatibility.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "fluid/catalog.h"

#define LOW_SIDE_T 299.81666666666666 /* K, 80 F */

/* How much higher the system's pressure may be than that of what the coil is made for, before the
 * coil is taken to be too weak: equipment for R-22 is filled with R-407C, a tenth higher, every
 * day, and never with R-410A, six tenths higher. Common practice, no source. */
#define PRESSURE_APART 1.15

#define ROW(id, bit, token, kind) {CT_CHECK_##id, token, CT_FINDING_##kind},

static const struct {
    unsigned check;
    const char *token;
    ct_finding kind;
} rows[CT_CHECK_COUNT] = {CT_CHECKS(ROW)};

static int row_of(unsigned check)
{
    int i = 0;

    while (i < CT_CHECK_COUNT - 1 && rows[i].check != check)
        i++;
    return i;
}

const char *ct_compatibility_token(unsigned check)
{
    return rows[row_of(check)].token;
}

ct_finding ct_compatibility_kind(unsigned check)
{
    return rows[row_of(check)].kind;
}

static bool burns(const char *safety)
{
    return strpbrk(safety, "23") != NULL;
}

/* What the coil is made for, the best of its list: an oil that is not known is taken for the one of
 * today's refrigerants. */
typedef struct {
    bool known;      /* at least one of the list is in the catalog */
    double pressure; /* psia at 80 F, the highest of the list */
    bool burns, same_oil;
} coil_list;

static coil_list read_list(const char *list, ct_oil oil)
{
    coil_list k = {.known = false};
    char one[CT_NAME_SIZE];

    while ((list = ct_catalog_next(list, one, sizeof one))) {
        const ct_catalog_row *row = ct_catalog_find(one);
        k.same_oil = k.same_oil || (row ? row->oil : CT_OIL_ESTER) == oil;
        if (!row) continue;
        k.known = true;
        k.pressure = fmax(k.pressure, row->psig_80F + CT_ATM_PA / CT_PA_PER_PSI);
        k.burns = k.burns || burns(row->safety);
    }
    return k;
}

static unsigned other_refrigerant(const ct_indoor_unit *u, const ct_catalog_row *system)
{
    const coil_list k = read_list(u->coil.refrigerant, system ? system->oil : CT_OIL_ESTER);
    unsigned found = CT_CHECK_COIL_REFRIGERANT;

    if (!k.same_oil) found |= CT_CHECK_OIL;
    if (!system || !k.known) return found;
    if (!u->coil.p_design.has &&
        system->psig_80F + CT_ATM_PA / CT_PA_PER_PSI > PRESSURE_APART * k.pressure)
        found |= CT_CHECK_COIL_PRESSURE;
    if (burns(system->safety) && !k.burns) found |= CT_CHECK_COIL_FLAMMABLE;
    return found;
}

static unsigned of_valve(const ct_indoor_unit *u, const char *system)
{
    char one[CT_NAME_SIZE];
    const char *rest;

    if (!u->meter.refrigerant[0]) return CT_CHECK_REFRIGERANT_UNSTATED;
    if (!ct_catalog_lists(u->meter.refrigerant, system)) return CT_CHECK_METER_REFRIGERANT;
    rest = ct_catalog_next(u->meter.refrigerant, one, sizeof one);
    return rest && ct_catalog_next(rest, one, sizeof one) ? CT_CHECK_SET_VALVE : 0;
}

static unsigned refrigerant_findings(const ct_case *c, const ct_indoor_unit *u)
{
    const char *system = c->outdoor.refrigerant;
    const ct_catalog_row *row = ct_catalog_find(system);
    unsigned found = 0;

    if (!u->coil.refrigerant[0])
        found |= CT_CHECK_REFRIGERANT_UNSTATED;
    else if (!ct_catalog_lists(u->coil.refrigerant, system))
        found |= other_refrigerant(u, row);
    if (u->meter.kind != CT_METER_ORIFICE)
        found |= of_valve(u, system);
    else if (!row || !row->orifice)
        found |= CT_CHECK_CORRELATION;
    if (row && row->phased_out) found |= CT_CHECK_PHASED_OUT;
    if (row && burns(row->safety)) found |= CT_CHECK_FLAMMABLE;
    return found;
}

static bool refuses(unsigned found)
{
    for (int i = 0; i < CT_CHECK_COUNT; i++)
        if (found & rows[i].check && rows[i].kind == CT_FINDING_REFUSES) return true;
    return false;
}

ct_status ct_compatibility_checks(const ct_case *c, const ct_refrigerant *r,
                                  const ct_indoor_unit *u, ct_checks *out, ct_fault *fault)
{
    ct_checks k = {.found = refrigerant_findings(c, u), .T_needed = LOW_SIDE_T};

    if (c->site.has_around_duct) k.T_needed = fmax(k.T_needed, c->site.around_duct.T);
    ct_status status = ct_refrigerant_p_bubble(r, k.T_needed, &k.p_needed, fault);
    if (status != CT_OK) return status;
    if (!u->coil.p_design.has)
        k.found |= k.found & CT_CHECK_COIL_PRESSURE ? 0u : (unsigned)CT_CHECK_PRESSURE_UNSTATED;
    else if (u->coil.p_design.v < k.p_needed)
        k.found |= CT_CHECK_PRESSURE;
    k.refuse = refuses(k.found);
    *out = k;
    return CT_OK;
}
