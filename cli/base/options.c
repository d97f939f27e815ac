#include "base/options.h"

#include <stdlib.h>
#include <string.h>

#include "base/complain.h"
#include "base/paragraph.h"
#include "base/words.h"

static void try_help(const verb *v)
{
    complain("see 'coiltrim %s --help'", v->name);
}

static arguments_status unknown_option(const verb *v, const char *given)
{
    const char *words[MAX_OPTIONS];
    for (int i = 0; i < v->n_options; i++)
        words[i] = v->options[i].name;
    const char *near = ct_words_nearest(given, words, v->n_options);
    if (near)
        complain("%s: no option --%s; did you mean --%s?", v->name, given, near);
    else
        complain("%s: no option --%s", v->name, given);
    try_help(v);
    return ARGUMENTS_WRONG;
}

static int find_option(const verb *v, const char *name, size_t length)
{
    for (int i = 0; i < v->n_options; i++)
        if (strlen(v->options[i].name) == length && strncmp(v->options[i].name, name, length) == 0)
            return i;
    return -1;
}

static int find_letter(const verb *v, char letter)
{
    for (int i = 0; i < v->n_options; i++)
        if (v->options[i].letter == letter) return i;
    return -1;
}

static bool is_choice(const char *choices, const char *text)
{
    const size_t length = strlen(text);
    for (const char *word = choices; word; word = strchr(word, '|')) {
        if (*word == '|') word++;
        if (strcspn(word, "|") == length && strncmp(word, text, length) == 0) return true;
    }
    return false;
}

/* Takes `text` as the option's value; used for what was typed and for defaults alike. */
static bool set_value(const verb *v, int i, const char *text, arguments *out)
{
    const option_row *row = &v->options[i];
    option_value *value = &out->option[i];
    value->text = text;
    if (row->kind == OPTION_CHOICE && !is_choice(row->shows, text)) {
        complain("%s: --%s: '%s' given, allowed is one of %s", v->name, row->name, text,
                 row->shows);
        return false;
    }
    ct_fault fault;
    if (row->kind == OPTION_VALUE && ct_units_read(text, row->unit, &value->si, &fault) != CT_OK) {
        complain("%s: --%s: %s", v->name, row->name, fault.what);
        return false;
    }
    return true;
}

static arguments_status take_option(const verb *v, int i, const char *text, arguments *out)
{
    const option_row *row = &v->options[i];
    if (out->option[i].given) {
        complain("%s: --%s is given twice; give it once", v->name, row->name);
        return ARGUMENTS_WRONG;
    }
    out->option[i].given = true;
    if (row->kind == OPTION_FLAG) {
        if (!text) return ARGUMENTS_OK;
        complain("%s: --%s takes no value, '%s' given", v->name, row->name, text);
        return ARGUMENTS_WRONG;
    }
    if (!text) {
        complain("%s: --%s needs a value, %s", v->name, row->name, row->shows);
        try_help(v);
        return ARGUMENTS_WRONG;
    }
    return set_value(v, i, text, out) ? ARGUMENTS_OK : ARGUMENTS_WRONG;
}

/* One argument that begins with a dash, and its value, which may be the next argument. */
static arguments_status read_option(const verb *v, int argc, char **argv, int *k, arguments *out)
{
    const char *argument = argv[*k];
    const bool is_long = argument[1] == '-';
    const char *name = argument + (is_long ? 2 : 1);
    const size_t length = is_long ? strcspn(name, "=") : 1;
    const int i = is_long ? find_option(v, name, length) : find_letter(v, name[0]);
    const char *text = name[length] ? name + length + (is_long ? 1 : 0) : NULL;
    if (i < 0) {
        char word[CT_WORD_MAX];
        snprintf(word, sizeof word, "%.*s", (int)(length < CT_WORD_MAX ? length : CT_WORD_MAX - 1),
                 name);
        if (is_long) return unknown_option(v, word);
        complain("%s: no option -%s", v->name, word);
        try_help(v);
        return ARGUMENTS_WRONG;
    }
    if (!text && v->options[i].kind != OPTION_FLAG && *k + 1 < argc) text = argv[++*k];
    return take_option(v, i, text, out);
}

