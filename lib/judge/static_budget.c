#include "judge/static_budget.h"

#include <math.h>

#define OVER_BY_HALF 1.5

/* One share for each duct side and the filter, two for a coil: 20, 20, 20 and 40 % of the rated
 * static with a furnace and a cased coil. Common practice, no source. */
static void usual_shares(ct_static_budget *b)
{
    double sum = 0.0;

    b->usual[CT_STATIC_RETURN] = b->filter_inside ? 2.0 : 1.0;
    b->usual[CT_STATIC_FILTER] = b->filter_inside ? 0.0 : 1.0;
    b->usual[CT_STATIC_COIL] = b->dp[CT_STATIC_COIL] > 0.0 ? 2.0 : 0.0;
    b->usual[CT_STATIC_SUPPLY] = 1.0;
    for (int i = 0; i < CT_STATIC_PARTS; i++)
        sum += b->usual[i];
    for (int i = 0; i < CT_STATIC_PARTS; i++)
        b->usual[i] /= sum;
}

void ct_static_budget_of(const ct_case *c, ct_static_budget *out)
{
    const ct_airflow_ways *w = &c->airflow_ways;
    const double limit = c->indoor[0].blower.dp_max;
    ct_static_budget b = {.worst = -1};
    double most = 1.0;

    b.has = c->has_duct && w->dp_return.has && w->dp_supply.has;
    *out = b;
    if (!b.has) return;
    b.limit_assumed = !(limit > 0.0);
    b.limit = b.limit_assumed ? CT_STATIC_USUAL_LIMIT : limit;
    b.total = w->dp_return.v + w->dp_supply.v;
    b.filter_inside = !w->dp_filter.has;
    b.dp[CT_STATIC_FILTER] = b.filter_inside ? 0.0 : w->dp_filter.v;
    b.dp[CT_STATIC_COIL] = fmin(c->duct.dp_coil_out, w->dp_supply.v);
    b.dp[CT_STATIC_RETURN] = w->dp_return.v - b.dp[CT_STATIC_FILTER];
    b.dp[CT_STATIC_SUPPLY] = w->dp_supply.v - b.dp[CT_STATIC_COIL];
    usual_shares(&b);
    for (int i = 0; i < CT_STATIC_PARTS; i++) {
        b.share[i] = b.dp[i] / b.limit;
        if (!(b.usual[i] > 0.0) || b.share[i] / b.usual[i] <= most) continue;
        most = b.share[i] / b.usual[i];
        b.worst = i;
    }
    b.too_small = b.worst >= 0 && (b.total > b.limit || most > OVER_BY_HALF);
    *out = b;
}
