#include "explore/codes.h"

#include <math.h>
#include <stdlib.h>

static const char digit[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

static void find_range(const double *v, int n, codes *c)
{
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < n; i++) {
        if (!isfinite(v[i])) continue;
        low = fmin(low, v[i]);
        high = fmax(high, v[i]);
    }
    c->low = low <= high ? low : 0.0;
    c->step = low < high ? (high - low) / (CODE_NONE - 1) : 0.0;
}

static int code_of(const codes *c, double v)
{
    if (!isfinite(v)) return CODE_NONE;
    return c->step > 0.0 ? (int)lround((v - c->low) / c->step) : 0;
}

bool codes_make(const double *v, int n, codes *out)
{
    codes c = {.text = malloc(2 * (size_t)n + 1)};
    if (!c.text) return false;
    find_range(v, n, &c);
    for (int i = 0; i < n; i++) {
        const int code = code_of(&c, v[i]);
        c.text[2 * i] = digit[code / 64];
        c.text[2 * i + 1] = digit[code % 64];
    }
    c.text[2 * n] = '\0';
    *out = c;
    return true;
}
