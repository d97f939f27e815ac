#include "case/weather_row.h"

#include <ctype.h>
#include <string.h>

static char *trimmed(char *text)
{
    while (isspace((unsigned char)*text) || *text == '"')
        text++;
    size_t n = strlen(text);
    while (n > 0 && (isspace((unsigned char)text[n - 1]) || text[n - 1] == '"'))
        n--;
    text[n] = '\0';
    return text;
}

static void cut(ct_weather_row *r, char *line)
{
    r->n = 0;
    while (line && r->n < CT_WEATHER_CELLS) {
        char *comma = strchr(line, ',');
        if (comma) *comma = '\0';
        r->cell[r->n++] = trimmed(line);
        line = comma ? comma + 1 : NULL;
    }
}

/* Lines end in LF, CR LF or CR. */
bool ct_weather_row_next(ct_weather_row *r)
{
    while (*r->rest) {
        char *line = r->rest;
        const size_t n = strcspn(line, "\r\n");
        const bool two = line[n] == '\r' && line[n + 1] == '\n';
        r->rest += n + (line[n] != '\0') + two;
        line[n] = '\0';
        r->line++;
        cut(r, line);
        if (r->n > 1 || *r->cell[0]) return true;
    }
    return false;
}

const char *ct_weather_cell(const ct_weather_row *r, int i)
{
    return i < r->n ? r->cell[i] : "";
}
