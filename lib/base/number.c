#include "base/number.h"

#include <errno.h>
#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DIGITS_MAX 60

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* A number taken apart: all its digits as one whole number, times ten to the power e. */
typedef struct {
    char digits[DIGITS_MAX + 1];
    int n;
    int e;
} decimal;

static const char *take_digits(const char *s, decimal *d)
{
    for (; is_digit(*s); s++) {
        if (d->n == 1 && d->digits[0] == '0')
            d->n = 0; /* leading zeros are not digits that count */
        if (d->n == DIGITS_MAX) return NULL;
        d->digits[d->n++] = *s;
    }
    return s;
}

/* The exponent, if a whole one follows; "3 e" is a number and an odd unit, not a number. */
static const char *take_exponent(const char *s, decimal *d)
{
    if (*s != 'e' && *s != 'E') return s;
    const char *p = s + 1;
    const bool minus = *p == '-';
    if (*p == '-' || *p == '+') p++;
    if (!is_digit(*p)) return s;
    int e = 0;
    for (; is_digit(*p); p++) {
        if (e > 9999) return NULL;
        e = 10 * e + (*p - '0');
    }
    d->e += minus ? -e : e;
    return p;
}

/* Whole numbers of up to 15 digits and powers of ten up to 22 are exact as doubles, and one
 * multiplication or division of exact numbers is rounded correctly, as strtod would (W. D. Clinger,
 * How to read floating point numbers accurately, PLDI 1990). Nearly every number people write. */
static bool convert_short(const decimal *d, bool minus, double *v)
{
    static const double tens[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                  1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                  1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    if (FLT_EVAL_METHOD != 0 || d->n > 15 || d->e < -22 || d->e > 22) return false;
    double x = 0.0;
    for (int i = 0; i < d->n; i++)
        x = 10.0 * x + (d->digits[i] - '0');
    x = d->e < 0 ? x / tens[-d->e] : x * tens[d->e];
    *v = minus ? -x : x;
    return true;
}

/* strtod obeys the locale only at the decimal sign. So it is handed a whole number and an exponent,
 * which have none, and still does what is hard to do well by hand: round correctly. */
static bool convert(const decimal *d, bool minus, double *v)
{
    char plain[DIGITS_MAX + 16];
    snprintf(plain, sizeof plain, "%s%.*se%d", minus ? "-" : "", d->n, d->digits, d->e);
    const int saved = errno;
    errno = 0;
    const double x = strtod(plain, NULL);
    const bool lost = errno == ERANGE;
    errno = saved;
    if (lost || !isfinite(x)) return false;
    *v = x;
    return true;
}

bool ct_number_read(const char *text, double *v, const char **end)
{
    decimal d = {.n = 0, .e = 0};
    const bool minus = *text == '-';
    const char *s = text + (*text == '-' || *text == '+');
    if (!is_digit(*s) && !(*s == '.' && is_digit(s[1]))) return false; /* ".5" is a habit */
    s = take_digits(s, &d);
    if (s && *s == '.' && is_digit(s[1])) {
        const char *point = s + 1;
        s = take_digits(point, &d);
        if (s) d.e -= (int)(s - point);
    }
    if (s) s = take_exponent(s, &d);
    if (!s || !(convert_short(&d, minus, v) || convert(&d, minus, v))) return false;
    *end = s;
    return true;
}

const char *ct_number_write(double v, int digits, char *text, size_t size)
{
    char local[64];
    snprintf(local, sizeof local, "%.*g", digits < 1 ? 1 : digits > 17 ? 17 : digits, v);
    size_t n = 0;
    bool in_point = false;
    for (const char *s = local; *s && n + 1 < size; s++) {
        const bool ours = (*s > 0 && strchr("+-0123456789aefin", *s)); /* also inf and nan */
        if (ours || !in_point) text[n++] = ours ? *s : '.';
        in_point = !ours; /* a decimal sign may be several bytes; it becomes one '.' */
    }
    text[n] = '\0';
    return text;
}
