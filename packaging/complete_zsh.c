#include "generate.h"

/* Inside single quotes, in a specification where brackets and colons have a meaning. */
static void put(FILE *out, const char *text)
{
    for (; *text; text++) {
        if (*text == '\'') {
            fputs("'\\''", out);
            continue;
        }
        if (*text == '[' || *text == ']' || *text == ':' || *text == '\\') fputc('\\', out);
        fputc(*text, out);
    }
}

static void put_value(FILE *out, const option_row *row)
{
    if (row->kind == OPTION_FLAG) return;
    fputc(':', out);
    put(out, row->shows);
    fputc(':', out);
    switch (takes_option(row)) {
    case TAKES_CHOICE:
        fputc('(', out);
        write_choices(out, row->shows);
        fputc(')', out);
        break;
    case TAKES_FILE: fputs("_files", out); break;
    case TAKES_FOLDER: fputs("_files -/", out); break;
    default: fputc(' ', out); break;
    }
}

static void put_option(FILE *out, const option_row *row)
{
    fputs(" \\\n            ", out);
    if (row->letter)
        fprintf(out, "'(-%c --%s)'{-%c,--%s}'[", row->letter, row->name, row->letter, row->name);
    else
        fprintf(out, "'--%s[", row->name);
    put(out, row->help);
    fputc(']', out);
    put_value(out, row);
    fputc('\'', out);
}

static void put_operands(FILE *out, const verb *v)
{
    switch (takes_operand(v)) {
    case TAKES_FILE:
        fputs(takes_pairs(v) ? " \\\n            '*: :_coiltrim_case'"
                             : " \\\n            '*: :_files'",
              out);
        break;
    case TAKES_KEY: fputs(" \\\n            '*:KEY:($_coiltrim_keys)'", out); break;
    case TAKES_REFRIGERANT:
        fputs(" \\\n            '*:REFRIGERANT:(", out);
        write_refrigerants(out);
        fputs(")'", out);
        break;
    default: break;
    }
}

static void put_verb(FILE *out, const verb *v)
{
    fprintf(out, "        (%s)\n            _arguments '(- *)'{-h,--help}'[help]'", v->name);
    for (int i = 0; i < verb_option_count(v); i++)
        put_option(out, verb_option(v, i));
    put_operands(out, v);
    fputs("\n            ;;\n", out);
}

void write_zsh(FILE *out, const verb *const *verbs, int n)
{
    fputs("#compdef coiltrim\n"
          "# Completion of coiltrim for zsh. Made from its tables of verbs and options when it is "
          "built.\n"
          "local -a _coiltrim_keys verbs\n_coiltrim_keys=(",
          out);
    write_keys(out, "");
    fputs(")\n"
          "_coiltrim_case() { _alternative 'files:file:_files' "
          "\"keys:key:compadd -S = -- $_coiltrim_keys\" }\n"
          "verbs=(\n",
          out);
    for (int i = 0; i < n; i++) {
        fprintf(out, "    '%s:", verbs[i]->name);
        put(out, verbs[i]->purpose);
        fputs("'\n", out);
    }
    fputs(")\n"
          "local curcontext=\"$curcontext\" state line\n"
          "_arguments -C '(- *)'{-h,--help}'[list the verbs]' '(- *)--version[print the version]' "
          "'1: :->verb' '*:: :->rest'\n"
          "case $state in\n"
          "(verb) _describe verb verbs ;;\n"
          "(rest)\n"
          "    case $words[1] in\n",
          out);
    for (int i = 0; i < n; i++)
        put_verb(out, verbs[i]);
    fputs("    esac\n    ;;\nesac\n", out);
}
