/* The lessons cannot go stale: the commands of each are run as they stand, in a folder with the
 * lesson's equipment, and every number of a worked answer is compared with what the program says.
 *
 * In a lesson, <!-- check: 2 water 7.90 --> says that the second explain command told `water` as
 * 7.90 (as shown to people, sign included), <!-- less: 1 a 3 b 12 --> that the value of the first
 * less the value of the third is 12 as shown, <!-- row: 1 low tap 3 latent 6.4 --> that the first
 * sweep command has 6.4 in that column of the low stage's table, and <!-- given: 30 40 --> that
 * numbers are the question's own. Each number in a paragraph of the worked answer must be covered
 * by a comment of that paragraph. */
#include "check.h"

#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include <jansson.h>

#include "program.h"

#define ROWS(a) (sizeof(a) / sizeof((a)[0]))

enum { TEXT_SIZE = 60000, MAX_COMMANDS = 12, MAX_COVERED = 60 };

static const struct {
    const char *name;
    int commands, checks; /* explain and sweep commands; checks at least */
} lessons[] = {
    {"1-slow-the-blower", 2, 16}, {"2-larger-coil", 3, 16},     {"3-damp-and-dry", 4, 16},
    {"4-hot-day", 3, 20},         {"5-valve-or-piston", 4, 12}, {"6-heating-airflow", 3, 14},
    {"7-two-stages", 2, 20},
};

static json_t *answers[MAX_COMMANDS];
static int n_answers;
static char *tables[MAX_COMMANDS]; /* what sweep printed */
static int n_tables;

static void read_lesson(const char *name, char *text)
{
    char path[300];
    snprintf(path, sizeof path, "%s/examples/lessons/%s.md", SOURCE_DIR, name);
    FILE *file = fopen(path, "r");
    check_that(path, file != NULL);
    const size_t n = fread(text, 1, TEXT_SIZE - 1, file);
    check_is(path, n, <, TEXT_SIZE - 1);
    text[n] = '\0';
    fclose(file);
}

/* ---- Commands -------------------------------------------------------------------- */

/* In the scratch folder, with this build's program under its name. Must end well and in silence on
 * standard error. */
static void run_line(const char *line, const char *more, char *out, size_t size)
{
    char command[1500];
    snprintf(command, sizeof command,
             "cd '%s' && PATH=\"$(dirname '%s'):$PATH\" && { %s %s ; } 2>&1", program_scratch,
             PROGRAM, line, more);
    FILE *pipe = popen(command, "r");
    assert_non_null(pipe);
    const size_t n = fread(out, 1, size - 1, pipe);
    out[n] = '\0';
    const int state = pclose(pipe);
    const bool good = WIFEXITED(state) && WEXITSTATUS(state) == 0;
    if (!good) print_error("%s: %s\n", line, out);
    check_that(line, good);
}

static void run_command(const char *line)
{
    static char out[400000];
    if (strncmp(line, "coiltrim sweep ", 15) == 0) {
        run_line(line, "--no-render", out, sizeof out);
        assert_true(n_tables < MAX_COMMANDS);
        tables[n_tables] = strdup(out);
        assert_non_null(tables[n_tables]);
        n_tables++;
        return;
    }
    if (strncmp(line, "coiltrim explain ", 17) != 0) {
        run_line(line, "", out, sizeof out);
        check_that(line, out[0] == '\0');
        return;
    }
    run_line(line, "", out, sizeof out);
    check_has(line, out, "8  AGAINST THE LOAD");
    run_line(line, "--json", out, sizeof out);
    assert_true(n_answers < MAX_COMMANDS);
    answers[n_answers] = json_loads(out, 0, NULL);
    check_that(line, answers[n_answers] != NULL);
    n_answers++;
}

static void run_commands(const char *text)
{
    char line[600];
    const char *block = strstr(text, "```sh\n"), *end = block ? strstr(block + 6, "```") : NULL;
    assert_non_null(end);
    for (const char *c = block + 6; c < end;) {
        const size_t length = strcspn(c, "\n");
        assert_true(length < sizeof line);
        memcpy(line, c, length);
        line[length] = '\0';
        run_command(line);
        c += length + 1;
    }
}

