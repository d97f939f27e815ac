#include "judge/compatibility.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#define LOW_SIDE_T 299.81666666666666 /* K, 80 F */

/* Next letter or digit, lower case; hyphens and blanks are spelling. */
static char next_letter(const char **s)
{
    while (**s && !isalnum((unsigned char)**s))
        (*s)++;
    return **s ? (char)tolower((unsigned char)*(*s)++) : '\0';
}

bool ct_same_refrigerant(const char *a, const char *b)
{
    char x, y;

    do {
        x = next_letter(&a);
        y = next_letter(&b);
    } while (x == y && x);
    return x == y;
}

/* Mineral oil against polyol ester (the chlorine-free ones): common practice, no source. */
static bool mineral_oil(const char *refrigerant)
{
    return ct_same_refrigerant(refrigerant, "R-22");
}

static unsigned refrigerant_findings(const ct_case *c, const ct_indoor_unit *u)
{
    const char *system = c->outdoor.refrigerant;
    unsigned found = 0;

    if (!u->coil.refrigerant[0])
        found |= CT_CHECK_REFRIGERANT_UNSTATED;
    else if (!ct_same_refrigerant(u->coil.refrigerant, system))
        found |= CT_CHECK_COIL_REFRIGERANT;
    if ((found & CT_CHECK_COIL_REFRIGERANT) &&
        mineral_oil(u->coil.refrigerant) != mineral_oil(system))
        found |= CT_CHECK_OIL;
    if (u->meter.kind == CT_METER_ORIFICE) {
        if (ct_same_refrigerant(system, "R-32")) found |= CT_CHECK_CORRELATION;
    } else if (!u->meter.refrigerant[0])
        found |= CT_CHECK_REFRIGERANT_UNSTATED;
    else if (!ct_same_refrigerant(u->meter.refrigerant, system))
        found |= CT_CHECK_METER_REFRIGERANT;
    if (ct_same_refrigerant(system, "R-22")) found |= CT_CHECK_PHASED_OUT;
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
