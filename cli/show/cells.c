#include "show/cells.h"

#include <math.h>

#include "base/utf8.h"

double cell_value(quantity q, bool there, double v, bool metric)
{
    return there ? quantity_show(quantity_for_people(q, metric), v) : (double)NAN;
}

void cell_number(FILE *out, int width, int decimals, double shown)
{
    if (isfinite(shown))
        fprintf(out, "%*.*f", width, decimals, shown);
    else
        fprintf(out, "%*s", width, "-");
}

/* Bytes of the first `most` characters, and how many there are. */
static int bytes_of(const char *text, int most, int *characters)
{
    int n = 0;
    for (*characters = 0; text[n] && *characters < most; ++*characters)
        n += utf8_length(text + n) ? utf8_length(text + n) : 1;
    return n;
}

void cell_left(FILE *out, int width, const char *text)
{
    int characters;
    const int n = bytes_of(text, width, &characters);
    fprintf(out, "%.*s%*s", n, text, width - characters, "");
}

void cell_right(FILE *out, int width, const char *text)
{
    int characters;
    const int n = bytes_of(text, width - 1, &characters);
    fprintf(out, "%*s%.*s", width - characters, "", n, text);
}
