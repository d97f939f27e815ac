#include "plant/balance_blower.h"

void ct_balance_blower(const ct_system *sys, double m_da, double P, ct_balance *b)
{
    b->supply = b->out;
    if (!sys->before_coil) b->supply.T += P / (m_da * ct_air_cp(b->out.W));
    b->Q_net = b->Q - P;
    b->Q_sens_net = b->Q_sens - P;
    b->SHR_net = b->Q_sens_net / b->Q_net;
    b->P_total = b->P_compressor + P + sys->outdoor.P_fan;
    b->EER = b->Q_net / b->P_total;
}
