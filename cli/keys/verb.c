#include <string.h>

#include "base/common_options.h"
#include "base/complain.h"
#include "base/paragraph.h"
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

static void print_key(FILE *out, const ct_key_row *row)
{
    const bool group = strcmp(row->unit, "section") == 0 || strcmp(row->unit, "list") == 0;
    fprintf(out, "%s%s: %s%s\n", group ? "\n" : "", row->key, group ? row->unit : row->when,
            group && strcmp(row->when, "required") == 0 ? ", required" : "");
    wrap(out, row->help, "    ", 4);
    if (group) return;
    fprintf(out, "    %s", row->unit);
    if (row->allowed[0])
        wrap(out, row->allowed, "; allowed: ", 8);
    else
        fputc('\n', out);
}

static bool put_key(json_t *list, const ct_key_row *row)
{
    return json_array_append_new(list, json_pack("{ssssssssss}", "key", row->key, "unit", row->unit,
                                                 "allowed", row->allowed, "when", row->when, "help",
                                                 row->help)) == 0;
}

static exit_code print_json(key_of *key, const char *name)
{
    json_t *list = json_array();
    bool good = list != NULL;
    ct_key_row row;
    for (int i = 0; good && key(i, &row); i++)
        if (holds(row.key, name)) good = put_key(list, &row);
    return print_answer(stdout, json_when(good, list), 9) ? EXIT_DONE : EXIT_SYSTEM;
}

static int count(key_of *key, const char *name)
{
    ct_key_row row;
    int n = 0;
    for (int i = 0; key(i, &row); i++)
        n += holds(row.key, name);
    return n;
}

static exit_code no_such_key(key_of *key, const char *name)
{
    enum { MAX_WORDS = 400 };
    const char *words[MAX_WORDS];
    int n = 0;
    ct_key_row row;
    for (; n < MAX_WORDS && key(n, &row); n++) {
        const char *last = strrchr(row.key, '.');
        words[n] = last ? last + 1 : row.key;
    }
    const char *near = nearest_word(name, words, n);
    if (near)
        complain("keys: no key or section '%s'; did you mean '%s'?", name, near);
    else
        complain("keys: no key or section '%s'; 'coiltrim keys' lists them all", name);
    return EXIT_USAGE;
}

static exit_code run(const arguments *args)
{
    key_of *const key = args->option[READINGS].given ? ct_readings_key : ct_casefile_key;
    const char *name = args->n_operands ? args->operand[0] : NULL;
    if (count(key, name) == 0) return no_such_key(key, name);
    if (args->option[JSON].given) return print_json(key, name);
    ct_key_row row;
    for (int i = 0; key(i, &row); i++)
        if (holds(row.key, name)) print_key(stdout, &row);
    return EXIT_DONE;
}

const verb verb_keys = {
    .name = "keys",
    .purpose = "What may stand in a case file, or in a file of readings.",
    .operands = "[KEY]",
    .max_operands = 1,
    .options = options,
    .n_options = N_OPTIONS,
    .details = "For every key: whether it must be there or what is taken without it, what it\n"
               "means, how it is written and what is allowed. KEY is a section or a key's name;\n"
               "without it all are listed. Units may differ from the example's: 24 C stands for\n"
               "75.2 F.\n",
    .example = "  coiltrim keys\n"
               "  coiltrim keys metering\n"
               "  coiltrim keys --readings\n",
    .run = run,
};
