#include "new/blank.h"

#include <string.h>

#include "case/readings.h"

enum { REMARK_COLUMN = 36, DEPTH = 6, INDENT = 2 };

static const char *given_text(const arguments *given, const char *key)
{
    char path[CT_KEY_PATH];
    for (int i = given->n_pairs - 1; i >= 0; i--) {
        ct_casefile_path(given->pair[i].key, path);
        if (strcmp(path, key) == 0) return given->pair[i].text;
    }
    return NULL;
}

/* Whether a key below this section is given. */
static bool is_live(const arguments *given, const char *section, size_t length)
{
    char path[CT_KEY_PATH];
    for (int i = 0; i < given->n_pairs; i++) {
        ct_casefile_path(given->pair[i].key, path);
        if (strncmp(path, section, length) == 0 && path[length] == '.') return true;
    }
    return false;
}

static int depth_of(const char *path)
{
    int n = 0;
    for (; *path; path++)
        n += *path == '.';
    return n;
}

/* The sections on the way to `path` that the key before it was not in. */
static void put_sections(FILE *out, const arguments *given, const char *path, const char *before)
{
    int depth = 0;
    for (const char *dot = strchr(path, '.'); dot; dot = strchr(dot + 1, '.'), depth++) {
        const size_t n = (size_t)(dot - path);
        if (strncmp(path, before, n) == 0 && before[n] == '.') continue;
        size_t from = n;
        while (from > 0 && path[from - 1] != '.')
            from--;
        if (depth == 0) fputc('\n', out);
        fprintf(out, "%s%*s%.*s:\n", is_live(given, path, n) ? "" : "#", INDENT * depth, "",
                (int)(n - from), path + from);
    }
}

static const char *last_part(const char *path)
{
    const char *dot = strrchr(path, '.');
    return dot ? dot + 1 : path;
}

/* "power, 35000 Btu/h": the example behind the comma; of a choice its first word. A text of a form
 * is the name of a tap. */
static void put_example(const ct_key_row *row, char *text, size_t size)
{
    const char *comma = strstr(row->unit, ", ");
    if (strcmp(row->unit, "text") == 0)
        snprintf(text, size, "low");
    else if (comma)
        snprintf(text, size, "%s", comma + 2);
    else
        snprintf(text, size, "%.*s", (int)strcspn(row->allowed, "|"), row->allowed);
}

static void put_key(FILE *out, const arguments *given, const ct_key_row *row)
{
    char example[80];
    const char *text = given_text(given, row->key);
    const bool quote = text && strpbrk(text, "\"'#:,[]{}&*!|>%@`");
    put_example(row, example, sizeof example);
    int n = fprintf(out, "%s%*s%s: ", text ? "" : "#", INDENT * depth_of(row->key), "",
                    last_part(row->key));
    if (!quote) n += fprintf(out, "%s", text ? text : example);
    for (const char *s = quote ? text : ""; *s; s++) {
        if (s == text) n += fprintf(out, "\"");
        n += fprintf(out, *s == '"' || *s == '\\' ? "\\%c" : "%c", *s);
        if (!s[1]) n += fprintf(out, "\"");
    }
    fprintf(out, "%*s# %s; %s\n", n < REMARK_COLUMN ? REMARK_COLUMN - n : 1, "", row->help,
            row->when);
}

/* The blower's table has no short key, yet the main job begins with it. A list is not quoted. */
static void put_taps(FILE *out, const arguments *given)
{
    const char *taps = given_text(given, "indoor.blower.taps");
    ct_key_row row;
    for (int i = 0; ct_casefile_key(i, &row); i++)
        if (strcmp(row.key, "indoor.blower.static_limit") == 0) put_key(out, given, &row);
    if (taps)
        fprintf(out, "    taps: %s\n", taps);
    else
        fputs("#    taps:                          # maker's table: static rising, airflow, watts\n"
              "#      - name: low\n"
              "#        points: [[0.3 inwc, 980 cfm, 300 W], [0.7 inwc, 850 cfm, 280 W]]\n"
              "#      - name: high\n"
              "#        points: [[0.3 inwc, 1240 cfm, 480 W], [0.7 inwc, 1060 cfm, 430 W]]\n",
              out);
}

void blank_print(FILE *out, const arguments *given)
{
    char before[CT_KEY_PATH] = "";
    ct_key_row row;
    fputs("# A coiltrim case. Take the '#' away from the start of a line and write your own value\n"
          "# behind the key, and the same for the section above it. 'coiltrim keys' lists more\n"
          "# keys: cabinet, the way in, other units to compare.\n",
          out);
    for (int i = 0; ct_casefile_key(i, &row); i++) {
        if (!row.brief[0]) continue;
        put_sections(out, given, row.key, before);
        put_key(out, given, &row);
        if (strcmp(row.key, "indoor.blower.motor") == 0) put_taps(out, given);
        snprintf(before, sizeof before, "%s", row.key);
    }
}

/* What stands in place of another reading is left to those who look for it. */
static bool is_common(const ct_key_row *row)
{
    const bool group = strcmp(row->unit, "section") == 0;
    return !group && row->allowed[0] && !strstr(row->help, "in place of") &&
           !strstr(row->key, "power_factor") && !strstr(row->key, "volts") &&
           !strstr(row->key, "heat_rise");
}

void blank_print_readings(FILE *out)
{
    static const arguments none;
    char before[CT_KEY_PATH] = "";
    ct_key_row row;
    fputs("# Readings of a visit. Let the system run for 15 minutes. Take the '#' away from the "
          "start\n"
          "# of a line and write what you read, with its unit, and the same for the section above "
          "it.\n"
          "# You need not have all. Behind +/- is the doubt: take it out, or write your own. "
          "'coiltrim\n"
          "# keys --readings' lists more: superheat, subcooling, saturation, split, amps.\n",
          out);
    for (int i = 0; ct_readings_key(i, &row); i++) {
        const bool tap = strcmp(row.key, "blower.tap") == 0;
        if (!tap && !is_common(&row)) continue;
        put_sections(out, &none, row.key, before);
        put_key(out, &none, &row);
        snprintf(before, sizeof before, "%s", row.key);
    }
}