/* ---- Answers --------------------------------------------------------------------- */

static json_t *find_item(int command, const char *name)
{
    size_t i, k;
    json_t *section, *item;
    if (command < 1 || command > n_answers) return NULL;
    json_array_foreach(json_object_get(answers[command - 1], "sections"), i, section)
        json_array_foreach(json_object_get(section, "items"), k, item)
    {
        const char *here = json_string_value(json_object_get(item, "name"));
        if (here && strcmp(here, name) == 0) return item;
    }
    return NULL;
}

static const char *shown(const char *label, int command, const char *name)
{
    const char *text = json_string_value(json_object_get(find_item(command, name), "shown"));
    if (!text) print_error("%s: explain command %d tells no %s\n", label, command, name);
    return text ? text : "";
}

/* ---- Tables ---------------------------------------------------------------------- */

/* In the order of sweep's columns; the last is not one of them. */
static const char *const columns[] = {"air",     "ton",    "static", "total", "sensible", "latent",
                                      "suction", "supply", "split",  "eer",   "rh",       "drying"};
enum { TOTAL = 3, LATENT = 5, EER = 9, DRYING = 11 };

/* The row of a tap, behind its name, in the first table or in the one under "Low stage;". */
static const char *find_row(int command, const char *stage, int tap)
{
    char mark[16];
    if (command < 1 || command > n_tables) return NULL;
    const char *table = tables[command - 1];
    if (strcmp(stage, "low") == 0) table = strstr(table, "\n Low stage; per ton of it");
    table = table ? strstr(table, "\n blower tap ") : NULL;
    snprintf(mark, sizeof mark, "tap %d ", tap);
    for (const char *line = table ? strchr(table + 1, '\n') : NULL; line;
         line = strchr(line + 1, '\n'))
        if (strncmp(line + 2, mark, strlen(mark)) == 0) return line + 2 + strlen(mark);
    return NULL;
}

/* As printed; drying: net latent over net total times EER, what a watt takes out, Btu/h. */
static void read_cell(const char *label, const char *row, const char *column, char cell[24])
{
    char cells[DRYING][24];
    int used, n = 0;
    while (n < DRYING && sscanf(row, " %23s%n", cells[n], &used) == 1) {
        row += used;
        n++;
    }
    check_is(label, n, ==, (int)DRYING);
    for (n = 0; n < (int)ROWS(columns) && strcmp(columns[n], column) != 0;)
        n++;
    check_is(column, n, <, (int)ROWS(columns));
    if (n < DRYING)
        snprintf(cell, 24, "%s", cells[n]);
    else
        snprintf(cell, 24, "%.1f",
                 strtod(cells[LATENT], NULL) / strtod(cells[TOTAL], NULL) *
                     strtod(cells[EER], NULL));
}

static void check_cell(const char *label, const char *row, const char *column, const char *number)
{
    char cell[24];
    if (!row) print_error("%s: no row for %s %s\n", label, column, number);
    check_that(label, row != NULL);
    read_cell(label, row, column, cell);
    if (strcmp(cell, number) != 0)
        print_error("%s: %s is now %s, the lesson says %s\n", label, column, cell, number);
    check_same_text(label, cell, number);
}

typedef struct {
    char number[MAX_COVERED][24];
    int n, checks;
} covered;

static void cover(covered *c, const char *number)
{
    assert_true(c->n < MAX_COVERED);
    snprintf(c->number[c->n++], sizeof c->number[0], "%s", number[0] == '-' ? number + 1 : number);
}

