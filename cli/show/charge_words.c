#include "show/charge_words.h"

#include <stddef.h>

const char *charge_words(const ct_case *c, int unit)
{
    if (c->indoor[unit].meter.kind != CT_METER_ORIFICE ||
        !(c->outdoor.assumed & CT_ASSUMED_SUBCOOLING))
        return NULL;
    return "The subcooling assumed is that of the rating. The piston is charged to the target "
           "superheat of the day, whatever subcooling that takes; one that is stated is charged to "
           "instead.";
}
