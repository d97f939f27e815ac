#include "generate.h"

#include <string.h>

#include "case/casefile.h"
#include "fluid/catalog.h"

#define VERB_ADDRESS(NAME) &verb_##NAME,
static const verb *const verbs[] = {VERB_LIST(VERB_ADDRESS)};
#undef VERB_ADDRESS
enum { N_VERBS = sizeof verbs / sizeof verbs[0] };

takes takes_option(const option_row *row)
{
    if (row->kind == OPTION_CHOICE) return TAKES_CHOICE;
    if (row->kind != OPTION_TEXT) return TAKES_NOTHING;
    if (strcmp(row->shows, "DIR") == 0) return TAKES_FOLDER;
    return strstr(row->shows, "FILE") || strstr(row->shows, "CASE") ? TAKES_FILE : TAKES_NOTHING;
}

takes takes_operand(const verb *v)
{
    static const char *const files[] = {"CASE", "READINGS", "TABLE", "DIR", "FILE"};
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++)
        if (strstr(v->operands, files[i])) return TAKES_FILE;
    if (strstr(v->operands, "REFRIGERANT")) return TAKES_REFRIGERANT;
    return strstr(v->operands, "KEY") ? TAKES_KEY : TAKES_NOTHING;
}

bool takes_pairs(const verb *v)
{
    return strstr(v->operands, "KEY=VALUE") != NULL;
}

bool is_group(const ct_key_row *row)
{
    return strcmp(row->unit, "section") == 0 || strcmp(row->unit, "list") == 0;
}

void write_choices(FILE *out, const char *choices)
{
    for (; *choices; choices++)
        fputc(*choices == '|' ? ' ' : *choices, out);
}

void write_keys(FILE *out, const char *after)
{
    ct_key_row row;
    for (int i = 0; ct_casefile_key(i, &row); i++)
        if (!is_group(&row) && !strchr(row.key, '[')) fprintf(out, "%s%s ", row.key, after);
}

void write_refrigerants(FILE *out)
{
    const ct_catalog_row *row;
    for (int i = 0; (row = ct_catalog_at(i)) != NULL; i++)
        if (row->model) fprintf(out, "%s ", row->name);
}

int main(int argc, char **argv)
{
    const char *what = argc > 1 ? argv[1] : "";
    bool good = true;
    if (strcmp(what, "case") == 0 && argc == 4)
        good = write_case_page(stdout, argv[2], argv[3]);
    else if (strcmp(what, "bash") == 0)
        write_bash(stdout, verbs, N_VERBS);
    else if (strcmp(what, "zsh") == 0)
        write_zsh(stdout, verbs, N_VERBS);
    else if (strcmp(what, "fish") == 0)
        write_fish(stdout, verbs, N_VERBS);
    else {
        fputs("usage: generate case DAY README | bash | zsh | fish\n", stderr);
        return 2;
    }
    return good && fflush(stdout) == 0 && !ferror(stdout) ? 0 : 1;
}
