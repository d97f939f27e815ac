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

/* What every verb that takes a case has beside its own. */
static const option_row save_row = {
    .name = "save",
    .kind = OPTION_TEXT,
    .shows = "FILE",
    .help = "also write the case, with the pairs and what was assumed for them, to this file; - is "
            "standard output"};

int verb_option_count(const verb *v)
{
    return v->n_options + v->takes_case;
}

const option_row *verb_option(const verb *v, int i)
{
    return i < v->n_options ? &v->options[i] : &save_row;
}

static option_value *value_at(const verb *v, int i, arguments *out)
{
    return i < v->n_options ? &out->option[i] : &out->save;
}

static arguments_status unknown_option(const verb *v, const char *given)
{
    const char *words[MAX_OPTIONS + 1];
    for (int i = 0; i < verb_option_count(v); i++)
        words[i] = verb_option(v, i)->name;
    const char *near = ct_words_nearest(given, words, verb_option_count(v));
    if (near)
        complain("%s: no option --%s; did you mean --%s?", v->name, given, near);
    else
        complain("%s: no option --%s", v->name, given);
    try_help(v);
    return ARGUMENTS_WRONG;
}

/* By name, or by the beginning of one. Several that begin so: the message is out. */
static arguments_status find_option(const verb *v, const char *name, size_t length, int *found)
{
    char all[200] = "";
    int n = 0;
    for (int i = 0; i < verb_option_count(v); i++) {
        const char *known = verb_option(v, i)->name;
        if (length == 0 || strncmp(known, name, length) != 0) continue;
        *found = i;
        if (known[length] == '\0') return ARGUMENTS_OK;
        const size_t used = strlen(all);
        snprintf(all + used, sizeof all - used, "%s--%s", n++ ? ", " : "", known);
    }
    if (n == 1) return ARGUMENTS_OK;
    char word[CT_WORD_MAX];
    snprintf(word, sizeof word, "%.*s", (int)(length < CT_WORD_MAX ? length : CT_WORD_MAX - 1),
             name);
    if (n == 0) return unknown_option(v, word);
    complain("%s: --%s can be %s; write more of it", v->name, word, all);
    return ARGUMENTS_WRONG;
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
    const option_row *row = verb_option(v, i);
    option_value *value = value_at(v, i, out);
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
    if (row->kind == OPTION_VALUE && row->unit == CT_UNIT_FRACTION && value->si > 1.0 &&
        !strchr(text, '%')) {
        complain("%s: --%s: '%s' is over 1 and has no %%; write %s%%", v->name, row->name, text,
                 text);
        return false;
    }
    return true;
}

