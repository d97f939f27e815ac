#include "explore/lesson.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/read_file.h"
#include "base/status.h"
#include "base/units.h"
#include "base/utf8.h"

/* ---- Text ------------------------------------------------------------------------ */

static bool is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

/* Without blanks at both ends, in place. */
static char *trim(char *text)
{
    while (is_blank(*text))
        text++;
    size_t n = strlen(text);
    while (n > 0 && is_blank(text[n - 1]))
        n--;
    text[n] = '\0';
    return text;
}

/* Cuts *rest behind the next `mark` and gives what stood before it; NULL at the end. */
static char *next_piece(char **rest, char mark)
{
    char *piece = *rest;
    if (!piece) return NULL;
    char *end = strchr(piece, mark);
    if (end) *end = '\0';
    *rest = end ? end + 1 : NULL;
    return trim(piece);
}

/* ---- Places ---------------------------------------------------------------------- */

static const struct {
    const char *name;
    ct_unit_kind kind;
} sliders[AXES] = {
    [AXIS_AIR] = {"airflow", CT_UNIT_AIRFLOW_PER_TON},
    [AXIS_OUTDOORS] = {"outdoors", CT_UNIT_TEMPERATURE},
    [AXIS_HUMIDITY] = {"humidity", CT_UNIT_FRACTION},
    [AXIS_LOAD] = {"load", CT_UNIT_POWER},
};

/* What is wrong, for the message. */
typedef struct {
    char why[400];
} trouble;

static bool wrong(trouble *t, const char *what, const char *given, const char *allowed)
{
    snprintf(t->why, sizeof t->why, "%s (given: %.60s); %s", what, given, allowed);
    return false;
}

/* "outdoors 75 F" */
static bool take_slider(char *piece, lesson_place *place, trouble *t)
{
    char *rest = piece;
    const char *name = next_piece(&rest, ' ');
    ct_fault fault;
    for (int a = 0; a < AXES; a++) {
        if (strcmp(name, sliders[a].name) != 0) continue;
        place->has[a] = true;
        if (ct_units_read(rest ? trim(rest) : "", sliders[a].kind, &place->at[a], &fault) == CT_OK)
            return true;
        return wrong(t, fault.what, name, "write a number and its unit");
    }
    return wrong(t, "no slider of this name", name,
                 "allowed: airflow, outdoors, humidity, load, unit");
}

static bool take_place(char *text, const lesson *l, lesson_place *place, trouble *t)
{
    for (char *piece; (piece = next_piece(&text, ',')) != NULL;) {
        if (strncmp(piece, "unit ", 5) != 0) {
            if (!take_slider(piece, place, t)) return false;
            continue;
        }
        if (!l->unit || strcmp(trim(piece + 5), l->unit) != 0)
            return wrong(t, "no unit of this name", piece + 5, "name it in a line 'with' above");
        place->second = true;
    }
    return true;
}

/* ---- The comment ----------------------------------------------------------------- */

static bool take_guesses(char *text, lesson *l, trouble *t)
{
    for (char *piece; (piece = next_piece(&text, ',')) != NULL;) {
        int i = 0;
        while (i < figures_count() && strcmp(piece, figure_at(i)->name) != 0)
            i++;
        if (i == figures_count() || figure_at(i)->is_slack)
            return wrong(t, "no value of this name", piece,
                         "such as total, sensible, latent, suction");
        if (l->n_guesses == LESSON_MAX_GUESSES)
            return wrong(t, "too many guesses", piece, "allowed: 8");
        l->guess[l->n_guesses++] = i;
    }
    return true;
}

/* "larger coil; indoor.coil.size = 1.4; ..." */
static bool take_unit(char *text, lesson *l, trouble *t)
{
    l->unit = next_piece(&text, ';');
    for (char *piece; (piece = next_piece(&text, ';')) != NULL;) {
        if (l->n_changes == LESSON_MAX_CHANGES)
            return wrong(t, "too many changed keys", piece, "allowed: 8");
        char *value = piece;
        const char *key = next_piece(&value, '=');
        value = value ? trim(value) : NULL;
        if (!value)
            return wrong(t, "a change has no '='", key,
                         "write KEY = VALUE, or KEY = to take it out");
        l->change[l->n_changes].key = key;
        l->change[l->n_changes++].value = value[0] ? value : NULL;
    }
    return true;
}

