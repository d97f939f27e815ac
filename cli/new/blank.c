#include "new/blank.h"

#include <string.h>

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

/* "power, 35000 Btu/h": the example behind the comma; of a choice its first word. */
static void put_example(const ct_key_row *row, char *text, size_t size)
{
    const char *comma = strstr(row->unit, ", ");
    if (comma)
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
                    strrchr(row->key, '.') + 1);
    if (!quote) n += fprintf(out, "%s", text ? text : example);
    for (const char *s = quote ? text : ""; *s; s++) {
        if (s == text) n += fprintf(out, "\"");
        n += fprintf(out, *s == '"' || *s == '\\' ? "\\%c" : "%c", *s);
        if (!s[1]) n += fprintf(out, "\"");
    }
    fprintf(out, "%*s# %s; %s\n", n < REMARK_COLUMN ? REMARK_COLUMN - n : 1, "", row->help,
            row->when);
}

void blank_print(FILE *out, const arguments *given)
{
    char before[CT_KEY_PATH] = "";
    ct_key_row row;
    fputs("# A coiltrim case. Take the '#' away from the start of a line and write your own value\n"
          "# behind the key, and the same for the section above it. 'coiltrim keys' lists more\n"
          "# keys: blower taps, cabinet, the way in, other units to compare.\n",
          out);
    for (int i = 0; ct_casefile_key(i, &row); i++) {
        if (!row.brief[0]) continue;
        put_sections(out, given, row.key, before);
        put_key(out, given, &row);
        snprintf(before, sizeof before, "%s", row.key);
    }
}
