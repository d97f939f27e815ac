#include "generate.h"

/* In single quotes. */
static void put(FILE *out, const char *text)
{
    fputc('\'', out);
    for (; *text; text++) {
        if (*text == '\'' || *text == '\\') fputc('\\', out);
        fputc(*text, out);
    }
    fputc('\'', out);
}

static void put_option(FILE *out, const verb *v, const option_row *row)
{
    fprintf(out, "complete -c coiltrim -n '__fish_seen_subcommand_from %s' -l %s", v->name,
            row->name);
    if (row->letter) fprintf(out, " -s %c", row->letter);
    switch (takes_option(row)) {
    case TAKES_CHOICE:
        fputs(" -x -a '", out);
        write_choices(out, row->shows);
        fputs("'", out);
        break;
    case TAKES_FILE: fputs(" -r -F", out); break;
    case TAKES_FOLDER: fputs(" -x -a '(__fish_complete_directories)'", out); break;
    default:
        if (row->kind != OPTION_FLAG) fputs(" -x", out);
        break;
    }
    fputs(" -d ", out);
    put(out, row->help);
    fputc('\n', out);
}

static void put_operands(FILE *out, const verb *v)
{
    const takes kind = takes_operand(v);
    if (kind == TAKES_NOTHING) return;
    fprintf(out, "complete -c coiltrim -n '__fish_seen_subcommand_from %s'", v->name);
    if (kind == TAKES_FILE) {
        fputs(" -F", out);
    } else {
        fputs(" -a '", out);
        if (kind == TAKES_KEY)
            write_keys(out, "");
        else
            write_refrigerants(out);
        fputc('\'', out);
    }
    fputc('\n', out);
    if (!takes_pairs(v)) return;
    fprintf(out, "complete -c coiltrim -n '__fish_seen_subcommand_from %s' -a '", v->name);
    write_keys(out, "=");
    fputs("'\n", out);
}

void write_fish(FILE *out, const verb *const *verbs, int n)
{
    fputs("# Completion of coiltrim for fish. Made from its tables of verbs and options when it is "
          "built.\n"
          "complete -c coiltrim -f\n"
          "complete -c coiltrim -s h -l help -d 'print help'\n"
          "complete -c coiltrim -n __fish_use_subcommand -l version -d 'print the version'\n",
          out);
    for (int i = 0; i < n; i++) {
        fprintf(out, "complete -c coiltrim -n __fish_use_subcommand -a %s -d ", verbs[i]->name);
        put(out, verbs[i]->purpose);
        fputc('\n', out);
    }
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < verb_option_count(verbs[i]); k++)
            put_option(out, verbs[i], verb_option(verbs[i], k));
        put_operands(out, verbs[i]);
    }
}