static bool take_line(char *line, lesson *l, trouble *t)
{
    char *rest = line;
    const char *name = next_piece(&rest, ':');
    if (!name[0]) return true;
    if (!rest)
        return wrong(t, "a line without ':'", name, "write before, after, guess or with, then ':'");
    if (strcmp(name, "with") == 0) return take_unit(rest, l, t);
    if (strcmp(name, "before") == 0) return take_place(rest, l, &l->before, t);
    if (strcmp(name, "after") == 0) return take_place(rest, l, &l->after, t);
    if (strcmp(name, "guess") == 0) return take_guesses(rest, l, t);
    return wrong(t, "no line of this name", name, "allowed: with, before, after, guess");
}

static bool take_comment(lesson *l, trouble *t)
{
    static const char mark[] = "<!-- explore";
    char *start = strstr(l->text, mark), *end = start ? strstr(start, "-->") : NULL;
    if (!end)
        return wrong(t, "no comment that begins '<!-- explore'", "none",
                     "lessons 1 to 5 of examples/lessons have one");
    char *rest = start + strlen(mark);
    *end = '\0';
    for (char *line; (line = next_piece(&rest, '\n')) != NULL;)
        if (!take_line(line, l, t)) return false;
    if (l->n_guesses == 0)
        return wrong(t, "nothing to guess", "none", "add a line 'guess: suction'");
    return true;
}

/* ---- Sections -------------------------------------------------------------------- */

/* The text of a section, up to the next heading; NULL when there is none. */
static char *section(char *text, const char *heading)
{
    char *start = strstr(text, heading);
    return start ? start + strlen(heading) : NULL;
}

static const char *or_empty(char *text)
{
    return text ? trim(text) : "";
}

static void end_at_heading(char *text)
{
    char *end = text ? strstr(text, "\n## ") : NULL;
    if (end) *end = '\0';
}

static void drop_comments(char *text)
{
    for (char *start; (start = strstr(text, "<!--")) != NULL;) {
        char *end = strstr(start, "-->");
        const char *after = end ? end + 3 : start + strlen(start);
        memmove(start, after, strlen(after) + 1);
    }
}

static bool take_sections(lesson *l, char *text, trouble *t)
{
    drop_comments(text);
    char *title = strncmp(text, "# ", 2) == 0 ? text + 2 : NULL;
    char *question = section(text, "\n## Question"), *hints = section(text, "\n## Hints");
    char *answer = section(text, "\n## Worked answer");
    if (!title || !question || !answer)
        return wrong(t, "not a lesson", l->text,
                     "it needs a title and the sections Question and Worked answer");
    end_at_heading(question);
    end_at_heading(hints);
    end_at_heading(answer);
    *strchr(title, '\n') = '\0';
    l->title = trim(title);
    l->question = or_empty(question);
    l->hints = or_empty(hints);
    l->answer = or_empty(answer);
    return true;
}

/* ---- The file -------------------------------------------------------------------- */

enum { LARGEST = 200000 }; /* bytes */

static bool is_text(const char *text, trouble *t)
{
    int line = 1;
    char where[32];
    for (int length; *text; text += length) {
        length = utf8_length(text);
        if (length == 0 || (utf8_is_unsafe(text, length) && !is_blank(*text))) {
            snprintf(where, sizeof where, "a character in line %d", line);
            return wrong(t, "not plain text", where,
                         "allowed: UTF-8 without control characters; save it so");
        }
        line += *text == '\n';
    }
    return true;
}

static bool is_small(size_t size, trouble *t)
{
    return size <= LARGEST ||
           wrong(t, "too large", "more than 200,000 bytes", "allowed: at most 200,000 bytes");
}

/* Two copies in one piece: one for the sections, one for the comment. */
static bool take_all(lesson *l, size_t size, trouble *t)
{
    char *twice = realloc(l->text, 2 * (size + 1));
    if (!twice) return wrong(t, "out of memory", "lesson", "close other programs");
    l->text = twice;
    memcpy(twice + size + 1, twice, size + 1);
    return take_sections(l, twice + size + 1, t) && take_comment(l, t);
}

exit_code lesson_read(const char *path, lesson *l)
{
    trouble t = {""};
    size_t size;
    *l = (lesson){.text = read_file(path, LARGEST + 1, &size)};
    if (!l->text) {
        complain("%s: cannot be read: %s", path, read_file_reason());
        return EXIT_SYSTEM;
    }
    /* A zero byte ends it, as it does for every reader of text. */
    if (is_small(size, &t) && is_text(l->text, &t) && take_all(l, strlen(l->text), &t))
        return EXIT_DONE;
    complain("%s: %s", path, t.why);
    return EXIT_INPUT;
}

void lesson_free(lesson *l)
{
    free(l->text);
}
