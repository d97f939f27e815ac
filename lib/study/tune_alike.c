#include "study/tune_alike.h"

/* From this share of the leading one's chance on the other is as good as told: chances rest on how
 * often each is met, which no one knows to better than some such factor. Judgment, no source. */
#define AS_GOOD 0.05

/* A cause, and what makes a sound system look like it: an instrument that reads low (-1) or high
 * (+1), or another tap (CT_READING_COUNT; the slower one). What instruments do follows from
 * superheat and subcooling being differences of two readings; which of these the second model of
 * the tests cannot tell apart either is in tests/tune_table.c. */
static const struct {
    ct_cause cause;
    ct_reading_kind kind;
    int way;
} rows[] = {
    {CT_CAUSE_FLOODED, CT_SUCTION_TEMPERATURE, -1},
    {CT_CAUSE_FLOODED, CT_SUCTION_PRESSURE, +1},
    {CT_CAUSE_STARVED, CT_SUCTION_TEMPERATURE, +1},
    {CT_CAUSE_STARVED, CT_SUCTION_PRESSURE, -1},
    {CT_CAUSE_LOW_CHARGE, CT_LIQUID_TEMPERATURE, +1},
    {CT_CAUSE_LOW_CHARGE, CT_LIQUID_PRESSURE, -1},
    {CT_CAUSE_OVERCHARGE, CT_LIQUID_TEMPERATURE, -1},
    {CT_CAUSE_OVERCHARGE, CT_LIQUID_PRESSURE, +1},
    {CT_CAUSE_CONDENSER, CT_OUTDOOR_DRY_BULB, -1},
    {CT_CAUSE_CONDENSER, CT_LIQUID_PRESSURE, +1},
    {CT_CAUSE_COIL, CT_SUCTION_PRESSURE, -1},
    {CT_CAUSE_RESTRICTED, CT_STATIC, +1},
    {CT_CAUSE_BLOWER, CT_STATIC, -1},
    {CT_CAUSE_BLOWER, CT_READING_COUNT, 0},
};

/* Does b make a sound system look like a? */
static bool row_holds(size_t i, const ct_tune_explanation *a, const ct_tune_explanation *b)
{
    if (a->cause != rows[i].cause) return false;
    if (rows[i].kind == CT_READING_COUNT) return b->cause == CT_CAUSE_TAP && b->size < 1.0;
    return b->cause == CT_CAUSE_READING && b->kind == rows[i].kind && b->size * rows[i].way > 0.0;
}

static bool look_alike(const ct_tune_explanation *a, const ct_tune_explanation *b)
{
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (row_holds(i, a, b) || row_holds(i, b, a)) return true;
    return false;
}

static void exchange(ct_tune_explanation *a, ct_tune_explanation *b)
{
    const ct_tune_explanation kept = *a;
    *a = *b;
    *b = kept;
}

void ct_tune_alike(ct_tune *t)
{
    ct_tune_explanation *e = t->explanation;
    for (int i = 1; i < t->n_explanations && !t->alike; i++) {
        if (e[i].chance < AS_GOOD * e[0].chance || !look_alike(&e[0], &e[i])) continue;
        t->alike = true;
        for (int k = i; k > 1; k--)
            exchange(&e[k], &e[k - 1]);
    }
    if (t->alike && e[1].cause == CT_CAUSE_FLOODED) exchange(&e[0], &e[1]);
}
