#include "base/number_text.h"

#include <locale.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The shortest of 1..17 digits that reads back as v; 17 always do. */
static void shortest(char text[NUMBER_TEXT_SIZE], double v)
{
    char trial[NUMBER_TEXT_SIZE];
    for (int digits = 1; digits <= 17; digits++) {
        snprintf(trial, sizeof trial, "%.*g", digits, v);
        const double back = strtod(trial, NULL);
        if (!(back < v) && !(back > v)) break;
    }
    memcpy(text, trial, strlen(trial) + 1);
}

/* 36000 in two digits is "3.6e+04" to printf; people and spreadsheets rather read 36000. */
static void spell_out(char text[NUMBER_TEXT_SIZE])
{
    const double v = strtod(text, NULL), size = fabs(v);
    if (strchr(text, 'e') && size >= 1 && size < 1e15) snprintf(text, NUMBER_TEXT_SIZE, "%.0f", v);
}

bool number_text(char text[NUMBER_TEXT_SIZE], double v, int digits)
{
    text[0] = '\0';
    if (!isfinite(v)) return false;
    /* The thread's own locale: the process may have set one with a decimal comma. In glibc the C
     * locale is a constant object, so this cannot fail for want of memory. */
    const locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    const locale_t before = plain ? uselocale(plain) : (locale_t)0;
    if (digits > 0)
        snprintf(text, NUMBER_TEXT_SIZE, "%.*g", digits, v);
    else
        shortest(text, v);
    spell_out(text);
    if (plain) {
        uselocale(before);
        freelocale(plain);
    }
    return true;
}
