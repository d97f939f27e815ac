#include "show/arithmetic.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "base/units.h"

enum { DEPTH_MAX = 20 };

typedef struct {
    const char *at;
    int depth;
    bool good;
} cursor;

static double sum(cursor *c);

static bool take(cursor *c, const char *word)
{
    const size_t length = strlen(word);
    while (*c->at == ' ')
        c->at++;
    if (strncmp(c->at, word, length) != 0) return false;
    c->at += length;
    return true;
}

static double bracket(cursor *c)
{
    double v = NAN;
    if (++c->depth <= DEPTH_MAX) v = sum(c);
    c->depth--;
    if (!take(c, ")")) c->good = false;
    return v;
}

static double atom(cursor *c)
{
    double v = NAN;
    const char *end;
    if (take(c, "ln(")) return log(bracket(c));
    if (take(c, "exp(")) return exp(bracket(c));
    if (take(c, "(")) return bracket(c);
    if (take(c, "-")) return -atom(c);
    if (ct_number_read(c->at, &v, &end))
        c->at = end;
    else
        c->good = false;
    return v;
}

static double power(cursor *c)
{
    const double base = atom(c);
    return take(c, "^") ? pow(base, power(c)) : base;
}

static double product(cursor *c)
{
    double v = power(c);
    while (c->good) {
        if (take(c, "x"))
            v *= power(c);
        else if (take(c, "/"))
            v /= power(c);
        else
            break;
    }
    return v;
}

static double sum(cursor *c)
{
    double v = product(c);
    while (c->good) {
        if (take(c, "+"))
            v += product(c);
        else if (take(c, "-"))
            v -= product(c);
        else
            break;
    }
    return v;
}

bool arithmetic(const char *text, double *v)
{
    cursor c = {text, 0, true};
    const double result = sum(&c);
    take(&c, "");
    if (!c.good || *c.at || !isfinite(result)) return false;
    *v = result;
    return true;
}
