/* Low stage from its nameplate: what it makes of the compressor's flow and power.
 *
 * The coil and the condenser are those of the high stage, as that was rated, with the same
 * superheat and subcooling. Rated capacity and power then leave two unknowns, saturated suction and
 * discharge: where the condenser sheds what it gets and the coil takes up what is rated. There the
 * flow and the power of the low stage are known, and with them the two multipliers. The suction
 * line loses less with less flow, as m^1.8 (turbulent, smooth pipe: friction factor as Re^-0.2,
 * McAdams), and picks up more per kg. SI. Internal. */
#ifndef CT_PLANT_RATE_LOW_H
#define CT_PLANT_RATE_LOW_H

#include "base/status.h"
#include "plant/plant.h"

/* Fills o->low of an outdoor unit that is rated, with its matched coil; *eta: isentropic over
 * electrical. Without a low stage o->low.has is false and *eta NaN. CT_INPUT when the nameplate
 * contradicts itself. */
ct_status ct_rate_low(const ct_outdoor_unit *, const ct_coil *matched, ct_outdoor *o, double *eta,
                      ct_fault *);

#endif
