#include "case/assume.h"

#include <math.h>
#include <stdio.h>

#include "base/number.h"
#include "case/keys.h"
#include "case/note.h"

void ct_assume_number(ct_case_report *report, const char *key, double v, ct_unit_kind kind,
                      const char *unit, const char *why)
{
    double shown = v;
    char number[32];
    char text[48];
    ct_units_to(v, kind, unit, &shown);
    const int digits = fabs(shown) < 1e4 ? 4 : 6; /* 25300, not 2.53e+04 */
    snprintf(text, sizeof text, "%s%s%s", ct_number_write(shown, digits, number, sizeof number),
             ct_units_gap(unit), unit);
    ct_note_assumption(report, key, v, text, why);
}

const char *ct_assume_why(const char *key)
{
    return ct_key_find(&ct_case_keys, key)->why;
}

double ct_assume_usual(const char *key)
{
    const ct_key *k = ct_key_find(&ct_case_keys, key);
    double v = 0.0;
    ct_units_read(k->fallback, k->unit, &v, NULL);
    return v;
}