static arguments_status take_option(const verb *v, int i, const char *text, arguments *out)
{
    const option_row *row = verb_option(v, i);
    option_value *value = value_at(v, i, out);
    if (value->given) {
        complain("%s: --%s is given twice; give it once", v->name, row->name);
        return ARGUMENTS_WRONG;
    }
    value->given = true;
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

static arguments_status read_long(const verb *v, int argc, char **argv, int *k, arguments *out)
{
    const char *name = argv[*k] + 2;
    const size_t length = strcspn(name, "=");
    const char *text = name[length] ? name + length + 1 : NULL;
    int i = 0;
    const arguments_status found = find_option(v, name, length, &i);
    if (found != ARGUMENTS_OK) return found;
    if (!text && verb_option(v, i)->kind != OPTION_FLAG && *k + 1 < argc) text = argv[++*k];
    return take_option(v, i, text, out);
}

/* "-q", "-qo FILE", "-oFILE": letters until one takes the rest, or the next argument, as its value.
 */
static arguments_status read_letters(const verb *v, int argc, char **argv, int *k, arguments *out)
{
    arguments_status status = ARGUMENTS_OK;
    for (const char *letter = argv[*k] + 1; *letter && status == ARGUMENTS_OK; letter++) {
        const int i = find_letter(v, *letter);
        if (i < 0) {
            complain("%s: no option -%c", v->name, *letter);
            try_help(v);
            return ARGUMENTS_WRONG;
        }
        if (v->options[i].kind == OPTION_FLAG) {
            status = take_option(v, i, NULL, out);
            continue;
        }
        const char *text = letter[1] ? letter + 1 : *k + 1 < argc ? argv[++*k] : NULL;
        return take_option(v, i, text, out);
    }
    return status;
}

/* The letters a key is made of, up to its '='. 0: this is no pair but a name, such as "./a=b". */
static size_t key_length(const char *text)
{
    static const char letters[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                                  "0123456789_.[]";
    const size_t n = strspn(text, letters);
    return n < CT_KEY_PATH && text[n] == '=' && text[0] != '.' ? n : 0;
}

static arguments_status read_pair(const verb *v, const char *text, size_t length, arguments *out)
{
    if (out->n_pairs == MAX_PAIRS) {
        complain("%s: more than %d pairs; write a case file", v->name, MAX_PAIRS);
        return ARGUMENTS_WRONG;
    }
    if (!text[length + 1]) {
        complain("%s: %s needs a value after '='", v->name, text);
        return ARGUMENTS_WRONG;
    }
    snprintf(out->pair[out->n_pairs].key, CT_KEY_PATH, "%.*s", (int)length, text);
    out->pair[out->n_pairs++].text = text + length + 1;
    return ARGUMENTS_OK;
}

static const char *instead_of_operand(const verb *v)
{
    if (v->too_many) return v->too_many;
    if (!v->takes_case)
        return v->max_operands ? "put a value with a blank in quotes" : "it takes options only";
    return "one case at a time; a pair is KEY=VALUE; put a value with a blank in quotes";
}

static arguments_status read_operand(const verb *v, const char *text, arguments *out)
{
    const size_t length = v->takes_case || v->takes_pairs ? key_length(text) : 0;
    if (length) return read_pair(v, text, length, out);
    if (out->n_operands >= v->max_operands) {
        complain("%s: '%s' is one argument too many; %s", v->name, text, instead_of_operand(v));
        try_help(v);
        return ARGUMENTS_WRONG;
    }
    out->operand[out->n_operands++] = text;
    return ARGUMENTS_OK;
}

/* The first of "CASE READINGS [AFTER]" that was not given. */
void operands_missing(const verb *v, int n_given)
{
    const char *name = v->operands;
    for (int i = 0; i < n_given && strchr(name, ' '); i++)
        name = strchr(name, ' ') + 1;
    complain("%s: %.*s is missing", v->name, (int)strcspn(name, " "), name);
    if (v->takes_case && v->max_operands == 1)
        complain("give a file, or pairs: coiltrim %s tons=3 refrigerant=R-22; or answer the "
                 "questions of 'coiltrim new'",
                 v->name);
    try_help(v);
}

/* Defaults for what was left out; a required option left out is wrong usage. */
static arguments_status complete(const verb *v, arguments *out)
{
    const bool by_pairs = v->takes_case && out->n_pairs > 0 && v->max_operands == 1;
    if (out->n_operands < v->min_operands && !by_pairs) {
        operands_missing(v, out->n_operands);
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
            status = (argv[k][1] == '-' ? read_long : read_letters)(v, argc, argv, &k, out);
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
    paragraph_wrap_here(out, help, INDENT);
}

void verb_help(FILE *out, const verb *v)
{
    fprintf(out, "Usage: coiltrim %s%s%s%s", v->name, v->operands[0] ? " " : "", v->operands,
            v->takes_case || v->takes_pairs ? " [KEY=VALUE...]" : "");
    for (int i = 0; i < v->n_options; i++)
        if (v->options[i].required)
            fprintf(out, " --%s %s", v->options[i].name, v->options[i].shows);
    fprintf(out, " [options]\n\n%s\n", v->purpose);
    if (v->details[0]) fprintf(out, "\n%s", v->details);
    if (v->takes_case)
        fputs("\nPairs change keys of the case, or make one without a file:\n"
              "indoor.coil.size=1.35, or short as coil=1.35. - is standard input.\n",
              out);
    fputs("\nOptions:\n", out);
    for (int i = 0; i < verb_option_count(v); i++)
        print_option(out, verb_option(v, i));
    fprintf(out, "  %-30s%s\n\nExample:\n%s", "-h, --help", "this text", v->example);
}
