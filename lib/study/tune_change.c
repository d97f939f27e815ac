#include "study/tune_change.h"

#include <math.h>

/* Clearly less: by so many standard uncertainties. */
#define CLEARLY 2.0

const char *ct_change_name(ct_change_kind kind)
{
    static const char *const names[CT_CHANGE_COUNT] = {
        [CT_CHANGE_UNCLEAR] = "unclear", [CT_CHANGE_SOUND] = "sound", [CT_CHANGE_FIXED] = "fixed",
        [CT_CHANGE_BETTER] = "better",   [CT_CHANGE_SAME] = "same",   [CT_CHANGE_OTHER] = "other",
        [CT_CHANGE_BROKEN] = "broken"};
    return (unsigned)kind < CT_CHANGE_COUNT ? names[kind] : "unknown";
}

static bool usable(const ct_tune *t)
{
    return t->fitted && t->agree && !(t->wrong && t->n_explanations == 0);
}

static bool same_cause(const ct_tune_explanation *a, const ct_tune_explanation *b)
{
    return a->cause == b->cause && (a->cause != CT_CAUSE_TAP || a->tap == b->tap) &&
           (a->cause != CT_CAUSE_READING || a->kind == b->kind);
}

/* Nearer to a sound system; charge and metering show in superheat and subcooling, which have no
 * size that is right for all, and are left out. */
static bool nearer(const ct_tune_explanation *before, const ct_tune_explanation *after)
{
    if (!before->is_multiplier || !after->is_multiplier) return false;
    const double gain = fabs(log(before->size)) - fabs(log(after->size));
    return gain > CLEARLY * hypot(before->u, after->u);
}

/* Of what looks alike either may be first: the place on each visit of the cause that is named on
 * both. False: none is. */
static bool find_same(const ct_tune *before, const ct_tune *after, int *i, int *k)
{
    for (*i = 0; *i < (before->alike ? 2 : 1); ++*i)
        for (*k = 0; *k < (after->alike ? 2 : 1); ++*k)
            if (same_cause(&before->explanation[*i], &after->explanation[*k])) return true;
    return false;
}

static ct_change_kind kind_of(const ct_tune *before, const ct_tune *after)
{
    int i, k;
    if (!usable(before) || !usable(after)) return CT_CHANGE_UNCLEAR;
    if (!before->wrong) return after->wrong ? CT_CHANGE_BROKEN : CT_CHANGE_SOUND;
    if (!after->wrong) return CT_CHANGE_FIXED;
    if (!find_same(before, after, &i, &k)) return CT_CHANGE_OTHER;
    return nearer(&before->explanation[i], &after->explanation[k]) ? CT_CHANGE_BETTER
                                                                   : CT_CHANGE_SAME;
}

static ct_change_value change(double before, double u_before, double after, double u_after)
{
    return (ct_change_value){before, after, log(after / before) / hypot(u_before, u_after)};
}

static bool has_capacity(const ct_tune *t)
{
    return t->fitted && t->u_capacity > 0.0 && t->Q_sens_plate > 0.0 && t->balance.Q_sens_net > 0.0;
}

static bool comparable(const ct_tune *t, int i)
{
    return t->fitted && ct_tune_value_told(t, i);
}

void ct_tune_compare(const ct_tune *before, const ct_tune *after, ct_tune_change *out)
{
    *out = (ct_tune_change){.kind = kind_of(before, after)};
    for (int i = 0; i < CT_TUNE_MULTIPLIERS; i++) {
        const ct_tune_value *a = &before->value[i], *b = &after->value[i];
        out->has[i] = comparable(before, i) && comparable(after, i);
        if (out->has[i]) out->value[i] = change(a->value, a->u, b->value, b->u);
    }
    out->has_capacity = has_capacity(before) && has_capacity(after);
    if (out->has_capacity)
        out->capacity =
            change(before->balance.Q_sens_net / before->Q_sens_plate, before->u_capacity,
                   after->balance.Q_sens_net / after->Q_sens_plate, after->u_capacity);
}
