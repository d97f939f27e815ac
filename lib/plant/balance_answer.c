#include "plant/balance_answer.h"

const char *ct_outcome_text(ct_outcome outcome)
{
    switch (outcome) {
    case CT_BALANCED: return "balanced";
    case CT_NO_BALANCE: return "no suction temperature balances coil and compressor";
    case CT_JUMPED: return "the balance steps across zero without a solution";
    case CT_UNCONVERGED: return "not converged";
    case CT_NOT_COMPUTABLE: return "outside the refrigerant tables or the compressor's envelope";
    case CT_HEAD_TOO_HIGH: return "condensing temperature beyond the refrigerant's range";
    case CT_HEAD_TOO_LOW: return "too cold outdoors for a condensing pressure above suction";
    case CT_FLOODED_OUT:
        return "the orifice passes far more than the compressor takes: liquid would reach it";
    case CT_STARVED_OUT: return "the orifice passes far less than the compressor would take";
    case CT_SUPERHEAT_LOST: return "the coil cannot make the superheat asked for";
    }
    return "unknown outcome";
}
