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

/* ---- Few digits, by plain arithmetic --------------------------------------------- */

/* Of at most this many digits a double holds all but a millionth of the last; nearer to a half than
 * UNSURE the C library rounds. */
#define QUICK_DIGITS 9
#define UNSURE 1e-3
#define QUICK_LEAST 1e-4 /* printf's %g changes its notation below */
#define QUICK_MOST 1e15

static double ten_to(int n)
{
    static const double powers[] = {1e0, 1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                    1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
    return powers[n];
}

static int decade(double size)
{
    int x = 0;
    while (x < 14 && size >= ten_to(x + 1))
        x++;
    while (x <= 0 && x > -4 && size * ten_to(-x) < 1)
        x--;
    return x;
}

/* The decimals' digits of n from its end, with the point among them. */
static void put_digits(char text[NUMBER_TEXT_SIZE], bool minus, long n, int decimals)
{
    char *p = &text[NUMBER_TEXT_SIZE - 1];
    *p = '\0';
    for (int zeros = decimals; zeros < 0; zeros++)
        *--p = '0';
    for (int i = 0; n > 0 || i <= decimals; i++, n /= 10) {
        if (i > 0 && i == decimals) *--p = '.';
        *--p = (char)('0' + n % 10);
    }
    if (minus) *--p = '-';
    memmove(text, p, strlen(p) + 1);
}

/* As printf's %.*g, spelled out; false where that is better asked. */
static bool quick(char text[NUMBER_TEXT_SIZE], double v, int digits)
{
    const double size = fabs(v);
    if (v == 0.0 && !signbit(v)) {
        memcpy(text, "0", 2);
        return true;
    }
    if (digits > QUICK_DIGITS || !(size >= QUICK_LEAST && size < QUICK_MOST)) return false;
    int decimals = digits - 1 - decade(size);
    const double scaled = decimals < 0 ? size / ten_to(-decimals) : size * ten_to(decimals);
    const double whole = floor(scaled);
    if (fabs(scaled - whole - 0.5) < UNSURE) return false;
    long n = (long)whole + (scaled - whole > 0.5);
    while (decimals > 0 && n % 10 == 0) {
        n /= 10;
        decimals--;
    }
    put_digits(text, v < 0, n, decimals);
    return true;
}

bool number_text(char text[NUMBER_TEXT_SIZE], double v, int digits)
{
    text[0] = '\0';
    if (!isfinite(v)) return false;
    if (digits > 0 && quick(text, v, digits)) return true;
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