/* One comment, the text between <!-- and -->. */
static void take_comment(const char *label, const char *comment, covered *c)
{
    int a, b, used = 0;
    char name[64], other[64], number[24], text[40];
    if (sscanf(comment, " check: %d %63s %23s", &a, name, number) == 3) {
        if (strcmp(shown(label, a, name), number) != 0)
            print_error("%s: %s of command %d is now %s, the lesson says %s\n", label, name, a,
                        shown(label, a, name), number);
        check_same_text(label, shown(label, a, name), number);
        cover(c, number);
        c->checks++;
    } else if (sscanf(comment, " less: %d %63s %d %63s %23s", &a, name, &b, other, number) == 5) {
        const double difference =
            strtod(shown(label, a, name), NULL) - strtod(shown(label, b, other), NULL);
        snprintf(text, sizeof text, "%.*f", 0, difference);
        if (strcmp(text, number) != 0)
            print_error("%s: %s less %s is now %s, the lesson says %s\n", label, name, other, text,
                        number);
        check_same_text(label, text, number);
        cover(c, number);
        c->checks++;
    } else if (sscanf(comment, " row: %d %63s tap %d %23s %23s", &a, name, &b, other, number) ==
               5) {
        check_cell(label, find_row(a, name, b), other, number);
        cover(c, number);
        c->checks++;
    } else {
        const char *given = strstr(comment, "given:");
        check_that(label, given != NULL);
        for (given += 6; sscanf(given, " %23s%n", number, &used) == 1; given += used)
            cover(c, number);
    }
}

static bool is_covered(const covered *c, const char *number, size_t length)
{
    for (int i = 0; i < c->n; i++)
        if (strlen(c->number[i]) == length && strncmp(c->number[i], number, length) == 0)
            return true;
    return false;
}

/* Takes the comments out of the paragraph, then looks at the numbers that are left. */
static int check_paragraph(const char *label, char *paragraph)
{
    covered c = {.n = 0};
    char *start;
    while ((start = strstr(paragraph, "<!--"))) {
        char *end = strstr(start, "-->");
        assert_non_null(end);
        *end = '\0';
        take_comment(label, start + 4, &c);
        memmove(start, end + 3, strlen(end + 3) + 1);
    }
    for (const char *p = paragraph; *p;) {
        if (!isdigit((unsigned char)*p)) {
            p++;
            continue;
        }
        size_t length = strspn(p, "0123456789.");
        while (p[length - 1] == '.')
            length--;
        /* "lesson 4" counts lessons, "tap 3" names a tap, at the end of a line too. */
        const bool counts = (p - paragraph >= 7 && strncmp(p - 7, "lesson ", 7) == 0) ||
                            (p - paragraph >= 4 && strncasecmp(p - 4, "tap ", 4) == 0);
        if (!counts && !is_covered(&c, p, length))
            print_error("%s: nothing vouches for %.*s in: %.60s...\n", label, (int)length, p,
                        paragraph);
        check_that(label, counts || is_covered(&c, p, length));
        p += length;
    }
    return c.checks;
}

static void check_lesson(const char *name, int commands, int checks)
{
    static char text[TEXT_SIZE];
    int n = 0;
    read_lesson(name, text);
    check_has(name, text, "## Question");
    check_has(name, text, "## Hints");
    n_answers = n_tables = 0;
    run_commands(text);
    check_is(name, n_answers + n_tables, ==, commands);
    char *answer = strstr(text, "## Worked answer");
    assert_non_null(answer);
    for (char *p = strstr(answer, "\n\n"); p;) {
        char *next = strstr(p + 2, "\n\n");
        if (next) *next = '\0';
        n += check_paragraph(name, p + 2);
        p = next;
    }
    check_is(name, n, >=, checks);
    for (int i = 0; i < n_answers; i++)
        json_decref(answers[i]);
    for (int i = 0; i < n_tables; i++)
        free(tables[i]);
}

static void test_lessons(void **state)
{
    (void)state;
    for (size_t i = 0; i < ROWS(lessons); i++)
        check_lesson(lessons[i].name, lessons[i].commands, lessons[i].checks);
}

/* The overview names every lesson. */
static void test_overview(void **state)
{
    static char text[TEXT_SIZE];
    (void)state;
    read_lesson("README", text);
    for (size_t i = 0; i < ROWS(lessons); i++)
        check_has(lessons[i].name, text, lessons[i].name);
}

static int make_lessons(void **state)
{
    char command[800];
    if (program_make_scratch(state) != 0) return -1;
    snprintf(command, sizeof command,
             "cp '%s/examples/lessons/base.yaml' '%s/examples/two-stage.yaml' '%s'", SOURCE_DIR,
             SOURCE_DIR, program_scratch);
    return system(command);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_lessons),
        cmocka_unit_test(test_overview),
    };
    return cmocka_run_group_tests(tests, make_lessons, program_clear_scratch);
}
