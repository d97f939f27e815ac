#include "base/natural.h"

#include <ctype.h>
#include <stddef.h>
#include <string.h>
#include <strings.h>

#include "base/number.h"

enum { PLAIN_SIZE = 64, GROUP = 3 };

static const char *skip_blanks(const char *s)
{
    while (*s == ' ' || *s == '\t')
        s++;
    return s;
}

static size_t digits(const char *s)
{
    return strspn(s, "0123456789");
}

/* How many groups ",ddd" follow the first digits; 0: none, or no such grouping, as in "95,5". */
static int count_groups(const char *s)
{
    const size_t first = digits(s);
    int n = 0;
    if (first == 0 || first > GROUP || *s == '0') return 0;
    for (s += first; *s == ','; s += GROUP + 1, n++)
        if (digits(s + 1) != GROUP) return 0;
    return n;
}

/* "-36,000.5": the number, without its commas when they part thousands. */
static bool read_grouped(const char *text, double *v, const char **end, int *groups)
{
    const char *s = text + (*text == '-' || *text == '+');
    char plain[PLAIN_SIZE];
    size_t n = 0;
    *groups = count_groups(s);
    if (*groups == 0) return ct_number_read(text, v, end);
    for (s = text; *s && n + 1 < sizeof plain && strchr("+-0123456789,.", *s); s++)
        if (*s != ',') plain[n++] = *s;
    plain[n] = '\0';
    const char *stop;
    if (!ct_number_read(plain, v, &stop)) return false;
    *end = text + (stop - plain) + *groups;
    return true;
}

/* "/8" after a 3, or "1/2" after "22-" or "22 ". Returns the fraction's end, NULL when none is
 * there. */
static const char *read_over(const char *s, double numerator, double *v)
{
    const char *end;
    double below;
    if (s[0] != '/' || !isdigit((unsigned char)s[1]) || !ct_number_read(s + 1, &below, &end) ||
        below <= 0.0)
        return NULL;
    *v = numerator / below;
    return end;
}

static const char *read_part(const char *s, double *v)
{
    const char *end;
    s = skip_blanks(s);
    if (*s == '-') s++;
    double above;
    if (!isdigit((unsigned char)*s) || digits(s) > 2 || !ct_number_read(s, &above, &end))
        return NULL;
    return read_over(end, above, v);
}

/* A number with its fraction, if it has one. */
static bool read_mixed(const char *text, double *v, const char **end, int *groups)
{
    if (!read_grouped(text, v, end, groups)) return false;
    const bool whole =
        digits(text + (*text == '-')) + (size_t)(*text == '-') == (size_t)(*end - text);
    double part;
    const char *over = whole ? read_over(*end, *v, &part) : NULL;
    if (over) {
        *v = part;
        *end = over;
        return true;
    }
    over = whole ? read_part(*end, &part) : NULL;
    if (!over) return true;
    *v += *v < 0.0 || *text == '-' ? -part : part;
    *end = over;
    return true;
}

/* The length of the word for a foot at s, 0 when there is none. */
static size_t foot_word(const char *s)
{
    static const char *const words[] = {"feet", "foot", "ft.", "ft", "'"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strncasecmp(s, words[i], strlen(words[i])) == 0) return strlen(words[i]);
    return 0;
}

static bool is_inch_word(const char *s)
{
    static const char *const words[] = {"\"", "in", "in.", "inch", "inches", "''"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strcasecmp(s, words[i]) == 0) return true;
    return false;
}

/* "1'10\"", "1 ft 10 in", "1'10": feet before, inches behind. */
static bool read_inches(const char *rest, double feet, double *inches)
{
    const size_t n = foot_word(rest);
    const char *s = skip_blanks(rest + n), *end;
    if (*s == '-') s++;
    double v;
    int groups;
    if (n == 0 || !isdigit((unsigned char)*s) || !read_mixed(s, &v, &end, &groups)) return false;
    end = skip_blanks(end);
    if (!is_inch_word(end) && !(*end == '\0' && rest[0] == '\'')) return false;
    if (v >= 12.0) return false;
    *inches = 12.0 * feet + (feet < 0.0 ? -v : v);
    return true;
}

bool ct_natural_read(const char *text, bool feet, ct_natural *out)
{
    const char *rest;
    double v;
    int groups;
    if (!read_mixed(text, &v, &rest, &groups)) return false;
    rest = skip_blanks(rest);
    if (rest[0] == '-' && isalpha((unsigned char)rest[1])) rest++; /* "3-ton" */
    double inches;
    if (feet && read_inches(rest, v, &inches)) {
        v = inches;
        rest = "in";
    }
    *out = (ct_natural){v, rest, groups == 1};
    return true;
}
