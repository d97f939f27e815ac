#include "judge/notes.h"

#include <stddef.h>

#include "plant/feed.h"

static unsigned of_piston(const ct_system *s, const ct_balance *b)
{
    const ct_refrigerant *r = s->outdoor.refrigerant;
    ct_inlet inlet;
    ct_orifice_out flow;
    unsigned notes = 0;

    if (s->meter.kind != CT_METER_ORIFICE || b->outcome != CT_BALANCED) return 0;
    double p_coil;
    if (ct_refrigerant_p_dew(r, b->T_coil, &p_coil, NULL) != CT_OK ||
        ct_feed_inlet(s, b, &inlet, NULL) != CT_OK ||
        ct_orifice_flow(&s->meter.orifice, &inlet, p_coil, &flow, NULL) != CT_OK)
        return 0;
    if (flow.outside & CT_ORIFICE_BORE) notes |= CT_NOTE_PISTON_BORE;
    if (flow.outside & CT_ORIFICE_LENGTH) notes |= CT_NOTE_PISTON_LENGTH;
    if (flow.outside & CT_ORIFICE_SUBCOOLING) notes |= CT_NOTE_PISTON_SUBCOOLING;
    if (flow.flash) notes |= CT_NOTE_PISTON_GAS;
    return notes;
}

/* Where the line takes more than there is, what arrives is worse than gas with liquid. */
static unsigned of_line(const ct_system *s, const ct_balance *b)
{
    ct_inlet inlet;

    return ct_feed_inlet(s, b, &inlet, NULL) != CT_OK || inlet.quality > 0.0 ? CT_NOTE_LINE_GAS : 0;
}

unsigned ct_notes_of_balance(const ct_system *s, const ct_balance *b)
{
    if (b->outcome != CT_BALANCED) return 0;
    return of_piston(s, b) | of_line(s, b) |
           (b->charge_beyond < 0 ? (unsigned)CT_NOTE_CHARGE_GAS : 0u) |
           (b->air_side_in_range ? 0u : (unsigned)CT_NOTE_FIN_RANGE);
}

unsigned ct_notes_of_room(const ct_room_out *room, const ct_room_out *fan_on)
{
    unsigned notes = 0;

    if (room && room->extrapolated) notes |= CT_NOTE_ROOM_RANGE;
    if (room && room->Q_short > 0.0) notes |= CT_NOTE_ROOM_SHORT;
    if (fan_on && fan_on->extrapolated) notes |= CT_NOTE_FAN_ON_RANGE;
    return notes;
}
