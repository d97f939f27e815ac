#include "batch/decimal_comma.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

/* A run of digits, points and commas that begins with a digit or a decimal sign. */
static size_t number_length(const char *s)
{
    const size_t n = strspn(s, "0123456789.,");
    return n > 0 && strcspn(s, "0123456789") < n ? n : 0;
}

static size_t count(const char *s, size_t n, char c)
{
    size_t found = 0;
    for (size_t i = 0; i < n; i++)
        found += s[i] == c;
    return found;
}

/* "36,000" and "36.000", but not "0,625" or "12.5": three digits behind the only mark, and before
 * it a number that may be thousands. "1,234.5" is the other way round from what the table has. */
static bool is_unclear(const char *s, size_t n)
{
    const char *comma = memchr(s, ',', n), *point = memrchr(s, '.', n);
    if (comma && point && point > comma) return true;
    const size_t whole = strcspn(s, ".,");
    const size_t marks = count(s, n, '.') + count(s, n, ',');
    return marks == 1 && n - whole - 1 == 3 && whole >= 1 && whole <= 3 && s[0] != '0';
}

/* Takes the thousands' points out and makes the comma a point. */
static size_t put_number(const char *s, size_t n, char *out)
{
    const bool comma = count(s, n, ',') == 1;
    const bool points = comma || count(s, n, '.') > 1;
    size_t used = 0;
    for (size_t i = 0; i < n; i++) {
        if (s[i] == '.' && points) continue;
        out[used++] = s[i] == ',' && comma ? '.' : s[i];
    }
    return used;
}

bool decimal_comma_read(const char *cell, char *out, size_t size)
{
    size_t used = 0;
    for (const char *s = cell; *s && used + 1 < size;) {
        const bool inside = s > cell && isalpha((unsigned char)s[-1]); /* R-410A, m3 */
        const size_t n = inside ? 0 : number_length(s);
        if (n > 0 && is_unclear(s, n)) {
            snprintf(out, size,
                     "'%.*s' can be thousands or decimals in a table with semicolons; write 36000 "
                     "or 36,0",
                     (int)n, s);
            return false;
        }
        if (n > 0 && used + n < size) {
            used += put_number(s, n, out + used);
            s += n;
        } else {
            out[used++] = *s++;
        }
    }
    out[used] = '\0';
    return true;
}
