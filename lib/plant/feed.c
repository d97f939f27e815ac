#include "plant/feed.h"

ct_status ct_feed_inlet(const ct_system *s, const ct_balance *b, ct_inlet *inlet, ct_fault *fault)
{
    const ct_liquid_line_feed feed = {b->p_discharge, b->subcooling, b->m_r};

    return ct_liquid_line_inlet(&s->outdoor.line, s->outdoor.refrigerant, &feed, inlet, fault);
}
