#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/paragraph.h"
#include "base/words.h"
#include "case/casefile.h"
#include "case/readings.h"
#include "show/json_out.h"
#include "verbs.h"

enum { READINGS, JSON, N_OPTIONS };

static const option_row options[N_OPTIONS] = {
    [READINGS] = {.name = "readings",
                  .kind = OPTION_FLAG,
                  .help = "keys of a file of readings instead of a case file"},
    [JSON] = {JSON_ROW("JSON instead of a list")},
};

typedef bool key_of(int i, ct_key_row *row);

static bool ends_part(char c)
{
    return c == '\0' || c == '.' || c == '[';
}

/* Whether `name` is one part of the key or several in a row: "blower" is in
 * "indoor.blower.power", "blow" is not. NULL is in all. */
static bool holds(const char *key, const char *name)
{
    if (!name) return true;
    if (!*name) return false; /* else the walk below leaves the key */
    const size_t length = strlen(name);
    for (const char *at = strstr(key, name); at; at = strstr(at + 1, name))
        if ((at == key || at[-1] == '.') && ends_part(at[length])) return true;
    return false;
}

/* "TXV, TEV = valve; orifice = piston": other words that are taken. */
static void print_also(FILE *out, const char *also)
{
    char text[400];
    size_t n = 0;
    for (; *also && n + 4 < sizeof text; also++) {
        const char one[] = {*also, '\0'};
        const char *as = *also == '|' ? "; " : *also == '=' ? " = " : *also == ',' ? " or " : one;
        n += (size_t)snprintf(text + n, sizeof text - n, "%s", as);
    }
    if (n > 0) paragraph_wrap(out, text, "    also: ", 8);
}

static void print_key(FILE *out, const ct_key_row *row)
{
    const bool group = strcmp(row->unit, "section") == 0 || strcmp(row->unit, "list") == 0;
    fprintf(out, "%s%s: %s%s\n", group ? "\n" : "", row->key, group ? row->unit : row->when,
            group && strcmp(row->when, "required") == 0 ? ", required" : "");
    paragraph_wrap(out, row->help, "    ", 4);
    if (group) return;
    fprintf(out, "    %s", row->unit);
    if (row->allowed[0])
        paragraph_wrap(out, row->allowed, "; allowed: ", 8);
    else
        fputc('\n', out);
    print_also(out, row->also);
}

static bool put_key(json_t *list, const ct_key_row *row)
{
    return json_array_append_new(list,
                                 json_pack("{ssssssssssss}", "key", row->key, "unit", row->unit,
                                           "allowed", row->allowed, "when", row->when, "also",
                                           row->also, "help", row->help)) == 0;
}

/* Which keys are asked for: from a table, those that fit `name` in the way of `fits`. */
typedef struct {
    key_of *key;
    bool (*fits)(const ct_key_row *, const char *name);
    const char *name;
} question;

static bool fits_path(const ct_key_row *row, const char *name)
{
    return holds(row->key, name);
}

static bool in_word(char c)
{
    return isalnum((unsigned char)c);
}

/* Whether `name` is a whole word of `text`, whatever the letter case: "seer" in "rated_seer". */
static bool has_word(const char *text, const char *name)
{
    /* Only asked where a name was given. NOLINTNEXTLINE(clang-analyzer-core.NonNullParamChecker) */
    const size_t n = strlen(name);
    for (const char *at = text; n > 0 && *at; at++)
        if ((at == text || !in_word(at[-1])) && strncasecmp(at, name, n) == 0 && !in_word(at[n]))
            return true;
    return false;
}

/* Near: a word of the key's own name, or of the other words that are taken for it. */
static bool fits_near(const ct_key_row *row, const char *name)
{
    const char *last = strrchr(row->key, '.');
    return has_word(last ? last : row->key, name) || has_word(row->also, name);
}

static int count(const question *q)
{
    ct_key_row row;
    int n = 0;
    for (int i = 0; q->key(i, &row); i++)
        n += q->fits(&row, q->name);
    return n;
}

static exit_code print_json(const question *q)
{
    json_t *list = json_array();
    bool good = list != NULL;
    ct_key_row row;
    for (int i = 0; good && q->key(i, &row); i++)
        if (q->fits(&row, q->name)) good = put_key(list, &row);
    return print_answer(stdout, json_when(good, list), 9) ? EXIT_DONE : EXIT_SYSTEM;
}

static exit_code print_list(const question *q)
{
    ct_key_row row;
    for (int i = 0; q->key(i, &row); i++)
        if (q->fits(&row, q->name)) print_key(stdout, &row);
    return EXIT_DONE;
}

static const char *nearest_key(const question *q)
{
    enum { MAX_WORDS = 400 };
    const char *words[MAX_WORDS];
    int n = 0;
    ct_key_row row;
    for (; n < MAX_WORDS && q->key(n, &row); n++) {
        const char *last = strrchr(row.key, '.');
        words[n] = last ? last + 1 : row.key;
    }
    return ct_words_nearest(q->name, words, n);
}

static exit_code no_such_key(const question *q)
{
    const bool readings = q->key == ct_readings_key;
    const question other = {readings ? ct_casefile_key : ct_readings_key, fits_path, q->name};
    const char *near = nearest_key(q);
    if (count(&other) > 0)
        complain("keys: no key or section '%s' in a %s; there is one in a %s: %s --readings",
                 q->name, readings ? "file of readings" : "case file",
                 readings ? "case file" : "file of readings", readings ? "leave out" : "add");
    else if (near)
        complain("keys: no key or section '%s'; did you mean '%s'?", q->name, near);
    else
        complain("keys: no key or section '%s'; 'coiltrim keys' lists them all", q->name);
    return EXIT_USAGE;
}

static exit_code run(const arguments *args)
{
    question q = {.key = args->option[READINGS].given ? ct_readings_key : ct_casefile_key,
                  .fits = fits_path,
                  .name = args->n_operands ? args->operand[0] : NULL};
    if (count(&q) == 0) q.fits = fits_near; /* only with a name: every path fits none */
    if (count(&q) == 0) return no_such_key(&q);
    return args->option[JSON].given ? print_json(&q) : print_list(&q);
}

const verb verb_keys = {
    .name = "keys",
    .purpose = "What a case file, or a file of readings, can contain.",
    .operands = "[KEY]",
    .max_operands = 1,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "For every key: whether it is required or what is assumed without it, what it\n"
               "means, how it is written, what is allowed, and other words that are taken for\n"
               "it. KEY is a section or the name of a key, or a word of one; without it all are\n"
               "listed. Other units than the example's will do: 24 C is read as 75.2 F.\n",
    .example = "  coiltrim keys\n"
               "  coiltrim keys metering\n"
               "  coiltrim keys seer\n"
               "  coiltrim keys --readings\n",
    .run = run,
};