static arguments_status read_operand(const verb *v, const char *text, arguments *out)
{
    if (out->n_operands >= v->max_operands) {
        complain("%s: '%s' is one argument too many; %s", v->name, text,
                 v->max_operands ? "put a value with a blank in quotes" : "it takes options only");
        try_help(v);
        return ARGUMENTS_WRONG;
    }
    out->operand[out->n_operands++] = text;
    return ARGUMENTS_OK;
}

/* Defaults for what was left out; a required option left out is wrong usage. */
static arguments_status complete(const verb *v, arguments *out)
{
    if (out->n_operands < v->min_operands) {
        complain("%s: %s is missing", v->name, v->operands);
        try_help(v);
        return ARGUMENTS_WRONG;
    }
    for (int i = 0; i < v->n_options; i++) {
        const option_row *row = &v->options[i];
        if (out->option[i].given) continue;
        if (row->required) {
            complain("%s: --%s %s is missing", v->name, row->name, row->shows);
            try_help(v);
            return ARGUMENTS_WRONG;
        }
        if (row->fallback && !set_value(v, i, row->fallback, out)) return ARGUMENTS_WRONG;
    }
    return ARGUMENTS_OK;
}

static bool asks_help(int argc, char **argv)
{
    for (int k = 0; k < argc && strcmp(argv[k], "--") != 0; k++)
        if (strcmp(argv[k], "--help") == 0 || strcmp(argv[k], "-h") == 0) return true;
    return false;
}

arguments_status arguments_read(const verb *v, int argc, char **argv, arguments *out)
{
    memset(out, 0, sizeof *out);
    if (asks_help(argc, argv)) return ARGUMENTS_HELP;
    bool options_over = false;
    for (int k = 0; k < argc; k++) {
        arguments_status status;
        if (!options_over && strcmp(argv[k], "--") == 0) {
            options_over = true;
            continue;
        }
        if (!options_over && argv[k][0] == '-' && argv[k][1])
            status = read_option(v, argc, argv, &k, out);
        else
            status = read_operand(v, argv[k], out);
        if (status != ARGUMENTS_OK) return status;
    }
    return complete(v, out);
}

static void print_option(FILE *out, const option_row *row)
{
    enum { INDENT = 32 };
    char left[80], help[600];
    snprintf(left, sizeof left, "%c%c%s --%s%s%s", row->letter ? '-' : ' ',
             row->letter ? row->letter : ' ', row->letter ? "," : " ", row->name,
             row->shows ? " " : "", row->shows ? row->shows : "");
    const bool has_unit = row->kind == OPTION_VALUE && row->unit != CT_UNIT_NONE;
    snprintf(help, sizeof help, "%s%s%s%s%s%s%s%s", row->help, row->required ? " (required)" : "",
             has_unit ? " [" : "", has_unit ? ct_units_allowed(row->unit) : "", has_unit ? "]" : "",
             row->fallback ? " (default " : "", row->fallback ? row->fallback : "",
             row->fallback ? ")" : "");
    const bool is_long = strlen(left) > INDENT - 4;
    fprintf(out, "  %-*s%s%*s", is_long ? 0 : INDENT - 2, left, is_long ? "\n" : "",
            is_long ? INDENT : 0, "");
    wrap_here(out, help, INDENT);
}

void verb_help(FILE *out, const verb *v)
{
    fprintf(out, "Usage: coiltrim %s%s%s", v->name, v->operands[0] ? " " : "", v->operands);
    for (int i = 0; i < v->n_options; i++)
        if (v->options[i].required)
            fprintf(out, " --%s %s", v->options[i].name, v->options[i].shows);
    fprintf(out, " [options]\n\n%s\n", v->purpose);
    if (v->details[0]) fprintf(out, "\n%s", v->details);
    fputs("\nOptions:\n", out);
    for (int i = 0; i < v->n_options; i++)
        print_option(out, &v->options[i]);
    fprintf(out, "  %-30s%s\n\nExample:\n%s", "-h, --help", "this text", v->example);
}
