#include "show/against_words.h"

#include <math.h>
#include <stdbool.h>

static bool alike(double a, double b, double per_unit)
{
    return fabs(round(a * per_unit) - round(b * per_unit)) < 0.5;
}

int against_decimals(double a, double b)
{
    return alike(a, b, 100.0) && !alike(a, b, 1000.0) ? 1 : 0;
}

void against_words(FILE *out, double now, double then)
{
    const int decimals = against_decimals(now, then);

    if (alike(now, then, 1000.0))
        fprintf(out, "%.*f%% at both", alike(now, then, 100.0) ? 0 : 1, 100 * now);
    else
        fprintf(out, "%.*f%% instead of %.*f%%", decimals, 100 * now, decimals, 100 * then);
}
