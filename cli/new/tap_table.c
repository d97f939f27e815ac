#include "new/tap_table.h"

#include <ctype.h>
#include <string.h>

#include "part/blower.h"

enum { PARTS = 3 };

static const char *const part_key[PARTS] = {"indoor.blower.taps[].points[].static",
                                            "indoor.blower.taps[].points[].airflow",
                                            "indoor.blower.taps[].points[].power"};
static const char *const part_unit[PARTS][2] = {{"inwc", "Pa"}, {"cfm", "m3/h"}, {"W", "W"}};

/* The next value of the line: a number, with the unit behind it if one is written. Commas and
 * slashes part values; a comma before three digits is a thousand's. False: there is none. */
static bool next_value(const char **line, char value[ANSWER_SIZE])
{
    const char *s = *line + strspn(*line, " \t,;/");
    size_t n = 0;
    if (!isdigit((unsigned char)*s) && *s != '.') return false;
    for (; isdigit((unsigned char)*s) || *s == '.' || *s == ','; s++) {
        const bool thousand = isdigit((unsigned char)s[1]) && isdigit((unsigned char)s[2]) &&
                              isdigit((unsigned char)s[3]) && !isdigit((unsigned char)s[4]);
        if (*s == ',' && !thousand) break;
        if (*s != ',' && n + 20 < ANSWER_SIZE) value[n++] = *s;
    }
    const char *unit = s + strspn(s, " \t");
    if (isalpha((unsigned char)*unit) || *unit == '"') {
        const size_t length = strcspn(unit, " \t,;");
        snprintf(value + n, ANSWER_SIZE - n, " %.*s", (int)(length < 16 ? length : 16), unit);
        *line = unit + length;
        return true;
    }
    value[n] = '\0';
    *line = s;
    return true;
}

/* "0.5 1210 480" as "[0.5 inwc, 1210 cfm, 480 W]"; false: what is wrong is on the terminal. */
static bool read_point(const dialog *d, const char *line, char *point, size_t size)
{
    size_t used = (size_t)snprintf(point, size, "[");
    for (int i = 0; i < PARTS; i++) {
        char value[ANSWER_SIZE], text[2 * ANSWER_SIZE];
        ct_fault fault;
        if (!next_value(&line, value)) {
            /* 365 W per 1000 standard cfm: coil-only default of 10 CFR 430 appendix M. */
            fputs(
                "  three values belong in a line: static, airflow, watts, as 0.5 1210 480; watts\n"
                "  not known: a PSC blower takes about 0.37 W for each cfm\n",
                d->out);
            return false;
        }
        const bool bare = !strchr(value, ' ');
        snprintf(text, sizeof text, "%s%s%s", value, bare ? " " : "",
                 bare ? part_unit[i][d->metric] : "");
        if (ct_casefile_try(part_key[i], text, &fault) != CT_OK) {
            fprintf(d->out, "  %s\n", fault.what);
            return false;
        }
        used += (size_t)snprintf(point + used, size - used, "%s%s", i ? ", " : "", text);
    }
    snprintf(point + used, size - used, "]");
    return true;
}

/* Names go between quotes, so they may hold anything but these. */
static bool read_name(const dialog *d, const char *line)
{
    if (strlen(line) < CT_NAME_SIZE && !strpbrk(line, "\"\\")) return true;
    fprintf(d->out, "  a name of at most %d letters, without quotes\n", CT_NAME_SIZE - 1);
    return false;
}

static bool add(dialog *d, const char *text)
{
    const size_t used = strlen(d->taps);
    if (used + strlen(text) + 8 > sizeof d->taps) {
        fputs("  the table is full\n", d->out);
        return false;
    }
    snprintf(d->taps + used, sizeof d->taps - used, "%s", text);
    return true;
}

/* What closes a tap or the table; add() leaves room for it. */
static void add_end(dialog *d, const char *text)
{
    const size_t used = strlen(d->taps);
    snprintf(d->taps + used, sizeof d->taps - used, "%s", text);
}

/* One tap's points, at least one; they end with an empty line. */
static table_end ask_points(dialog *d, const char *name)
{
    char line[ANSWER_SIZE], prompt[2 * ANSWER_SIZE], point[4 * ANSWER_SIZE];
    snprintf(prompt, sizeof prompt, "  %s: static, airflow, watts [Enter: that is all]: ", name);
    bool warned = false;
    for (int n = 0; n < CT_MAX_TAP_POINTS;) {
        if (!prompt_line(d, prompt, line) || prompt_is_quit(line)) return TABLE_QUIT;
        if (prompt_is_back(line)) return TABLE_BACK;
        if (!line[0] && n > 0) {
            if (n > 1 || warned) break;
            fputs("  one point is enough only for a constant airflow motor; if it is one, Enter\n",
                  d->out);
            warned = true;
            continue;
        }
        if (!read_point(d, line, point, sizeof point)) continue;
        if (!add(d, n ? ", " : "") || !add(d, point)) break;
        n++;
    }
    return TABLE_DONE;
}

table_end tap_table_ask(dialog *d)
{
    char line[ANSWER_SIZE], open[2 * ANSWER_SIZE], before[TABLE_SIZE];
    memcpy(before, d->taps, sizeof before);
    snprintf(d->taps, sizeof d->taps, "[");
    for (int n = 0; n < CT_MAX_TAPS;) {
        table_end end = TABLE_DONE;
        if (!prompt_line(d,
                         n ? "  Name of the next tap [Enter: no more]: "
                           : "  Name of the slowest tap [low]: ",
                         line) ||
            prompt_is_quit(line))
            return TABLE_QUIT;
        if (!line[0] && n > 0) break;
        if (!line[0]) snprintf(line, sizeof line, "low");
        if (prompt_is_back(line)) end = TABLE_BACK;
        if (end == TABLE_DONE && !read_name(d, line)) continue;
        snprintf(open, sizeof open, "%s" TAP_BEGINS "%s\", points: [", n ? ", " : "", line);
        if (end == TABLE_DONE && !add(d, open)) break;
        if (end == TABLE_DONE) end = ask_points(d, line);
        if (end != TABLE_DONE) memcpy(d->taps, before, sizeof before);
        if (end != TABLE_DONE) return end;
        add_end(d, "]}");
        n++;
    }
    add_end(d, "]");
    return TABLE_DONE;
}
