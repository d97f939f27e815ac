#include "generate.h"

/* Values of options: the word before the cursor is the option. */
static void write_values(FILE *out, const verb *v)
{
    for (int i = 0; i < verb_option_count(v); i++) {
        const option_row *row = verb_option(v, i);
        if (row->kind == OPTION_FLAG) continue;
        fprintf(out, "    %s:--%s", v->name, row->name);
        if (row->letter) fprintf(out, " | %s:-%c", v->name, row->letter);
        fputs(") ", out);
        switch (takes_option(row)) {
        case TAKES_CHOICE:
            fputs("_coiltrim_words \"", out);
            write_choices(out, row->shows);
            fputs("\"", out);
            break;
        case TAKES_FILE: fputs("_coiltrim_files -f", out); break;
        case TAKES_FOLDER: fputs("_coiltrim_files -d", out); break;
        default: fputs(":", out); break;
        }
        fputs("; return ;;\n", out);
    }
}

static void write_verb(FILE *out, const verb *v)
{
    fprintf(out, "    %s)\n        options=\"", v->name);
    for (int i = 0; i < verb_option_count(v); i++) {
        fprintf(out, "--%s ", verb_option(v, i)->name);
        if (verb_option(v, i)->letter) fprintf(out, "-%c ", verb_option(v, i)->letter);
    }
    fputs("--help\"\n", out);
    switch (takes_operand(v)) {
    case TAKES_FILE: fputs("        files=yes\n", out); break;
    case TAKES_KEY: fputs("        words=$_coiltrim_keys\n", out); break;
    case TAKES_REFRIGERANT:
        fputs("        words=\"", out);
        write_refrigerants(out);
        fputs("\"\n", out);
        break;
    default: break;
    }
    if (takes_pairs(v)) fputs("        pairs=yes\n", out);
    fputs("        ;;\n", out);
}

void write_bash(FILE *out, const verb *const *verbs, int n)
{
    fputs(
        "# Completion of coiltrim for bash. Made from its tables of verbs and options when it is\n"
        "# built.\n"
        "_coiltrim_words() { mapfile -t COMPREPLY < <(compgen -W \"$1\" -- \"$cur\"); }\n"
        "_coiltrim_files() {\n"
        "    compopt -o filenames 2>/dev/null\n"
        "    mapfile -t COMPREPLY < <(compgen \"$1\" -- \"$cur\")\n"
        "}\n"
        "_coiltrim_keys=\"",
        out);
    write_keys(out, "");
    fputs("\"\n"
          "_coiltrim() {\n"
          "    local cur=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}\n"
          "    local verb=${COMP_WORDS[1]} options='' words='' files='' pairs=''\n"
          "    COMPREPLY=()\n"
          "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
          "        _coiltrim_words \"",
          out);
    for (int i = 0; i < n; i++)
        fprintf(out, "%s ", verbs[i]->name);
    fputs("--help --version\"\n        return\n    fi\n    case $verb:$before in\n", out);
    for (int i = 0; i < n; i++)
        write_values(out, verbs[i]);
    fputs("    esac\n    case $verb in\n", out);
    for (int i = 0; i < n; i++)
        write_verb(out, verbs[i]);
    fputs("    esac\n"
          "    case $cur in\n"
          "    -*) _coiltrim_words \"$options\" ;;\n"
          "    *)\n"
          "        [ -z \"$files\" ] || _coiltrim_files -f\n"
          "        [ -z \"$words\" ] || _coiltrim_words \"$words\"\n"
          "        if [ -n \"$pairs\" ] && [ -n \"$cur\" ] && [ ${#COMPREPLY[@]} -eq 0 ]; then\n"
          "            compopt -o nospace 2>/dev/null\n"
          "            _coiltrim_words \"${_coiltrim_keys// /= }\"\n"
          "        fi\n"
          "        ;;\n"
          "    esac\n"
          "}\n"
          "complete -F _coiltrim coiltrim\n",
          out);
}
