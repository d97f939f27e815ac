#include "judge/limits.h"

#include <math.h>

/* A distance between two temperatures is a difference; between two of anything else it is of the
 * same kind. */
#define SLACK_UNIT(kind) (CT_UNIT_##kind == CT_UNIT_TEMPERATURE ? CT_UNIT_DELTA_T : CT_UNIT_##kind)

#define ROW(id, token, name, brief, title, measured, bound, kind, scale, remedy)                   \
    [CT_LIMIT_##id] = {                                                                            \
        token, name, brief, title, measured, bound, CT_UNIT_##kind, SLACK_UNIT(kind), scale},

static const ct_limit_row rows[CT_LIMIT_COUNT] = {CT_DECIDING_LIMITS(ROW) CT_ADVISORY_LIMITS(ROW)};

const ct_limit_row *ct_limit_of(ct_limit limit)
{
    return &rows[limit];
}

double ct_limit_shortfall(ct_limit limit, const ct_judgment *j)
{
    const double least = 1e-12; /* a hair is still a reason */
    double scale = rows[limit].scale;

    if (j->verdict != CT_FAILS) return 0.0;
    if (limit == CT_LIMIT_BALANCE) return (double)INFINITY;
    if (!(scale > 0.0)) scale = fmax(fabs(j->bound), least);
    return fmax(-j->slack / scale, least);
}

ct_limit ct_limit_worst(const ct_judgment *judged)
{
    ct_limit worst = CT_LIMIT_BALANCE;
    double most = 0.0;

    for (int i = 0; i < CT_LIMIT_FIRST_ADVICE; i++) {
        double s = ct_limit_shortfall((ct_limit)i, &judged[i]);
        if (s > most) {
            most = s;
            worst = (ct_limit)i;
        }
    }
    return worst;
}
