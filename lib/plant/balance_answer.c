#include "plant/balance_answer.h"

#include <math.h>
#include <stddef.h>

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
        return "the piston passes far more than the compressor takes: liquid would reach it";
    case CT_STARVED_OUT: return "the piston passes far less than the compressor would take";
    case CT_SUPERHEAT_LOST: return "the coil cannot make the superheat asked for";
    }
    return "unknown outcome";
}

void ct_balance_find_adp(ct_balance *b)
{
    b->has_adp = ct_air_adp(&b->in, &b->out, &b->ADP, &b->bypass, NULL) == CT_OK;
}

/* Backward differences: the one of order k is by how much k numbers before missed the newest, so
 * they are added up as long as they fall. */
double ct_ahead(const double *last, int n)
{
    double d[CT_AHEAD_MOST] = {0.0}, sum = last[0], missed = INFINITY;

    n = n < CT_AHEAD_MOST ? n : CT_AHEAD_MOST;
    for (int i = 0; i < n; i++)
        d[i] = last[i];
    for (int k = n - 1; k > 0; k--) {
        for (int i = 0; i < k; i++)
            d[i] -= d[i + 1];
        if (!(fabs(d[0]) < missed)) break;
        missed = fabs(d[0]);
        sum += d[0];
    }
    return sum;
}

/* A slope, too, but one that was not measured is not followed far. */
static double slope_ahead(const double *last, int n)
{
    return ct_slope_within(ct_ahead(last, n), last[0]);
}

ct_start ct_balance_ahead(const ct_start *last, int n)
{
    double v[7][CT_AHEAD_MOST] = {{0.0}};

    n = n < CT_AHEAD_MOST ? n : CT_AHEAD_MOST;
    for (int i = 0; i < n; i++) {
        v[0][i] = last[i].Te;
        v[1][i] = last[i].Tc;
        v[2][i] = last[i].slope;
        v[3][i] = last[i].slope_high;
        v[4][i] = last[i].Tc_per_Te;
        v[5][i] = last[i].subcooling;
        v[6][i] = last[i].charge_per_subcooling;
    }
    return (ct_start){ct_ahead(v[0], n),    ct_ahead(v[1], n),    slope_ahead(v[2], n),
                      slope_ahead(v[3], n), slope_ahead(v[4], n), ct_ahead(v[5], n),
                      slope_ahead(v[6], n), last[0].slopes};
}
