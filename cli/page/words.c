#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/units.h"
#include "page/page.h"

enum { SPEED_LENGTH = 24 }; /* characters of a blower speed's name */

bool page_passes(const page *p)
{
    return p->pick->found && !p->candidate[p->unit].refused;
}

const ct_indoor_unit *page_indoor(const page *p)
{
    return &p->j->c->indoor[p->unit];
}

static bool letter_or_digit(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
}

void page_degrees(char *to, size_t size, const char *from)
{
    size_t n = 0;
    for (const char *c = from; *c && n + 4 < size; c++) {
        const bool unit = (*c == 'F' || *c == 'C') && c - from >= 2 && c[-1] == ' ' &&
                          c[-2] >= '0' && c[-2] <= '9' && !letter_or_digit(c[1]);
        if (unit) n += (size_t)snprintf(to + n, size - n, "°");
        to[n++] = *c;
    }
    to[n] = '\0';
}

char *page_nice(const char *text)
{
    const size_t size = 2 * strlen(text) + 8;
    char *nice = malloc(size);
    if (nice)
        page_degrees(nice, size, text);
    else
        complain_incomplete();
    return nice;
}

page_value page_show(const page *p, quantity q, double v)
{
    char plain[SHOWN_SIZE];
    page_value value;
    page_degrees(value.text, sizeof value.text, shown(plain, q, v, p->metric));
    return value;
}

static page_value without_decimals(const page *p, quantity q, double v)
{
    const quantity_form *form = quantity_for_people(q, p->metric);
    page_value value =
        page_show(p, q, (round(quantity_show(form, v)) - form->offset) / form->factor);
    char *point = strchr(value.text, '.');
    const size_t zeros = point ? strspn(point + 1, "0") : 0;
    if (point) memmove(point, point + 1 + zeros, strlen(point + 1 + zeros) + 1);
    return value;
}

page_value page_about(const page *p, quantity q, double v)
{
    const bool whole = q == Q_TEMPERATURE || q == Q_FRACTION;
    return whole && isfinite(v) ? without_decimals(p, q, v) : page_show(p, q, v);
}

page_value page_reading_value(const page *p, quantity q, double v)
{
    const bool degrees = q == Q_TEMPERATURE || q == Q_DELTA_T;
    const bool whole = q == Q_PRESSURE_GAUGE || (degrees && !p->metric);
    return whole && isfinite(v) ? without_decimals(p, q, v) : page_show(p, q, v);
}

static void drop_gauge(const page *p, quantity q, page_value *value)
{
    char *gauge = strstr(value->text, p->metric ? " gauge" : "g");
    if (q == Q_PRESSURE_GAUGE && gauge) *gauge = '\0';
}

page_value page_spread(const page *p, quantity q, double v)
{
    page_value value = page_reading_value(p, q, v);
    drop_gauge(p, q, &value);
    return value;
}

page_value page_difference(const page *p, quantity q, double dv, const char *more, const char *less)
{
    const quantity_form *form = quantity_for_people(q, p->metric);
    const double step = 0.5 * pow(10, -form->decimals);
    page_value value = {"not known"};
    if (!isfinite(dv)) return value;
    if (fabs(dv * form->factor) < step) return (page_value){"the same"};
    value = page_show(p, q, fabs(dv));
    drop_gauge(p, q, &value);
    const size_t used = strlen(value.text);
    snprintf(value.text + used, sizeof value.text - used, " %s", dv > 0 ? more : less);
    return value;
}

page_value page_speed(const page *p, const ct_point *point)
{
    page_value value;
    if (point->tap < 0) return page_show(p, Q_AIRFLOW, point->V);
    snprintf(value.text, sizeof value.text, "“%.96s”",
             page_short(page_indoor(p)->blower.tap[point->tap].name, SPEED_LENGTH).text);
    return value;
}

page_name page_short(const char *text, int length)
{
    page_name name;
    size_t n = 0;
    int characters = 0;
    for (; text[n] && n + 8 < sizeof name.text; n++) {
        const bool begins = ((unsigned char)text[n] & 0xc0) != 0x80;
        if (begins && characters++ == length) break;
        name.text[n] = text[n];
    }
    /* Cut before the last character, not inside it. */
    while (text[n] && n > 0 && ((unsigned char)text[n] & 0xc0) == 0x80)
        n--;
    snprintf(name.text + n, sizeof name.text - n, "%s", text[n] ? "…" : "");
    return name;
}

page_value page_price(const page *p, double price)
{
    const double whole = round(price);
    const char *currency = p->j->c->job.currency;
    page_value v;
    size_t n =
        (size_t)snprintf(v.text, sizeof v.text, "%s%s", currency, strlen(currency) > 1 ? " " : "");
    const size_t left = sizeof v.text - n;
    if (whole < 1000)
        snprintf(v.text + n, left, "%.0f", whole);
    else if (whole < 1e6)
        snprintf(v.text + n, left, "%.0f,%03.0f", floor(whole / 1000), fmod(whole, 1000));
    else
        snprintf(v.text + n, left, "%.0f,%03.0f,%03.0f", floor(whole / 1e6),
                 floor(fmod(whole, 1e6) / 1000), fmod(whole, 1000));
    return v;
}
