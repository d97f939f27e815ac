#include "base/json_text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "base/utf8.h"

enum { DIGITS = 9 }; /* as the program's */

static void put(ct_json *j, const char *text, size_t n)
{
    if (j->bad) return;
    if (j->size - j->used <= n) {
        const size_t size = 2 * (j->size + n) + 256;
        char *more = realloc(j->text, size);
        if (!more) {
            j->bad = true;
            return;
        }
        j->text = more;
        j->size = size;
    }
    memcpy(j->text + j->used, text, n);
    j->used += n;
    j->text[j->used] = '\0';
}

static void put_text(ct_json *j, const char *text)
{
    put(j, text, strlen(text));
}

static void put_unit(ct_json *j, unsigned unit)
{
    char text[8];
    snprintf(text, sizeof text, "\\u%04x", unit & 0xFFFFu);
    put_text(j, text);
}

/* One character of n bytes beyond ASCII, as one UTF-16 unit or two. */
static void put_character(ct_json *j, const unsigned char *s, size_t n)
{
    unsigned code = s[0] & (0xFFu >> (n + 1));
    for (size_t i = 1; i < n; i++)
        code = code << 6 | (s[i] & 0x3Fu);
    if (code < 0x10000u) {
        put_unit(j, code);
        return;
    }
    put_unit(j, 0xD800u + ((code - 0x10000u) >> 10));
    put_unit(j, 0xDC00u + ((code - 0x10000u) & 0x3FFu));
}

static void put_quoted(ct_json *j, const char *text)
{
    const unsigned char *s = (const unsigned char *)text;
    size_t left = strlen(text);
    put(j, "\"", 1);
    while (left > 0) {
        const size_t n = ct_utf8_length(s, left);
        if (n == 0)
            put_unit(j, 0xFFFD);
        else if (n > 1)
            put_character(j, s, n);
        else if (*s < 0x20 || *s == 0x7F)
            put_unit(j, *s);
        else {
            if (*s == '"' || *s == '\\') put(j, "\\", 1);
            put(j, (const char *)s, 1);
        }
        s += n ? n : 1;
        left -= n ? n : 1;
    }
    put(j, "\"", 1);
}

static void begin_value(ct_json *j, const char *name)
{
    if (j->follows) put(j, ",", 1);
    j->follows = true;
    if (!name) return;
    put_quoted(j, name);
    put(j, ":", 1);
}

void ct_json_open(ct_json *j, const char *name, char bracket)
{
    begin_value(j, name);
    put(j, &bracket, 1);
    j->follows = false;
}

void ct_json_close(ct_json *j, char bracket)
{
    put(j, &bracket, 1);
    j->follows = true;
}

void ct_json_text(ct_json *j, const char *name, const char *text)
{
    begin_value(j, name);
    put_quoted(j, text);
}

void ct_json_bool(ct_json *j, const char *name, bool v)
{
    begin_value(j, name);
    put_text(j, v ? "true" : "false");
}

void ct_json_whole(ct_json *j, const char *name, int v)
{
    char text[16];
    begin_value(j, name);
    snprintf(text, sizeof text, "%d", v);
    put_text(j, text);
}

void ct_json_number(ct_json *j, const char *name, double v)
{
    char text[32];
    if (!isfinite(v)) return;
    begin_value(j, name);
    put_text(j, ct_number_write(v, DIGITS, text, sizeof text));
}

char *ct_json_end(ct_json *j)
{
    char *text = j->bad ? NULL : j->text;
    if (j->bad) free(j->text);
    *j = (ct_json){0};
    return text;
}
